package engine

import (
	"slices"

	"mendwright/rules"
	"mendwright/rules/condition"
)

// standing is how a mark stands by the rules, as far as it is answered: what triage is written from,
// in a form that can be carried over to one more answer by judging anew only what that answer reaches.
type standing struct {
	scene *scene
	kinds []*kind
	// judged are filled by verdicts.
	judged []*verdict
	// from is the standing before the answer that is supposed here, reach what that answer reaches;
	// both are nil in the standing as it is.
	from  *standing
	reach *rules.Reach
	kept  bool // the kinds are those before

	warned map[*rules.Warning]condition.Outcome // filled by warnings
	lacks  map[lack][]*rules.Fact               // filled by asked; those of the mark by index, where nothing is supposed
	ofMark []*[lacksPerPage][]*rules.Fact
	tried  map[*rules.Fact][]*standing
	// closer says that what was measured, but not closely enough, counts as open too.
	closer bool
}

const lacksPerPage = 32

// lack is a missing fact, by index: of the mark, or what is computed of a method.
type lack struct {
	of *rules.Method
	at int
}

// standing judges the scene's mark.
func (s *scene) standing() *standing {
	return &standing{scene: s, kinds: s.kinds()}
}

// verdicts are those on the methods that may be done, in the order of methodsFor. They are judged when
// somebody first asks: for much of what is supposed, the kinds that are left say enough.
func (b *standing) verdicts() []*verdict {
	if b.judged != nil {
		return b.judged
	}
	if b.from == nil {
		b.judged = b.scene.judged(b.kinds)
		return b.judged
	}
	b.judged = []*verdict{}
	for _, v := range b.from.verdicts() {
		if b.reach.Method(v.method) {
			v = b.scene.alone(v.method)
			v.treat(b.kinds)
		} else if !b.kept && slices.ContainsFunc(v.for_, func(k *kind) bool { return b.reach.Kind(k.def) }) {
			v = v.of(b.kinds)
		}
		if len(v.for_) > 0 {
			b.judged = append(b.judged, v)
		}
	}
	if b.scene.err != nil {
		b.from.scene.fail(b.scene.err)
	}
	return b.judged
}

// ready reports whether a repair is, other than one that only holds where more may be wanted.
func (b *standing) ready() bool {
	return slices.ContainsFunc(b.verdicts(), (*verdict).mends)
}

// ranked is judged, weighed and the best first.
func (b *standing) ranked() []*verdict {
	out := slices.Clone(b.verdicts())
	for _, v := range out {
		v.weighOnce()
	}
	slices.SortStableFunc(out, compare)
	return out
}

// suppose is the standing with one more answer.
func (b *standing) suppose(id string, v condition.Value) *standing {
	reach := b.scene.book.Reach(id)
	s := b.scene.supposing(map[string]condition.Value{id: v})
	o := &standing{scene: s, from: b, reach: reach, closer: b.closer}
	same := true
	o.kinds = make([]*kind, 0, len(b.kinds))
	for _, k := range b.kinds { // what is impossible stays so
		if reach.Kind(k.def) {
			same = false
			is, possible := s.kindAfter(k, reach)
			if !possible {
				continue
			}
			k = is
		}
		o.kinds = append(o.kinds, k)
	}
	if !same {
		slices.SortStableFunc(o.kinds, certainFirst)
	}
	o.kept = same
	if s.err != nil {
		b.scene.fail(s.err)
	}
	return o
}

// warnings are those that hold for the mark whatever is done, and those that what may be done calls for.
func (b *standing) warnings() map[*rules.Warning]condition.Outcome {
	if b.warned != nil {
		return b.warned
	}
	b.warned = map[*rules.Warning]condition.Outcome{}
	add := func(ws []*rules.Warning) {
		for _, w := range ws {
			if _, done := b.warned[w]; done {
				continue
			}
			if b.from != nil && !b.reach.Warnings[w] {
				if o, known := b.from.warnings()[w]; known {
					b.warned[w] = o
					continue
				}
			}
			b.warned[w] = b.scene.eval(w.When)
		}
	}
	add(b.scene.book.WarningsOn(""))
	for _, v := range b.verdicts() {
		if v.state != RuledOut || v.shopOnly {
			for _, e := range v.method.GivesOff {
				add(b.scene.book.WarningsOn(e))
			}
		}
	}
	return b.warned
}

