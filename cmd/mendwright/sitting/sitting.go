// Package sitting holds what a sitting over a job file does alike at a terminal and on a page: it puts
// a question anew, finds the answers in view, and says what an answer settled.
package sitting

import (
	"slices"
	"strings"
	"unicode"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
	"mendwright/rules"
	"mendwright/rules/condition"
)

// QuestionOf puts a fact whatever engine.Next would say, for going back and for changing an answer.
func QuestionOf(f *rules.Fact) *engine.Question {
	q := &engine.Question{Fact: f.ID, Ask: f.Ask, Tell: f.Tell, Effort: f.Effort, Harms: f.Harms, Unit: f.Unit}
	for _, a := range f.Answers {
		q.Answers = append(q.Answers, engine.Option(a))
	}
	if f.Kind == condition.YesNo {
		q.Answers = []engine.Option{{ID: "yes", Means: "yes"}, {ID: "no", Means: "no"}}
	}
	return q
}

// Of is what the triage says of a mark, nil if there is none of that id.
func Of(a *engine.Answer, mark string) *engine.DefectAnswer {
	i := slices.IndexFunc(a.Defects, func(d engine.DefectAnswer) bool { return d.ID == mark })
	if i < 0 {
		return nil
	}
	return &a.Defects[i]
}

// IsReady reports whether a repair of the mark is ready.
func IsReady(d *engine.DefectAnswer) bool {
	return len(d.Repairs) > 0 && d.Repairs[0].Mends()
}

// Subject is what a fact is about: piece, shop, surface or defect.
func Subject(fact string) string {
	s, _, _ := strings.Cut(fact, ".")
	return s
}

// Thing is what the answer to a fact is about while a mark is asked about, as jobfile.Doc names it:
// the mark, the surface it is on, "piece" or "shop".
func Thing(fact, mark, on string) string {
	switch s := Subject(fact); s {
	case "surface":
		return on
	case "defect":
		return mark
	default:
		return s
	}
}

// Stands is what the file says of a fact about a thing: as it was typed, nil if nothing, and as it is
// understood.
func Stands(file *jobfile.File, f *rules.Fact, of string) (typed []string, understood string) {
	for _, u := range file.Understood {
		if u.Of != of || u.Fact != f.ID {
			continue
		}
		typed = []string{u.Typed}
		if f.Kind == condition.Several && u.Answer != "cannot tell" {
			typed = strings.FieldsFunc(u.Typed, func(r rune) bool { return r == ',' || r == ' ' })
		}
		return typed, u.Answer
	}
	return nil, ""
}

// InView lists the answers about a mark, its surface, the piece and the shop; all where there is no
// such mark.
func InView(file *jobfile.File, mark string) []jobfile.Understood {
	on, found := "", false
	for _, m := range file.Job.Defects {
		if m.ID == mark {
			on, found = m.On, true
		}
	}
	return slices.DeleteFunc(slices.Clone(file.Understood), func(u jobfile.Understood) bool {
		s := Subject(u.Fact)
		return found && (s == "surface" && u.Of != on || s == "defect" && u.Of != mark)
	})
}

// ReadAs says how a measurement was understood, so that a slip in it is seen; "" for any other answer.
func ReadAs(file *jobfile.File, f *rules.Fact, of string) string {
	typed, _ := Stands(file, f, of)
	if f.Kind != condition.Quantity || len(typed) != 1 {
		return ""
	}
	m, known, err := f.ReadAnswer(typed[0])
	if err != nil || !known {
		return ""
	}
	said := "Read as " + screen.Span(m.Range(), f.Unit)
	if slices.ContainsFunc(file.Understood, func(u jobfile.Understood) bool { return u.Of == of && u.Fact == f.ID && u.Spread }) {
		said += " (the usual ± was taken)"
	}
	return said
}

// FileName makes the name of a file, without its ending, out of that of a piece: its letters and
// digits, hyphens between.
func FileName(piece string) string {
	words := strings.FieldsFunc(strings.ToLower(piece), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	r := []rune(strings.Join(words, "-"))
	name := strings.Trim(string(r[:min(len(r), 40)]), "-")
	if name == "" {
		name = "job"
	}
	return name
}
