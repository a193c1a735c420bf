package audit

import "mendwright/rules"

// opposites finds what one rule says both ways: a fact left in two states, and what lowers a harm
// only where something raises it, which wins.
func (a *audit) opposites() {
	for _, m := range a.book.Methods() {
		left := map[string]rules.Leave{}
		for _, l := range m.Leaves {
			if first, twice := left[l.Fact]; twice {
				f := a.book.Facts[l.Fact]
				a.fault("conflict", l.Pos, Witness{Clash: []string{leaves(f, first), leaves(f, l)}}, "%s leaves %s in two states", m.ID, l.Fact)
			}
			left[l.Fact] = l
		}
		for _, h := range m.Harms {
			for _, s := range h.Lowered {
				if a.dead[s.When] {
					continue
				}
				ss := []statement{{s.When.Text, a.when(s.When, m, asked)}}
				for _, r := range h.Raised {
					ss = append(ss, statement{"not raised: " + r.When.Text, a.unless(r.When, m, asked)})
				}
				if !a.possible(formulas(ss)...) {
					a.dead[s.When] = true
					a.fault("conflict", s.When.Pos, Witness{Clash: texts(a.clash(ss))}, "this lowers %s only where something raises it, and that wins", h.ID)
				}
			}
		}
	}
}

func leaves(f *rules.Fact, l rules.Leave) string {
	switch {
	case l.To != nil:
		return "leaves " + f.ID + ": " + f.Show(*l.To)
	case l.Times != nil:
		return "leaves " + f.ID + " multiplied"
	}
	return "leaves " + f.ID + " to be looked at again"
}
