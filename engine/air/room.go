package air

import (
	"cmp"
	"math"

	"mendwright/rules/interval"
)

// Room is air that mixes well. Amounts per m3 come in the unit of what goes in: milligrams an hour
// give mg/m3, m3 of vapour an hour give shares of the air.
type Room struct {
	Volume  interval.Range // m3, above 0
	Changes interval.Range // air changes per hour, 0 or more
	// Mixing is by what factor the fresh air counts for less because it does not reach every corner:
	// 1 would be perfect, 3 to 10 is found in practice. At least 1; the zero Range is 1.
	Mixing interval.Range
}

// Fresh returns the air changes per hour that count: changes by mixing factor. The error says what of
// the room is out of range.
func (r Room) Fresh() (interval.Range, error) {
	mixing := r.Mixing
	if mixing == (interval.Range{}) {
		mixing = interval.Exact(1)
	}
	if err := cmp.Or(above0("the room", "m3", r.Volume), atLeast0("the rate of air changes", "an hour", r.Changes),
		within("the mixing factor", "", mixing, 1, 100)); err != nil {
		return interval.Range{}, err
	}
	return over(r.Changes, mixing), nil
}

// grown is the time that a release of one has stayed in the room: (1 - exp(-a t))/a, which is t without
// fresh air. It rises with t and falls with a.
func grown(a, t float64) float64 {
	if a == 0 {
		return t
	}
	return -math.Expm1(-a*t) / a
}

// Rise returns what stands in each m3 after an even release (an hour, 0 or more) has run for the given
// hours (0 or more) into clean air: (G/Q)(1 - exp(-Q t/V)), the mass balance of a mixed room. It
// rises with release and hours, falls with volume and air changes.
func (r Room) Rise(release, hours interval.Range) (interval.Range, error) {
	a, err := r.Fresh()
	if err := cmp.Or(err, atLeast0("the release", "an hour", release), atLeast0("the time", "h", hours)); err != nil {
		return interval.Range{}, err
	}
	return interval.Range{
		Lo: release.Lo / r.Volume.Hi * grown(a.Hi, hours.Lo),
		Hi: release.Hi / r.Volume.Lo * grown(a.Lo, hours.Hi),
	}, nil
}

// Steady returns what stands in each m3 when an even release (an hour, 0 or more) has gone on for long:
// G/Q. It needs air changes above 0; without them it would rise for ever.
func (r Room) Steady(release interval.Range) (interval.Range, error) {
	a, err := r.Fresh()
	if err := cmp.Or(err, atLeast0("the release", "an hour", release), above0("the rate of air changes", "an hour", r.Changes)); err != nil {
		return interval.Range{}, err
	}
	return over(release, r.Volume.Mul(a)), nil
}

// Fall returns what is left of an amount (0 or more) after the given hours (0 or more) of fresh air:
// C exp(-Q t/V).
func (r Room) Fall(amount, hours interval.Range) (interval.Range, error) {
	a, err := r.Fresh()
	if err := cmp.Or(err, atLeast0("the amount", "", amount), atLeast0("the time", "h", hours)); err != nil {
		return interval.Range{}, err
	}
	return interval.Range{Lo: amount.Lo * math.Exp(-a.Hi*hours.Hi), Hi: amount.Hi * math.Exp(-a.Lo*hours.Lo)}, nil
}

// HoursToFall returns how long fresh air needs to bring one amount down to another (both above 0, in one
// unit): (V/Q) ln(C1/C2), 0 if it is there already. It undoes Fall. The far end is infinite if
// there may be no fresh air at all.
func (r Room) HoursToFall(from, to interval.Range) (interval.Range, error) {
	a, err := r.Fresh()
	if err := cmp.Or(err, above0("the amount at first", "", from), above0("the amount aimed at", "", to)); err != nil {
		return interval.Range{}, err
	}
	at := func(from, to, a float64) float64 {
		if from <= to {
			return 0
		}
		return math.Log(from/to) / a
	}
	return interval.Range{Lo: at(from.Lo, to.Hi, a.Hi), Hi: at(from.Hi, to.Lo, a.Lo)}, nil
}

// HoursToRise returns how long an even release (an hour, above 0) needs to bring clean air to a level (0
// or more): -(V/Q) ln((G - Q C)/G). It undoes Rise. An end is infinite where fresh air keeps the
// level from being reached.
func (r Room) HoursToRise(release, level interval.Range) (interval.Range, error) {
	a, err := r.Fresh()
	if err := cmp.Or(err, above0("the release", "an hour", release), atLeast0("the level", "", level)); err != nil {
		return interval.Range{}, err
	}
	at := func(release, volume, a, level float64) float64 {
		still := level * volume / release // hours it would take without fresh air
		switch {
		case a == 0:
			return still
		case a*still >= 1:
			return math.Inf(1)
		}
		return -math.Log1p(-a*still) / a
	}
	return interval.Range{
		Lo: at(release.Hi, r.Volume.Lo, a.Lo, level.Lo),
		Hi: at(release.Lo, r.Volume.Hi, a.Hi, level.Hi),
	}, nil
}
