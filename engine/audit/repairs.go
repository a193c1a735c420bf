package audit

import (
	"slices"

	"mendwright/rules"
	"mendwright/rules/strictyaml"
)

// signs are those of a kind, all true.
func (a *audit) signs(d *rules.Defect, v view) []statement {
	var out []statement
	for _, c := range d.Signs {
		out = append(out, statement{"sign of " + d.ID + ": " + c.When.Text, a.when(c.When, nil, v)})
	}
	return out
}

// conditionsOf are those of a method, each as it must be for the method to be ready.
func (a *audit) conditionsOf(m *rules.Method, v view) []statement {
	var out []statement
	for _, c := range m.Suits {
		out = append(out, statement{"suits: " + c.When.Text, a.when(c.When, m, v)})
	}
	for _, c := range m.Never {
		out = append(out, statement{"not: " + c.When.Text, a.unless(c.When, m, v)})
	}
	return out
}

// treats lists the kinds that a method treats.
func (a *audit) treats(m *rules.Method) []*rules.Defect {
	var out []*rules.Defect
	for _, id := range m.Treats {
		if d := a.book.Defect(id); d != nil {
			out = append(out, d)
		}
	}
	return out
}

// repairs finds methods whose own conditions contradict each other, those that are never ready for
// a kind which they treat, and kinds that no mark ever is. That one ban forbids a whole kind is no
// fault where a case of the kind says so under never_ready: such a method stands there to be refused
// with its reason. Some kind it must be ready for.
func (a *audit) repairs() {
	for _, m := range a.book.Methods() {
		own := a.conditionsOf(m, asked)
		if !a.possible(formulas(own)...) {
			a.deadFor[m] = true
			clash := a.clash(own)
			if len(clash) == 1 { // reported by itself
				continue
			}
			a.fault("conflict", a.lastOf(m, clash), Witness{Clash: texts(clash)}, "%s is never ready: what suits it and what forbids it leave nothing between them", m.ID)
			continue
		}
		ready := false
		var refused []*rules.Defect
		for _, d := range a.treats(m) {
			signs := a.signs(d, asked)
			switch {
			case a.possible(append(formulas(signs), formulas(own)...)...):
				ready = true
			case a.possible(formulas(signs)...):
				refused = append(refused, d)
			}
		}
		for _, d := range refused {
			if ready && a.meantToBeRefused(m, d) {
				continue
			}
			clash := a.clash(append(a.signs(d, asked), own...))
			a.fault("never-ready", a.lastOf(m, clash), Witness{Clash: texts(clash)}, "%s treats %s and is never ready for it", m.ID, d.ID)
		}
		a.deadFor[m] = !ready
	}
	for _, d := range a.book.Defects {
		signs := a.signs(d, asked)
		if a.possible(formulas(signs)...) {
			continue
		}
		if clash := a.clash(signs); len(clash) > 1 {
			a.fault("conflict", d.Pos, Witness{Clash: texts(clash)}, "no mark is ever a %s: its signs contradict each other", d.ID)
		}
	}
}

// meantToBeRefused reports whether a case of the kind says that the method is never ready, and one
// ban alone sees to it.
func (a *audit) meantToBeRefused(m *rules.Method, d *rules.Defect) bool {
	says := slices.ContainsFunc(d.Cases, func(c rules.Case) bool { return slices.Contains(c.NeverReady, m.ID) })
	return says && slices.ContainsFunc(m.Never, func(c rules.Clause) bool {
		return !a.possible(append(formulas(a.signs(d, asked)), a.unless(c.When, m, asked))...)
	})
}

// lastOf is the place of the last of a method's clauses that stands in a clash.
func (a *audit) lastOf(m *rules.Method, clash []statement) strictyaml.Pos {
	at := m.Pos
	in := map[string]bool{}
	for _, s := range clash {
		in[s.text] = true
	}
	for _, c := range m.Suits {
		if in["suits: "+c.When.Text] {
			at = c.When.Pos
		}
	}
	for _, c := range m.Never {
		if in["not: "+c.When.Text] {
			at = c.When.Pos
		}
	}
	return at
}

// bans finds clauses of a method that decide nothing for the kinds it treats: a ban that never
// holds for any of them, something that suits it and always does, a harm that nothing there moves.
func (a *audit) bans() {
	for _, m := range a.book.Methods() {
		idle := func(c *rules.Cond, want bool, says string) {
			if a.dead[c] {
				return
			}
			clash, ok := a.outside(m, statement{c.Text, a.cond(c, m, asked, want)}, want)
			if ok {
				a.dead[c] = true
				a.fault("idle", c.Pos, Witness{Clash: clash}, "%s", says)
			}
		}
		for _, c := range m.Never {
			idle(c.When, true, "this ban holds for none of the kinds that "+m.ID+" treats")
		}
		for _, c := range m.Suits {
			idle(c.When, false, "this is always so for the kinds that "+m.ID+" treats")
		}
		for _, h := range m.Harms {
			for _, s := range h.Raised {
				idle(s.When, true, "this raises nothing for the kinds that "+m.ID+" treats")
			}
			for _, s := range h.Lowered {
				idle(s.When, true, "this lowers nothing for the kinds that "+m.ID+" treats")
			}
		}
	}
}

// outside reports whether a condition comes out as wanted under the signs of none of the kinds, and
// what of the first kind keeps it from that.
func (a *audit) outside(m *rules.Method, s statement, want bool) (clash []string, ok bool) {
	if !want {
		s.text = "not: " + s.text
	}
	for i, d := range a.treats(m) {
		signs := a.signs(d, asked)
		all := append(slices.Clone(signs), s)
		if a.possible(formulas(all)...) || !a.possible(formulas(signs)...) {
			return nil, false
		}
		if i == 0 {
			clash = texts(a.clash(all))
		}
	}
	return clash, clash != nil
}
