package moisture_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/moisture"
	"mendwright/rules/interval"
)

// calculation is a function of ranges with the bounds its inputs are drawn from.
type calculation struct {
	name   string
	bounds []interval.Range
	of     func(x []interval.Range) (interval.Range, error)
	// rises says for each input whether the answer rises (1), falls (-1) or does neither (0) with it.
	rises []int
	// points is how many values of each input find the hull's ends to within two thousandths;
	// 2 finds them exactly, in corners; 0 where the answer is wider than a point even for exact inputs.
	points int
}

var calculations = []calculation{
	{"Equilibrium", []interval.Range{{Lo: -10, Hi: 100}, {Lo: 0, Hi: 99.9}},
		func(x []interval.Range) (interval.Range, error) { return moisture.Equilibrium(x[0], x[1]) }, []int{0, 1}, 80},
	{"EquilibriumAlt", []interval.Range{{Lo: -10, Hi: 100}, {Lo: 0, Hi: 99.9}},
		func(x []interval.Range) (interval.Range, error) { return moisture.EquilibriumAlt(x[0], x[1]) }, []int{-1, 1}, 2},
	{"HumidityAlt", []interval.Range{{Lo: -10, Hi: 100}, {Lo: 0, Hi: 30}},
		func(x []interval.Range) (interval.Range, error) { return moisture.HumidityAlt(x[0], x[1]) }, []int{1, 1}, 2},
	{"Shrinkage", []interval.Range{{Lo: 0, Hi: 25}, {Lo: 0, Hi: 60}},
		func(x []interval.Range) (interval.Range, error) { return moisture.Shrinkage(x[0], x[1]) }, []int{1, -1}, 2},
	{"Movement", []interval.Range{{Lo: 0, Hi: 5000}, {Lo: 0, Hi: 0.01}, {Lo: 6, Hi: 14}, {Lo: 6, Hi: 14}},
		func(x []interval.Range) (interval.Range, error) { return moisture.Movement(x[0], x[1], x[2], x[3]) }, []int{0, 0, -1, 1}, 2},
	{"MovementByShrinkage", []interval.Range{{Lo: 0, Hi: 5000}, {Lo: 0, Hi: 25}, {Lo: 0, Hi: 60}, {Lo: 0, Hi: 60}},
		func(x []interval.Range) (interval.Range, error) {
			return moisture.MovementByShrinkage(x[0], x[1], x[2], x[3])
		}, []int{0, 0, -1, 1}, 2},
	{"DentLeft", []interval.Range{{Lo: 0, Hi: 20}, {Lo: 0, Hi: 1}},
		func(x []interval.Range) (interval.Range, error) { return moisture.DentLeft(x[0], x[1]) }, []int{1, -1}, 2},
	{"Corrected", []interval.Range{{Lo: 0, Hi: 100}, {Lo: -10, Hi: 50}},
		func(x []interval.Range) (interval.Range, error) { return moisture.Corrected(x[0], x[1]) }, []int{1, -1}, 2},
	{"Content", []interval.Range{{Lo: 0, Hi: 100}, {Lo: -10, Hi: 50}},
		func(x []interval.Range) (interval.Range, error) { return moisture.Content(x[0], x[1]) }, []int{1, -1}, 0},
}

const tries = 2000

// chance deals measurements.
type chance struct{ *rand.Rand }

func deal() chance { return chance{rand.New(rand.NewPCG(30, 14))} }

func (c chance) between(r interval.Range) float64 { return r.Lo + c.Float64()*(r.Hi-r.Lo) }

// within is a range inside r; one in four is exact, and an end of r is an end of one in three.
func (c chance) within(r interval.Range) interval.Range {
	a, b := c.between(r), c.between(r)
	switch c.IntN(12) {
	case 0, 1, 2:
		return interval.Exact(a)
	case 3, 4:
		a = r.Lo
	case 5, 6:
		b = r.Hi
	}
	return interval.Range{Lo: min(a, b), Hi: max(a, b)}
}

func (c chance) all(in []interval.Range) []interval.Range {
	var out []interval.Range
	for _, r := range in {
		out = append(out, c.within(r))
	}
	return out
}

