package reckon

import (
	"mendwright/engine/metal"
	"mendwright/rules/interval"
)

var hydrogenCalculations = []*Calculation{
	{
		ID: "hydrogen-bake", Field: Metal,
		Ask:     "How long must hardened steel be baked after acid or current, by its hardness?",
		Inputs:  []Input{{Name: "hardness", Means: "hardness on the Rockwell C scale", Range: between(0, 51), Example: "38 to 42"}},
		Sources: []string{"design-choice", "hydrogen-bake"},
		Holds:   "Hardness stands for strength only roughly: on a limit the hours span both steps. Above 51 no hours are printed, and the part is replaced.",
		Caution: bakeCaution,
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			bake, err := metal.BakeHRC(g.Range("hardness"))
			if err != nil {
				return nil, err
			}
			pickle, err := metal.EmbrittlesHRC(g.Range("hardness"))
			return baked(bake, pickle), err
		},
	},
	{
		ID: "bake-by-strength", Field: Metal,
		Ask:     "How long must hardened steel be baked after acid or current, by its tensile strength?",
		Inputs:  []Input{{Name: "strength", Means: "tensile strength", Unit: "MPa", Range: between(0, 1800), Example: "1150 to 1250 MPa"}},
		Sources: []string{"design-choice", "hydrogen-bake"},
		Holds:   "Above 1800 MPa no hours are printed, and the part is replaced.",
		Caution: bakeCaution,
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			bake, err := metal.BakeTensile(g.Range("strength"))
			if err != nil {
				return nil, err
			}
			pickle, err := metal.EmbrittlesTensile(g.Range("strength"))
			return baked(bake, pickle), err
		},
	},
	{
		ID: "hydrogen-from-a-bath", Field: Metal,
		Ask: "How much hydrogen does acid make as it dissolves zinc or iron, and can it burn in this space?",
		Inputs: []Input{
			{Name: "metal", Means: "what dissolves", Words: words("zinc", "iron"), Example: "zinc"},
			{Name: "weight", Means: "how much of it dissolves", Unit: "kg", Range: between(0, 100), Example: "10 to 20 g"}, spaceInput,
		},
		Sources: []string{"chemistry", "hydrogen-gas"},
		Holds:   "With all of the gas kept in and spread evenly. Under a lid it gathers and is more.",
		Caution: hydrogenCaution,
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			from := metal.HydrogenFromIron
			if g.Word("metal") == "zinc" {
				from = metal.HydrogenFromZinc
			}
			gas, err := from(grams(g.Range("weight")))
			if err != nil {
				return nil, err
			}
			return gathered(gas, g)
		},
	},
	{
		ID: "electrolysis-gas", Field: Metal,
		Ask: "How much hydrogen does an electrolysis bath make, and how soon can it burn in this space?",
		Inputs: []Input{
			{Name: "current", Means: "current through the bath", Unit: "A", Range: between(0.001, 100), Example: "2 to 4 A"},
			{Name: "time", Means: "how long it runs", Unit: "min", Range: between(0, 60000), Example: "12 h"}, spaceInput,
		},
		Sources: []string{"chemistry", "hydrogen-gas"},
		Holds:   "The most there can be: all of the current makes gas at the part, all of the gas is kept in and spread evenly.",
		Caution: hydrogenCaution,
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			cell, err := metal.Electrolyse(g.Range("current"), hours(g.Range("time")))
			if err != nil {
				return nil, err
			}
			figures, err := gathered(cell.Hydrogen, g)
			if err != nil {
				return nil, err
			}
			burns, err := metal.HoursToFlammable(g.Range("current"), times(g.Range("space"), 1000))
			if err != nil {
				return nil, err
			}
			return append(figures,
				Amount("hours", "hours until there is enough to burn", "h", burns),
				Amount("anode", "iron that a steel anode loses", "g", cell.Anode)), nil
		},
	},
}

var spaceInput = Input{Name: "space", Means: "closed space that keeps the gas in", Unit: "m³", Range: between(0.0001, 10000), Example: "40 m³"}

// gathered is what a volume of hydrogen in litres comes to in the space of the call.
func gathered(gas interval.Range, g Given) ([]Figure, error) {
	share, err := metal.GasShare(gas, times(g.Range("space"), 1000))
	if err != nil {
		return nil, err
	}
	burns, err := metal.Flammable(share)
	return []Figure{
		Amount("hydrogen", "hydrogen", "L", gas),
		Amount("share", "share of the air in the space", "%", share),
		placed("burns", "enough to burn", burns, map[metal.Place][2]string{
			metal.Below:     {"no", "less than 4 % once it has spread; close to where it rises it can always be more"},
			metal.Inside:    {"yes", "4 % or more: it burns or explodes at any spark"},
			metal.Unsettled: {NotKnown, "on both sides of 4 %; take it as enough to burn"},
		}),
	}, err
}

func baked(bake metal.Baking, pickle metal.Place) []Figure {
	return []Figure{
		Amount("hours", "bake for at least", "h", bake.Hours),
		Amount("heat", "at", "°C", bake.Celsius),
		Amount("within", "begun within this time of the bath", "h", interval.Exact(bake.Within)),
		placed("bath", "acid or current on it", pickle, map[metal.Place][2]string{
			metal.Inside:    {"bears-it", "soft enough to need no bake"},
			metal.Above:     {"refused", "better not done at all: hardened steel takes up hydrogen and snaps later"},
			metal.Unsettled: {NotKnown, "at the limit as known; take it as refused until it is measured"},
		}),
	}
}
