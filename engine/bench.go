package engine

import (
	"slices"

	"mendwright/rules"
	"mendwright/rules/condition"
)

// bench is where the cases of a rulebook are tried. It is for one goroutine.
type bench struct {
	book   *rules.Book
	tables *Tables
	staged map[*rules.Case]*trial
}

func newBench(book *rules.Book, tables *Tables) *bench {
	return &bench{book: book, tables: tables, staged: map[*rules.Case]*trial{}}
}

// trial is a case set up as a job of one defect on one surface, with what was made of it so far.
type trial struct {
	*scene
	of       *rules.Case
	possible []*kind
	found    bool // whether possible was worked out
	alones   map[*rules.Method]*verdict
}

// stage sets a case up, once.
func (b *bench) stage(k *rules.Case) *trial {
	if t, ok := b.staged[k]; ok {
		return t
	}
	t := b.stageAnew(k)
	b.staged[k] = t
	return t
}

func (b *bench) stageAnew(k *rules.Case) *trial {
	all := Subject{Answers: k.Given}
	on := &Surface{Subject: all}
	job := &Job{Piece: all, Shop: all, Surfaces: map[string]*Surface{"it": on}}
	mark := &Mark{ID: "it", On: "it", Subject: all}
	s := newScene(b.book, b.tables, job, mark, on, newScene(b.book, b.tables, job, nil, on, nil))
	return &trial{scene: s, of: k, alones: map[*rules.Method]*verdict{}}
}

// candidates are the kinds that the mark of the case may be.
func (t *trial) candidates() []*kind {
	if !t.found {
		t.possible, t.found = t.kinds(), true
	}
	return t.possible
}

// method judges a method of the book for the case.
func (t *trial) method(m *rules.Method, candidates []*kind) *verdict {
	v := t.alones[m]
	if v == nil {
		v = t.alone(m)
		t.alones[m] = v
	}
	return v.of(candidates)
}

// ranked are all methods for the candidates, best first. changed, if not nil, stands in for the method of
// its id.
func (t *trial) ranked(candidates []*kind, changed *rules.Method) []*verdict {
	var out []*verdict
	for _, m := range t.methodsFor(candidates) {
		v := t.method(m, candidates)
		if changed != nil && m.ID == changed.ID {
			v = t.aloneIn(v.scene, changed).of(candidates)
		}
		v.weighOnce()
		out = append(out, v)
	}
	slices.SortStableFunc(out, compare)
	return out
}

// finds is the answer that a finding gives, and by which branch.
func (t *trial) finds(f *rules.Finding) (then string, branch int) {
	v, branch, ok := t.derive(f)
	if !ok {
		return "unknown", -1
	}
	return v.String(), branch
}

// isKind says whether the mark is of a kind.
func (t *trial) isKind(candidates []*kind, id string) string {
	for _, c := range candidates {
		if c.def.ID == id {
			return map[bool]string{true: "is", false: "may_be"}[c.certain]
		}
	}
	return "is_not"
}

// withKind are the candidates with a changed kind in the place of its own.
func (t *trial) withKind(mutant *rules.Defect) []*kind {
	out := slices.DeleteFunc(slices.Clone(t.candidates()), func(k *kind) bool { return k.def.ID == mutant.ID })
	if k, possible := t.kindOf(mutant); possible {
		out = append(out, k)
	}
	return out
}

// Tried is how a rule comes out for the answers of a case, in the words of cases.
type Tried struct {
	// Then is what the rule comes to; of a warning that is given its signal, and "not for it" where the
	// method of the case gives off nothing that the warning is for.
	Then string
	// Harms say how grave and how likely each harm of a method is; nil if it is not offered.
	Harms map[string]rules.Weight
}

// Try tries rules, or mutants of them, on the answers of one case.
func Try(book *rules.Book, tables *Tables, k *rules.Case, rs ...rules.Rule) []Tried {
	t := newBench(book, tables).stage(k)
	out := make([]Tried, len(rs))
	for i, r := range rs {
		out[i] = t.try(r)
	}
	return out
}

func (t *trial) try(r rules.Rule) Tried {
	switch {
	case r.Finding != nil:
		then, _ := t.finds(r.Finding)
		return Tried{Then: then}
	case r.Defect != nil:
		return Tried{Then: t.isKind(t.withKind(r.Defect), r.Defect.ID)}
	case r.Method != nil:
		return t.aloneIn(t.method(t.book.Method(r.Method.ID), nil).scene, r.Method).of(t.candidates()).tried()
	}
	return Tried{Then: t.warns(r.Warning)}
}

func (v *verdict) tried() Tried {
	if len(v.for_) == 0 {
		return Tried{Then: "not_offered"}
	}
	out := Tried{Then: string(v.state), Harms: make(map[string]rules.Weight, len(v.method.Harms))}
	for i := range v.method.Harms {
		h := &v.method.Harms[i]
		out.Harms[h.ID] = rules.Weight{Severity: h.Severity, Level: v.scene.hazard(h).level}
	}
	return out
}

// warns says whether a warning is given.
func (t *trial) warns(w *rules.Warning) string {
	m := t.book.Method(t.of.Method)
	switch {
	case m != nil && !slices.ContainsFunc(w.On, func(e string) bool { return slices.Contains(m.GivesOff, e) }):
		return notForIt
	case t.eval(w.When) == condition.False:
		return "silent"
	}
	return w.Signal
}

const notForIt = "not for it"

// As reports whether that is as a case says.
func (t Tried) As(k *rules.Case) bool {
	if !t.then(k.Then) {
		return false
	}
	for id, want := range k.Harms {
		if got, ok := t.Harms[id]; ok && !same(got, want) {
			return false
		}
	}
	return true
}

// then reports whether that is what a case says under then. It may leave the signal of a warning open.
func (t Tried) then(want string) bool {
	return t.Then == want || want == "warned" && slices.Contains(rules.Signals, t.Then)
}

// same compares a weight with what a case says of it, which may be the level alone.
func same(got, want rules.Weight) bool {
	return got.Level == want.Level && (want.Severity < 0 || got.Severity == want.Severity)
}
