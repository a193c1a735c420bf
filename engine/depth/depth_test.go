package depth_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/depth"
	"mendwright/rules/interval"
)

// grades of the bench, coarsest first; their figures are round and belong to no real abrasive.
var grades = []string{"60", "80", "100", "120", "150", "180", "240"}

func bench() depth.Tables {
	return depth.Tables{
		Clearances: []depth.Clearance{
			{Grit: "120", MM: 0.1, U: 0.02, Most: 0.25},
			{Grit: "80", MM: 0.2, U: 0.04, Most: 0.6},
			{Grit: "180", MM: 0.03, U: 0.004, Most: 0.1},
			{Grit: "100", MM: 0.15, U: 0.03, Most: 0.4},
			{Grit: "60", MM: 0.4, U: 0.07, Most: 0.9},
			{Grit: "150", MM: 0.05, U: 0.01, Most: 0.15},
		},
		Grains: map[string]float64{
			"P40": 420, "P60": 270, "P80": 200, "P100": 160, "P120": 125, "P150": 100, "P180": 80, "P240": 60, "P320": 45,
			"CAMI 120": 115, "CAMI 180": 80,
		},
		Tools: map[string]depth.Tool{
			"hand": {Factor: interval.Range{Lo: 0.6, Hi: 1}, Pass: interval.Range{Lo: 0.005, Hi: 0.015}},
			"belt": {Factor: interval.Exact(1), Pass: interval.Range{Lo: 0.1, Hi: 0.25}},
		},
	}
}

const tries = 10000

// chance deals layers, cuts and measurements.
type chance struct{ *rand.Rand }

func deal() chance { return chance{rand.New(rand.NewPCG(1805, 1850))} }

func (c chance) between(lo, hi float64) float64 { return lo + c.Float64()*(hi-lo) }

// measured is a range somewhere in 0 to most; one in four is exact.
func (c chance) measured(most float64) interval.Range {
	mid := c.between(0, most)
	if c.IntN(4) == 0 {
		return interval.Exact(mid)
	}
	half := min(c.between(0, most/4), mid)
	return interval.Around(mid, half)
}

// closer is a range inside r.
func (c chance) closer(r interval.Range) interval.Range {
	a, b := c.between(r.Lo, r.Hi), c.between(r.Lo, r.Hi)
	return interval.Range{Lo: max(min(a, b), r.Lo), Hi: min(max(a, b), r.Hi)}
}

func (c chance) layer() depth.Layer {
	l := depth.Layer{Thickness: c.measured(2), Keep: []float64{0, 0.3, 0.5}[c.IntN(3)]}
	if c.IntN(3) == 0 {
		l.Most = c.between(0.1, 1.5)
	}
	return l
}

func (c chance) cut() depth.Cut {
	var grits []string
	for _, g := range grades {
		if c.IntN(2) == 0 {
			grits = append(grits, g)
		}
	}
	if len(grits) == 0 {
		grits = []string{"120"}
	}
	return depth.Cut{Film: c.measured(0.15), Defect: c.measured(0.5), Grits: grits, Tool: []string{"hand", "belt"}[c.IntN(2)]}
}

func raised(r interval.Range, by float64) interval.Range {
	return interval.Range{Lo: r.Lo + by, Hi: r.Hi + by}
}

func take(t *testing.T, tables depth.Tables, c depth.Cut) depth.Take {
	t.Helper()
	took, err := tables.Take(c)
	require.NoError(t, err)
	return took
}

// A chance is reckoned by way of a quotient and a fitted function, so two that should be equal
// may differ in the last digits.
const lastDigits = 1e-12

