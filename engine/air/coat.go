package air

import (
	"cmp"
	"fmt"

	"mendwright/rules/interval"
)

// Coat is a wet coat on a surface.
type Coat struct {
	Area    interval.Range // m2, 0 or more
	Spread  interval.Range // mL of coating on each m2, 0 or more
	Density interval.Range // g/mL of the coating, above 0
	Solvent interval.Range // share of the coating's mass that evaporates, 0 to 1
}

// Grams returns what the whole coat gives to the air: area, spread, density and solvent multiplied.
func (c Coat) Grams() (interval.Range, error) {
	if err := cmp.Or(atLeast0("the area", "m2", c.Area), atLeast0("the spread", "mL/m2", c.Spread),
		above0("the density", "g/mL", c.Density), within("the solvent", "", c.Solvent, 0, 1)); err != nil {
		return interval.Range{}, err
	}
	return c.Area.Mul(c.Spread).Mul(c.Density).Mul(c.Solvent), nil
}

// Release is how fast a wet coat lets its solvent go.
type Release struct {
	Half interval.Range // minutes until half is in the air, above 0
	All  interval.Range // minutes until all of it is; no end before that of Half
}

// Share returns how much of a coat's solvent (0 to 1) is in the air after the given minutes (0 or more):
// evenly to the half, then evenly to all, a choice of this program. It rises with minutes.
func (r Release) Share(minutes interval.Range) (interval.Range, error) {
	if err := cmp.Or(above0("the time to half", "min", r.Half), above0("the time to all", "min", r.All), atLeast0("the time", "min", minutes)); err != nil {
		return interval.Range{}, err
	}
	if r.All.Lo < r.Half.Lo || r.All.Hi < r.Half.Hi {
		return interval.Range{}, fmt.Errorf("all of the solvent is out after %s; expected that no earlier than half of it, %s", show(r.All, "min"), show(r.Half, "min"))
	}
	return interval.Range{Lo: out(minutes.Lo, r.Half.Hi, r.All.Hi), Hi: out(minutes.Hi, r.Half.Lo, r.All.Lo)}, nil
}

func out(t, half, all float64) float64 {
	switch {
	case t >= all:
		return 1
	case t <= half:
		return 0.5 * t / half
	}
	return 0.5 + 0.5*(t-half)/(all-half)
}
