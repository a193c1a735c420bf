package mechanics_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/mechanics"
	"mendwright/rules/interval"
)

// must is the answer of a call that cannot fail.
func must(t *testing.T) func(interval.Range, error) interval.Range {
	return func(r interval.Range, err error) interval.Range {
		t.Helper()
		require.NoError(t, err)
		return r
	}
}

func TestHowScrewsAndNailsHold(t *testing.T) {
	one := must(t)
	hold := func(f mechanics.Fastener, gravity, diameter, grip float64) float64 {
		return one(mechanics.Ultimate(f, exact(gravity), exact(diameter), exact(grip))).Mid()
	}
	for _, c := range []struct {
		says     string
		f        mechanics.Fastener
		from, to [3]float64 // gravity, diameter, grip
		times    float64
	}{
		{"twice the thread, twice the hold", mechanics.WoodScrew, [3]float64{0.5, 4, 20}, [3]float64{0.5, 4, 40}, 2},
		{"twice the diameter, twice the hold", mechanics.WoodScrew, [3]float64{0.5, 4, 20}, [3]float64{0.5, 8, 20}, 2},
		{"twice as dense, four times the hold of a screw", mechanics.WoodScrew, [3]float64{0.3, 4, 20}, [3]float64{0.6, 4, 20}, 4},
		{"of a nail nearly six times", mechanics.Nail, [3]float64{0.3, 4, 20}, [3]float64{0.6, 4, 20}, math.Pow(2, 2.5)},
		{"of a lag screw nearly three times", mechanics.LagScrew, [3]float64{0.3, 10, 40}, [3]float64{0.6, 10, 40}, math.Pow(2, 1.5)},
		{"a thicker lag screw gains less", mechanics.LagScrew, [3]float64{0.5, 6, 40}, [3]float64{0.5, 12, 40}, math.Pow(2, 0.75)},
	} {
		ratio := hold(c.f, c.to[0], c.to[1], c.to[2]) / hold(c.f, c.from[0], c.from[1], c.from[2])
		assert.InDelta(t, c.times, ratio, 1e-9, c.says)
	}
	screw, nail := hold(mechanics.WoodScrew, 0.5, 4, 20), hold(mechanics.Nail, 0.5, 4, 20)
	assert.Greater(t, screw, 2*nail, "a screw holds far better than a nail of its size")
	assert.InDelta(t, 1.1, hold(mechanics.TappingScrew, 0.5, 4, 20)/screw, 1e-12)
	for _, f := range []mechanics.Fastener{mechanics.WoodScrew, mechanics.TappingScrew, mechanics.LagScrew, mechanics.Nail, mechanics.NailOnOvendry} {
		ratio := hold(f, 0.5, 4, 20) / one(mechanics.Allowable(f, exact(0.5), exact(4), exact(20))).Mid()
		assert.True(t, 4.4 < ratio && ratio < 6.1, "%s breaks at %v times what is allowed", f, ratio)
	}
}

func TestInchesAndMillimetresAgree(t *testing.T) {
	one := must(t)
	for f := mechanics.WoodScrew; f <= mechanics.NailOnOvendry; f++ {
		for _, forms := range [][2]func(mechanics.Fastener, interval.Range, interval.Range, interval.Range) (interval.Range, error){
			{mechanics.Ultimate, mechanics.UltimateInch}, {mechanics.Allowable, mechanics.AllowableInch},
		} {
			metric := one(forms[0](f, exact(0.6), exact(5.08), exact(38.1)))
			inch := one(forms[1](f, exact(0.6), exact(0.2), exact(1.5)))
			assert.InEpsilon(t, inch.Lo*mechanics.PoundForce, metric.Lo, 1e-12, "%s", f)
		}
	}
}

