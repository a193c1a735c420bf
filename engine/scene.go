package engine

import (
	"slices"
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

	facts    map[string]fact
	outcomes map[*condition.Condition]outcome
	// wide is the scene of the surface alone: what does not read the defect is judged there
	// once for all defects of the surface. It is nil in that scene itself.
	wide *scene

	method *rules.Method // nil outside a method's scene
	// earlier is the scene of the same method before the answer that is supposed here; what that does not
	// reach is judged and reckoned there.
	earlier *scene
	base    *scene   // of a method's scene: the defect's
	cut     *Sanding // computed when first asked for
	// results are what the calculators made of the method, by calculator.
	results map[string]reckoned
	err     error // a rule that could not be evaluated
}

// How a fact became known.
const (
	Answered = "answered"
	Found    = "finding"
	LookedUp = "table"
	Computed = "computed"
	Changed  = "left by the step before"
)

// fact is a fact as resolved in a scene.
type fact struct {
	value condition.Value
	known bool
	how   string
	// finding and branch that derived or contradict the value
	finding  *rules.Finding
	branch   int
	conflict bool
}

type outcome struct {
	result  condition.Outcome
	missing []string
}

func newScene(book *rules.Book, tables *Tables, job *Job, mark *Mark, on *Surface, wide *scene) *scene {
	return &scene{book: book, tables: tables, job: job, mark: mark, on: on, wide: wide}
}

