package air

import (
	"cmp"

	"mendwright/rules/interval"
)

// Lines for wood dust, from memory and not verified.
const (
	LightestCloud  = 30.0 // g/m3, the thinnest cloud that explodes
	LayerWarnFrom  = 0.8  // mm of dust lying about
	LayerStopAbove = 3.2  // mm, 1/8 in
)

// Cloud returns the g/m3 of dust in the air when a layer of mm (0 or more) with a bulk density in kg/m3 (0
// or more) is thrown up in a room of height m (above 0): their product by the height. From
// LightestCloud on it can explode.
func Cloud(mm, density, height interval.Range) (interval.Range, error) {
	if err := cmp.Or(atLeast0("the layer", "mm", mm), atLeast0("the bulk density", "kg/m3", density), above0("the height", "m", height)); err != nil {
		return interval.Range{}, err
	}
	return over(mm.Mul(density), height), nil
}

// LayerLevel reads the thickness of dust lying about in mm (0 or more) at its worst end.
func LayerLevel(mm interval.Range) Level {
	switch {
	case !mm.Valid() || mm.Lo < 0:
		return Unknown
	case mm.Hi > LayerStopAbove:
		return Stop
	case mm.Hi >= LayerWarnFrom:
		return Warn
	}
	return Go
}

// DustShare returns dust in mg/m3 (0 or more) as a share of the named limit for wood dust. The error names
// the limits that are known.
func (t Tables) DustShare(mg interval.Range, limit string) (interval.Range, error) {
	most, err := find(t.Dust, "limit for wood dust", limit)
	if err := cmp.Or(err, atLeast0("the dust", "mg/m3", mg)); err != nil {
		return interval.Range{}, err
	}
	return scaled(mg, 1/most), nil
}
