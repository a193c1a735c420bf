package mechanics

import (
	"errors"
	"math"

	"mendwright/rules/interval"
)

// ClampForce is the force in newtons that gives a joint of a length (mm, 1 to 10000) and width
// (mm, 1 to 1000) a pressure (kPa, 1 to 3000): area times pressure. It rises with all three, so
// the answer spans exactly the two ends. Errors: a range outside these limits.
func ClampForce(length, width, pressure interval.Range) (interval.Range, error) {
	if err := errors.Join(
		check("length of the joint", length, 1, 10000, "mm"),
		check("width of the joint", width, 1, 1000, "mm"),
		check("pressure", pressure, 1, 3000, "kPa"),
	); err != nil {
		return interval.Range{}, err
	}
	return scaled(length.Mul(width).Mul(pressure), KPa), nil
}

// Clamps is how many clamps that press with each (N, 10 to 100000) give a force (N, 0 to 1e8) in
// all, rounded up to whole ones. It rises with the force and falls with each, so the answer spans
// exactly the two ends. Errors: a range outside these limits.
func Clamps(force, each interval.Range) (interval.Range, error) {
	if err := errors.Join(
		check("force", force, 0, 1e8, "N"),
		check("force of one clamp", each, 10, 1e5, "N"),
	); err != nil {
		return interval.Range{}, err
	}
	// A quotient that is whole but for floating point stays that number.
	count := func(force, each float64) float64 { return math.Ceil(force/each - 1e-9) }
	return interval.Range{Lo: count(force.Lo, each.Hi), Hi: count(force.Hi, each.Lo)}, nil
}

// DowelPull is the force in newtons that draws a glued dowel of a diameter (mm, 1 to 50) out of
// a hole in which it sits to a depth (mm, 1 to 300), at a shear (MPa, 0.1 to 30) on its face: π
// times diameter, depth and shear. The tables give the shear measured by Podlena and others 2018
// and 2020, BioResources. It rises with all three, so the answer spans exactly the two ends.
// Errors: a range outside these limits.
func DowelPull(diameter, depth, shear interval.Range) (interval.Range, error) {
	if err := errors.Join(
		check("diameter of the dowel", diameter, 1, 50, "mm"),
		check("depth of the dowel", depth, 1, 300, "mm"),
		check("shear", shear, 0.1, 30, "MPa"),
	); err != nil {
		return interval.Range{}, err
	}
	return scaled(diameter.Mul(depth).Mul(shear), math.Pi), nil
}

// ScarfLength is the length in mm of a scarf through a thickness (mm, 0.1 to 300) at a slope of 1
// in so many (8 to 20): their product. 1 in 12 or flatter is strongest (Wood Handbook FPL-GTR-190,
// chapter 10), 1 in 8 the steepest that practice accepts. It rises with both, so the answer spans
// exactly the two ends. Errors: a range outside these limits.
func ScarfLength(thickness, slope interval.Range) (interval.Range, error) {
	if err := errors.Join(
		check("thickness", thickness, 0.1, 300, "mm"),
		check("slope of 1 in", slope, 8, 20, ""),
	); err != nil {
		return interval.Range{}, err
	}
	return thickness.Mul(slope), nil
}
