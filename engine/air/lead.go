package air

import (
	"cmp"

	"mendwright/rules/interval"
)

// Lines for lead in dry paint, in per cent by mass, and on a surface.
const (
	LeadConsumer   = 0.009 // new paint and furniture that bears it, US, from 14 August 2009 (16 CFR 1303)
	LeadUntil2009  = 0.06  // the same before
	LeadHouse      = 0.5   // what EPA and HUD call lead-based paint, and what a test kit is to find
	LeadHouseMGCM2 = 1.0   // the same in mg/cm2
)

// LeadPPM returns lead in per cent of dry film (0 to 100) as parts per million by mass.
func LeadPPM(percent interval.Range) (interval.Range, error) {
	if err := within("the lead", "%", percent, 0, 100); err != nil {
		return interval.Range{}, err
	}
	return scaled(percent, 1e4), nil
}

// LeadOnSurface returns the mg/cm2 of lead in a film with the given per cent (0 to 100), thickness in
// micrometres (0 or more) and density in g/cm3 (0 or more). It rises with all three.
func LeadOnSurface(percent, micrometres, density interval.Range) (interval.Range, error) {
	if err := cmp.Or(within("the lead", "%", percent, 0, 100), atLeast0("the film", "um", micrometres), atLeast0("the density", "g/cm3", density)); err != nil {
		return interval.Range{}, err
	}
	// A micrometre of 1 g/cm3 weighs 0.1 mg on a square centimetre.
	return scaled(percent.Mul(micrometres).Mul(density), 0.1/100), nil
}

// KitClears reports whether a test that finds nothing shows that paint keeps a limit: only if the test
// finds as little as the limit allows. Both are per cent of dry film. A colour test for houses
// (LeadHouse) never clears what a child may mouth (LeadConsumer).
func KitClears(finds, limit float64) bool { return finds > 0 && finds <= limit }
