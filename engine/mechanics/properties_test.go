package mechanics_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/mechanics"
	"mendwright/rules/interval"
)

func exact(v float64) interval.Range      { return interval.Exact(v) }
func between(a, b float64) interval.Range { return interval.Range{Lo: a, Hi: b} }

// calculation is a function of ranges with the bounds its inputs are drawn from.
type calculation struct {
	name   string
	bounds []interval.Range
	of     func(x []interval.Range) (interval.Range, error)
	// rises says for each input whether the answer rises (1), falls (-1) or does neither (0) with it.
	rises []int
	// points is how many values of each input find the hull's ends to within a thousandth of its
	// size; 2 finds them exactly, in corners; 0 where the answer is wider than a point even for
	// exact inputs.
	points int
}

func shelf(ends mechanics.Ends, x []interval.Range) (mechanics.Beam, mechanics.Load) {
	return mechanics.Beam{Span: x[0], Width: x[1], Thickness: x[2], Stiffness: x[3], Ends: ends},
		mechanics.Load{PerMetre: x[4], Centre: x[5]}
}

func shelves() []interval.Range {
	return []interval.Range{between(100, 3000), between(20, 900), between(5, 60), between(1, 20), between(1, 2000), between(0, 2000)}
}

func withdrawals() []calculation {
	var out []calculation
	for f := mechanics.WoodScrew; f <= mechanics.NailOnOvendry; f++ {
		name := f.String()
		metric := []interval.Range{between(0.1, 1.3), between(0.5, 30), between(0, 300)}
		inch := []interval.Range{between(0.1, 1.3), between(0.02, 1.2), between(0, 12)}
		out = append(out,
			calculation{"Ultimate " + name, metric, func(x []interval.Range) (interval.Range, error) { return mechanics.Ultimate(f, x[0], x[1], x[2]) }, []int{1, 1, 1}, 2},
			calculation{"Allowable " + name, metric, func(x []interval.Range) (interval.Range, error) { return mechanics.Allowable(f, x[0], x[1], x[2]) }, []int{1, 1, 1}, 2},
			calculation{"UltimateInch " + name, inch, func(x []interval.Range) (interval.Range, error) { return mechanics.UltimateInch(f, x[0], x[1], x[2]) }, []int{1, 1, 1}, 2},
			calculation{"AllowableInch " + name, inch, func(x []interval.Range) (interval.Range, error) { return mechanics.AllowableInch(f, x[0], x[1], x[2]) }, []int{1, 1, 1}, 2},
		)
	}
	return out
}

func bending() []calculation {
	var out []calculation
	for ends, name := range []string{mechanics.Resting: "resting", mechanics.Fixed: "fixed"} {
		ends := mechanics.Ends(ends)
		out = append(out,
			calculation{"Sag " + name, shelves(), func(x []interval.Range) (interval.Range, error) { b, l := shelf(ends, x); return b.Sag(l) }, []int{1, -1, -1, -1, 1, 1}, 2},
			calculation{"SpanOverSag " + name, shelves(), func(x []interval.Range) (interval.Range, error) { b, l := shelf(ends, x); return b.SpanOverSag(l) }, []int{-1, 1, 1, 1, -1, -1}, 2},
			calculation{"Stress " + name, shelves(), func(x []interval.Range) (interval.Range, error) { b, l := shelf(ends, x); return b.Stress(l) }, []int{1, -1, -1, 0, 1, 1}, 2},
			calculation{"LongestSpan " + name, shelves()[1:5], func(x []interval.Range) (interval.Range, error) {
				return mechanics.Beam{Width: x[0], Thickness: x[1], Stiffness: x[2], Ends: ends}.LongestSpan(x[3], 400)
			}, []int{1, 1, 1, -1}, 2},
		)
	}
	return out
}

// part makes a part of three ranges.
func part(x []interval.Range) mechanics.Part {
	return mechanics.Part{Mass: x[0], Behind: x[1], Height: x[2]}
}

