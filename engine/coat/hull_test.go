package coat_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/coat"
	"mendwright/rules/interval"
)

const tries = 3000

// Quotients in which a quantity stands twice may differ in the last digits.
const lastDigits = 1e-9

func deal() *rand.Rand { return rand.New(rand.NewPCG(1873, 1925)) }

// inside is a range somewhere in r; one in four is exact.
func inside(rnd *rand.Rand, r interval.Range) interval.Range {
	a, b := r.Lo+rnd.Float64()*(r.Hi-r.Lo), r.Lo+rnd.Float64()*(r.Hi-r.Lo)
	if rnd.IntN(4) == 0 {
		b = a
	}
	return interval.Range{Lo: max(r.Lo, min(a, b)), Hi: min(r.Hi, max(a, b))}
}

func exact(v float64) interval.Range        { return interval.Exact(v) }
func between(lo, hi float64) interval.Range { return interval.Range{Lo: lo, Hi: hi} }

type ranges = []interval.Range

// figure is a function of measured inputs, each somewhere in its domain.
type figure struct {
	name    string
	domains ranges
	of      func(ranges) (interval.Range, error)
}

var figures = []figure{
	{"Dry", ranges{between(0, 500), between(0, 100)}, func(r ranges) (interval.Range, error) { return coat.Dry(r[0], r[1]) }},
	{"Wet", ranges{between(0, 200), between(5, 100)}, func(r ranges) (interval.Range, error) { return coat.Wet(r[0], r[1]) }},
	{"CheckSheet", ranges{between(50, 500), between(0, 40)}, func(r ranges) (interval.Range, error) {
		s, err := coat.CheckSheet(exact(50), r[0], r[1])
		return s.Needs, err
	}},
	{"ThinnedByShare", ranges{between(0, 100), between(0, 90)}, func(r ranges) (interval.Range, error) { return coat.ThinnedByShare(r[0], r[1]) }},
	{"ThinnedByAdding", ranges{between(0, 100), between(0.1, 10), between(0, 10)}, func(r ranges) (interval.Range, error) {
		return coat.ThinnedByAdding(r[0], r[1], r[2])
	}},
	{"ThinnerFor", ranges{between(0, 10), between(30, 90), between(1, 30)}, func(r ranges) (interval.Range, error) {
		return coat.ThinnerFor(r[0], r[1], r[2])
	}},
	{"Rate", ranges{between(0, 100), between(1, 200)}, func(r ranges) (interval.Range, error) { return coat.Rate(r[0], r[1]) }},
	{"WetAt", ranges{between(1, 50)}, func(r ranges) (interval.Range, error) { return coat.WetAt(r[0]) }},
	{"SolidsAt", ranges{between(1, 20), between(1, 40)}, func(r ranges) (interval.Range, error) { return coat.SolidsAt(r[0], r[1]) }},
	{"Total", ranges{between(20, 60), between(0, 10), between(0, 100)}, func(r ranges) (interval.Range, error) {
		return coat.Build{Coat: r[0], Scuff: r[1], Sinks: r[2]}.Total(4)
	}},
	{"Litres", ranges{between(0, 10), between(1, 5), between(2, 20), between(0, 60), between(0, 40)}, func(r ranges) (interval.Range, error) {
		return coat.Purchase{Area: r[0], Coats: r[1], Rate: r[2], Loss: r[3], Waste: r[4]}.Litres()
	}},
	{"Grams", ranges{between(0, 10), between(0.7, 1.4)}, func(r ranges) (interval.Range, error) { return coat.Grams(r[0], r[1]) }},
	{"PasteGrams", ranges{between(0, 10), between(1, 3), between(20, 60)}, func(r ranges) (interval.Range, error) {
		return coat.PasteGrams(r[0], r[1], r[2])
	}},
	{"FlakesPerLitre", ranges{between(0, 5)}, func(r ranges) (interval.Range, error) { return coat.FlakesPerLitre(r[0]) }},
	{"Flakes", ranges{between(0, 1000), between(0, 5)}, func(r ranges) (interval.Range, error) { return coat.Flakes(r[0], r[1]) }},
	{"CutOf", ranges{between(0, 500), between(10, 1000)}, func(r ranges) (interval.Range, error) { return coat.CutOf(r[0], r[1]) }},
	{"CutByVolume", ranges{between(0, 5)}, func(r ranges) (interval.Range, error) { return coat.CutByVolume(r[0]) }},
	{"CutByMass", ranges{between(0, 5)}, func(r ranges) (interval.Range, error) { return coat.CutByMass(r[0]) }},
	{"AlcoholToAdd", ranges{between(0, 1000), between(2, 5), between(0.5, 2)}, func(r ranges) (interval.Range, error) {
		return coat.AlcoholToAdd(r[0], r[1], r[2])
	}},
	{"TimeFactor of oil", ranges{between(-10, 40), between(0, 100)}, func(r ranges) (interval.Range, error) {
		return coat.TimeFactor(coat.ByOxygen, r[0], r[1])
	}},
	{"TimeFactor of a waterborne film", ranges{between(-10, 40), between(0, 100)}, func(r ranges) (interval.Range, error) {
		return coat.TimeFactor(coat.ByWater, r[0], r[1])
	}},
	{"Cure", ranges{between(-10, 40), between(0, 100)}, func(r ranges) (interval.Range, error) {
		t, err := quick.Times(r[0], r[1])
		return t.Cure, err
	}},
	{"Closes", ranges{between(-10, 40), between(0, 100)}, func(r ranges) (interval.Range, error) {
		t, err := quick.Times(r[0], r[1])
		return t.Closes, err
	}},
	{"Schedule", ranges{between(-10, 40), between(0, 100)}, func(r ranges) (interval.Range, error) {
		_, cured, err := quick.Schedule(3, r[0], r[1])
		return cured, err
	}},
	{"Level", ranges{between(0, 200), between(0, 100)}, func(r ranges) (interval.Range, error) {
		l, err := coat.Level(r[0], r[1])
		return l.Left, err
	}},
	{"MostOff", ranges{between(0, 200)}, func(r ranges) (interval.Range, error) { return coat.MostOff(r[0]) }},
	{"SquaresLost", ranges{between(0, 25)}, func(r ranges) (interval.Range, error) { return coat.SquaresLost(6, r[0]) }},
	{"Strength", ranges{between(0, 500), between(0.1, 10)}, func(r ranges) (interval.Range, error) { return coat.Strength(r[0], r[1]) }},
	{"ToDissolve", ranges{between(0, 500), between(0, 10)}, func(r ranges) (interval.Range, error) { return coat.ToDissolve(r[0], r[1]) }},
	{"Diluted", ranges{between(0, 50), between(0.1, 10), between(0, 10)}, func(r ranges) (interval.Range, error) {
		return coat.Diluted(r[0], r[1], r[2])
	}},
	{"WaterFor", ranges{between(0, 10), between(10, 50), between(0.5, 10)}, func(r ranges) (interval.Range, error) {
		return coat.WaterFor(r[0], r[1], r[2])
	}},
	{"Neutralised", ranges{between(0, 100), between(1, 100)}, func(r ranges) (interval.Range, error) {
		return coat.Neutralised(r[0], coat.AceticEquivalent, r[1])
	}},
	{"DewMargin", ranges{between(-10, 40), between(-20, 30)}, func(r ranges) (interval.Range, error) { return coat.DewMargin(r[0], r[1]) }},
	{"cross-cut spacing", ranges{between(0, 300)}, func(r ranges) (interval.Range, error) {
		c, err := coat.CrossCutSuits(r[0])
		return c.SpacingMM, err
	}},
	{"ISO class", ranges{between(0, 100)}, spanOf(func(r ranges) (coat.Span, error) {
		c, err := coat.CrossCutOf(r[0])
		return c.ISO, err
	})},
	{"ASTM class", ranges{between(0, 100)}, spanOf(func(r ranges) (coat.Span, error) {
		c, err := coat.CrossCutOf(r[0])
		return c.ASTM, err
	})},
	{"Flaking", ranges{between(0, 5)}, spanOf(func(r ranges) (coat.Span, error) { return coat.Flaking(r[0]) })},
	{"FlakeSize", ranges{between(0, 50)}, spanOf(func(r ranges) (coat.Span, error) { return coat.FlakeSize(r[0]) })},
	{"Coats", ranges{between(0, 200), between(20, 60), between(0, 10), between(0, 100)}, spanOf(func(r ranges) (coat.Span, error) {
		return coat.Build{Coat: r[1], Scuff: r[2], Sinks: r[3]}.Coats(r[0])
	})},
}

