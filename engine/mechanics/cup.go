package mechanics

import (
	"errors"

	"mendwright/rules/interval"
)

// CupAfterRip is how deep, in mm, a strip is still cupped when a cupped board (mm deep, 0 to 100)
// is ripped to a share of its width (0.01 to 1): depth times the share squared, for the curve
// stays the same. A column on wood technology gives a quarter for a half. It rises with both, so
// the answer spans exactly the two ends. Errors: a range outside these limits.
func CupAfterRip(depth, share interval.Range) (interval.Range, error) {
	if err := errors.Join(
		check("depth of the cup", depth, 0, 100, "mm"),
		check("share of the width", share, 0.01, 1, ""),
	); err != nil {
		return interval.Range{}, err
	}
	return interval.Range{Lo: depth.Lo * share.Lo * share.Lo, Hi: depth.Hi * share.Hi * share.Hi}, nil
}
