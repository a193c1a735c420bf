package coat_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/coat"
	"mendwright/rules/interval"
)

func TestPrintedTimesHoldAtTheirOwnWeather(t *testing.T) {
	for _, c := range bench() {
		times, err := c.Times(exact(coat.RatedAir), exact(coat.RatedHumidity))
		require.NoError(t, err)
		assert.Equal(t, coat.Times{Touch: c.Touch, Recoat: c.Recoat, Sand: c.Sand, Cure: c.Cure, Closes: c.Closes, Slower: exact(1)}, times, c.Name)
	}
}

func TestColdSlowsAndWarmthIsCreditedOnlyAsFarAsItGoes(t *testing.T) {
	for _, c := range bench() {
		last := interval.Range{}
		for air := 40.0; air >= 0; air-- {
			times, err := c.Times(exact(air), exact(50))
			require.NoError(t, err)
			assert.GreaterOrEqual(t, times.Cure.Lo, last.Lo, "%s at %v °C", c.Name, air)
			if air > coat.NoGainAbove && air < 40 {
				assert.Equal(t, last, times.Cure, "%s at %v °C", c.Name, air)
			}
			assert.LessOrEqual(t, times.Closes.Hi, c.Closes.Hi, "the window is never held open longer than printed")
			last = times.Cure
		}
	}
	at := func(c coat.Coat, air float64) float64 {
		times, err := c.Times(exact(air), exact(50))
		require.NoError(t, err)
		return times.Cure.Lo
	}
	assert.InDelta(t, 2, at(slow, 13)/at(slow, 23), 1e-12, "a film that takes up oxygen: twice for 10 °C")
	assert.InDelta(t, 1.3, at(quick, 13)/at(quick, 23), 1e-12, "one that only loses solvent: less")
	hot, err := quick.Times(exact(33), exact(50))
	require.NoError(t, err)
	assert.InDelta(t, 10/1.3, hot.Closes.Lo, 1e-12, "in the heat the window closes earlier")
}

func TestDampSlowsWaterAlone(t *testing.T) {
	for _, c := range bench() {
		dry, err := c.Times(exact(23), exact(70))
		require.NoError(t, err)
		damp, err := c.Times(exact(23), exact(71))
		require.NoError(t, err)
		factor := 1.0
		if c.Dries == coat.ByWater {
			factor = 2
		}
		assert.InDelta(t, factor, damp.Cure.Lo/dry.Cure.Lo, 1e-12, c.Name)
	}
}

func TestWhenTheNextCoatMayFollow(t *testing.T) {
	for _, c := range []struct {
		coat   coat.Coat
		since  interval.Range
		window coat.Window
		scuff  coat.Truth
	}{
		{quick, exact(0.5), coat.TooSoon, coat.No},
		{quick, exact(1.5), coat.WindowUnknown, coat.No}, // its makers disagree
		{quick, exact(2), coat.Open, coat.No},
		{quick, exact(10), coat.Open, coat.No},
		{quick, exact(12), coat.WindowUnknown, coat.Unknown},
		{quick, exact(15), coat.Closed, coat.Yes},
		{quick, between(9, 15), coat.WindowUnknown, coat.Unknown},
		{slow, exact(23), coat.TooSoon, coat.Yes},
		{slow, exact(24), coat.Open, coat.Yes},
		{slow, exact(2000), coat.Open, coat.Yes}, // never closes, always needs a scuff
		{thin, exact(24), coat.Open, coat.No},
		{thin, exact(25), coat.Closed, coat.Yes},
	} {
		r, err := c.coat.Recoating(c.since, exact(23), exact(50))
		require.NoError(t, err)
		assert.Equal(t, c.window, r.Window, "%s after %v h", c.coat.Name, c.since)
		assert.Equal(t, c.scuff, r.Scuff, "%s after %v h", c.coat.Name, c.since)
	}
}

func TestAClosedWindowOpensOnlyWhenTheFilmCanBeSanded(t *testing.T) {
	fast := quick
	fast.Bonds, fast.Recoat, fast.Closes, fast.Sand = coat.InWindow, exact(4), exact(6), exact(72)
	for _, c := range []struct {
		since float64
		want  coat.Window
	}{{3, coat.TooSoon}, {5, coat.Open}, {10, coat.TooSoon}, {71, coat.TooSoon}, {72, coat.Closed}} {
		r, err := fast.Recoating(exact(c.since), exact(23), exact(50))
		require.NoError(t, err)
		assert.Equal(t, c.want, r.Window, "after %v h", c.since)
	}
}

