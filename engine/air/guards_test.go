package air_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/air"
	"mendwright/rules/interval"
)

func TestMasks(t *testing.T) {
	tables := bench()
	half := air.Wear{Respirator: "half", Cartridge: "organic-vapour"}
	for _, c := range []struct {
		name      string
		wear      air.Wear
		substance string
		ppm       interval.Range
		highest   float64
		refused   string // what one of the reasons holds; "" if it may be worn
	}{
		{"under the limit times ten", half, "quick", exact(2400), 2500, ""},
		{"the worst end counts", half, "quick", between(100, 2600), 2500, "more than 2500"},
		{"no more than what is at once dangerous", air.Wear{Respirator: "full", Cartridge: "organic-vapour"}, "quick", exact(2600), 2500, "dangerous"},
		{"a paper mask", air.Wear{Respirator: "paper"}, "quick", exact(1), 0, "stops no vapour"},
		{"a paper mask however it is called", air.Wear{Respirator: "paper", Cartridge: "organic-vapour"}, "quick", exact(1), 0, "stops no vapour"},
		{"dust filters in a half mask", air.Wear{Respirator: "half"}, "quick", exact(1), 0, "stops no vapour"},
		{"the wrong cartridge", air.Wear{Respirator: "half", Cartridge: "ammonia"}, "quick", exact(1), 0, "wants a cartridge for organic-vapour"},
		{"what no cartridge holds", half, "sly", exact(0.1), 0, "it goes through"},
		{"the same with air from a hose", air.Wear{Respirator: "hose"}, "sly", exact(1000), 1250, ""},
		{"and too much even then", air.Wear{Respirator: "hose"}, "sly", exact(1300), 1250, "more than 1250"},
		{"where nobody stays", air.Wear{Respirator: "tank"}, "sly", exact(2400), 2300, "dangerous"},
		{"something unknown", air.Wear{Respirator: "tank"}, "mystery", exact(0), 0, "not known"},
		{"something without a limit", air.Wear{Respirator: "tank"}, "unruled", exact(0), 0, "no limit"},
		{"a limit in mg/m3", half, "slow", exact(700), 350 * 24.45 / 110 * 10, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			fit, err := tables.Mask(c.wear, c.substance, c.ppm)
			require.NoError(t, err)
			assert.InDelta(t, c.highest, fit.Highest, 1e-9)
			if c.refused == "" {
				assert.Empty(t, fit.Refused)
				return
			}
			require.NotEmpty(t, fit.Refused)
			all := ""
			for _, r := range fit.Refused {
				all += r + "\n"
			}
			assert.Contains(t, all, c.refused)
		})
	}
}

func TestTheTightestLimit(t *testing.T) {
	tables, ok := bench(), must(t)
	assert.Equal(t, exact(250), ok(tables.Tightest("quick")))
	// 350 mg/m3 are fewer ppm than 500 at any molar mass it may have.
	got := ok(tables.Tightest("slow"))
	assert.InDelta(t, 350*24.45/110, got.Lo, 1e-9)
	assert.InDelta(t, 350*24.45/90, got.Hi, 1e-9)
	assert.Equal(t, "350 mg/m3", fmt.Sprintf("%g %s", tables.Limits["slow"]["rel"].Amount, tables.Limits["slow"]["rel"].Unit))
}

func TestNoMaskIsAllowedMoreForLessProtection(t *testing.T) {
	d, tables := deal(), bench()
	for range tries {
		ppm := d.within(between(0, 4000))
		worn := func(respirator string) air.Fit {
			fit, err := tables.Mask(air.Wear{Respirator: respirator, Cartridge: "organic-vapour"}, "quick", ppm)
			require.NoError(t, err)
			return fit
		}
		half, full := worn("half"), worn("full")
		assert.LessOrEqual(t, half.Highest, full.Highest)
		if len(half.Refused) == 0 {
			assert.Empty(t, full.Refused)
			assert.LessOrEqual(t, ppm.Hi, half.Highest)
		}
	}
}

