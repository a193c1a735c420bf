package air

import (
	"cmp"
	"fmt"
	"math"

	"mendwright/rules/interval"
)

// Constants of the vapour pressure of water, es = 6.112 exp(a t/(b + t)) hPa. They agree with other sets
// in use within 0.07 °C of dew point from 10 to 30 °C. From memory of the WMO guide to instruments.
const (
	waterA  = 17.62
	waterB  = 243.12
	waterES = 6.112
)

// A hygrometer that reads less than this is read as this: no shop is drier, and nothing has no dew point.
const driest = 1.0

func water(t float64) float64 { return waterES * math.Exp(waterA*t/(waterB+t)) }

func dewPoint(t, humidity float64) float64 {
	g := math.Log(max(driest, humidity)/100) + waterA*t/(waterB+t)
	return waterB * g / (waterA - g)
}

func checkAir(t, humidity interval.Range) error {
	return cmp.Or(within("the air", "°C", t, -30, 60), within("the humidity", "%", humidity, 0, 100))
}

// WaterPascals returns the vapour pressure of water in Pa at t °C (-30 to 60). It rises with t.
func WaterPascals(t interval.Range) (interval.Range, error) {
	if err := within("the water", "°C", t, -30, 60); err != nil {
		return interval.Range{}, err
	}
	return interval.Range{Lo: 100 * water(t.Lo), Hi: 100 * water(t.Hi)}, nil
}

// DewPoint returns the dew point in °C of air of t °C (-30 to 60) and a relative humidity in per cent (0
// to 100; less than 1 counts as 1): b g/(a - g) with g = ln(RH/100) + a t/(b + t), from Magnus. It
// rises with both. Below 0 °C it is still the point of dew, not of frost, which lies up to an eighth
// of the degrees below 0 higher by the same guide's constants over ice.
func DewPoint(t, humidity interval.Range) (interval.Range, error) {
	if err := checkAir(t, humidity); err != nil {
		return interval.Range{}, err
	}
	return interval.Range{Lo: dewPoint(t.Lo, humidity.Lo), Hi: dewPoint(t.Hi, humidity.Hi)}, nil
}

// Spread returns by how many °C the dew point lies below air of t °C (-30 to 60) and a relative humidity in
// per cent (0 to 100; less than 1 counts as 1). It rises with t and falls with the humidity.
func Spread(t, humidity interval.Range) (interval.Range, error) {
	if err := checkAir(t, humidity); err != nil {
		return interval.Range{}, err
	}
	at := func(t, humidity float64) float64 { return t - dewPoint(t, humidity) }
	return interval.Range{Lo: at(t.Lo, humidity.Hi), Hi: at(t.Hi, humidity.Lo)}, nil
}

// HumidityOfSpread returns the relative humidity in per cent of air of t °C (-30 to 60) whose dew point
// lies spread °C (0 to 100) below it. It rises with t, falls with the spread, and undoes Spread. With
// the spread between a cold surface and the dew point it is the humidity at that surface.
func HumidityOfSpread(t, spread interval.Range) (interval.Range, error) {
	if err := cmp.Or(within("the air", "°C", t, -30, 60), within("the spread", "°C", spread, 0, 100)); err != nil {
		return interval.Range{}, err
	}
	at := func(t, spread float64) float64 { return 100 * water(t-spread) / water(t) }
	return interval.Range{Lo: at(t.Lo, spread.Hi), Hi: at(t.Hi, spread.Lo)}, nil
}

// wetHumidity is the relative humidity in per cent by the psychrometer formula of the Arizona weather
// network, with the vapour pressure of water that goes with it.
func wetHumidity(dry, wet, hPa float64) float64 {
	es := func(t float64) float64 { return 6.108 * math.Exp(17.27*t/(237.3+t)) }
	return 100 * (es(wet) - 0.00066*(1+0.00115*wet)*(dry-wet)*hPa) / es(dry)
}

// HumidityOfWetBulb returns the relative humidity in per cent by a dry and a wet thermometer (0 to 60 °C)
// at an air pressure in hPa (500 to 1100): e = es(W) - 0.00066 (1 + 0.00115 W)(T - W) P, from the
// Arizona weather network. It rises with wet, falls with dry and pressure. The error says that the
// wet bulb is warmer than the dry one or colder than dry air could make it.
func HumidityOfWetBulb(dry, wet, hPa interval.Range) (interval.Range, error) {
	if err := cmp.Or(within("the dry bulb", "°C", dry, 0, 60), within("the wet bulb", "°C", wet, 0, 60), within("the pressure", "hPa", hPa, 500, 1100)); err != nil {
		return interval.Range{}, err
	}
	if wet.Lo > dry.Hi {
		return interval.Range{}, fmt.Errorf("the wet bulb reads %s and the dry bulb %s; expected the wet bulb to be no warmer", show(wet, "°C"), show(dry, "°C"))
	}
	h := interval.Range{Hi: 100}
	if wet.Hi < dry.Lo {
		h.Hi = wetHumidity(dry.Lo, wet.Hi, hPa.Lo)
	}
	if h.Hi < 0 {
		return interval.Range{}, fmt.Errorf("the wet bulb reads %s and the dry bulb %s; even the driest air would leave the wet bulb warmer", show(wet, "°C"), show(dry, "°C"))
	}
	h.Lo = max(0, wetHumidity(dry.Hi, wet.Lo, hPa.Hi))
	return h, nil
}

// WetBulb returns the wet-bulb temperature in °C of air of t °C (-10 to 60) and a relative humidity in per
// cent (0 to 100) at a pressure in hPa (500 to 1100). It undoes HumidityOfWetBulb and rises with all
// three. Below 0 °C it holds for water that has not frozen.
func WetBulb(t, humidity, hPa interval.Range) (interval.Range, error) {
	if err := cmp.Or(within("the air", "°C", t, -10, 60), within("the humidity", "%", humidity, 0, 100), within("the pressure", "hPa", hPa, 500, 1100)); err != nil {
		return interval.Range{}, err
	}
	at := func(t, humidity, hPa float64) float64 {
		lo, hi := -40.0, t
		for range 60 {
			if mid := lo + (hi-lo)/2; wetHumidity(t, mid, hPa) < humidity {
				lo = mid
			} else {
				hi = mid
			}
		}
		return hi
	}
	return interval.Range{Lo: at(t.Lo, humidity.Lo, hPa.Lo), Hi: at(t.Hi, humidity.Hi, hPa.Hi)}, nil
}
