package rules

import (
	"maps"
	"slices"
	"strings"

	"mendwright/rules/condition"
	"mendwright/rules/strictyaml"
)

// verify looks across files: it compiles every condition and follows every reference.
func (b *Book) verify() strictyaml.Errors {
	v := &verifier{Book: b}
	v.vocabulary()
	for _, f := range b.Findings {
		v.finding(f)
	}
	v.cycles()
	for _, d := range b.Defects {
		v.defect(d)
	}
	for _, m := range b.Methods() {
		v.method(m)
	}
	for _, w := range b.Warnings {
		v.warning(w)
	}
	v.ofOrder()
	return v.errs
}

type verifier struct {
	*Book
	errs strictyaml.Errors
}

func (v *verifier) fail(pos strictyaml.Pos, format string, args ...any) {
	v.errs = append(v.errs, pos.Error(format, args...))
}

// cond compiles a condition and returns the facts it reads. What is computed of a repair exists
// only in the conditions of a method that has what it is computed of; m is nil elsewhere.
func (v *verifier) cond(c *Cond, m *Method) []string {
	if c == nil {
		return nil
	}
	comp, err := c.Compile()
	if err != nil {
		if e, ok := err.(*strictyaml.Error); ok {
			v.errs = append(v.errs, e)
		} else {
			v.fail(c.Pos, "%s", err)
		}
		return nil
	}
	for _, id := range comp.Facts {
		if calc, _, ok := strings.Cut(v.Facts[id].Computed, "."); ok && (m == nil || !m.Has(calc)) {
			v.fail(c.Pos, "%s is computed of a repair; only the conditions of a method with %s can read it", id, needs[calc])
		}
	}
	return comp.Facts
}

// needs says by calculator which key a method must have.
var needs = map[string]string{"sanding": "a sanding programme", "vapour": "a vapour", "weather": "a coat", "pairing": "a coat"}

func (v *verifier) vocabulary() {
	ids := slices.Sorted(maps.Keys(v.Facts))
	for _, id := range ids {
		f := v.Facts[id]
		v.cond(f.Applies, nil)
		if f.Lookup != nil {
			v.lookup(f)
		}
		if calc, _, ok := strings.Cut(f.Computed, "."); f.Computed != "" {
			if !ok || needs[calc] == "" || !slices.ContainsFunc(v.Calculators, func(c *Calculator) bool { return c.ID == calc }) {
				v.fail(f.Pos, "%q is not an output (calculator.output) of a declared calculator", f.Computed)
			}
		}
		if !f.Asked() && f.Computed == "" && f.Lookup == nil && v.findingOf[id] == nil {
			v.fail(f.Pos, "%s is neither asked, nor computed, looked up or derived by a finding", id)
		}
	}
	for _, c := range v.Calculators {
		for _, role := range slices.Sorted(maps.Keys(c.Inputs)) {
			switch f := v.Facts[c.Inputs[role]]; {
			case f == nil:
				v.fail(c.Pos, "the input %s of the calculator %s is no fact: %q", role, c.ID, c.Inputs[role])
			case f.Computed != "":
				v.fail(c.Pos, "the input %s of the calculator %s is computed itself: %s", role, c.ID, f.ID)
			}
		}
	}
	aim := v.Facts[v.Terms.AimFact]
	if aim == nil {
		v.errs = append(v.errs, &strictyaml.Error{File: "terms.yaml", Msg: "the aim fact " + v.Terms.AimFact + " is not declared"})
		return
	}
	if aim.Kind != condition.Choice {
		v.fail(aim.Pos, "the aim is a choice, not a %s", aim.Kind)
	}
	for _, t := range v.Terms.Aims {
		if !slices.Contains(aim.answerIDs(), t.Aim) {
			v.fail(aim.Pos, "terms.yaml speaks of an aim %q that is no answer here%s", t.Aim, strictyaml.Nearest(t.Aim, aim.answerIDs()))
		}
	}
	for _, a := range aim.Answers {
		if !slices.ContainsFunc(v.Terms.Aims, func(t Aim) bool { return t.Aim == a.ID }) {
			v.fail(aim.Pos, "terms.yaml does not say which outcomes meet the aim %q", a.ID)
		}
	}
}

