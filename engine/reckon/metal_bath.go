package reckon

import (
	"slices"
	"strings"

	"mendwright/engine/metal"
)

// What hurts in this work.
const (
	acidCaution     = "Acid burns skin and eyes, and with metal it gives off hydrogen: goggles, gloves, open air, and the acid into the water, never the reverse."
	hydrogenCaution = "Hydrogen burns from 4 % of the air and gathers under lids and ceilings: no flame, no spark, moving air."
	bakeCaution     = "A bake lowers the danger that hardened steel snaps and does not end it; zinc, solder, lacquer and wood do not stand its heat. A part that people hang on is replaced."
)

// Inputs that several baths ask for.
var (
	acidInput     = Input{Name: "acid", Means: "which acid takes the rust off", Words: words("vinegar", "citric", "citric-monohydrate", "phosphoric"), Example: "citric-monohydrate"}
	rustInput     = Input{Name: "rust", Means: "ordinary red rust, or dry oxide", Words: words("red-rust", "oxide"), Default: "red-rust", Example: "red-rust"}
	strengthInput = Input{Name: "strength", Means: "strength of the bath, in grams of acid to 100 ml", Unit: "%", Range: between(0.01, 100), Example: "5 to 6 %"}
	bathInput     = Input{Name: "bath", Means: "how much of the bath there is", Unit: "L", Range: between(0.001, 1000), Example: "2 L"}
	acidWords     = map[string]metal.Acid{"vinegar": metal.Acetic, "citric": metal.Citric, "citric-monohydrate": metal.CitricMonohydrate, "phosphoric": metal.Phosphoric}
	rustWords     = map[string]metal.Rust{"red-rust": metal.RedRust, "oxide": metal.Oxide}
)

var bathCalculations = []*Calculation{
	{
		ID: "acid-dilution", Field: Metal,
		Ask: "How much strong acid and how much water make up a weaker bath?",
		Inputs: []Input{
			{Name: "have", Means: "strength that is there, by volume or in grams to 100 ml", Unit: "%", Range: between(0.01, 100), Example: "30 %"},
			{Name: "want", Means: "strength that is wanted, on the same footing", Unit: "%", Range: between(0.01, 100), Example: "5 %"},
			{Name: "make", Means: "how much bath to make", Unit: "L", Range: between(0, 1000), Example: "2 L"},
		},
		Sources: []string{"chemistry"},
		Holds:   "For strengths on one footing, by volume or in grams to 100 ml. A label in per cent by weight asks for dilution-by-weight.",
		Caution: acidCaution,
		Reckon:  func(_ *Tables, g Given) ([]Figure, error) { return dilution(g, metal.VolumeInVolume, "L") },
	},
	{
		ID: "dilution-by-weight", Field: Metal,
		Ask: "How much strong acid and how much water, weighed, make up a weaker bath?",
		Inputs: []Input{
			{Name: "have", Means: "strength that is there, by weight, as labels of strong acids print it", Unit: "%", Range: between(0.01, 100), Example: "85 %"},
			{Name: "want", Means: "strength that is wanted, by weight", Unit: "%", Range: between(0.01, 100), Example: "10 %"},
			{Name: "make", Means: "how much bath to make, weighed", Unit: "kg", Range: between(0, 1000), Example: "1 kg"},
		},
		Sources: []string{"chemistry"},
		Caution: acidCaution,
		Reckon:  func(_ *Tables, g Given) ([]Figure, error) { return dilution(g, metal.WeightInWeight, "kg") },
	},
	{
		ID: "powder-in-a-bath", Field: Metal,
		Ask: "How much powder goes into a bath of a strength?",
		Inputs: []Input{
			{Name: "strength", Means: "strength that is wanted, in grams to 100 ml", Unit: "%", Range: between(0.01, 100), Example: "5 %"}, bathInput,
		},
		Sources: []string{"chemistry"},
		Caution: acidCaution,
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			bath := metal.Strength{Percent: g.Range("strength"), Basis: metal.WeightInVolume}
			return only("powder", "powder to weigh in", "g")(bath.Grams(millilitres(g.Range("bath"))))
		},
	},
	{
		ID: "rust-in-a-bath", Field: Metal,
		Ask:     "How much rust can a bath take off before its acid is used up?",
		Inputs:  []Input{acidInput, strengthInput, bathInput, rustInput},
		Sources: []string{"chemistry"},
		Holds:   "The most there can be, with every bit of the acid used up on rust; a bath slows down long before.",
		Caution: acidCaution,
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			return only("rust", "rust that it takes off at the most", "g")(bathOf(g).Takes(rustWords[g.Word("rust")], millilitres(g.Range("bath"))))
		},
	},
	{
		ID: "bath-for-rust", Field: Metal,
		Ask: "How much bath does this much rust need?",
		Inputs: []Input{acidInput, strengthInput,
			{Name: "weight", Means: "what the rust weighs", Unit: "kg", Range: between(0, 100), Example: "20 to 40 g"}, rustInput},
		Sources: []string{"chemistry", "design-choice"},
		Caution: acidCaution,
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			need, err := bathOf(g).For(rustWords[g.Word("rust")], grams(g.Range("weight")))
			if err != nil {
				return nil, err
			}
			return []Figure{
				Amount("least", "bath whose acid is just used up", "L", times(need.Least, 0.001)),
				Amount("ample", "bath that stays sour to the end, three to five times that", "L", times(need.Ample, 0.001)),
			}, nil
		},
	},
	{
		ID: "neutralise-acid", Field: Metal,
		Ask: "How much soda makes what is left of a bath neutral, and how much gas comes off?",
		Inputs: []Input{
			{Name: "acid", Means: "which acid; phosphoric acid is rinsed off instead", Words: words("vinegar", "citric", "citric-monohydrate"), Example: "vinegar"},
			{Name: "weight", Means: "how much acid there is, without its water", Unit: "kg", Range: between(0, 1000), Example: "50 g"},
			{Name: "soda", Means: "what takes the acid up", Words: words("baking-soda", "soda-ash", "washing-soda"), Default: "baking-soda", Example: "baking-soda"},
		},
		Sources: []string{"chemistry"},
		Caution: acidCaution,
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			base := map[string]metal.Base{"baking-soda": metal.BakingSoda, "soda-ash": metal.SodaAsh, "washing-soda": metal.WashingSoda}[g.Word("soda")]
			n, err := metal.Neutralise(acidWords[g.Word("acid")], base, grams(g.Range("weight")))
			if err != nil {
				return nil, err
			}
			return []Figure{
				Amount("soda", "soda to add, slowly and in an open vessel", "g", n.Base),
				Amount("gas", "carbon dioxide that comes off", "L", n.Gas),
			}, nil
		},
	},
	{
		ID: "bath-on-a-part", Field: Metal,
		Ask: "What does a bath do to zinc, brass, a hardened spring or another part?",
		Inputs: []Input{
			{Name: "bath", Means: "what the part would lie in", Words: func(t *Tables) []string {
				return bathWords(t, func(r metal.BathRule) string { return r.Bath })
			}, Example: "citric"},
			{Name: "part", Means: "what the part is, with all its plating", Words: parts, Optional: true, Example: "hardened-spring"},
			{Name: "also", Means: "what else it is or could be", Words: func(t *Tables) []string { return append(parts(t), "nothing-else") }, Default: "nothing-else", Example: "zinc-plated"},
		},
		Sources: []string{"acid-rust", "ammonia-brass", "cci-brass", "cci-dezincification", "design-choice", "electrolysis", "hydrogen-bake", "memory", "mounts-conservation"},
		Holds:   "Of all that the part is, the worst counts.",
		Caution: acidCaution,
		Reckon:  onAPart,
	},
}

