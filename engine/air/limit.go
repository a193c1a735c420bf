package air

import (
	"fmt"
	"math"
	"slices"

	"mendwright/rules/interval"
)

// breathing lists the kinds of limit a substance has that tell how much may be breathed, sorted.
func (t Tables) breathing(substance string) []string {
	var kinds []string
	for kind := range t.Limits[substance] {
		if kind != "idlh" && kind != "action" {
			kinds = append(kinds, kind)
		}
	}
	slices.Sort(kinds)
	return kinds
}

// share is what v is of a limit, in the unit of the limit.
func (v Vapour) share(l Limit) interval.Range {
	if l.Unit == MG {
		return scaled(v.MG, 1/l.Amount)
	}
	return scaled(v.PPM, 1/l.Amount)
}

func lesser(a, b interval.Range) interval.Range {
	return interval.Range{Lo: min(a.Lo, b.Lo), Hi: min(a.Hi, b.Hi)}
}

// Tightest returns the smallest limit for breathing of a substance, in ppm; a limit in mg/m3 is turned
// by the molar mass. The error says that the substance is unknown or has no such limit.
func (t Tables) Tightest(substance string) (interval.Range, error) {
	s, err := t.Substance(substance)
	if err != nil {
		return interval.Range{}, err
	}
	kinds := t.breathing(substance)
	if len(kinds) == 0 {
		return interval.Range{}, fmt.Errorf("there is no limit for breathing %s", substance)
	}
	tightest := interval.Exact(math.Inf(1))
	for _, kind := range kinds {
		ppm, err := t.Limits[substance][kind].ppm(s.Molar)
		if err != nil {
			return interval.Range{}, err
		}
		tightest = lesser(tightest, ppm)
	}
	return tightest, nil
}

// ppm is a limit in ppm for a substance of the given molar mass.
func (l Limit) ppm(molar interval.Range) (interval.Range, error) {
	if l.Unit == MG {
		return ToPPM(interval.Exact(l.Amount), molar)
	}
	return interval.Exact(l.Amount), nil
}
