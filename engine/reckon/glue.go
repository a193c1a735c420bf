package reckon

import (
	"mendwright/engine/mechanics"
	"mendwright/rules/interval"
)

var gluingCalculations = []*Calculation{
	{
		ID: "clamp-force", Field: Mechanics,
		Ask: "How hard is a glued joint to be clamped, and with how many clamps?",
		Inputs: []Input{
			{Name: "length", Means: "length of the joint", Unit: "mm", Range: between(1, 10000), Example: "635 mm"},
			{Name: "width", Means: "width of the joint", Unit: "mm", Range: between(1, 1000), Example: "25 mm"},
			{Name: "wood", Means: "hardwood (broad-leaved) or softwood (conifer)", Words: keys(func(t *Tables) map[string]mechanics.Clamping { return t.Mechanics.Clamping }), Optional: true, Example: "softwood"},
			{Name: "clamp", Means: "what one clamp presses with", Unit: "N", Range: between(10, 100000), Optional: true, Example: "420 lbf"},
		},
		Sources: []string{"clamp-pressure", "clamp-pressure-low"},
		Holds:   "Long joints of board to board. Tenons and dowels hold by their fit and are clamped only until their shoulders meet.",
		Reckon:  clampForce,
	},
	{
		ID: "dowel-pull", Field: Mechanics,
		Ask: "What force draws a glued dowel out of its hole?",
		Inputs: []Input{
			{Name: "diameter", Means: "diameter of the dowel", Unit: "mm", Range: between(1, 50), Example: "8 mm"},
			{Name: "depth", Means: "how deep it sits in the glued hole", Unit: "mm", Range: between(1, 300), Example: "20 mm"},
			{Name: "dowel", Means: "kind of dowel and glue as they were tested", Words: keys(func(t *Tables) map[string]interval.Range { return t.Mechanics.Dowels }), Optional: true, Example: "spiral"},
		},
		Sources: []string{"dowel-pull"},
		Holds:   "New joints in a laboratory; an old, dry or dirty hole holds less.",
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			var shears []interval.Range
			for _, dowel := range g.Words("dowel") {
				shears = append(shears, t.Mechanics.Dowels[dowel])
			}
			pull, err := mechanics.DowelPull(g.Range("diameter"), g.Range("depth"), over(shears...))
			return []Figure{Amount("pull", "force that draws it out", "N", pull)}, err
		},
	},
	{
		ID: "scarf-length", Field: Mechanics,
		Ask: "How long is a scarf to be?",
		Inputs: []Input{
			{Name: "thickness", Means: "thickness of the part", Unit: "mm", Range: someBoard, Example: "30 mm"},
			{Name: "slope", Means: "length to one of thickness: 12 or flatter is strongest, 8 the steepest", Range: between(8, 20), Default: "12", Example: "12"},
		},
		Sources: []string{"wood-handbook-2010", "scarf-practice"},
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			length, err := mechanics.ScarfLength(g.Range("thickness"), g.Range("slope"))
			return []Figure{Amount("length", "length of the scarf", "mm", length)}, err
		},
	},
	{
		ID: "cup-after-rip", Field: Mechanics,
		Ask: "How deep is a strip still cupped when a cupped board is ripped?",
		Inputs: []Input{
			{Name: "cup", Means: "how deep the whole board is cupped", Unit: "mm", Range: between(0, 100), Example: "4 mm"},
			{Name: "share", Means: "width of the strip, of the whole width", Unit: "%", Range: between(1, 100), Example: "50 %"},
		},
		Sources: []string{"geometry", "cupped-top"},
		Holds:   "A board bent in one even curve.",
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			cup, err := mechanics.CupAfterRip(g.Range("cup"), times(g.Range("share"), 0.01))
			return []Figure{Amount("cup", "cup of the strip", "mm", cup)}, err
		},
	},
	{
		ID: "usable-veneer", Field: Mechanics,
		Ask: "Which thickness of veneer may be reckoned with, from readings at several places?",
		Inputs: []Input{
			{Name: "thinnest", Means: "the thinnest reading, with the film on it", Unit: "mm", Range: between(0.05, 20), Example: "0.7 mm"},
			{Name: "places", Means: "at how many places it was measured", Range: between(1, 1000), Example: "5"},
			{Name: "film", Means: "film of finish on it", Unit: "mm", Range: between(0, 1), Optional: true, Example: "0.05 to 0.1 mm"},
			{Name: "tool", Means: "standard uncertainty of the tool", Unit: "mm", Range: between(0, 5), Example: "0.03 mm"},
			{Name: "reading", Means: "standard uncertainty of reading it", Unit: "mm", Range: between(0, 5), Example: "0.05 mm"},
			{Name: "spread", Means: "standard uncertainty from place to place", Unit: "mm", Range: between(0, 5), Example: "0.08 mm"},
			{Name: "by-eye", Means: "whether it was read by eye or from a photograph", Words: words("yes", "no"), Optional: true, Example: "no"},
		},
		Sources: []string{"jcgm-100", "memory", "design-choice"},
		Holds:   "The thinnest place less the film and twice the standard uncertainty, which holds it with about 95 %. The rule is this program's choice; what a single reading errs by is from memory.",
		Reckon:  usableVeneer,
	},
}

func clampForce(t *Tables, g Given) ([]Figure, error) {
	var pressures, others []interval.Range
	for _, wood := range g.Words("wood") {
		c := t.Mechanics.Clamping[wood]
		pressures, others = append(pressures, c.Pressure), append(others, c.Other)
	}
	force, err := mechanics.ClampForce(g.Range("length"), g.Range("width"), over(pressures...))
	if err != nil {
		return nil, err
	}
	other, err := mechanics.ClampForce(g.Range("length"), g.Range("width"), over(others...))
	if err != nil {
		return nil, err
	}
	figures := []Figure{
		Amount("pressure", "pressure the glue wants", "kPa", over(pressures...)),
		Amount("force", "force on the whole joint", "N", force),
		Amount("force-other", "the same by a second source, which asks for less", "N", other),
	}
	if g.LeftOut("clamp") {
		return figures, nil
	}
	clamps, err := mechanics.Clamps(force, g.Range("clamp"))
	return append(figures, Amount("clamps", "clamps", "", clamps)), err
}

func usableVeneer(_ *Tables, g Given) ([]Figure, error) {
	tool, reading, spread := g.Range("tool"), g.Range("reading"), g.Range("spread")
	_, least, err := mechanics.Uncertainty(tool.Lo, reading.Lo, spread.Lo)
	if err != nil {
		return nil, err
	}
	_, most, err := mechanics.Uncertainty(tool.Hi, reading.Hi, spread.Hi)
	if err != nil {
		return nil, err
	}
	var usable []interval.Range
	for _, expanded := range []float64{least, most} {
		for _, places := range []float64{g.Range("places").Lo, g.Range("places").Hi} {
			for _, eye := range g.Words("by-eye") {
				// Beyond a handful more places with the same thinnest one change nothing.
				all := make([]interval.Range, min(int(places), 10))
				for i := range all {
					all[i] = g.Range("thinnest")
				}
				r, err := mechanics.Usable(all, g.Range("film"), min(expanded, 10), eye == "yes")
				if err != nil {
					return nil, err
				}
				usable = append(usable, r)
			}
		}
	}
	return []Figure{
		Amount("expanded", "uncertainty to allow for, 95 %", "mm", between(least, most)),
		Amount("usable", "thickness to reckon with", "mm", over(usable...)),
	}, nil
}
