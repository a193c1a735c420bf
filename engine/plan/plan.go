// Package plan is the arithmetic of a whole piece: how long the work may take, in which order its
// steps go, what waits for what, on which days a single worker gets them done, and what the piece
// earns. Durations are hours unless a name says otherwise; sums of money are in whatever money the
// caller reckons in.
//
// The package knows no rule and no job; steps, hours and prices come from outside. It reads no
// clock: whoever asks for a schedule says when it begins. Equal steps in another order give the
// same answer.
package plan

import (
	"fmt"
	"strconv"

	"mendwright/rules/interval"
)

// MostTasks is how many steps one plan may have.
const MostTasks = 500

// MostHours is the longest that one step may take, and the longest that it may wait: a year.
const MostHours = 366 * 24

// check is an error if r is not a range between lo and hi; what names the input, unit its unit.
func check(what string, r interval.Range, lo, hi float64, unit string) error {
	if r.Valid() && r.Lo >= lo && r.Hi <= hi {
		return nil
	}
	show := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	read := show(r.Lo)
	if r.Lo != r.Hi {
		read += " to " + show(r.Hi)
	}
	if unit != "" {
		unit = " " + unit
	}
	return fmt.Errorf("read %s%s for the %s; expected between %s and %s%s", read, unit, what, show(lo), show(hi), unit)
}
