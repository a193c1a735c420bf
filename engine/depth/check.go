package depth

import (
	"fmt"
	"math"

	"mendwright/rules/interval"
)

// Limits between the verdicts, as the chance of going through the keep line in one treatment.
// They are the edges of the levels A and B of MIL-STD-882D, appendix A.
const (
	ClearBelow  = 0.01
	ThroughFrom = 0.1
)

// Verdict is what a cut does to a layer. The zero Verdict is Unknown.
type Verdict int

// The verdicts.
const (
	Unknown Verdict = iota // the measurements allow more than one of the others
	Clear                  // chance below ClearBelow
	Tight
	Through // chance of ThroughFrom or more
)

func (v Verdict) String() string { return [...]string{"unknown", "clear", "tight", "through"}[v] }

// Result is a cut checked against a layer.
type Result struct {
	Take   Take
	Left   interval.Range // of the layer
	Margin interval.Range // allowance less take
	// Std is the combined standard uncertainty of the margin: measured ranges count as
	// rectangular (JCGM 100:2008, 4.3.7), independent terms add in squares (5.1.2).
	Std float64
	// Chance of going through the keep line, 1 - Φ(margin/Std) at the middle of the ranges; of a layer
	// with a Most the chance of taking more than that, if it is greater. It falls as the layer grows.
	Chance float64
	// Chances are the same chance from the best to the worst end of every measured range, with
	// only the scatter of the scratches left to luck. They shrink as measuring gets better.
	Chances interval.Range
	Verdict Verdict
}

// Check judges a take against a layer. The verdict is known only if both ends of what was
// measured agree on it, so that a closer measurement never contradicts it.
func Check(l Layer, t Take) Result {
	r := Result{Take: t, Left: l.Thickness.Sub(t.Total), Margin: l.Allowance().Sub(t.Total)}
	cut := Combine(t.Film.Std(), t.Defect.Std(), t.Clearances.Std(), t.spread.Mid())
	r.Std = Combine(l.Allowance().Std(), cut)
	// The two bounds are weighed one by one. Of an allowance that Most has cut short part of the spread
	// is gone, and by that a thicker layer would look the worse of two that go through.
	r.Chance = Beyond(l.Thickness.Mid()-l.Keep-t.Total.Mid(), Combine(l.Thickness.Std(), cut))
	if l.Most > 0 {
		r.Chance = max(r.Chance, Beyond(l.Most-t.Total.Mid(), cut))
	}
	// More scatter helps a cut that would go through and hurts one that would not.
	best, worst := t.spread.Lo, t.spread.Hi
	if r.Margin.Hi < 0 {
		best = t.spread.Hi
	}
	if r.Margin.Lo < 0 {
		worst = t.spread.Lo
	}
	r.Chances = interval.Range{Lo: Beyond(r.Margin.Hi, best), Hi: Beyond(r.Margin.Lo, worst)}
	if v := verdict(r.Chances.Lo); v == verdict(r.Chances.Hi) {
		r.Verdict = v
	}
	return r
}

func verdict(chance float64) Verdict {
	switch {
	case chance < ClearBelow:
		return Clear
	case chance < ThroughFrom:
		return Tight
	}
	return Through
}

// Combine is the combined standard uncertainty of independent terms (JCGM 100:2008, 5.1.2).
func Combine(u ...float64) float64 {
	var sum float64
	for _, v := range u {
		sum += v * v
	}
	return math.Sqrt(sum)
}

// Phi is the standard normal distribution function.
func Phi(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }

// Beyond is the chance that a value with mean margin and standard uncertainty u is below 0:
// 1 - Φ(margin/u). Without uncertainty it is 0 for a positive margin, 1 for a negative one, and
// one half on the line.
func Beyond(margin, u float64) float64 {
	if u <= 0 {
		switch {
		case margin > 0:
			return 0
		case margin < 0:
			return 1
		}
		return 0.5
	}
	return 0.5 * math.Erfc(margin/u/math.Sqrt2)
}

// Deepest is the deepest mark, exactly measured, that the cut's grits can sand out of the layer
// with a chance below p (0 < p < 1/2) of going through even at the worst end of what was measured,
// rounded down to a micrometre; 0 if even a fresh surface is too much.
func Deepest(l Layer, t Take, p float64) float64 {
	without := t.Film.Add(t.Clearances)
	z := math.Sqrt2 * math.Erfinv(1-2*p)
	d := l.Allowance().Lo - without.Hi - z*t.spread.Hi
	return max(0, math.Ceil(d*1000-1e-9)-1) / 1000
}

// PassesToMeasure is how many passes with a grit may be made before the layer must be measured
// again: as many as could take half of the margin at the tool's strongest cut, scaled from grit
// 120 by grain size. 0 means that a single pass could take more than that. Half is a choice of
// this program. The error names an unknown grit or tool.
func (t Tables) PassesToMeasure(r Result, tool, grit string) (int, error) {
	size, err := t.Grain(grit)
	if err != nil {
		return 0, err
	}
	ref, err := t.Grain("120")
	if err != nil {
		return 0, err
	}
	known, ok := t.Tools[tool]
	if !ok || known.Pass.Hi <= 0 {
		return 0, fmt.Errorf("there is no figure for what one pass with the tool %q takes", tool)
	}
	return int(min(max(0, r.Margin.Lo/2/(known.Pass.Hi*size/ref)), 1000)), nil
}
