package air

import (
	"cmp"
	"fmt"
	"math"

	"mendwright/rules/interval"
)

// NoiseRule is how noise and time weigh against each other. The zero NoiseRule is that of NIOSH.
type NoiseRule int

// The rules.
const (
	NIOSH NoiseRule = iota // 85 dB(A) for 8 hours, half the time for every 3 dB more
	OSHA                   // 90 dB(A) for 8 hours, half the time for every 5 dB more
)

// Hours returns how long a level in dB(A) (0 to 194) may be borne a day: 8/2^((L - 85)/3) by NIOSH,
// 8/2^((L - 90)/5) by OSHA 29 CFR 1910.95. It falls with the level, and is more than 24 for quiet.
func (n NoiseRule) Hours(db interval.Range) (interval.Range, error) {
	if err := within("the noise", "dB(A)", db, 0, 194); err != nil {
		return interval.Range{}, err
	}
	return interval.Range{Lo: n.hours(db.Hi), Hi: n.hours(db.Lo)}, nil
}

func (n NoiseRule) hours(db float64) float64 {
	if n == OSHA {
		return 8 / math.Exp2((db-90)/5)
	}
	return 8 / math.Exp2((db-85)/3)
}

// Dose returns what a day's noise is of what may be borne: the sum of hours by allowed hours, too much
// above 1. It rises with every level and time. The stretches take no more than 24 hours.
func (n NoiseRule) Dose(spans []Span) (interval.Range, error) {
	if err := checkSpans(spans); err != nil {
		return interval.Range{}, err
	}
	var dose interval.Range
	for _, s := range spans {
		may, err := n.Hours(s.Level)
		if err != nil {
			return interval.Range{}, err
		}
		dose = dose.Add(over(s.Hours, may))
	}
	return dose, nil
}

// BehindPlugs returns the level in dB(A) (0 to 194) that reaches the ear behind plugs or muffs with a
// printed noise reduction rating in dB (0 to 40): less half of the rating beyond 7. From memory,
// not verified.
func BehindPlugs(db interval.Range, rating float64) (interval.Range, error) {
	if err := cmp.Or(within("the noise", "dB(A)", db, 0, 194), within("the rating", "dB", interval.Exact(rating), 0, 40)); err != nil {
		return interval.Range{}, err
	}
	cut := interval.Exact(max(0, (rating-7)/2))
	least := db.Sub(cut)
	return interval.Range{Lo: max(0, least.Lo), Hi: max(0, least.Hi)}, nil
}

// Machine returns the level at the ear in dB(A) of a kind of machine.
func (t Tables) Machine(name string) (interval.Range, error) {
	db, err := find(t.Noise, "machine", name)
	if err != nil {
		return interval.Range{}, fmt.Errorf("noise: %w", err)
	}
	return db, nil
}
