package audit

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"mendwright/rules"
	"mendwright/rules/condition"
)

// readers gathers, walking back from the rules, what is read in the end.
type readers struct {
	a    *audit
	read map[string]bool
}

func (r *readers) names(ids ...string) {
	for _, id := range ids {
		f := r.a.book.Facts[id]
		if f == nil || r.read[id] {
			continue
		}
		r.read[id] = true
		r.names(f.Applies.Names()...)
		if f.Lookup != nil {
			r.names(f.Lookup.By)
		}
		if finding := r.a.book.FindingFor(id); finding != nil {
			for _, b := range finding.Branches {
				r.names(b.When.Names()...)
			}
		}
	}
}

// unread notes facts that no rule reads in the end: no sign, no condition of a method or a warning,
// no calculator, and no other fact that is read.
func (a *audit) unread() {
	r := &readers{a, map[string]bool{}}
	r.names(a.book.Terms.AimFact)
	for _, p := range a.places {
		if p.what != "applies" && p.what != "branch" {
			r.names(p.cond.Names()...)
		}
	}
	r.names(a.fedFacts()...)
	for _, id := range factIDs(a.book) {
		if f := a.book.Facts[id]; !r.read[id] {
			a.note("unread", f.Pos, Witness{}, "no rule reads %s", id)
		}
	}
}

// fedFacts are those that arithmetic reads: nobody can say here which of their answers it tells apart.
func (a *audit) fedFacts() []string {
	var out []string
	for _, c := range a.book.Calculators {
		out = append(out, slices.Sorted(maps.Values(c.Inputs))...)
	}
	for _, m := range a.book.Methods() {
		if m.Vapour != nil {
			out = append(out, m.Vapour.By)
		}
		if m.Coat != nil {
			out = append(out, m.Coat.By)
		}
		for _, h := range m.Harms {
			out = append(out, h.From)
		}
	}
	return out
}

// undistinguished notes answers of one choice that no rule tells apart: whichever is given, every
// condition comes out the same, whatever the other answers. What arithmetic reads is left out.
func (a *audit) undistinguished() {
	fed := a.fedFacts()
	tests := map[string][]*condition.Tree{}
	var gather func(t *condition.Tree)
	gather = func(t *condition.Tree) {
		if t.Op == condition.Is {
			tests[t.Fact] = append(tests[t.Fact], t)
		}
		for _, p := range t.Parts {
			gather(p)
		}
	}
	for _, p := range a.places {
		if t := a.tree(p.cond); t != nil {
			gather(t)
		}
	}
	looks := map[string][]*rules.Fact{}
	for _, f := range a.book.Facts {
		if f.Lookup != nil {
			looks[f.Lookup.By] = append(looks[f.Lookup.By], f)
		}
	}
	for _, id := range factIDs(a.book) {
		f := a.book.Facts[id]
		if f.Kind != condition.Choice || f.Computed != "" || id == a.book.Terms.AimFact || slices.Contains(fed, id) || len(tests[id])+len(looks[id]) == 0 {
			continue
		}
		alike := map[string][]string{}
		var order []string
		for _, answer := range f.Answers {
			var key strings.Builder
			for _, t := range tests[id] {
				fmt.Fprint(&key, slices.Contains(t.Answers, answer.ID), " ")
			}
			slices.SortFunc(looks[id], func(x, y *rules.Fact) int { return x.Index - y.Index })
			for _, l := range looks[id] {
				v, known := a.lookedUp(l, answer.ID)
				fmt.Fprint(&key, v.String(), known, " ")
			}
			if alike[key.String()] == nil {
				order = append(order, key.String())
			}
			alike[key.String()] = append(alike[key.String()], answer.ID)
		}
		for _, key := range order {
			if same := alike[key]; len(same) > 1 {
				a.note("undistinguished", f.Pos, Witness{}, "no rule tells these answers to %s apart: %s", id, strings.Join(same, ", "))
			}
		}
	}
}

// unheard finds warnings for what no method gives off.
func (a *audit) unheard() {
	given := map[string]bool{}
	for _, e := range a.book.Terms.Sanding {
		given[e] = true
	}
	for _, m := range a.book.Methods() {
		for _, e := range m.GivesOff {
			given[e] = true
		}
	}
	for _, w := range a.book.Warnings {
		if len(w.On) > 0 && !slices.ContainsFunc(w.On, func(e string) bool { return given[e] }) {
			a.fault("idle", w.Pos, Witness{}, "no method gives off what %s is for: %s", w.ID, strings.Join(w.On, ", "))
		}
	}
}

// withoutCase finds rules that no case beside them tries.
func (a *audit) withoutCase() {
	for _, f := range a.book.Findings {
		if len(f.Cases) == 0 {
			a.fault("no-case", f.Pos, Witness{}, "the finding %s has no case", f.ID)
		}
	}
	for _, d := range a.book.Defects {
		if len(d.Cases) == 0 {
			a.fault("no-case", d.Pos, Witness{}, "the kind %s has no case", d.ID)
		}
	}
	for _, m := range a.book.Methods() {
		if len(m.Cases) == 0 {
			a.fault("no-case", m.Pos, Witness{}, "the method %s has no case", m.ID)
		}
	}
	for _, w := range a.book.Warnings {
		if len(w.Cases) == 0 {
			a.fault("no-case", w.Pos, Witness{}, "the warning %s has no case", w.ID)
		}
	}
}
