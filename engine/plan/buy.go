package plan

import (
	"errors"
	"math"

	"mendwright/rules/interval"
)

// Pieces is how many whole pieces to buy: tins for litres, discs or sheets of abrasive for an area.
// Need is 0 to 1e6, what one piece is good for 1e-4 to 1e6, both in the same unit. The error says
// which is out of range. How many litres and grams a piece needs is in the package coat: Purchase,
// Grams, PasteGrams and Rate, with the units of labels.
func Pieces(need, each interval.Range) (interval.Range, error) {
	if err := errors.Join(check("need", need, 0, 1e6, ""), check("area or volume that one piece is good for", each, 1e-4, 1e6, "")); err != nil {
		return interval.Range{}, err
	}
	return wholes(need, each), nil
}

// wholes is how many whole shares make up a sum, both ends above 0, but for the rounding of the
// arithmetic.
func wholes(sum, share interval.Range) interval.Range {
	up := func(n float64) float64 { return math.Ceil(n * (1 - hair)) }
	return interval.Range{Lo: up(sum.Lo / share.Hi), Hi: up(sum.Hi / share.Lo)}
}
