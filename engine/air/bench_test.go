package air_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/air"
	"mendwright/rules/interval"
)

// bench is a small set of tables; its figures are round and belong to no real substance.
func bench() air.Tables {
	flash := func(lo, hi float64) *interval.Range { r := between(lo, hi); return &r }
	return air.Tables{
		Substances: map[string]air.Substance{
			"quick": {Molar: exact(60), Density: exact(0.8), Boils: exact(56), Vapour: exact(180), Antoine: &solvent,
				Flash: flash(-20, -18), LEL: between(2.5, 2.6), UEL: exact(13), SelfIgnition: exact(460), Cartridge: "organic-vapour", Gloves: "strong"},
			"slow": {Molar: between(90, 110), Density: between(0.7, 0.8), Boils: between(150, 200), Vapour: between(20, 40),
				Flash: flash(38, 43), LEL: exact(0.8), SelfIgnition: exact(240), Cartridge: "organic-vapour", Gloves: "mild"},
			"heavy": {Molar: exact(120), Density: exact(1), Boils: exact(205), Vapour: exact(0.05), Flash: flash(95, 95), LEL: exact(1.3),
				SelfIgnition: exact(430), Cartridge: "organic-vapour", Gloves: "mild"},
			"gas":     {Molar: exact(44), Density: exact(0.5), Boils: exact(-42), Vapour: exact(6200), LEL: exact(2.1), SelfIgnition: exact(450), Cartridge: "none", Because: "too light", Gloves: "mild"},
			"sly":     {Molar: exact(85), Density: exact(1.3), Boils: exact(40), Vapour: exact(350), Cartridge: "none", Because: "it goes through", Gloves: "none-holds"},
			"unruled": {Molar: exact(90), Density: exact(1.07), Boils: exact(90), Vapour: exact(40), Flash: flash(17, 17), Cartridge: "organic-vapour", Gloves: "strong"},
		},
		Limits: map[string]map[string]air.Limit{
			"quick": {"rel": {Amount: 250}, "pel": {Amount: 1000}, "rel-st": {Amount: 500}, "idlh": {Amount: 2500}},
			"slow":  {"rel": {Amount: 350, Unit: air.MG}, "pel": {Amount: 500}, "idlh": {Amount: 20000, Unit: air.MG}},
			"heavy": {"aiha": {Amount: 10}},
			"gas":   {"rel": {Amount: 1000}},
			"sly":   {"pel": {Amount: 25}, "action": {Amount: 12.5}, "idlh": {Amount: 2300}},
		},
		Respirators: map[string]air.Respirator{
			"paper": {APF: 10, DustOnly: true}, "half": {APF: 10}, "full": {APF: 50},
			"hose": {APF: 50, Supplied: true}, "tank": {APF: 10000, Supplied: true},
		},
		Gloves: map[string]air.Gloves{
			"strong":     {Good: []string{"thick", "thin"}, Poor: []string{"cloth"}},
			"mild":       {Good: []string{"thin", "thick"}, Poor: []string{"paper"}},
			"none-holds": {Good: []string{"laminate"}, Poor: []string{"thick", "thin"}},
		},
		Letters: map[string]string{"A": "a", "B": "b", "C": "c", "D": "d", "E": "e", "F": "f", "G": "g"},
		Scalds:  []air.Scald{{Water: 45, Second: 7200, Third: 10000}, {Water: 50, Second: 200, Third: 400}, {Water: 60, Second: 3, Third: 5}, {Water: 70, Third: 1}},
		Dust:    map[string]float64{"strict": 0.5, "lax": 15},
		Noise:   map[string]interval.Range{"sander": between(82, 95)},
	}
}

// must takes a result that has no business failing.
func must(t *testing.T) func(interval.Range, error) interval.Range {
	return func(r interval.Range, err error) interval.Range {
		t.Helper()
		require.NoError(t, err)
		return r
	}
}

