package plan_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/plan"
)

// TestAnEstimateIsInOrder: least, likely, most, and none below nothing.
func TestAnEstimateIsInOrder(t *testing.T) {
	for _, e := range []plan.Estimate{{}, {1, 1, 1}, {0, 2, 5}} {
		assert.NoError(t, e.Valid(), "%v", e)
	}
	for _, e := range []plan.Estimate{{2, 1, 3}, {1, 3, 2}, {-1, 0, 1}, {0, math.NaN(), 1}, {0, 1, math.Inf(1)}} {
		assert.ErrorContains(t, e.Valid(), "the least first", "%v", e)
	}
}

// TestMoreTimeIsMoreChance: the chance to be done rises with the deadline, is one half at the mean,
// and Within turns it round.
func TestMoreTimeIsMoreChance(t *testing.T) {
	s := plan.Total(plan.Estimate{5, 8, 17}, plan.Estimate{3, 5, 7}, plan.Estimate{3, 3, 3})
	assert.InDelta(t, 17, s.Mean, 1e-12)
	assert.InDelta(t, 4+4.0/9, s.Variance, 1e-12)
	assert.InDelta(t, 0.5, s.Chance(s.Mean), 1e-15)
	last := 0.0
	for h := 5.0; h < 30; h += .5 {
		chance := s.Chance(h)
		assert.Greater(t, chance, last)
		last = chance
		back, err := s.Within(chance)
		require.NoError(t, err)
		assert.InDelta(t, h, back, 1e-6)
	}
	for _, chance := range []float64{0, 1, -1, 2, math.NaN()} {
		_, err := s.Within(chance)
		assert.ErrorContains(t, err, "between 0 and 1")
	}
	// A far tail keeps its digits, where 1 less the rest would be nothing.
	assert.InEpsilon(t, 6.22096057427178e-16, plan.Spread{Variance: 1}.Chance(-8), 1e-9)
}

// TestACertainStepIsDoneOrNot: without scatter the chance is nothing before its time and all from
// then on.
func TestACertainStepIsDoneOrNot(t *testing.T) {
	s := plan.Total(plan.Estimate{3, 3, 3})
	assert.Equal(t, []float64{0, 1, 1}, []float64{s.Chance(2.99), s.Chance(3), s.Chance(4)})
}