// forMethod is the scene in which a method's conditions are judged.
func (s *scene) forMethod(m *rules.Method) *scene {
	if m.Sanding == nil && m.Vapour == nil && m.Coat == nil {
		return s
	}
	return &scene{book: s.book, tables: s.tables, job: s.job, mark: s.mark, on: s.on, method: m, base: s}
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

// resolve finds out what is known of a fact: as an earlier step left it, as it was answered, or
// as a finding, a table or a calculator gives it.
func (s *scene) resolve(id string) fact {
	if f, ok := s.facts[id]; ok {
		return f
	}
	if s.base != nil && !rules.OfRepair(id) {
		return s.base.resolve(id)
	}
	if s.before != nil && !s.touches(id) {
		return s.before.resolve(id)
	}
	if s.wide != nil && !narrow(id) {
		return s.wide.resolve(id)
	}
	f := s.find(id)
	if s.facts == nil {
		s.facts = map[string]fact{}
	}
	s.facts[id] = f
	return f
}

func (s *scene) find(id string) fact {
	if v, ok := s.after[id]; ok {
		if v == nil {
			return fact{how: Changed}
		}
		return fact{value: *v, known: true, how: Changed}
	}
	decl := s.book.Facts[id]
	if decl == nil {
		return fact{}
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
	f.finding, f.branch = finding, branch
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
		switch s.eval(b.When).result {
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

// lookup is resolve in the form that conditions take.
func (s *scene) lookup(id string) (condition.Value, bool) {
	f := s.resolve(id)
	return f.value, f.known
}

// eval judges a condition; a nil condition is true. A condition that cannot be evaluated is
// kept as the scene's error and counts as unknown.
func (s *scene) eval(c *rules.Cond) outcome {
	if c == nil {
		return outcome{result: condition.True}
	}
	comp, err := c.Compile()
	if err != nil {
		s.fail(err)
		return outcome{}
	}
	at := s.place(c, comp)
	if at.earlier != nil && !slices.ContainsFunc(comp.Facts, at.changed) {
		return at.earlier.eval(c)
	}
	if o, ok := at.outcomes[comp]; ok {
		return o
	}
	result, missing, err := comp.Eval(at.lookup)
	if err != nil {
		s.fail(err)
	}
	o := outcome{result, missing}
	if at.outcomes == nil {
		at.outcomes = map[*condition.Condition]outcome{}
	}
	at.outcomes[comp] = o
	return o
}

// place is the widest scene in which a condition can be judged.
func (s *scene) place(c *rules.Cond, comp *condition.Condition) *scene {
	at := s
	if at.base != nil && !c.ReadsOfRepair() {
		at = at.base
	}
	if at.before != nil && !slices.ContainsFunc(comp.Facts, at.touches) {
		at = at.before
	}
	if at.wide != nil && !c.Reads("defect") && !c.ReadsOfRepair() {
		at = at.wide
	}
	return at
}

// touches reports whether the facts that earlier steps changed can reach a fact: it is one of
// them, or it is found or looked up from one.
func (s *scene) touches(id string) bool {
	for changed := range s.after {
		if s.book.Reach(changed).Facts[id] {
			return true
		}
	}
	return false
}

// changed reports, in the scene of a method with something supposed, whether that reaches a fact.
func (s *scene) changed(id string) bool {
	if calculator, _, ok := strings.Cut(s.book.Facts[id].Computed, "."); ok {
		return s.feeds(calculator)
	}
	return s.base.touches(id)
}

// feeds reports whether what is supposed reaches an input of a calculator.
func (s *scene) feeds(calculator string) bool {
	for _, in := range s.calculator(calculator).Inputs {
		if s.base.touches(in) {
			return true
		}
	}
	m := s.method
	return m.Vapour != nil && s.base.touches(m.Vapour.By) || m.Coat != nil && s.base.touches(m.Coat.By)
}

func (s *scene) fail(err error) {
	if s.base != nil {
		s.base.fail(err)
	}
	if s.err == nil {
		s.err = err
	}
}

// asks turns missing facts into the facts that can be asked to fill them: a fact that a person
// can answer stands for itself; one that is looked up, computed or only derived, and one that the
// person could not tell, stands for what it rests on.
func (s *scene) asks(missing []string) []string {
	var out []string
	seen := map[string]bool{}
	var walk func(id string)
	walk = func(id string) {
		if seen[id] {
			return
		}
		seen[id] = true
		decl := s.book.Facts[id]
		if decl == nil {
			return
		}
		if s.resolve(id).known {
			switch {
			case decl.Kind != condition.Quantity:
			case decl.Asked():
				out = append(out, id) // known, but not closely enough
			case strings.HasPrefix(decl.Computed, "sanding."):
				for _, m := range s.rough() {
					walk(m)
				}
			}
			return
		}
		if _, changed := s.after[id]; changed {
			out = append(out, id)
			return
		}
		cannotTell := s.subject(id).CannotTell[id]
		if decl.Asked() && !cannotTell {
			switch o := s.eval(decl.Applies); o.result {
			case condition.True:
				out = append(out, id)
			case condition.Unknown: // first what may make it meaningless
				n := len(out)
				for _, m := range o.missing {
					walk(m)
				}
				if len(out) == n && !slices.ContainsFunc(o.missing, func(m string) bool { return slices.Contains(out, m) }) {
					out = append(out, id) // nobody can tell whether it is meaningless
				}
			}
			return
		}
		switch {
		case decl.Lookup != nil:
			walk(decl.Lookup.By)
		case decl.Computed != "":
			calculator, _, _ := strings.Cut(decl.Computed, ".")
			if r := s.reckon(calculator); r != nil {
				for _, m := range r.lacks() {
					walk(m)
				}
			}
		case s.book.FindingFor(id) != nil && !s.resolve(id).conflict:
			finding := s.book.FindingFor(id)
			for _, b := range finding.Branches {
				if o := s.eval(b.When); o.result == condition.Unknown {
					for _, m := range o.missing {
						walk(m)
					}
					break
				}
			}
		}
	}
	for _, m := range missing {
		walk(m)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// rough lists the measured inputs of the sanding calculator that a closer measurement could narrow.
func (s *scene) rough() []string {
	var out []string
	for _, id := range s.calculator("sanding").Inputs {
		if f := s.resolve(id); f.known && f.value.Kind() == condition.Quantity && f.value.Range().Half() > 0 {
			out = append(out, id)
		}
	}
	slices.Sort(out)
	return out
}
