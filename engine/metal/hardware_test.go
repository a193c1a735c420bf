package metal_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/metal"
	"mendwright/rules/interval"
)

func TestHowFarARustedPartIsWorkedOn(t *testing.T) {
	for grade := 0; grade <= 10; grade++ {
		want := metal.CleanAndWax
		switch {
		case grade <= 1:
			want = metal.Replace
		case grade <= 4:
			want = metal.Recoat
		case grade <= 7:
			want = metal.TouchIn
		}
		got, err := metal.RustExtent(grade, false)
		require.NoError(t, err)
		assert.Equal(t, want, got, "grade %d", grade)
		got, err = metal.RustExtent(grade, true)
		require.NoError(t, err)
		assert.Equal(t, metal.Replace, got, "it flakes under load")
	}
}

func TestRustedAreas(t *testing.T) {
	for grade := 0; grade <= 10; grade++ {
		area, err := metal.RustArea(grade)
		require.NoError(t, err)
		g, err := metal.RustGrade(exact(area.Hi))
		require.NoError(t, err)
		assert.Equal(t, metal.Grades{Worst: grade, Best: grade}, g, "the upper limit belongs to the grade")
		just := math.Nextafter(area.Lo, 100)
		g, err = metal.RustGrade(rng{Lo: just, Hi: area.Hi})
		require.NoError(t, err)
		assert.Equal(t, metal.Grades{Worst: grade, Best: grade}, g)
	}
	for ri, want := range []metal.Grades{{10, 10}, {8, 8}, {6, 6}, {6, 6}, {4, 4}, {1, 1}} {
		area, err := metal.RiArea(ri)
		require.NoError(t, err)
		g, err := metal.RustGrade(area)
		require.NoError(t, err)
		assert.Equal(t, want, g, "Ri %d", ri)
	}
}

func TestWhatWeighingTells(t *testing.T) {
	tables := bench()
	w, err := metal.Weigh(rng{Lo: 41.5, Hi: 42.5}, rng{Lo: 4.5, Hi: 5.5})
	require.NoError(t, err)
	assert.InDelta(t, 0.488, w.Std, 0.0005)
	assert.InDelta(t, 1.13, w.Away(7.85), 0.005)
	assert.Zero(t, w.Away(w.Value))
	for _, c := range []struct {
		what    string
		density rng
		pull    metal.Pull
		could   []string
	}{
		{"nothing known", rng{}, metal.AnyPull, []string{"aluminium", "zinc", "steel", "stainless", "brass", "bronze"}},
		{"heavier than all brass by a hair", exact(8.74), metal.AnyPull, []string{"bronze"}},
		{"lighter than all brass by a hair", exact(8.39), metal.AnyPull, []string{"bronze"}},
		{"as heavy as brass gets", exact(8.73), metal.AnyPull, []string{"brass", "bronze"}},
		{"a light part", interval.Around(2.7, 0.1), metal.AnyPull, []string{"aluminium"}},
		{"a pull weighed badly", w.Density, metal.AnyPull, []string{"steel", "stainless", "brass", "bronze"}},
		{"the same, no pull", w.Density, metal.NoPull, []string{"stainless", "brass", "bronze"}},
		{"the same, strong pull", w.Density, metal.StrongPull, []string{"steel", "stainless"}},
		{"a weak pull may be a screw inside", w.Density, metal.WeakPull, []string{"steel", "stainless", "brass", "bronze"}},
		{"no pull alone", rng{}, metal.NoPull, []string{"aluminium", "zinc", "stainless", "brass", "bronze"}},
		{"heavier than all", exact(19.3), metal.AnyPull, nil},
	} {
		could, err := tables.CouldBe(c.density, c.pull)
		require.NoError(t, err)
		assert.Equal(t, c.could, metalNames(could), c.what)
	}
	// The finer the balance and the measuring glass, the smaller the uncertainty.
	last := math.Inf(1)
	for _, half := range []float64{0.5, 0.2, 0.1, 0} {
		w, err := metal.Weigh(interval.Around(42, half), interval.Around(5, half))
		require.NoError(t, err)
		assert.Less(t, w.Std, last)
		last = w.Std
	}
	assert.Zero(t, last)
}

func TestThreadsOfHardware(t *testing.T) {
	tables := bench()
	for _, c := range []struct {
		what            string
		diameter, pitch rng
		like            []string
	}{
		{"a small pull", exact(4.05), exact(0.79), []string{"8-32"}},
		{"metric, as many pulls of today", exact(3.95), exact(0.70), []string{"M4"}},
		{"4.75 mm and 32 to the inch", exact(4.75), exact(0.794), []string{"10-32", "M5"}},
		{"exactly M5", exact(5), exact(0.8), []string{"M5"}},
		{"a quarter inch", exact(6.25), exact(1.27), []string{"1/4-20"}},
		{"M8 and not 5/16", exact(7.9), exact(1.25), []string{"M8"}},
		{"5/16 and not M8", exact(7.9), exact(1.411), []string{"5/16-18"}},
		{"pitch not counted closely", exact(7.9), rng{Lo: 1.2, Hi: 1.45}, []string{"M8", "5/16-18"}},
		{"half an inch with 12 threads", exact(12.7), exact(25.4 / 12), nil},
		{"0.30 under is the limit", exact(5.701), exact(1), []string{"M6"}},
		{"more than 0.30 under", exact(5.69), exact(1), nil},
		{"0.05 over is the limit", exact(6.049), exact(1), []string{"M6"}},
		{"more than 0.05 over", exact(6.06), exact(1), nil},
		{"2.9 % in the pitch", exact(5.9), exact(1.029), []string{"M6"}},
		{"3.1 % in the pitch", exact(5.9), exact(1.031), nil},
	} {
		like, err := tables.ThreadsLike(c.diameter, c.pitch)
		require.NoError(t, err)
		names := threadNames(like)
		if c.diameter.Half() > 0 || c.pitch.Half() > 0 {
			assert.ElementsMatch(t, c.like, names, c.what)
			continue
		}
		assert.Equal(t, c.like, names, c.what)
	}
}

