package air

import (
	"cmp"
	"fmt"
	"math"

	"mendwright/rules/interval"
)

// Figures of the gas law.
const (
	MolarVolume = 24.45 // litres a mole at 25 °C and one atmosphere, rounded as hygienists do
	atmosphere  = 760.0 // mmHg
	gasConstant = 8.314462618
)

// MolarVolumeAt returns the litres that a mole of gas fills at t °C (-100 to 300) and p kPa (above 0), by
// the gas law. It rises with t and falls with p.
func MolarVolumeAt(t, p interval.Range) (interval.Range, error) {
	if err := cmp.Or(within("the temperature", "°C", t, -100, 300), above0("the pressure", "kPa", p)); err != nil {
		return interval.Range{}, err
	}
	kelvin := t.Add(interval.Exact(273.15))
	return over(scaled(kelvin, gasConstant), p), nil
}

// ToMG turns ppm (0 or more) of a vapour of the given molar mass in g/mol (above 0) into mg/m3 at 25 °C:
// ppm M / 24.45, as handbooks of industrial hygiene and the NIOSH pocket guide do. It rises with both.
func ToMG(ppm, molar interval.Range) (interval.Range, error) {
	if err := cmp.Or(atLeast0("the vapour", "ppm", ppm), above0("the molar mass", "g/mol", molar)); err != nil {
		return interval.Range{}, err
	}
	return scaled(ppm.Mul(molar), 1/MolarVolume), nil
}

// ToPPM turns mg/m3 (0 or more) of a vapour of the given molar mass in g/mol (above 0) into ppm at 25 °C.
// It undoes ToMG for exact values; it rises with mg and falls with the molar mass.
func ToPPM(mg, molar interval.Range) (interval.Range, error) {
	if err := cmp.Or(atLeast0("the vapour", "mg/m3", mg), above0("the molar mass", "g/mol", molar)); err != nil {
		return interval.Range{}, err
	}
	return scaled(over(mg, molar), MolarVolume), nil
}

// VapourLitres returns the litres of vapour that grams (0 or more) of a liquid of the given molar mass in
// g/mol (above 0) become at 25 °C. It rises with grams and falls with the molar mass.
func VapourLitres(grams, molar interval.Range) (interval.Range, error) {
	if err := cmp.Or(atLeast0("the liquid", "g", grams), above0("the molar mass", "g/mol", molar)); err != nil {
		return interval.Range{}, err
	}
	return scaled(over(grams, molar), MolarVolume), nil
}

// PPMOf returns the ppm that grams (0 or more) of a liquid of the given molar mass in g/mol make when all
// of it has gone into volume m3 of still air (both above 0): 24450 m/(M V), from the molar volume.
func PPMOf(grams, molar, volume interval.Range) (interval.Range, error) {
	litres, err := VapourLitres(grams, molar)
	if err := cmp.Or(err, above0("the room", "m3", volume)); err != nil {
		return interval.Range{}, err
	}
	return scaled(over(litres, volume), 1000), nil
}

// LiquidFor returns the millilitres of liquid for each m3 of still air that make ppm (0 or more) of
// vapour, given molar mass in g/mol and density in g/mL (both above 0). It undoes PPMOf.
func LiquidFor(ppm, molar, density interval.Range) (interval.Range, error) {
	mg, err := ToMG(ppm, molar)
	if err := cmp.Or(err, above0("the density", "g/mL", density)); err != nil {
		return interval.Range{}, err
	}
	return scaled(over(mg, density), 1e-3), nil
}

// Antoine holds the constants of log10 p = A - B/(C + t), p in mmHg, t in °C, and the temperatures they
// were fitted to.
type Antoine struct {
	A, B, C float64
	Fits    interval.Range // °C
}

// MMHg returns the vapour pressure in mmHg over a liquid of t °C (from a degree above the pole of the
// equation to 300 °C). It rises with t. Outside Fits it is an extrapolation.
func (a Antoine) MMHg(t interval.Range) (interval.Range, error) {
	if err := within("the liquid", "°C", t, 1-a.C, 300); err != nil {
		return interval.Range{}, err
	}
	at := func(t float64) float64 { return math.Pow(10, a.A-a.B/(a.C+t)) }
	return interval.Range{Lo: at(t.Lo), Hi: at(t.Hi)}, nil
}

// Celsius returns the temperature at which the vapour pressure is mmHg (above 0 and below the most
// that the equation can give); at 760 it is the boiling point. It rises with mmHg and undoes MMHg.
func (a Antoine) Celsius(mmHg interval.Range) (interval.Range, error) {
	most := math.Pow(10, a.A)
	if !mmHg.Valid() || mmHg.Lo <= 0 || mmHg.Hi >= most {
		return interval.Range{}, fmt.Errorf("the vapour pressure reads %s; expected more than 0 and less than %s mmHg", show(mmHg, "mmHg"), figure(most))
	}
	at := func(p float64) float64 { return a.B/(a.A-math.Log10(p)) - a.C }
	return interval.Range{Lo: at(mmHg.Lo), Hi: at(mmHg.Hi)}, nil
}

// SaturatedPPM returns the ppm in air that stands in balance with a liquid whose vapour pressure is mmHg
// (0 or more): a million times its share of the atmosphere, and no more than a million.
func SaturatedPPM(mmHg interval.Range) (interval.Range, error) {
	if err := atLeast0("the vapour pressure", "mmHg", mmHg); err != nil {
		return interval.Range{}, err
	}
	at := func(p float64) float64 { return min(1, p/atmosphere) * 1e6 }
	return interval.Range{Lo: at(mmHg.Lo), Hi: at(mmHg.Hi)}, nil
}

// Saturation returns the most ppm of a substance that air of the given °C (-20 to 50) can hold. Without
// constants it takes the listed pressure at 20 °C as the least, and as the most that pressure times
// 2.5 for every 10 °C above 20: a choice of this program on the high side. The error names an
// unknown substance.
func (t Tables) Saturation(substance string, air interval.Range) (interval.Range, error) {
	s, err := t.Substance(substance)
	if err := cmp.Or(err, within("the air", "°C", air, -20, 50)); err != nil {
		return interval.Range{}, err
	}
	p := s.Vapour
	if s.Antoine != nil {
		if p, err = s.Antoine.MMHg(air); err != nil {
			return interval.Range{}, err
		}
	} else {
		p.Hi *= math.Pow(2.5, max(0, air.Hi-20)/10)
	}
	return SaturatedPPM(p)
}
