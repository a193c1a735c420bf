package engine

import (
	"strings"

	"mendwright/rules"
	"mendwright/rules/condition"
)

// scene is one defect in the light of its surface, the piece and the shop: the answers that a
// condition sees. A scene for a method adds what is computed of that method's cut.
type scene struct {
	book   *rules.Book
	tables *Tables
	job    *Job
	mark   *Mark
	on     *Surface
	// after holds facts as earlier rungs of a ladder leave them; a nil value is unknown.
	after map[string]*condition.Value
	// before is the scene as it was answered; what the changed facts do not touch is judged there.
	before *scene

	// reaches is what the facts of after reach.
	reaches []*rules.Reach

	facts facts
	lists *lists // of all scenes of the job
	// wide is the scene of the surface alone: what does not read the defect is judged there
	// once for all defects of the surface. It is nil in that scene itself.
	wide *scene

	method *rules.Method // nil outside a method's scene
	base   *scene        // of a method's scene: the defect's
	// cuts and results are what the calculators made of methods.
	cuts    map[cutOf]*Sanding
	results map[reckonedOf]reckoned
	err     error // a rule that could not be evaluated
}

func newScene(book *rules.Book, tables *Tables, job *Job, mark *Mark, on *Surface, wide *scene) *scene {
	s := &scene{book: book, tables: tables, job: job, mark: mark, on: on, wide: wide}
	if wide != nil {
		s.lists = wide.lists
	} else {
		s.lists = &lists{}
	}
	return s
}

// changing is the scene with facts changed to what after says; what they do not touch stays judged as it is
// in the scene as it was answered.
func (s *scene) changing(after map[string]*condition.Value) *scene {
	changed := &scene{book: s.book, tables: s.tables, job: s.job, mark: s.mark, on: s.on, lists: s.lists, after: after, before: s}
	for id := range after {
		changed.reaches = append(changed.reaches, s.book.Reach(id))
	}
	return changed
}

// forMethod is the scene in which a method's conditions are judged.
func (s *scene) forMethod(m *rules.Method) *scene {
	if m.Sanding == nil && m.Vapour == nil && m.Coat == nil {
		return s
	}
	return &scene{book: s.book, tables: s.tables, job: s.job, mark: s.mark, on: s.on, lists: s.lists, method: m, base: s}
}

// narrow reports whether a fact depends on the defect or on a repair.
func narrow(id string) bool { return strings.HasPrefix(id, "defect.") || rules.OfRepair(id) }

// subject returns the answers about the thing that a fact belongs to.
func (s *scene) subject(id string) *Subject {
	switch prefix, _, _ := strings.Cut(id, "."); prefix {
	case "shop":
		return &s.job.Shop
	case "piece":
		return &s.job.Piece
	case "surface":
		if s.on != nil {
			return &s.on.Subject
		}
	case "defect":
		if s.mark != nil {
			return &s.mark.Subject
		}
	}
	return &Subject{}
}

// resolve is what is known of a fact (see resolved), by its id.
func (s *scene) resolve(id string) *fact {
	if decl := s.book.Facts[id]; decl != nil {
		return s.resolved(decl)
	}
	return &fact{}
}

// resolved finds out what is known of a fact: as an earlier step left it, as it was answered, or
// as a finding, a table or a calculator gives it. It is not to be changed.
func (s *scene) resolved(decl *rules.Fact) *fact {
	for {
		switch {
		case s.base != nil && !decl.OfRepair():
			s = s.base
			continue
		case s.before != nil && !s.touches(decl.Index):
			s = s.before
			continue
		case s.wide != nil && !decl.OfMark():
			s = s.wide
			continue
		}
		break
	}
	var f *fact
	if s.base != nil || s.before != nil {
		f = s.facts.listedAt(decl.Index)
	} else {
		f = s.facts.at(decl.Index, s.book.CountFacts())
	}
	if !f.resolved {
		*f = s.find(decl)
		f.resolved = true
	}
	return f
}

