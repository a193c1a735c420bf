package audit

import (
	"slices"

	"mendwright/rules"
	"mendwright/rules/condition"
)

// view is how much is taken into account of what ties facts together.
type view struct {
	// gates says that a fact is known only where it is asked. A job file may answer it all the same,
	// so what the rules mean is asked without gates and what a person can come to with them.
	gates bool
	// reckoned says that what is computed of a repair may come out in any way. Without it nothing
	// rests on it, neither for nor against.
	reckoned bool
	// loose is a fact whose ties are left out, "" if none: to see whether they are to blame.
	loose string
}

// Three ways to look. Asked is as the questions come, said is as the rules read, surely is with
// nothing that only the arithmetic knows.
var (
	asked  = view{gates: true, reckoned: true}
	said   = view{reckoned: true}
	surely = view{gates: true}
)

type truthKey struct {
	cond *rules.Cond
	m    *rules.Method
	view view
	want bool
}

// when is the formula of a condition being true; nil is always true.
func (a *audit) when(c *rules.Cond, m *rules.Method, v view) *formula { return a.cond(c, m, v, true) }

// unless is the formula of a condition being known to be false.
func (a *audit) unless(c *rules.Cond, m *rules.Method, v view) *formula {
	return a.cond(c, m, v, false)
}

func (a *audit) cond(c *rules.Cond, m *rules.Method, v view, want bool) *formula {
	if c == nil {
		if want {
			return yes
		}
		return no
	}
	key := truthKey{c, m, v, want}
	if f := a.truths[key]; f != nil {
		return f
	}
	comp, err := c.Compile()
	if err != nil { // a verified book has none such
		return no
	}
	tree := a.trees[c]
	if tree == nil {
		tree = comp.Tree()
		a.trees[c] = tree
	}
	f := a.truth(tree, m, v, want)
	a.truths[key] = f
	return f
}

// truth is the formula of a tree coming out as wanted. Where it comes out neither true nor false
// because a finding or a table is silent, both formulas are false.
func (a *audit) truth(t *condition.Tree, m *rules.Method, v view, want bool) *formula {
	switch t.Op {
	case condition.Not:
		return a.truth(t.Parts[0], m, v, !want)
	case condition.And, condition.Or:
		parts := make([]*formula, len(t.Parts))
		for i, p := range t.Parts {
			parts[i] = a.truth(p, m, v, want)
		}
		if (t.Op == condition.And) == want {
			return all(parts...)
		}
		return some(parts...)
	}
	f := a.book.Facts[t.Fact]
	tied := f.ID != v.loose && !a.left[f.ID]
	switch finding := a.book.FindingFor(f.ID); {
	case f.Computed != "" && !v.reckoned:
		return no
	case tied && f.Lookup != nil:
		var keys []string
		for _, answer := range a.book.Facts[f.Lookup.By].Answers {
			if is, known := a.lookedUp(f, answer.ID); known && outcome(t, is) == side(want) {
				keys = append(keys, answer.ID)
			}
		}
		if len(keys) == 0 {
			return no
		}
		return a.truth(&condition.Tree{Op: condition.Is, Fact: f.Lookup.By, Answers: keys}, m, v, true)
	case tied && finding != nil && !f.Asked():
		var ways []*formula
		before := yes
		for _, b := range finding.Branches {
			if outcome(t, b.Is) == side(want) {
				ways = append(ways, all(before, a.when(b.When, m, v)))
			}
			before = all(before, a.unless(b.When, m, v))
		}
		return some(ways...)
	}
	return all(a.applies(f, v), a.own(t, f, m, want))
}

// own is the formula of a test of a fact that is a variable of its own.
func (a *audit) own(t *condition.Tree, f *rules.Fact, m *rules.Method, want bool) *formula {
	if f.Kind == condition.Several {
		x := a.variable(f, t.Answers[0], m)
		return in(x, cellsOf(2, func(i int) bool { return (i == 0) == want }))
	}
	x := a.variable(f, "", m)
	return in(x, cellsOf(x.n, func(i int) bool { return outcome(t, x.value(i)) == side(want) }))
}

// applies is true where a fact may be asked: where it is not known to mean nothing.
func (a *audit) applies(f *rules.Fact, v view) *formula {
	if !v.gates || f.Applies == nil || f.ID == v.loose || a.left[f.ID] || a.gating[f.ID] {
		return yes
	}
	a.gating[f.ID] = true
	defer delete(a.gating, f.ID)
	return opposite(a.unless(f.Applies, nil, v))
}

// lookedUp is what a table gives for a key; false where it does not tell.
func (a *audit) lookedUp(f *rules.Fact, key string) (condition.Value, bool) {
	t, err := a.book.Table(f.Lookup.Table)
	if err != nil || t.Row(key) == nil {
		return condition.Value{}, false
	}
	if f.Kind == condition.Quantity {
		return condition.Measured(t.Row(key).Ranges[f.Lookup.Column]), true
	}
	v, known, err := f.ReadAnswer(t.Row(key).Texts[f.Lookup.Column])
	return v, known && err == nil
}

func side(want bool) condition.Outcome {
	if want {
		return condition.True
	}
	return condition.False
}

// outcome is how a test comes out on a known answer; a range that straddles the number decides nothing.
func outcome(t *condition.Tree, v condition.Value) condition.Outcome {
	if t.Op == condition.Is {
		switch v.Kind() {
		case condition.YesNo:
			return side(v.IsYes())
		case condition.Several:
			return side(slices.Contains(v.Set(), t.Answers[0]))
		}
		return side(slices.Contains(t.Answers, v.Choice()))
	}
	var is, not bool
	switch r, x := v.Range(), t.Number; t.Than {
	case "<":
		is, not = r.Hi < x, r.Lo >= x
	case "<=":
		is, not = r.Hi <= x, r.Lo > x
	case ">":
		is, not = r.Lo > x, r.Hi <= x
	default:
		is, not = r.Lo >= x, r.Hi < x
	}
	switch {
	case is:
		return condition.True
	case not:
		return condition.False
	}
	return condition.Unknown
}
