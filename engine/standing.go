package engine

import (
	"slices"

	"mendwright/rules"
	"mendwright/rules/condition"
)

// standing is how a mark stands by the rules, as far as it is answered: what triage is written from,
// in a form that can be carried over to one more answer by judging anew only what that answer touches.
type standing struct {
	scene      *scene
	kinds      []kind
	judged     []*verdict
	warnings   map[string]outcome  // those that what may be done calls for, and those that hold anyway
	alone      map[string]*verdict // by method, before the kinds
	reads      map[string][]string // what each method's own conditions rest on, shared with what is supposed
	lacks      map[string][]*rules.Fact
	shares     map[share]float64 // shared likewise
	tried      map[*rules.Fact][]*standing
	nearest    []near
	nearsKnown bool
	// closer says that what was measured, but not closely enough, counts as open too.
	closer bool
}

// standing judges the scene's mark.
func (s *scene) standing() *standing {
	b := &standing{scene: s, reads: map[string][]string{}, shares: map[share]float64{}}
	b.judge(func(*rules.Method) *verdict { return nil })
	return b
}

// suppose is the standing with one more answer. touched remembers, for all answers to one fact,
// which other facts it reaches; begin it empty.
func (b *standing) suppose(id string, v condition.Value, touched map[string]bool) *standing {
	h := b.scene.supposing(map[string]condition.Value{id: v})
	h.touched = touched
	o := &standing{scene: h, reads: b.reads, shares: b.shares, closer: b.closer}
	o.judge(func(m *rules.Method) *verdict {
		if was := b.alone[m.ID]; was != nil && !slices.ContainsFunc(b.readBy(m), h.touches) {
			return was
		}
		return nil
	})
	if h.err != nil {
		b.scene.fail(h.err)
	}
	return o
}

// judge fills in the standing. kept gives a method's verdict where it is known already.
func (b *standing) judge(kept func(*rules.Method) *verdict) {
	s := b.scene
	b.kinds = s.kinds()
	b.alone = map[string]*verdict{}
	b.warnings = map[string]outcome{}
	for _, w := range s.book.WarningsOn("") {
		b.warnings[w.ID] = s.eval(w.When)
	}
	for _, m := range s.methodsFor(b.kinds) {
		v := kept(m)
		if v == nil {
			if v = s.alone(m); v.state != RuledOut || v.shopOnly {
				v.weigh()
			}
		}
		b.alone[m.ID] = v
		b.judged = append(b.judged, v.of(b.kinds))
		if v.state == RuledOut && !v.shopOnly {
			continue
		}
		for _, e := range m.GivesOff {
			for _, w := range s.book.WarningsOn(e) {
				if _, done := b.warnings[w.ID]; !done {
					b.warnings[w.ID] = s.eval(w.When)
				}
			}
		}
	}
}

// readBy lists the facts that a method's own judgement rests on; for a computed one, what it is computed from.
func (b *standing) readBy(m *rules.Method) []string {
	if out, ok := b.reads[m.ID]; ok {
		return out
	}
	s := b.scene
	out := []string{s.book.Terms.AimFact}
	add := func(c *rules.Cond) {
		if c == nil {
			return
		}
		if comp, err := c.Compile(); err == nil {
			out = append(out, comp.Facts...)
		}
	}
	for _, c := range slices.Concat(m.Suits, m.Never) {
		add(c.When)
	}
	for _, h := range m.Harms {
		if h.From != "" {
			out = append(out, h.From)
		}
		for _, sh := range slices.Concat(h.Raised, h.Lowered) {
			add(sh.When)
		}
	}
	for _, c := range s.book.Calculators {
		if !m.Has(c.ID) {
			continue
		}
		for _, in := range c.Inputs {
			out = append(out, in)
		}
	}
	if m.Vapour != nil {
		out = append(out, m.Vapour.By)
	}
	if m.Coat != nil {
		out = append(out, m.Coat.By)
	}
	// What is computed is there by its inputs.
	out = slices.DeleteFunc(out, func(id string) bool {
		return id == "" || s.book.Facts[id] == nil || s.book.Facts[id].Computed != ""
	})
	slices.Sort(out)
	out = slices.Compact(out)
	b.reads[m.ID] = out
	return out
}

// asked lists what can be asked to fill one missing fact of a verdict, or of the mark where v is nil.
func (b *standing) asked(v *verdict, id string) []*rules.Fact {
	at, key := b.scene, id
	if v != nil && rules.OfRepair(id) {
		at, key = v.scene, v.method.ID+" "+id
	}
	if got, ok := b.lacks[key]; ok {
		return got
	}
	out := []*rules.Fact{}
	for _, q := range at.asks([]string{id}) {
		// One that a finding contradicts was answered too: the person says which of both holds.
		if f := b.scene.resolve(q); !f.conflict && (b.closer || !f.known) {
			out = append(out, b.scene.book.Facts[q])
		}
	}
	if b.lacks == nil {
		b.lacks = map[string][]*rules.Fact{}
	}
	b.lacks[key] = out
	return out
}

// same reports whether two lists of missing facts, before and after an answer to a fact, wait for the
// same questions, that fact aside.
func (b *standing) same(was *verdict, before []string, o *standing, is *verdict, after []string, id string) bool {
	return slices.Equal(b.open(was, before, id), o.open(is, after, id))
}

// open is the set of questions that wait behind missing facts, without one of them, in order.
func (b *standing) open(v *verdict, missing []string, without string) []int {
	var out []int
	for _, m := range missing {
		for _, f := range b.asked(v, m) {
			if f.ID != without {
				out = append(out, f.Index)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// differs reports whether an answer to a fact brought the standing from b to o any further: in the
// kinds, the states, the risks, the wood that goes, the warnings, or in what these still wait for.
func (b *standing) differs(o *standing, id string) bool {
	if len(b.kinds) != len(o.kinds) || len(b.judged) != len(o.judged) {
		return true
	}
	for i, k := range o.kinds {
		was := b.kinds[i]
		if was.def != k.def || was.certain != k.certain || !b.same(nil, was.missing, o, nil, k.missing, id) {
			return true
		}
	}
	for i, v := range o.judged {
		was := b.judged[i]
		if was.method != v.method || was.state != v.state || was.shopOnly != v.shopOnly || was.aim != v.aim ||
			!slices.Equal(was.risks, v.risks) || was.wood() != v.wood() {
			return true
		}
		if v.state == RuledOut || b.alone[v.method.ID] == o.alone[v.method.ID] {
			continue // nothing in it was touched
		}
		if !b.same(was, was.own, o, v, v.own, id) {
			return true
		}
		for j, h := range v.hazards {
			if was.hazards[j].ID != h.ID || !b.same(was, was.hazards[j].Lowers, o, v, h.Lowers, id) {
				return true
			}
		}
	}
	if len(b.warnings) != len(o.warnings) {
		return true
	}
	for w, is := range o.warnings {
		was, there := b.warnings[w]
		if !there || was.result != is.result || is.result == condition.Unknown && !b.same(nil, was.missing, o, nil, is.missing, id) {
			return true
		}
	}
	return false
}
