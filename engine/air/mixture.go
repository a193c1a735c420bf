package air

import (
	"cmp"
	"errors"
	"slices"

	"mendwright/rules/interval"
)

// Lines between the levels. A quarter of the lower explosive limit is where the mechanical code and
// NFPA 33 stop; a tenth is where NIOSH puts many figures for immediate danger; half of a limit
// is where OSHA begins to ask for measuring.
const (
	FireWarnFrom    = 0.10
	FireStopAbove   = 0.25
	HealthWarnAbove = 0.5
	HealthStopAbove = 1
)

// FireLevel reads a share of the lower explosive limit (0 or more) at its worst end.
func FireLevel(share interval.Range) Level {
	switch {
	case !share.Valid() || share.Lo < 0:
		return Unknown
	case share.Hi > FireStopAbove:
		return Stop
	case share.Hi >= FireWarnFrom:
		return Warn
	}
	return Go
}

// HealthLevel reads a share of the limit for breathing (0 or more) at its worst end.
func HealthLevel(share interval.Range) Level {
	switch {
	case !share.Valid() || share.Lo < 0:
		return Unknown
	case share.Hi > HealthStopAbove:
		return Stop
	case share.Hi > HealthWarnAbove:
		return Warn
	}
	return Go
}

// Part is one substance of a mixture: how much of it, and its limit in the same unit.
type Part struct {
	Amount interval.Range // 0 or more
	Limit  interval.Range // above 0
}

func checkParts(parts []Part) error {
	if len(parts) == 0 {
		return errors.New("a mixture needs at least one part")
	}
	for _, p := range parts {
		if err := cmp.Or(atLeast0("the part", "", p.Amount), above0("the limit", "", p.Limit)); err != nil {
			return err
		}
	}
	return nil
}

// ShareOfLimits returns what several substances together are of their limits: the sum of C/L, too much
// above 1, by 29 CFR 1910.1000(d)(2). With explosive limits for L it is the mixture's share of its
// own lower explosive limit. It rises with every amount and falls with every limit.
func ShareOfLimits(parts []Part) (interval.Range, error) {
	if err := checkParts(parts); err != nil {
		return interval.Range{}, err
	}
	var sum interval.Range
	for _, p := range parts {
		sum = sum.Add(over(p.Amount, p.Limit))
	}
	return sum, nil
}

// MixtureLimit returns the lower explosive limit of a vapour of several, in volume per cent, by Le
// Chatelier's rule: 1 over the sum of y/L, with y the share of each in what burns. Amounts are volumes
// in any unit; only their proportions count. At least one must be above 0 throughout.
func MixtureLimit(parts []Part) (interval.Range, error) {
	if err := checkParts(parts); err != nil {
		return interval.Range{}, err
	}
	if !slices.ContainsFunc(parts, func(p Part) bool { return p.Amount.Lo > 0 }) {
		return interval.Range{}, errors.New("a mixture needs one part of which there is more than nothing")
	}
	return interval.Range{
		Lo: mixed(parts, func(r interval.Range) float64 { return r.Lo }, slices.Min),
		Hi: mixed(parts, func(r interval.Range) float64 { return r.Hi }, slices.Max),
	}, nil
}

// mixed is the far end of a mixture's limit. More of a part pulls the mixture's limit towards that of
// the part, so at the least there is as much as may be of the parts with low limits and as little
// of the others; where to divide them is tried.
func mixed(parts []Part, end func(interval.Range) float64, best func([]float64) float64) float64 {
	sorted := slices.SortedFunc(slices.Values(parts), func(a, b Part) int { return cmp.Compare(end(a.Limit), end(b.Limit)) })
	var found []float64
	for cut := 0; cut <= len(sorted); cut++ {
		for _, low := range []bool{true, false} { // much of the parts before the cut, or little
			var all, limits float64
			for i, p := range sorted {
				amount := p.Amount.Lo
				if (i < cut) == low {
					amount = p.Amount.Hi
				}
				all += amount
				limits += amount / end(p.Limit)
			}
			found = append(found, all/limits)
		}
	}
	return best(found)
}
