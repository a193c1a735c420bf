package knowledge_test

import (
	"strings"

	"mendwright/engine/air"
	"mendwright/rules/interval"
)

var airGuards = map[string]airCalculator{
	"apf": func(c airCase) (any, error) {
		return figure(c.k, "respirators", c.in.Str("respirator"), "apf", interval.Range.Mid)
	},
	"highest-use": func(c airCase) (any, error) {
		fit, err := c.t.Mask(air.Wear{Respirator: c.in.Str("respirator")}, c.in.Str("substance"), interval.Range{})
		return fit.Highest, err
	},
	"mask": func(c airCase) (any, error) {
		fit, err := c.t.Mask(air.Wear{Respirator: c.in.Str("respirator"), Cartridge: c.in.Str("cartridge")}, c.in.Str("substance"), c.span("ppm"))
		return yesNo(len(fit.Refused) == 0, "allow", "refuse"), err
	},
	"glove-level": func(c airCase) (any, error) {
		level, err := air.GloveLevel(c.span("minutes"))
		return float64(level), err
	},
	"glove-letter":  func(c airCase) (any, error) { return c.t.Letter(c.in.Str("letter")) },
	"noise-hours":   func(c airCase) (any, error) { return noiseRule(c).Hours(c.span("db")) },
	"noise-minutes": func(c airCase) (any, error) { return times(60)(noiseRule(c).Hours(c.span("db"))) },
	"noise-dose":    func(c airCase) (any, error) { return noiseRule(c).Dose(c.spans()) },
	"dust-cloud":    func(c airCase) (any, error) { return air.Cloud(c.span("mm"), c.span("density"), c.span("height")) },
	"nozzle": func(c airCase) (any, error) {
		hot, err := c.t.HotAir(c.span("c"), []string{c.in.Str("open")})
		return yesNo(len(hot.Lights) > 0, "lights, ", "") + hot.Level.String(), err
	},
	"lead-ppm": func(c airCase) (any, error) { return air.LeadPPM(c.span("percent")) },
	"long-day": func(c airCase) (any, error) { return air.LongDayLimit(c.num("limit"), c.span("hours")) },
	"lead-gun": func(airCase) (any, error) { return air.LeadGunLimit, nil },
	"kit": func(c airCase) (any, error) {
		limit := air.LeadHouse
		if c.in.Str("for") == "child" {
			limit = air.LeadConsumer
		}
		return yesNo(air.KitClears(air.LeadHouse, limit), "cleared", "not cleared"), nil
	},
	"dcm": func(c airCase) (any, error) {
		yes := func(key string) bool { return c.in.Str(key) == "yes" }
		w := air.DCMWork{Paid: yes("paid"), Historic: yes("historic"), RegulatedArea: yes("area"), LocalExhaust: yes("exhaust"), Records: yes("records")}
		if mask := c.t.Respirators[c.in.Str("mask")]; mask.Supplied {
			w.SuppliedAPF = mask.APF
		}
		return yesNo(len(air.DCMRefused(w)) == 0, "allow", "refuse"), nil
	},
	"mould": func(c airCase) (any, error) {
		size, err := air.MouldSize(c.span("square_feet").Mul(interval.Exact(0.09290304)))
		return size.String(), err
	},
	"scald-second": func(c airCase) (any, error) {
		times, err := c.t.ScaldTime(c.span("c"))
		return times.Second, err
	},
	"scald-third": func(c airCase) (any, error) {
		times, err := c.t.ScaldTime(c.span("c"))
		return times.Third, err
	},
}

func noiseRule(c airCase) air.NoiseRule {
	if strings.EqualFold(c.in.Str("rule"), "osha") {
		return air.OSHA
	}
	return air.NIOSH
}

var airWeather = map[string]airCalculator{
	"dew-point": func(c airCase) (any, error) { return air.DewPoint(c.span("c"), c.span("humidity")) },
	"water":     func(c airCase) (any, error) { return air.WaterPascals(c.span("c")) },
	"wet-humidity": func(c airCase) (any, error) {
		return air.HumidityOfWetBulb(c.span("dry"), c.span("wet"), c.span("hpa"))
	},
	"wet-dew": func(c airCase) (any, error) {
		dry := c.span("dry")
		humidity, err := air.HumidityOfWetBulb(dry, c.span("wet"), c.span("hpa"))
		if err != nil {
			return nil, err
		}
		return air.DewPoint(dry, humidity)
	},
	"wet-bulb": func(c airCase) (any, error) { return air.WetBulb(c.span("c"), c.span("humidity"), c.span("hpa")) },
	"margin": func(c airCase) (any, error) {
		o, err := outlook(c)
		return o.Margin, err
	},
	"paint": func(c airCase) (any, error) {
		o, err := outlook(c)
		return yesNo(o.Overall < air.Stop, "yes", "no"), err
	},
	"humid": func(c airCase) (any, error) {
		o, err := outlook(c)
		return o.Humid.String(), err
	},
	"spread-humidity-f": func(c airCase) (any, error) { return spreadHumidity(c) },
	"spread-printed": func(c airCase) (any, error) {
		humidity, err := spreadHumidity(c)
		return yesNo(humidity.Within(c.span("printed")), "yes", "no"), err
	},
	"spread-f": func(c airCase) (any, error) {
		return times(1.8)(air.Spread(fahrenheit(c.span("f")), c.span("humidity")))
	},
	"dry-factor": func(c airCase) (any, error) { return air.DryFactor(c.span("c")) },
}

func outlook(c airCase) (air.Outlook, error) {
	w := air.Weather{Air: c.span("c"), Humidity: c.span("humidity"), Surface: c.span("surface")}
	return w.For(c.t.Coats[c.in.Str("coat")])
}

func spreadHumidity(c airCase) (interval.Range, error) {
	return air.HumidityOfSpread(fahrenheit(c.span("f")), c.span("spread").Mul(interval.Exact(1/1.8)))
}
