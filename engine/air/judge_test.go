package air_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/air"
	"mendwright/rules/interval"
)

func judge(t *testing.T, doses []air.Dose, room air.Room, shopAir, minutes interval.Range) air.Reading {
	t.Helper()
	r, err := bench().Judge(doses, room, shopAir, minutes)
	require.NoError(t, err)
	return r
}

func dose(substance string, grams float64) []air.Dose {
	return []air.Dose{{Substance: substance, Grams: exact(grams)}}
}

func TestAReading(t *testing.T) {
	closed := air.Room{Volume: exact(24.45)}
	// 60 g of 60 g/mol are a mole, 24.45 L, in 24.45 m3: 1000 ppm.
	r := judge(t, dose("quick", 60), closed, exact(20), exact(30))
	assert.InDelta(t, 1000, r.PPM.Mid(), 1e-9)
	assert.InDelta(t, 4, r.OfLimit.Mid(), 1e-9, "the tightest limit is 250")
	assert.InDelta(t, 1000.0/26000, r.OfLEL.Lo, 1e-9)
	assert.InDelta(t, 1000.0/25000, r.OfLEL.Hi, 1e-9)
	assert.Equal(t, []any{air.Stop, air.Go, air.Stop}, []any{r.Health, r.Fire, r.Overall})
	assert.Empty(t, r.NoLimit)
	assert.Empty(t, r.NoLEL)

	// The same twice as two doses is one vapour.
	twice := judge(t, append(dose("quick", 30), dose("quick", 30)...), closed, exact(20), exact(30))
	assert.Equal(t, r, twice)

	// Half an hour with fresh air: what has gone in has partly left.
	aired := judge(t, dose("quick", 60), air.Room{Volume: exact(24.45), Changes: exact(6), Mixing: exact(3)}, exact(20), exact(30))
	assert.InDelta(t, 1000*(1-math.Exp(-1)), aired.PPM.Mid(), 1e-9)
}

func TestLevelsOfAReading(t *testing.T) {
	room := air.Room{Volume: exact(24.45)}
	for _, c := range []struct {
		name                  string
		doses                 []air.Dose
		health, fire, overall air.Level
	}{
		{"half of the limit", dose("quick", 7.5), air.Go, air.Go, air.Go},
		{"under the limit", dose("quick", 14.9), air.Warn, air.Go, air.Warn},
		{"over the limit", dose("quick", 15.1), air.Stop, air.Go, air.Stop},
		{"at once dangerous, and a tenth of the explosive limit", dose("quick", 150.1), air.GetOut, air.Warn, air.GetOut},
		{"over a quarter of the explosive limit", dose("quick", 400), air.GetOut, air.Stop, air.GetOut},
		{"no limit for breathing, and none for burning", dose("unruled", 0.1), air.Warn, air.Warn, air.Warn},
		{"no explosive limit and no flash point", dose("sly", 0.1), air.Go, air.Go, air.Go},
		{"two together, each under its limit", append(dose("quick", 9), dose("slow", 5)...), air.Stop, air.Go, air.Stop},
		{"nothing", dose("quick", 0), air.Go, air.Go, air.Go},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := judge(t, c.doses, room, exact(20), exact(0))
			assert.Equal(t, []any{c.health, c.fire, c.overall}, []any{r.Health, r.Fire, r.Overall}, "%+v", r)
		})
	}
}

func TestAReadingNamesWhatIsNotKnown(t *testing.T) {
	r := judge(t, append(dose("unruled", 1), dose("sly", 1)...), air.Room{Volume: exact(30)}, exact(20), exact(0))
	assert.Equal(t, []string{"unruled"}, r.NoLimit)
	assert.Equal(t, []string{"unruled", "sly"}, r.NoLEL)
}

func TestASlowLiquidFillsTheAirOnlyToItsSaturation(t *testing.T) {
	// A litre of something that hardly evaporates, gone in theory: the air cannot hold it.
	r := judge(t, dose("heavy", 1000), air.Room{Volume: exact(30)}, exact(20), exact(0))
	assert.InDelta(t, 1e6*0.05/760, r.PPM.Hi, 1e-9)
	assert.Equal(t, air.Go, r.Fire, "it cannot reach its explosive limit")
	assert.Equal(t, air.Stop, r.Health, "but its limit for breathing it can")
	mg, err := air.ToMG(r.PPM, exact(120))
	require.NoError(t, err)
	assert.InDelta(t, mg.Hi, r.Vapours[0].MG.Hi, 1e-9)
}

