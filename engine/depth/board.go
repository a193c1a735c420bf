package depth

import (
	"math"

	"mendwright/rules/interval"
)

// Cover is what stays between the tip of a screw and the face of a solid board: thickness less
// what the sanding takes less how deep the screw goes in.
func Cover(thickness, take, screw interval.Range) interval.Range {
	return thickness.Sub(take).Sub(screw)
}

// FeatherWidth is how wide a hollow of the given depth must be blended so that it does not show:
// the width of the mark and on each side ratio times the depth. The ratio depends on the sheen.
func FeatherWidth(width, depth, ratio float64) float64 { return width + 2*ratio*depth }

// DishSlope is the greatest slope of a rounded hollow (raised cosine) of the given depth and
// full width.
func DishSlope(depth, width float64) float64 { return math.Pi * depth / width }

// TaperSlope is the slope of a straight taper of the given depth over a length.
func TaperSlope(depth, length float64) float64 { return depth / length }

// DishRadius is the radius of the sphere that a hollow of the given depth and full width is part of.
func DishRadius(depth, width float64) float64 { return (width*width/4 + depth*depth) / (2 * depth) }

// DishVolume is the volume in cubic millimetres of such a hollow.
func DishVolume(depth, width float64) float64 {
	return math.Pi * depth * (3*width*width/4 + depth*depth) / 6
}
