package air

import (
	"cmp"
	"errors"

	"mendwright/rules/interval"
)

// Span is a stretch of a working day at one level: a concentration, or a noise.
type Span struct {
	Hours interval.Range // 0 or more
	Level interval.Range // 0 or more
}

func checkSpans(spans []Span) error {
	if len(spans) == 0 {
		return errors.New("a working day needs at least one stretch of time")
	}
	var hours float64
	for _, s := range spans {
		if err := cmp.Or(atLeast0("the time", "h", s.Hours), atLeast0("the level", "", s.Level)); err != nil {
			return err
		}
		hours += s.Hours.Lo
	}
	return within("the whole day", "h", interval.Exact(hours), 0, 24)
}

// DayAverage returns what several stretches come to over a working day of 8 hours: the sum of C T, by 8,
// as 29 CFR 1910.1000(d)(1) has it; a longer day is not spread over more hours. The stretches take
// no more than 24 hours. It rises with every level and every time.
func DayAverage(spans []Span) (interval.Range, error) {
	if err := checkSpans(spans); err != nil {
		return interval.Range{}, err
	}
	var sum interval.Range
	for _, s := range spans {
		sum = sum.Add(s.Hours.Mul(s.Level))
	}
	return scaled(sum, 1.0/8), nil
}

// LongDayLimit returns an 8-hour limit made smaller for a day of hours (above 0, up to 24): limit times 8
// by hours beyond 8, as 29 CFR 1910.1025 does for lead. It falls with hours.
func LongDayLimit(limit float64, hours interval.Range) (interval.Range, error) {
	if err := cmp.Or(above0("the limit", "", interval.Exact(limit)), above0("the day", "h", hours), within("the day", "h", hours, 0, 24)); err != nil {
		return interval.Range{}, err
	}
	return interval.Range{Lo: limit * 8 / max(8, hours.Hi), Hi: limit * 8 / max(8, hours.Lo)}, nil
}
