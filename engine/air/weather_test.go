package air_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/air"
	"mendwright/rules/interval"
)

func TestDewPoints(t *testing.T) {
	ok := must(t)
	for _, c := range []struct{ t, humidity, want float64 }{
		{10, 30, -6.8}, {10, 90, 8.4}, {15, 60, 7.3}, {18, 50, 7.4}, {20, 40, 6.0}, {22, 70, 16.3}, {25, 30, 6.2}, {28, 85, 25.2}, {30, 65, 22.7},
	} {
		assert.InDelta(t, c.want, ok(air.DewPoint(exact(c.t), exact(c.humidity))).Mid(), 0.06, "%v", c)
	}
	// Air that is full of water is at its dew point.
	assert.InDelta(t, 21, ok(air.DewPoint(exact(21), exact(100))).Mid(), 1e-9)
	assert.Equal(t, ok(air.DewPoint(exact(20), exact(1))), ok(air.DewPoint(exact(20), exact(0))), "less than 1 % counts as 1 %")
}

func TestAWetBulbNoColderThanTheDry(t *testing.T) {
	ok := must(t)
	assert.Equal(t, exact(100), ok(air.HumidityOfWetBulb(exact(20), exact(20), exact(1013))), "no difference, no drying")
	// Where the two readings overlap the air may be full, and no more than full.
	wide := ok(air.HumidityOfWetBulb(between(19, 21), between(18, 20), exact(1013)))
	assert.Equal(t, 100.0, wide.Hi)
	assert.True(t, ok(air.HumidityOfWetBulb(exact(20), exact(19), exact(1013))).Within(wide))
	assert.InDelta(t, 20, ok(air.WetBulb(exact(20), exact(100), exact(1013))).Mid(), 1e-9)

	d := deal()
	for range tries {
		dry, wet := d.within(between(0, 40)), d.within(between(0, 40))
		coarse, err := air.HumidityOfWetBulb(dry, wet, exact(1013))
		if err != nil {
			continue
		}
		assert.True(t, coarse.Within(between(0, 100)))
		close, err := air.HumidityOfWetBulb(d.within(dry), d.within(wet), exact(1013))
		if err == nil {
			assert.True(t, close.Within(coarse), "%v %v", dry, wet)
		}
	}
}

func TestWeatherForCoats(t *testing.T) {
	oil := air.CoatWeather{Air: between(7, 35), Best: between(16, 29), Warn: 75, Stop: 85}
	lacquer := air.CoatWeather{Air: between(10, 35), Best: between(16, 29), Warn: 50, Stop: 65}
	for _, c := range []struct {
		name                   string
		coat                   air.CoatWeather
		air, humidity, surface interval.Range
		dew, humid, warmth     air.Level
	}{
		{"a good day", oil, exact(20), exact(50), exact(20), air.Go, air.Go, air.Go},
		{"a cold piece", oil, exact(20), exact(65), exact(15), air.Stop, air.Go, air.Go},
		{"a cold piece, if it is as cold as it may be", oil, exact(20), exact(65), between(15, 20), air.Stop, air.Go, air.Go},
		{"just warm enough", oil, exact(20), exact(65), exact(16.3), air.Go, air.Go, air.Go},
		{"damp", oil, exact(20), exact(80), exact(22), air.Go, air.Warn, air.Go},
		{"85 per cent is too damp for any coat", air.CoatWeather{Air: between(0, 40), Best: between(0, 40), Warn: 90, Stop: 95}, exact(20), exact(85), exact(25), air.Go, air.Stop, air.Go},
		{"lacquer at 50", lacquer, exact(20), exact(50), exact(20), air.Go, air.Go, air.Go},
		{"lacquer above 50", lacquer, exact(20), exact(51), exact(20), air.Go, air.Warn, air.Go},
		{"lacquer at 65", lacquer, exact(20), exact(65), exact(20), air.Go, air.Warn, air.Go},
		{"lacquer above 65", lacquer, exact(20), exact(66), exact(20), air.Go, air.Stop, air.Go},
		{"cool", oil, exact(12), exact(50), exact(12), air.Go, air.Go, air.Warn},
		{"cold", oil, exact(6), exact(50), exact(6), air.Go, air.Go, air.Stop},
		{"hot", oil, exact(36), exact(30), exact(36), air.Go, air.Go, air.Stop},
		{"perhaps cold", oil, between(6, 20), exact(40), exact(20), air.Go, air.Go, air.Stop},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := air.Weather{Air: c.air, Humidity: c.humidity, Surface: c.surface}.For(c.coat)
			require.NoError(t, err)
			assert.Equal(t, []air.Level{c.dew, c.humid, c.warmth}, []air.Level{got.Dew, got.Humid, got.Warmth})
			assert.Equal(t, max(c.dew, c.humid, c.warmth), got.Overall)
		})
	}
}

