package engine

import (
	"maps"
	"slices"
	"strings"

	"mendwright/rules"
	"mendwright/rules/quantity"
)

// order writes out whatever of the rules of order goes by an id.
func (w *shower) order(id string) {
	o := w.book.Order()
	for _, p := range o.Pairs {
		if p.ID == id {
			w.pair(p)
		}
	}
	for _, c := range o.Chores {
		if c.ID == id {
			w.chore(c)
		}
	}
	for _, a := range o.Aftermaths {
		if a.ID == id {
			w.aftermath(a)
		}
	}
	if g := o.Good(id); g != nil {
		w.good(g)
	}
}

func (w *shower) pair(p *rules.Pair) {
	w.v = RuleView{Part: "pair", ID: p.ID, What: p.Because, Own: p.Own, File: p.Pos.File(), Line: p.Pos.Line, Sources: p.Sources}
	w.say("first", selected(p.First))
	w.say("then", selected(p.Next))
	w.say("on the same", p.Where)
	if !p.Hard {
		w.say("how strict", "better so, and no harm done otherwise")
	}
	if p.Between != nil {
		w.say("between them", p.Between.Do+" ("+quantity.Format(p.Between.Hours, "h")+")")
	}
	w.say("instead", p.Instead)
	w.list("may stand in", p.Swap)
	w.cond("when", "", rules.Clause{When: p.When})
	for _, c := range p.Cases {
		view := CaseView{That: c.That, Given: map[string]string{}, With: c.First + ", " + c.Next, Then: map[bool]string{true: "holds", false: "does not hold"}[c.Holds]}
		for id, a := range c.Given {
			view.Given[id] = w.book.Facts[id].Show(a)
		}
		w.v.Cases = append(w.v.Cases, view)
	}
	w.out = append(w.out, w.v)
}

func (w *shower) chore(c *rules.Chore) {
	w.v = RuleView{Part: "chore", ID: c.ID, Name: c.Name, What: c.Because, Own: c.Own, File: c.Pos.File(), Line: c.Pos.Line, Sources: c.Sources}
	w.say("done with", selected(c.With))
	w.say("once for each", c.Where)
	w.say("stage", c.Stage)
	w.list("compare", c.Compare)
	w.list("materials", materials(c.Materials))
	for _, wait := range c.Waits {
		w.say("wait for "+wait.For, quantity.Format(wait.Hours, "h")+": "+wait.Because, wait.Sources...)
	}
	w.cond("when", "", rules.Clause{When: c.When})
	for _, s := range c.Steps {
		w.v.Steps = append(w.v.Steps, WorkStep(s))
	}
	w.out = append(w.out, w.v)
}

func (w *shower) aftermath(a *rules.Aftermath) {
	w.v = RuleView{Part: "aftermath", ID: a.ID, What: a.Because, Own: a.Own, File: a.Pos.File(), Line: a.Pos.Line, Sources: a.Sources}
	w.say("unless there is", selected(a.Unless))
	for _, id := range slices.Sorted(maps.Keys(a.Mark)) {
		w.say("leaves "+id, w.book.Facts[id].Show(a.Mark[id]))
	}
	w.cond("when", "", rules.Clause{When: a.When})
	w.out = append(w.out, w.v)
}

func (w *shower) good(g *rules.Good) {
	w.v = RuleView{Part: "good", ID: g.ID, Name: g.Name, What: "bought by " + g.Unit, Own: g.Own, File: g.Pos.File(), Line: g.Pos.Line, Sources: g.Sources}
	if g.Covers.Hi > 0 {
		w.say("covers", quantity.Span(g.Covers, "m²")+" a "+g.Unit)
	}
	w.say("keeping", g.Keep)
	w.say("throwing away", g.Discard)
	w.out = append(w.out, w.v)
}

// selected puts a selector into words.
func selected(s rules.Selector) string {
	var parts []string
	add := func(what string, ids []string) {
		if len(ids) > 0 {
			parts = append(parts, what+" "+strings.Join(ids, " or "))
		}
	}
	add("at the stage", s.Stages)
	add("giving off", s.GivesOff)
	add("laying a coat of", s.Coats)
	add("the method", s.Methods)
	add("but not", s.But)
	return strings.Join(parts, ", ")
}

// materials are the words for what a method uses up.
func materials(list []rules.Material) []string {
	out := make([]string, len(list))
	for i, m := range list {
		out[i] = m.Text
	}
	return out
}
