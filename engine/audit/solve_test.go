package audit

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/rules"
)

// numbered makes n variables of so many cells.
func (a *audit) numbered(n, size int) []*variable {
	for i := range n {
		a.add(fmt.Sprint("v", len(a.vars)), &variable{n: size, answer: fmt.Sprint(i)})
	}
	return a.vars[len(a.vars)-n:]
}

func randomFormula(r *rand.Rand, vars []*variable, deep int) *formula {
	if deep == 0 {
		v := vars[r.IntN(len(vars))]
		return in(v, cellsOf(v.n, func(int) bool { return r.IntN(2) == 0 }))
	}
	var parts []*formula
	for range 2 + r.IntN(3) {
		parts = append(parts, randomFormula(r, vars, deep-1))
	}
	f := all(parts...)
	if r.IntN(2) == 0 {
		f = some(parts...)
	}
	if r.IntN(3) == 0 {
		return opposite(f)
	}
	return f
}

// TestSolvingIsTryingEveryWorld compares with trying all worlds of four variables with three cells.
func TestSolvingIsTryingEveryWorld(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	found := map[bool]int{}
	for range 1200 {
		a := newAudit(&rules.Book{})
		vars := a.numbered(4, 3)
		fs := []*formula{randomFormula(r, vars, 2), randomFormula(r, vars, 3), randomFormula(r, vars, 2)}
		any := false
		for i := range 81 {
			w := world{}
			for _, div := range []int{1, 3, 9, 27} {
				w = append(w, cellsOf(3, func(c int) bool { return c == i/div%3 }))
			}
			for _, f := range fs {
				is, not := w.holds(f)
				require.NotEqual(t, is, not, "all is answered")
				require.Equal(t, not, w.shows(opposite(f)))
			}
			any = any || a.allHold(w, fs)
		}
		w, ok, known := a.solve(fs...)
		require.True(t, known)
		require.Equal(t, any, ok)
		if ok {
			assert.True(t, a.allHold(w, fs), "what is found is one")
		}
		found[ok]++
	}
	assert.Greater(t, found[true], 200)
	assert.Greater(t, found[false], 200)
}

func TestAtLeastCounts(t *testing.T) {
	a := newAudit(&rules.Book{})
	var parts []*formula
	for _, v := range a.numbered(4, 2) {
		parts = append(parts, in(v, cellsOf(2, func(c int) bool { return c == 0 })))
	}
	parts = append(parts, yes, no)
	for i := range 16 {
		w := world{}
		n := 1
		for j := range 4 {
			w = append(w, cellsOf(2, func(c int) bool { return c == i>>j&1 }))
			n += 1 - i>>j&1
		}
		for k := range 8 {
			assert.Equal(t, n >= k, w.shows(atLeast(k, parts)), "%d of them, %d wanted", n, k)
		}
	}
}

// TestManyCells: a variable may have more cells than a machine word has bits.
func TestManyCells(t *testing.T) {
	a := newAudit(&rules.Book{})
	v := a.numbered(1, 150)[0]
	odd := in(v, cellsOf(150, func(c int) bool { return c%2 == 1 }))
	late := in(v, cellsOf(150, func(c int) bool { return c > 147 }))
	w, found, _ := a.solve(odd, late)
	require.True(t, found)
	assert.Equal(t, 1, w.cells(v).count())
	assert.True(t, w.cells(v).has(149))
	assert.False(t, a.possible(odd, opposite(odd)))
}

// TestWhatTakesTooLongIsNotReported: eleven birds do not fit ten perches, and finding that out by
// trying takes longer than a search may.
func TestWhatTakesTooLongIsNotReported(t *testing.T) {
	a := newAudit(&rules.Book{})
	birds := a.numbered(11, 10)
	var fs []*formula
	for i, x := range birds {
		for _, y := range birds[:i] {
			for c := range 10 {
				on := func(v *variable) *formula { return in(v, cellsOf(10, func(i int) bool { return i == c })) }
				fs = append(fs, some(opposite(on(x)), opposite(on(y))))
			}
		}
	}
	_, found, known := a.solve(fs...)
	assert.False(t, found)
	assert.False(t, known)
	assert.Equal(t, 1, a.undecided)
	assert.True(t, a.possible(fs...), "what nobody knows is possible")
	_, found, known = a.solve(slices.Clone(fs[:300])...)
	assert.True(t, found && known)
}