func TestDryingTimeDoublesForTenDegrees(t *testing.T) {
	ok, d := must(t), deal()
	assert.Equal(t, exact(1), ok(air.DryFactor(exact(23))))
	for range tries {
		c := d.value(between(0, 40))
		assert.InEpsilon(t, 2*ok(air.DryFactor(exact(c))).Mid(), ok(air.DryFactor(exact(c-10))).Mid(), 1e-12)
	}
}

func TestErrorsSayWhatWasReadAndWhatIsExpected(t *testing.T) {
	tables := bench()
	room := air.Room{Volume: exact(40), Changes: exact(1)}
	first := func(_ any, err error) error { return err }
	for _, c := range []struct {
		err  error
		want string
	}{
		{first(air.ToMG(exact(-1), exact(58))), "the vapour reads -1 ppm; expected 0 ppm or more"},
		{first(air.ToMG(exact(1), exact(0))), "the molar mass reads 0 g/mol; expected more than 0"},
		{first(air.PPMOf(exact(1), exact(58), between(0, 40))), "the room reads 0 to 40 m3; expected more than 0"},
		{first(solvent.MMHg(exact(-230))), "the liquid reads -230 °C; expected -219 to 300 °C"},
		{first(solvent.Celsius(exact(0))), "the vapour pressure reads 0 mmHg; expected more than 0"},
		{first(solvent.Celsius(exact(1e8))), "expected more than 0 and less than 1e+07 mmHg"},
		{first(tables.Saturation("quick", exact(80))), "the air reads 80 °C; expected -20 to 50 °C"},
		{first(tables.Saturation("mud", exact(20))), `the substance "mud" is not known; expected one of gas, heavy, quick`},
		{first(air.Room{}.Fresh()), "the room reads 0 m3"},
		{first(air.Room{Volume: exact(1), Changes: exact(-1)}.Fresh()), "the rate of air changes reads -1 an hour"},
		{first(in(exact(1), exact(1), exact(0.5)).Fresh()), "the mixing factor reads 0.5; expected 1 to 100"},
		{first(air.Room{Volume: exact(1)}.Steady(exact(1))), "the rate of air changes reads 0 an hour; expected more than 0"},
		{first(room.Rise(exact(-1), exact(1))), "the release reads -1 an hour"},
		{first(room.Fall(exact(1), exact(-1))), "the time reads -1 h"},
		{first(room.HoursToFall(exact(1), exact(0))), "the amount aimed at reads 0; expected more than 0"},
		{first(room.HoursToRise(exact(0), exact(1))), "the release reads 0 an hour; expected more than 0"},
		{first(air.FlowFor(exact(1), exact(0), exact(1))), "the target reads 0 ppm"},
		{first(air.DoorFlow(exact(1), exact(31))), "the wind reads 31 m/s; expected 0 to 30 m/s"},
		{first(air.ShareOfLimits(nil)), "at least one part"},
		{first(air.MixtureLimit([]air.Part{{Amount: between(0, 1), Limit: exact(1)}})), "one part of which there is more than nothing"},
		{first(air.DayAverage(nil)), "at least one stretch"},
		{first(air.DayAverage([]air.Span{{Hours: exact(25), Level: exact(1)}})), "the whole day reads 25 h; expected 0 to 24 h"},
		{first(air.LongDayLimit(0, exact(8))), "the limit reads 0"},
		{first(air.Coat{Density: exact(1), Solvent: exact(2)}.Grams()), "the solvent reads 2; expected 0 to 1"},
		{first(air.Release{Half: exact(9), All: exact(5)}.Share(exact(1))), "all of the solvent is out after 5 min"},
		{first(air.Mist(exact(1), exact(2), exact(0), exact(1))), "the share of solids reads 2"},
		{first(air.FromGrams(exact(-1), nil)), "the amount reads -1"},
		{first(air.FromGrams(exact(1), []air.Share{{Substance: "quick", Of: exact(0.7)}, {Substance: "slow", Of: exact(0.7)}})), "the shares make at least 1.4"},
		{first(air.FromGrams(exact(1), []air.Share{{Substance: "quick", Of: exact(1.1)}})), "the share of quick reads 1.1"},
		{first(tables.FromLitres(exact(1), []air.Share{{Substance: "mud", Of: exact(1)}})), `"mud" is not known`},
		{first(tables.Judge(nil, room, exact(20), exact(1))), "nothing to judge"},
		{first(tables.Judge(dose("mud", 1), room, exact(20), exact(1))), `"mud" is not known`},
		{first(tables.Judge(dose("quick", -1), room, exact(20), exact(1))), "the dose of quick reads -1 g"},
		{first(tables.Judge(dose("quick", 1), room, exact(20), exact(-1))), "the time reads -1 min"},
		{first(tables.Judge(dose("quick", 1), room, exact(90), exact(1))), "the air reads 90 °C"},
		{first(tables.Judge(dose("quick", 1), air.Room{}, exact(20), exact(1))), "the room reads 0 m3"},
		{first(tables.Tightest("unruled")), "there is no limit for breathing unruled"},
		{first(tables.Tightest("mud")), `"mud" is not known`},
		{first(tables.Mask(air.Wear{}, "quick", exact(1))), `the respirator "" is not known; expected one of full, half, hose, paper, tank`},
		{first(tables.Mask(air.Wear{Respirator: "half"}, "quick", exact(-1))), "the vapour reads -1 ppm"},
		{first(air.HighestUse(0.5, exact(1))), "the protection factor reads 0.5"},
		{first(tables.GlovesFor("mud")), `"mud" is not known`},
		{first(air.GloveLevel(exact(-1))), "the time reads -1 min"},
		{first(tables.GloveType(map[string]float64{"A": -1})), "the time reads -1 min"},
		{first(air.MixtureLimit(nil)), "at least one part"},
		{first(room.HoursToRise(exact(1), exact(-1))), "the level reads -1"},
		{first(tables.GloveType(map[string]float64{"Z": 30})), `no test chemical of the letter "Z"`},
		{first(tables.Letter("Z")), `the letter "Z" is not known`},
		{first(tables.Machine("lute")), `the machine "lute" is not known`},
		{first(tables.DustShare(exact(1), "none")), `the limit for wood dust "none" is not known; expected one of lax, strict`},
		{first(air.NIOSH.Hours(exact(200))), "the noise reads 200 dB(A); expected 0 to 194 dB(A)"},
		{first(air.NIOSH.Dose([]air.Span{{Hours: exact(1), Level: exact(200)}})), "the noise reads 200 dB(A)"},
		{first(air.BehindPlugs(exact(90), 50)), "the rating reads 50 dB"},
		{first(tables.ScaldTime(exact(40))), "the water reads 40 °C; expected 45 to 70 °C"},
		{first(air.Tables{}.ScaldTime(exact(50))), "no figures for scalds"},
		{first(air.LeadPPM(exact(101))), "the lead reads 101 %"},
		{first(tables.HotAir(exact(2000), nil)), "the nozzle reads 2000 °C"},
		{first(tables.HotAir(exact(300), []string{"mud"})), `what lies open: the substance "mud" is not known`},
		{first(air.ClassOf(exact(900), exact(50))), "the flash point reads 900 °C"},
		{first(air.NearFlash(exact(900), exact(50))), "the liquid reads 900 °C"},
		{first(air.DewPoint(exact(20), exact(101))), "the humidity reads 101 %; expected 0 to 100 %"},
		{first(air.DewPoint(exact(math.NaN()), exact(50))), "the air reads NaN °C"},
		{first(air.HumidityOfWetBulb(exact(20), exact(21), exact(1013))), "expected the wet bulb to be no warmer"},
		{first(air.HumidityOfWetBulb(exact(40), exact(5), exact(1013))), "even the driest air would leave the wet bulb warmer"},
		{first(air.Weather{Surface: exact(99)}.For(air.CoatWeather{})), "the surface reads 99 °C"},
		{first(air.DryFactor(exact(60))), "the air reads 60 °C; expected -10 to 50 °C"},
	} {
		if assert.Error(t, c.err, c.want) {
			assert.Contains(t, c.err.Error(), c.want)
		}
	}
}