func TestEveryThreadIsFoundByItsOwnFigures(t *testing.T) {
	tables := bench()
	for _, th := range tables.Threads {
		like, err := tables.ThreadsLike(exact(th.Major), exact(th.Pitch))
		require.NoError(t, err)
		require.NotEmpty(t, like)
		assert.Equal(t, th, like[0].Thread)
		assert.Zero(t, like[0].Off)
	}
}

func TestScrewsByGauge(t *testing.T) {
	for gauge, mm := range map[int]float64{0: 1.524, 4: 2.845, 6: 3.505, 8: 4.166, 10: 4.826, 12: 5.486, 14: 6.147} {
		got, err := metal.ScrewMM(gauge)
		require.NoError(t, err)
		assert.InDelta(t, mm, got, 0.0006, "gauge %d", gauge)
	}
	for _, c := range []struct {
		shank  rng
		gauges []int
	}{
		{exact(4.8), []int{10}},
		{exact(4.649), []int{10}}, // 0.007 in under
		{exact(4.647), nil},
		{exact(4.927), []int{10}}, // 0.004 in over
		{exact(4.95), nil},        // between two gauges: perhaps a metric screw
		{interval.Around(4.3, 0.3), []int{8, 9}},
		{exact(1), nil},
	} {
		got, err := metal.ScrewGauges(c.shank)
		require.NoError(t, err)
		assert.Equal(t, c.gauges, got, "%v", c.shank)
	}
	s, err := bench().Screw(8)
	require.NoError(t, err)
	assert.Equal(t, exact(2.381), s.Strength.In(metal.Hardwood))
	assert.Equal(t, exact(2.381), s.Furniture.In(metal.Softwood))
	assert.Equal(t, rng{Lo: 2.381, Hi: 3.175}, s.Furniture.In(metal.AnyWood))
	any, err := metal.PilotOfRoot(exact(2.8448), metal.AnyWood)
	require.NoError(t, err)
	assert.InDelta(t, 0.7*2.8448, any.Lo, 1e-12)
	assert.InDelta(t, 0.9*2.8448, any.Hi, 1e-12)
}

func TestScrewsOfPulls(t *testing.T) {
	for _, c := range []struct {
		what          string
		length, front rng
		want          metal.Place
	}{
		{"an inch through 3/4 in", exact(25.4), exact(19.05), metal.Inside},
		{"an inch through 22 mm", exact(25.4), exact(22), metal.Below},
		{"45 mm through 19 mm bottoms", exact(45), exact(19), metal.Above},
		{"it does not come through", exact(16), exact(19), metal.Below},
		{"the front not measured closely", exact(25.4), rng{Lo: 18, Hi: 22}, metal.Unsettled},
		{"just its diameter", exact(29.2), exact(25), metal.Inside},
	} {
		p, err := metal.PullFits(c.length, c.front, 4.17)
		require.NoError(t, err)
		assert.Equal(t, c.want, p, c.what)
	}
	target, err := metal.PullScrew(exact(19), exact(metal.Engagement))
	require.NoError(t, err)
	p, err := metal.PullFits(target, exact(19), 5)
	require.NoError(t, err)
	assert.Equal(t, metal.Inside, p, "the length to aim for fits")
}

func TestMetalsThatTouch(t *testing.T) {
	tables := bench()
	for _, c := range []struct {
		series, a, b string
		printed      rng
		corrodes     string
		limit        metal.Place
	}{
		{"one", "steel", "brass", exact(350), "steel", metal.Above},
		{"one", "brass", "steel", exact(350), "steel", metal.Above},
		{"one", "zinc", "steel", exact(200), "zinc", metal.Unsettled}, // 120 to 280 with the spread
		{"one", "zinc", "zinc", exact(0), "", metal.Inside},
		{"two", "steel", "brass", rng{Lo: 200, Hi: 410}, "steel", metal.Unsettled},
		{"two", "steel", "tin", rng{Lo: 0, Hi: 210}, "", metal.Unsettled},
		{"", "steel", "brass", rng{Lo: 200, Hi: 410}, "steel", metal.Unsettled},
	} {
		gap, err := tables.Gap(c.series, c.a, c.b)
		require.NoError(t, err)
		name := fmt.Sprint(c.series, " ", c.a, " ", c.b)
		assert.Equal(t, c.printed, gap.Printed, name)
		assert.Equal(t, c.corrodes, gap.Corrodes, name)
		assert.Equal(t, c.limit, gap.Limit, name)
	}
	order, err := tables.ActiveFirst("one", "brass", "zinc", "steel")
	require.NoError(t, err)
	assert.Equal(t, []string{"zinc", "steel", "brass"}, order)
}

func TestMetalPutAway(t *testing.T) {
	for _, c := range []struct {
		stored metal.Stored
		rh     rng
		want   metal.Place
	}{
		{metal.SoundIron, exact(55), metal.Inside}, {metal.SoundIron, exact(56), metal.Above},
		{metal.SoundIron, interval.Around(55, 3), metal.Unsettled},
		{metal.UnstableIron, exact(42), metal.Inside}, {metal.UnstableIron, exact(50), metal.Above},
		{metal.ChlorideBronze, exact(35), metal.Below}, {metal.ChlorideBronze, exact(45), metal.Inside},
	} {
		p, err := metal.Storage(c.stored, c.rh)
		require.NoError(t, err)
		assert.Equal(t, c.want, p, "%v %v", c.stored, c.rh)
	}
}
