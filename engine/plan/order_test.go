package plan_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/plan"
)

func byIndex(a, b int) bool { return a < b }

// TestSteamComesBeforeSandingAndStainAfter: an order keeps what each step needs, and what is free
// goes by the wish of the caller.
func TestSteamComesBeforeSandingAndStainAfter(t *testing.T) {
	const sand, stain, steam, metal = 0, 1, 2, 3
	arcs := []plan.Arc{{steam, sand}, {sand, stain}, {steam, stain}}
	order, err := plan.Order(4, arcs, byIndex)
	require.NoError(t, err)
	assert.Equal(t, []int{steam, sand, stain, metal}, order)
	order, err = plan.Order(4, arcs, func(a, b int) bool { return a > b })
	require.NoError(t, err)
	assert.Equal(t, []int{metal, steam, sand, stain}, order)
	order, err = plan.Order(3, nil, func(int, int) bool { return false })
	require.NoError(t, err)
	assert.Equal(t, []int{0, 1, 2}, order, "what cannot be told apart keeps its place")
	order, err = plan.Order(0, nil, byIndex)
	require.NoError(t, err)
	assert.Empty(t, order)
}

// TestAClashIsNamed: where steps wait for each other, the shortest ring is told with its arcs, so
// that whoever gave the reasons can say which of them clash.
func TestAClashIsNamed(t *testing.T) {
	arcs := []plan.Arc{{5, 0}, {0, 1}, {1, 2}, {2, 3}, {3, 0}, {2, 4}, {4, 1}, {3, 4}}
	_, err := plan.Order(6, arcs, byIndex)
	var cycle *plan.Cycle
	require.ErrorAs(t, err, &cycle)
	assert.Equal(t, []int{1, 2, 4}, cycle.Tasks)
	assert.Equal(t, []int{2, 5, 6}, cycle.Arcs)
	assert.ErrorContains(t, err, "[1 2 4]")

	_, err = plan.Order(1, []plan.Arc{{0, 0}}, byIndex)
	require.ErrorAs(t, err, &cycle)
	assert.Equal(t, plan.Cycle{Tasks: []int{0}, Arcs: []int{0}}, *cycle, "a step that waits for itself")

	for _, arc := range []plan.Arc{{0, 2}, {-1, 0}, {2, 0}, {0, -1}} {
		_, err = plan.Order(2, []plan.Arc{arc}, byIndex)
		assert.ErrorContains(t, err, "there are 2")
	}
}

// TestAnyArcsGiveAnOrderOrARing: on random arcs the order respects every one, and if there is none
// the ring is one, and no two tasks alone make a shorter.
func TestAnyArcsGiveAnOrderOrARing(t *testing.T) {
	r := rand.New(rand.NewPCG(40, 1))
	orders, rings := 0, 0
	for range 3000 {
		n := 1 + r.IntN(9)
		arcs := make([]plan.Arc, r.IntN(2*n))
		for i := range arcs {
			arcs[i] = plan.Arc{Before: r.IntN(n), After: r.IntN(n)}
		}
		order, err := plan.Order(n, arcs, byIndex)
		if err == nil {
			orders++
			require.Len(t, order, n)
			for _, a := range arcs {
				require.Less(t, slices.Index(order, a.Before), slices.Index(order, a.After))
			}
			continue
		}
		rings++
		var cycle *plan.Cycle
		require.ErrorAs(t, err, &cycle)
		require.Len(t, cycle.Arcs, len(cycle.Tasks))
		for i, task := range cycle.Tasks {
			require.Equal(t, plan.Arc{Before: task, After: cycle.Tasks[(i+1)%len(cycle.Tasks)]}, arcs[cycle.Arcs[i]])
		}
		require.Equal(t, len(cycle.Tasks), shortestRing(n, arcs))
	}
	assert.Greater(t, min(orders, rings), 300)
}

// shortestRing is the length of the shortest ring, by trying walks of each length.
func shortestRing(n int, arcs []plan.Arc) int {
	for long := 1; long <= n; long++ {
		for start := range n {
			at := map[int]bool{start: true}
			for range long {
				next := map[int]bool{}
				for _, a := range arcs {
					if at[a.Before] {
						next[a.After] = true
					}
				}
				at = next
			}
			if at[start] {
				return long
			}
		}
	}
	return 0
}