func TestEndGrainAndPanelsHoldLess(t *testing.T) {
	one := must(t)
	assert.Equal(t, between(750, 1500), one(mechanics.EndGrain(mechanics.LagScrew, between(1000, 2000))))
	assert.Equal(t, between(500, 750), one(mechanics.EndGrain(mechanics.WoodScrew, exact(1000))), "the sources differ")
	assert.Equal(t, between(750, 800), one(mechanics.PanelEdge(exact(1000))))
	for _, f := range []mechanics.Fastener{mechanics.Nail, mechanics.NailOnOvendry} {
		_, err := mechanics.EndGrain(f, exact(1000))
		assert.ErrorContains(t, err, "no figure for nails")
	}
	for _, f := range []mechanics.Fastener{-1, 99} {
		_, err := mechanics.EndGrain(f, exact(1000))
		assert.ErrorContains(t, err, "fastener")
		_, err = mechanics.Ultimate(f, exact(0.5), exact(4), exact(20))
		assert.ErrorContains(t, err, "fastener")
		_, err = mechanics.AllowableInch(f, exact(0.5), exact(0.2), exact(1))
		assert.ErrorContains(t, err, "fastener")
	}
	fresh, used := one(mechanics.Working(exact(5500), false)), one(mechanics.Working(exact(5500), true))
	assert.InDelta(t, 1000, fresh.Lo, 1e-9)
	assert.InDelta(t, 500, used.Lo, 1e-9)
}

func TestAShelf(t *testing.T) {
	one := must(t)
	shelf := mechanics.Beam{Span: exact(900), Width: exact(250), Thickness: exact(19), Stiffness: exact(10)}
	books := mechanics.Load{PerMetre: exact(300)}
	sag := one(shelf.Sag(books)).Lo
	for _, c := range []struct {
		says  string
		beam  func(b *mechanics.Beam)
		times float64
	}{
		{"twice the span, sixteen times the sag", func(b *mechanics.Beam) { b.Span = exact(1800) }, 16},
		{"twice the thickness, an eighth", func(b *mechanics.Beam) { b.Thickness = exact(38) }, 1.0 / 8},
		{"twice the width, half", func(b *mechanics.Beam) { b.Width = exact(500) }, 1.0 / 2},
		{"twice as stiff a wood, half", func(b *mechanics.Beam) { b.Stiffness = exact(20) }, 1.0 / 2},
		{"fixed ends, a fifth", func(b *mechanics.Beam) { b.Ends = mechanics.Fixed }, 1.0 / 5},
	} {
		b := shelf
		c.beam(&b)
		assert.InDelta(t, c.times, one(b.Sag(books)).Lo/sag, 1e-9, c.says)
	}
	// The same weight gathered in the middle bends a resting shelf 8/5 as far.
	middle := one(shelf.Sag(mechanics.Load{Centre: exact(300 * 0.9)})).Lo
	assert.InDelta(t, 8.0/5, middle/sag, 1e-9)
	both := one(shelf.Sag(mechanics.Load{PerMetre: exact(300), Centre: exact(270)})).Lo
	assert.InDelta(t, sag+middle, both, 1e-12, "loads add up")
	assert.Equal(t, exact(0), one(shelf.Sag(mechanics.Load{})))
	_, err := shelf.SpanOverSag(mechanics.Load{PerMetre: between(0, 300)})
	assert.ErrorContains(t, err, "may be 0 N")
	_, err = mechanics.Beam{}.Sag(books)
	assert.ErrorContains(t, err, "span")
}

func TestTheLongestSpanSagsByItsLimit(t *testing.T) {
	one := must(t)
	c := deal()
	for range tries {
		b := mechanics.Beam{Width: exact(c.between(between(100, 500))), Thickness: exact(c.between(between(12, 30))),
			Stiffness: exact(c.between(between(2, 12))), Ends: mechanics.Ends(c.IntN(2))}
		load, ratio := exact(c.between(between(200, 1000))), c.between(between(150, 1000))
		b.Span = one(b.LongestSpan(load, ratio))
		back := one(b.SpanOverSag(mechanics.Load{PerMetre: load}))
		assert.InEpsilon(t, ratio, back.Lo, 1e-9)
	}
	_, err := mechanics.Beam{Width: exact(250), Thickness: exact(19), Stiffness: exact(10)}.LongestSpan(exact(300), 5)
	assert.ErrorContains(t, err, "span over sag")
	_, err = mechanics.Beam{Width: exact(250), Thickness: exact(19), Stiffness: exact(10)}.LongestSpan(exact(0), 300)
	assert.ErrorContains(t, err, "spread load")
}

