package engine

import (
	"cmp"
	"math"
	"slices"

	"mendwright/rules"
	"mendwright/rules/condition"
)

// meetsAim says whether what a method achieves meets the piece's aim; unknown if no aim was named.
func (s *scene) meetsAim(m *rules.Method) condition.Outcome {
	aim := s.resolve(s.book.Terms.AimFact)
	if !aim.known {
		return condition.Unknown
	}
	for _, a := range s.book.Terms.Aims {
		if a.Aim == aim.value.Choice() {
			if slices.Contains(a.Outcomes, m.Achieves) {
				return condition.True
			}
			return condition.False
		}
	}
	return condition.Unknown
}

// tryNew puts what was tried already, and was not enough, behind what was not.
func tryNew(a, b *verdict) int {
	switch {
	case a.spent == b.spent:
		return 0
	case a.spent:
		return 1
	}
	return -1
}

// compare orders judged methods: ready before needs-an-answer before ruled out; what was not tried yet
// before what was; what meets the
// aim before what does not (what only holds falls short unless the aim is known to want no more); then the worst risk, the next worst and so on; then the wood that
// goes, an unknown amount last; then whether it can be undone; then hands-on time; then id.
func compare(a, b *verdict) int {
	if c := cmp.Compare(a.state.rank(), b.state.rank()); c != 0 { // most differ early
		return c
	}
	if c := cmp.Or(tryNew(a, b), cmp.Compare(a.short(), b.short()), compareRisks(a.risks, b.risks)); c != 0 {
		return c
	}
	return cmp.Or(
		cmp.Compare(a.wood(), b.wood()),
		cmp.Compare(slices.Index(rules.Undos, a.method.Undo), slices.Index(rules.Undos, b.method.Undo)),
		cmp.Compare(a.method.Minutes[1], b.method.Minutes[1]),
		cmp.Compare(a.method.ID, b.method.ID),
	)
}

// rank is the place of a state in the ranking.
func (s State) rank() int {
	switch s {
	case Ready:
		return 0
	case NeedsAnswer:
		return 1
	}
	return 2
}

// short grows with what a method falls short of the aim: 2 if it mends nothing, unless the aim is known
// to want no more.
func (v *verdict) short() int {
	switch {
	case v.onlyHolds():
		return 2
	case v.aim == condition.False:
		return 1
	}
	return 0
}

// onlyHolds says that the method mends nothing and that nobody said that this is enough.
func (v *verdict) onlyHolds() bool {
	return v.method.Achieves == rules.Holds && v.aim != condition.True
}

// mends reports whether the method is ready and does what is wanted or at least mends something.
func (v *verdict) mends() bool {
	return v.state == Ready && !v.spent && !v.onlyHolds()
}

// wood is how much wood the method takes at most; an unknown amount is more than any.
func (v *verdict) wood() float64 {
	if v.removes == nil {
		return math.Inf(1)
	}
	return v.removes.Hi
}

// compareRisks orders by the worst risk, then the next worst. A harm that the other method does
// not have at all is worse than none; an eliminated harm counts as none.
func compareRisks(a, b []int) int {
	at := func(r []int, i int) int {
		if i >= len(r) {
			return int(rules.None)
		}
		return r[i]
	}
	for i := range max(len(a), len(b)) {
		if c := cmp.Compare(at(b, i), at(a, i)); c != 0 {
			return c
		}
	}
	return 0
}
