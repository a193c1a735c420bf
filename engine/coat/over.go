package coat

import (
	"fmt"
	"slices"

	"mendwright/rules/interval"
)

// May says whether a finish may go over another. The zero May is not given.
type May int

// What may be done.
const (
	_         May = iota
	MayNot        // the old one must come off
	MayMist       // in mist coats only; a full coat lifts or wrinkles the old one
	MaySpray      // sprayed only; a brush or pad drags the old one
	MayGo         // yes
	countMays int = iota
)

var mays = [countMays]string{"", "no", "mist", "spray", "yes"}

func (m May) String() string { return mays[m] }

// ParseMay reads the name of what may be done. The error says what was read and what is expected.
func ParseMay(name string) (May, error) {
	if i := slices.Index(mays[1:], name); i >= 0 {
		return May(i + 1), nil
	}
	return 0, fmt.Errorf("whether one finish may go over another reads %q; expected one of %q", name, mays[1:])
}

// Barrier says whether a thin coat of dewaxed shellac must lie between. The zero Barrier is not
// given.
type Barrier int

// The barriers.
const (
	_             Barrier = iota
	NoBarrier             // none is needed
	BarrierOrWait         // the barrier, or the whole wait
	NeedsBarrier          // needed whatever the wait
	IfUnknown             // only if it is not certain what the old finish is
	countBarriers int     = iota
)

var barriers = [countBarriers]string{"", "no", "or-wait", "yes", "if-unknown"}

func (b Barrier) String() string { return barriers[b] }

// ParseBarrier reads the name of a barrier. The error says what was read and what is expected.
func ParseBarrier(name string) (Barrier, error) {
	if i := slices.Index(barriers[1:], name); i >= 0 {
		return Barrier(i + 1), nil
	}
	return 0, fmt.Errorf("the barrier reads %q; expected one of %q", name, barriers[1:])
}

// Over is one finish over another.
type Over struct {
	Old, New string
	May      May
	Scuff    bool // the old film must be scuffed first
	Barrier  Barrier
	Wait     interval.Range // h for which the old film must have dried; zero if an ordinary drying will do
	Under    interval.Range // the same if a barrier goes between
	Why      string
}

// Pair finds what is known of a new finish over an old one; of several layers the top one counts.
// The error says which pair was read: what the table does not hold needs a test patch.
func (t Tables) Pair(newFinish, old string) (Over, error) {
	for _, o := range t.Over {
		if o.Old == old && o.New == newFinish {
			return o, nil
		}
	}
	return Over{}, fmt.Errorf("there is no row for %q over %q in the table; expected a pair that it holds, or a test patch first", newFinish, old)
}

// Now says whether the new finish may go on, in the way May allows, when the old one has dried for
// the given hours (0 to 100000), with or without a barrier on it; a barrier must itself have dried.
// It is unknown while the wait is in doubt. The error says that the hours are out of range.
func (o Over) Now(dried interval.Range, barrier bool) (Truth, error) {
	if err := hours.holds(dried); err != nil {
		return Unknown, err
	}
	if o.May == MayNot || o.Barrier == NeedsBarrier && !barrier {
		return No, nil
	}
	wait := o.Wait
	if barrier {
		wait = o.Under
	}
	switch {
	case dried.Lo >= wait.Hi:
		return Yes, nil
	case dried.Hi < wait.Lo:
		return No, nil
	}
	return Unknown, nil
}
