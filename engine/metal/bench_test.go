package metal_test

import (
	"math/rand/v2"

	"mendwright/engine/metal"
	"mendwright/rules/interval"
)

type rng = interval.Range

// chance deals measurements.
type chance struct{ *rand.Rand }

func deal() chance { return chance{rand.New(rand.NewPCG(1789, 1848))} }

// within is a range inside r; one in four is exact, one in eight is all of r.
func (c chance) within(r rng) rng {
	a, b := r.Lo+c.Float64()*(r.Hi-r.Lo), r.Lo+c.Float64()*(r.Hi-r.Lo)
	switch c.IntN(8) {
	case 0, 1:
		b = a
	case 2:
		return r
	}
	return rng{Lo: min(max(min(a, b), r.Lo), r.Hi), Hi: max(min(max(a, b), r.Hi), r.Lo)}
}

const tries = 2000

// bench holds a few figures; the potentials and the bath are round and belong to no real metal.
func bench() metal.Tables {
	thread := func(name string, major, pitch float64) metal.Thread {
		return metal.Thread{Name: name, Major: major, Pitch: pitch}
	}
	return metal.Tables{
		Baths: []metal.BathRule{
			{Bath: "acid", Part: "steel", Verdict: metal.Watch, Why: "bubbles"},
			{Bath: "acid", Part: "spring", Verdict: metal.Never, Why: "hydrogen"},
			{Bath: "acid", Part: "zinc", Verdict: metal.Never, Why: "bare steel"},
			{Bath: "acid", Part: "brass", Verdict: metal.Dab, Why: "pink"},
		},
		Metals: []metal.Metal{
			{Name: "aluminium", Density: rng{Lo: 2.56, Hi: 2.80}, Pull: metal.NoPull},
			{Name: "zinc", Density: rng{Lo: 6.6, Hi: 7.2}, Pull: metal.NoPull},
			{Name: "steel", Density: interval.Exact(7.85), Pull: metal.StrongPull},
			{Name: "stainless", Density: rng{Lo: 7.48, Hi: 8}},
			{Name: "brass", Density: rng{Lo: 8.4, Hi: 8.73}, Pull: metal.NoPull},
			{Name: "bronze", Density: rng{Lo: 7.4, Hi: 8.9}, Pull: metal.NoPull},
		},
		Potentials: []metal.Potential{
			{Series: "one", Metal: "zinc", MV: interval.Exact(-1000), Spread: 40},
			{Series: "one", Metal: "steel", MV: interval.Exact(-800), Spread: 40},
			{Series: "one", Metal: "brass", MV: interval.Exact(-450), Spread: 20},
			{Series: "two", Metal: "steel", MV: rng{Lo: -710, Hi: -600}},
			{Series: "two", Metal: "brass", MV: rng{Lo: -400, Hi: -300}},
			{Series: "two", Metal: "tin", MV: rng{Lo: -650, Hi: -500}},
		},
		Screws: []metal.Screw{
			{Gauge: 8, Root: 2.8448, Strength: metal.Pilot{Soft: 1.984, Hard: 2.381}, Furniture: metal.Pilot{Soft: 2.381, Hard: 3.175}, ShankHole: 4.366},
		},
		Threads: []metal.Thread{
			thread("M4", 4, 0.7), thread("M5", 5, 0.8), thread("M6", 6, 1), thread("M8", 8, 1.25), thread("M8 fine", 8, 1),
			thread("8-32", 4.1656, 25.4/32), thread("10-24", 4.826, 25.4/24), thread("10-32", 4.826, 25.4/32),
			thread("1/4-20", 6.35, 25.4/20), thread("1/4-28", 6.35, 25.4/28), thread("5/16-18", 7.9375, 25.4/18),
		},
	}
}

func exact(v float64) rng { return interval.Exact(v) }
