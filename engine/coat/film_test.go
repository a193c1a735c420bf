package coat_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/coat"
	"mendwright/rules/interval"
)

// must drops the error of what the test knows to be in range.
func must[T any](t *testing.T) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		require.NoError(t, err)
		return v
	}
}

func TestInversesUndo(t *testing.T) {
	rnd, get := deal(), must[interval.Range](t)
	draw := func(lo, hi float64) interval.Range { return exact(lo + rnd.Float64()*(hi-lo)) }
	same := func(want, got interval.Range, what string) {
		t.Helper()
		require.InDelta(t, want.Lo, got.Lo, 1e-9*max(1, want.Lo), what)
		require.InDelta(t, want.Hi, got.Hi, 1e-9*max(1, want.Hi), what)
	}
	for range tries {
		wet, solids, dry, rate := draw(1, 500), draw(1, 100), draw(1, 100), draw(1, 50)
		same(wet, get(coat.Wet(get(coat.Dry(wet, solids)), solids)), "wet and dry")
		same(solids, get(coat.SolidsAt(get(coat.Rate(solids, dry)), dry)), "rate and solids")
		same(wet, get(coat.Wet(get(coat.Dry(wet, solids)), solids)), "wet film")
		same(rate, get(coat.WetAt(exact(get(coat.WetAt(rate)).Lo))), "1000/x is its own inverse")
		same(rate, coat.FromPerGallon(coat.PerGallon(rate)), "per gallon")
		same(wet, coat.FromMils(coat.Mils(wet)), "mils")
		// What a litre covers does not depend on how it is reckoned.
		same(get(coat.WetAt(get(coat.Rate(solids, get(coat.Dry(wet, solids)))))), wet, "rate and wet film")

		target := draw(0.5, solids.Lo)
		if target.Lo < solids.Lo {
			thinner := get(coat.ThinnerFor(exact(3), solids, target))
			same(target, get(coat.ThinnedByAdding(solids, exact(3), thinner)), "thinner")
			share := exact(100 * thinner.Lo / (3 + thinner.Lo))
			if share.Hi < 99 {
				same(target, get(coat.ThinnedByShare(solids, share)), "the same thinner as a share of the mix")
			}
			water := get(coat.WaterFor(exact(2), solids, target))
			same(target, get(coat.Diluted(solids, exact(2), water)), "water")
		}
		cut, alcohol := draw(1, 5), draw(10, 1000)
		same(cut, get(coat.CutOf(get(coat.Flakes(alcohol, cut)), alcohol)), "cut")
		grams := draw(1, 500)
		same(grams, get(coat.Strength(get(coat.ToDissolve(grams, exact(2))), exact(2))), "strength")
	}
}

func TestAlcoholAddedGivesTheCutWanted(t *testing.T) {
	// 250 mL of alcohol with a 3-lb cut's flakes, brought down to 1 lb: 500 mL more alcohol.
	get := must[interval.Range](t)
	flakes := get(coat.Flakes(exact(250), exact(3)))
	made := 250 + flakes.Lo/coat.ResinDensity*1000
	add := get(coat.AlcoholToAdd(exact(made), exact(3), exact(1)))
	assert.InDelta(t, 500, add.Lo, 1e-9)
	assert.InDelta(t, 1, get(coat.CutOf(flakes, exact(250+add.Lo))).Lo, 1e-12)
	assert.Zero(t, get(coat.AlcoholToAdd(exact(made), exact(2), exact(2))).Hi)
}

func TestACutIsWeakerByVolumeThanByMass(t *testing.T) {
	get := must[interval.Range](t)
	for cut := 0.25; cut <= 5; cut += 0.25 {
		byVolume, byMass := get(coat.CutByVolume(exact(cut))), get(coat.CutByMass(exact(cut)))
		assert.Less(t, byVolume.Lo, byMass.Lo, "resin is heavier than alcohol")
		assert.Less(t, byMass.Lo, 100.0)
	}
	assert.Zero(t, get(coat.CutByVolume(exact(0))).Lo)
	assert.Zero(t, get(coat.CutByMass(exact(0))).Hi)
	assert.InDelta(t, 479.3, get(coat.FlakesPerLitre(exact(4))).Lo, 0.05)
}

func TestATenthOfTheMixIsNotATenthAdded(t *testing.T) {
	get := must[interval.Range](t)
	share, added := get(coat.ThinnedByShare(exact(30), exact(10))), get(coat.ThinnedByAdding(exact(30), exact(10), exact(1)))
	assert.Less(t, share.Lo, added.Lo)
	assert.Equal(t, exact(30), get(coat.ThinnedByAdding(exact(30), exact(1), exact(0))))
}