func TestEveryGritButTheLastLeavesScratchesToTake(t *testing.T) {
	tables := bench()
	for _, c := range []struct {
		cut                     depth.Cut
		clearLo, clearHi, total float64 // total at its high end
	}{
		{depth.Cut{Grits: []string{"120"}, Tool: "belt"}, 0, 0, 0},
		{depth.Cut{Grits: []string{"120", "150", "180"}, Tool: "belt"}, 0.15, 0.15, 0.15},
		{depth.Cut{Grits: []string{"120", "150", "180"}, Tool: "hand"}, 0.09, 0.15, 0.15},
		{depth.Cut{Grits: []string{"80", "120", "180"}, Tool: "belt", Defect: interval.Exact(0.3)}, 0.3, 0.3, 0.6},
		{depth.Cut{Grits: []string{"120", "150"}, Tool: "belt", Film: interval.Around(0.1, 0.02), Defect: interval.Exact(0.2)}, 0.1, 0.1, 0.42},
	} {
		got := take(t, tables, c.cut)
		name := fmt.Sprint(c.cut)
		assert.InDelta(t, c.clearLo, got.Clearances.Lo, 1e-12, name)
		assert.InDelta(t, c.clearHi, got.Clearances.Hi, 1e-12, name)
		assert.InDelta(t, c.total, got.Total.Hi, 1e-12, name)
		assert.Equal(t, c.cut.Film, got.Film, name)
		assert.Equal(t, c.cut.Defect, got.Defect, name)
	}
}

func TestAGritWithoutItsOwnFigureTakesThatOfTheNextCoarser(t *testing.T) {
	tables := bench()
	clearance := func(grits ...string) float64 {
		return take(t, tables, depth.Cut{Grits: grits, Tool: "belt"}).Clearances.Hi
	}
	assert.InDelta(t, 0.03, clearance("180", "240"), 1e-12)
	assert.InDelta(t, 0.06, clearance("180", "240", "320"), 1e-12, "240 counts as 180")
	assert.InDelta(t, 0.1, clearance("CAMI 120", "240"), 1e-12, "115 µm lies between 100 and 125")
	assert.InDelta(t, 0.03, clearance("CAMI 180", "240"), 1e-12)
	_, err := tables.Take(depth.Cut{Grits: []string{"40", "60"}, Tool: "belt"})
	assert.ErrorContains(t, err, "40", "no row is as coarse")
}

func TestAThickerLayerIsNeverWorse(t *testing.T) {
	tables, c := bench(), deal()
	for range tries {
		thin := c.layer()
		thick := thin
		thick.Thickness = raised(thin.Thickness, c.between(0, 0.5))
		cut := take(t, tables, c.cut())
		was, is := depth.Check(thin, cut), depth.Check(thick, cut)
		assert.LessOrEqual(t, is.Chances.Lo, was.Chances.Lo+lastDigits)
		assert.LessOrEqual(t, is.Chances.Hi, was.Chances.Hi+lastDigits)
		assert.GreaterOrEqual(t, is.Left.Lo, was.Left.Lo)
		assert.GreaterOrEqual(t, is.Margin.Lo, was.Margin.Lo)
		assert.LessOrEqual(t, is.Chance, was.Chance+lastDigits, "%v on %v and %v", cut, thin, thick)
		p := c.between(0.001, 0.4)
		if thin.Most == 0 {
			assert.GreaterOrEqual(t, depth.Deepest(thick, cut, p), depth.Deepest(thin, cut, p)-lastDigits)
		}
		if t.Failed() {
			return
		}
	}
}

func TestADeeperMarkAThickerFilmOrACoarserStartNeverTakesLess(t *testing.T) {
	tables, c := bench(), deal()
	noLess := func(was, is depth.Cut) {
		t.Helper()
		a, b := take(t, tables, was).Total, take(t, tables, is).Total
		assert.GreaterOrEqual(t, b.Lo, a.Lo-lastDigits, "%v and then %v", was, is)
		assert.GreaterOrEqual(t, b.Hi, a.Hi-lastDigits, "%v and then %v", was, is)
	}
	for range tries {
		cut := c.cut()
		deeper, thicker, longer, coarser := cut, cut, cut, cut
		deeper.Defect = raised(cut.Defect, c.between(0, 0.3))
		noLess(cut, deeper)
		thicker.Film = raised(cut.Film, c.between(0, 0.1))
		noLess(cut, thicker)
		first := slices.Index(grades, cut.Grits[0])
		if first > 0 {
			other := grades[c.IntN(first)]
			coarser.Grits = append([]string{other}, cut.Grits[1:]...)
			noLess(cut, coarser)
			longer.Grits = append([]string{other}, cut.Grits...)
			noLess(cut, longer)
		}
		if t.Failed() {
			return
		}
	}
}

