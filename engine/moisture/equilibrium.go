package moisture

import (
	"math"

	"mendwright/rules/interval"
)

// The climates that the two equations are used for. The first was held against the handbook's
// table from -1 to 93 °C and 5 to 95 %; at 100 % there is no equilibrium to speak of.
const (
	coldest, hottest = -10, 100 // °C
	dampest          = 99.9     // %
)

func climate(celsius, humidity interval.Range) error {
	if err := check("temperature", celsius, coldest, hottest, "°C"); err != nil {
		return err
	}
	return check("relative humidity", humidity, 0, dampest, "%")
}

// Equilibrium is the moisture content in percent of dry weight at which wood comes to rest in air
// of a temperature (°C, -10 to 100) and relative humidity (%, 0 to 99.9). It is the
// Hailwood-Horrobin form, equation 4-5 of the Wood Handbook FPL-GTR-282 (2021), also in
// FPL-RN-0268 (1998); it meets the handbook's table 4-2 to its rounding. Single timbers differ
// from it by a point or so. The answer spans exactly what the ranges allow: moisture rises with
// humidity, and with temperature it rises to one peak (somewhere below 10 °C) and falls after it,
// so that the hottest or the coldest end is the driest and the peak, if inside, the dampest.
// Errors: a range outside these limits.
func Equilibrium(celsius, humidity interval.Range) (interval.Range, error) {
	if err := climate(celsius, humidity); err != nil {
		return interval.Range{}, err
	}
	peak := peakOf(func(t float64) float64 { return hailwood(t, humidity.Hi) })
	at := min(max(peak, celsius.Lo), celsius.Hi)
	return interval.Range{
		Lo: min(hailwood(celsius.Lo, humidity.Lo), hailwood(celsius.Hi, humidity.Lo)),
		Hi: max(hailwood(celsius.Lo, humidity.Hi), hailwood(celsius.Hi, humidity.Hi), hailwood(at, humidity.Hi)),
	}, nil
}

// hailwood is equation 4-5 at one point.
func hailwood(t, humidity float64) float64 {
	w := 349 + 1.29*t + 0.0135*t*t
	k := 0.805 + 0.000736*t - 0.00000273*t*t
	k1 := 6.27 - 0.00938*t - 0.000303*t*t
	k2 := 1.91 + 0.0407*t - 0.000293*t*t
	x := k * humidity / 100
	return 1800 / w * (x/(1-x) + (k1*x+2*k1*k2*x*x)/(1+k1*x+k1*k2*x*x))
}

// peakOf finds where a function that rises and then falls between coldest and hottest is highest,
// by golden section. It does not depend on the range asked about, so that nested ranges agree.
func peakOf(f func(float64) float64) float64 {
	ratio := (math.Sqrt(5) - 1) / 2
	lo, hi := float64(coldest), float64(hottest)
	a, b := hi-ratio*(hi-lo), lo+ratio*(hi-lo)
	fa, fb := f(a), f(b)
	for hi-lo > 1e-7 {
		if fa > fb {
			hi, b, fb = b, a, fa
			a = hi - ratio*(hi-lo)
			fa = f(a)
		} else {
			lo, a, fa = a, b, fb
			b = lo + ratio*(hi-lo)
			fb = f(b)
		}
	}
	return (lo + hi) / 2
}

// The constants of equations 4-6 and 4-7.
const (
	altA, altB, altC, altD = -0.000612, 2.43, 0.0577, 0.430
	altCritical            = 647.1 // K
	zeroCelsius            = 273.15
)

// EquilibriumAlt is the same moisture content by the other equation of the Wood Handbook
// FPL-GTR-282 (2021), 4-6, with the same units and limits as Equilibrium; the two differ by some
// tenths of a percent in the air of rooms and by more in the cold and the damp. It rises with
// humidity and falls with temperature, so the answer spans exactly the two opposite ends. Errors:
// a range outside these limits.
func EquilibriumAlt(celsius, humidity interval.Range) (interval.Range, error) {
	if err := climate(celsius, humidity); err != nil {
		return interval.Range{}, err
	}
	return interval.Range{Lo: alternative(celsius.Hi, humidity.Lo), Hi: alternative(celsius.Lo, humidity.Hi)}, nil
}

// alternative is equation 4-6 at one point.
func alternative(celsius, humidity float64) float64 {
	t := celsius + zeroCelsius
	return 100 * math.Pow(altA*t*math.Pow(1-t/altCritical, altB)*math.Log1p(-humidity/100), altC*math.Pow(t, altD))
}

// HumidityAlt undoes EquilibriumAlt: the relative humidity in percent at which wood of a moisture
// content (%, 0 to 30) neither takes up nor gives off water at a temperature (°C, -10 to 100).
// Equation 4-7 of the Wood Handbook FPL-GTR-282 (2021). It rises with both, so the answer spans
// exactly the two ends. Errors: a range outside these limits.
func HumidityAlt(celsius, content interval.Range) (interval.Range, error) {
	if err := check("temperature", celsius, coldest, hottest, "°C"); err != nil {
		return interval.Range{}, err
	}
	if err := check("moisture content", content, 0, saturation, "%"); err != nil {
		return interval.Range{}, err
	}
	return interval.Range{Lo: inverse(celsius.Lo, content.Lo), Hi: inverse(celsius.Hi, content.Hi)}, nil
}

// inverse is equation 4-7 at one point.
func inverse(celsius, content float64) float64 {
	t := celsius + zeroCelsius
	return -100 * math.Expm1(math.Pow(content/100, math.Pow(t, -altD)/altC)*math.Pow(1-t/altCritical, -altB)/(altA*t))
}
