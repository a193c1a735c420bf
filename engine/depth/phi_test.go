package depth_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/stat/distuv"

	"mendwright/engine/depth"
)

// relative fails the test if got is further from want than share of it.
func relative(t *testing.T, want, got, share float64, z float64) {
	t.Helper()
	if !(math.Abs(got-want) <= share*math.Abs(want)) {
		t.Errorf("at %v: got %v, want %v", z, got, want)
	}
}

func TestPhiIsTheNormalDistribution(t *testing.T) {
	for i := range 16001 {
		z := -8 + float64(i)/1000
		relative(t, distuv.UnitNormal.CDF(z), depth.Phi(z), 1e-13, z)
	}
	for z := -37.0; z < -8; z += 0.01 {
		relative(t, distuv.UnitNormal.CDF(z), depth.Phi(z), 1e-13, z)
	}
}

func TestPhiKeepsItsPrecisionInTheTail(t *testing.T) {
	// Reckoned to 40 digits with mpmath, ncdf(-z).
	for z, want := range map[float64]float64{
		5: 2.8665157187919391167e-7, 8: 6.2209605742717841235e-16, 10: 7.619853024160526066e-24,
		20: 2.7536241186062336951e-89, 30: 4.9067139271481870595e-198, 37: 5.7255712225245768227e-300,
	} {
		relative(t, want, depth.Phi(-z), 1e-12, -z)
		relative(t, want, depth.Beyond(z, 1), 1e-12, z)
	}
	// Far out, the tail lies between the density over z + 1/z and the density over z
	// (Gordon 1941, Annals of Mathematical Statistics 12, 364-366).
	for z := 5.0; z < 37; z += 0.1 {
		density := math.Exp(-z*z/2) / math.Sqrt(2*math.Pi)
		got := depth.Phi(-z)
		if got <= density/(z+1/z) || got >= density/z {
			t.Errorf("Phi(%v) = %v lies outside its bounds", -z, got)
		}
	}
}

func TestBothTailsOfPhiMakeOne(t *testing.T) {
	for z := 0.0; z <= 8; z += 0.01 {
		assert.InDelta(t, 1, depth.Phi(z)+depth.Phi(-z), 1e-15)
		assert.InDelta(t, depth.Phi(-z/0.3), depth.Beyond(z, 0.3), 1e-15)
	}
}

func TestWithoutUncertaintyTheMarginDecides(t *testing.T) {
	assert.Equal(t, 0.0, depth.Beyond(0.001, 0))
	assert.Equal(t, 0.5, depth.Beyond(0, 0))
	assert.Equal(t, 1.0, depth.Beyond(-0.001, 0))
}

// The end gauge of JCGM 100:2008, example H.1, as worked in
// https://gtc.readthedocs.io/en/stable/API/GUM_H1.html; lengths in nm.
func TestUncertaintiesOfTheEndGaugeCombine(t *testing.T) {
	comparison := depth.Combine(5.8, 3.9, 6.7) // scatter, and both errors of the comparator
	assert.InDelta(t, 9.7, comparison, 0.05)
	standard := 75.0 / 3
	// Length times the standard uncertainty of a rectangular spread, times the temperature
	// offset or the expansion that goes with it.
	expansion := 50000623 * 0.1 * 1e-6 / math.Sqrt(3)
	temperature := 50000623 * 11.5e-6 * 0.05 / math.Sqrt(3)
	assert.InDelta(t, 2.9, expansion, 0.05)
	assert.InDelta(t, 16.6, temperature, 0.05)
	combined := depth.Combine(standard, comparison, expansion, temperature)
	assert.InDelta(t, 31.7, combined, 0.05)
	assert.Equal(t, 32.0, math.Round(combined))
}

func TestATermOfNothingAddsNothing(t *testing.T) {
	assert.Equal(t, 0.0, depth.Combine())
	assert.InDelta(t, 5, depth.Combine(3, 0, 4), 1e-15)
	assert.InDelta(t, 5, depth.Combine(-4, 3), 1e-15)
}