// calls reports whether a warning holds whatever is done, or hangs on what something that may be done gives off.
func (b *standing) calls(w *rules.Warning) bool {
	return len(w.On) == 0 || slices.ContainsFunc(b.verdicts(), func(v *verdict) bool {
		return (v.state != RuledOut || v.shopOnly) && slices.ContainsFunc(w.On, func(e string) bool { return slices.Contains(v.method.GivesOff, e) })
	})
}

// asked lists what can be asked to fill one missing fact of a verdict, or of the mark where v is nil.
func (b *standing) asked(v *verdict, missing int) []*rules.Fact {
	at, key := b.scene, lack{at: missing}
	if v != nil && b.scene.book.FactAt(missing).OfRepair() {
		at, key.of = v.scene, v.method
	}
	if b.from == nil && key.of == nil {
		if b.ofMark == nil {
			b.ofMark = make([]*[lacksPerPage][]*rules.Fact, b.scene.book.CountFacts()/lacksPerPage+1)
		}
		page := &b.ofMark[missing/lacksPerPage]
		if *page == nil {
			*page = new([lacksPerPage][]*rules.Fact)
		}
		out := &(*page)[missing%lacksPerPage]
		if *out == nil {
			*out = b.asks(at, missing)
		}
		return *out
	}
	if got, ok := b.lacks[key]; ok {
		return got
	}
	if b.from != nil && !b.reach.Asked(missing) && (at == b.scene || !b.reach.Method(v.method)) {
		return b.from.asked(v, missing)
	}
	out := b.asks(at, missing)
	if b.lacks == nil {
		b.lacks = map[lack][]*rules.Fact{}
	}
	b.lacks[key] = out
	return out
}

// asks is asked, worked out; never nil.
func (b *standing) asks(at *scene, missing int) []*rules.Fact {
	out := []*rules.Fact{}
	for _, q := range at.asks([]int{missing}) {
		// One that a finding contradicts was answered too: the person says which of both holds.
		decl := b.scene.book.FactAt(q)
		if f := b.scene.resolved(decl); b.closer || !f.conflict && !f.known {
			out = append(out, decl)
		}
	}
	return out
}

// same reports whether two lists of missing facts, before and after an answer to a fact, wait for the
// same questions, that fact aside.
func (b *standing) same(was *verdict, before []int, o *standing, is *verdict, after []int, id string) bool {
	return slices.Equal(b.open(was, before, id), o.open(is, after, id))
}

// open is the set of questions that wait behind missing facts, without one of them, in order.
func (b *standing) open(v *verdict, missing []int, without string) []int {
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
	if len(b.kinds) != len(o.kinds) {
		return true
	}
	for i, k := range o.kinds {
		was := b.kinds[i]
		if was.def != k.def || was.certain != k.certain || !b.same(nil, was.missing(), o, nil, k.missing(), id) {
			return true
		}
	}
	if len(b.verdicts()) != len(o.verdicts()) {
		return true
	}
	for i, v := range o.verdicts() {
		was := b.verdicts()[i]
		if v == was {
			continue // nothing in it was reached
		}
		was.weighOnce() // most that is supposed never comes this far
		v.weighOnce()
		if was.method != v.method || was.state != v.state || was.shopOnly != v.shopOnly || was.aim != v.aim ||
			!slices.Equal(was.risks, v.risks) || was.wood() != v.wood() {
			return true
		}
		if v.state == RuledOut {
			continue
		}
		if !b.same(was, was.own, o, v, v.own, id) {
			return true
		}
		for j, h := range v.hazards {
			if was.hazards[j].harm != h.harm || !b.same(was, was.scene.lowers(h.harm), o, v, v.scene.lowers(h.harm), id) {
				return true
			}
		}
	}
	before, after := b.warnings(), o.warnings()
	if len(before) != len(after) {
		return true
	}
	for w, is := range after {
		was, there := before[w]
		if !there || was != is || is == condition.Unknown && !b.same(nil, b.scene.lacks(w.When, nil), o, nil, o.scene.lacks(w.When, nil), id) {
			return true
		}
	}
	return false
}
