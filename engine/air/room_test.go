package air_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/air"
	"mendwright/rules/interval"
)

func TestWhatGoesInStaysOrLeaves(t *testing.T) {
	ok, d := must(t), deal()
	for range tries {
		room := in(exact(d.value(volume)), exact(d.value(blowing)), exact(d.value(mixing)))
		release := exact(d.value(atAll))
		steady := ok(room.Steady(release)).Mid()
		late := ok(room.Rise(release, exact(1e5))).Mid()
		assert.InEpsilon(t, steady, late, 1e-9, "a long rise ends at the steady state")
		early := ok(room.Rise(release, exact(1e-6))).Mid()
		assert.InEpsilon(t, release.Mid()*1e-6/room.Volume.Mid(), early, 1e-3, "at first nothing has left")

		still := room
		still.Changes = exact(0)
		assert.InEpsilon(t, release.Mid()*3/room.Volume.Mid(), ok(still.Rise(release, exact(3))).Mid(), 1e-12, "without fresh air all stays")
	}
}

func TestTheTimeToALevelThatIsNeverReached(t *testing.T) {
	ok := must(t)
	room := in(exact(40), exact(5), interval.Range{}) // 200 m3/h
	never := ok(room.HoursToRise(exact(20), exact(0.1)))
	assert.True(t, math.IsInf(never.Lo, 1), "20 an hour into 200 m3/h stays below 0.1")
	maybe := ok(room.HoursToRise(exact(20), between(0.05, 0.2)))
	assert.InDelta(t, math.Ln2/5, maybe.Lo, 1e-12, "half of the steady state takes a half-life")
	assert.True(t, math.IsInf(maybe.Hi, 1))

	still := in(exact(40), between(0, 2), interval.Range{})
	fall := ok(still.HoursToFall(exact(100), exact(50)))
	assert.InDelta(t, math.Ln2/2, fall.Lo, 1e-12)
	assert.True(t, math.IsInf(fall.Hi, 1), "still air may never clear")
	assert.Equal(t, exact(0), ok(still.HoursToFall(exact(50), exact(50))), "what is there already takes no time")
}

func TestNoMixingFactorMeansPerfectMixing(t *testing.T) {
	ok := must(t)
	assert.Equal(t, exact(6), ok(air.Room{Volume: exact(40), Changes: exact(6)}.Fresh()))
	assert.Equal(t, exact(2), ok(in(exact(40), exact(6), exact(3)).Fresh()))
}

func TestWindThroughTwoOpeningsBeatsOne(t *testing.T) {
	ok := must(t)
	for _, c := range []struct {
		from air.Wind
		want interval.Range
	}{
		{air.HeadWind, exact(1800)},
		{air.SlantWind, between(900, 1260)},
		{air.AnyWind, between(900, 1800)},
	} {
		got := ok(air.CrossFlow(exact(1), exact(1), c.from))
		assert.InDelta(t, c.want.Lo, got.Lo, 1e-9)
		assert.InDelta(t, c.want.Hi, got.Hi, 1e-9)
		assert.Greater(t, got.Lo, ok(air.DoorFlow(exact(1), exact(1))).Hi)
	}
	// 0.51 m/s through a booth front of 3 m2 takes 5508 m3/h.
	assert.InDelta(t, air.BoothVelocity, ok(air.FaceVelocity(exact(5508), exact(3))).Mid(), 1e-9)
}