// lookup checks that every answer of the fact that chooses has a row, and that the column fits.
func (v *verifier) lookup(f *Fact) {
	by := v.Facts[f.Lookup.By]
	t, err := v.Table(f.Lookup.Table)
	if err != nil || by == nil || by.Kind != condition.Choice {
		v.fail(f.Pos, "the lookup needs a table and a choice fact; read table %q by %q", f.Lookup.Table, f.Lookup.By)
		return
	}
	i := slices.IndexFunc(t.Columns, func(c Column) bool { return c.ID == f.Lookup.Column })
	if i < 0 {
		v.fail(f.Pos, "the table %s has no column %q", t.ID, f.Lookup.Column)
		return
	}
	if text := t.Columns[i].Kind == "text"; text == (f.Kind == condition.Quantity) {
		v.fail(f.Pos, "the column %s of %s does not fit a %s", f.Lookup.Column, t.ID, f.Kind)
		return
	}
	for _, a := range by.Answers {
		r := t.Row(a.ID)
		if r == nil {
			v.fail(f.Pos, "the table %s has no row for %s %q", t.ID, by.ID, a.ID)
			continue
		}
		if f.Kind == condition.Quantity {
			if !r.Ranges[f.Lookup.Column].Within(f.Bounds) {
				v.fail(r.Pos, "%s lies outside the range of %s", f.Lookup.Column, f.ID)
			}
		} else {
			if _, _, err := f.ReadAnswer(r.Texts[f.Lookup.Column]); err != nil {
				v.fail(r.Pos, "%s", err)
			}
		}
	}
}

func (v *verifier) finding(f *Finding) {
	if first := v.findingOf[f.Derives]; first != f && first != nil {
		v.fail(f.Pos, "%s is derived by the finding %s too", f.Derives, first.ID)
	}
	if fact := v.Facts[f.Derives]; fact != nil && (fact.Computed != "" || fact.Lookup != nil) {
		v.fail(f.Pos, "%s is computed or looked up and cannot be derived as well", f.Derives)
	}
	derived := v.Facts[f.Derives]
	for _, b := range f.Branches {
		for _, id := range v.cond(b.When, nil) {
			// A surface is judged once for all its marks, a piece once for all its surfaces.
			if derived != nil && slices.Index(Subjects, v.Facts[id].Subject) > slices.Index(Subjects, derived.Subject) {
				v.fail(b.When.Pos, "%s is about a %s and cannot rest on %s, which is about a %s", derived.ID, derived.Subject, id, v.Facts[id].Subject)
			}
		}
	}
}

// cycles refuses findings and lookups that rest on themselves.
func (v *verifier) cycles() {
	state := map[string]int{} // 1 being visited, 2 done
	var visit func(id string, path []string) bool
	visit = func(id string, path []string) bool {
		if state[id] == 2 {
			return true
		}
		path = append(path, id)
		if state[id] == 1 {
			v.fail(v.Facts[id].Pos, "the fact rests on itself: %s", strings.Join(path, " <- "))
			return false
		}
		state[id] = 1
		defer func() { state[id] = 2 }()
		var reads []string
		if f := v.Facts[id]; f != nil && f.Lookup != nil {
			reads = append(reads, f.Lookup.By)
		}
		if f := v.findingOf[id]; f != nil {
			for _, b := range f.Branches {
				if comp, err := b.When.Compile(); err == nil {
					reads = append(reads, comp.Facts...)
				}
			}
		}
		for _, r := range reads {
			if v.Facts[r] != nil && !visit(r, path) {
				return false
			}
		}
		return true
	}
	for _, id := range slices.Sorted(maps.Keys(v.Facts)) {
		visit(id, nil)
	}
}

func (v *verifier) defect(d *Defect) {
	for _, s := range d.Signs {
		v.cond(s.When, nil)
	}
	for _, t := range d.Tell {
		if v.defects[t.From] == nil {
			v.fail(d.Pos, "told apart from %q, which is no defect kind%s", t.From, strictyaml.Nearest(t.From, slices.Collect(maps.Keys(v.defects))))
		}
	}
	if len(v.treating[d.ID]) == 0 {
		v.fail(d.Pos, "no method treats %s", d.ID)
	}
	for _, c := range d.Cases {
		for _, id := range append(slices.Clone(c.NeverReady), c.Best) {
			if id != "" && v.methods[id] == nil {
				v.fail(c.Pos, "there is no method %q%s", id, strictyaml.Nearest(id, slices.Collect(maps.Keys(v.methods))))
			}
		}
	}
}

