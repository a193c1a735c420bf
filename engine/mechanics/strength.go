package mechanics

import (
	"errors"
	"math"

	"mendwright/rules/interval"
)

// StiffnessKept is the share of bending stiffness that is left when a board goes from one
// thickness to another (mm, 0.1 to 300): the cube of their ratio (beam theory). It falls with the
// one and rises with the other, so the answer spans exactly the two ends. Errors: a range outside
// these limits.
func StiffnessKept(before, after interval.Range) (interval.Range, error) {
	return thinned(before, after, 3)
}

// StrengthKept is the same for bending strength: the square of the ratio.
func StrengthKept(before, after interval.Range) (interval.Range, error) {
	return thinned(before, after, 2)
}

func thinned(before, after interval.Range, power float64) (interval.Range, error) {
	if err := errors.Join(
		check("thickness before", before, 0.1, 300, "mm"),
		check("thickness after", after, 0.1, 300, "mm"),
	); err != nil {
		return interval.Range{}, err
	}
	return interval.Range{Lo: math.Pow(after.Lo/before.Hi, power), Hi: math.Pow(after.Hi/before.Lo, power)}, nil
}

// Duty is what a part has to bear. The zero Duty is InUse.
type Duty int

// The duties.
const (
	InUse   Duty = iota // furniture in use
	StoodOn             // anything a person stands on
	Unsound             // rot, insect galleries, a knot over a quarter of the width, grain across steeper than 1 in 12
)

// WorkingStress is the bending stress in MPa to plan with, from the bending strength (MPa, 0 to
// 400) of clear wood: a sixth in use, a tenth where a person stands, nothing in an unsound part.
// The shares are choices of this program. Errors: a range outside these limits, or an unknown duty.
func WorkingStress(rupture interval.Range, duty Duty) (interval.Range, error) {
	if err := check("bending strength", rupture, 0, 400, "MPa"); err != nil {
		return interval.Range{}, err
	}
	switch duty {
	case InUse:
		return scaled(rupture, 1.0/6), nil
	case StoodOn:
		return scaled(rupture, 1.0/10), nil
	case Unsound:
		return interval.Range{}, nil
	}
	return interval.Range{}, errors.New("read an unknown duty; expected in use, stood on, or unsound")
}
