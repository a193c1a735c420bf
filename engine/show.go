package engine

import (
	"maps"
	"slices"
	"strings"

	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/quantity"
)

// Shown is what a rulebook holds under an id.
type Shown struct {
	Rulebook RulebookID       `json:"rulebook"`
	Rules    []RuleView       `json:"rules"`
	Sources  map[string]Cited `json:"sources"`
}

// RuleView is a rule written out.
type RuleView struct {
	Part string    `json:"part"` // kind, method, warning, finding, fact, pair, chore, aftermath, good or source
	ID   string    `json:"id"`
	Name string    `json:"name,omitempty"`
	What string    `json:"what"`
	Own  rules.Own `json:"own,omitempty"`
	File string    `json:"file,omitempty"`
	Line int       `json:"line,omitempty"`
	// Says are its plain statements, in the order of the file.
	Says []Statement `json:"says,omitempty"`
	// Conditions are what it asks of the answers, with what follows.
	Conditions []Condition `json:"conditions,omitempty"`
	Steps      []WorkStep  `json:"steps,omitempty"`
	Cases      []CaseView  `json:"cases,omitempty"`
	Sources    []string    `json:"sources,omitempty"` // of the rule as a whole
}

// Statement is one plain statement of a rule.
type Statement struct {
	About   string   `json:"about"`
	Text    string   `json:"text"`
	Sources []string `json:"sources,omitempty"`
}

// Condition is a condition of a rule, as it is written and in words.
type Condition struct {
	Part    string   `json:"part"`            // sign, suits, never, branch, when, applies, or "harm" and which
	Rule    string   `json:"rule,omitempty"`  // none: a harm as it is before anything raises or lowers it
	Words   string   `json:"words,omitempty"` // the condition as one would say it
	Then    string   `json:"then,omitempty"`  // what follows, where the part does not say it
	Because string   `json:"because,omitempty"`
	Sources []string `json:"sources,omitempty"`
}

// CaseView is a case beside a rule.
type CaseView struct {
	That  string            `json:"that"`
	Given map[string]string `json:"given"`
	With  string            `json:"with,omitempty"` // the method of a warning's case
	Then  string            `json:"then"`
	Harms map[string]string `json:"harms,omitempty"`
}

// Show writes out whatever the book holds under an id; nothing if it holds nothing.
func Show(book *rules.Book, id string) *Shown {
	w := &shower{book: book}
	for _, r := range book.Rules() {
		if r.ID() == id {
			w.rule(r)
		}
	}
	if f := book.Facts[id]; f != nil {
		w.fact(f)
	}
	w.order(id)
	if s := book.Sources[id]; s != nil {
		w.out = append(w.out, RuleView{Part: "source", ID: id, What: s.Title, Sources: []string{id}, Says: w.citing(id)})
	}
	out := &Shown{Rulebook: rulebookID(book), Rules: append([]RuleView{}, w.out...)}
	out.Sources = citedBy(book, func(yield func([]string)) {
		for _, v := range w.out {
			yield(v.Sources)
			for _, s := range v.Says {
				yield(s.Sources)
			}
			for _, c := range v.Conditions {
				yield(c.Sources)
			}
		}
	})
	return out
}

type shower struct {
	book *rules.Book
	out  []RuleView
	v    RuleView
}

func (w *shower) rule(r rules.Rule) {
	w.v = RuleView{ID: r.ID(), File: r.Pos().File(), Line: r.Pos().Line}
	switch {
	case r.Finding != nil:
		w.finding(r.Finding)
	case r.Defect != nil:
		w.kind(r.Defect)
	case r.Method != nil:
		w.method(r.Method)
	case r.Warning != nil:
		w.warning(r.Warning)
	}
	for _, k := range r.Cases() {
		view := CaseView{That: k.That, Given: map[string]string{}, With: k.Method, Then: k.Then}
		for id, a := range k.Given {
			view.Given[id] = w.book.Facts[id].Show(a)
		}
		for _, id := range slices.Sorted(maps.Keys(k.Harms)) {
			if view.Harms == nil {
				view.Harms = map[string]string{}
			}
			view.Harms[id] = weighed(k.Harms[id])
		}
		w.v.Cases = append(w.v.Cases, view)
	}
	w.out = append(w.out, w.v)
}

func (w *shower) say(about, text string, sources ...string) {
	if text != "" {
		w.v.Says = append(w.v.Says, Statement{about, text, sources})
	}
}

func (w *shower) list(about string, texts []string) { w.say(about, strings.Join(texts, ", ")) }

func (w *shower) cond(part, then string, c rules.Clause) {
	if c.When == nil {
		return
	}
	view := Condition{Part: part, Rule: c.When.Text, Words: c.When.Text, Then: then, Because: c.Because, Sources: c.Sources}
	if comp, err := c.When.Compile(); err == nil {
		view.Words = comp.Words(func(fact string) string { return w.book.Facts[fact].Unit })
	}
	w.v.Conditions = append(w.v.Conditions, view)
}

