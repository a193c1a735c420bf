package reckon

import (
	"slices"

	"mendwright/engine/air"
)

var airCalculations = slices.Concat(weatherCalculations, vapourCalculations, ventilationCalculations, dustCalculations, guardCalculations)

// What hurts in this work.
const (
	vapourCaution = "Vapour is denser where it rises than in the middle of a room, and heavy vapour lies on the floor: moving air, no flame, no spark, nobody else in the room."
	dustCaution   = "Wood dust is a known cause of cancer of the nose, and fine dust in the air or on ledges burns or explodes: catch it at the tool."
	maskCaution   = "A mask counts only with a fit test, training, a shaved seal and air with enough oxygen; catching vapour and dust at the source comes first."
)

// Inputs that several calculations ask for.
var (
	substanceInput = Input{Name: "substance", Means: "what evaporates", Words: substances, Example: "mineral-spirits"}
	ppmInput       = Input{Name: "ppm", Means: "parts of vapour in a million of air", Unit: "ppm", Range: between(0, 1e6), Example: "80 to 100 ppm"}
	roomInput      = Input{Name: "room", Means: "volume of the room", Unit: "m³", Range: between(1, 100000), Example: "40 m³"}
	placeInput     = Input{Name: "place", Means: "how the room breathes", Words: keys(func(t *Tables) map[string]air.Place { return t.Air.Places }), Optional: true, Example: "window-open"}
	windInput      = Input{Name: "wind", Means: "wind outside", Unit: "m/s", Range: between(0, 30), Example: "0.5 to 2 m/s"}
)

// What the tables of substances rest on.
var (
	molarSources = []string{"chem-vapour", "memory", "niosh-guide", "ventilation-formulas"}
	limitSources = []string{"ammonia-limits", "dcm-sheet", "memory", "niosh-guide", "niosh-idlh", "osha-sampling"}
	fireSources  = []string{"carbonate-sheet", "chem-data", "design-choice", "memory", "niosh-guide", "niosh-idlh", "osha-dcm"}
)

var healthSays = map[string]string{
	"go":      "no more than half of the tightest limit known for healthy grown workers",
	"warn":    "more than half of the tightest limit, or none is known; more air, or less of it",
	"stop":    "more than the tightest limit; not like this",
	"get-out": "at once dangerous to life or health; nobody stays",
}

var fireSays = map[string]string{
	"go":   "less than a tenth of what burns, once it has spread",
	"warn": "a tenth or more of what burns, or no figure is known; nothing that sparks",
	"stop": "more than a quarter of what burns; not like this",
}

func substances(t *Tables) []string {
	return keys(func(t *Tables) map[string]air.Substance { return t.Air.Substances })(t)
}

// sources puts lists of sources together, each once.
func sources(lists ...[]string) []string {
	all := slices.Concat(lists...)
	slices.Sort(all)
	return slices.Compact(all)
}
