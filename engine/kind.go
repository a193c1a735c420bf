package engine

import (
	"slices"

	"mendwright/rules"
	"mendwright/rules/condition"
)

// kind is a defect kind that the mark is or may be.
type kind struct {
	def     *rules.Defect
	certain bool
	in      *scene
	open    []int // what missing lists, once it was asked for
	listed  bool
	// weight is how likely the kind is beside the others, 0 until that is asked for (see likely).
	weight float64
}

// kinds lists the defect kinds that no sign rules out, certain ones first, then by id.
func (s *scene) kinds() []*kind {
	var out []*kind
	for _, d := range s.book.Kinds(func(sign *rules.Cond) bool { return s.eval(sign) != condition.False }) {
		if k, possible := s.kindOf(d); possible {
			out = append(out, k)
		}
	}
	slices.SortStableFunc(out, certainFirst)
	return out
}

// kindOf says whether the mark is of a kind; false if a sign rules it out.
func (s *scene) kindOf(d *rules.Defect) (*kind, bool) {
	certain := true
	for i := range d.Signs {
		switch s.eval(d.Signs[i].When) {
		case condition.False:
			return nil, false
		case condition.Unknown:
			certain = false
		}
	}
	return &kind{def: d, certain: certain, in: s}, true
}

// kindAfter is kindOf for a kind that was possible before an answer that reaches so far.
func (s *scene) kindAfter(was *kind, reach *rules.Reach) (*kind, bool) {
	certain := true
	signs := was.def.Signs
	for i := range signs {
		if reach.Reads(signs[i].When) {
			switch s.eval(signs[i].When) {
			case condition.False:
				return nil, false
			case condition.Unknown:
				certain = false
			}
		}
	}
	for i := 0; i < len(signs) && certain && !was.certain; i++ {
		certain = s.eval(signs[i].When) == condition.True
	}
	return &kind{def: was.def, certain: certain, in: s}, true
}

// missing lists, raw, the facts that the signs wait for which are open.
func (k *kind) missing() []int {
	if !k.listed {
		open := k.in.lists.pad[:0]
		for i := range k.def.Signs {
			open = k.in.lacks(k.def.Signs[i].When, open)
		}
		k.open, k.listed = k.in.lists.keep(open), true
	}
	return k.open
}

// certainFirst orders kinds; those alike in it stay in the order of their ids.
func certainFirst(a, b *kind) int {
	switch {
	case a.certain == b.certain:
		return 0
	case a.certain:
		return -1
	}
	return 1
}