func others() []calculation {
	thick := []interval.Range{between(0.1, 300), between(0.1, 300)}
	tilt := []interval.Range{between(0, 40), between(-400, 400), between(0, 1500), between(0, 40), between(-400, 400), between(0, 1500), between(0, 45)}
	return []calculation{
		{"EndGrain lag", []interval.Range{between(0, 1e6)}, func(x []interval.Range) (interval.Range, error) { return mechanics.EndGrain(mechanics.LagScrew, x[0]) }, []int{1}, 2},
		{"EndGrain screw", []interval.Range{between(0, 1e6)}, func(x []interval.Range) (interval.Range, error) { return mechanics.EndGrain(mechanics.WoodScrew, x[0]) }, []int{1}, 0},
		{"PanelEdge", []interval.Range{between(0, 1e6)}, func(x []interval.Range) (interval.Range, error) { return mechanics.PanelEdge(x[0]) }, []int{1}, 0},
		{"Working", []interval.Range{between(0, 1e6)}, func(x []interval.Range) (interval.Range, error) { return mechanics.Working(x[0], true) }, []int{1}, 2},
		{"SecondMoment", []interval.Range{between(1, 3000), between(0.1, 300)}, func(x []interval.Range) (interval.Range, error) { return mechanics.SecondMoment(x[0], x[1]) }, []int{1, 1}, 2},
		{"Creep", []interval.Range{between(0, 1000)}, func(x []interval.Range) (interval.Range, error) {
			c, err := mechanics.Creep(x[0], mechanics.Seasoned)
			return c.Usual, err
		}, []int{1}, 2},
		{"Creep, set", []interval.Range{between(0, 1000)}, func(x []interval.Range) (interval.Range, error) {
			c, err := mechanics.Creep(x[0], mechanics.Particleboard)
			return c.Set, err
		}, []int{1}, 0},
		{"StiffnessKept", thick, func(x []interval.Range) (interval.Range, error) { return mechanics.StiffnessKept(x[0], x[1]) }, []int{-1, 1}, 2},
		{"StrengthKept", thick, func(x []interval.Range) (interval.Range, error) { return mechanics.StrengthKept(x[0], x[1]) }, []int{-1, 1}, 2},
		{"WorkingStress", []interval.Range{between(0, 400)}, func(x []interval.Range) (interval.Range, error) {
			return mechanics.WorkingStress(x[0], mechanics.StoodOn)
		}, []int{1}, 2},
		{"CupAfterRip", []interval.Range{between(0, 100), between(0.01, 1)}, func(x []interval.Range) (interval.Range, error) { return mechanics.CupAfterRip(x[0], x[1]) }, []int{1, 1}, 2},
		{"ClampForce", []interval.Range{between(1, 10000), between(1, 1000), between(1, 3000)}, func(x []interval.Range) (interval.Range, error) { return mechanics.ClampForce(x[0], x[1], x[2]) }, []int{1, 1, 1}, 2},
		{"Clamps", []interval.Range{between(0, 1e5), between(10, 1e5)}, func(x []interval.Range) (interval.Range, error) { return mechanics.Clamps(x[0], x[1]) }, []int{1, -1}, 2},
		{"DowelPull", []interval.Range{between(1, 50), between(1, 300), between(0.1, 30)}, func(x []interval.Range) (interval.Range, error) { return mechanics.DowelPull(x[0], x[1], x[2]) }, []int{1, 1, 1}, 2},
		{"ScarfLength", []interval.Range{between(0.1, 300), between(8, 20)}, func(x []interval.Range) (interval.Range, error) { return mechanics.ScarfLength(x[0], x[1]) }, []int{1, 1}, 2},
		{"Balance of two", tilt, func(x []interval.Range) (interval.Range, error) {
			return mechanics.Balance([]mechanics.Part{part(x[0:3]), part(x[3:6])}, x[6])
		}, []int{0, 1, -1, 0, 1, -1, 0}, 0},
		{"Tilted", []interval.Range{between(-5000, 5000), between(0, 5000), between(0, 45)}, func(x []interval.Range) (interval.Range, error) { return mechanics.Tilted(x[0], x[1], x[2]) }, []int{1, -1, 0}, 20},
		{"Restraint", []interval.Range{between(-1e6, 1e6), between(100, 5000)}, func(x []interval.Range) (interval.Range, error) { return mechanics.Restraint(x[0], x[1]) }, []int{-1, -1}, 2},
		{"Density", []interval.Range{between(0.1, 1.3), between(0, 30)}, func(x []interval.Range) (interval.Range, error) { return mechanics.Density(x[0], x[1]) }, []int{1, 1}, 2},
		{"Mass", []interval.Range{between(1, 10000), between(1, 10000), between(0.1, 300), between(50, 1500)}, func(x []interval.Range) (interval.Range, error) { return mechanics.Mass(x[0], x[1], x[2], x[3]) }, []int{1, 1, 1, 1}, 2},
		{"Usable", []interval.Range{between(0.05, 20), between(0.05, 20), between(0, 1)}, func(x []interval.Range) (interval.Range, error) {
			return mechanics.Usable(x[:2], x[2], 0.1, false)
		}, []int{1, 1, -1}, 2},
		{"Reach", []interval.Range{between(0, 200), between(0, 250)}, func(x []interval.Range) (interval.Range, error) { return mechanics.Reach(x[0], x[1]) }, []int{1, -1}, 2},
		{"Team", []interval.Range{between(0, 100), between(0, 100), between(0, 100)}, func(x []interval.Range) (interval.Range, error) { return mechanics.Team(x...) }, []int{1, 1, 1}, 2},
		{"Limit", []interval.Range{between(1, 80), between(0, 200), between(0, 200), between(0, 150), between(0, 17)}, func(x []interval.Range) (interval.Range, error) {
			l, err := bench().Limit(mechanics.Lift{Reach: x[0], Height: x[1], Travel: x[2], Turn: x[3], PerMinute: x[4], Spell: mechanics.UpToOneHour, Grip: mechanics.Fair})
			return l.Mass, err
		}, []int{-1, 0, -1, -1, -1}, 0},
	}
}

