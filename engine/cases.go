package engine

import (
	"slices"
	"strings"

	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/strictyaml"
)

// CheckCases runs the cases that stand beside the rules of a verified rulebook. It returns every
// case that comes out otherwise than it says, and every condition that no case has seen both
// ways, each at its place.
func CheckCases(book *rules.Book, tables *Tables) strictyaml.Errors {
	return CheckCasesOf(book, tables, book.Rules())
}

// CheckCasesOf is CheckCases for some of the rules.
func CheckCasesOf(book *rules.Book, tables *Tables, of []rules.Rule) strictyaml.Errors {
	c := &caseCheck{bench: newBench(book, tables), seen: map[*rules.Cond]*sides{}}
	for _, r := range of {
		switch {
		case r.Finding != nil:
			c.finding(r.Finding)
		case r.Defect != nil:
			c.defect(r.Defect)
		case r.Method != nil:
			c.method(r.Method)
		case r.Warning != nil:
			c.warning(r.Warning)
		}
	}
	return c.errs.Sorted()
}

// sides records how a condition came out over the cases.
type sides struct{ yes, no, unknown bool }

type caseCheck struct {
	*bench
	seen map[*rules.Cond]*sides
	errs strictyaml.Errors
}

func (c *caseCheck) fail(pos strictyaml.Pos, format string, args ...any) {
	c.errs = append(c.errs, pos.Error(format, args...))
}

func (c *caseCheck) note(s *scene, cond *rules.Cond) {
	if c.seen[cond] == nil {
		c.seen[cond] = &sides{}
	}
	switch s.eval(cond) {
	case condition.True:
		c.seen[cond].yes = true
	case condition.False:
		c.seen[cond].no = true
	default:
		c.seen[cond].unknown = true
	}
}

// bothWays complains of a condition that the cases have not seen true or not seen false.
func (c *caseCheck) bothWays(what string, cond *rules.Cond) {
	s := c.seen[cond]
	if s == nil {
		s = &sides{}
	}
	if !s.yes {
		c.fail(cond.Pos, "no case sees this %s true", what)
	}
	if !s.no {
		c.fail(cond.Pos, "no case sees this %s false", what)
	}
}

func (c *caseCheck) finding(f *rules.Finding) {
	reached := map[int]bool{}
	for i := range f.Cases {
		k := &f.Cases[i]
		got, branch := c.stageAnew(k).finds(f)
		reached[branch] = true
		if got != k.Then {
			c.fail(k.Pos, "the case %q says %s, the finding gives %s", k.That, k.Then, got)
		}
	}
	for i, b := range f.Branches {
		if !reached[i] {
			c.fail(b.When.Pos, "no case reaches this branch")
		}
	}
	if !reached[-1] {
		c.fail(f.Pos, "no case of the finding comes out unknown")
	}
}

func (c *caseCheck) defect(d *rules.Defect) {
	if len(d.Cases) < 4 {
		c.fail(d.Pos, "a defect kind has at least four cases")
	}
	for i := range d.Cases {
		k := &d.Cases[i]
		t := c.stageAnew(k)
		if got := t.isKind(t.candidates(), d.ID); got != k.Then {
			c.fail(k.Pos, "the case %q says %s, the signs give %s", k.That, k.Then, got)
		}
		for _, sign := range d.Signs {
			c.note(t.scene, sign.When)
		}
		if k.Best == "" && len(k.NeverReady) == 0 {
			continue
		}
		judged := t.ranked(t.candidates(), nil)
		if k.Best != "" && best(judged) != k.Best {
			c.fail(k.Pos, "the case %q says that %s comes first, it is %s", k.That, k.Best, best(judged))
		}
		for _, id := range k.NeverReady {
			if ready(judged, id) {
				c.fail(k.Pos, "the case %q says that %s is never ready, and it is", k.That, id)
			}
		}
	}
	for _, sign := range d.Signs {
		c.bothWays("sign", sign.When)
	}
}

// best is the method that comes first.
func best(judged []*verdict) string {
	if len(judged) == 0 {
		return "nothing"
	}
	return judged[0].method.ID
}

