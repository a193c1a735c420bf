package mechanics

import (
	"errors"
	"math"

	"mendwright/rules/interval"
)

// Ends is how a shelf or rail is held at its ends. The zero Ends is Resting.
type Ends int

// The ways of holding.
const (
	Resting Ends = iota // lies on supports and may turn
	Fixed               // cannot turn: housed and glued, screwed through
)

// Beam is a shelf, slat, rail or top: a rectangle that carries a load across its span.
type Beam struct {
	Span      interval.Range // mm, 10 to 6000
	Width     interval.Range // mm, 1 to 3000: across the load's direction and the span
	Thickness interval.Range // mm, 0.1 to 300: in the direction of the load
	Stiffness interval.Range // modulus of elasticity in GPa, 0.1 to 50
	Ends      Ends
}

// Load is what lies on a beam. The zero Load is none.
type Load struct {
	PerMetre interval.Range // spread evenly, N/m, 0 to 100000
	Centre   interval.Range // in the middle, N, 0 to 100000
}

func (b Beam) section() error {
	return errors.Join(check("width", b.Width, 1, 3000, "mm"), check("thickness", b.Thickness, 0.1, 300, "mm"))
}

func (b Beam) span() error { return check("span", b.Span, 10, 6000, "mm") }

func (b Beam) stiffness() error { return check("stiffness", b.Stiffness, 0.1, 50, "GPa") }

func (l Load) check() error {
	return errors.Join(
		check("spread load", l.PerMetre, 0, 1e5, "N/m"),
		check("load in the middle", l.Centre, 0, 1e5, "N"),
	)
}

// SecondMoment is the second moment of area in mm⁴ of a section width (mm, 1 to 3000) by thickness
// (mm, 0.1 to 300): width thickness³/12 (beam theory). It rises with both, so the answer spans
// exactly the two ends. Errors: a range outside these limits.
func SecondMoment(width, thickness interval.Range) (interval.Range, error) {
	if err := (Beam{Width: width, Thickness: thickness}).section(); err != nil {
		return interval.Range{}, err
	}
	return interval.Range{Lo: second(width.Lo, thickness.Lo), Hi: second(width.Hi, thickness.Hi)}, nil
}

func second(width, thickness float64) float64 { return width * thickness * thickness * thickness / 12 }

// sag is the sag in mm at one point of the box, and ratio the span over it.
func sag(span, width, thickness, gpa, perMetre, centre float64, ends Ends) float64 {
	spread, middle := 5.0/384, 1.0/48
	if ends == Fixed {
		spread, middle = spread/5, middle/4
	}
	ei := gpa * 1000 * second(width, thickness)
	return (spread*perMetre/1000*math.Pow(span, 4) + middle*centre*math.Pow(span, 3)) / ei
}

// Sag is how far the middle of the beam goes down in mm when the load comes on: 5wL⁴/384EI and
// PL³/48EI where it rests, a fifth and a quarter of that where its ends are fixed (beam theory;
// creep comes on top, see Creep). It rises with load and span and falls with width, thickness and
// stiffness, so the answer spans exactly the two ends. Errors: a range outside the limits of Beam
// and Load.
func (b Beam) Sag(l Load) (interval.Range, error) {
	if err := errors.Join(b.section(), b.span(), b.stiffness(), l.check()); err != nil {
		return interval.Range{}, err
	}
	return interval.Range{
		Lo: sag(b.Span.Lo, b.Width.Hi, b.Thickness.Hi, b.Stiffness.Hi, l.PerMetre.Lo, l.Centre.Lo, b.Ends),
		Hi: sag(b.Span.Hi, b.Width.Lo, b.Thickness.Lo, b.Stiffness.Lo, l.PerMetre.Hi, l.Centre.Hi, b.Ends),
	}, nil
}

// SpanOverSag is the span divided by the sag, the form in which limits are given; more is stiffer.
// The span counts once for both. It falls with load and span and rises with width, thickness and
// stiffness, so the answer spans exactly the two ends. Errors: as for Sag, or a load that may be
// nothing, which leaves it without bound.
func (b Beam) SpanOverSag(l Load) (interval.Range, error) {
	s, err := b.Sag(l)
	if err != nil {
		return interval.Range{}, err
	}
	if s.Lo <= 0 {
		return interval.Range{}, errors.New("read a load that may be 0 N; expected one above 0")
	}
	return interval.Range{Lo: b.Span.Hi / s.Hi, Hi: b.Span.Lo / s.Lo}, nil
}

// LongestSpan is the longest span in mm at which a load spread evenly (N/m, 0.001 to 100000) bends
// the beam by no more than the span over ratio (50 to 5000): (384EI/5wn)^⅓ where it rests, with
// fixed ends the cube root of 5 longer (beam theory). The beam's own span is not read. It rises
// with the section and stiffness and falls with the load, so the answer spans exactly the two
// ends. Errors: a range outside these limits and those of Beam.
func (b Beam) LongestSpan(perMetre interval.Range, ratio float64) (interval.Range, error) {
	if err := errors.Join(
		b.section(), b.stiffness(),
		check("spread load", perMetre, 0.001, 1e5, "N/m"),
		check("limit of span over sag", interval.Exact(ratio), 50, 5000, ""),
	); err != nil {
		return interval.Range{}, err
	}
	// The sag at a span of 1 mm times the span to the third is the share of the span.
	at := func(width, thickness, gpa, load float64) float64 {
		return math.Cbrt(1 / (ratio * sag(1, width, thickness, gpa, load, 0, b.Ends)))
	}
	return interval.Range{
		Lo: at(b.Width.Lo, b.Thickness.Lo, b.Stiffness.Lo, perMetre.Hi),
		Hi: at(b.Width.Hi, b.Thickness.Hi, b.Stiffness.Hi, perMetre.Lo),
	}, nil
}

// PerFoot is the span over sag that a limit of so many inches of sag on each foot of span (0.001
// to 1) stands for: 12 over the inches. Errors: a figure outside these limits.
func PerFoot(inches float64) (float64, error) {
	if err := check("sag on each foot", interval.Exact(inches), 0.001, 1, "in"); err != nil {
		return 0, err
	}
	return Foot / Inch / inches, nil
}

// Stress is the greatest bending stress in MPa: 6M/(width thickness²), with M = wL²/8 + PL/4 in the
// middle where the beam rests and wL²/12 + PL/8 at its ends where they are fixed (beam theory). It
// does not read the stiffness. It rises with load and span and falls with width and thickness, so
// the answer spans exactly the two ends. Errors: a range outside the limits of Beam and Load.
func (b Beam) Stress(l Load) (interval.Range, error) {
	if err := errors.Join(b.section(), b.span(), l.check()); err != nil {
		return interval.Range{}, err
	}
	spread, middle := 1.0/8, 1.0/4
	if b.Ends == Fixed {
		spread, middle = 1.0/12, 1.0/8
	}
	at := func(span, width, thickness, perMetre, centre float64) float64 {
		return 6 * (spread*perMetre/1000*span*span + middle*centre*span) / (width * thickness * thickness)
	}
	return interval.Range{
		Lo: at(b.Span.Lo, b.Width.Hi, b.Thickness.Hi, l.PerMetre.Lo, l.Centre.Lo),
		Hi: at(b.Span.Hi, b.Width.Lo, b.Thickness.Lo, l.PerMetre.Hi, l.Centre.Hi),
	}, nil
}