func TestACloserMeasurementNeverContradictsAVerdict(t *testing.T) {
	loose, c := bench(), deal()
	var known [4]int
	for range tries {
		l, cut := c.layer(), c.cut()
		closeLayer, closeCut := l, cut
		closeLayer.Thickness = c.closer(l.Thickness)
		closeCut.Film, closeCut.Defect = c.closer(cut.Film), c.closer(cut.Defect)
		tight := bench()
		tool := tight.Tools[cut.Tool]
		tool.Factor = c.closer(tool.Factor)
		tight.Tools[cut.Tool] = tool

		wide, narrow := depth.Check(l, take(t, loose, cut)), depth.Check(closeLayer, take(t, tight, closeCut))
		assert.True(t, narrow.Take.Clearances.Within(wide.Take.Clearances))
		assert.True(t, narrow.Take.Total.Within(wide.Take.Total))
		assert.True(t, narrow.Left.Within(wide.Left))
		assert.True(t, narrow.Margin.Within(wide.Margin))
		assert.GreaterOrEqual(t, narrow.Chances.Lo, wide.Chances.Lo-lastDigits)
		assert.LessOrEqual(t, narrow.Chances.Hi, wide.Chances.Hi+lastDigits)
		if wide.Verdict != depth.Unknown {
			assert.Equal(t, wide.Verdict, narrow.Verdict)
		}
		known[wide.Verdict]++
		if t.Failed() {
			t.Logf("%+v on %+v, then %+v on %+v", cut, l, closeCut, closeLayer)
			return
		}
	}
	for _, v := range []depth.Verdict{depth.Unknown, depth.Clear, depth.Tight, depth.Through} {
		assert.Greater(t, known[v], tries/1000, "too few cuts were %v", v)
	}
}

func TestEveryRangeIsInOrder(t *testing.T) {
	tables, c := bench(), deal()
	for range tries {
		r := depth.Check(c.layer(), take(t, tables, c.cut()))
		for _, x := range []interval.Range{r.Take.Total, r.Left, r.Margin, r.Chances} {
			require.True(t, x.Valid(), "%+v", r)
		}
		require.True(t, r.Chances.Within(interval.Range{Lo: 0, Hi: 1}))
		require.True(t, 0 <= r.Chance && r.Chance <= 1)
	}
}

func TestTheDeepestMarkIsClearedAtItsProbability(t *testing.T) {
	tables, c := bench(), deal()
	var some, none int
	for range tries {
		l, cut, p := c.layer(), c.cut(), c.between(0.001, 0.45)
		deepest := depth.Deepest(l, take(t, tables, cut), p)
		// The chance at the worst end of what was measured, with a mark of exactly that depth.
		worst := func(mark float64) float64 {
			marked := cut
			marked.Defect = interval.Exact(mark)
			return depth.Check(l, take(t, tables, marked)).Chances.Hi
		}
		if deepest == 0 {
			none++
			require.GreaterOrEqual(t, worst(0.0021), p, "a mark of two micrometres is too much already: %+v on %+v", cut, l)
			continue
		}
		some++
		require.Less(t, worst(deepest), p, "%+v on %+v", cut, l)
		require.GreaterOrEqual(t, worst(deepest+0.0021), p, "two micrometres more are too much: %+v on %+v", cut, l)
	}
	assert.Greater(t, some, tries/10)
	assert.Greater(t, none, tries/10)
}

