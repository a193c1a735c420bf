package reckon

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"mendwright/engine/air"
	"mendwright/rules/interval"
)

var (
	wetTime   = Input{Name: "time", Means: "over how long it evaporates", Unit: "min", Range: between(0, 10080), Default: "0 min", Example: "1 h"}
	wetAir    = Input{Name: "air", Means: "temperature of the air", Unit: "°C", Range: between(-20, 50), Default: "20 °C", Example: "18 to 22 °C"}
	dayInputs = []Input{
		{Name: "first", Means: "vapour in the first stretch of the day", Unit: "ppm", Range: between(0, 1e6), Example: "80 to 100 ppm"},
		{Name: "first-time", Means: "how long it lasts", Unit: "min", Range: between(0, 1440), Example: "2 h"},
		{Name: "second", Means: "vapour in the second", Unit: "ppm", Range: between(0, 1e6), Default: "0 ppm", Example: "40 ppm"},
		{Name: "second-time", Means: "how long it lasts", Unit: "min", Range: between(0, 1440), Default: "0 min", Example: "1 h"},
		{Name: "third", Means: "vapour in the third", Unit: "ppm", Range: between(0, 1e6), Default: "0 ppm", Example: "10 ppm"},
		{Name: "third-time", Means: "how long it lasts", Unit: "min", Range: between(0, 1440), Default: "0 min", Example: "3 h"},
	}
)

