package plan

import (
	"fmt"
	"slices"
)

// Arc says that one task comes before another, both by index.
type Arc struct{ Before, After int }

// Cycle is the error of tasks that wait for each other in a ring.
type Cycle struct {
	Tasks []int // each must come before the next, and the last before the first
	Arcs  []int // indices of the arcs given: from each task to the next, the last back to the first
}

func (c *Cycle) Error() string {
	return fmt.Sprintf("the tasks %v each wait for the one before, and the first for the last", c.Tasks)
}

// Order puts n tasks into an order that respects every arc. Of those that could come next it takes
// the least by less, a strict weak order, and where less tells two not apart the lower index. The
// error is a *Cycle, a shortest there is, or says which arc names no task.
func Order(n int, arcs []Arc, less func(a, b int) bool) ([]int, error) {
	g := graph{arcs: arcs, out: make([][]int, n), rank: make([]int, n), byRank: make([]int, n)}
	waits := make([]int, n)
	for i, a := range arcs {
		if a.Before < 0 || a.Before >= n || a.After < 0 || a.After >= n {
			return nil, fmt.Errorf("read an arc from task %d to task %d; there are %d", a.Before, a.After, n)
		}
		g.out[a.Before] = append(g.out[a.Before], i)
		waits[a.After]++
	}
	for i := range g.byRank {
		g.byRank[i] = i
	}
	slices.SortStableFunc(g.byRank, func(a, b int) int {
		switch {
		case less(a, b):
			return -1
		case less(b, a):
			return 1
		}
		return 0
	})
	for r, i := range g.byRank {
		g.rank[i] = r
	}
	order, done := make([]int, 0, n), make([]bool, n)
	for len(order) < n {
		next := slices.IndexFunc(g.byRank, func(i int) bool { return !done[i] && waits[i] == 0 })
		if next < 0 {
			return nil, g.cycle(done)
		}
		i := g.byRank[next]
		done[i] = true
		order = append(order, i)
		for _, a := range g.out[i] {
			waits[arcs[a].After]--
		}
	}
	return order, nil
}

// graph is tasks and arcs, with the place of each task in the wanted order.
type graph struct {
	arcs         []Arc
	out          [][]int // indices of the arcs that leave each task
	rank, byRank []int
}

// cycle finds a shortest ring among the tasks that are not done, of several the one that holds the
// first task by rank. That there is one is for the caller to know.
func (g graph) cycle(done []bool) *Cycle {
	for i := range g.out {
		slices.SortStableFunc(g.out[i], func(a, b int) int { return g.rank[g.arcs[a].After] - g.rank[g.arcs[b].After] })
	}
	var shortest *Cycle
	for _, start := range g.byRank {
		if !done[start] {
			if c := g.ring(start, done); c != nil && (shortest == nil || len(c.Tasks) < len(shortest.Tasks)) {
				shortest = c
			}
		}
	}
	return shortest
}

// ring finds a shortest way from a task back to itself over tasks that are not done, nil if none.
func (g graph) ring(start int, done []bool) *Cycle {
	by := make([]int, len(g.out)) // the arc over which each task was reached, plus 1
	for queue := []int{start}; len(queue) > 0; queue = queue[1:] {
		for _, a := range g.out[queue[0]] {
			next := g.arcs[a].After
			if done[next] || by[next] > 0 {
				continue
			}
			by[next] = a + 1
			if next != start {
				queue = append(queue, next)
				continue
			}
			c := &Cycle{}
			for at := start; len(c.Tasks) == 0 || at != start; {
				arc := by[at] - 1
				at = g.arcs[arc].Before
				c.Tasks, c.Arcs = append(c.Tasks, at), append(c.Arcs, arc)
			}
			slices.Reverse(c.Tasks)
			slices.Reverse(c.Arcs)
			return c
		}
	}
	return nil
}
