package reckon

import (
	"fmt"
	"strconv"

	"mendwright/engine/metal"
	"mendwright/rules/interval"
)

var (
	woodInput  = Input{Name: "wood", Means: "what the hole is drilled in", Words: words("softwood", "hardwood"), Optional: true, Example: "hardwood"}
	frontInput = Input{Name: "front", Means: "thickness of the front, with any plate between", Unit: "mm", Range: between(1, 100), Example: "3/4 in"}
)

var screwCalculations = []*Calculation{
	{
		ID: "thread", Field: Metal,
		Ask: "Which machine thread is a screw, by its measured diameter and pitch?",
		Inputs: []Input{
			{Name: "diameter", Means: "measured over the crests", Unit: "mm", Range: between(1, 30), Example: "3.9 ± 0.02 mm"},
			{Name: "length", Means: "length that the counted turns take up", Unit: "mm", Range: between(0.2, 200), Example: "7.0 ± 0.1 mm"},
			{Name: "turns", Means: "how many turns that is: count the crests after the first", Range: between(1, 100), Example: "10"},
		},
		Sources: []string{"design-choice", "memory", "thread-sizes"},
		Holds:   "More than one is a question for a gauge nut, turned by hand and never forced. For threads to the inch give 1 in and their number.",
		Reckon:  whichThread,
	},
	{
		ID: "screw-gauge", Field: Metal,
		Ask:     "Which gauge is a wood screw, by its shank?",
		Inputs:  []Input{{Name: "shank", Means: "measured on the smooth shank", Unit: "mm", Range: between(1.524, 9.4488), Example: "4.17 ± 0.02 mm"}},
		Sources: []string{"screw-gauge", "screw-shanks"},
		Holds:   "For screws made to the gauge; a metric screw fits none, or one by chance.",
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			shank := g.Range("shank")
			gauge, err := metal.ScrewGauge(shank)
			if err != nil {
				return nil, err
			}
			could, err := metal.ScrewGauges(shank)
			if err != nil {
				return nil, err
			}
			var corners [][]int
			for _, end := range ends(shank) {
				corner, err := metal.ScrewGauges(end)
				if err != nil {
					return nil, err
				}
				corners = append(corners, corner)
			}
			return append([]Figure{Amount("by-formula", "gauge by the formula", "", gauge)},
				listed("gauge", "gauge", could, corners, strconv.Itoa,
					func(n int) string { return "gauge " + strconv.Itoa(n) },
					"no gauge has such a shank; it may be a metric screw")...), nil
		},
	},
	{
		ID: "pilot-hole", Field: Metal,
		Ask: "Which drills go with a wood screw?",
		Inputs: []Input{
			{Name: "gauge", Means: "gauge of the screw", Words: gauges, Example: "8"}, woodInput,
		},
		Sources: []string{"wood-screws"},
		Holds:   "Tables disagree; the two pilots here lie on either side of most.",
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			n, err := strconv.Atoi(g.Word("gauge"))
			if err != nil {
				return nil, err
			}
			s, err := t.Metal.Screw(n)
			if err != nil {
				return nil, err
			}
			return []Figure{
				Amount("pilot", "pilot hole of furniture practice", "mm", s.Furniture.In(woodOf(g))),
				Amount("strongest", "pilot hole for the strongest hold", "mm", s.Strength.In(woodOf(g))),
				Amount("shank", "hole for the shank", "mm", interval.Exact(s.ShankHole)),
				Amount("root", "core between the threads", "mm", interval.Exact(s.Root)),
			}, nil
		},
	},
	{
		ID: "pilot-of-root", Field: Metal,
		Ask: "Which pilot hole holds a screw best, by the core between its threads?",
		Inputs: []Input{
			{Name: "root", Means: "core between the threads", Unit: "mm", Range: between(0.5, 10), Example: "2.8 ± 0.05 mm"}, woodInput,
		},
		Sources: []string{"wood-screws"},
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			return only("pilot", "pilot hole", "mm")(metal.PilotOfRoot(g.Range("root"), woodOf(g)))
		},
	},
	{
		ID: "pull-screw", Field: Metal,
		Ask:     "How long a machine screw does a pull or knob need?",
		Inputs:  []Input{frontInput},
		Sources: []string{"design-choice", "pull-screws"},
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			return only("length", "length of the screw", "mm")(metal.PullScrew(g.Range("front"), interval.Exact(metal.Engagement)))
		},
	},
	{
		ID: "pull-screw-fits", Field: Metal,
		Ask: "Does this screw reach into a pull or knob, and not too far?",
		Inputs: []Input{
			{Name: "length", Means: "length of the screw", Unit: "mm", Range: between(1, 200), Example: "1 in"}, frontInput,
			{Name: "diameter", Means: "diameter of the screw", Unit: "mm", Range: between(1, 9), Example: "4.17 mm"},
		},
		Sources: []string{"design-choice", "pull-screws"},
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			enters, err := metal.Enters(g.Range("length"), g.Range("front"))
			if err != nil {
				return nil, err
			}
			var at [2]metal.Place
			for i, end := range ends(g.Range("diameter")) {
				if at[i], err = metal.PullFits(g.Range("length"), g.Range("front"), end.Mid()); err != nil {
					return nil, err
				}
			}
			fits := at[0]
			if at[0] != at[1] {
				fits = metal.Unsettled
			}
			return []Figure{
				Amount("enters", "how far it comes out behind the front", "mm", enters),
				placed("fits", "the screw is", fits, map[metal.Place][2]string{
					metal.Below:     {"too-short", "it holds by less than its own diameter"},
					metal.Inside:    {"fits", "it enters at least its own diameter and does not bottom"},
					metal.Above:     {"too-long", "it bottoms in the pull before it is tight"},
					metal.Unsettled: {NotKnown, "on a limit as measured; try it by hand before the driver"},
				}),
			}, nil
		},
	},
}