// Fixed ends share the moment: two thirds of the greatest for a spread load, half for one in the
// middle.
func TestFixedEndsLowerTheStress(t *testing.T) {
	one := must(t)
	rest := mechanics.Beam{Span: exact(400), Width: exact(20), Thickness: exact(60)}
	fixed := rest
	fixed.Ends = mechanics.Fixed
	for load, share := range map[mechanics.Load]float64{{PerMetre: exact(500)}: 2.0 / 3, {Centre: exact(300)}: 1.0 / 2} {
		assert.InDelta(t, share, one(fixed.Stress(load)).Lo/one(rest.Stress(load)).Lo, 1e-12)
	}
}

func TestSagsOnAFoot(t *testing.T) {
	for inches, want := range map[float64]float64{1.0 / 32: 384, 0.02: 600, 0.05: 240} {
		got, err := mechanics.PerFoot(inches)
		require.NoError(t, err)
		assert.InDelta(t, want, got, 1e-9)
	}
	_, err := mechanics.PerFoot(0)
	assert.ErrorContains(t, err, "sag on each foot")
}

func TestCreep(t *testing.T) {
	for _, c := range []struct {
		board     mechanics.Board
		usual     interval.Range
		set, most float64
	}{
		{mechanics.Seasoned, exact(3), 0.5, 6}, {mechanics.Unseasoned, exact(4), 1, 6}, {mechanics.Particleboard, between(4, 6), 2, 6},
	} {
		got, err := mechanics.Creep(exact(2), c.board)
		require.NoError(t, err)
		assert.Equal(t, c.usual, got.Usual)
		assert.Equal(t, between(2, c.most), got.Bounds)
		assert.InDelta(t, c.set, got.Set.Hi, 1e-12)
		assert.True(t, got.Usual.Within(got.Bounds))
	}
	for _, b := range []mechanics.Board{-1, 9} {
		_, err := mechanics.Creep(exact(2), b)
		assert.ErrorContains(t, err, "unknown board")
	}
	_, err := mechanics.Creep(exact(-2), mechanics.Seasoned)
	assert.ErrorContains(t, err, "first sag")
}

func TestThinningCostsStiffnessMoreThanStrength(t *testing.T) {
	one := must(t)
	stiff, strong := one(mechanics.StiffnessKept(exact(20), exact(18))), one(mechanics.StrengthKept(exact(20), exact(18)))
	assert.InDelta(t, 0.729, stiff.Lo, 1e-12)
	assert.InDelta(t, 0.81, strong.Lo, 1e-12)
	assert.Equal(t, exact(1), one(mechanics.StiffnessKept(exact(20), exact(20))))
}

func TestWhatAPartIsAskedToBear(t *testing.T) {
	one := must(t)
	assert.InDelta(t, 10, one(mechanics.WorkingStress(exact(60), mechanics.InUse)).Lo, 1e-12)
	assert.InDelta(t, 6, one(mechanics.WorkingStress(exact(60), mechanics.StoodOn)).Lo, 1e-12)
	assert.Equal(t, exact(0), one(mechanics.WorkingStress(exact(60), mechanics.Unsound)), "rot carries nothing")
	_, err := mechanics.WorkingStress(exact(60), 7)
	assert.ErrorContains(t, err, "unknown duty")
}

