package mechanics_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/mechanics"
	"mendwright/rules/interval"
)

// chest is a carcase with four full drawers, some of them open, and perhaps a child on it.
func chest(open int, child bool) []mechanics.Part {
	parts := []mechanics.Part{{Mass: exact(35), Behind: exact(220), Height: exact(500)}}
	for i := range 4 {
		at := 200.0
		if i < open {
			at = -100
		}
		parts = append(parts, mechanics.Part{Mass: exact(9.127), Behind: exact(at), Height: exact(200 + 180*float64(i))})
	}
	if child {
		parts = append(parts, mechanics.Part{Mass: exact(27.2), Behind: exact(-300), Height: exact(600)})
	}
	return parts
}

func TestWhenAChestTips(t *testing.T) {
	one := must(t)
	for _, c := range []struct {
		says  string
		parts []mechanics.Part
		lean  interval.Range
		want  mechanics.Stance
	}{
		{"shut and alone", chest(0, false), exact(0), mechanics.Stands},
		{"all open, no child", chest(4, false), exact(0), mechanics.Stands},
		{"one open and a child", chest(1, true), exact(0), mechanics.Stands},
		{"all open and a child", chest(4, true), exact(0), mechanics.Tips},
		{"all open on a thick carpet", chest(4, false), exact(10), mechanics.Tips},
		{"a child of doubtful weight", append(chest(2, false), mechanics.Part{Mass: between(10, 40), Behind: exact(-300)}), exact(0), mechanics.StanceUnknown},
	} {
		got, err := mechanics.StanceOf(one(mechanics.Balance(c.parts, c.lean)))
		require.NoError(t, err)
		assert.Equal(t, c.want, got, c.says)
	}
	assert.Equal(t, "unknown stands tips", mechanics.StanceUnknown.String()+" "+mechanics.Stands.String()+" "+mechanics.Tips.String())
	_, err := mechanics.StanceOf(between(2, 1))
	assert.ErrorContains(t, err, "balance")
	_, err = mechanics.Balance(nil, exact(0))
	assert.ErrorContains(t, err, "no part")
	_, err = mechanics.Balance([]mechanics.Part{{}, {Mass: exact(-1)}}, exact(0))
	assert.ErrorContains(t, err, "part 2: read -1 kg for the mass")
	_, err = mechanics.Balance(chest(0, false), exact(60))
	assert.ErrorContains(t, err, "lean forward")
}

// An anchor that holds with the force of Restraint brings the balance back to nothing.
func TestTheRestraintJustHolds(t *testing.T) {
	one := must(t)
	lacks := one(mechanics.Balance(chest(4, true), exact(0)))
	force := one(mechanics.Restraint(lacks, exact(900)))
	assert.InDelta(t, 0, lacks.Lo+force.Lo*900/mechanics.StandardGravity, 1e-9)
	assert.Equal(t, exact(0), one(mechanics.Restraint(exact(100), exact(900))), "a piece that stands needs none")
	assert.Equal(t, 0.0, one(mechanics.Restraint(between(-5000, 100), exact(900))).Lo)
}

// Leaning turns the whole piece about its front feet.
func TestLeaningIsATurn(t *testing.T) {
	one := must(t)
	c := deal()
	for range tries {
		x, h, a := c.between(between(-500, 500)), c.between(between(0, 1500)), c.between(between(0, 45))
		got := one(mechanics.Tilted(exact(x), exact(h), exact(a)))
		r, angle := math.Hypot(x, h), math.Atan2(h, x)
		assert.InDelta(t, r*math.Cos(angle+a*math.Pi/180), got.Lo, 1e-9)
	}
}

// The lean counts once for all parts: the answer over a range of leans is that of the single
// leans in it, not of each part at its own worst.
func TestAllPartsLeanTogether(t *testing.T) {
	one := must(t)
	c := deal()
	for i := range 150 {
		var parts []mechanics.Part
		for range 1 + c.IntN(4) {
			parts = append(parts, mechanics.Part{Mass: c.within(between(0, 40)), Behind: c.within(between(-400, 400)), Height: c.within(between(0, 400))})
		}
		lean := c.within(between(0, 45))
		if i == 0 { // one that passes over the feet on the way to the worst lean
			lean = between(0, 45)
			parts = []mechanics.Part{
				{Mass: between(0, 5), Behind: exact(255), Height: exact(597)},
				{Mass: between(0, 5), Behind: exact(-138), Height: exact(411)},
				{Mass: between(0, 40), Behind: exact(-354), Height: exact(109)},
			}
		}
		hull := one(mechanics.Balance(parts, lean))
		seen := between(math.Inf(1), math.Inf(-1))
		const steps = 500
		for i := range steps + 1 {
			at := one(mechanics.Balance(parts, exact(min(lean.Hi, lean.Lo+(lean.Hi-lean.Lo)*float64(i)/steps))))
			seen = between(min(seen.Lo, at.Lo), max(seen.Hi, at.Hi))
		}
		size := math.Abs(hull.Lo) + math.Abs(hull.Hi) + 1
		assert.InDelta(t, hull.Lo, seen.Lo, 1e-5*size, "%v leaning by %v", parts, lean)
		assert.InDelta(t, hull.Hi, seen.Hi, 1e-5*size, "%v leaning by %v", parts, lean)
		// Each lean by itself is exact in the parts: corners reach both ends.
		at := c.between(lean)
		still, corner := one(mechanics.Balance(parts, exact(at))), between(0, 0)
		for _, p := range parts {
			arms := one(mechanics.Tilted(p.Behind, p.Height, exact(at)))
			corner = corner.Add(p.Mass.Mul(arms))
		}
		assert.InDelta(t, corner.Lo, still.Lo, near(corner.Lo))
		assert.InDelta(t, corner.Hi, still.Hi, near(corner.Hi))
	}
}