func woodOf(g Given) metal.Wood {
	if g.LeftOut("wood") {
		return metal.AnyWood
	}
	return map[string]metal.Wood{"softwood": metal.Softwood, "hardwood": metal.Hardwood}[g.Word("wood")]
}

func whichThread(t *Tables, g Given) ([]Figure, error) {
	fewest, most, err := whole("turns", g.Range("turns"))
	if err != nil {
		return nil, err
	}
	finest, err := metal.PitchOver(g.Range("length"), most)
	if err != nil {
		return nil, err
	}
	coarsest, err := metal.PitchOver(g.Range("length"), fewest)
	if err != nil {
		return nil, err
	}
	diameter, pitch := g.Range("diameter"), over(finest, coarsest)
	like := func(diameter, pitch interval.Range) ([]metal.Thread, error) {
		found, err := t.Metal.ThreadsLike(diameter, pitch)
		var threads []metal.Thread
		for _, c := range found {
			threads = append(threads, c.Thread)
		}
		return threads, err
	}
	could, err := like(diameter, pitch)
	if err != nil {
		return nil, err
	}
	var corners [][]metal.Thread
	for _, d := range ends(diameter) {
		for _, p := range ends(pitch) {
			corner, err := like(d, p)
			if err != nil {
				return nil, err
			}
			corners = append(corners, corner)
		}
	}
	return append([]Figure{Amount("pitch", "pitch", "mm", pitch)},
		listed("thread", "thread of the table", could, corners,
			func(metal.Thread) string { return "one-fits" },
			func(th metal.Thread) string {
				return fmt.Sprintf("%s (%s, %s over the crests, %s from crest to crest)", th.Name, th.Series,
					Show(interval.Exact(th.Major), "mm"), Show(interval.Exact(th.Pitch), "mm"))
			},
			"none has such crests; it may be a Whitworth thread of old British furniture")...), nil
}
