package knowledge_test

import (
	"fmt"

	"mendwright/engine/air"
	"mendwright/rules/interval"
)

var airLimits = map[string]airCalculator{
	"limit": func(c airCase) (any, error) {
		unit := c.in.Str("unit")
		l, ok := c.t.Limits[c.in.Str("substance")][c.in.Str("kind")]
		switch {
		case !ok:
			return "none", nil
		case l.Unit.String() != unit:
			return nil, fmt.Errorf("the limit is in %s", l.Unit)
		}
		return l.Amount, nil
	},
	"half-limit": func(c airCase) (any, error) {
		return air.HealthWarnAbove * c.t.Limits[c.in.Str("substance")][c.in.Str("kind")].Amount, nil
	},
	"skin": func(c airCase) (any, error) { return text(c.k, "substances", c.in.Str("substance"), "skin") },
	"tenth-of-lel": func(c airCase) (any, error) {
		// What vapour alone in the air makes a tenth, by the rule that warns from there on.
		lel := c.num("lel") * 1e4
		ppm := interval.Exact(lel * air.FireWarnFrom)
		share, err := air.ShareOfLimits([]air.Part{{Amount: ppm, Limit: interval.Exact(lel)}})
		if err == nil && air.FireLevel(share) != air.Warn {
			err = fmt.Errorf("at a tenth the level is %s", air.FireLevel(share))
		}
		return ppm, err
	},
	"wood-dust": func(c airCase) (any, error) {
		limit := c.t.Dust[c.in.Str("limit")]
		return limit, nil
	},
	"dust-cancer": func(c airCase) (any, error) { return text(c.k, "dust-cancer", c.in.Str("dust"), "class") },
	"day-average": func(c airCase) (any, error) { return air.DayAverage(c.spans()) },
	"day-verdict": func(c airCase) (any, error) {
		average, err := air.DayAverage(c.spans())
		return verdict(average.Mul(interval.Exact(1 / c.num("limit")))), err
	},
	"mixture": func(c airCase) (any, error) { return air.ShareOfLimits(c.parts()) },
	"mixture-verdict": func(c airCase) (any, error) {
		share, err := air.ShareOfLimits(c.parts())
		return verdict(share), err
	},
}

var airVapour = map[string]airCalculator{
	"mg": func(c airCase) (any, error) { return air.ToMG(c.span("ppm"), c.span("molar")) },
	"mg-exact": func(c airCase) (any, error) {
		litres, err := air.MolarVolumeAt(c.span("c"), c.span("kpa"))
		return c.num("molar") / litres.Mid(), err
	},
	"vapour-pressure": func(c airCase) (any, error) {
		a, err := c.antoine()
		if err != nil {
			return nil, err
		}
		return a.MMHg(c.span("c"))
	},
	"boils": func(c airCase) (any, error) {
		a, err := c.antoine()
		if err != nil {
			return nil, err
		}
		return a.Celsius(interval.Exact(760))
	},
	"saturated-lel": func(c airCase) (any, error) { return saturatedLEL(c) },
	"lights": func(c airCase) (any, error) {
		share, err := saturatedLEL(c)
		return yesNo(share.Hi >= 1, "yes", "no"), err
	},
	"reaches-lel": func(c airCase) (any, error) {
		a, err := c.antoine()
		if err != nil {
			return nil, err
		}
		return a.ReachesLEL(c.span("lel"))
	},
	"class": func(c airCase) (any, error) {
		class, err := air.ClassOf(c.span("flash_c"), c.span("boils_c"))
		return class.String(), err
	},
	"class-of": func(c airCase) (any, error) {
		s, err := c.substance()
		if err == nil && s.Flash == nil {
			err = fmt.Errorf("it has no flash point")
		}
		if err != nil {
			return nil, err
		}
		class, err := air.ClassOf(*s.Flash, s.Boils)
		return class.String(), err
	},
	"ppm": func(c airCase) (any, error) { return air.PPMOf(c.span("grams"), c.span("molar"), c.span("m3")) },
	"mg-of-grams": func(c airCase) (any, error) {
		molar := c.span("molar")
		ppm, err := air.PPMOf(c.span("grams"), molar, c.span("m3"))
		if err != nil {
			return nil, err
		}
		return air.ToMG(ppm, molar)
	},
	"liquid-to-limit": func(c airCase) (any, error) {
		s, err := c.substance()
		if err != nil {
			return nil, err
		}
		limit, err := c.t.Tightest(c.in.Str("substance"))
		if err != nil {
			return nil, err
		}
		return air.LiquidFor(limit, s.Molar, s.Density)
	},
	"liquid-to-quarter": func(c airCase) (any, error) {
		s, err := c.substance()
		if err != nil {
			return nil, err
		}
		return air.LiquidFor(interval.Exact(s.LEL.Lo*1e4*air.FireStopAbove), s.Molar, s.Density)
	},
	"mixture-lel": func(c airCase) (any, error) { return air.MixtureLimit(c.parts()) },
}

func saturatedLEL(c airCase) (interval.Range, error) {
	a, err := c.antoine()
	if err != nil {
		return interval.Range{}, err
	}
	p, err := a.MMHg(c.span("c"))
	if err != nil {
		return interval.Range{}, err
	}
	return air.SaturatedLEL(p, c.span("lel"))
}