func ready(judged []*verdict, id string) bool {
	return slices.ContainsFunc(judged, func(v *verdict) bool { return v.state == Ready && v.method.ID == id })
}

func (c *caseCheck) method(m *rules.Method) {
	ready := false
	certain := map[string]bool{}
	for i := range m.Cases {
		k := &m.Cases[i]
		t := c.stageAnew(k)
		v := t.method(m, t.candidates())
		got := v.tried()
		if !got.then(k.Then) {
			c.fail(k.Pos, "the case %q says %s, the rules give %s%s", k.That, k.Then, got.Then, t.whyNot(v))
		}
		if got.Harms == nil {
			continue
		}
		ready = ready || v.state == Ready
		for _, cand := range v.for_ {
			certain[cand.def.ID] = certain[cand.def.ID] || cand.certain
		}
		for _, cl := range append(slices.Clone(m.Suits), m.Never...) {
			c.note(v.scene, cl.When)
		}
		c.harms(m, k, v, got)
	}
	if !ready {
		c.fail(m.Pos, "no case of the method is ready")
	}
	for _, id := range m.Treats {
		if !certain[id] {
			c.fail(m.Pos, "no case of the method has %s for certain", id)
		}
	}
	for _, cl := range m.Suits {
		c.bothWays("suits", cl.When)
	}
	for _, cl := range m.Never {
		c.bothWays("never", cl.When)
	}
	for _, h := range m.Harms {
		for _, sh := range append(slices.Clone(h.Raised), h.Lowered...) {
			c.bothWays("condition of the harm "+h.ID+", whose level is stated,", sh.When)
		}
	}
}

// whyNot names the clause that stands against readiness, to help whoever wrote the case.
func (s *scene) whyNot(v *verdict) string {
	for _, list := range []struct {
		clauses []rules.Clause
		bad     condition.Outcome
	}{{v.method.Suits, condition.False}, {v.method.Never, condition.True}} {
		for _, cl := range list.clauses {
			if v.scene.eval(cl.When) == list.bad {
				return "; because of: " + cl.When.Text
			}
		}
	}
	if missing := v.missing(); len(missing) > 0 {
		return "; missing: " + strings.Join(s.ids(v.scene.asks(missing)), ", ")
	}
	return ""
}

func (c *caseCheck) harms(m *rules.Method, k *rules.Case, v *verdict, came Tried) {
	for _, h := range m.Harms {
		want, stated := k.Harms[h.ID]
		if !stated {
			continue
		}
		got := came.Harms[h.ID]
		if !same(got, want) {
			if want.Severity < 0 {
				got.Severity = -1
			}
			c.fail(k.Pos, "the case %q says that %s is %s, the rules give %s", k.That, h.ID, weighed(want), weighed(got))
		}
		for _, sh := range append(slices.Clone(h.Raised), h.Lowered...) {
			c.note(v.scene, sh.When)
		}
	}
}

// weighed writes a weight as a case does.
func weighed(w rules.Weight) string {
	if w.Severity < 0 {
		return rules.Levels[w.Level]
	}
	return rules.Severities[w.Severity] + " " + rules.Levels[w.Level]
}

func (c *caseCheck) warning(w *rules.Warning) {
	warned := false
	for i := range w.Cases {
		k := &w.Cases[i]
		t := c.stageAnew(k)
		got := t.try(rules.Rule{Warning: w})
		if got.Then == notForIt {
			c.fail(k.Pos, "the method %s gives off nothing that this warning is for", k.Method)
			continue
		}
		if w.When != nil {
			c.note(t.scene, w.When)
		}
		warned = warned || got.Then != "silent"
		if !got.then(k.Then) {
			if k.Then == "silent" {
				got.Then = "warned"
			}
			c.fail(k.Pos, "the case %q says %s, the rule is %s", k.That, k.Then, got.Then)
		}
	}
	if !warned {
		c.fail(w.Pos, "no case of the warning warns")
	}
	if w.When != nil {
		c.bothWays("condition", w.When)
		if s := c.seen[w.When]; s == nil || !s.unknown {
			c.fail(w.When.Pos, "no case sees this condition unknown")
		}
	}
}