func TestACloserMeasurementNeverRaisesALevel(t *testing.T) {
	d := deal()
	coat := air.CoatWeather{Air: between(10, 35), Best: between(16, 29), Warn: 60, Stop: 80}
	for range tries {
		x := d.all(judgedFrom)
		doses := func(x []interval.Range) []air.Dose {
			return []air.Dose{{Substance: "quick", Grams: x[0]}, {Substance: "slow", Grams: x[1]}}
		}
		coarse := judge(t, doses(x), in(x[2], x[3], x[4]), x[5], x[6])
		y := d.all(x)
		closer := judge(t, doses(y), in(y[2], y[3], y[4]), y[5], y[6])
		assert.LessOrEqual(t, closer.Health, coarse.Health)
		assert.LessOrEqual(t, closer.Fire, coarse.Fire)

		w := d.all(ranges(shopAir, damp, shopAir))
		v := d.all(w)
		wide, err := air.Weather{Air: w[0], Humidity: w[1], Surface: w[2]}.For(coat)
		require.NoError(t, err)
		narrow, err := air.Weather{Air: v[0], Humidity: v[1], Surface: v[2]}.For(coat)
		require.NoError(t, err)
		assert.LessOrEqual(t, narrow.Overall, wide.Overall)

		a := d.within(between(0, 20))
		b := d.within(a)
		big, err := air.MouldSize(a)
		require.NoError(t, err)
		small, err := air.MouldSize(b)
		require.NoError(t, err)
		assert.LessOrEqual(t, small, big)
		assert.LessOrEqual(t, air.LayerLevel(b), air.LayerLevel(a))

		ga, err := air.GloveLevel(scale(a, 30))
		require.NoError(t, err)
		gb, err := air.GloveLevel(scale(b, 30))
		require.NoError(t, err)
		assert.GreaterOrEqual(t, gb, ga)

		fa := d.within(between(-30, 120))
		fb := d.within(fa)
		ca, err := air.ClassOf(fa, exact(90))
		require.NoError(t, err)
		cb, err := air.ClassOf(fb, exact(90))
		require.NoError(t, err)
		assert.GreaterOrEqual(t, cb, ca, "a higher class burns less readily")
	}
}

func scale(r interval.Range, k float64) interval.Range { return r.Mul(exact(k)) }

func TestLevelsAtTheirLines(t *testing.T) {
	for _, c := range []struct {
		share        float64
		fire, health air.Level
	}{
		{0, air.Go, air.Go}, {0.0999, air.Go, air.Go}, {0.1, air.Warn, air.Go}, {0.25, air.Warn, air.Go}, {0.2501, air.Stop, air.Go},
		{0.5, air.Stop, air.Go}, {0.501, air.Stop, air.Warn}, {1, air.Stop, air.Warn}, {1.001, air.Stop, air.Stop},
		{-1, air.Unknown, air.Unknown}, {math.NaN(), air.Unknown, air.Unknown},
	} {
		assert.Equal(t, c.fire, air.FireLevel(exact(c.share)), "%v", c.share)
		assert.Equal(t, c.health, air.HealthLevel(exact(c.share)), "%v", c.share)
	}
	assert.Equal(t, air.Stop, air.FireLevel(between(0, 0.3)), "the worst end counts")
}

func TestDosesOfAProduct(t *testing.T) {
	tables := bench()
	shares := []air.Share{{Substance: "quick", Of: exact(0.5)}, {Substance: "slow", Of: between(0.1, 0.2)}}
	doses, err := air.FromGrams(exact(200), shares)
	require.NoError(t, err)
	assert.Equal(t, []air.Dose{{Substance: "quick", Grams: exact(100)}, {Substance: "slow", Grams: between(20, 40)}}, doses)

	doses, err = tables.FromLitres(exact(0.5), shares)
	require.NoError(t, err)
	assert.InDelta(t, 200, doses[0].Grams.Mid(), 1e-9)
	assert.InDelta(t, 35, doses[1].Grams.Lo, 1e-9)
	assert.InDelta(t, 80, doses[1].Grams.Hi, 1e-9)

	doses, err = air.Can{Grams: exact(340), Propellant: exact(0.25), Solvent: exact(0.6)}.Doses("gas", "quick")
	require.NoError(t, err)
	assert.Equal(t, []air.Dose{{Substance: "gas", Grams: exact(85)}, {Substance: "quick", Grams: exact(204)}}, doses)
}
