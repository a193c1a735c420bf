package rules

import (
	"cmp"
	"slices"
)

// signs is what kinds that have the same signs have in common: a tree in which each kind lies at the end of its
// signs, those first that most kinds have. Whoever walks it leaves out at one false sign all the kinds behind it.
type signs struct {
	sign  *Cond     // nil of the root
	kinds []*Defect // that have no further sign
	then  []*signs
}

// Kinds lists the kinds of which may reports no sign as impossible, in the order of the book. It asks about each sign
// only where no other before it was impossible.
func (b *Book) Kinds(may func(sign *Cond) bool) []*Defect {
	b.signsOnce.Do(b.sortSigns)
	var out []*Defect
	var walk func(at *signs)
	walk = func(at *signs) {
		out = append(out, at.kinds...)
		for _, next := range at.then {
			if may(next.sign) {
				walk(next)
			}
		}
	}
	walk(&b.signs)
	slices.SortFunc(out, func(x, y *Defect) int { return cmp.Compare(x.Index, y.Index) })
	return out
}

func (b *Book) sortSigns() {
	shared := map[string]int{}
	for _, d := range b.Defects {
		for _, c := range d.Signs {
			shared[c.When.Text]++
		}
	}
	for _, d := range b.Defects {
		order := make([]*Cond, 0, len(d.Signs))
		for _, c := range d.Signs {
			order = append(order, c.When)
		}
		slices.SortStableFunc(order, func(x, y *Cond) int {
			return cmp.Or(cmp.Compare(shared[y.Text], shared[x.Text]), cmp.Compare(x.Text, y.Text))
		})
		at := &b.signs
		for _, sign := range order {
			i := slices.IndexFunc(at.then, func(s *signs) bool { return s.sign.Text == sign.Text })
			if i < 0 {
				i = len(at.then)
				at.then = append(at.then, &signs{sign: sign})
			}
			at = at.then[i]
		}
		at.kinds = append(at.kinds, d)
	}
}
