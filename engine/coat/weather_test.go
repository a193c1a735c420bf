package coat_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/coat"
	"mendwright/rules/interval"
)

func fine() coat.Day {
	return coat.Day{Air: exact(20), Surface: exact(20), Humidity: exact(45), DewMargin: exact(10), Spray: coat.No}
}

func day(change func(*coat.Day)) coat.Day {
	d := fine()
	change(&d)
	return d
}

func TestWhatTheWeatherAllows(t *testing.T) {
	for _, c := range []struct {
		coat coat.Coat
		day  coat.Day
		want coat.Verdict
		of   string // what stands against it
	}{
		{slow, fine(), coat.Go, ""},
		{slow, day(func(d *coat.Day) { d.Air = exact(7.9) }), coat.Wait, "air"},
		{slow, day(func(d *coat.Day) { d.Air = exact(8) }), coat.Care, "air"}, // its lower end, but slow
		{slow, day(func(d *coat.Day) { d.Air = exact(10) }), coat.Go, ""},
		{slow, day(func(d *coat.Day) { d.Air = exact(30) }), coat.Go, ""},
		{slow, day(func(d *coat.Day) { d.Air = exact(30.1) }), coat.Wait, "air"},
		{slow, day(func(d *coat.Day) { d.Surface = exact(5) }), coat.Wait, "surface"},
		{slow, day(func(d *coat.Day) { d.Humidity = exact(84.9) }), coat.Go, ""},
		{slow, day(func(d *coat.Day) { d.Humidity = exact(85) }), coat.Wait, "humidity"},
		{slow, day(func(d *coat.Day) { d.DewMargin = exact(3) }), coat.Go, ""},
		{slow, day(func(d *coat.Day) { d.DewMargin = exact(2.9) }), coat.Wait, "dew-margin"},
		{slow, day(func(d *coat.Day) { d.Humidity, d.Spray = exact(68), coat.Yes }), coat.Go, ""}, // does not blush
		{quick, day(func(d *coat.Day) { d.Humidity = exact(68) }), coat.Go, ""},                   // brushed
		{quick, day(func(d *coat.Day) { d.Humidity, d.Spray = exact(50), coat.Yes }), coat.Go, ""},
		{quick, day(func(d *coat.Day) { d.Humidity, d.Spray = exact(51), coat.Yes }), coat.Care, "humidity"},
		{quick, day(func(d *coat.Day) { d.Humidity, d.Spray = exact(65), coat.Yes }), coat.Care, "humidity"},
		{quick, day(func(d *coat.Day) { d.Humidity, d.Spray = exact(66), coat.Yes }), coat.Wait, "humidity"},
		{quick, day(func(d *coat.Day) { d.Humidity, d.Spray = exact(45), coat.Unknown }), coat.Go, ""}, // sprayed or not
		{quick, day(func(d *coat.Day) { d.Humidity, d.Spray = exact(66), coat.Unknown }), coat.Undecided, "humidity"},
		{thin, day(func(d *coat.Day) { d.Air = exact(12) }), coat.Care, "air"},
		{thin, day(func(d *coat.Day) { d.Humidity = exact(30) }), coat.Care, "humidity"}, // too dry
		{thin, day(func(d *coat.Day) { d.Humidity = exact(75) }), coat.Care, "humidity"},
		{thin, day(func(d *coat.Day) { d.Humidity = exact(80) }), coat.Wait, "humidity"},
		{slow, day(func(d *coat.Day) { d.Air = between(7, 12) }), coat.Undecided, "air"},
		{slow, day(func(d *coat.Day) { d.DewMargin = between(2, 4) }), coat.Undecided, "dew-margin"},
		{slow, day(func(d *coat.Day) { d.Air, d.DewMargin = between(12, 20), between(0, 2) }), coat.Wait, "dew-margin"},
	} {
		w, err := c.coat.Judge(c.day)
		require.NoError(t, err)
		assert.Equal(t, c.want, w.Verdict(), "%s on %+v: %+v", c.coat.Name, c.day, w)
		if c.of == "" {
			assert.Empty(t, w.Reasons)
			continue
		}
		for _, r := range w.Reasons {
			assert.Equal(t, c.of, r.Of, "%s on %+v", c.coat.Name, c.day)
			assert.NotEmpty(t, r.Why)
		}
		assert.NotEmpty(t, w.Reasons)
	}
}

func TestAReasonSaysWhetherItIsCertain(t *testing.T) {
	w, err := slow.Judge(day(func(d *coat.Day) { d.DewMargin = between(2, 4) }))
	require.NoError(t, err)
	require.Len(t, w.Reasons, 1)
	assert.False(t, w.Reasons[0].Certain)
	assert.Equal(t, coat.Go, w.Best)
	assert.Equal(t, coat.Wait, w.Worst)
	w, err = slow.Judge(day(func(d *coat.Day) { d.DewMargin = between(0, 2) }))
	require.NoError(t, err)
	assert.True(t, w.Reasons[0].Certain)

	w, err = quick.Judge(day(func(d *coat.Day) { d.Humidity, d.Spray = exact(55), coat.Unknown }))
	require.NoError(t, err)
	require.Len(t, w.Reasons, 1)
	assert.True(t, w.Reasons[0].Sprayed, "brushed it would stand")
	assert.False(t, w.Reasons[0].Certain)
}

