package audit

import (
	"slices"
	"strings"

	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/quantity"
)

// conditions finds those that no answers make true, and those that none make false.
func (a *audit) conditions() {
	for _, p := range a.places {
		tree := a.tree(p.cond)
		if tree == nil {
			continue
		}
		switch {
		case !a.possible(a.when(p.cond, p.m, asked)):
			a.dead[p.cond] = true
			a.fault("never-true", p.cond.Pos, a.against(tree, p, true), "this is never true")
		case !a.possible(a.unless(p.cond, p.m, asked)):
			a.dead[p.cond] = true
			a.fault("never-false", p.cond.Pos, a.against(tree, p, false), "this is never false")
		}
	}
}

// tree is that of a condition; nil if it does not compile.
func (a *audit) tree(c *rules.Cond) *condition.Tree {
	if t := a.trees[c]; t != nil {
		return t
	}
	comp, err := c.Compile()
	if err != nil {
		return nil
	}
	a.trees[c] = comp.Tree()
	return a.trees[c]
}

// against says what keeps a tree from coming out as wanted: the parts that clash, and what ties
// their facts together.
func (a *audit) against(t *condition.Tree, p place, want bool) Witness {
	parts := []*condition.Tree{t}
	if t.Op == condition.And && want || t.Op == condition.Or && !want {
		parts = t.Parts
	}
	under := func(part *condition.Tree, v view) *formula { return a.truth(part, p.m, v, want) }
	var ss []statement
	byText := map[string]*condition.Tree{}
	for _, part := range parts {
		text := part.String()
		if !want {
			text = (&condition.Tree{Op: condition.Not, Parts: []*condition.Tree{part}}).String()
		}
		byText[text] = part
		ss = append(ss, statement{text, under(part, asked)})
	}
	ss = a.clash(ss)
	var facts []string
	for _, s := range ss {
		facts = append(facts, factsOf(byText[s.text])...)
	}
	w := Witness{Clash: texts(ss)}
	w.Clash = append(w.Clash, a.ties(facts, func(v view) []*formula {
		var out []*formula
		for _, s := range ss {
			out = append(out, under(byText[s.text], v))
		}
		return out
	})...)
	if len(ss) == 1 {
		for _, id := range slices.Compact(slices.Sorted(slices.Values(facts))) {
			if f := a.book.Facts[id]; f.Kind == condition.Quantity {
				w.Clash = append(w.Clash, id+" lies between "+strings.Replace(quantity.Span(f.Bounds, f.Unit), " to ", " and ", 1))
			}
		}
	}
	return w
}

// factsOf lists the facts of a tree.
func factsOf(t *condition.Tree) []string {
	if t.Fact != "" {
		return []string{t.Fact}
	}
	var out []string
	for _, p := range t.Parts {
		out = append(out, factsOf(p)...)
	}
	return out
}

// ties says which of the facts owe it to a gate, a table or a finding that formulas cannot all be
// true: without that they can.
func (a *audit) ties(facts []string, under func(view) []*formula) []string {
	var out []string
	for _, id := range slices.Compact(slices.Sorted(slices.Values(facts))) {
		f := a.book.Facts[id]
		v := asked
		v.loose = id
		finding := a.book.FindingFor(id)
		if f.Applies == nil && f.Lookup == nil && (finding == nil || f.Asked()) || !a.possible(under(v)...) {
			continue
		}
		switch {
		case f.Lookup != nil:
			out = append(out, id+" is what the table "+f.Lookup.Table+" gives for "+f.Lookup.By)
		case finding != nil && !f.Asked():
			out = append(out, id+" follows from the finding "+finding.ID)
		default:
			out = append(out, id+" is asked only where "+f.Applies.Text)
		}
	}
	return out
}

// branches finds those of a finding that are never reached: whenever they are true, one before
// them is not known to be false.
func (a *audit) branches() {
	for _, f := range a.book.Findings {
		for i, b := range f.Branches {
			if a.dead[b.When] {
				continue
			}
			under := func(v view) []*formula {
				out := []*formula{a.when(b.When, nil, v)}
				for _, before := range f.Branches[:i] {
					out = append(out, a.unless(before.When, nil, v))
				}
				return out
			}
			if a.possible(under(asked)...) {
				continue
			}
			a.dead[b.When] = true
			var ss []statement
			var facts []string
			for j, g := range under(asked) {
				text := b.When.Text
				if j > 0 {
					text = "before it, not: " + f.Branches[j-1].When.Text
				}
				ss = append(ss, statement{text, g})
				facts = append(facts, b.When.Names()...)
			}
			w := Witness{Clash: texts(a.clash(ss))}
			w.Clash = append(w.Clash, a.ties(facts, under)...)
			a.fault("unreached", b.When.Pos, w, "this branch is never reached: where it is true, one before it decides")
		}
	}
}
