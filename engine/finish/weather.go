package finish

import (
	"mendwright/engine/air"
	"mendwright/engine/coat"
	"mendwright/rules/interval"
)

// Weather is today's weather judged for a coat.
type Weather struct {
	Verdict    Verdict        `json:"verdict"`
	AirC       interval.Range `json:"air_c"`
	SurfaceC   interval.Range `json:"surface_c"`
	Humidity   interval.Range `json:"humidity"`
	DewC       interval.Range `json:"dew_point_c"`
	MarginC    interval.Range `json:"surface_above_dew_point_c"`
	StandsC    interval.Range `json:"coat_stands_c"`
	StandsDamp interval.Range `json:"coat_stands_humidity"` // below the lower end with care, below the upper one
	NoSurface  bool           `json:"surface_not_measured,omitempty"`
	NoHumidity bool           `json:"humidity_not_measured,omitempty"`
	Reasons    []Reason       `json:"reasons"`
	Until      []Until        `json:"until"`
	Sources    []string       `json:"sources"`
}

// Reason is one thing that speaks against a coat today.
type Reason struct {
	Of      string  `json:"of"` // air, surface, humidity or dew-margin
	Verdict Verdict `json:"verdict"`
	Certain bool    `json:"certain"` // whatever the true value within what was given
	Why     string  `json:"why"`
}

// Until is what a quantity must come to for the worst reasons to fall away.
type Until struct {
	Of   string  `json:"of"` // air, surface or humidity
	Side string  `json:"side"`
	At   float64 `json:"at"` // °C or %
	// Certain says that it is not so now, whatever the true value within what was given.
	Certain bool `json:"certain"`
	// Sprayed says that it is asked only of a coat that is sprayed, and nobody said whether it is.
	Sprayed bool `json:"if_sprayed,omitempty"`
	// Dew says that the wood must be so warm because of the dew point.
	Dew bool `json:"dew,omitempty"`
	// OrHumidity is the humidity in per cent at which the wood would be warm enough as it is.
	OrHumidity *float64 `json:"or_humidity_at_most,omitempty"`
}

// Wood is often some degrees colder than the air after a cold night or a ride in a van.
const colderWood = 4.0 // °C, a choice of this program

// day is the weather with what nobody measured standing for all it could be.
func (j *judge) day() (coat.Day, interval.Range, error) {
	d := coat.Day{Air: *j.q.Air, Humidity: interval.Range{Lo: 0, Hi: 100}}
	if j.q.Humidity != nil {
		d.Humidity = *j.q.Humidity
	}
	d.Surface = interval.Range{Lo: d.Air.Lo - colderWood, Hi: d.Air.Hi}
	if j.q.Surface != nil {
		d.Surface = *j.q.Surface
	}
	if j.q.Way != "" {
		d.Spray = coat.No
		if j.t.Sprays[j.q.Way] {
			d.Spray = coat.Yes
		}
	}
	dew, err := air.DewPoint(d.Air, d.Humidity)
	if err != nil {
		return d, dew, err
	}
	d.DewMargin, err = coat.DewMargin(d.Surface, dew)
	return d, dew, err
}

func (j *judge) weather(c coat.Coat) (*Weather, error) {
	d, dew, err := j.day()
	if err != nil {
		return nil, err
	}
	judged, err := c.Judge(d)
	if err != nil {
		return nil, err
	}
	w := &Weather{
		Verdict: weatherVerdict(judged), AirC: d.Air, SurfaceC: d.Surface, Humidity: d.Humidity, DewC: dew, MarginC: d.DewMargin,
		StandsC: c.Air, StandsDamp: c.Humidity,
		NoSurface: j.q.Surface == nil, NoHumidity: j.q.Humidity == nil,
		Reasons: reasons(judged), Until: until(c, d, dew, judged),
		Sources: j.cite("coats", c.Name, "design-choice", "finish-weather", "paint-weather"),
	}
	return w, nil
}

// weatherVerdict is cautious: what may have to wait is not known, and what is at worst a matter of
// care is one.
func weatherVerdict(w coat.Weather) Verdict {
	switch {
	case w.Worst == coat.Wait && w.Best == coat.Wait:
		return Wait
	case w.Worst == coat.Wait:
		return NotKnown
	case w.Worst == coat.Care:
		return Care
	}
	return Go
}

func reasons(w coat.Weather) []Reason {
	out := []Reason{}
	for _, r := range w.Reasons {
		v := Care
		if r.Verdict == coat.Wait {
			v = Wait
		}
		out = append(out, Reason{r.Of, v, r.Certain, r.Why})
	}
	return out
}

// until says what would lift the worst verdict: of each quantity and side the strictest bound.
func until(c coat.Coat, d coat.Day, dew interval.Range, w coat.Weather) []Until {
	out := []Until{}
	for _, r := range w.Reasons {
		if r.Verdict != w.Worst {
			continue
		}
		u := Until{Of: r.Of, Side: r.Until.Side.String(), At: r.Until.At}
		if r.Of == "dew-margin" {
			u = clearOfDew(c, d, dew)
		}
		u.Certain, u.Sprayed = r.Certain, r.Sprayed
		out = add(out, u)
	}
	return out
}

// add keeps the stricter of two bounds on the same side of a quantity.
func add(list []Until, u Until) []Until {
	for i, o := range list {
		low := u.Side == coat.AtLeast.String()
		if o.Of != u.Of || o.Sprayed != u.Sprayed || low != (o.Side == coat.AtLeast.String()) {
			continue
		}
		u.Certain = u.Certain || o.Certain
		if low && u.At < o.At || !low && u.At > o.At {
			o.Certain = u.Certain
			u = o
		}
		list[i] = u
		return list
	}
	return append(list, u)
}

// clearOfDew is how warm the wood must be to stand clear of the dew point, and how dry the air
// would have to be instead. Wood that would have to be warmer than the coat stands leaves the air
// alone.
func clearOfDew(c coat.Coat, d coat.Day, dew interval.Range) Until {
	u := Until{Of: "surface", Side: coat.AtLeast.String(), At: dew.Hi + coat.LeastDewMargin, Dew: true}
	spread := d.Air.Hi - (d.Surface.Lo - coat.LeastDewMargin)
	dry, err := air.HumidityOfSpread(interval.Exact(d.Air.Hi), interval.Exact(spread))
	if err != nil {
		return u // the air could not be dry enough, or is
	}
	if u.At > c.Air.Hi {
		return Until{Of: "humidity", Side: coat.AtMost.String(), At: dry.Lo, Dew: true}
	}
	u.OrHumidity = &dry.Lo
	return u
}