// spanOf lets whole numbers be checked like others.
func spanOf(f func(ranges) (coat.Span, error)) func(ranges) (interval.Range, error) {
	return func(r ranges) (interval.Range, error) {
		s, err := f(r)
		return between(float64(s.Lo), float64(s.Hi)), err
	}
}

// TestEveryFigureIsTheHullOfItsInputs: a closer measurement gives an answer inside the wider one,
// and the ends of the answer are reached at ends of the inputs, so nothing is given away.
func TestEveryFigureIsTheHullOfItsInputs(t *testing.T) {
	rnd := deal()
	for _, f := range figures {
		for range tries {
			wide, narrow := make(ranges, len(f.domains)), make(ranges, len(f.domains))
			for i, d := range f.domains {
				wide[i] = inside(rnd, d)
				narrow[i] = inside(rnd, wide[i])
			}
			outer, err := f.of(wide)
			require.NoError(t, err, "%s%v", f.name, wide)
			inner, err := f.of(narrow)
			require.NoError(t, err, "%s%v", f.name, narrow)
			slack := lastDigits * max(1, outer.Hi)
			require.True(t, outer.Lo-slack <= inner.Lo && inner.Lo <= inner.Hi && inner.Hi <= outer.Hi+slack,
				"%s: %v in %v gives %v outside %v", f.name, narrow, wide, inner, outer)

			reached := interval.Range{Lo: outer.Hi, Hi: outer.Lo}
			for corner := range 1 << len(wide) {
				at := make(ranges, len(wide))
				for i, r := range wide {
					at[i] = exact(r.Lo)
					if corner>>i&1 == 1 {
						at[i] = exact(r.Hi)
					}
				}
				v, err := f.of(at)
				require.NoError(t, err)
				reached = between(min(reached.Lo, v.Lo), max(reached.Hi, v.Hi))
			}
			require.InDelta(t, outer.Lo, reached.Lo, slack, "%s%v", f.name, wide)
			require.InDelta(t, outer.Hi, reached.Hi, slack, "%s%v", f.name, wide)
		}
	}
}

