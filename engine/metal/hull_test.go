package metal_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"mendwright/engine/metal"
	"mendwright/rules/interval"
)

// formula is a function of measured ranges, with the ranges that its inputs may lie in. A
// formula that grows in steps attains its ends at corners as well as one that does not.
type formula struct {
	name   string
	inputs []rng
	of     func([]rng) (rng, error)
}

func ww(percent rng) metal.Strength {
	return metal.Strength{Percent: percent, Basis: metal.WeightInWeight}
}

func wv(percent rng) metal.Strength { return metal.Strength{Percent: percent} }

var formulas = []formula{
	{"stock of a dilution", []rng{{Lo: 30, Hi: 100}, {Lo: 0.01, Hi: 30}, {Lo: 0, Hi: 5000}}, func(in []rng) (rng, error) {
		d, err := metal.Dilute(ww(in[0]), ww(in[1]), in[2])
		return d.Stock, err
	}},
	{"water of a dilution", []rng{{Lo: 30, Hi: 100}, {Lo: 0.01, Hi: 30}, {Lo: 0, Hi: 5000}}, func(in []rng) (rng, error) {
		d, err := metal.Dilute(ww(in[0]), ww(in[1]), in[2])
		return d.Water, err
	}},
	{"strength in volume", []rng{{Lo: 0.01, Hi: 100}, {Lo: 0.7, Hi: 1.9}}, func(in []rng) (rng, error) {
		s, err := ww(in[0]).InVolume(in[1])
		return s.Percent, err
	}},
	{"grams in a bath", []rng{{Lo: 0.01, Hi: 200}, {Lo: 0, Hi: 5000}}, func(in []rng) (rng, error) { return wv(in[0]).Grams(in[1]) }},
	{"amount for grams", []rng{{Lo: 0.01, Hi: 200}, {Lo: 0, Hi: 5000}}, func(in []rng) (rng, error) { return wv(in[0]).Amount(in[1]) }},
	{"grams per litre", []rng{{Lo: 0, Hi: 500}, {Lo: 0.01, Hi: 20}}, func(in []rng) (rng, error) { return metal.GramsPerLitre(in[0], in[1]) }},
	{"acid for rust", []rng{{Lo: 0, Hi: 100}}, func(in []rng) (rng, error) { return metal.Citric.ForRust(metal.RedRust, in[0]) }},
	{"rust that acid takes", []rng{{Lo: 0, Hi: 100}}, func(in []rng) (rng, error) { return metal.Phosphoric.Takes(metal.Oxide, in[0]) }},
	{"least bath for rust", []rng{{Lo: 1, Hi: 20}, {Lo: 0, Hi: 100}}, func(in []rng) (rng, error) {
		a, err := metal.Bath{Acid: metal.Citric, Strength: wv(in[0])}.For(metal.RedRust, in[1])
		return a.Least, err
	}},
	{"rust that a bath takes", []rng{{Lo: 1, Hi: 20}, {Lo: 0, Hi: 5000}}, func(in []rng) (rng, error) {
		return metal.Bath{Strength: ww(in[0])}.Takes(metal.RedRust, in[1])
	}},
	{"soda", []rng{{Lo: 0, Hi: 100}}, func(in []rng) (rng, error) {
		n, err := metal.Neutralise(metal.Citric, metal.WashingSoda, in[0])
		return n.Base, err
	}},
	{"carbon dioxide", []rng{{Lo: 0, Hi: 100}}, func(in []rng) (rng, error) {
		n, err := metal.Neutralise(metal.Acetic, metal.BakingSoda, in[0])
		return n.Gas, err
	}},
	{"hydrogen from iron", []rng{{Lo: 0, Hi: 100}}, func(in []rng) (rng, error) { return metal.HydrogenFromIron(in[0]) }},
	{"hydrogen from zinc", []rng{{Lo: 0, Hi: 100}}, func(in []rng) (rng, error) { return metal.HydrogenFromZinc(in[0]) }},
	{"share of a gas", []rng{{Lo: 0, Hi: 300}, {Lo: 0.1, Hi: 200}}, func(in []rng) (rng, error) { return metal.GasShare(in[0], in[1]) }},
	{"hydrogen of a cell", []rng{{Lo: 0, Hi: 10}, {Lo: 0, Hi: 48}}, func(in []rng) (rng, error) {
		c, err := metal.Electrolyse(in[0], in[1])
		return c.Hydrogen, err
	}},
	{"anode of a cell", []rng{{Lo: 0, Hi: 10}, {Lo: 0, Hi: 48}}, func(in []rng) (rng, error) {
		c, err := metal.Electrolyse(in[0], in[1])
		return c.Anode, err
	}},
	{"hours to flammable", []rng{{Lo: 0.001, Hi: 10}, {Lo: 0.1, Hi: 1000}}, func(in []rng) (rng, error) { return metal.HoursToFlammable(in[0], in[1]) }},
	{"bake by strength", []rng{{Lo: 0, Hi: 1800}}, func(in []rng) (rng, error) {
		b, err := metal.BakeTensile(in[0])
		return b.Hours, err
	}},
	{"bake by hardness", []rng{{Lo: 0, Hi: 51}}, func(in []rng) (rng, error) {
		b, err := metal.BakeHRC(in[0])
		return b.Hours, err
	}},
	{"rust grade", []rng{{Lo: 0, Hi: 100}}, func(in []rng) (rng, error) {
		g, err := metal.RustGrade(in[0])
		return rng{Lo: float64(g.Worst), Hi: float64(g.Best)}, err
	}},
	{"rust grade of little rust", []rng{{Lo: 0, Hi: 1}}, func(in []rng) (rng, error) {
		g, err := metal.RustGrade(in[0])
		return rng{Lo: float64(g.Worst), Hi: float64(g.Best)}, err
	}},
	{"density", []rng{{Lo: 0.1, Hi: 200}, {Lo: 0.1, Hi: 30}}, func(in []rng) (rng, error) {
		w, err := metal.Weigh(in[0], in[1])
		return w.Density, err
	}},
	{"ounces", []rng{{Lo: 0.01, Hi: 20}}, func(in []rng) (rng, error) { return metal.FromOuncesPerCubicInch(in[0]) }},
	{"pitch of threads per inch", []rng{{Lo: 4, Hi: 130}}, func(in []rng) (rng, error) { return metal.PitchOfTPI(in[0]) }},
	{"pitch over a length", []rng{{Lo: 0.2, Hi: 200}}, func(in []rng) (rng, error) { return metal.PitchOver(in[0], 10) }},
	{"pilot of the root", []rng{{Lo: 0.5, Hi: 10}}, func(in []rng) (rng, error) { return metal.PilotOfRoot(in[0], metal.Hardwood) }},
	{"gauge", []rng{{Lo: 1.6, Hi: 9.4}}, func(in []rng) (rng, error) { return metal.ScrewGauge(in[0]) }},
	{"pull screw", []rng{{Lo: 1, Hi: 100}, {Lo: 0.5, Hi: 50}}, func(in []rng) (rng, error) { return metal.PullScrew(in[0], in[1]) }},
	{"how far it enters", []rng{{Lo: 1, Hi: 200}, {Lo: 1, Hi: 100}}, func(in []rng) (rng, error) { return metal.Enters(in[0], in[1]) }},
}

