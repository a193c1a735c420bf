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
	raw  map[*rules.Warning]*WarningView
	// at is the mark that is looked at, on what holds of it by emission, as far as that was asked for.
	at *scene
	on map[string][]*WarningView
}

func newWarner(book *rules.Book) *warner {
	return &warner{book: book, raw: map[*rules.Warning]*WarningView{}}
}

// method adds the warnings of a method in the scene of a defect.
func (w *warner) method(s *scene, v *verdict) {
	for _, e := range v.method.GivesOff {
		for _, view := range w.holding(s, e) {
			if n := len(view.Methods); n == 0 || view.Methods[n-1] != v.method.ID {
				view.Methods = append(view.Methods, v.method.ID)
			}
		}
	}
}

// mark adds the warnings that hold for the defect itself.
func (w *warner) mark(s *scene) { w.holding(s, "") }

// holding adds the warnings that hang on an emission and may hold for a defect, and lists them.
func (w *warner) holding(s *scene, emission string) []*WarningView {
	if w.at != s {
		w.at, w.on = s, map[string][]*WarningView{}
	}
	out, known := w.on[emission]
	if !known {
		for _, rule := range w.book.WarningsOn(emission) {
			if view := w.add(s, rule); view != nil {
				out = append(out, view)
			}
		}
		w.on[emission] = out
	}
	return out
}

// add adds a warning for a defect, unless it is there or does not hold; then it is nil.
func (w *warner) add(s *scene, rule *rules.Warning) *WarningView {
	view := w.raw[rule]
	if view != nil && view.Defects[len(view.Defects)-1] == s.mark.ID {
		return view // it hangs on another emission too
	}
	o := s.eval(rule.When)
	if o == condition.False {
		return nil
	}
	if view == nil {
		view = &WarningView{Warning: rule.ID, Signal: rule.Signal, Text: rule.Text, Wear: rule.Wear, IfWrong: rule.IfWrong, Own: rule.Own, Sources: rule.Sources}
		w.raw[rule] = view
	}
	if o == condition.True {
		view.Certain = true
	} else {
		view.Missing = append(view.Missing, s.ids(s.asks(s.lacks(rule.When, nil)))...)
	}
	view.Defects = append(view.Defects, s.mark.ID)
	return view
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
