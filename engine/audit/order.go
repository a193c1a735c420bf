package audit

import (
	"slices"

	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/strictyaml"
)

// unpicked finds rules of order that no repair ever brings in: what they pick by does not go together.
func (a *audit) unpicked() {
	o := a.book.Order()
	for _, p := range o.Pairs {
		a.picks(p.Pos, p.First, "the pair picks no first repair")
		a.picks(p.Pos, p.Next, "the pair picks no next repair")
	}
	for _, c := range o.Chores {
		a.picks(c.Pos, c.With, "no repair brings this chore in")
	}
	for _, m := range o.Aftermaths {
		a.picks(m.Pos, m.Unless, "no repair sees to this aftermath")
	}
}

func (a *audit) picks(pos strictyaml.Pos, s rules.Selector, lacks string) {
	if !slices.ContainsFunc(a.book.Methods(), func(m *rules.Method) bool {
		return slices.ContainsFunc(a.coats(m), func(coat string) bool { return s.Picks(m, coat) })
	}) {
		a.fault("picks-nothing", pos, Witness{}, "%s", lacks)
	}
}

// coats are those that a method may lay; "" if it lays none.
func (a *audit) coats(m *rules.Method) []string {
	switch {
	case m.Coat == nil:
		return []string{""}
	case m.Coat.Of != "":
		return []string{m.Coat.Of}
	}
	out := []string{""}
	if f := a.book.Facts[m.Coat.By]; f != nil && f.Kind == condition.Choice {
		for _, answer := range f.Answers {
			out = append(out, answer.ID)
		}
	}
	return out
}
