package rules

import (
	"fmt"
	"slices"

	"mendwright/rules/condition"
	"mendwright/rules/strictyaml"
)

// Mutant is a rule with one thing changed. The cases beside the rules should come out differently
// for it; where they do not, nobody would notice the mistake.
type Mutant struct {
	Rule          // as it was changed
	Change string // what was changed, in words that hold wherever the rule stands in its file
	// Lacks is what no case does that would tell the two apart, such as "has ANSWERS"; "" if that is not known.
	Lacks string
	Pos   strictyaml.Pos
}

// Mutants are the rules that come of r by one change, as long as a file that says so could be read.
// same counts the changes that are none: they mean what the rule means.
func (b *Book) Mutants(r Rule) (out []Mutant, same int) {
	m := mutator{book: b}
	switch {
	case r.Finding != nil:
		m.finding(r.Finding)
	case r.Defect != nil:
		m.defect(r.Defect)
	case r.Method != nil:
		m.method(r.Method)
	case r.Warning != nil:
		m.warning(r.Warning)
	}
	return m.out, m.same
}

// mutator gathers the mutants of a rule.
type mutator struct {
	book *Book
	out  []Mutant
	same int
}

func (m *mutator) add(r Rule, pos strictyaml.Pos, lacks, change string) {
	m.out = append(m.out, Mutant{r, change, lacks, pos})
}

// example writes out answers for which a condition comes out so.
func (m *mutator) example(c *Cond, out condition.Outcome) string {
	comp, err := c.Compile()
	if err != nil {
		return ""
	}
	return having(comp.Example(m.measures, out))
}

func having(answers string) string {
	if answers == "" {
		return ""
	}
	return "has " + answers
}

// What is made of an outcome: all three differ, a ban or a danger acts unless it is false, what lowers a
// risk acts only if it is true.
func whole(o condition.Outcome) condition.Outcome { return o }

func unlessFalse(o condition.Outcome) condition.Outcome {
	if o == condition.Unknown {
		return condition.True
	}
	return o
}

func ifTrue(o condition.Outcome) condition.Outcome {
	if o == condition.Unknown {
		return condition.False
	}
	return o
}

// cond yields every condition that comes of c by one change.
func (m *mutator) cond(c *Cond, tells func(condition.Outcome) condition.Outcome, yield func(changed *Cond, lacks, change string)) {
	comp, err := c.Compile()
	if err != nil {
		return
	}
	changed, same := comp.Mutants(m.measures, tells)
	m.same += same
	for _, to := range changed {
		yield(&Cond{Text: to.Text, Pos: c.Pos, book: c.book}, having(to.Apart), c.Text+" becomes "+to.Text)
	}
}

func (m *mutator) measures(fact string) condition.Measure {
	f := m.book.Facts[fact]
	return condition.Measure{Bounds: f.Bounds, Spread: f.Spread}
}

// clauses yields the clauses with one of them left out or changed; acts is the outcome of one that matters.
func (m *mutator) clauses(name string, list []Clause, acts condition.Outcome, yield func(changed []Clause, pos strictyaml.Pos, lacks, change string)) {
	for i, c := range list {
		yield(slices.Delete(slices.Clone(list), i, i+1), c.When.Pos, m.example(c.When, acts), fmt.Sprintf("%s: %s is dropped", name, c.When.Text))
		m.cond(c.When, whole, func(when *Cond, lacks, change string) {
			changed := slices.Clone(list)
			changed[i].When = when
			yield(changed, c.When.Pos, lacks, name+": "+change)
		})
	}
}

func (m *mutator) finding(f *Finding) {
	with := func(pos strictyaml.Pos, lacks, change string, branches []Branch) {
		changed := *f
		changed.Branches = branches
		m.add(Rule{Finding: &changed}, pos, lacks, change)
	}
	for i, br := range f.Branches {
		pos := br.When.Pos
		holds := m.example(br.When, condition.True)
		with(pos, holds, fmt.Sprintf("branch: %s is dropped", br.When.Text), slices.Delete(slices.Clone(f.Branches), i, i+1))
		m.cond(br.When, whole, func(when *Cond, lacks, change string) {
			changed := slices.Clone(f.Branches)
			changed[i].When = when
			with(pos, lacks, "branch: "+change, changed)
		})
		if is, ok := m.otherwise(f.Derives, br.Is); ok {
			changed := slices.Clone(f.Branches)
			changed[i].Is = is
			with(pos, holds, fmt.Sprintf("branch: %s gives %s in place of %s", br.When.Text, is, br.Is), changed)
		}
		if i == 0 || f.Branches[i-1].Is.Equal(br.Is) {
			continue
		}
		if m.eitherOrder(f.Branches[i-1].When, br.When) {
			m.same++
			continue
		}
		changed := slices.Clone(f.Branches)
		changed[i-1], changed[i] = changed[i], changed[i-1]
		with(pos, "has answers for which both hold", fmt.Sprintf("branch: %s comes before the one above it", br.When.Text), changed)
	}
}

func (m *mutator) eitherOrder(a, b *Cond) bool {
	x, err := a.Compile()
	if err != nil {
		return false
	}
	y, err := b.Compile()
	return err == nil && condition.SameInEitherOrder(x, y, m.measures)
}

