package reckon

import (
	"slices"
	"strconv"

	"mendwright/engine/metal"
)

var metalCalculations = slices.Concat(bathCalculations, hydrogenCalculations, screwCalculations, []*Calculation{
	{
		ID: "rust-grade", Field: Metal,
		Ask: "How far is a part rusted, and how far does it need work?",
		Inputs: []Input{
			{Name: "area", Means: "share of the surface that is rusted", Unit: "%", Range: between(0, 100), Example: "5 to 8 %"},
			{Name: "flakes", Means: "flakes come off a part that carries load", Words: words("no", "yes"), Optional: true, Example: "no"},
		},
		Sources: []string{"design-choice", "rust-grades"},
		Holds:   "The grades are those of coated steel; what follows from them is a choice of this program.",
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			grades, err := metal.RustGrade(g.Range("area"))
			if err != nil {
				return nil, err
			}
			flaking := g.Words("flakes")
			best, err := metal.RustExtent(grades.Best, !slices.Contains(flaking, "no"))
			if err != nil {
				return nil, err
			}
			worst, err := metal.RustExtent(grades.Worst, slices.Contains(flaking, "yes"))
			if err != nil {
				return nil, err
			}
			return []Figure{
				Amount("grade", "rust grade, from 10 for none to 0", "", between(float64(grades.Worst), float64(grades.Best))),
				settled("work", "how far to work on it", best.String(), worst.String(), map[string]string{
					"clean-and-wax": "take the rust off and wax it",
					"touch-in":      "take the rust off where it is and touch in there",
					"recoat":        "take all rust off and coat the whole part anew",
					"replace":       "replace it, or have it welded",
				}),
			}, nil
		},
	},
	{
		ID: "which-metal", Field: Metal,
		Ask: "Which metal is a part, by its weight, the water it displaces and a magnet?",
		Inputs: []Input{
			{Name: "mass", Means: "what the part weighs", Unit: "kg", Range: between(0.0001, 100), Example: "84 ± 1 g"},
			{Name: "displaces", Means: "the water that it displaces", Unit: "L", Range: between(0.0001, 100), Example: "10 ± 0.5 ml"},
			{Name: "magnet", Means: "how a magnet pulls", Words: words("none", "weak", "strong"), Optional: true, Example: "none"},
		},
		Sources: []string{"memory", "metal-densities", "metal-id"},
		Holds:   "For the metal beneath any plate. Copper alloys overlap, and a weak pull rules nothing out. A hollow part, or one with wood or a screw in it, does not weigh what its metal weighs.",
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			mass, displaces := grams(g.Range("mass")), millilitres(g.Range("displaces"))
			weighed, err := metal.Weigh(mass, displaces)
			if err != nil {
				return nil, err
			}
			pulls := map[string]metal.Pull{"none": metal.NoPull, "weak": metal.WeakPull, "strong": metal.StrongPull}
			pull := metal.AnyPull
			if !g.LeftOut("magnet") {
				pull = pulls[g.Word("magnet")]
			}
			could, err := t.Metal.CouldBe(weighed.Density, pull)
			if err != nil {
				return nil, err
			}
			var corners [][]metal.Metal
			for _, end := range ends(weighed.Density) {
				for _, word := range g.Words("magnet") {
					corner, err := t.Metal.CouldBe(end, pulls[word])
					if err != nil {
						return nil, err
					}
					corners = append(corners, corner)
				}
			}
			return append([]Figure{Amount("density", "density", "g/cm³", weighed.Density)},
				listed("metal", "metal", could, corners,
					func(m metal.Metal) string { return m.Name },
					func(m metal.Metal) string { return m.Name + " (" + Show(m.Density, "g/cm³") + ")" },
					"no metal of the table; weigh again, and look for wood, air or a screw inside")...), nil
		},
	},
	{
		ID: "metals-that-touch", Field: Metal,
		Ask: "Do two metals that touch in the damp need keeping apart, and which one suffers?",
		Inputs: []Input{
			{Name: "one", Means: "one metal", Words: galvanicMetals, Example: "steel"},
			{Name: "other", Means: "the other", Words: galvanicMetals, Example: "brass"},
		},
		Sources: []string{"design-choice", "galvanic-boats", "galvanic-flowing", "galvanic-series"},
		Holds:   "Measured in sea water, in series that disagree: the figures span them all. Indoors and dry nothing happens.",
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			gap, err := t.Metal.Gap("", g.Word("one"), g.Word("other"))
			if err != nil {
				return nil, err
			}
			suffers := Verdict("suffers", "corrodes first", NotKnown, "the printed figures do not settle it")
			if gap.Corrodes != "" {
				suffers = Verdict("suffers", "corrodes first", gap.Corrodes, "the other is spared at its cost")
			}
			return []Figure{
				Amount("apart", "how far apart they lie", "mV", gap.MV), suffers,
				placed("keep-apart", "keep them apart", gap.Limit, map[metal.Place][2]string{
					metal.Inside:    {"no", "up to 200 mV they get on"},
					metal.Above:     {"yes", "above 200 mV: a washer, a film or wax between them"},
					metal.Unsettled: {NotKnown, "the printed figures lie on both sides of 200 mV; keep them apart"},
				}),
			}, nil
		},
	},
	{
		ID: "metal-storage", Field: Metal,
		Ask: "Is a room too damp to store a metal in?",
		Inputs: []Input{
			{Name: "metal", Means: "what is stored: sound iron, iron that goes on rusting, or bronze with pale green pits that come back", Words: words("sound-iron", "unstable-iron", "chloride-bronze"), Example: "sound-iron"},
			{Name: "humidity", Means: "relative humidity of the room", Unit: "%", Range: between(0, 100), Example: "45 to 60 %"},
		},
		Sources: []string{"metal-storage"},
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			kind := map[string]metal.Stored{"sound-iron": metal.SoundIron, "unstable-iron": metal.UnstableIron, "chloride-bronze": metal.ChlorideBronze}[g.Word("metal")]
			band, err := metal.StorageHumidity(kind)
			if err != nil {
				return nil, err
			}
			where, err := metal.Storage(kind, g.Range("humidity"))
			if err != nil {
				return nil, err
			}
			return []Figure{
				Amount("humidity", "relative humidity to store it at", "%", band),
				placed("room", "the room is", where, map[metal.Place][2]string{
					metal.Below:     {"drier", "drier than it needs; wood beside it may not like that"},
					metal.Inside:    {"dry-enough", "within what it asks"},
					metal.Above:     {"too-damp", "it goes on rusting or corroding here"},
					metal.Unsettled: {NotKnown, "on both sides of the limit as measured; take it as too damp"},
				}),
			}, nil
		},
	},
	{
		ID: "ammonia-on-brass", Field: Metal,
		Ask:     "May a polish with ammonia go on this brass, or does it crack?",
		Inputs:  []Input{{Name: "zinc", Means: "share of zinc in the brass", Unit: "%", Range: between(0, 50), Example: "30 to 37 %"}},
		Sources: []string{"ammonia-brass"},
		Caution: "Ammonia bites eyes and lungs: moving air and goggles. It must not meet bleach.",
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			where, err := metal.AmmoniaOnBrass(g.Range("zinc"))
			if err != nil {
				return nil, err
			}
			return []Figure{placed("ammonia", "ammonia on it", where, map[metal.Place][2]string{
				metal.Inside:    {"does-not-crack", "up to 15 % of zinc; it may still darken the brass"},
				metal.Above:     {"refused", "moist ammonia cracks brass of more than 15 % of zinc"},
				metal.Unsettled: {NotKnown, "on both sides of 15 % as known; take it as refused"},
			})}, nil
		},
	},
})

// placed is a verdict on where a range lies, in words of the trade.
func placed(name, means string, p metal.Place, say map[metal.Place][2]string) Figure {
	return Verdict(name, means, say[p][0], say[p][1])
}

func galvanicMetals(t *Tables) []string {
	var names []string
	for _, p := range t.Metal.Potentials {
		names = append(names, p.Metal)
	}
	slices.Sort(names)
	return slices.Compact(names)
}

func gauges(t *Tables) []string {
	var names []string
	for _, s := range t.Metal.Screws {
		names = append(names, strconv.Itoa(s.Gauge))
	}
	return names
}
