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
	c := &caseCheck{book: book, tables: tables, seen: map[*rules.Cond]*sides{}}
	for _, f := range book.Findings {
		c.finding(f)
	}
	for _, d := range book.Defects {
		c.defect(d)
	}
	for _, m := range book.Methods {
		c.method(m)
	}
	for _, w := range book.Warnings {
		c.warning(w)
	}
	return c.errs.Sorted()
}

// sides records how a condition came out over the cases.
type sides struct{ yes, no, unknown bool }

type caseCheck struct {
	book   *rules.Book
	tables *Tables
	seen   map[*rules.Cond]*sides
	errs   strictyaml.Errors
}

func (c *caseCheck) fail(pos strictyaml.Pos, format string, args ...any) {
	c.errs = append(c.errs, pos.Error(format, args...))
}

// stage sets a case's answers up as a job of one defect on one surface.
func (c *caseCheck) stage(k rules.Case) *scene {
	all := Subject{Answers: k.Given}
	on := &Surface{Subject: all}
	job := &Job{Piece: all, Shop: all, Surfaces: map[string]*Surface{"it": on}}
	mark := &Mark{ID: "it", On: "it", Subject: all}
	return newScene(c.book, c.tables, job, mark, on, newScene(c.book, c.tables, job, nil, on, nil))
}

func (c *caseCheck) note(s *scene, cond *rules.Cond) {
	if c.seen[cond] == nil {
		c.seen[cond] = &sides{}
	}
	switch s.eval(cond).result {
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
	unknown := false
	for _, k := range f.Cases {
		s := c.stage(k)
		v, branch, ok := s.derive(f)
		got := "unknown"
		if ok {
			got = v.String()
			reached[branch] = true
		}
		unknown = unknown || !ok
		if got != k.Then {
			c.fail(k.Pos, "the case %q says %s, the finding gives %s", k.That, k.Then, got)
		}
	}
	for i, b := range f.Branches {
		if !reached[i] {
			c.fail(b.When.Pos, "no case reaches this branch")
		}
	}
	if !unknown {
		c.fail(f.Pos, "no case of the finding comes out unknown")
	}
}

func (c *caseCheck) defect(d *rules.Defect) {
	if len(d.Cases) < 4 {
		c.fail(d.Pos, "a defect kind has at least four cases")
	}
	for _, k := range d.Cases {
		s := c.stage(k)
		candidates := s.kinds()
		got := "is_not"
		for _, cand := range candidates {
			if cand.def == d {
				got = map[bool]string{true: "is", false: "may_be"}[cand.certain]
			}
		}
		if got != k.Then {
			c.fail(k.Pos, "the case %q says %s, the signs give %s", k.That, k.Then, got)
		}
		for _, sign := range d.Signs {
			c.note(s, sign.When)
		}
		judged := s.verdicts(candidates)
		if k.Best != "" && (len(judged) == 0 || judged[0].method.ID != k.Best) {
			best := "nothing"
			if len(judged) > 0 {
				best = judged[0].method.ID
			}
			c.fail(k.Pos, "the case %q says that %s comes first, it is %s", k.That, k.Best, best)
		}
		for _, v := range judged {
			if v.state == Ready && slices.Contains(k.NeverReady, v.method.ID) {
				c.fail(k.Pos, "the case %q says that %s is never ready, and it is", k.That, v.method.ID)
			}
		}
	}
	for _, sign := range d.Signs {
		c.bothWays("sign", sign.When)
	}
}

func (c *caseCheck) method(m *rules.Method) {
	ready := false
	certain := map[string]bool{}
	for _, k := range m.Cases {
		s := c.stage(k)
		candidates := s.kinds()
		v := s.judge(m, candidates)
		got := string(v.state)
		if len(v.for_) == 0 {
			got = "not_offered"
		}
		if got != k.Then {
			c.fail(k.Pos, "the case %q says %s, the rules give %s%s", k.That, k.Then, got, s.whyNot(v))
		}
		if got == "not_offered" {
			continue
		}
		ready = ready || v.state == Ready
		for _, cand := range v.for_ {
			certain[cand.def.ID] = certain[cand.def.ID] || cand.certain
		}
		for _, cl := range append(slices.Clone(m.Suits), m.Never...) {
			c.note(v.scene, cl.When)
		}
		c.harms(m, k, v)
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
			if v.scene.eval(cl.When).result == list.bad {
				return "; because of: " + cl.When.Text
			}
		}
	}
	if len(v.missing()) > 0 {
		return "; missing: " + strings.Join(v.scene.asks(v.missing()), ", ")
	}
	return ""
}

func (c *caseCheck) harms(m *rules.Method, k rules.Case, v *verdict) {
	for i := range m.Harms {
		h := &m.Harms[i]
		want, stated := k.Harms[h.ID]
		if !stated {
			continue
		}
		if got := v.scene.hazard(h).Level; got != rules.Levels[want] {
			c.fail(k.Pos, "the case %q says that %s is %s, the rules give %s", k.That, h.ID, rules.Levels[want], got)
		}
		for _, sh := range append(slices.Clone(h.Raised), h.Lowered...) {
			c.note(v.scene, sh.When)
		}
	}
}

func (c *caseCheck) warning(w *rules.Warning) {
	warned := false
	for _, k := range w.Cases {
		s := c.stage(k)
		got := "warned"
		if m := c.book.Method(k.Method); m != nil && !slices.ContainsFunc(w.On, func(e string) bool { return slices.Contains(m.GivesOff, e) }) {
			c.fail(k.Pos, "the method %s gives off nothing that this warning is for", k.Method)
			continue
		}
		if w.When != nil {
			c.note(s, w.When)
			if s.eval(w.When).result == condition.False {
				got = "silent"
			}
		}
		warned = warned || got == "warned"
		if got != k.Then {
			c.fail(k.Pos, "the case %q says %s, the rule is %s", k.That, k.Then, got)
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
