package coat

import (
	"fmt"
	"slices"

	"mendwright/rules/interval"
)

// Scale is a standard's scale of ratings. They do not run the same way: 5 is the worst on one and
// the best on another.
type Scale struct {
	Name        string
	Best, Worst int
}

// scales are those of the standards: ISO 4628 (quantity, size and intensity of defects), ISO 2409
// and ASTM D3359 (cross-cut), ASTM D610 (area), EN 12720 with EN 12721, EN 12722 and ISO 4211
// (furniture surfaces, from memory).
var scales = []Scale{
	{"ISO 4628", 0, 5},
	{"ISO 2409", 0, 5},
	{"ASTM D3359", 5, 0},
	{"ASTM D610", 10, 0},
	{"EN 12720", 5, 1},
}

// ScaleOf finds a scale by the name of its standard, such as "ISO 4628". The error says what was
// read and what is expected.
func ScaleOf(standard string) (Scale, error) {
	var known []string
	for _, s := range scales {
		if s.Name == standard {
			return s, nil
		}
		known = append(known, s.Name)
	}
	return Scale{}, fmt.Errorf("the scale reads %q; expected one of %q", standard, known)
}

// Ill is how bad a rating of the scale is, from 0, best, to 1, worst: the one measure in which
// ratings of different scales may be set side by side, and only roughly, since their steps are not
// alike. The error says that the rating does not stand on the scale.
func (s Scale) Ill(rating int) (float64, error) {
	if s.Best == s.Worst || (rating-s.Best)*(rating-s.Worst) > 0 {
		return 0, fmt.Errorf("the rating reads %d; expected one from %d, best, to %d, worst, on the scale of %s", rating, s.Best, s.Worst, s.Name)
	}
	return float64(rating-s.Best) / float64(s.Worst-s.Best), nil
}

var flaked = quantity{"the flaked area", "%", 0, 100}

// Limits of the classes 0 to 4 of ISO 4628-5 for flaking, from memory: share of the area in per
// cent, and greatest size of a flake in millimetres, of which class 0 is not visible at tenfold
// magnification. The standard rates by the nearest picture; that a class reaches up to its figure
// is a choice of this program.
var (
	flakedUpTo = [...]float64{0, 0.1, 0.3, 1, 3}
	flakeUpTo  = [...]float64{0, 1, 3, 10, 30}
)

var flakeSize = quantity{"the size of the flakes", "mm", 0, 10000}

// Flaking is the class, 0 best to 5 worst, of a flaked area of 0 to 100 % by ISO 4628-5. It rises
// with the area. The error says that the area is out of range.
func Flaking(percent interval.Range) (Span, error) {
	if err := flaked.holds(percent); err != nil {
		return Span{}, err
	}
	return Span{stepsBelow(flakedUpTo[:], percent.Lo), stepsBelow(flakedUpTo[:], percent.Hi)}, nil
}

// FlakeSize is the class, 0 best to 5 worst, of the greatest flake in millimetres (0 to 10000) by
// ISO 4628-5. It rises with the size. The error says that the size is out of range.
func FlakeSize(mm interval.Range) (Span, error) {
	if err := flakeSize.holds(mm); err != nil {
		return Span{}, err
	}
	return Span{stepsBelow(flakeUpTo[:], mm.Lo), stepsBelow(flakeUpTo[:], mm.Hi)}, nil
}

// stepsBelow counts the limits that lie below v.
func stepsBelow(limits []float64, v float64) int {
	i := slices.IndexFunc(limits, func(limit float64) bool { return v <= limit*(1+play) })
	if i < 0 {
		return len(limits)
	}
	return i
}
