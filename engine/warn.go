package engine

import (
	"cmp"
	"slices"

	"mendwright/rules"
	"mendwright/rules/condition"
)

// warner gathers the warnings of a job: what a repair that is not ruled out gives off, and what
// holds for a mark whatever is done. A warning acts unless its condition is false.
type warner struct {
	book *rules.Book
	raw  map[string]*WarningView
}

func newWarner(book *rules.Book) *warner { return &warner{book: book, raw: map[string]*WarningView{}} }

// method adds the warnings of a method in the scene of a defect.
func (w *warner) method(s *scene, v *verdict) {
	for _, e := range v.method.GivesOff {
		for _, rule := range w.book.WarningsOn(e) {
			w.add(s, rule, v.method.ID)
		}
	}
}

// mark adds the warnings that hold for the defect itself.
func (w *warner) mark(s *scene) {
	for _, rule := range w.book.WarningsOn("") {
		w.add(s, rule, "")
	}
}

func (w *warner) add(s *scene, rule *rules.Warning, method string) {
	view := w.raw[rule.ID]
	if view != nil && view.Defects[len(view.Defects)-1] == s.mark.ID { // it is there for another method
		if method != "" && !slices.Contains(view.Methods, method) {
			view.Methods = append(view.Methods, method)
		}
		return
	}
	o := s.eval(rule.When)
	if o == condition.False {
		return
	}
	if view == nil {
		view = &WarningView{Warning: rule.ID, Signal: rule.Signal, Text: rule.Text, Wear: rule.Wear, IfWrong: rule.IfWrong, Own: rule.Own, Sources: rule.Sources}
		w.raw[rule.ID] = view
	}
	if o == condition.True {
		view.Certain = true
	} else {
		view.Missing = append(view.Missing, s.ids(s.asks(s.lacks(rule.When, nil)))...)
	}
	view.Defects = append(view.Defects, s.mark.ID)
	if method != "" {
		view.Methods = append(view.Methods, method)
	}
}

// views returns the warnings, gravest first, then by id.
func (w *warner) views() []WarningView {
	var out []WarningView
	sorted := func(s []string) []string { slices.Sort(s); return slices.Compact(s) }
	for _, v := range w.raw {
		v.Defects, v.Methods, v.Missing = sorted(v.Defects), sorted(v.Methods), sorted(v.Missing)
		if v.Certain {
			v.Missing = nil
		}
		out = append(out, *v)
	}
	slices.SortFunc(out, func(a, b WarningView) int {
		return cmp.Or(cmp.Compare(slices.Index(rules.Signals, a.Signal), slices.Index(rules.Signals, b.Signal)), cmp.Compare(a.Warning, b.Warning))
	})
	return out
}