func TestWhatASheetSaysAboutItself(t *testing.T) {
	sheet, err := coat.CheckSheet(between(14, 18), between(127, 152), between(20, 25))
	require.NoError(t, err)
	assert.True(t, sheet.Fits, "%v", sheet.Needs)
	sheet, err = coat.CheckSheet(between(41, 49), exact(2.7*coat.Mil), exact(1.3*coat.Mil))
	require.NoError(t, err)
	assert.True(t, sheet.Fits, "solids by weight fit where those by volume do not")
	// A range of films whose far ends would need more than everything is cut at everything.
	sheet, err = coat.CheckSheet(exact(100), between(20, 40), between(10, 60))
	require.NoError(t, err)
	assert.Equal(t, between(25, 100), sheet.Needs)
}

func TestHowAWetCoatHangs(t *testing.T) {
	for _, c := range []struct {
		wet  interval.Range
		want coat.Hang
	}{
		{exact(0), coat.Holds},
		{exact(3 * coat.Mil), coat.Holds},
		{exact(126.9), coat.Holds},
		{exact(5 * coat.Mil), coat.NearRunning},
		{exact(152), coat.NearRunning},
		{coat.FromMils(exact(6)), coat.Sags},
		{exact(400), coat.Sags},
		{between(120, 130), coat.HangUnknown},
		{between(130, 160), coat.HangUnknown},
		{between(100, 200), coat.HangUnknown},
	} {
		got, err := coat.HangOf(c.wet)
		require.NoError(t, err)
		assert.Equal(t, c.want, got, "%v", c.wet)
	}
}

func TestCoatsAddUp(t *testing.T) {
	get := must[interval.Range](t)
	b := coat.Build{Coat: exact(30)}
	assert.Equal(t, exact(30), get(b.Total(1)))
	assert.Equal(t, exact(90), get(b.Total(3)), "nothing is lost where coats melt together")
	b.Scuff = exact(5)
	assert.Equal(t, exact(80), get(b.Total(3)), "two scuffs between three coats")
	b.Sinks = coat.BareWood
	assert.Equal(t, exact(65), get(b.Total(3)), "half of the first sinks in")
	b.Sinks = exact(100)
	assert.Equal(t, exact(0), get(b.Total(1)))
}

func TestTheCountOfCoatsUndoesTheirSum(t *testing.T) {
	rnd := deal()
	for range tries {
		b := coat.Build{Coat: exact(10 + 40*rnd.Float64()), Scuff: exact(8 * rnd.Float64()), Sinks: exact(100 * rnd.Float64())}
		n := 1 + rnd.IntN(8)
		total, err := b.Total(n)
		require.NoError(t, err)
		count, err := b.Coats(exact(max(0, total.Lo)))
		require.NoError(t, err)
		require.Equal(t, coat.Span{Lo: n, Hi: n}, count, "%v makes %v", b, total)
		if n > 1 {
			more, err := b.Coats(exact(math.Nextafter(total.Lo*(1+1e-6), math.Inf(1))))
			require.NoError(t, err)
			require.Equal(t, n+1, more.Lo, "a little more needs another coat")
		}
	}
	count, err := coat.Build{Coat: exact(20)}.Coats(exact(0))
	require.NoError(t, err)
	assert.Equal(t, coat.Span{Lo: 1, Hi: 1}, count, "bare wood with a finish on it has a coat")
}

func TestAFilmCanBeTooThick(t *testing.T) {
	get := must[coat.Truth](t)
	most := between(75, 125)
	assert.Equal(t, coat.No, get(coat.TooThick(exact(75), most)))
	assert.Equal(t, coat.Unknown, get(coat.TooThick(exact(100), most)), "makers disagree")
	assert.Equal(t, coat.Yes, get(coat.TooThick(between(126, 140), most)))
	assert.Equal(t, coat.No, get(coat.TooThick(exact(3000), interval.Range{})), "no limit is known")
}

func TestLossAndWasteAreNotTheSame(t *testing.T) {
	get := must[interval.Range](t)
	p := coat.Purchase{Area: exact(2), Coats: exact(1), Rate: exact(10)}
	assert.InDelta(t, 0.2, get(p.Litres()).Lo, 1e-12)
	p.Loss = exact(50)
	assert.InDelta(t, 0.4, get(p.Litres()).Lo, 1e-12, "half lands on the piece")
	p.Loss, p.Waste = exact(0), exact(50)
	assert.InDelta(t, 0.3, get(p.Litres()).Lo, 1e-12, "half as much again is bought")
	p.Area = exact(0)
	assert.Zero(t, get(p.Litres()).Hi)
}

func TestMass(t *testing.T) {
	get := must[interval.Range](t)
	assert.InDelta(t, 450, get(coat.Grams(exact(0.5), exact(0.9))).Lo, 1e-9)
	assert.InDelta(t, 50, get(coat.PasteGrams(exact(2), exact(1), exact(40))).Lo, 1e-9, "2 m² of wax at 40 m²/kg")
}