func TestAReasonSaysWhereItEnds(t *testing.T) {
	for _, c := range []struct {
		coat  coat.Coat
		day   coat.Day
		until []coat.Bound
	}{
		{slow, day(func(d *coat.Day) { d.Air = exact(5) }), []coat.Bound{{Side: coat.AtLeast, At: 8}, {Side: coat.AtLeast, At: coat.OxygenSlow}}},
		{slow, day(func(d *coat.Day) { d.Surface = exact(31) }), []coat.Bound{{Side: coat.AtMost, At: 30}}},
		{slow, day(func(d *coat.Day) { d.Humidity = exact(90) }), []coat.Bound{{Side: coat.Below, At: 85}}},
		{slow, day(func(d *coat.Day) { d.DewMargin = exact(1) }), []coat.Bound{{Side: coat.AtLeast, At: coat.LeastDewMargin}}},
		{quick, day(func(d *coat.Day) { d.Humidity, d.Spray = exact(66), coat.Yes }), []coat.Bound{{Side: coat.AtMost, At: coat.BlushCare}, {Side: coat.AtMost, At: coat.BlushFrom}}},
	} {
		w, err := c.coat.Judge(c.day)
		require.NoError(t, err)
		var got []coat.Bound
		for _, r := range w.Reasons {
			got = append(got, r.Until)
		}
		assert.Equal(t, c.until, got, "%s on %+v", c.coat.Name, c.day)
	}
}

func TestNotKnowingWhetherItIsSprayedLiesBetweenBoth(t *testing.T) {
	rnd := deal()
	for range tries {
		d := day(func(d *coat.Day) { d.Humidity = inside(rnd, between(10, 100)) })
		judge := func(spray coat.Truth) coat.Weather {
			d.Spray = spray
			w, err := quick.Judge(d)
			require.NoError(t, err)
			return w
		}
		unknown, no, yes := judge(coat.Unknown), judge(coat.No), judge(coat.Yes)
		require.Equal(t, no.Best, unknown.Best, "%v", d)
		require.Equal(t, yes.Worst, unknown.Worst, "%v", d)
	}
}

func TestTheMiddleOfARangeCanBeBetterThanItsEnds(t *testing.T) {
	// Too dry at one end, too damp at the other, right between.
	w, err := thin.Judge(day(func(d *coat.Day) { d.Humidity = between(30, 90) }))
	require.NoError(t, err)
	assert.Equal(t, coat.Go, w.Best)
	assert.Equal(t, coat.Wait, w.Worst)
}

func TestDewMargin(t *testing.T) {
	m, err := coat.DewMargin(between(14, 16), between(12, 13))
	require.NoError(t, err)
	assert.Equal(t, between(1, 4), m)
}

func TestWhichCoatSuitsTheDayAndTheTime(t *testing.T) {
	tables := coat.Tables{Coats: bench()}
	names := func(d coat.Day, available interval.Range) (out []string) {
		choices, err := tables.Choose(d, available)
		require.NoError(t, err)
		for _, c := range choices {
			out = append(out, c.Coat)
		}
		return out
	}
	weekend := exact(48)
	assert.Equal(t, []string{"quick", "thin", "slow"}, names(fine(), weekend), "what is hard soonest comes first")
	assert.Equal(t, []string{"thin", "slow", "quick"}, names(day(func(d *coat.Day) { d.Humidity, d.Spray = exact(68), coat.Yes }), weekend),
		"what turns white goes to the end")
	assert.Equal(t, []string{"slow", "quick", "thin"}, names(day(func(d *coat.Day) { d.Air, d.Surface = exact(9), exact(9) }), weekend),
		"in the cold only one may go on")

	choices, err := tables.Choose(fine(), weekend)
	require.NoError(t, err)
	got := map[string]coat.Choice{}
	for _, c := range choices {
		got[c.Coat] = c
	}
	assert.Equal(t, 3, got["quick"].Coats)
	assert.Equal(t, coat.Yes, got["quick"].InTime)
	assert.Equal(t, coat.No, got["quick"].Ready, "a weekend does not cure lacquer")
	assert.Equal(t, coat.Yes, got["slow"].InTime, "two coats and a touch: 30 h at 23 °C, 37 at 20")
	choices, err = tables.Choose(fine(), exact(30))
	require.NoError(t, err)
	assert.Equal(t, "slow", choices[2].Coat)
	assert.Equal(t, coat.No, choices[2].InTime)
	choices, err = tables.Choose(fine(), between(20, 60))
	require.NoError(t, err)
	assert.Equal(t, coat.Unknown, choices[2].InTime, "nobody knows how much time there is")

	none, err := coat.Tables{}.Choose(fine(), weekend)
	require.NoError(t, err)
	assert.Empty(t, none)
}

func TestMoreTimeNeverLeavesFewerCoats(t *testing.T) {
	tables, rnd := coat.Tables{Coats: bench()}, deal()
	for range tries / 10 {
		d := day(func(d *coat.Day) { d.Air, d.Humidity = inside(rnd, between(8, 32)), inside(rnd, between(20, 90)) })
		short := rnd.Float64() * 500
		a, err := tables.Choose(d, exact(short))
		require.NoError(t, err)
		b, err := tables.Choose(d, exact(short+rnd.Float64()*500))
		require.NoError(t, err)
		count := func(choices []coat.Choice) (n int) {
			for _, c := range choices {
				if c.InTime == coat.Yes {
					n++
				}
				if c.Ready == coat.Yes {
					n++
				}
			}
			return n
		}
		require.LessOrEqual(t, count(a), count(b))
	}
}
