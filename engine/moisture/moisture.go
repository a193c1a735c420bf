// Package moisture is the arithmetic of water in wood: the moisture that wood settles at, how far
// a board moves, what is left of a raised dent, how hot a face may get, how long wet wood takes to
// dry, what a meter reads, and what ends rot and insects. Lengths are millimetres, temperatures
// degrees Celsius, moisture and humidity percent, times hours, unless a name says otherwise.
//
// Every measured input is a range and every answer spans exactly what its inputs allow, so that a
// closer measurement never contradicts a wider one. The package knows no rule and no job; its
// tables come from outside.
package moisture

import (
	"fmt"

	"mendwright/rules/interval"
)

// Tables are the figures the arithmetic stands on. The zero Tables know nothing.
type Tables struct {
	Timbers    map[string]Timber
	Recoveries map[string]interval.Range // share of a dent's depth that comes back, by kind of dent
	Waits      map[string]Wait           // by what made the wood wet
	Glues      map[string]interval.Range // temperature in °C at which a glue begins to let go
	Treatments []Treatment
}

// Truth is what the measurements say about a statement. The zero Truth is Unknown; a closer
// measurement may settle it but never turns a Yes into a No.
type Truth int

// The truths.
const (
	Unknown Truth = iota // the measurements allow both
	No
	Yes
)

func (t Truth) String() string { return [...]string{"unknown", "no", "yes"}[t] }

// slack lets a reading that stands on a limit count as on it whatever floating point makes of it.
const slack = 1e-9

// atMost says whether all of r is no more than limit.
func atMost(r interval.Range, limit float64) Truth {
	switch {
	case r.Hi <= limit+slack:
		return Yes
	case r.Lo > limit+slack:
		return No
	}
	return Unknown
}

// atLeast says whether all of r is no less than limit.
func atLeast(r interval.Range, limit float64) Truth {
	switch {
	case r.Lo >= limit-slack:
		return Yes
	case r.Hi < limit-slack:
		return No
	}
	return Unknown
}

// all is Yes if every one is, No if any is.
func all(truths ...Truth) Truth {
	out := Yes
	for _, t := range truths {
		if t == No {
			return No
		}
		if t == Unknown {
			out = Unknown
		}
	}
	return out
}

// check is an error if r is not a range between lo and hi; what names the input, unit its unit.
func check(what string, r interval.Range, lo, hi float64, unit string) error {
	if r.Valid() && r.Lo >= lo && r.Hi <= hi {
		return nil
	}
	read := fmt.Sprintf("%v", r.Lo)
	if r.Lo != r.Hi {
		read = fmt.Sprintf("%v to %v", r.Lo, r.Hi)
	}
	return fmt.Errorf("read %s %s for the %s; expected between %v and %v %s", read, unit, what, lo, hi, unit)
}

// corners is the hull of f over a box, for a function that along each axis only rises or only
// falls while the others stand still (which of the two may depend on the others): its extremes
// lie in corners.
func corners(f func(x []float64) float64, box ...interval.Range) interval.Range {
	x := make([]float64, len(box))
	var out interval.Range
	for bits := range 1 << len(box) {
		for i, r := range box {
			x[i] = r.Lo
			if bits>>i&1 == 1 {
				x[i] = r.Hi
			}
		}
		v := f(x)
		if bits == 0 {
			out = interval.Exact(v)
		}
		out = out.Hull(interval.Exact(v))
	}
	return out
}