func TestTheMarkBeingSandedDoesNotChangeTheDeepest(t *testing.T) {
	tables, c := bench(), deal()
	for range 100 {
		l, cut := c.layer(), c.cut()
		other := cut
		other.Defect = c.measured(0.5)
		require.Equal(t, depth.Deepest(l, take(t, tables, cut), 0.01), depth.Deepest(l, take(t, tables, other), 0.01))
	}
}

// The edges are where MIL-STD-882D, appendix A, parts frequent from probable (0.1) and probable
// from occasional (0.01); one-sided, 1.2816 and 2.3263 standard uncertainties.
func TestTheVerdictFollowsTheChance(t *testing.T) {
	tables := bench()
	// Grit 120 before 150 leaves scratches of 0.1 mm with a standard uncertainty of 0.02 mm.
	cut := take(t, tables, depth.Cut{Grits: []string{"120", "150"}, Tool: "belt"})
	for _, c := range []struct {
		margin float64 // in standard uncertainties
		want   depth.Verdict
	}{{3, depth.Clear}, {2.33, depth.Clear}, {2.32, depth.Tight}, {1.29, depth.Tight}, {1.28, depth.Through}, {0, depth.Through}, {-2, depth.Through}} {
		l := depth.Layer{Thickness: interval.Exact(0.6 + c.margin*0.02), Keep: 0.5}
		r := depth.Check(l, cut)
		assert.Equal(t, c.want, r.Verdict, "margin of %v", c.margin)
		assert.InDelta(t, depth.Phi(-c.margin), r.Chance, 1e-9, "margin of %v", c.margin)
		assert.InDelta(t, 0.02, r.Std, 1e-12)
	}
	// Measured to half a millimetre the same layer allows all of them.
	assert.Equal(t, depth.Unknown, depth.Check(depth.Layer{Thickness: interval.Around(0.65, 0.5), Keep: 0.5}, cut).Verdict)
}

func TestWhatIsMeasuredAndWhatScattersAddUpInSquares(t *testing.T) {
	cut := take(t, bench(), depth.Cut{Grits: []string{"120", "150"}, Tool: "belt",
		Film: interval.Around(0.1, 0.03), Defect: interval.Around(0.2, 0.06)})
	r := depth.Check(depth.Layer{Thickness: interval.Around(1, 0.09), Keep: 0.5}, cut)
	assert.InDelta(t, math.Sqrt((0.03*0.03+0.06*0.06+0.09*0.09)/3+0.02*0.02), r.Std, 1e-12)
	assert.InDelta(t, 0.1, r.Margin.Mid(), 1e-12)
	assert.InDelta(t, 0.6, r.Left.Mid(), 1e-12)
}

func TestALayerCanLoseWhatIsOverItsKeepLineAndNoMoreThanItsMost(t *testing.T) {
	thick := interval.Range{Lo: 1, Hi: 3}
	for _, c := range []struct {
		layer  depth.Layer
		lo, hi float64
	}{
		{depth.Layer{Thickness: thick}, 1, 3},
		{depth.Layer{Thickness: thick, Keep: 0.5}, 0.5, 2.5},
		{depth.Layer{Thickness: thick, Keep: 0.5, Most: 1.5}, 0.5, 1.5},
		{depth.Layer{Thickness: thick, Keep: 0.5, Most: 0.25}, 0.25, 0.25},
		{depth.Layer{Thickness: thick, Keep: 2}, -1, 1},
	} {
		assert.Equal(t, interval.Range{Lo: c.lo, Hi: c.hi}, c.layer.Allowance(), "%+v", c.layer)
	}
}