func TestLimitsOfMixtures(t *testing.T) {
	ok, d := must(t), deal()
	parts := func(n int) []air.Part {
		var p []air.Part
		for range n {
			p = append(p, air.Part{Amount: d.within(atAll), Limit: d.within(between(0.5, 15))})
		}
		return p
	}
	// The hull is found by trying every corner; what is best of the limits is plain.
	corners := func(p []air.Part) interval.Range {
		all := between(math.Inf(1), math.Inf(-1))
		for mask := range 1 << len(p) {
			var sum, lo, hi float64
			for i, one := range p {
				amount := one.Amount.Lo
				if mask>>i&1 == 1 {
					amount = one.Amount.Hi
				}
				sum, lo, hi = sum+amount, lo+amount/one.Limit.Lo, hi+amount/one.Limit.Hi
			}
			all.Lo, all.Hi = min(all.Lo, sum/lo), max(all.Hi, sum/hi)
		}
		return all
	}
	for range tries {
		p := parts(1 + d.IntN(5))
		got, want := ok(air.MixtureLimit(p)), corners(p)
		require.InEpsilon(t, want.Lo, got.Lo, 1e-9, "%v", p)
		require.InEpsilon(t, want.Hi, got.Hi, 1e-9, "%v", p)

		closer := make([]air.Part, len(p))
		for i, one := range p {
			closer[i] = air.Part{Amount: d.within(one.Amount), Limit: d.within(one.Limit)}
		}
		inner := ok(air.MixtureLimit(closer))
		assert.True(t, atMost(got.Lo, inner.Lo) && atMost(inner.Hi, got.Hi))
	}
	// A mixture at its own limit is at the sum of one.
	exactly := []air.Part{{Amount: exact(60), Limit: exact(2.5)}, {Amount: exact(40), Limit: exact(1.1)}}
	lel := ok(air.MixtureLimit(exactly)).Mid()
	var at []air.Part
	for _, p := range exactly {
		at = append(at, air.Part{Amount: exact(p.Amount.Mid() / 100 * lel), Limit: p.Limit})
	}
	assert.InDelta(t, 1, ok(air.ShareOfLimits(at)).Mid(), 1e-12)
	assert.Equal(t, exact(2), ok(air.MixtureLimit([]air.Part{{Amount: exact(7), Limit: exact(2)}})), "one alone keeps its limit")
	with := []air.Part{{Amount: exact(0), Limit: exact(1)}, {Amount: between(1, 2), Limit: exact(2)}}
	assert.Equal(t, exact(2), ok(air.MixtureLimit(with)), "what is not there has no say")
}

func TestACoatLetsItsSolventGo(t *testing.T) {
	ok := must(t)
	// 100 mL/m2 of half solvent, 0.8 g/mL, give 40 g/m2.
	coat := air.Coat{Area: exact(1), Spread: exact(100), Density: exact(0.8), Solvent: exact(0.5)}
	assert.InDelta(t, 40, ok(coat.Grams()).Mid(), 1e-12)

	varnish := air.Release{Half: exact(60), All: exact(360)}
	for _, c := range []struct{ minutes, want float64 }{{0, 0}, {30, 0.25}, {60, 0.5}, {210, 0.75}, {360, 1}, {5000, 1}} {
		assert.Equal(t, exact(c.want), ok(varnish.Share(exact(c.minutes))), "%v min", c.minutes)
	}
	fast := air.Release{Half: between(5, 15), All: between(10, 30)}
	assert.Equal(t, between(1.0/3, 1), ok(fast.Share(exact(10))))
}

func TestADayOfSpans(t *testing.T) {
	ok := must(t)
	assert.Equal(t, exact(25), ok(air.DayAverage([]air.Span{{Hours: exact(2), Level: exact(100)}})), "two hours of 100 in eight of nothing")
	assert.Equal(t, exact(125), ok(air.DayAverage([]air.Span{{Hours: exact(10), Level: exact(100)}})), "ten hours count whole")
	assert.Equal(t, exact(50), ok(air.LongDayLimit(50, exact(6))), "a short day leaves the limit")
}

func TestMistIsWhatMisses(t *testing.T) {
	ok := must(t)
	// 100 g of a quarter solids, a third of it landing, in 40 m3.
	assert.InDelta(t, 100*0.25*(2.0/3)/40*1000, ok(air.Mist(exact(100), exact(0.25), exact(1.0/3), exact(40))).Mid(), 1e-9)
	assert.Equal(t, exact(0), ok(air.Mist(exact(100), exact(1), exact(1), exact(40))))
}
