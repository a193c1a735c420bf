package check

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"mendwright/cmd/mendwright/screen"
	"mendwright/engine/air"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
	"mendwright/rules/strictyaml"
)

// Air is a question about the air: what evaporates, the weather for a coat, or both. Each field is as
// a person typed it, "" if not given.
type Air struct {
	Solvent, Amount, Room, Place, Time string
	Air, Humidity, Surface, Coat       string
}

// ErrNothingAsked says that neither a solvent nor a coat is named.
var ErrNothingAsked = errors.New("say what evaporates or which coat, or both")

// Ask asks the arithmetic. The error is a *FieldError, ErrNothingAsked, or says what is wrong with a mixture.
func (q Air) Ask(t air.Tables) (*screen.AirAnswer, error) {
	a := &screen.AirAnswer{}
	warm, err := quantityOr("air", q.Air, "°C", interval.Exact(20))
	if err != nil {
		return nil, err
	}
	if q.Solvent == "" && q.Coat == "" {
		return nil, ErrNothingAsked
	}
	if q.Solvent != "" {
		if a.Vapour, err = q.vapour(t, warm); err != nil {
			return nil, err
		}
	}
	if q.Coat != "" {
		if a.Weather, err = q.weather(t, warm); err != nil {
			return nil, err
		}
	}
	return a, nil
}

// Stops reports whether the answer is to stop.
func Stops(a *screen.AirAnswer) bool {
	return a.Vapour != nil && (a.Vapour.Overall == "stop" || a.Vapour.Overall == "get-out") || a.Weather != nil && a.Weather.Overall == "stop"
}

func (q Air) vapour(t air.Tables, warm interval.Range) (*screen.VapourAnswer, error) {
	shares, err := mixture(q.Solvent, t)
	if err != nil {
		return nil, &FieldError{Field: "solvent", Err: err}
	}
	litres, err := required("amount", q.Amount, "L", "30 ml")
	if err != nil {
		return nil, err
	}
	volume, err := required("room", q.Room, "m³", "40 m³")
	if err != nil {
		return nil, err
	}
	minutes, err := quantityOr("time", q.Time, "min", interval.Exact(0))
	if err != nil {
		return nil, err
	}
	place, ok := t.Places[q.Place]
	if !ok {
		return nil, unknown("place", q.Place, slices.Sorted(maps.Keys(t.Places)))
	}
	doses, err := t.FromLitres(litres, shares)
	if err != nil {
		return nil, err
	}
	r, err := t.Judge(doses, air.Room{Volume: volume, Changes: place.Changes, Mixing: place.Mixing}, warm, minutes)
	if err != nil {
		return nil, err
	}
	return screen.NewVapour(q.Place, litres, volume, minutes, place, r), nil
}

func (q Air) weather(t air.Tables, warm interval.Range) (*screen.WeatherAnswer, error) {
	coat, ok := t.Coats[q.Coat]
	if !ok {
		return nil, unknown("coat", q.Coat, slices.Sorted(maps.Keys(t.Coats)))
	}
	humidity, err := required("humidity", q.Humidity, "%", "55 %")
	if err != nil {
		return nil, err
	}
	// Wood is often some degrees colder than the air after a cold night or a ride in a van.
	surface, err := quantityOr("surface", q.Surface, "°C", interval.Range{Lo: warm.Lo - 4, Hi: warm.Hi})
	if err != nil {
		return nil, err
	}
	w := air.Weather{Air: warm, Humidity: humidity, Surface: surface}
	out, err := w.For(coat)
	if err != nil {
		return nil, err
	}
	return screen.NewWeather(q.Coat, w, coat, out), nil
}

// mixture reads "mineral-spirits" or "acetone=60,toluene=40".
func mixture(text string, t air.Tables) ([]air.Share, error) {
	var out []air.Share
	sum := 0.0
	for _, part := range strings.Split(text, ",") {
		name, share, given := strings.Cut(strings.TrimSpace(part), "=")
		if _, err := t.Substance(name); err != nil {
			return nil, fmt.Errorf("%w%s", err, strictyaml.Nearest(name, slices.Sorted(maps.Keys(t.Substances))))
		}
		v := 100.0
		if given {
			q, err := quantity.Parse(share, "%")
			if err != nil {
				return nil, err
			}
			v = q.Mid()
		}
		sum += v
		out = append(out, air.Share{Substance: name, Of: interval.Exact(v / 100)})
	}
	if sum > 100.001 {
		return nil, fmt.Errorf("the shares of %q add up to %g %%, more than all of it", text, sum)
	}
	return out, nil
}

// unknown is the error of a word that is none of those expected.
func unknown(field, text string, names []string) error {
	return &FieldError{Field: field, Err: fmt.Errorf("read %q; expected one of %s%s", text, strings.Join(names, ", "), strictyaml.Nearest(text, names))}
}

// required reads a field that must be given as a quantity.
func required(field, text, unit, example string) (interval.Range, error) {
	if text == "" {
		return interval.Range{}, &FieldError{Field: field, Example: example}
	}
	return quantityOr(field, text, unit, interval.Range{})
}

// quantityOr reads a field as a quantity, or takes what stands in for one that was not given.
func quantityOr(field, text, unit string, otherwise interval.Range) (interval.Range, error) {
	if text == "" {
		return otherwise, nil
	}
	q, err := quantity.Parse(text, unit)
	if err != nil {
		return interval.Range{}, &FieldError{Field: field, Err: err}
	}
	return q.Range, nil
}