// answer is a question about measured inputs whose answer 0 means that they allow more than one.
type answer struct {
	name    string
	domains ranges
	of      func(ranges) (int, error)
}

var answers = []answer{
	{"HangOf", ranges{between(50, 250)}, func(r ranges) (int, error) {
		h, err := coat.HangOf(r[0])
		return int(h), err
	}},
	{"TooThick", ranges{between(0, 200)}, func(r ranges) (int, error) {
		v, err := coat.TooThick(r[0], between(75, 125))
		return int(v), err
	}},
	{"Level", ranges{between(50, 200), between(0, 100)}, func(r ranges) (int, error) {
		l, err := coat.Level(r[0], r[1])
		return int(l.Allowed), err
	}},
	{"MaySand", ranges{between(0, 100)}, func(r ranges) (int, error) {
		v, err := coat.MaySand(r[0])
		return int(v), err
	}},
	{"Rings", ranges{between(0, 60), between(0, 60)}, func(r ranges) (int, error) {
		v, err := slow.Rings(r[0], r[1])
		return int(v), err
	}},
	{"SheenMatches", ranges{between(20, 60), between(20, 60)}, func(r ranges) (int, error) {
		v, err := coat.SheenMatches(r[0], r[1])
		return int(v), err
	}},
	{"CrossCutSuits", ranges{between(0, 400)}, func(r ranges) (int, error) {
		c, err := coat.CrossCutSuits(r[0])
		return int(c.ISO), err
	}},
	{"RemoverSlow", ranges{between(0, 20)}, func(r ranges) (int, error) {
		v, err := coat.RemoverSlow(r[0])
		return int(v), err
	}},
	{"TooMuch", ranges{between(0, 200)}, func(r ranges) (int, error) {
		v, err := coat.Washing{Dissolve: 95}.TooMuch(r[0])
		return int(v), err
	}},
	{"Window", ranges{between(0, 40), between(5, 35), between(20, 90)}, func(r ranges) (int, error) {
		v, err := quick.Recoating(r[0], r[1], r[2])
		return int(v.Window), err
	}},
	{"Soon", ranges{between(0, 40), between(5, 35), between(20, 90)}, func(r ranges) (int, error) {
		v, err := quick.Recoating(r[0], r[1], r[2])
		return int(v.Soon), err
	}},
	{"Scuff", ranges{between(0, 40), between(5, 35), between(20, 90)}, func(r ranges) (int, error) {
		v, err := quick.Recoating(r[0], r[1], r[2])
		return int(v.Scuff), err
	}},
	{"Now", ranges{between(0, 900)}, func(r ranges) (int, error) {
		v, err := coat.Over{May: coat.MayGo, Barrier: coat.BarrierOrWait, Wait: between(300, 600)}.Now(r[0], false)
		return int(v), err
	}},
	{"Judge", ranges{between(5, 40), between(5, 40), between(20, 95), between(0, 10)}, func(r ranges) (int, error) {
		w, err := quick.Judge(coat.Day{Air: r[0], Surface: r[1], Humidity: r[2], DewMargin: r[3], Spray: coat.Yes})
		return int(w.Verdict()), err
	}},
}

