package mechanics

import (
	"errors"

	"mendwright/rules/interval"
)

// Density is the density in kg/m³ of wood of a specific gravity (0.1 to 1.3; ovendry weight on the
// volume at that moisture) with a moisture content (%, 0 to 30): 1000 G (1 + M/100), the form of
// equation 4-14 of the Wood Handbook FPL-GTR-282 (2021). It rises with both, so the answer spans
// exactly the two ends. Errors: a range outside these limits.
func Density(gravity, moisture interval.Range) (interval.Range, error) {
	if err := errors.Join(
		check("specific gravity", gravity, 0.1, 1.3, ""),
		check("moisture content", moisture, 0, 30, "%"),
	); err != nil {
		return interval.Range{}, err
	}
	at := func(g, m float64) float64 { return 1000 * g * (1 + m/100) }
	return interval.Range{Lo: at(gravity.Lo, moisture.Lo), Hi: at(gravity.Hi, moisture.Hi)}, nil
}

// Mass is the mass in kg of a board or top of a length and width (mm, 1 to 10000), thickness (mm,
// 0.1 to 300) and density (kg/m³, 50 to 1500). It rises with all four, so the answer spans exactly
// the two ends. Errors: a range outside these limits.
func Mass(length, width, thickness, density interval.Range) (interval.Range, error) {
	if err := errors.Join(
		check("length", length, 1, 10000, "mm"),
		check("width", width, 1, 10000, "mm"),
		check("thickness", thickness, 0.1, 300, "mm"),
		check("density", density, 50, 1500, "kg/m³"),
	); err != nil {
		return interval.Range{}, err
	}
	return scaled(length.Mul(width).Mul(thickness).Mul(density), 1e-9), nil
}
