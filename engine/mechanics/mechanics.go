// Package mechanics is the arithmetic of what furniture carries: how hard screws and nails hold,
// how far a shelf sags and when it breaks, how many clamps a joint wants, what a dowel and a scarf
// hold, whether a chest tips, and what people may lift. Lengths are millimetres, forces newtons,
// masses kilograms, unless a name says otherwise.
//
// Every measured input is a range and every answer spans exactly what its inputs allow, so that a
// closer measurement never contradicts a wider one. The package knows no rule and no job; its
// tables come from outside.
package mechanics

import (
	"fmt"

	"mendwright/rules/interval"
)

// Tables are the figures the arithmetic stands on. The zero Tables know nothing.
type Tables struct {
	Timbers     map[string]Timber         // boards such as plywood too
	Frequencies []Frequency               // of lifting, rarest first
	Clamping    map[string]Clamping       // by kind of wood
	Dowels      map[string]interval.Range // shear on the face of a glued dowel in MPa, by kind
	SagLimits   map[string]float64        // span over sag, by whose limit it is
	Spans       map[string]float64        // what a magazine's boards spanned without ugly sag, mm
}

// Timber is how strong one timber is at 12 % moisture. A zero range means that no figure is known.
type Timber struct {
	// Stiffness is the modulus of elasticity in GPa as handbooks print it, measured at a span of
	// 14 times the depth with the shear in it; for bending alone it is a tenth more.
	Stiffness interval.Range
	Rupture   interval.Range // bending strength in MPa
	Gravity   interval.Range // specific gravity, ovendry weight on the volume at 12 %
}

// Clamping is the pressure in kPa that glue wants. The sources differ: Other is what a second one
// prints.
type Clamping struct {
	Pressure, Other interval.Range
}

// check is an error if r is not a range between lo and hi; what names the input, unit its unit.
func check(what string, r interval.Range, lo, hi float64, unit string) error {
	if r.Valid() && r.Lo >= lo && r.Hi <= hi {
		return nil
	}
	read := fmt.Sprintf("%v", r.Lo)
	if r.Lo != r.Hi {
		read = fmt.Sprintf("%v to %v", r.Lo, r.Hi)
	}
	if unit != "" {
		unit = " " + unit
	}
	return fmt.Errorf("read %s%s for the %s; expected between %v and %v%s", read, unit, what, lo, hi, unit)
}

// scaled is r times a positive factor.
func scaled(r interval.Range, by float64) interval.Range {
	return interval.Range{Lo: r.Lo * by, Hi: r.Hi * by}
}
