package metal

import "fmt"

// FractionMM is a fraction of an inch, such as 9/64, in mm. The error names a fraction below 0 or
// above 1000 in, or a denominator that is not 1, 2, 4, 8, 16, 32, 64 or 128.
// Source: 25.4 mm to the inch.
func FractionMM(numerator, denominator int) (float64, error) {
	if denominator < 1 || denominator > 128 || denominator&(denominator-1) != 0 {
		return 0, fmt.Errorf("read %d/%d in; expected a denominator of 1, 2, 4, 8, 16, 32, 64 or 128", numerator, denominator)
	}
	if numerator < 0 || numerator > 1000*denominator {
		return 0, fmt.Errorf("read %d/%d in; expected 0 to 1000 in", numerator, denominator)
	}
	return 25.4 * float64(numerator) / float64(denominator), nil
}