func calculations() []calculation { return append(append(withdrawals(), bending()...), others()...) }

const tries = 1000

// chance deals measurements.
type chance struct{ *rand.Rand }

func deal() chance { return chance{rand.New(rand.NewPCG(23, 75))} }

func (c chance) between(r interval.Range) float64 { return r.Lo + c.Float64()*(r.Hi-r.Lo) }

// within is a range inside r; one in four is exact, and an end of r is an end of one in three.
func (c chance) within(r interval.Range) interval.Range {
	a, b := c.between(r), c.between(r)
	switch c.IntN(12) {
	case 0, 1, 2:
		return exact(a)
	case 3, 4:
		a = r.Lo
	case 5, 6:
		b = r.Hi
	}
	return between(min(a, b), max(a, b))
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
	for _, calc := range calculations() {
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
	for _, calc := range calculations() {
		if calc.points == 0 {
			continue
		}
		for range 20 {
			box := c.all(calc.bounds)
			hull, err := calc.of(box)
			require.NoError(t, err, calc.name)
			seen := grid(t, calc, box)
			slack := near(hull.Lo) + near(hull.Hi)
			if calc.points > 2 {
				slack += 1e-3 * (math.Abs(hull.Lo) + math.Abs(hull.Hi))
			}
			assert.InDelta(t, hull.Lo, seen.Lo, slack, "%s of %v", calc.name, box)
			assert.InDelta(t, hull.Hi, seen.Hi, slack, "%s of %v", calc.name, box)
		}
	}
}

// grid is the hull of a calculation over exact inputs spread evenly over a box.
func grid(t *testing.T, calc calculation, box []interval.Range) interval.Range {
	seen := between(math.Inf(1), math.Inf(-1))
	var walk func(x []interval.Range)
	walk = func(x []interval.Range) {
		if len(x) == len(box) {
			v, err := calc.of(x)
			require.NoError(t, err, calc.name)
			seen = between(min(seen.Lo, v.Lo), max(seen.Hi, v.Hi))
			return
		}
		r := box[len(x)]
		for i := range calc.points {
			at := min(r.Hi, r.Lo+(r.Hi-r.Lo)*float64(i)/float64(calc.points-1))
			walk(append(x[:len(x):len(x)], exact(at)))
		}
	}
	walk(nil)
	return seen
}

func TestAnswersRiseAndFallAsPhysicsHasIt(t *testing.T) {
	c := deal()
	for _, calc := range calculations() {
		for i, way := range calc.rises {
			if way == 0 {
				continue
			}
			for range tries / 10 {
				var low, high []interval.Range
				for j, r := range calc.bounds {
					a, b := c.between(r), c.between(r)
					low, high = append(low, exact(a)), append(high, exact(a))
					if i == j {
						low[j], high[j] = exact(min(a, b)), exact(max(a, b))
					}
				}
				a, err := calc.of(low)
				require.NoError(t, err, calc.name)
				b, err := calc.of(high)
				require.NoError(t, err, calc.name)
				if way < 0 {
					a, b = b, a
				}
				if a.Lo > b.Lo+near(b.Lo) {
					t.Fatalf("%s, input %d: %v and %v", calc.name, i, low, high)
				}
			}
		}
	}
}

func TestEveryInputHasItsLimits(t *testing.T) {
	for _, calc := range calculations() {
		for i, r := range calc.bounds {
			for _, bad := range []interval.Range{
				{Lo: -1e10, Hi: r.Hi}, {Lo: r.Lo, Hi: 1e10}, {Lo: r.Hi, Hi: r.Lo}, exact(math.NaN()), {Lo: r.Lo, Hi: math.Inf(1)},
			} {
				if calc.rises[i] == 0 && i == 3 && len(calc.bounds) == 6 {
					continue // the stress reads no stiffness
				}
				x := append([]interval.Range(nil), calc.bounds...)
				x[i] = bad
				got, err := calc.of(x)
				assert.ErrorContains(t, err, "expected between", "%s, input %d, %v", calc.name, i, bad)
				assert.Zero(t, got, "%s, input %d, %v", calc.name, i, bad)
			}
		}
	}
}