func (w *shower) finding(f *rules.Finding) {
	w.v.Part, w.v.What, w.v.Own = "finding", "derives "+f.Derives+": the first of these that is so, if all above it are not", f.Own
	for _, b := range f.Branches {
		w.cond("branch", f.Derives+" is "+b.Is.String(), b.Clause)
	}
}

func (w *shower) kind(d *rules.Defect) {
	w.v.Part, w.v.Name, w.v.What, w.v.Own, w.v.Sources = "kind", d.Name, d.What, d.Own, d.Sources
	for _, s := range d.Signs {
		w.cond("sign", "", s)
	}
	for _, t := range d.Tell {
		w.say("not "+t.From, t.By)
	}
	w.say("if left", d.IfLeft)
	w.say("urgency", d.Urgency)
	w.say("use", d.Use)
	var treating []string
	for _, m := range w.book.Treating(d.ID) {
		treating = append(treating, m.ID)
	}
	w.list("methods", treating)
}

func (w *shower) method(m *rules.Method) {
	w.v.Part, w.v.Name, w.v.What, w.v.Own = "method", m.Name, m.What, m.Own
	w.list("treats", m.Treats)
	w.say("achieves", m.Achieves)
	w.say("can be undone", m.Undo)
	w.list("gives off", m.GivesOff)
	for _, s := range m.Suits {
		w.cond("suits", "", s)
	}
	for _, n := range m.Never {
		w.cond("never", "", n)
	}
	for _, h := range m.Harms {
		to := "piece"
		if h.ToPerson {
			to = "person"
		}
		part := "harm " + h.ID
		w.v.Conditions = append(w.v.Conditions, Condition{Part: part, Sources: h.Sources,
			Then: h.What + " (to the " + to + "): " + rules.Severities[h.Severity] + ", " + rules.Levels[h.Probability]})
		for _, s := range h.Raised {
			w.cond(part, "worse, "+rules.Levels[s.To], rules.Clause{When: s.When, Because: s.Because})
		}
		for _, s := range h.Lowered {
			w.cond(part, "better, "+rules.Levels[s.To], rules.Clause{When: s.When, Because: s.Because})
		}
	}
	for _, l := range m.Leaves {
		w.say("leaves "+l.Fact, l.Because, l.Sources...)
	}
	w.list("materials", materials(m.Materials))
	if m.Covers != "mark" {
		w.say("covers", "the whole "+m.Covers+" at once")
	}
	w.list("tools", m.Tools)
	w.list("wear", m.Protection)
	for _, wait := range m.Waits {
		w.say("wait for "+wait.For, quantity.Format(wait.Hours, "h")+": "+wait.Because, wait.Sources...)
	}
	for _, s := range m.Steps {
		w.v.Steps = append(w.v.Steps, WorkStep(s))
	}
}

func (w *shower) warning(r *rules.Warning) {
	w.v.Part, w.v.Name, w.v.What, w.v.Own, w.v.Sources = "warning", r.Signal, r.Text, r.Own, r.Sources
	w.list("on", r.On)
	w.list("wear", r.Wear)
	w.say("if it goes wrong", r.IfWrong)
	w.cond("when", "", rules.Clause{When: r.When})
}

func (w *shower) fact(f *rules.Fact) {
	w.v = RuleView{Part: "fact", ID: f.ID, Name: f.Kind.String(), What: asked(f), Own: f.Own, File: f.Pos.File(), Line: f.Pos.Line, Sources: f.Sources}
	w.say("tell", f.Tell)
	for _, a := range f.Answers {
		w.say(a.ID, a.Means)
	}
	if f.Kind == condition.Quantity {
		w.say("between", quantity.Span(f.Bounds, f.Unit))
	}
	w.say("effort", f.Effort)
	w.say("may harm", f.Harms)
	w.cond("applies", "", rules.Clause{When: f.Applies})
	reach := w.book.Reach(f.ID)
	var reads []string
	for _, r := range w.book.Rules() {
		if reach.Defects[r.Defect] || reach.Method(r.Method) || reach.Warnings[r.Warning] {
			reads = append(reads, r.ID())
		}
	}
	w.list("read by", reads)
	w.out = append(w.out, w.v)
}

// citing says which rules rest on a source.
func (w *shower) citing(id string) []Statement {
	var ids []string
	for _, r := range w.book.Rules() {
		one := &shower{book: w.book}
		one.rule(r)
		cites := func(sources []string) bool { return slices.Contains(sources, id) }
		v := one.v
		if cites(v.Sources) || slices.ContainsFunc(v.Says, func(s Statement) bool { return cites(s.Sources) }) ||
			slices.ContainsFunc(v.Conditions, func(c Condition) bool { return cites(c.Sources) }) {
			ids = append(ids, r.ID())
		}
	}
	if ids == nil {
		return nil
	}
	return []Statement{{"cited by", strings.Join(ids, ", "), nil}}
}