// corners are the points whose every coordinate is an end of a range.
func corners(in []rng) [][]rng {
	out := [][]rng{nil}
	for _, r := range in {
		var next [][]rng
		for _, point := range out {
			next = append(next, append(slices.Clone(point), interval.Exact(r.Lo)), append(slices.Clone(point), interval.Exact(r.Hi)))
		}
		out = next
	}
	return out
}

func TestEveryAnswerIsTheHullOfWhatTheInputsAllow(t *testing.T) {
	c := deal()
	for _, f := range formulas {
		for range tries {
			in, closer := make([]rng, len(f.inputs)), make([]rng, len(f.inputs))
			points := make([]rng, len(f.inputs))
			for i, r := range f.inputs {
				in[i] = c.within(r)
				closer[i] = c.within(in[i])
				points[i] = interval.Exact(in[i].Lo + c.Float64()*(in[i].Hi-in[i].Lo))
			}
			hull := mustOf(t, f, in)
			require.True(t, hull.Valid(), "%s of %v is %v", f.name, in, hull)
			require.True(t, mustOf(t, f, closer).Within(hull), "%s of %v leaves that of %v", f.name, closer, in)
			play := 1e-9 * (1 + max(hull.Hi, -hull.Lo))
			roomy := rng{Lo: hull.Lo - play, Hi: hull.Hi + play}
			require.True(t, mustOf(t, f, points).Within(roomy), "%s of %v leaves that of %v", f.name, points, in)
			// The ends are attained, so the hull is no wider than it must be.
			var attained *rng
			for _, corner := range corners(in) {
				at := mustOf(t, f, corner)
				if attained == nil {
					attained = &at
				}
				attained.Lo, attained.Hi = min(attained.Lo, at.Lo), max(attained.Hi, at.Hi)
			}
			require.InDelta(t, attained.Lo, hull.Lo, play, "%s of %v", f.name, in)
			require.InDelta(t, attained.Hi, hull.Hi, play, "%s of %v", f.name, in)
		}
	}
}