func TestGloves(t *testing.T) {
	tables := bench()
	for _, c := range []struct {
		substances []string
		want       air.Gloves
	}{
		{[]string{"quick"}, air.Gloves{Good: []string{"thick", "thin"}, Poor: []string{"cloth"}}},
		{[]string{"quick", "slow"}, air.Gloves{Good: []string{"thick", "thin"}, Poor: []string{"cloth", "paper"}}},
		{[]string{"quick", "sly"}, air.Gloves{Good: []string{}, Poor: []string{"cloth", "thick", "thin"}}},
	} {
		got, err := tables.GlovesFor(c.substances...)
		require.NoError(t, err)
		assert.Equal(t, c.want, got, "%v", c.substances)
	}
	assert.Equal(t, []string{"thick", "thin"}, tables.Gloves["strong"].Good, "the tables stay as they were")
}

func TestGloveLevelsAndTypes(t *testing.T) {
	for minutes, want := range map[float64]int{0: 0, 10: 0, 10.1: 1, 30: 1, 31: 2, 61: 3, 121: 4, 241: 5, 480: 5, 481: 6} {
		got, err := air.GloveLevel(exact(minutes))
		require.NoError(t, err)
		assert.Equal(t, want, got, "%v min", minutes)
	}
	got, err := air.GloveLevel(between(25, 90))
	require.NoError(t, err)
	assert.Equal(t, 1, got, "the worst end counts")

	tables := bench()
	for _, c := range []struct {
		minutes map[string]float64
		want    string
	}{
		{map[string]float64{"A": 30, "B": 30, "C": 40, "D": 30, "E": 60, "F": 480}, "A"},
		{map[string]float64{"A": 30, "B": 30, "C": 40, "D": 29, "E": 60, "F": 480}, "B"},
		{map[string]float64{"A": 30, "B": 30}, "C"},
		{map[string]float64{"A": 10}, "C"},
		{map[string]float64{"A": 9}, ""},
		{nil, ""},
	} {
		got, err := tables.GloveType(c.minutes)
		require.NoError(t, err)
		assert.Equal(t, c.want, got, "%v", c.minutes)
	}
}

func TestNoise(t *testing.T) {
	ok := must(t)
	for db, minutes := range map[float64]float64{85: 480, 88: 240, 91: 120, 94: 60, 97: 30, 100: 15} {
		assert.InDelta(t, minutes, 60*ok(air.NIOSH.Hours(exact(db))).Mid(), 1e-9, "%v dB", db)
	}
	for db, hours := range map[float64]float64{90: 8, 95: 4, 100: 2} {
		assert.InDelta(t, hours, ok(air.OSHA.Hours(exact(db))).Mid(), 1e-9, "%v dB", db)
	}
	// Plugs rated 33 dB are good for 13.
	assert.Equal(t, exact(87), ok(air.BehindPlugs(exact(100), 33)))
	assert.Equal(t, exact(100), ok(air.BehindPlugs(exact(100), 5)), "a poor rating counts for nothing")
	assert.Equal(t, exact(0), ok(air.BehindPlugs(exact(5), 33)))
	assert.Equal(t, between(82, 95), ok(bench().Machine("sander")))
}

func TestDustLying(t *testing.T) {
	for mm, want := range map[float64]air.Level{0: air.Go, 0.79: air.Go, 0.8: air.Warn, 3.2: air.Warn, 3.3: air.Stop, -1: air.Unknown} {
		assert.Equal(t, want, air.LayerLevel(exact(mm)), "%v mm", mm)
	}
	// A quarter of a millimetre is enough for a cloud that explodes.
	cloud := must(t)(air.Cloud(exact(0.25), exact(300), exact(2.4)))
	assert.Greater(t, cloud.Lo, air.LightestCloud)
}

func TestMouldSizes(t *testing.T) {
	for area, want := range map[float64]air.Mould{0: air.Small, 0.92: air.Small, 0.93: air.Medium, 9.29: air.Medium, 9.3: air.Large} {
		got, err := air.MouldSize(exact(area))
		require.NoError(t, err)
		assert.Equal(t, want, got, "%v m2", area)
	}
	got, err := air.MouldSize(exact(-1))
	require.Error(t, err)
	assert.Equal(t, air.Large, got, "no size is better taken as large")
}

