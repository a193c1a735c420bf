package audit

import (
	"slices"

	"mendwright/rules"
)

// sameClauses finds clauses that say nothing beside another of the same rule. Gates are left out
// of it: that a fact is asked only behind another makes no clause on that other one needless.
func (a *audit) sameClauses() {
	for _, d := range a.book.Defects {
		a.needless(nil, clauses(d.Signs), "sign", func(x, y *formula) (*formula, *formula) { return x, y })
	}
	for _, m := range a.book.Methods() {
		a.needless(m, clauses(m.Suits), "condition", func(x, y *formula) (*formula, *formula) { return x, y })
		// A ban is needless where another holds whenever it does: the other way round.
		a.needless(m, clauses(m.Never), "ban", func(x, y *formula) (*formula, *formula) { return y, x })
		a.coveredBans(m)
		for i := range m.Harms {
			h := &m.Harms[i]
			a.shifts(m, h.Raised, func(weak, strong int) bool { return strong <= weak })
			a.shifts(m, h.Lowered, func(weak, strong int) bool { return strong >= weak })
		}
	}
}

func clauses(cs []rules.Clause) []*rules.Cond {
	var out []*rules.Cond
	for _, c := range cs {
		out = append(out, c.When)
	}
	return out
}

// needless reports a clause if, by order, the one implies the other whatever the answers. Of two
// that say the same, the later one is needless.
func (a *audit) needless(m *rules.Method, cs []*rules.Cond, what string, order func(other, this *formula) (from, to *formula)) {
	for j, c := range cs {
		for i, o := range cs {
			if i == j || a.dead[c] || a.dead[o] {
				continue
			}
			from, to := order(a.when(o, m, said), a.when(c, m, said))
			if !a.implies(from, to) || i > j && a.implies(to, from) {
				continue
			}
			a.dead[c] = true
			report := a.fault
			if what == "sign" { // it may stand to be asked first
				report = a.note
			}
			a.redundant(report, c, o, m, "this %s says nothing beside the one on line %d", what, o.Pos.Line)
		}
	}
}

// redundant reports a condition beside another, with answers under which both hold.
func (a *audit) redundant(report reporting, c, beside *rules.Cond, m *rules.Method, format string, args ...any) {
	both := []*formula{a.when(c, m, said), a.when(beside, m, said)}
	var witness Witness
	if w, found, _ := a.solve(both...); found {
		witness = a.example(w, both...)
	}
	report("redundant", c.Pos, witness, format, args...)
}

// implies reports whether y is true wherever x is.
func (a *audit) implies(x, y *formula) bool { return !a.possible(x, opposite(y)) }

// coveredBans notes bans that hold only where the method does not suit anyway. They may stand, for
// their reason may be the graver one.
func (a *audit) coveredBans(m *rules.Method) {
	for _, c := range m.Never {
		if a.dead[c.When] {
			continue
		}
		ss := []statement{{c.When.Text, a.when(c.When, m, said)}}
		for _, s := range m.Suits {
			ss = append(ss, statement{"suits: " + s.When.Text, opposite(a.unless(s.When, m, said))})
		}
		if !a.possible(formulas(ss)...) {
			a.dead[c.When] = true
			a.note("covered", c.When.Pos, Witness{Clash: texts(a.clash(ss))}, "this ban holds only where %s does not suit anyway: it gives another reason and rules out nothing more", m.ID)
		}
	}
}

// shifts finds those of a harm that never act, since another that moves it as far holds whenever
// they do.
func (a *audit) shifts(m *rules.Method, ss []rules.Shift, covers func(weak, strong int) bool) {
	for j, s := range ss {
		for i, o := range ss {
			if i == j || a.dead[s.When] || a.dead[o.When] || !covers(s.To, o.To) {
				continue
			}
			this, other := a.when(s.When, m, said), a.when(o.When, m, said)
			if !a.implies(this, other) || i > j && s.To == o.To && a.implies(other, this) {
				continue
			}
			a.dead[s.When] = true
			a.redundant(a.fault, s.When, o.When, m, "this moves the harm no further than line %d does", o.When.Pos.Line)
		}
	}
}

// sameRules finds kinds that a mark cannot be the one of without the other, and warnings that say
// the same.
func (a *audit) sameRules() {
	signs := make([]*formula, len(a.book.Defects))
	for i, d := range a.book.Defects {
		signs[i] = all(formulas(a.signs(d, said))...)
	}
	for j, d := range a.book.Defects {
		this := signs[j]
		w, found, _ := a.solve(this)
		for i, o := range a.book.Defects {
			if i == j || !found || !a.implies(this, signs[i]) {
				continue
			}
			other := signs[i]
			witness := a.example(w, this, other)
			switch {
			case !a.implies(other, this):
				a.fault("redundant", d.Pos, witness, "every mark that is a %s is a %s too", d.ID, o.ID)
			case i < j:
				a.fault("redundant", d.Pos, witness, "%s has the same signs as %s", d.ID, o.ID)
			}
		}
	}
	for j, w := range a.book.Warnings {
		for _, o := range a.book.Warnings[:j] {
			switch {
			case w.Text == o.Text:
				a.fault("redundant", w.Pos, Witness{}, "%s warns in the same words as %s", w.ID, o.ID)
			case w.When != nil && o.When != nil && w.Signal == o.Signal && sameSet(w.On, o.On):
				this, other := a.when(w.When, nil, said), a.when(o.When, nil, said)
				if a.implies(this, other) && a.implies(other, this) {
					var witness Witness
					if world, found, _ := a.solve(this); found {
						witness = a.example(world, this)
					}
					a.fault("redundant", w.Pos, witness, "%s warns exactly when %s does; say it in one", w.ID, o.ID)
				}
			}
		}
	}
}

func sameSet(x, y []string) bool {
	return slices.Equal(slices.Sorted(slices.Values(x)), slices.Sorted(slices.Values(y)))
}
