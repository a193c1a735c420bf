package moisture

import (
	"errors"
	"fmt"

	"mendwright/rules/interval"
)

// Wait is how long wood that was made wet dries before it may be sanded, finished or glued, at
// about 20 °C and 50 % relative humidity; colder or damper air takes longer. The times are habits
// of the trade, from memory.
type Wait struct {
	Hours interval.Range
	// Meter says that the clock alone never shows the wood dry: the water went deeper than the
	// surface, and a meter has to.
	Meter bool
}

// Wait finds the wait after what made the wood wet. The error names a cause that the table does
// not hold.
func (t Tables) Wait(after string) (Wait, error) {
	w, ok := t.Waits[after]
	if !ok {
		return w, fmt.Errorf("read %q for what made the wood wet; expected one that the table of drying times holds", after)
	}
	return w, nil
}

// Over says whether the wait is over after some hours (0 to 100000): No before its short end, Yes
// from its long end, Unknown between them; where a meter is needed, Unknown instead of Yes.
// Errors: a range outside these limits.
func (w Wait) Over(elapsed interval.Range) (Truth, error) {
	if err := check("hours since", elapsed, 0, 100000, "h"); err != nil {
		return Unknown, err
	}
	switch {
	case elapsed.Hi < w.Hours.Lo-slack:
		return No, nil
	case elapsed.Lo >= w.Hours.Hi-slack && !w.Meter:
		return Yes, nil
	}
	return Unknown, nil
}

// The rule of two readings. A choice of this program: at least 24 hours apart, within half a
// percent of each other, and within two points of what the room holds the wood at.
const (
	readingsApart   = 24  // h
	readingsAgree   = 0.5 // % moisture
	nearEquilibrium = 2   // % moisture
)

// Dry says whether two readings of a meter (%, 0 to 100), taken some hours (0 to 100000) apart,
// show wood that has come to rest near an equilibrium (%, 0 to 40): Yes if they are at least a day
// apart, agree within 0.5 % and the second lies within 2 points of the equilibrium. No means that
// they do not show it. The limits are a choice of this program.
// Errors: a range outside these limits.
func Dry(first, second, hours, equilibrium interval.Range) (Truth, error) {
	if err := errors.Join(
		check("first reading", first, 0, 100, "%"),
		check("second reading", second, 0, 100, "%"),
		check("hours between", hours, 0, 100000, "h"),
		check("equilibrium", equilibrium, 0, 40, "%"),
	); err != nil {
		return Unknown, err
	}
	return all(
		atLeast(hours, readingsApart),
		atMost(apart(first, second), readingsAgree),
		atMost(apart(second, equilibrium), nearEquilibrium),
	), nil
}

// apart is how far a value of a and one of b lie from each other.
func apart(a, b interval.Range) interval.Range {
	return interval.Range{Lo: max(0, a.Lo-b.Hi, b.Lo-a.Hi), Hi: max(a.Hi-b.Lo, b.Hi-a.Lo)}
}
