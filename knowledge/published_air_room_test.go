package knowledge_test

import (
	"mendwright/engine/air"
	"mendwright/rules/interval"
)

var airRoom = map[string]airCalculator{
	"rise-cubic-feet": func(c airCase) (any, error) {
		room, release, err := c.roomOfFeet()
		if err != nil {
			return nil, err
		}
		return times(1e6)(room.Rise(release, c.span("minutes").Mul(interval.Exact(1.0/60))))
	},
	"steady-cubic-feet": func(c airCase) (any, error) {
		room, release, err := c.roomOfFeet()
		if err != nil {
			return nil, err
		}
		return times(1e6)(room.Steady(release))
	},
	"solvent-grams":  func(c airCase) (any, error) { return times(1.0 / 60)(solventGrams(c)) },
	"solvent-pounds": func(c airCase) (any, error) { return times(1 / 453.59237)(solventGrams(c)) },
	"vapour-litres": func(c airCase) (any, error) {
		litres, err := air.MolarVolumeAt(c.span("c"), c.span("kpa"))
		return c.num("grams") / c.num("molar") * litres.Mid(), err
	},
	"flow-litres": func(c airCase) (any, error) {
		an := interval.Exact(60) // litres an hour in a litre a minute
		return times(1000.0 / 60)(air.FlowFor(c.span("litres").Mul(an), c.span("ppm"), c.span("mixing")))
	},
	"half-life": func(c airCase) (any, error) { return air.FlowOfHalfLife(c.span("m3"), c.span("hours")) },
	"minutes-to-fall": func(c airCase) (any, error) {
		room, err := c.room()
		if err != nil {
			return nil, err
		}
		return times(60)(room.HoursToFall(c.span("from"), c.span("to")))
	},
	"hours-to-fall": func(c airCase) (any, error) {
		return air.Room{Volume: interval.Exact(1), Changes: c.span("changes")}.HoursToFall(c.span("from"), c.span("to"))
	},
	"steady-mg": func(c airCase) (any, error) { return steadyMG(c) },
	"steady-ppm": func(c airCase) (any, error) {
		mg, err := steadyMG(c)
		if err != nil {
			return nil, err
		}
		return air.ToPPM(mg, c.span("molar"))
	},
	"rise-mg": func(c airCase) (any, error) {
		room, err := c.room()
		if err != nil {
			return nil, err
		}
		return times(1000)(room.Rise(c.span("grams"), c.span("minutes").Mul(interval.Exact(1.0/60))))
	},
	"flow": func(c airCase) (any, error) {
		grams := c.span("litres").Mul(c.span("density")).Mul(interval.Exact(1000))
		litres, err := air.VapourLitres(grams, c.span("molar"))
		if err != nil {
			return nil, err
		}
		return air.FlowFor(litres, c.span("ppm"), interval.Exact(1))
	},
	"handbook-flow": func(c airCase) (any, error) {
		pints := c.span("pints_an_hour").Mul(interval.Exact(1.0 / 60))
		return air.HandbookFlow(c.span("gravity"), pints, c.span("mixing"), c.span("molar"), c.span("ppm"))
	},
	"can-litres": func(c airCase) (any, error) {
		litres, _, err := canVapour(c)
		return litres, err
	},
	"can-per-cent": func(c airCase) (any, error) {
		_, ppm, err := canVapour(c)
		return ppm.Mul(interval.Exact(1e-4)), err
	},
	"can-of-lel": func(c airCase) (any, error) {
		_, ppm, err := canVapour(c)
		if err != nil {
			return nil, err
		}
		s, err := c.substance()
		if err != nil {
			return nil, err
		}
		return times(100)(air.ShareOfLimits([]air.Part{{Amount: ppm, Limit: s.LEL.Mul(interval.Exact(1e4))}}))
	},
	"door-flow": func(c airCase) (any, error) { return air.DoorFlow(c.span("area"), c.span("wind")) },
	"door-changes": func(c airCase) (any, error) {
		flow, err := air.DoorFlow(c.span("area"), c.span("wind"))
		if err != nil {
			return nil, err
		}
		return air.Changes(flow, c.span("m3"))
	},
	"cfm":     func(c airCase) (any, error) { return c.num("cfm") * air.CFM, nil },
	"changes": func(c airCase) (any, error) { return air.Changes(c.span("flow"), c.span("volume")) },
}

func solventGrams(c airCase) (interval.Range, error) {
	grams := c.span("litres").Mul(c.span("gravity")).Mul(interval.Exact(1000))
	doses, err := air.FromGrams(grams, []air.Share{{Substance: "toluene", Of: c.span("share")}})
	if err != nil {
		return interval.Range{}, err
	}
	return doses[0].Grams, nil
}

func steadyMG(c airCase) (interval.Range, error) {
	room, err := c.room()
	if err != nil {
		return interval.Range{}, err
	}
	return room.Steady(c.span("grams").Mul(interval.Exact(1000)))
}

// canVapour is the propellant of a can, in litres and as ppm of a room.
func canVapour(c airCase) (litres, ppm interval.Range, err error) {
	s, err := c.substance()
	if err != nil {
		return litres, ppm, err
	}
	doses, err := air.Can{Grams: c.span("grams"), Propellant: c.span("propellant")}.Doses(c.in.Str("substance"), "acetone")
	if err != nil {
		return litres, ppm, err
	}
	if litres, err = air.VapourLitres(doses[0].Grams, s.Molar); err != nil {
		return litres, ppm, err
	}
	ppm, err = air.PPMOf(doses[0].Grams, s.Molar, c.span("m3"))
	return litres, ppm, err
}