func TestInversesUndo(t *testing.T) {
	d, ok := deal(), must(t)
	same := func(want float64, got interval.Range, what string) {
		t.Helper()
		assert.True(t, math.Abs(got.Lo-want) <= 1e-7*max(1, math.Abs(want)) && got.Lo == got.Hi, "%s: got %v, began with %v", what, got, want)
	}
	for range tries {
		v, m, rho := d.value(atAll), exact(d.value(molar)), exact(d.value(density))
		same(v, ok(air.ToPPM(ok(air.ToMG(exact(v), m)), m)), "mg/m3 and ppm")

		grams := ok(air.LiquidFor(exact(v), m, rho)).Mul(rho)
		same(v, ok(air.PPMOf(grams, m, exact(1))), "liquid for a level, and the level")

		celsius := d.value(between(-50, 200))
		same(celsius, ok(solvent.Celsius(ok(solvent.MMHg(exact(celsius))))), "temperature and vapour pressure")

		lel := exact(d.value(between(0.5, 15)))
		same(1, ok(air.SaturatedLEL(ok(solvent.MMHg(ok(solvent.ReachesLEL(lel)))), lel)), "saturated at its explosive limit")

		room := in(exact(d.value(volume)), exact(d.value(between(0, 10))), exact(d.value(mixing)))
		hours, release := d.value(between(0, 2)), exact(v)
		same(hours, ok(room.HoursToRise(release, ok(room.Rise(release, exact(hours))))), "time to rise")
		room.Changes = exact(d.value(blowing))
		same(hours, ok(room.HoursToFall(release, ok(room.Fall(release, exact(hours))))), "time to fall")

		k := d.value(mixing)
		flow := ok(air.FlowFor(release, exact(v), exact(k)))
		steady := air.Room{Volume: exact(30), Changes: ok(air.Changes(flow, exact(30))), Mixing: exact(k)}
		same(v, ok(steady.Steady(release)).Mul(exact(1000)), "flow for a level, and the level")

		celsius, humid := d.value(between(0, 40)), d.value(between(1, 100))
		same(humid, ok(air.HumidityOfSpread(exact(celsius), ok(air.Spread(exact(celsius), exact(humid))))), "spread and humidity")
		wet := ok(air.WetBulb(exact(celsius+20), exact(humid), exact(1013)))
		if wet.Lo >= 0 && wet.Hi < celsius+20 {
			back := ok(air.HumidityOfWetBulb(exact(celsius+20), wet, exact(1013)))
			assert.InDelta(t, humid, back.Mid(), 1e-6)
		}
	}
}

func TestVapourOfALitre(t *testing.T) {
	ok := must(t)
	// A litre of acetone becomes a third of a cubic metre of vapour.
	assert.InDelta(t, 333, ok(air.VapourLitres(exact(792), exact(58.08))).Mid(), 1)
	// At 20 °C a mole fills a little less than at 25.
	assert.InDelta(t, 24.06, ok(air.MolarVolumeAt(exact(20), exact(101.325))).Mid(), 0.01)
}

func TestTheAirHoldsNoMoreThanItsSaturation(t *testing.T) {
	tables, ok := bench(), must(t)
	assert.Equal(t, exact(1e6), ok(tables.Saturation("gas", exact(20))), "a gas fills everything")
	// Without constants the listed pressure stands up to 20 °C and grows by 2.5 for 10 °C more.
	assert.Equal(t, between(1e6*20/760, 1e6*40/760), ok(tables.Saturation("slow", exact(5))))
	warm := ok(tables.Saturation("slow", exact(30)))
	assert.InDelta(t, 1e6*20/760, warm.Lo, 1e-6)
	assert.InDelta(t, 2.5*1e6*40/760, warm.Hi, 1e-6)
	wide := ok(tables.Saturation("slow", between(5, 30)))
	assert.True(t, warm.Within(wide))
}

func TestClassesOfLiquids(t *testing.T) {
	for _, c := range []struct {
		flash, boils interval.Range
		want         string
	}{
		{exact(-40), exact(36), "IA"},
		{exact(-20), exact(56), "IB"},
		{exact(22.7), exact(126), "IB"},
		{exact(22.8), exact(126), "IC"},
		{exact(37.7), exact(150), "IC"},
		{exact(37.8), exact(150), "II"},
		{exact(59.9), exact(170), "II"},
		{exact(60), exact(170), "IIIA"},
		{exact(93.4), exact(205), "IIIB"},
		{between(21, 43), exact(150), "IB"}, // the worst end counts
	} {
		got, err := air.ClassOf(c.flash, c.boils)
		require.NoError(t, err)
		assert.Equal(t, c.want, got.String(), "%v", c)
	}
}

func TestALiquidNearItsFlashPointLights(t *testing.T) {
	for _, c := range []struct {
		liquid, flash interval.Range
		want          bool
	}{
		{exact(20), exact(13), true},
		{exact(20), exact(25), true},
		{exact(19.9), exact(25), false},
		{between(15, 25), exact(30), true},
		{exact(20), between(21, 43), true},
		{exact(20), exact(61), false},
	} {
		got, err := air.NearFlash(c.liquid, c.flash)
		require.NoError(t, err)
		assert.Equal(t, c.want, got, "%v", c)
	}
}
