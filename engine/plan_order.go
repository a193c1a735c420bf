package engine

import (
	"cmp"
	"errors"
	"slices"

	"mendwright/engine/plan"
	"mendwright/rules"
	"mendwright/rules/condition"
)

// strength says how much an order matters: of those that cannot all be kept the weakest is given up.
type strength int

const (
	usualOrder strength = iota // the stages of one surface
	betterSo                   // a pair that is better so
	pieceWide                  // a stage that keeps its place across the piece
	mustBe                     // a pair that is spoilt otherwise
)

// before is one step that comes before another.
type before struct {
	a, b     int
	strength strength
	pair     *rules.Pair // nil: the usual order
}

// arrange puts the steps into an order. It returns the steps in it, with what lies between pairs added, and for
// each those that come before it.
func (p *planner) arrange(steps []*work) ([]*work, []before) {
	arcs := p.paired(steps)
	for _, pair := range p.book.Order().Pairs { // what has to lie between two is a step of its own
		if pair.Between != nil {
			steps, arcs = p.between(pair, steps, arcs)
		}
	}
	arcs = append(arcs, p.staged(steps, arcs)...)
	for {
		order, err := plan.Order(len(steps), plain(arcs), func(a, b int) bool {
			return cmp.Or(cmp.Compare(steps[a].stage, steps[b].stage), cmp.Compare(steps[a].id, steps[b].id)) < 0
		})
		var ring *plan.Cycle
		if !errors.As(err, &ring) {
			return reorder(steps, arcs, order)
		}
		weakest := slices.MinFunc(ring.Arcs, func(x, y int) int {
			return cmp.Or(cmp.Compare(arcs[x].strength, arcs[y].strength), cmp.Compare(x, y))
		})
		if w := arcs[weakest]; w.pair != nil {
			p.clashes = append(p.clashes, Clash{Rule: w.pair.ID, On: steps[w.a].on, Marks: marksOf(steps[w.a], steps[w.b]), First: steps[w.a].rule,
				Next: steps[w.b].rule, Because: w.pair.Because, Sources: w.pair.Sources, Text: "Other reasons ask for the opposite order, which is the one shown."})
		}
		arcs = slices.Delete(arcs, weakest, weakest+1)
	}
}

func plain(arcs []before) []plan.Arc {
	out := make([]plan.Arc, len(arcs))
	for i, a := range arcs {
		out[i] = plan.Arc{Before: a.a, After: a.b}
	}
	return out
}

// reorder puts steps and arcs into the order found.
func reorder(steps []*work, arcs []before, order []int) ([]*work, []before) {
	at := make([]int, len(steps))
	out := make([]*work, 0, len(steps))
	for place, i := range order {
		at[i] = place
		out = append(out, steps[i])
	}
	for i := range arcs {
		arcs[i].a, arcs[i].b = at[arcs[i].a], at[arcs[i].b]
	}
	slices.SortStableFunc(arcs, func(x, y before) int {
		return cmp.Or(cmp.Compare(x.b, y.b), cmp.Compare(x.a, y.a), cmp.Compare(y.strength, x.strength))
	})
	return out, arcs
}

