package reckon_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"mendwright/engine/reckon"
	"mendwright/rules/interval"
)

// TestFiguresShowWhatTheirWidthSupports: no more digits than the measurement has, and none fewer
// than tell its ends apart.
func TestFiguresShowWhatTheirWidthSupports(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		shown  string
	}{
		{1.5812, 1.8526, "1.58 to 1.85 mm"},
		{11113, 16677, "11100 to 16700 mm"},
		{2628, 5256, "2630 to 5260 mm"},
		{43, 300, "43 to 300 mm"},
		{0.001, 100000, "0.001 to 100000 mm"},
		{0, 0.9, "0 to 0.9 mm"},
		{23.041, 23.058, "23.04 to 23.06 mm"},
		{12345.6, 12345.9, "12345.6 to 12345.9 mm"},
		{-4.12, 3.777, "-4.12 to 3.78 mm"},
		{99.96, 100.04, "99.96 to 100.04 mm"},
		{1868.26, 1868.26, "1868 mm"},
		{5.9520, 6.0218, "5.95 to 6.02 mm"},
		{9.2418, 9.2418, "9.24 mm"},
		{0.19799, 0.19799, "0.198 mm"},
		{0, 0, "0 mm"},
	} {
		assert.Equal(t, c.shown, reckon.Show(interval.Range{Lo: c.lo, Hi: c.hi}, "mm"))
	}
	assert.Equal(t, "2 to 4", reckon.Show(interval.Range{Lo: 2, Hi: 4}, ""))
}
