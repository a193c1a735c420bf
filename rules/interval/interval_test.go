package interval_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"mendwright/rules/interval"
)

func TestRectangularUncertaintyOfJCGM100(t *testing.T) {
	// JCGM 100:2008, 4.3.7: bounds of plus and minus 0.40 give u = 0.23.
	assert.InDelta(t, 0.231, interval.Around(16.52, 0.40).Std(), 0.001)
}

func TestArithmeticHoldsEveryPair(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	draw := func() interval.Range { return interval.Around(rnd.NormFloat64()*10, rnd.Float64()*5) }
	in := func(r interval.Range) float64 { return r.Lo + rnd.Float64()*(r.Hi-r.Lo) }
	holds := func(r interval.Range, v float64) bool { return r.Lo-1e-9 <= v && v <= r.Hi+1e-9 }
	for range 10000 {
		a, b := draw(), draw()
		x, y := in(a), in(b)
		assert.True(t, holds(a.Add(b), x+y))
		assert.True(t, holds(a.Sub(b), x-y))
		assert.True(t, holds(a.Mul(b), x*y))
	}
}

func TestRangesThatAreNot(t *testing.T) {
	assert.True(t, interval.Range{}.Valid())
	assert.False(t, interval.Range{Lo: 2, Hi: 1}.Valid())
	assert.False(t, interval.Range{Lo: math.NaN(), Hi: 1}.Valid())
	assert.False(t, interval.Range{Lo: 0, Hi: math.Inf(1)}.Valid())
	assert.True(t, interval.Around(1, -2).Within(interval.Around(1, 2)))
}

func TestTheHullHoldsBothAndNoMore(t *testing.T) {
	a, b := interval.Range{Lo: 1, Hi: 2}, interval.Range{Lo: -3, Hi: 1.5}
	assert.Equal(t, interval.Range{Lo: -3, Hi: 2}, a.Hull(b))
	assert.Equal(t, a.Hull(b), b.Hull(a))
	assert.Equal(t, a, a.Hull(interval.Exact(1.2)))
}

func TestClampMovesWhatLiesOutside(t *testing.T) {
	bounds := interval.Range{Lo: 0, Hi: 10}
	for r, want := range map[interval.Range]interval.Range{
		{Lo: 2, Hi: 3}:   {Lo: 2, Hi: 3},
		{Lo: -2, Hi: 3}:  {Lo: 0, Hi: 3},
		{Lo: 8, Hi: 12}:  {Lo: 8, Hi: 10},
		{Lo: 11, Hi: 12}: {Lo: 10, Hi: 10},
	} {
		assert.Equal(t, want, r.Clamp(bounds))
	}
}