// otherwise is another answer to a fact: the next in its list.
func (m *mutator) otherwise(fact string, is condition.Value) (condition.Value, bool) {
	f := m.book.Facts[fact]
	switch f.Kind {
	case condition.YesNo:
		return condition.Yes(!is.IsYes()), true
	case condition.Choice:
		ids := f.answerIDs()
		if i := slices.Index(ids, is.Choice()); len(ids) > 1 {
			return condition.Pick(ids[(i+1)%len(ids)]), true
		}
	}
	return condition.Value{}, false
}

func (m *mutator) defect(d *Defect) {
	m.clauses("sign", d.Signs, condition.False, func(signs []Clause, pos strictyaml.Pos, lacks, change string) {
		changed := *d
		changed.Signs = signs
		m.add(Rule{Defect: &changed}, pos, lacks, change)
	})
}

func (m *mutator) method(d *Method) {
	m.clauses("suits", d.Suits, condition.False, func(suits []Clause, pos strictyaml.Pos, lacks, change string) {
		changed := *d
		changed.Suits = suits
		m.add(Rule{Method: &changed}, pos, lacks, change)
	})
	m.clauses("never", d.Never, condition.True, func(never []Clause, pos strictyaml.Pos, lacks, change string) {
		changed := *d
		changed.Never = never
		m.add(Rule{Method: &changed}, pos, lacks, change)
	})
	for i := range d.Harms {
		m.harm(d, i)
	}
}

func (m *mutator) harm(d *Method, i int) {
	h := &d.Harms[i]
	with := func(pos strictyaml.Pos, lacks, change string, alter func(*Harm)) {
		changed := *d
		changed.Harms = slices.Clone(d.Harms)
		alter(&changed.Harms[i])
		v := &verifier{Book: m.book}
		if v.harm(&changed, &changed.Harms[i]); len(v.errs) == 0 {
			m.add(Rule{Method: &changed}, pos, lacks, fmt.Sprintf("harm %s: %s", h.ID, change))
		}
	}
	for _, by := range []int{-1, 1} {
		if to := h.Severity + by; to >= 0 && to < len(Severities) {
			with(h.Pos, "states how grave the harm is", Severities[h.Severity]+" becomes "+Severities[to], func(h *Harm) { h.Severity = to })
		}
		if to := h.Probability + by; to >= 0 && to < len(Levels) && h.From == "" {
			with(h.Pos, "states how likely the harm is where nothing raises or lowers it", Levels[h.Probability]+" becomes "+Levels[to], func(h *Harm) { h.Probability = to })
		}
	}
	for _, list := range []struct {
		name  string
		of    func(*Harm) *[]Shift
		tells func(condition.Outcome) condition.Outcome
	}{
		{"raised", func(h *Harm) *[]Shift { return &h.Raised }, unlessFalse},
		{"lowered", func(h *Harm) *[]Shift { return &h.Lowered }, ifTrue},
	} {
		for j, s := range *list.of(h) {
			holds := m.example(s.When, condition.True)
			alter := func(lacks, change string, alter func([]Shift) []Shift) {
				with(s.When.Pos, lacks, list.name+" when "+change, func(h *Harm) { *list.of(h) = alter(slices.Clone(*list.of(h))) })
			}
			alter(holds, s.When.Text+" is dropped", func(l []Shift) []Shift { return slices.Delete(l, j, j+1) })
			for _, to := range []int{s.To - 1, s.To + 1} {
				if to >= 0 && to < len(Levels) {
					alter(holds, s.When.Text+" to "+Levels[s.To]+" becomes "+Levels[to], func(l []Shift) []Shift { l[j].To = to; return l })
				}
			}
			m.cond(s.When, list.tells, func(when *Cond, lacks, change string) {
				alter(lacks, change, func(l []Shift) []Shift { l[j].When = when; return l })
			})
		}
	}
}

func (m *mutator) warning(w *Warning) {
	with := func(pos strictyaml.Pos, lacks, change string, alter func(*Warning)) {
		changed := *w
		alter(&changed)
		m.add(Rule{Warning: &changed}, pos, lacks, change)
	}
	at := slices.Index(Signals, w.Signal)
	for _, to := range []int{at - 1, at + 1} {
		if to >= 0 && to < len(Signals) {
			with(w.Pos, "states its signal", "signal: "+w.Signal+" becomes "+Signals[to], func(w *Warning) { w.Signal = Signals[to] })
		}
	}
	for i, e := range w.On {
		rest := slices.Delete(slices.Clone(w.On), i, i+1)
		switch {
		case len(rest) == 0:
		case m.hangsOn(e, rest):
			with(w.Pos, "has a method that gives off "+e+" and nothing else that the warning is for", "on: "+e+" is dropped", func(w *Warning) { w.On = rest })
		default:
			m.same++
		}
	}
	if w.When == nil {
		return
	}
	with(w.When.Pos, m.example(w.When, condition.False), "when: "+w.When.Text+" is dropped", func(w *Warning) { w.When = nil })
	m.cond(w.When, unlessFalse, func(when *Cond, lacks, change string) {
		with(when.Pos, lacks, "when: "+change, func(w *Warning) { w.When = when })
	})
}

// hangsOn reports whether a method, or sanding by itself, gives off something and nothing of the rest.
func (m *mutator) hangsOn(emission string, rest []string) bool {
	alone := func(given []string) bool {
		return slices.Contains(given, emission) && !slices.ContainsFunc(rest, func(e string) bool { return slices.Contains(given, e) })
	}
	return alone(m.book.Terms.Sanding) || slices.ContainsFunc(m.book.Methods(), func(d *Method) bool { return alone(d.GivesOff) })
}
