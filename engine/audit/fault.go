package audit

import (
	"cmp"
	"slices"
	"strings"

	"mendwright/rules"
	"mendwright/rules/strictyaml"
)

// Fault is one thing that makes no sense, at its place.
type Fault struct {
	Fault   string  `json:"fault"` // what sort of fault, a word
	File    string  `json:"file"`
	Line    int     `json:"line,omitempty"`
	Column  int     `json:"column,omitempty"`
	Text    string  `json:"text,omitempty"` // the line
	Says    string  `json:"says"`
	Witness Witness `json:"witness"`
	at      *strictyaml.Error
}

// Witness is what shows a fault.
type Witness struct {
	// Answers are those under which it shows.
	Answers []Shown `json:"answers,omitempty"`
	// Clash are conditions that cannot all hold, and what ties them together.
	Clash []string `json:"clash,omitempty"`
}

// Shown is an answer as a person would give it.
type Shown struct {
	Fact   string `json:"fact"`
	Answer string `json:"answer"`
	// Method is the repair that a computed fact is computed of.
	Method string `json:"method,omitempty"`
}

func newFault(sort string, at *strictyaml.Error, w Witness) Fault {
	return Fault{Fault: sort, File: at.File, Line: at.Line, Column: at.Col, Text: at.Excerpt, Says: at.Msg, Witness: w, at: at}
}

// Error shows the place, what is wrong, the line with a caret below it, and the witness.
func (f Fault) Error() string {
	out := f.at.Error()
	if len(f.Witness.Answers) > 0 {
		out += "\n    shown by: " + f.Witness.answers()
	}
	for _, c := range f.Witness.Clash {
		out += "\n    - " + c
	}
	return out
}

func (w Witness) answers() string {
	texts := make([]string, len(w.Answers))
	for i, s := range w.Answers {
		texts[i] = s.Fact + ": " + s.Answer
		if s.Method != "" {
			texts[i] += " (of " + s.Method + ")"
		}
	}
	return strings.Join(texts, ", ")
}

func inOrder(fs []Fault) []Fault {
	slices.SortStableFunc(fs, func(a, b Fault) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column), cmp.Compare(a.Fault, b.Fault))
	})
	return append([]Fault{}, fs...)
}

// example writes out a world in which the formulas hold, with no answer that they hold without.
func (a *audit) example(w world, fs ...*formula) Witness {
	w = slices.Clone(w)
	vars := variables(fs...)
	needed := vars[:0:0]
	for _, v := range vars {
		kept := w.cells(v)
		w[v.index] = nil
		if !a.allHold(w, fs) {
			w[v.index] = kept
			needed = append(needed, v)
		}
	}
	several := map[string][]*variable{}
	var out []Shown
	for _, v := range needed {
		cell := v.likely(w.cells(v))
		s := Shown{Fact: v.fact.ID}
		if v.of != nil {
			s.Method = v.of.ID
		}
		switch {
		case v.answer != "":
			several[v.fact.ID] = append(several[v.fact.ID], v)
			continue
		case v.harm != "":
			s.Answer = "makes " + v.harm + " " + rules.Levels[cell]
		default:
			s.Answer = v.fact.Show(v.value(cell))
		}
		out = append(out, s)
	}
	for id, vs := range several {
		var has, lacks []string
		for _, v := range vs {
			if w.cells(v).has(0) {
				has = append(has, v.answer)
			} else {
				lacks = append(lacks, "not "+v.answer)
			}
		}
		slices.Sort(has)
		slices.Sort(lacks)
		out = append(out, Shown{Fact: id, Answer: strings.Join(append(has, lacks...), " and ")})
	}
	slices.SortStableFunc(out, func(x, y Shown) int {
		return cmp.Or(cmp.Compare(subjectOf(x.Fact), subjectOf(y.Fact)), cmp.Compare(x.Fact, y.Fact), cmp.Compare(x.Method, y.Method))
	})
	return Witness{Answers: out}
}

// subjectOf orders facts from the mark outwards, as a person looks at it.
func subjectOf(id string) int {
	subject, _, _ := strings.Cut(id, ".")
	return -slices.Index(rules.Subjects, subject)
}

func (a *audit) allHold(w world, fs []*formula) bool {
	return !slices.ContainsFunc(fs, func(f *formula) bool { return !w.shows(f) })
}

// statement is a sentence of the rulebook with its formula.
type statement struct {
	text string
	f    *formula
}

// clash lists as few of the statements as cannot all hold, given that all of them cannot.
func (a *audit) clash(ss []statement) []statement {
	for i := 0; i < len(ss); {
		rest := slices.Delete(slices.Clone(ss), i, i+1)
		if a.possible(formulas(rest)...) {
			i++
		} else {
			ss = rest
		}
	}
	return ss
}

func formulas(ss []statement) []*formula {
	out := make([]*formula, len(ss))
	for i, s := range ss {
		out[i] = s.f
	}
	return out
}

func texts(ss []statement) []string {
	out := make([]string, len(ss))
	for i, s := range ss {
		out[i] = s.text
	}
	return out
}
