package audit

import (
	"mendwright/rules"
	"mendwright/rules/condition"
)

// Best is a method with answers under which the audit says that it is the best for a kind.
type Best struct {
	Method *rules.Method
	Kind   string
	Given  map[string]condition.Value
}

// Bests finds such answers for every method and kind where there are any.
func Bests(book *rules.Book) []Best {
	a := newAudit(book)
	var out []Best
	for _, m := range book.Methods() {
		for _, d := range a.treats(m) {
			if s := a.bestFor(m, d, nil); s.best {
				out = append(out, Best{m, d.ID, a.answers(s.world)})
			}
		}
	}
	return out
}

// answers are those of a settled world that a person could give: what means nothing is not asked.
func (a *audit) answers(w world) map[string]condition.Value {
	out := map[string]condition.Value{}
	several := map[string][]string{}
	for _, v := range a.vars {
		f := v.fact
		if f.Computed != "" || f.Lookup != nil || w.shows(opposite(a.applies(f, asked))) {
			continue
		}
		cell := v.likely(w.cells(v))
		if f.Kind != condition.Several {
			out[f.ID] = v.value(cell)
			continue
		}
		if several[f.ID] == nil {
			several[f.ID] = []string{}
		}
		if cell == 0 {
			several[f.ID] = append(several[f.ID], v.answer)
		}
	}
	for id, set := range several {
		out[id] = condition.PickSeveral(set...)
	}
	return out
}