func dilution(g Given, basis metal.Basis, unit string) ([]Figure, error) {
	d, err := metal.Dilute(metal.Strength{Percent: g.Range("have"), Basis: basis}, metal.Strength{Percent: g.Range("want"), Basis: basis}, g.Range("make"))
	if err != nil {
		return nil, err
	}
	return []Figure{
		Amount("water", "water that goes in first", unit, d.Water),
		Amount("acid", "strong acid that goes into it", unit, d.Stock),
	}, nil
}

func bathOf(g Given) metal.Bath {
	return metal.Bath{Acid: acidWords[g.Word("acid")], Strength: metal.Strength{Percent: g.Range("strength"), Basis: metal.WeightInVolume}}
}

// onAPart judges each part that it could be, together with what it also is.
func onAPart(t *Tables, g Given) ([]Figure, error) {
	best, worst := metal.Never, metal.Allowed
	var why []string
	for _, part := range g.Words("part") {
		all := []string{part}
		if also := g.Word("also"); also != "nothing-else" {
			all = append(all, also)
		}
		j, err := t.Metal.Judge(g.Word("bath"), all...)
		if err != nil {
			return nil, err
		}
		best, worst = max(best, j.Verdict), min(worst, j.Verdict)
		for _, rule := range j.Rules {
			why = append(why, rule.Why)
		}
	}
	says := map[string]string{
		"never": "it stays out of this bath", "take-apart": "take the metals apart and judge each by itself",
		"dab":   "on the spot with a swab, for minutes; no soak",
		"watch": "it may soak while somebody watches for the end", "allowed": "it may soak",
	}
	if !g.LeftOut("part") {
		for word := range says {
			says[word] += ": " + strings.Join(slices.Compact(why), "; ")
		}
	}
	return []Figure{settled("verdict", "this bath on this part", best.String(), worst.String(), says)}, nil
}

func bathWords(t *Tables, of func(metal.BathRule) string) []string {
	var names []string
	for _, r := range t.Metal.Baths {
		if !slices.Contains(names, of(r)) {
			names = append(names, of(r))
		}
	}
	return names
}

func parts(t *Tables) []string {
	return bathWords(t, func(r metal.BathRule) string { return r.Part })
}
