package engine

import (
	"fmt"
	"strings"

	"mendwright/rules"
	"mendwright/rules/strictyaml"
)

// Explanation follows one repair of one defect to its rules: every condition, how it came out,
// the answers it rests on and its sources.
type Explanation struct {
	Rulebook RulebookID       `json:"rulebook"`
	Defect   string           `json:"defect"`
	On       string           `json:"on"`
	Repair   Repair           `json:"repair"`
	Offered  bool             `json:"offered"` // false if the mark can be none of the kinds it treats
	Kinds    []KindView       `json:"kinds"`
	Suits    []Reason         `json:"suits"`
	Never    []Reason         `json:"never"`
	Harms    []HazardReasons  `json:"harms"`
	Warnings []WarningView    `json:"warnings"`
	Steps    []WorkStep       `json:"steps"`
	Sources  map[string]Cited `json:"sources"`
}

// WorkStep is one step of a method, with the sign to stop.
type WorkStep struct {
	Do   string `json:"do"`
	Stop string `json:"stop,omitempty"`
}

// HazardReasons is a harm with every condition that could move it.
type HazardReasons struct {
	Hazard
	Stated  string   `json:"stated_probability"`
	Raised  []Reason `json:"raised,omitempty"`
	Lowered []Reason `json:"lowered,omitempty"`
}

// Explain explains one method for one defect of the job. The error names the nearest defect or
// method if there is none so called.
func Explain(book *rules.Book, tables *Tables, job *Job, defect, method string) (*Explanation, error) {
	m := book.Method(method)
	if m == nil {
		var ids []string
		for _, m := range book.Methods() {
			ids = append(ids, m.ID)
		}
		return nil, fmt.Errorf("there is no method %q%s", method, strictyaml.Nearest(method, ids))
	}
	scenes, err := scenesOf(book, tables, job)
	if err != nil {
		return nil, err
	}
	var ids []string
	for _, s := range scenes {
		if s.mark.ID == defect {
			return s.explain(m)
		}
		ids = append(ids, s.mark.ID)
	}
	if len(ids) == 0 {
		return nil, fmt.Errorf("the job has no defect %q; it lists none", defect)
	}
	return nil, fmt.Errorf("the job has no defect %q%s; its defects are %s", defect, strictyaml.Nearest(defect, ids), strings.Join(ids, ", "))
}

func (s *scene) explain(m *rules.Method) (*Explanation, error) {
	e := &Explanation{Rulebook: rulebookID(s.book), Defect: s.mark.ID, On: s.mark.On, Steps: []WorkStep{},
		Kinds: []KindView{}, Suits: []Reason{}, Never: []Reason{}, Harms: []HazardReasons{}, Warnings: []WarningView{}}
	for _, st := range m.Steps {
		e.Steps = append(e.Steps, WorkStep(st))
	}
	candidates := s.kinds()
	judged := s.verdicts(candidates)
	v := s.judge(m, candidates)
	if v.state != RuledOut || v.shopOnly {
		v.weigh()
	}
	e.Repair = s.repair(v)
	for i, j := range judged {
		if j.method == m && j.state != RuledOut {
			e.Repair.Rank = i + 1
		}
	}
	for _, id := range m.Treats {
		d := s.book.Defect(id)
		view := s.kindView(&kind{def: d})
		view.Not = true
		for _, c := range v.for_ {
			if c.def == d {
				view.Certain, view.Not, e.Offered = c.certain, false, true
			}
		}
		e.Kinds = append(e.Kinds, view)
	}
	for _, c := range m.Suits {
		e.Suits = append(e.Suits, v.scene.reason(c))
	}
	for _, c := range m.Never {
		e.Never = append(e.Never, v.scene.reason(c))
	}
	for i := range m.Harms {
		h := &m.Harms[i]
		hr := HazardReasons{Hazard: v.scene.hazardView(v.scene.hazard(h)), Stated: rules.Levels[h.Probability]}
		hr.Raised, hr.Lowered = v.scene.shifts(h, h.Raised), v.scene.shifts(h, h.Lowered)
		e.Harms = append(e.Harms, hr)
	}
	w := newWarner(s.book)
	w.method(s, v)
	w.mark(s)
	e.Warnings = append(e.Warnings, w.views()...)
	e.Sources = citedBy(s.book, e.sources())
	if s.err != nil {
		return nil, s.err
	}
	return e, s.wide.err
}

func (s *scene) shifts(h *rules.Harm, shifts []rules.Shift) []Reason {
	var out []Reason
	for _, sh := range shifts {
		r := s.reason(rules.Clause{When: sh.When, Because: sh.Because, Sources: h.Sources})
		r.Because = "to " + rules.Levels[sh.To] + ": " + r.Because
		out = append(out, r)
	}
	return out
}