func TestWhatTheTablesDoNotHoldIsAnError(t *testing.T) {
	tables := bench()
	for _, c := range []struct {
		name, says string
		cut        depth.Cut
	}{
		{"out of order", "from coarse to fine", depth.Cut{Grits: []string{"150", "120"}, Tool: "hand"}},
		{"out of order later on", "120 comes after 180", depth.Cut{Grits: []string{"80", "180", "120"}, Tool: "hand"}},
		{"out of order across scales", "from coarse to fine", depth.Cut{Grits: []string{"CAMI 120", "P120"}, Tool: "hand"}},
		{"unknown first grit", `"130"`, depth.Cut{Grits: []string{"130", "150"}, Tool: "hand"}},
		{"unknown last grit", `"very fine"`, depth.Cut{Grits: []string{"120", "very fine"}, Tool: "hand"}},
		{"unknown CAMI grade", `"CAMI 150"`, depth.Cut{Grits: []string{"CAMI 150"}, Tool: "hand"}},
		{"no grit", "at least one grit", depth.Cut{Tool: "hand"}},
		{"a blank for a grit", `""`, depth.Cut{Grits: []string{""}, Tool: "hand"}},
		{"unknown tool", `"chisel"`, depth.Cut{Grits: []string{"120"}, Tool: "chisel"}},
		{"no tool", "tool", depth.Cut{Grits: []string{"120"}}},
	} {
		_, err := tables.Take(c.cut)
		assert.ErrorContains(t, err, c.says, c.name)
	}
}

func TestAGradeIsKnownHoweverItIsWritten(t *testing.T) {
	tables := bench()
	for text, size := range map[string]float64{"120": 125, "P120": 125, "p120": 125, " P 120 ": 125,
		"CAMI 120": 115, "cami 120": 115, "CAMI120": 115, "Cami  120": 115} {
		got, err := tables.Grain(text)
		assert.NoError(t, err, text)
		assert.Equal(t, size, got, text)
	}
}

func TestHowFarApartGritsAre(t *testing.T) {
	tables := bench()
	for _, c := range []struct {
		grits []string
		jumps []depth.Jump
		worst depth.Jump
	}{
		{[]string{"120"}, nil, depth.Close},
		{[]string{"120", "150"}, []depth.Jump{depth.Close}, depth.Close},                                                // 1.25
		{[]string{"60", "80", "100"}, []depth.Jump{depth.Close, depth.Close}, depth.Close},                              // 1.35 and 1.25
		{[]string{"80", "120", "150"}, []depth.Jump{depth.OneSkipped, depth.Close}, depth.OneSkipped},                   // 1.6
		{[]string{"60", "120", "180"}, []depth.Jump{depth.TooBig, depth.OneSkipped}, depth.TooBig},                      // 2.16 and 1.56
		{[]string{"80", "100", "180"}, []depth.Jump{depth.Close, depth.TooBig}, depth.TooBig},                           // 1.25 and 2
		{[]string{"100", "120", "CAMI 180"}, []depth.Jump{depth.Close, depth.OneSkipped}, depth.OneSkipped},             // 1.28 and 1.56
		{[]string{"60", "100", "150", "240"}, []depth.Jump{depth.TooBig, depth.OneSkipped, depth.TooBig}, depth.TooBig}, // 1.69, 1.6, 1.67
	} {
		steps, err := tables.Steps(c.grits)
		require.NoError(t, err)
		var jumps []depth.Jump
		for i, s := range steps {
			jumps = append(jumps, s.Jump)
			assert.Equal(t, c.grits[i], s.From)
			assert.Equal(t, c.grits[i+1], s.To)
			from, _ := tables.Grain(s.From)
			to, _ := tables.Grain(s.To)
			assert.InDelta(t, from/to, s.Ratio, 1e-12)
		}
		assert.Equal(t, c.jumps, jumps, "%v", c.grits)
		assert.Equal(t, c.worst, depth.Widest(steps), "%v", c.grits)
	}
	for size, want := range map[float64]depth.Jump{134: depth.Close, 136: depth.OneSkipped, 164: depth.OneSkipped, 166: depth.TooBig} {
		two := depth.Tables{Grains: map[string]float64{"P100": size, "P150": 100}}
		steps, err := two.Steps([]string{"100", "150"})
		require.NoError(t, err)
		assert.Equal(t, want, depth.Widest(steps), "%v over 100", size)
	}
	_, err := tables.Steps(nil)
	assert.Error(t, err)
	_, err = tables.Steps([]string{"120", "130"})
	assert.Error(t, err)
}