var vapourCalculations = []*Calculation{
	{
		ID: "ppm", Field: Air,
		Ask: "How many parts in a million are so many milligrams of a vapour in a cubic metre?",
		Inputs: []Input{substanceInput,
			{Name: "mg", Means: "vapour in the air by weight", Unit: "mg/m³", Range: between(0, 1e7), Example: "460 to 580 mg/m³"}},
		Sources: molarSources,
		Holds:   "At 25 °C and one atmosphere.",
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			s, err := t.Air.Substance(g.Word("substance"))
			if err != nil {
				return nil, err
			}
			return only("ppm", "parts of vapour in a million of air", "ppm")(air.ToPPM(g.Range("mg"), s.Molar))
		},
	},
	{
		ID: "mg-per-m3", Field: Air,
		Ask:     "How many milligrams in a cubic metre are so many parts of a vapour in a million?",
		Inputs:  []Input{substanceInput, ppmInput},
		Sources: molarSources,
		Holds:   "At 25 °C and one atmosphere.",
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			s, err := t.Air.Substance(g.Word("substance"))
			if err != nil {
				return nil, err
			}
			return only("mg", "vapour in the air by weight", "mg/m³")(air.ToMG(g.Range("ppm"), s.Molar))
		},
	},
	{
		ID: "solvent-in-a-room", Field: Air,
		Ask: "What does a solvent leave in the air of a room as it dries off?",
		Inputs: []Input{substanceInput,
			{Name: "amount", Means: "how much of it evaporates", Unit: "L", Range: between(0, 100), Example: "20 to 30 ml"},
			roomInput, placeInput, wetTime, wetAir},
		Sources: sources(molarSources, limitSources, fireSources, []string{"garage-guide"}),
		Holds:   "Mixed through the room and judged as if it went on all day. Right over the liquid it can always be more.",
		Caution: vapourCaution,
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			doses, err := t.Air.FromLitres(g.Range("amount"), []air.Share{{Substance: g.Word("substance"), Of: interval.Exact(1)}})
			if err != nil {
				return nil, err
			}
			return inRoom(t, g, doses)
		},
	},
	{
		ID: "aerosol-can", Field: Air,
		Ask: "What does an aerosol can leave in the air of a room?",
		Inputs: []Input{
			{Name: "sprayed", Means: "how much leaves the can", Unit: "kg", Range: between(0, 5), Example: "100 to 150 g"},
			{Name: "propellant-share", Means: "share of it that is propellant, by weight", Unit: "%", Range: between(0, 100), Example: "30 to 35 %"},
			{Name: "solvent-share", Means: "share of it that is solvent, by weight", Unit: "%", Range: between(0, 100), Example: "45 to 55 %"},
			{Name: "propellant", Means: "which propellant", Words: words("propane", "butane", "isobutane", "dimethyl-ether"), Default: "propane", Example: "propane"},
			{Name: "solvent", Means: "which solvent, the worst of several", Words: substances, Default: "acetone", Example: "acetone"},
			roomInput, placeInput, wetTime, wetAir,
		},
		Sources: sources(molarSources, limitSources, fireSources, []string{"garage-guide"}),
		Holds:   "The shares stand in section 3 of the data sheet. In the jet itself the mist and the gas burn whatever the room.",
		Caution: vapourCaution,
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			can := air.Can{Grams: grams(g.Range("sprayed")), Propellant: times(g.Range("propellant-share"), 0.01), Solvent: times(g.Range("solvent-share"), 0.01)}
			doses, err := can.Doses(g.Word("propellant"), g.Word("solvent"))
			if err != nil {
				return nil, err
			}
			return inRoom(t, g, doses)
		},
	},
	{
		ID: "saturation", Field: Air,
		Ask:     "What is the most vapour that air over a liquid can hold, and can it burn?",
		Inputs:  []Input{substanceInput, wetAir},
		Sources: sources([]string{"chem-vapour"}, fireSources, []string{"osha-sampling", "prudent-practices"}),
		Caution: vapourCaution,
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			ppm, err := t.Air.Saturation(g.Word("substance"), g.Range("air"))
			if err != nil {
				return nil, err
			}
			figures := []Figure{Amount("ppm", "the most there can be", "ppm", ppm)}
			s := t.Air.Substances[g.Word("substance")]
			if s.LEL.Lo == 0 {
				return append(figures, Verdict("burns", "burns right over the liquid", NotKnown, "no explosive limit is known; take it that it burns")), nil
			}
			share, err := air.ShareOfLimits([]air.Part{{Amount: times(ppm, 1e-4), Limit: s.LEL}})
			if err != nil {
				return nil, err
			}
			// Pressures and flash points come from different books; where they disagree, it burns.
			near := false
			if s.Flash != nil {
				if near, err = air.NearFlash(g.Range("air"), *s.Flash); err != nil {
					return nil, err
				}
			}
			return append(figures,
				Amount("of-lel", "share of the lower explosive limit", "%", percent(share)),
				settled("burns", "burns right over the liquid", yesNo(share.Lo >= 1), yesNo(share.Hi >= 1 || near), map[string]string{
					"no":  "too little vapour for a flame to run, and more than 5 °C below the flash point; a mist or a soaked rag burns all the same",
					"yes": "a flame or spark over it lights it",
				})), nil
		},
	},
	{
		ID: "flash", Field: Air,
		Ask: "Is a liquid near its flash point?",
		Inputs: []Input{substanceInput,
			{Name: "liquid", Means: "temperature of the liquid", Unit: "°C", Range: between(-50, 300), Default: "20 °C", Example: "18 to 25 °C"}},
		Sources: sources(fireSources, []string{"osha-sampling", "prudent-practices"}),
		Holds:   "Near is within 5 °C, a choice of this program. A mist or a soaked rag lights well below the flash point.",
		Caution: vapourCaution,
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			s, err := t.Air.Substance(g.Word("substance"))
			if err != nil {
				return nil, err
			}
			if s.Flash == nil {
				return []Figure{Verdict("near", "may be lit", NotKnown, "no flash point is known; a gas, or a vapour that burns only in part of the range")}, nil
			}
			cool, errLo := air.NearFlash(ends(g.Range("liquid"))[0], *s.Flash)
			warm, errHi := air.NearFlash(ends(g.Range("liquid"))[1], *s.Flash)
			class, errClass := air.ClassOf(*s.Flash, s.Boils)
			return []Figure{
				Amount("flash-point", "flash point in a closed cup", "°C", *s.Flash),
				Verdict("class", "class of the liquid", strings.ToLower(class.String()), "class "+class.String()+" by flash and boiling point, in the older scheme: IA burns most readily, IIIB least"),
				settled("near", "may be lit", yesNo(cool), yesNo(warm), map[string]string{
					"no": "more than 5 °C below its flash point", "yes": "within 5 °C of its flash point or above it",
				}),
			}, cmp.Or(errLo, errHi, errClass)
		},
	},
	{
		ID: "exposure", Field: Air,
		Ask:     "What does a day in vapour come to, against the limit?",
		Inputs:  append([]Input{substanceInput}, dayInputs...),
		Sources: sources(limitSources, []string{"osha-limits"}),
		Holds:   "Spread over 8 hours, and a longer day over no more. Held against the tightest limit known, be it for a day or for minutes.",
		Caution: vapourCaution,
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			average, err := air.DayAverage([]air.Span{
				{Hours: hours(g.Range("first-time")), Level: g.Range("first")},
				{Hours: hours(g.Range("second-time")), Level: g.Range("second")},
				{Hours: hours(g.Range("third-time")), Level: g.Range("third")},
			})
			if err != nil {
				return nil, err
			}
			return ofLimit(t, []Figure{Amount("average", "average over 8 hours", "ppm", average)}, map[string]interval.Range{g.Word("substance"): average})
		},
	},
	{
		ID: "two-vapours", Field: Air,
		Ask: "What do two vapours together come to, against their limits?",
		Inputs: []Input{
			{Name: "one", Means: "one substance", Words: substances, Example: "acetone"},
			{Name: "one-ppm", Means: "how much of it is in the air", Unit: "ppm", Range: between(0, 1e6), Example: "100 ppm"},
			{Name: "other", Means: "the other", Words: substances, Example: "toluene"},
			{Name: "other-ppm", Means: "how much of that is in the air", Unit: "ppm", Range: between(0, 1e6), Example: "30 to 40 ppm"},
		},
		Sources: sources(limitSources, []string{"osha-limits"}),
		Holds:   "The shares of both add up, since most solvents act alike on the head.",
		Caution: vapourCaution,
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			ppm := map[string]interval.Range{}
			for _, name := range []string{"one", "other"} {
				ppm[g.Word(name)] = ppm[g.Word(name)].Add(g.Range(name + "-ppm"))
			}
			return ofLimit(t, nil, ppm)
		},
	},
}

// ofLimit adds what vapours are of their limits to figures; one without a limit leaves it open.
func ofLimit(t *Tables, figures []Figure, ppm map[string]interval.Range) ([]Figure, error) {
	var parts []air.Part
	for _, name := range slices.Sorted(maps.Keys(ppm)) {
		limit, err := t.Air.Tightest(name)
		if err != nil {
			return append(figures, Verdict("health", "breathing it", NotKnown, "no limit for breathing "+name+" is known; keep it low")), nil
		}
		parts = append(parts, air.Part{Amount: ppm[name], Limit: limit})
	}
	share, err := air.ShareOfLimits(parts)
	if err != nil {
		return nil, err
	}
	return append(figures,
		Amount("of-limit", "share of the tightest limit for breathing", "%", percent(share)),
		levelOf("health", "breathing it", share, air.HealthLevel, healthSays)), nil
}
