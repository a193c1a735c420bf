package air

import (
	"cmp"
	"math"

	"mendwright/rules/interval"
)

// What every coat asks for, by makers' pages that name ISO 8502-4 and ISO 12944-7.
const (
	LeastMargin  = 3.0  // °C by which the surface is to be warmer than the dew point
	DampestPaint = 85.0 // per cent; relative humidity must be below it
)

// Weather is the air round the work and the work itself. A surface may be some degrees colder than the
// air after a cold night or a ride.
type Weather struct {
	Air      interval.Range // °C, -30 to 60
	Humidity interval.Range // relative, per cent, 0 to 100
	Surface  interval.Range // °C, -30 to 60
}

// CoatWeather is what a kind of coat asks of the weather.
type CoatWeather struct {
	Air        interval.Range // °C in which it works
	Best       interval.Range // °C in which it works well
	Warn, Stop float64        // per cent of relative humidity above which to be careful, and to wait
}

// Outlook is weather judged for a coat, each level at its worst end.
type Outlook struct {
	DewPoint interval.Range // °C
	Margin   interval.Range // °C of the surface above the dew point
	Dew      Level          // Stop if the margin is too small
	Humid    Level
	Warmth   Level
	Overall  Level // the worst of the three
}

// For judges the weather for a coat: surface at least LeastMargin above the dew point, humidity below
// DampestPaint and what the coat allows, air as warm as the coat asks. The error says what of the
// weather is out of range.
func (w Weather) For(c CoatWeather) (Outlook, error) {
	dew, err := DewPoint(w.Air, w.Humidity)
	if err := cmp.Or(err, within("the surface", "°C", w.Surface, -30, 60)); err != nil {
		return Outlook{}, err
	}
	o := Outlook{DewPoint: dew, Margin: w.Surface.Sub(dew), Dew: Go, Humid: Go, Warmth: Go}
	if o.Margin.Lo < LeastMargin {
		o.Dew = Stop
	}
	switch damp := w.Humidity.Hi; {
	case damp >= DampestPaint || damp > c.Stop:
		o.Humid = Stop
	case damp > c.Warn:
		o.Humid = Warn
	}
	switch {
	case !w.Air.Within(c.Air):
		o.Warmth = Stop
	case !w.Air.Within(c.Best):
		o.Warmth = Warn
	}
	o.Overall = max(o.Dew, o.Humid, o.Warmth)
	return o, nil
}

// DryFactor returns by what factor the drying time of an oil or reactive film grows at t °C (-10 to 50)
// against 23 °C: 2^((23 - t)/10), as oil takes up oxygen twice as fast for every 10 °C. As a rule
// for drying times it is a choice of this program. It falls with t.
func DryFactor(t interval.Range) (interval.Range, error) {
	if err := within("the air", "°C", t, -10, 50); err != nil {
		return interval.Range{}, err
	}
	at := func(t float64) float64 { return math.Exp2((23 - t) / 10) }
	return interval.Range{Lo: at(t.Hi), Hi: at(t.Lo)}, nil
}
