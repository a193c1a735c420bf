package moisture

import (
	"errors"

	"mendwright/rules/interval"
)

// saturation is the moisture content at which the cell walls are full; above it wood does not
// swell further (Wood Handbook FPL-GTR-282, equation 4-9).
const saturation = 30 // %

// Timber is how one timber shrinks and moves. A zero range means that no figure is known.
type Timber struct {
	Radial, Tangential, Volumetric interval.Range // shrinkage from green to ovendry, percent
	// PerPointRadial and PerPointTangential are the share of its width that a board moves for
	// each percent of moisture between 6 and 14 %.
	PerPointRadial, PerPointTangential interval.Range
}

// Sawn is how the growth rings run in a board. The zero Sawn is Unseen.
type Sawn int

// The ways of sawing.
const (
	Unseen  Sawn = iota // not known: the answer spans both
	Flat                // rings along the face; the width moves tangentially
	Quarter             // rings square to the face; the width moves radially
)

var errNoFigure = errors.New("there is no figure for this timber and way of sawing")

// Whole is the shrinkage of a board's width from green to ovendry in percent. The error says that
// the table holds no figure.
func (t Timber) Whole(s Sawn) (interval.Range, error) { return pick(s, t.Radial, t.Tangential) }

// PerPoint is the share of its width that a board moves for each percent of moisture between 6
// and 14 %. The error says that the table holds no figure.
func (t Timber) PerPoint(s Sawn) (interval.Range, error) {
	return pick(s, t.PerPointRadial, t.PerPointTangential)
}

func pick(s Sawn, radial, tangential interval.Range) (interval.Range, error) {
	out := radial.Hull(tangential)
	switch s {
	case Flat:
		out = tangential
	case Quarter:
		out = radial
	}
	if out.Lo <= 0 {
		return interval.Range{}, errNoFigure
	}
	return out, nil
}

// Shrinkage is how much of its green size, in percent, wood has lost when it has dried to a
// moisture content (%, 0 to 200), of a timber that loses whole (%, 0 to 25) down to ovendry:
// whole (1 - content/30), and nothing above 30 %. Wood Handbook FPL-GTR-282 (2021), equation 4-9.
// It rises with whole and falls with the content, so the answer spans exactly those two ends.
// Errors: a range outside these limits.
func Shrinkage(whole, content interval.Range) (interval.Range, error) {
	if err := check("whole shrinkage", whole, 0, 25, "%"); err != nil {
		return interval.Range{}, err
	}
	if err := check("moisture content", content, 0, 200, "%"); err != nil {
		return interval.Range{}, err
	}
	return interval.Range{Lo: shrunk(whole.Lo, content.Hi), Hi: shrunk(whole.Hi, content.Lo)}, nil
}

func shrunk(whole, content float64) float64 { return whole * max(0, 1-content/saturation) }

// Movement is how much wider, in mm, a board of a width (mm, 0 to 5000) gets when its moisture
// goes from one content to another (%, 6 to 14, between which the coefficients hold), of a timber
// that moves perPoint (share of the width per percent, 0 to 0.01); narrower is negative. The width
// times the coefficient times the difference, as the Wood Handbook FPL-GTR-190 (2010), table 13-5,
// is used. Each input stands in it once, so the answer spans exactly what the ranges allow.
// Errors: a range outside these limits; for other contents use MovementByShrinkage.
func Movement(width, perPoint, from, to interval.Range) (interval.Range, error) {
	if err := errors.Join(
		check("width", width, 0, 5000, "mm"),
		check("movement per percent", perPoint, 0, 0.01, "of the width"),
		check("moisture before", from, 6, 14, "%"),
		check("moisture after", to, 6, 14, "%"),
	); err != nil {
		return interval.Range{}, err
	}
	return width.Mul(perPoint).Mul(to.Sub(from)), nil
}

// MovementByShrinkage is how much wider, in mm, a board of a width (mm, 0 to 5000) gets when its
// moisture goes from one content to another (%, 0 to 200), of a timber that shrinks whole (%, 0 to
// 25) from green to ovendry; narrower is negative. Equation 4-9 of the Wood Handbook FPL-GTR-282
// (2021) before and after, related to the width before. Along each input it only rises or only
// falls, so the answer spans exactly the corners. Errors: a range outside these limits.
func MovementByShrinkage(width, whole, from, to interval.Range) (interval.Range, error) {
	if err := errors.Join(
		check("width", width, 0, 5000, "mm"),
		check("whole shrinkage", whole, 0, 25, "%"),
		check("moisture before", from, 0, 200, "%"),
		check("moisture after", to, 0, 200, "%"),
	); err != nil {
		return interval.Range{}, err
	}
	return corners(func(x []float64) float64 {
		before, after := shrunk(x[1], x[2]), shrunk(x[1], x[3])
		return x[0] * (before - after) / (100 - before)
	}, width, whole, from, to), nil
}
