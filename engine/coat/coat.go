// Package coat is the arithmetic of finishing: film and spreading rate, coats, litres and grams,
// shellac cuts, drying and recoat windows, what may go over what, weather, sheen, rating scales
// and the strength of washes.
//
// Films are micrometres, rates square metres per litre, solids per cent by volume, times hours,
// temperatures degrees Celsius, humidity per cent, unless a name says otherwise. Every measured
// input is a range; the answer is the exact hull of what its values give, so a closer measurement
// gives an answer inside the wider one. The package knows no rule and no job; its tables come
// from outside.
package coat

import (
	"fmt"
	"math"

	"mendwright/rules/interval"
)

// Truth is the answer to a yes-or-no question about measured values. The zero Truth is Unknown:
// the measurements allow both.
type Truth int

// The truths.
const (
	Unknown Truth = iota
	No
	Yes
)

func (t Truth) String() string { return [...]string{"unknown", "no", "yes"}[t] }

// play is how far a value may lie beside a printed limit and still count as lying on it, as a
// share of the limit: 6 x 25.4 in floating point is not quite 152.4.
const play = 1e-9

// from says whether r reaches limit.
func from(r interval.Range, limit float64) Truth {
	limit -= play * math.Abs(limit)
	switch {
	case r.Lo >= limit:
		return Yes
	case r.Hi < limit:
		return No
	}
	return Unknown
}

// above says whether r lies above limit.
func above(r interval.Range, limit float64) Truth {
	limit += play * math.Abs(limit)
	switch {
	case r.Lo > limit:
		return Yes
	case r.Hi <= limit:
		return No
	}
	return Unknown
}

// not turns yes into no and back.
func (t Truth) not() Truth { return [...]Truth{Unknown, Yes, No}[t] }

// and is yes if both are, and no if either is.
func (t Truth) and(o Truth) Truth {
	switch {
	case t == No || o == No:
		return No
	case t == Yes && o == Yes:
		return Yes
	}
	return Unknown
}

// Span is a range of whole numbers, both ends included.
type Span struct {
	Lo int `json:"lo"`
	Hi int `json:"hi"`
}

// Exact reports whether the span holds one number alone.
func (s Span) Exact() bool { return s.Lo == s.Hi }

func (s Span) String() string {
	if s.Exact() {
		return fmt.Sprint(s.Lo)
	}
	return fmt.Sprintf("%d to %d", s.Lo, s.Hi)
}

// quantity is a measured input with what it may be.
type quantity struct {
	name, unit string
	lo, hi     float64
}

// What the inputs of this package may be.
var (
	wetFilm     = quantity{"the wet film", "µm", 0, 5000}
	dryFilm     = quantity{"the dry film", "µm", 0, 5000}
	solids      = quantity{"the share of solids by volume", "%", 0, 100}
	someSolids  = quantity{"the share of solids by volume", "%", 0.1, 100}
	rate        = quantity{"the spreading rate", "m²/L", 0.1, 1000}
	temperature = quantity{"the temperature", "°C", -20, 60}
	humidity    = quantity{"the humidity", "%", 0, 100}
	hours       = quantity{"the time", "h", 0, 100000}
)

// holds says what was read and what was expected, if r is no range of q.
func (q quantity) holds(r interval.Range) error {
	if r.Valid() && q.lo <= r.Lo && r.Hi <= q.hi {
		return nil
	}
	read := fmt.Sprintf("%g to %g %s", r.Lo, r.Hi, q.unit)
	if r.Lo == r.Hi {
		read = fmt.Sprintf("%g %s", r.Lo, q.unit)
	}
	return fmt.Errorf("%s reads %s; expected %g to %g %s, the lower number first", q.name, read, q.lo, q.hi, q.unit)
}

// positive says what was read, if r reaches down to 0.
func (q quantity) positive(r interval.Range) error {
	if err := q.holds(r); err != nil || r.Lo > 0 {
		return err
	}
	return fmt.Errorf("%s reads from %g %s; expected more than 0", q.name, r.Lo, q.unit)
}

// first returns the first error that is one.
func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// rising is the hull of f over x, where f only ever rises.
func rising(x interval.Range, f func(float64) float64) interval.Range {
	return interval.Range{Lo: f(x.Lo), Hi: f(x.Hi)}
}

// falling is the hull of f over x, where f only ever falls.
func falling(x interval.Range, f func(float64) float64) interval.Range {
	return interval.Range{Lo: f(x.Hi), Hi: f(x.Lo)}
}
