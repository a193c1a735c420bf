package engine

import (
	"slices"
	"strings"

	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

// reckoned is what a calculator made of a repair in its scene.
type reckoned interface {
	// output gives one output; false where the answers allow more than one.
	output(name string) (condition.Value, bool)
	// lacks lists the facts that must be known, or known more closely, before the outputs are.
	lacks() []string
	// because says in words what gave the outputs.
	because() string
}

// reckonedOf is a calculator and what it reckons with of a method.
type reckonedOf struct {
	calculator string
	rules.Choice
	rules.NewCoat
}

// calculator is the declaration of a calculator, or nil if the rulebook has none of that name.
func (s *scene) calculator(id string) *rules.Calculator {
	for _, c := range s.book.Calculators {
		if c.ID == id {
			return c
		}
	}
	return nil
}

// reckon runs a calculator on the scene's repair, once. It is nil outside a repair that has what
// the calculator computes with.
func (s *scene) reckon(calculator string) reckoned {
	if s.method == nil || s.tables == nil || !s.method.Has(calculator) || s.calculator(calculator) == nil {
		return nil
	}
	if calculator == "sanding" {
		return s.sanding()
	}
	if before := s.base.before; before != nil && !s.feeds(calculator) {
		return before.forMethod(s.method).reckon(calculator)
	}
	// The same of all methods that use or lay the same; and what does not depend on the mark is reckoned once for
	// all marks of a surface.
	at, key := s.base, reckonedOf{calculator: calculator}
	if calculator == "vapour" {
		key.Choice = *s.method.Vapour
	} else {
		key.NewCoat = *s.method.Coat
	}
	if at.wide != nil && !s.ofMark(calculator) {
		at = at.wide
	}
	if r, ok := at.results[key]; ok {
		return r
	}
	var r reckoned
	switch calculator {
	case "vapour":
		r = s.vapour()
	case "weather":
		r = s.weather()
	case "pairing":
		r = s.pairing()
	default:
		return nil
	}
	if at.results == nil {
		at.results = map[reckonedOf]reckoned{}
	}
	at.results[key] = r
	return r
}

// ofMark reports whether what a calculator makes of the scene's method may differ from mark to mark of
// a surface: it reads a fact of the mark, or the answer that names its row is one.
func (s *scene) ofMark(calculator string) bool {
	var by string
	if calculator == "vapour" {
		by = s.method.Vapour.By
	} else {
		by = s.method.Coat.By
	}
	if narrow(by) {
		return true
	}
	for _, id := range s.calculator(calculator).Inputs {
		if narrow(id) {
			return true
		}
	}
	return false
}

// computed gives a computed fact. Outside a repair there is none.
func (s *scene) computed(decl *rules.Fact) (condition.Value, bool) {
	calculator, output, _ := strings.Cut(decl.Computed, ".")
	r := s.reckon(calculator)
	if r == nil {
		return condition.Value{}, false
	}
	return r.output(output)
}

// inputs reads the facts that feed a calculator, by role.
type inputs struct {
	scene *scene
	calc  *rules.Calculator
	// absent and rough are the facts read that are unknown, or measured with a spread.
	absent, rough []string
}

func (s *scene) inputs(calculator string) *inputs {
	return &inputs{scene: s, calc: s.calculator(calculator)}
}

// quantity is the range of a measured input: what it is, or all that it could be.
func (in *inputs) quantity(role string) interval.Range {
	id := in.calc.Inputs[role]
	f := in.scene.resolve(id)
	if !f.known {
		in.absent = append(in.absent, id)
		return in.scene.book.Facts[id].Bounds
	}
	if f.value.Range().Half() > 0 {
		in.rough = append(in.rough, id)
	}
	return f.value.Range()
}

// choices are the answers that an input may have: the one given, or all there are.
func (in *inputs) choices(id string) []string {
	f := in.scene.resolve(id)
	if f.known {
		return []string{f.value.Choice()}
	}
	in.absent = append(in.absent, id)
	var out []string
	for _, a := range in.scene.book.Facts[id].Answers {
		out = append(out, a.ID)
	}
	return out
}

// truth is a yes-or-no input.
func (in *inputs) truth(role string) condition.Outcome {
	id := in.calc.Inputs[role]
	switch f := in.scene.resolve(id); {
	case !f.known:
		in.absent = append(in.absent, id)
		return condition.Unknown
	case f.value.IsYes():
		return condition.True
	}
	return condition.False
}

// rows are the rows of a table that a method's choice may mean.
func (in *inputs) rows(c rules.Choice) []string {
	if c.Of != "" {
		return []string{c.Of}
	}
	return in.choices(c.By)
}

// lacks lists what keeps an outcome open: what is absent, or else what was measured too roughly.
func (in *inputs) lacks() []string {
	out := in.absent
	if len(out) == 0 {
		out = in.rough
	}
	slices.Sort(out)
	return slices.Compact(out)
}
