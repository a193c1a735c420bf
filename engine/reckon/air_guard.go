package reckon

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"mendwright/engine/air"
	"mendwright/rules/interval"
)

const noiseCaution = "Hearing that noise has taken does not come back, and a machine can be louder than its kind: muffs on before it starts."

var (
	noiseTime  = Input{Name: "time", Means: "how long it runs in a day", Unit: "min", Range: between(0, 1440), Example: "2 h"}
	plugsInput = Input{Name: "plugs", Means: "noise reduction rating printed on plugs or muffs; 0 for bare ears", Unit: "dB", Range: between(0, 40), Default: "0 dB", Example: "25 dB"}
	nothing    = "nothing-else"
)

var guardCalculations = []*Calculation{
	{
		ID: "mask", Field: Air,
		Ask: "May this mask be worn against a vapour?",
		Inputs: []Input{
			{Name: "mask", Means: "kind of mask", Words: keys(func(t *Tables) map[string]air.Respirator { return t.Air.Respirators }), Example: "half-mask"},
			{Name: "cartridge", Means: "what is screwed in; dust filters alone are none", Words: words("none", "organic-vapour", "ammonia", "acid-gas", "formaldehyde"), Default: "none", Example: "organic-vapour"},
			substanceInput, ppmInput,
		},
		Sources: sources(limitSources, []string{"osha-dcm", "osha-respirators", "prudent-practices"}),
		Caution: maskCaution,
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			wear := air.Wear{Respirator: g.Word("mask"), Cartridge: g.Word("cartridge")}
			if wear.Cartridge == "none" {
				wear.Cartridge = ""
			}
			verdict, highest, err := mask(t, g, wear)
			if err != nil {
				return nil, err
			}
			verdict.Name, verdict.Means = "verdict", "this mask here"
			return []Figure{verdict, Amount("highest", "the most that it may be worn against; 0 if it may not at all", "ppm", interval.Exact(highest))}, nil
		},
	},
	{
		ID: "mask-choice", Field: Air,
		Ask:     "Which masks may be worn against a vapour, with the cartridge that it wants?",
		Inputs:  []Input{substanceInput, ppmInput},
		Sources: sources(limitSources, []string{"osha-dcm", "osha-respirators", "prudent-practices"}),
		Caution: maskCaution,
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			cartridge := t.Air.Substances[g.Word("substance")].Cartridge
			figures := []Figure{Verdict("cartridge", "cartridge", cartridge, map[bool]string{
				true: "none holds it; only supplied air does", false: "for masks that clean the air of the room",
			}[cartridge == "none"])}
			for _, name := range leastFirst(t.Air.Respirators) {
				verdict, _, err := mask(t, g, air.Wear{Respirator: name, Cartridge: cartridge})
				if err != nil {
					return nil, err
				}
				figures = append(figures, verdict)
			}
			return figures, nil
		},
	},
	{
		ID: "gloves", Field: Air,
		Ask: "Which gloves hold against a solvent?",
		Inputs: []Input{
			{Name: "substance", Means: "what gets on the hands", Words: substances, Example: "acetone"},
			{Name: "also", Means: "what else gets on them", Words: func(t *Tables) []string { return append(substances(t), nothing) }, Default: nothing, Example: "toluene"},
		},
		Sources: []string{"memory", "methanol-sheet"},
		Holds:   "Thicker lasts longer, and a splash is not a soak. Laminate is the flat film glove worn under another.",
		Caution: "A glove that softens, swells or stiffens is done. How long one holds, its maker prints by substance.",
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			on := []string{g.Word("substance")}
			if also := g.Word("also"); also != nothing {
				on = append(on, also)
			}
			gloves, err := t.Air.GlovesFor(on...)
			if err != nil {
				return nil, err
			}
			var figures []Figure
			for i, material := range gloves.Good {
				figures = append(figures, Verdict(material, material, "holds", [2]string{"the best of the table", "good too"}[min(i, 1)]))
			}
			if len(gloves.Good) == 0 {
				figures = append(figures, Verdict("any", "any one glove", "gives-way", "no one material of the table holds against both; keep the hands out of it"))
			}
			for _, material := range gloves.Poor {
				figures = append(figures, Verdict(material, material, "gives-way", "softens, swells or lets it through"))
			}
			return figures, nil
		},
	},
	{
		ID: "glove-level", Field: Air,
		Ask:     "What level is a glove that something takes so long to get through?",
		Inputs:  []Input{{Name: "time", Means: "time until it is through, as the glove's maker prints it", Unit: "min", Range: between(0, 1440), Example: "30 to 60 min"}},
		Sources: []string{"glove-standard"},
		Holds:   "Measured on flat pieces in a laboratory; a worn, warm, stretched glove lasts less.",
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			least, errLo := air.GloveLevel(ends(g.Range("time"))[0])
			most, errHi := air.GloveLevel(ends(g.Range("time"))[1])
			return []Figure{Amount("level", "level, from 0 to 6", "", between(float64(least), float64(most)))}, cmp.Or(errLo, errHi)
		},
	},
	{
		ID: "noise", Field: Air,
		Ask: "How long may a sander or router run at the ear in a day?",
		Inputs: []Input{
			{Name: "machine", Means: "kind of machine", Words: keys(func(t *Tables) map[string]interval.Range { return t.Air.Noise }), Example: "orbital-sander"}, noiseTime, plugsInput,
		},
		Sources: []string{"hobby-noise", "memory", "niosh-noise"},
		Caution: noiseCaution,
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			level, err := t.Air.Machine(g.Word("machine"))
			if err != nil {
				return nil, err
			}
			return loud(g, level)
		},
	},
	{
		ID: "noise-by-level", Field: Air,
		Ask:     "How long may a noise of a measured level last in a day?",
		Inputs:  []Input{{Name: "level", Means: "level at the ear, weighted as the ear hears", Unit: "dB", Range: between(40, 140), Example: "94 to 97 dB(A)"}, noiseTime, plugsInput},
		Sources: []string{"memory", "niosh-noise"},
		Caution: noiseCaution,
		Reckon:  func(_ *Tables, g Given) ([]Figure, error) { return loud(g, g.Range("level")) },
	},
	{
		ID: "scald", Field: Air,
		Ask:     "How soon does hot water burn the skin?",
		Inputs:  []Input{{Name: "water", Means: "temperature of the water", Unit: "°C", Range: between(45, 68), Example: "58 to 62 °C"}},
		Sources: []string{"scald-list", "scald-table"},
		Holds:   "Skin of grown people; thin skin burns in about a quarter of the time. Above 68 °C it takes a second or less. Steam gives up far more heat than water.",
		Caution: "Steam burns faster than water: gloves, and no hand in the jet.",
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			burn, err := t.Air.ScaldTime(g.Range("water"))
			return []Figure{
				Amount("second", "until a burn of the second degree", "s", burn.Second),
				Amount("third", "until a burn of the third degree", "s", burn.Third),
			}, err
		},
	},
	{
		ID: "hot-air", Field: Air,
		Ask: "What does a heat gun light or char?",
		Inputs: []Input{
			{Name: "nozzle", Means: "temperature at the nozzle", Unit: "°C", Range: between(0, 1000), Example: "350 to 400 °C"},
			{Name: "open", Means: "a solvent that lies open, or was used within a day", Words: func(t *Tables) []string { return append(substances(t), nothing) }, Default: nothing, Example: "acetone"},
		},
		Sources: sources(fireSources, []string{"epa-lead-practices", "memory"}),
		Caution: "Hot air frees lead from old paint, smoulders on out of sight and breaks glass.",
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			var open []string
			if g.Word("open") != nothing {
				open = []string{g.Word("open")}
			}
			cool, errLo := t.Air.HotAir(ends(g.Range("nozzle"))[0], open)
			hot, errHi := t.Air.HotAir(ends(g.Range("nozzle"))[1], open)
			return []Figure{
				settled("level", "hot air here", cool.Level.String(), hot.Level.String(), map[string]string{
					"go":   "below where wood begins to char, about 250 °C",
					"warn": "from 250 °C on wood chars: keep moving",
					"stop": "a solvent lies open, or it is hotter than 593 °C, the most that US rules allow on paint that may hold lead",
				}),
				settled("lights", "lights the solvent without a spark", yesNo(len(cool.Lights) > 0), yesNo(len(hot.Lights) > 0), map[string]string{
					"no": "the nozzle is below where it lights by itself, or nothing lies open", "yes": "the nozzle is hot enough, or where it lights is not known",
				}),
			}, cmp.Or(errLo, errHi)
		},
	},
}