func TestOneGoTakesTheMostOfTheFirstGritAndTheScratchesOfTheRest(t *testing.T) {
	tables := bench()
	for _, c := range []struct {
		grits []string
		want  float64
	}{
		{[]string{"120"}, 0.25},
		{[]string{"120", "150", "180"}, 0.25 + 0.1 + 0.05},
		{[]string{"80", "120", "180"}, 0.6 + 0.2 + 0.1},
		{[]string{"60", "80", "100", "120"}, 0.9 + 0.4 + 0.2 + 0.15},
	} {
		got, err := tables.Capacity(c.grits)
		require.NoError(t, err)
		assert.InDelta(t, c.want, got, 1e-12, "%v", c.grits)
	}
	for _, grits := range [][]string{nil, {"130"}, {"120", "130"}, {"40"}, {"40", "60"}} {
		_, err := tables.Capacity(grits)
		assert.Error(t, err, "%v", grits)
	}
}

func TestPassesBeforeMeasuringSpendNoMoreThanHalfTheMargin(t *testing.T) {
	tables := bench()
	for _, c := range []struct {
		margin      float64
		tool, grit  string
		want        int
		description string
	}{
		{0.3, "hand", "120", 10, "ten of 0.015 mm"},
		{0.35, "hand", "120", 11, "a part of a pass does not count"},
		{0.3, "hand", "80", 6, "grit 80 cuts 200/125 as deep"},
		{0.3, "hand", "180", 15, "grit 180 cuts 80/125 as deep"},
		{1.6, "belt", "120", 3, "three of 0.25 mm"},
		{0, "belt", "120", 0, "nothing to spend"},
		{-0.1, "hand", "180", 0, "nothing to spend"},
	} {
		layer := depth.Layer{Thickness: interval.Exact(0.5 + c.margin + 1e-9), Keep: 0.5}
		if c.margin <= 0 {
			layer.Thickness = interval.Exact(0.5 + c.margin)
		}
		r := depth.Check(layer, take(t, tables, depth.Cut{Grits: []string{c.grit}, Tool: c.tool}))
		got, err := tables.PassesToMeasure(r, c.tool, c.grit)
		require.NoError(t, err)
		assert.Equal(t, c.want, got, "%v: %s", c, c.description)
	}
	_, err := tables.PassesToMeasure(depth.Result{}, "hand", "130")
	assert.Error(t, err)
}

func TestABlendReachesOutOnBothSidesOfTheMark(t *testing.T) {
	assert.InDelta(t, 70, depth.FeatherWidth(10, 0.3, 100), 1e-9)
	assert.InDelta(t, 250, depth.FeatherWidth(10, 0.3, 400), 1e-9)
}

// The slopes of a hollow are those of its drawn profile.
func TestADishIsNowhereSteeperThanItsSlope(t *testing.T) {
	const deep, wide, step = 0.3, 100.0, 0.001
	profile := func(x float64) float64 { return deep / 2 * (1 + math.Cos(2*math.Pi*x/wide)) }
	steepest := 0.0
	for x := -wide / 2; x < wide/2; x += step {
		steepest = max(steepest, math.Abs(profile(x+step)-profile(x))/step)
	}
	assert.InDelta(t, depth.DishSlope(deep, wide), steepest, 1e-8)
}

// A ball of the dish's radius holds the dish, and its slices add up to the dish's volume.
func TestADishIsACapOfItsBall(t *testing.T) {
	const deep, wide, slabs = 0.5, 100.0, 200000
	r := depth.DishRadius(deep, wide)
	assert.InDelta(t, wide/2, math.Sqrt(r*r-(r-deep)*(r-deep)), 1e-9, "the rim lies on the ball")
	volume := 0.0
	for i := range slabs {
		h := deep * (float64(i) + 0.5) / slabs // up from the bottom
		volume += math.Pi * (r*r - (r-h)*(r-h)) * deep / slabs
	}
	assert.InDelta(t, volume, depth.DishVolume(deep, wide), 1e-4)
}
