package reckon

import (
	"slices"

	"mendwright/engine/plan"
	"mendwright/rules/interval"
)

var planCalculations = slices.Concat(timeCalculations, saleCalculations, piecesCalculations)

// ofWork is the unit of hands-on time, which is never told in days: they would be of 24 hours.
const ofWork = "h of work"

// Hours of a step by three points. A year of it is the most.
var (
	shortest  = Input{Name: "low", Means: "how long it takes if all goes well", Unit: "min", Range: between(0, plan.MostHours*60), Example: "2 h"}
	likeliest = Input{Name: "likely", Means: "how long it most likely takes", Unit: "min", Range: between(0, plan.MostHours*60), Example: "3 h"}
	slowest   = Input{Name: "high", Means: "how long it takes if much goes wrong", Unit: "min", Range: between(0, plan.MostHours*60), Example: "6 h"}
)

var timeCalculations = []*Calculation{
	{
		ID: "step-time", Field: Plan,
		Ask: "How long does a step take, with what scatter, and is it done in time?",
		Inputs: []Input{shortest, likeliest, slowest,
			{Name: "times", Means: "how many such steps follow each other, as with six chairs", Range: between(1, 1000), Default: "1", Example: "6"},
			{Name: "deadline", Means: "time there is for all of them", Unit: "min", Range: between(0, plan.MostHours*60), Optional: true, Example: "24 h"}},
		Sources: []string{"three-point", "normal-table"},
		Holds:   "By three guesses. Steps that go wrong for the same reason scatter more than this says.",
		Reckon:  stepTime,
	},
}

// surely is the chance with which a step is said to be done within a time.
const surely = 0.9

func stepTime(_ *Tables, g Given) ([]Figure, error) {
	var expected, scatter, within, chance []float64
	err := eachEstimate(g, func(s plan.Spread) error {
		for _, n := range corners(g.Range("times")) {
			all := s.Times(n)
			most, err := all.Within(surely)
			if err != nil {
				return err
			}
			expected, scatter, within = append(expected, all.Mean), append(scatter, all.Std()), append(within, most)
			for _, deadline := range corners(hours(g.Range("deadline"))) {
				chance = append(chance, all.Chance(deadline))
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	figures := []Figure{
		Amount("expected", "expected", ofWork, spanning(expected)),
		Amount("scatter", "give or take (one standard deviation)", ofWork, spanning(scatter)),
		Amount("nine-of-ten", "done in nine cases of ten within", ofWork, spanning(within)),
	}
	if !g.LeftOut("deadline") {
		figures = append(figures, Amount("chance", "chance to be done in time", "%", percent(spanning(chance))))
	}
	return figures, nil
}

// eachEstimate gives the time of a step at every corner of its three points. All that is reckoned
// of it here rises or falls with each of them alone, so that the corners are the ends of what they
// allow.
func eachEstimate(g Given, do func(plan.Spread) error) error {
	for _, low := range corners(hours(g.Range("low"))) {
		for _, likely := range corners(hours(g.Range("likely"))) {
			for _, high := range corners(hours(g.Range("high"))) {
				e := plan.Estimate{Low: low, Likely: likely, High: high}
				if err := e.Valid(); err != nil {
					return err
				}
				if err := do(plan.Total(e)); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// corners are the ends of a range as numbers.
func corners(r interval.Range) [2]float64 { return [2]float64{r.Lo, r.Hi} }

// spanning is the range from the least to the greatest of some numbers.
func spanning(v []float64) interval.Range {
	return interval.Range{Lo: slices.Min(v), Hi: slices.Max(v)}
}