func (v *verifier) method(m *Method) {
	for _, id := range m.Treats {
		if v.defects[id] == nil {
			v.fail(m.Pos, "treats %q, which is no defect kind%s", id, strictyaml.Nearest(id, slices.Collect(maps.Keys(v.defects))))
		}
	}
	if b := m.Beside; b != nil && (v.methods[b.Method] == nil || b.Method == m.ID) {
		others := slices.DeleteFunc(slices.Collect(maps.Keys(v.methods)), func(id string) bool { return id == m.ID })
		v.fail(b.Pos, "stands beside %q, which is no other method%s", b.Method, strictyaml.Nearest(b.Method, others))
	}
	for _, c := range append(slices.Clone(m.Suits), m.Never...) {
		v.cond(c.When, m)
	}
	if m.Vapour != nil {
		v.choice(m, *m.Vapour)
	}
	if m.Coat != nil {
		v.choice(m, m.Coat.Choice)
	}
	harms := map[string]bool{}
	for i := range m.Harms {
		h := &m.Harms[i]
		if harms[h.ID] {
			v.fail(m.Pos, "the harm %q stands twice", h.ID)
		}
		harms[h.ID] = true
		v.harm(m, h)
	}
	for _, c := range m.Cases {
		for _, id := range slices.Sorted(maps.Keys(c.Harms)) {
			if !harms[id] {
				v.fail(c.Pos, "the method has no harm %q%s", id, strictyaml.Nearest(id, slices.Collect(maps.Keys(harms))))
			}
		}
	}
}

// choice checks that the fact which names a row is one that has answers. Whether the rows are
// there, the package that types the tables knows.
func (v *verifier) choice(m *Method, c Choice) {
	if c.By != "" && (v.Facts[c.By] == nil || v.Facts[c.By].Kind != condition.Choice) {
		v.fail(m.Pos, "%q is no fact with answers to choose by%s", c.By, strictyaml.Nearest(c.By, slices.Collect(maps.Keys(v.Facts))))
	}
}

// harm checks that conditions move the probability the way they say, and that protective gear
// lowers it by one level at most and eliminates nothing (MIL-STD-882E, 4.3.4 and table II).
func (v *verifier) harm(m *Method, h *Harm) {
	for _, s := range h.Raised {
		v.cond(s.When, m)
		if s.To >= h.Probability {
			v.fail(s.When.Pos, "%s is not worse than %s, so it raises nothing", Levels[s.To], Levels[h.Probability])
		}
	}
	for _, s := range h.Lowered {
		reads := v.cond(s.When, m)
		if s.To <= h.Probability {
			v.fail(s.When.Pos, "%s is not better than %s, so it lowers nothing", Levels[s.To], Levels[h.Probability])
		}
		protective := slices.ContainsFunc(reads, func(id string) bool { return v.Facts[id].Protective })
		if protective && (s.To > h.Probability+1 || s.To == Eliminated) {
			v.fail(s.When.Pos, "what is worn or switched on lowers a probability by one level and never eliminates it")
		}
	}
	if h.From != "" {
		f := v.Facts[h.From]
		switch {
		case f == nil || f.Unit != "%" || f.Computed == "" || m.Sanding == nil:
			v.fail(m.Pos, "probability_from %q is not a computed share that this method has", h.From)
		case h.Probability != 0:
			v.fail(m.Pos, "a harm whose probability is computed is frequent until it is known")
		}
	}
}

func (v *verifier) warning(w *Warning) {
	v.cond(w.When, nil)
	for _, c := range w.Cases {
		if (c.Method == "") != (len(w.On) == 0) {
			v.fail(c.Pos, "a case names a method exactly when the warning is tied to what a method gives off")
		}
		if c.Method != "" && v.methods[c.Method] == nil {
			v.fail(c.Pos, "there is no method %q%s", c.Method, strictyaml.Nearest(c.Method, slices.Collect(maps.Keys(v.methods))))
		}
	}
}