// TestAnAnswerOnceKnownStaysSo: measuring more closely turns unknown into known and never one
// answer into another, and both kinds come up.
func TestAnAnswerOnceKnownStaysSo(t *testing.T) {
	rnd := deal()
	for _, a := range answers {
		known, unknown := 0, 0
		for range tries {
			wide, narrow := make(ranges, len(a.domains)), make(ranges, len(a.domains))
			for i, d := range a.domains {
				wide[i] = inside(rnd, d)
				narrow[i] = inside(rnd, wide[i])
			}
			outer, err := a.of(wide)
			require.NoError(t, err, "%s%v", a.name, wide)
			inner, err := a.of(narrow)
			require.NoError(t, err, "%s%v", a.name, narrow)
			if outer == 0 {
				unknown++
				continue
			}
			known++
			require.Equal(t, outer, inner, "%s: %v in %v", a.name, narrow, wide)
		}
		assert.Greater(t, known, tries/100, a.name)
		assert.Greater(t, unknown, tries/100, a.name)
	}
}

func TestTheWeatherOfAPointLiesBetweenBestAndWorst(t *testing.T) {
	rnd := deal()
	for range tries {
		day := coat.Day{Air: inside(rnd, between(0, 45)), Surface: inside(rnd, between(0, 45)), Humidity: inside(rnd, between(10, 100)),
			DewMargin: inside(rnd, between(-2, 12)), Spray: coat.Truth(rnd.IntN(3))}
		c := bench()[rnd.IntN(len(bench()))]
		wide, err := c.Judge(day)
		require.NoError(t, err)
		point := coat.Day{Air: inside(rnd, day.Air), Surface: inside(rnd, day.Surface), Humidity: inside(rnd, day.Humidity), DewMargin: inside(rnd, day.DewMargin), Spray: day.Spray}
		narrow, err := c.Judge(point)
		require.NoError(t, err)
		require.True(t, wide.Best <= narrow.Best && narrow.Best <= narrow.Worst && narrow.Worst <= wide.Worst, "%v in %v", point, day)
		for _, r := range wide.Reasons {
			if r.Certain {
				require.Contains(t, narrow.Reasons, r, "a certain reason stays")
			}
		}
	}
}