// In the heat the window of a fast finish closes sooner and opens no sooner than at 25 °C.
func TestHeatClosesNoWindowBeforeItOpens(t *testing.T) {
	fast := slow
	fast.Bonds, fast.Recoat, fast.Closes, fast.Sand = coat.InWindow, exact(4), exact(6), exact(72)
	for _, air := range []float64{26, 33, 43} {
		r, err := fast.Recoating(exact(0), exact(air), exact(50))
		require.NoError(t, err)
		assert.GreaterOrEqual(t, r.Until.Lo, r.From.Lo, "at %v °C", air)
		assert.Less(t, r.Until.Lo, 6.0, "at %v °C", air)
		r, err = fast.Recoating(r.From, exact(air), exact(50))
		require.NoError(t, err)
		assert.Equal(t, coat.Open, r.Window, "at %v °C the next coat may follow as soon as it may", air)
	}
	cold, err := fast.Recoating(exact(7), exact(13), exact(50))
	require.NoError(t, err)
	assert.Equal(t, exact(6), cold.Until, "the cold does not hold it open either")
	assert.Equal(t, coat.TooSoon, cold.Window)
}

func TestNobodyNeedsTheWindowToKnowThatItIsNotTooSoon(t *testing.T) {
	fast := quick
	fast.Bonds, fast.Recoat, fast.Closes, fast.Sand = coat.InWindow, exact(4), exact(6), exact(72)
	for _, c := range []struct {
		coat  coat.Coat
		since interval.Range
		soon  coat.Truth
	}{
		{quick, exact(0.5), coat.Yes},
		{quick, exact(1.5), coat.Unknown},
		{quick, exact(5), coat.No},
		{quick, between(9, 15), coat.No}, // open or closed, it can be scuffed by then
		{quick, exact(20), coat.No},
		{fast, exact(5), coat.No},
		{fast, between(5, 7), coat.Unknown}, // closed it could not be scuffed yet
		{fast, exact(10), coat.Yes},
		{fast, exact(72), coat.No},
	} {
		r, err := c.coat.Recoating(c.since, exact(23), exact(50))
		require.NoError(t, err)
		assert.Equal(t, c.soon, r.Soon, "%v after %v h", c.coat.Name, c.since)
	}
}

func TestCoatsFollowOneAnother(t *testing.T) {
	touch, cured, err := slow.Schedule(1, exact(23), exact(50))
	require.NoError(t, err)
	assert.Equal(t, slow.Touch, touch)
	assert.Equal(t, slow.Cure, cured)
	touch, cured, err = slow.Schedule(3, exact(23), exact(50))
	require.NoError(t, err)
	assert.Equal(t, exact(2*24+6), touch)
	assert.Equal(t, between(548, 748), cured)
}

func TestNamesAreReadBack(t *testing.T) {
	for d := coat.ByOxygen; d <= coat.ByCooling; d++ {
		got, err := coat.ParseDrying(d.String())
		require.NoError(t, err)
		assert.Equal(t, d, got)
	}
	for b := coat.ByMelting; b <= coat.ByWiping; b++ {
		got, err := coat.ParseBonding(b.String())
		require.NoError(t, err)
		assert.Equal(t, b, got)
	}
	for m := coat.MayNot; m <= coat.MayGo; m++ {
		got, err := coat.ParseMay(m.String())
		require.NoError(t, err)
		assert.Equal(t, m, got)
	}
	for b := coat.NoBarrier; b <= coat.IfUnknown; b++ {
		got, err := coat.ParseBarrier(b.String())
		require.NoError(t, err)
		assert.Equal(t, b, got)
	}
	for _, parse := range []func(string) error{
		func(s string) error { _, err := coat.ParseDrying(s); return err },
		func(s string) error { _, err := coat.ParseBonding(s); return err },
		func(s string) error { _, err := coat.ParseMay(s); return err },
		func(s string) error { _, err := coat.ParseBarrier(s); return err },
	} {
		assert.ErrorContains(t, parse("blancmange"), `"blancmange"; expected one of`)
		assert.ErrorContains(t, parse(""), `""; expected one of`, "the zero value has no name")
	}
}