func marksOf(steps ...*work) []string {
	var out []string
	for _, w := range steps {
		for _, m := range w.marks {
			out = append(out, m.mark.ID)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// paired finds the pairs that hold two steps.
func (p *planner) paired(steps []*work) []before {
	var arcs []before
	for _, pair := range p.book.Order().Pairs {
		if pair.Instead != "" {
			continue // no order saves both
		}
		strong := betterSo
		if pair.Hard {
			strong = mustBe
		}
		var first, next []int
		for i, w := range steps {
			if w.method == nil {
				continue
			}
			if pair.First.Picks(w.method, w.coat) {
				first = append(first, i)
			}
			if pair.Next.Picks(w.method, w.coat) {
				next = append(next, i)
			}
		}
		for _, a := range first {
			for _, b := range next {
				// A step that is picked as both is not held to itself, nor are two that are picked as both.
				if a != b && !(slices.Contains(first, b) && slices.Contains(next, a)) && p.joins(pair, steps[a], steps[b]) {
					arcs = append(arcs, before{a, b, strong, pair})
				}
			}
		}
	}
	return arcs
}

// joins reports whether a pair reaches from one step to the other and its condition is not false.
func (p *planner) joins(pair *rules.Pair, a, b *work) bool {
	switch pair.Where {
	case "surface":
		if a.on != b.on && a.on != "" && b.on != "" {
			return false
		}
	case "mark":
		if !slices.ContainsFunc(a.marks, func(m *planned) bool { return slices.Contains(b.marks, m) }) {
			return false
		}
	}
	if pair.When == nil {
		return true
	}
	// What a pair asks it asks of where the second is done: that is what would be spoilt.
	return slices.ContainsFunc(b.marks, func(m *planned) bool { return m.pick.scene.eval(pair.When) != condition.False })
}

// between adds a step for what has to be done between the two sides of a pair, one a surface.
func (p *planner) between(pair *rules.Pair, steps []*work, arcs []before) ([]*work, []before) {
	at := map[string]int{}
	n := len(arcs)
	for i := range n {
		arc := arcs[i]
		if arc.pair != pair {
			continue
		}
		on := steps[arc.a].on
		if on == "" {
			on = steps[arc.b].on
		}
		x, ok := at[on]
		if !ok {
			x = len(steps)
			at[on] = x
			steps = append(steps, &work{id: stepID(pair.ID, on), name: pair.Between.Do, kind: "between", rule: pair.ID, on: on, stage: steps[arc.a].stage,
				between: pair, waits: []WaitView{{For: "it to be over", Hours: pair.Between.Hours, Because: pair.Because, Sources: pair.Sources}}, waitH: pair.Between.Hours.Hi})
		}
		steps[x].stage = max(steps[x].stage, steps[arc.a].stage)
		arcs[i].b = x
		arcs = append(arcs, before{x, arc.b, arc.strength, pair})
	}
	return steps, arcs
}

// staged is the usual order of the stages: on one surface, and for some stages across the piece. What a pair
// orders otherwise it does not.
func (p *planner) staged(steps []*work, pairs []before) []before {
	ordered := map[[2]int]bool{}
	for _, arc := range pairs {
		ordered[[2]int{arc.a, arc.b}] = true
	}
	across := func(w *work) bool { return p.book.Terms.Stages[w.stage].Across == "piece" }
	var arcs []before
	for i, a := range steps {
		for j, b := range steps {
			if i == j || a.kind == "between" || b.kind == "between" || ordered[[2]int{i, j}] || ordered[[2]int{j, i}] {
				continue
			}
			earlier := a.stage < b.stage || a.stage == b.stage && a.kind == "chore" && b.kind == "repair" && serves(a, b)
			if !earlier {
				continue
			}
			switch {
			case across(a) || across(b):
				arcs = append(arcs, before{i, j, pieceWide, nil})
			case a.kind == "chore" && a.on == "" || b.kind == "chore" && b.on == "":
				if serves(a, b) {
					arcs = append(arcs, before{i, j, usualOrder, nil})
				}
			case a.on == b.on || a.on == "" || b.on == "":
				arcs = append(arcs, before{i, j, usualOrder, nil})
			}
		}
	}
	return arcs
}

// serves reports whether two steps have a mark in common.
func serves(a, b *work) bool {
	return slices.ContainsFunc(a.marks, func(m *planned) bool { return slices.Contains(b.marks, m) })
}

// direct drops the arcs of the usual order that follow from others, and of several pairs between the same two steps
// keeps all: they are the reasons. steps are in order.
func direct(n int, arcs []before) []before {
	reach := make([][]bool, n) // what lies before each step, by whatever path
	from := make([][]before, n)
	for _, a := range arcs {
		from[a.b] = append(from[a.b], a)
	}
	var out []before
	for b := range n {
		reach[b] = make([]bool, n)
		in := from[b]
		slices.SortStableFunc(in, func(x, y before) int { return cmp.Compare(y.a, x.a) }) // nearest first
		for _, arc := range in {
			if arc.pair == nil && reach[b][arc.a] {
				continue
			}
			out = append(out, arc)
			reach[b][arc.a] = true
			for i, r := range reach[arc.a] {
				reach[b][i] = reach[b][i] || r
			}
		}
	}
	return out
}