func TestClamps(t *testing.T) {
	one := must(t)
	each := 99.9 // three of which come to a little more than three times it in floating point
	for _, c := range []struct{ force, each, want float64 }{{1000, 250, 4}, {1001, 250, 5}, {0, 250, 0}, {each + each + each, each, 3}} {
		assert.Equal(t, c.want, one(mechanics.Clamps(exact(c.force), exact(c.each))).Lo, "%v", c)
	}
	assert.Equal(t, between(3, 6), one(mechanics.Clamps(between(1000, 1200), between(200, 400))))
	assert.InDelta(t, 600*25, one(mechanics.ClampForce(exact(600), exact(25), exact(1000))).Lo, 1e-9, "1 MPa is 1 N on each mm²")
}

func TestJoints(t *testing.T) {
	one := must(t)
	assert.InDelta(t, math.Pi*8*20*3, one(mechanics.DowelPull(exact(8), exact(20), exact(3))).Lo, 1e-9)
	assert.InDelta(t, 360, one(mechanics.ScarfLength(exact(30), exact(12))).Lo, 1e-12)
	_, err := mechanics.ScarfLength(exact(30), exact(6))
	assert.ErrorContains(t, err, "read 6 for the slope of 1 in; expected between 8 and 20")
	assert.InDelta(t, 4.0/9, one(mechanics.CupAfterRip(exact(4), exact(1.0/3))).Lo, 1e-12, "in three")
}

func TestWhatATopWeighs(t *testing.T) {
	one := must(t)
	oak := one(mechanics.Density(exact(0.68), exact(12)))
	assert.InDelta(t, 761.6, oak.Lo, 1e-9)
	assert.InDelta(t, 30.8448, one(mechanics.Mass(exact(1800), exact(900), exact(25), oak)).Lo, 1e-9)
}

func TestHowMuchVeneerToReckonWith(t *testing.T) {
	one := must(t)
	u, expanded, err := mechanics.Uncertainty(0.03, 0.04, 0)
	require.NoError(t, err)
	assert.InDelta(t, 0.05, u, 1e-12)
	assert.InDelta(t, 0.1, expanded, 1e-12)
	five := []interval.Range{exact(0.9), exact(0.8), exact(0.85), exact(0.95), exact(0.9)}
	for _, c := range []struct {
		says   string
		places []interval.Range
		film   interval.Range
		byEye  bool
		want   float64
	}{
		{"the thinnest of five places counts", five, exact(0), false, 0.7},
		{"the film is no veneer", five, exact(0.1), false, 0.6},
		{"one place errs by more", five[:1], exact(0), false, 0.7},
		{"and by eye by more still", five[:1], exact(0), true, 0.6},
		{"five places by eye need no more", five, exact(0), true, 0.7},
		{"it is never less than nothing", []interval.Range{exact(0.2)}, exact(0.15), true, 0},
	} {
		assert.InDelta(t, c.want, one(mechanics.Usable(c.places, c.film, expanded, c.byEye)).Lo, 1e-12, c.says)
	}
	_, err = mechanics.Usable(nil, exact(0), 0.1, false)
	assert.ErrorContains(t, err, "no place")
	_, err = mechanics.Usable(five, exact(0), -0.1, false)
	assert.ErrorContains(t, err, "expanded uncertainty")
	for _, bad := range [][3]float64{{-1, 0, 0}, {0, 9, 0}, {0, 0, math.NaN()}} {
		_, _, err := mechanics.Uncertainty(bad[0], bad[1], bad[2])
		assert.ErrorContains(t, err, "uncertainty")
	}
}

func TestUnitsAreThoseOfTheSources(t *testing.T) {
	for _, c := range []struct{ got, want, give float64 }{
		{mechanics.PoundForce, 4.4482216152605, 1e-12}, {mechanics.PSI, 0.006894757293168, 1e-14}, {mechanics.CubicFoot, 0.028316846592, 1e-14},
		{mechanics.Foot, 304.8, 1e-12}, {mechanics.FootDensity, 16.01846337, 1e-7}, {mechanics.FootLoad, 14.5939, 1e-4}, {mechanics.FootWeight, 1.488164, 1e-6},
	} {
		assert.InDelta(t, c.want, c.got, c.give)
	}
}
