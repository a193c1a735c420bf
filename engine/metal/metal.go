// Package metal is the arithmetic of hardware: what takes rust off and how much of it, what a bath
// does to a part, hydrogen, rust grades, density, threads, screws, and metals that touch.
//
// Every measured input is a range. The answer is the exact hull of what the inputs allow: each
// formula rises or falls steadily with each input, so the ends of the answer lie at ends of the
// inputs, and a closer measurement gives an answer within that of a coarser one.
//
// It knows no rule and no job; its tables come from outside.
package metal

import (
	"fmt"

	"mendwright/rules/interval"
)

// Tables are the figures that are content and not arithmetic.
type Tables struct {
	Baths      []BathRule
	Metals     []Metal
	Potentials []Potential
	Screws     []Screw
	Threads    []Thread
}

// Place is where a measured range lies against a band whose ends belong to it.
type Place int

// The places.
const (
	Unsettled Place = iota // the range lies in more than one of the others
	Below
	Inside
	Above
)

func (p Place) String() string { return [...]string{"unsettled", "below", "inside", "above"}[p] }

func place(r, band interval.Range) Place {
	switch {
	case r.Within(band):
		return Inside
	case r.Hi < band.Lo:
		return Below
	case r.Lo > band.Hi:
		return Above
	}
	return Unsettled
}

// need returns an error unless r is a range that lies in valid.
func need(what, unit string, r, valid interval.Range) error {
	if r.Valid() && r.Within(valid) {
		return nil
	}
	return fmt.Errorf("read %s for %s; expected %s", written(r, unit), what, written(valid, unit))
}

func written(r interval.Range, unit string) string {
	s := fmt.Sprintf("%.9g to %.9g", r.Lo, r.Hi)
	if r.Lo == r.Hi {
		s = fmt.Sprintf("%.9g", r.Lo)
	}
	if unit == "" {
		return s
	}
	return s + " " + unit
}

// div is the range of quotients of a value from r, not below 0, and one from o, above 0.
func div(r, o interval.Range) interval.Range { return interval.Range{Lo: r.Lo / o.Hi, Hi: r.Hi / o.Lo} }

func scale(r interval.Range, by float64) interval.Range { return r.Mul(interval.Exact(by)) }