func mustOf(t *testing.T, f formula, in []rng) rng {
	t.Helper()
	r, err := f.of(in)
	require.NoError(t, err, "%s of %v", f.name, in)
	return r
}

// TestWhatRisesAndWhatFalls: each input of a formula, moved up alone, moves the answer one way.
func TestWhatRisesAndWhatFalls(t *testing.T) {
	ways := map[string]string{ // + rises, - falls, per input
		"stock of a dilution": "-++", "water of a dilution": "+-+", "strength in volume": "++",
		"grams in a bath": "++", "amount for grams": "-+", "grams per litre": "+-", "acid for rust": "+",
		"rust that acid takes": "+", "least bath for rust": "-+", "rust that a bath takes": "++", "soda": "+",
		"carbon dioxide": "+", "hydrogen from iron": "+", "hydrogen from zinc": "+", "share of a gas": "+-",
		"hydrogen of a cell": "++", "anode of a cell": "++", "hours to flammable": "-+", "bake by strength": "+",
		"bake by hardness": "+", "rust grade": "-", "rust grade of little rust": "-", "density": "+-",
		"ounces": "+", "pitch of threads per inch": "-", "pitch over a length": "+", "pilot of the root": "+",
		"gauge": "+", "pull screw": "++", "how far it enters": "+-",
	}
	c := deal()
	for _, f := range formulas {
		signs, ok := ways[f.name]
		require.True(t, ok, f.name)
		require.Len(t, signs, len(f.inputs), f.name)
		for i, sign := range signs {
			for range 200 {
				low := make([]rng, len(f.inputs))
				for j, r := range f.inputs {
					low[j] = interval.Exact(r.Lo + c.Float64()*(r.Hi-r.Lo))
				}
				high := slices.Clone(low)
				high[i] = interval.Exact(low[i].Lo + c.Float64()*(f.inputs[i].Hi-low[i].Lo))
				was, is := mustOf(t, f, low), mustOf(t, f, high)
				if sign == '-' {
					was, is = is, was
				}
				require.LessOrEqual(t, was.Lo, is.Lo, "%s, input %d", f.name, i)
				require.LessOrEqual(t, was.Hi, is.Hi, "%s, input %d", f.name, i)
			}
		}
	}
}