func TestScalds(t *testing.T) {
	tables := bench()
	at := func(r interval.Range) air.ScaldTimes {
		s, err := tables.ScaldTime(r)
		require.NoError(t, err)
		return s
	}
	assert.Equal(t, air.ScaldTimes{Second: exact(3), Third: exact(5)}, at(exact(60)), "at a row, the row")
	assert.InDelta(t, 20*1.414213562*1.581138830, at(exact(55)).Third.Mid(), 1e-6, "half way, the geometric mean")
	assert.Equal(t, between(0, 3), at(exact(65)).Second, "above the last figure, no more than that")
	wide := at(between(55, 70))
	assert.Equal(t, 1.0, wide.Third.Lo)
	assert.Equal(t, 0.0, wide.Second.Lo)
	assert.True(t, at(exact(62)).Second.Within(wide.Second))
}

func TestLead(t *testing.T) {
	ok := must(t)
	// A film of 0.1 mm at 1.5 g/cm3 weighs 15 mg/cm2, so 1 mg/cm2 is 6.7 per cent.
	assert.InDelta(t, 15, ok(air.LeadOnSurface(exact(100), exact(100), exact(1.5))).Mid(), 1e-12)
	assert.InDelta(t, air.LeadHouseMGCM2, ok(air.LeadOnSurface(exact(100.0/15), exact(100), exact(1.5))).Mid(), 1e-12)
	assert.InDelta(t, 0.00135, ok(air.LeadOnSurface(exact(air.LeadConsumer), exact(100), exact(1.5))).Mid(), 1e-12)
	assert.False(t, air.KitClears(air.LeadHouse, air.LeadConsumer), "a house kit never clears a toy")
	assert.False(t, air.KitClears(air.LeadHouse, air.LeadUntil2009))
	assert.True(t, air.KitClears(air.LeadHouse, air.LeadHouse))
	assert.True(t, air.KitClears(0.001, air.LeadConsumer), "a laboratory may")
	assert.False(t, air.KitClears(0, air.LeadConsumer), "a test that tells nothing clears nothing")
}

func TestHotAir(t *testing.T) {
	tables := bench()
	for _, c := range []struct {
		nozzle interval.Range
		open   []string
		want   air.HotAir
	}{
		{exact(200), nil, air.HotAir{Level: air.Go}},
		{exact(250), nil, air.HotAir{Level: air.Warn}},
		{exact(593), nil, air.HotAir{Level: air.Warn}},
		{exact(594), nil, air.HotAir{Level: air.Stop}},
		{between(500, 650), nil, air.HotAir{Level: air.Stop}},
		{exact(300), []string{"quick", "slow"}, air.HotAir{Lights: []string{"slow"}, Level: air.Stop}},
		{exact(100), []string{"quick"}, air.HotAir{Level: air.Stop}},
		{exact(100), []string{"unruled"}, air.HotAir{Lights: []string{"unruled"}, Level: air.Stop}}, // no figure: counts as lit
		{exact(600), []string{"sly"}, air.HotAir{Level: air.Stop}},                                  // does not burn
	} {
		got, err := tables.HotAir(c.nozzle, c.open)
		require.NoError(t, err)
		assert.Equal(t, c.want, got, "%v", c)
	}
}

func TestDichloromethane(t *testing.T) {
	all := air.DCMWork{Paid: true, Historic: true, RegulatedArea: true, LocalExhaust: true, SuppliedAPF: 50, Records: true}
	assert.Empty(t, air.DCMRefused(all))
	for name, without := range map[string]func(*air.DCMWork){
		"at home":      func(w *air.DCMWork) { w.Paid = false },
		"historic":     func(w *air.DCMWork) { w.Historic = false },
		"marked area":  func(w *air.DCMWork) { w.RegulatedArea = false },
		"exhaust":      func(w *air.DCMWork) { w.LocalExhaust = false },
		"supplied air": func(w *air.DCMWork) { w.SuppliedAPF = 25 },
		"records":      func(w *air.DCMWork) { w.Records = false },
	} {
		w := all
		without(&w)
		because := air.DCMRefused(w)
		require.Len(t, because, 1, name)
		assert.Contains(t, because[0], name)
	}
	assert.Len(t, air.DCMRefused(air.DCMWork{}), 1)
	assert.Len(t, air.DCMRefused(air.DCMWork{Paid: true}), 5)
}
