package engine

import (
	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/strictyaml"
)

// CheckPairs runs the cases beside the pairs of a verified rulebook and returns, each at its place, those
// that come out otherwise than they say and the pairs of which the cases show only one side.
func CheckPairs(book *rules.Book, tables *Tables) strictyaml.Errors {
	var errs strictyaml.Errors
	b := newBench(book, tables)
	for _, p := range book.Order().Pairs {
		yes, no := false, false
		for _, c := range p.Cases {
			s := b.stageAnew(&rules.Case{Given: c.Given}).scene
			holds := s.pairs(p, book.Method(c.First), book.Method(c.Next))
			yes, no = yes || holds, no || !holds
			if holds != c.Holds {
				errs = append(errs, c.Pos.Error("%s then %s: %s", c.First, c.Next, map[bool]string{true: "the pair holds them here", false: "the pair does not hold them here"}[holds]))
			}
		}
		if !yes || !no {
			errs = append(errs, p.Pos.Error("the cases must show the pair holding and not holding"))
		}
	}
	return errs.Sorted()
}

// pairs reports whether a pair holds two methods on the scene's surface: each is picked, and what the pair
// asks is not false.
func (s *scene) pairs(p *rules.Pair, first, next *rules.Method) bool {
	return p.First.Picks(first, s.coatOf(first)) && p.Next.Picks(next, s.coatOf(next)) &&
		s.eval(p.When) != condition.False
}

// coatOf names the coat that a method lays in the scene; "" if it lays none or nobody has said which.
func (s *scene) coatOf(m *rules.Method) string {
	switch {
	case m.Coat == nil:
		return ""
	case m.Coat.Of != "":
		return m.Coat.Of
	}
	if f := s.resolve(m.Coat.By); f.known {
		return f.value.Choice()
	}
	return ""
}