// leastFirst are masks by what they guard against, the least of them first, and those that clean the
// air of the room before those that bring their own.
func leastFirst(masks map[string]air.Respirator) []string {
	return slices.SortedFunc(maps.Keys(masks), func(a, b string) int {
		of := map[bool]int{true: 1}
		return cmp.Or(cmp.Compare(of[masks[a].Supplied], of[masks[b].Supplied]), cmp.Compare(masks[a].APF, masks[b].APF), cmp.Compare(a, b))
	})
}

// mask judges a mask at both ends of the vapour of the call, and says up to how many ppm it may be worn.
func mask(t *Tables, g Given, wear air.Wear) (Figure, float64, error) {
	ppm := ends(g.Range("ppm"))
	best, errLo := t.Air.Mask(wear, g.Word("substance"), ppm[0])
	worst, errHi := t.Air.Mask(wear, g.Word("substance"), ppm[1])
	if err := cmp.Or(errLo, errHi); err != nil {
		return Figure{}, 0, err
	}
	word := func(f air.Fit) string {
		if len(f.Refused) > 0 {
			return "refused"
		}
		return "may"
	}
	return settled(wear.Respirator, strings.ReplaceAll(wear.Respirator, "-", " "), word(best), word(worst), map[string]string{
		"may": "up to " + Show(interval.Exact(worst.Highest), "ppm"), "refused": strings.Join(slices.Compact(worst.Refused), "; "),
	}), worst.Highest, nil
}

// loud is what a level does to the ear in the time of the call.
func loud(g Given, level interval.Range) ([]Figure, error) {
	var heard []interval.Range
	for _, rating := range ends(g.Range("plugs")) {
		behind, err := air.BehindPlugs(level, rating.Mid())
		if err != nil {
			return nil, err
		}
		heard = append(heard, behind)
	}
	ear := over(heard...)
	figures := []Figure{Amount("level", "level that reaches the ear", "dB(A)", ear)}
	for _, rule := range []struct {
		name, means string
		by          air.NoiseRule
	}{{"niosh", "by NIOSH", air.NIOSH}, {"osha", "by OSHA", air.OSHA}} {
		may, err := rule.by.Hours(ear)
		if err != nil {
			return nil, err
		}
		dose, err := rule.by.Dose([]air.Span{{Hours: hours(g.Range("time")), Level: ear}})
		if err != nil {
			return nil, err
		}
		figures = append(figures,
			Amount(rule.name+"-hours", "how long a day it may last "+rule.means, "h", between(min(may.Lo, 24), min(may.Hi, 24))),
			Amount(rule.name+"-dose", "share of a day's noise "+rule.means, "%", percent(dose)),
			settled(rule.name, "too much "+rule.means, yesNo(dose.Lo > 1), yesNo(dose.Hi > 1), map[string]string{
				"no": "no more than a day's noise", "yes": "more than a day's noise",
			}))
	}
	return figures, nil
}
