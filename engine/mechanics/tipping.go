package mechanics

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"mendwright/rules/interval"
)

// Part is one mass of a piece that may tip forward over the line of its front feet: the carcase, a
// drawer where it stands, a child that hangs on it.
type Part struct {
	Mass   interval.Range // kg, 0 to 1000
	Behind interval.Range // mm behind the line of the front feet, -5000 to 5000; in front is negative
	Height interval.Range // mm above the floor, 0 to 5000; counts only for a piece that leans
}

func (p Part) check() error {
	return errors.Join(
		check("mass", p.Mass, 0, 1000, "kg"),
		check("distance behind the front feet", p.Behind, -5000, 5000, "mm"),
		check("height", p.Height, 0, 5000, "mm"),
	)
}

func lean(degrees interval.Range) error {
	return check("lean forward", degrees, 0, 45, "degrees")
}

// Balance is the sum of mass times distance behind the front feet in kg mm, for a piece that
// leans forward by degrees (0 to 45; the zero Range stands upright), as on a carpet: each distance
// x at a height h becomes x cos a - h sin a (statics). Below 0 the piece tips. Each mass and place
// counts once and the lean for all of them together, so the answer spans exactly what the ranges
// allow. Errors: no part, or a range outside these limits and those of Part.
func Balance(parts []Part, degrees interval.Range) (interval.Range, error) {
	if len(parts) == 0 {
		return interval.Range{}, errors.New("read no part; expected the masses of the piece and what hangs on it")
	}
	errs := []error{lean(degrees)}
	for i, p := range parts {
		if err := p.check(); err != nil {
			errs = append(errs, fmt.Errorf("part %d: %w", i+1, err))
		}
	}
	if err := errors.Join(errs...); err != nil {
		return interval.Range{}, err
	}
	return balance(parts, degrees), nil
}

func balance(parts []Part, degrees interval.Range) interval.Range {
	lean := scaled(degrees, math.Pi/180)
	return interval.Range{Lo: extreme(parts, lean, worst, slices.Min[[]float64]), Hi: extreme(parts, lean, best, slices.Max[[]float64])}
}

// worst is the mass, distance and height of a part that at a lean pull forward the most.
func worst(p Part, lean float64) (mass, behind, height float64) {
	if arm(p.Behind.Lo, p.Height.Hi, lean) < 0 {
		return p.Mass.Hi, p.Behind.Lo, p.Height.Hi
	}
	return p.Mass.Lo, p.Behind.Lo, p.Height.Hi
}

// best is the opposite of worst.
func best(p Part, lean float64) (mass, behind, height float64) {
	if arm(p.Behind.Hi, p.Height.Lo, lean) < 0 {
		return p.Mass.Lo, p.Behind.Hi, p.Height.Lo
	}
	return p.Mass.Hi, p.Behind.Hi, p.Height.Lo
}

func arm(behind, height, lean float64) float64 {
	sin, cos := math.Sincos(lean)
	return behind*cos - height*sin
}

// extreme is the least or greatest balance over a range of leans, in radians. Between two leans at
// which a part passes over the feet, and so changes from its light to its heavy end, the balance
// is X cos a - H sin a, whose extremes are its ends and the lean at which its slope is 0.
func extreme(parts []Part, lean interval.Range, end func(Part, float64) (float64, float64, float64), pick func([]float64) float64) float64 {
	cuts := []float64{lean.Lo, lean.Hi}
	for _, p := range parts {
		_, behind, height := end(p, 0)
		if over := math.Atan2(behind, height); lean.Lo < over && over < lean.Hi {
			cuts = append(cuts, over)
		}
	}
	slices.Sort(cuts)
	at := slices.Clone(cuts)
	for i := range cuts[1:] {
		var x, h float64
		for _, p := range parts {
			mass, behind, height := end(p, (cuts[i]+cuts[i+1])/2)
			x += mass * behind
			h += mass * height
		}
		if flat := math.Atan2(h, -x); cuts[i] < flat && flat < cuts[i+1] {
			at = append(at, flat)
		}
	}
	var sums []float64
	for _, a := range at {
		var sum float64
		for _, p := range parts {
			mass, behind, height := end(p, a)
			sum += mass * arm(behind, height, a)
		}
		sums = append(sums, sum)
	}
	return pick(sums)
}

// Tilted is how far behind the front feet, in mm, a place (mm behind, -5000 to 5000; mm high, 0 to
// 5000) comes to lie when the piece leans forward by degrees (0 to 45): behind cos a - height sin a.
// The answer spans exactly what the ranges allow. Errors: a range outside these limits.
func Tilted(behind, height, degrees interval.Range) (interval.Range, error) {
	return Balance([]Part{{Mass: interval.Exact(1), Behind: behind, Height: height}}, degrees)
}

// Stance is whether a piece stands. The zero Stance is StanceUnknown.
type Stance int

// The stances.
const (
	StanceUnknown Stance = iota // the measurements allow both
	Stands
	Tips
)

func (s Stance) String() string { return [...]string{"unknown", "stands", "tips"}[s] }

// StanceOf says whether a piece of a balance in kg mm stands: it tips below 0. The stance is known
// only if the whole range agrees on it. A piece that just stands has nothing to spare for a jerk.
// Errors: a range that is none.
func StanceOf(balance interval.Range) (Stance, error) {
	if err := check("balance", balance, -1e9, 1e9, "kg mm"); err != nil {
		return StanceUnknown, err
	}
	switch {
	case balance.Lo >= 0:
		return Stands, nil
	case balance.Hi < 0:
		return Tips, nil
	}
	return StanceUnknown, nil
}

// Restraint is the force in newtons with which an anchor at a height (mm, 100 to 5000) on the wall
// just holds a piece of a balance (kg mm, -1e9 to 1e9): g times what the balance lacks, over the
// height; 0 if it stands (statics). A jerk wants several times as much. It falls with both, so the
// answer spans exactly the two ends. Errors: a range outside these limits.
func Restraint(balance, height interval.Range) (interval.Range, error) {
	if err := errors.Join(
		check("balance", balance, -1e9, 1e9, "kg mm"),
		check("height of the anchor", height, 100, 5000, "mm"),
	); err != nil {
		return interval.Range{}, err
	}
	force := func(balance, height float64) float64 { return StandardGravity * max(0, -balance) / height }
	return interval.Range{Lo: force(balance.Hi, height.Hi), Hi: force(balance.Lo, height.Lo)}, nil
}