func (s *scene) find(decl *rules.Fact) fact {
	id := decl.ID
	if v, ok := s.after[id]; ok {
		if v == nil {
			return fact{how: Changed}
		}
		return fact{value: *v, known: true, how: Changed}
	}
	switch {
	case decl.Computed != "":
		v, ok := s.computed(decl)
		return fact{value: v, known: ok, how: Computed}
	case decl.Lookup != nil:
		v, ok := s.lookedUp(decl)
		return fact{value: v, known: ok, how: LookedUp}
	}
	f := s.answered(id)
	if finding := s.book.FindingFor(id); finding != nil && !s.subject(id).Confirmed[id] {
		f = s.join(f, finding)
	}
	return f
}

// answered is a fact by what was said of it alone.
func (s *scene) answered(id string) fact {
	v, known := s.subject(id).Answers[id]
	return fact{value: v, known: known, how: Answered}
}

// join joins what was said of a fact to what a finding makes of it.
func (s *scene) join(f fact, finding *rules.Finding) fact {
	derived, branch, ok := s.derive(finding)
	if !ok {
		return f
	}
	f.finding, f.branch = finding, int32(branch)
	switch {
	case !f.known:
		f.value, f.known, f.how = derived, true, Found
	case !derived.Equal(f.value):
		// Both are shown; until the person confirms one, nothing rests on either.
		f.known, f.conflict = false, true
	}
	return f
}

// derive runs a finding: the first branch that is true, all before it being false.
func (s *scene) derive(f *rules.Finding) (condition.Value, int, bool) {
	for i, b := range f.Branches {
		switch s.eval(b.When) {
		case condition.True:
			return b.Is, i, true
		case condition.Unknown:
			return condition.Value{}, i, false
		}
	}
	return condition.Value{}, 0, false
}

func (s *scene) lookedUp(decl *rules.Fact) (condition.Value, bool) {
	by := s.resolve(decl.Lookup.By)
	if !by.known {
		return condition.Value{}, false
	}
	row := s.row(decl.Lookup.Table, by.value.Choice())
	if row == nil {
		return condition.Value{}, false
	}
	if decl.Kind == condition.Quantity {
		r, ok := row.Ranges[decl.Lookup.Column]
		return condition.Measured(r), ok
	}
	v, known, err := decl.ReadAnswer(row.Texts[decl.Lookup.Column])
	return v, known && err == nil
}

// row finds a row of a table; nil if there is none.
func (s *scene) row(table, key string) *rules.Row {
	t, err := s.book.Table(table)
	if err != nil {
		s.fail(err)
		return nil
	}
	return t.Row(key)
}

// Answer is what is known of a fact, in the form that conditions take.
func (s *scene) Answer(at int) *condition.Value {
	if f := s.resolved(s.book.FactAt(at)); f.known {
		return &f.value
	}
	return nil
}

// eval judges a condition; a nil condition is true. A condition that cannot be evaluated is
// kept as the scene's error and counts as unknown.
func (s *scene) eval(c *rules.Cond) condition.Outcome {
	if c == nil {
		return condition.True
	}
	comp, err := c.Compile()
	if err != nil {
		s.fail(err)
		return condition.Unknown
	}
	o, err := comp.Judge(s)
	if err != nil {
		s.fail(err)
	}
	return o
}

// lacks adds to into the facts, by index, that a condition which is unknown waits for.
func (s *scene) lacks(c *rules.Cond, into []int) []int {
	if c == nil {
		return into
	}
	comp, err := c.Compile()
	if err != nil {
		return into // eval has kept it
	}
	return comp.Missing(s, into)
}

// touches reports whether the facts that earlier steps changed can reach a fact: it is one of
// them, or it is found or looked up from one.
func (s *scene) touches(index int) bool {
	for _, r := range s.reaches {
		if r.Fact(index) {
			return true
		}
	}
	return false
}

// touchesFact is touches for a fact by its id, which may be "".
func (s *scene) touchesFact(id string) bool {
	f := s.book.Facts[id]
	return f != nil && s.touches(f.Index)
}

// feeds reports whether what is supposed reaches an input of a calculator.
func (s *scene) feeds(calculator string) bool {
	for _, in := range s.calculator(calculator).Inputs {
		if s.base.touchesFact(in) {
			return true
		}
	}
	m := s.method
	return m.Vapour != nil && s.base.touchesFact(m.Vapour.By) || m.Coat != nil && s.base.touchesFact(m.Coat.By)
}

func (s *scene) fail(err error) {
	if s.base != nil {
		s.base.fail(err)
	}
	if s.err == nil {
		s.err = err
	}
}