// near allows for floating point.
func near(v float64) float64 { return 1e-9 * (1 + math.Abs(v)) }

func TestACloserMeasurementNeverContradictsAWiderOne(t *testing.T) {
	c := deal()
	for _, calc := range calculations {
		for range tries {
			wide := c.all(calc.bounds)
			narrow := c.all(wide)
			outer, err := calc.of(wide)
			require.NoError(t, err, calc.name)
			inner, err := calc.of(narrow)
			require.NoError(t, err, calc.name)
			require.True(t, outer.Valid() && inner.Valid(), "%s of %v", calc.name, wide)
			if inner.Lo < outer.Lo-near(outer.Lo) || inner.Hi > outer.Hi+near(outer.Hi) {
				t.Fatalf("%s of %v is %v; of %v inside it, %v", calc.name, wide, outer, narrow, inner)
			}
		}
	}
}

// The hull is no wider than the points in it make it: a grid of exact inputs reaches both ends.
func TestTheAnswerIsNoWiderThanTheInputsAllow(t *testing.T) {
	c := deal()
	for _, calc := range calculations {
		if calc.points == 0 {
			continue
		}
		for range 40 {
			box := c.all(calc.bounds)
			hull, err := calc.of(box)
			require.NoError(t, err, calc.name)
			seen := interval.Range{Lo: math.Inf(1), Hi: math.Inf(-1)}
			var walk func(x []interval.Range)
			walk = func(x []interval.Range) {
				if len(x) == len(box) {
					v, err := calc.of(x)
					require.NoError(t, err, calc.name)
					seen.Lo, seen.Hi = min(seen.Lo, v.Lo), max(seen.Hi, v.Hi)
					return
				}
				r := box[len(x)]
				for i := range calc.points {
					// Both ends exactly, whatever rounding does between them.
					at := r.Lo + (r.Hi-r.Lo)*float64(i)/float64(calc.points-1)
					walk(append(x[:len(x):len(x)], interval.Exact(min(at, r.Hi))))
				}
			}
			walk(nil)
			slack := near(hull.Lo) + near(hull.Hi)
			if calc.points > 2 {
				slack = 2e-3
			}
			assert.InDelta(t, hull.Lo, seen.Lo, slack, "%s of %v", calc.name, box)
			assert.InDelta(t, hull.Hi, seen.Hi, slack, "%s of %v", calc.name, box)
		}
	}
}

func TestAnswersRiseAndFallAsPhysicsHasIt(t *testing.T) {
	c := deal()
	for _, calc := range calculations {
		for i, way := range calc.rises {
			if way == 0 {
				continue
			}
			for range tries / 4 {
				var low, high []interval.Range
				for j, r := range calc.bounds {
					a, b := c.between(r), c.between(r)
					low, high = append(low, interval.Exact(a)), append(high, interval.Exact(a))
					if i == j {
						low[j], high[j] = interval.Exact(min(a, b)), interval.Exact(max(a, b))
					}
				}
				a, err := calc.of(low)
				require.NoError(t, err, calc.name)
				b, err := calc.of(high)
				require.NoError(t, err, calc.name)
				if way < 0 {
					a, b = b, a
				}
				assert.LessOrEqual(t, a.Lo, b.Lo+near(b.Lo), "%s, input %d, %v and %v", calc.name, i, low, high)
			}
		}
	}
}

func TestEveryInputHasItsLimits(t *testing.T) {
	for _, calc := range calculations {
		for i, r := range calc.bounds {
			for _, bad := range []interval.Range{
				{Lo: r.Lo - 200, Hi: r.Hi}, {Lo: r.Lo, Hi: r.Hi + 5000}, {Lo: r.Hi, Hi: r.Lo}, interval.Exact(math.NaN()), {Lo: r.Lo, Hi: math.Inf(1)},
			} {
				x := append([]interval.Range(nil), calc.bounds...)
				x[i] = bad
				got, err := calc.of(x)
				assert.ErrorContains(t, err, "expected between", "%s, input %d, %v", calc.name, i, bad)
				assert.Zero(t, got, "%s, input %d, %v", calc.name, i, bad)
			}
		}
	}
}
