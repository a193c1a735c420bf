package screen

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"mendwright/engine"
)

// RuleList writes what a rulebook holds: counts, or one part of it.
func RuleList(p *Page, l *engine.Catalogue, part string) {
	if part == "" {
		p.Head("The rulebook holds")
		for _, name := range engine.Parts {
			p.Item(2, fmt.Sprintf("%4d", l.Counts[name]), 8, name)
		}
		p.Blank()
		p.Text(0, "One of them: mendwright rules list "+engine.Parts[0]+". One rule: mendwright rules show ID.")
		return
	}
	p.Head(fmt.Sprintf("%d %s", l.Counts[part], part))
	for _, e := range l.Entries {
		name := e.Name
		if part == "sources" {
			name = kindWords[name]
		}
		text := firstSentence(e.Line)
		if name != "" {
			text = name + ": " + text
		}
		p.Item(2, e.ID, nameCol+2, Named(text, e.Own))
	}
}

// partHeads say what the conditions of a rule are for, by part.
var partHeads = map[string]string{
	"sign": "It is this if", "suits": "It must be so that", "never": "Never if", "branch": "In this order",
	"when": "It warns unless it is known not to be so that", "applies": "Asked if",
}

// ShowRule writes out whatever has an id.
func ShowRule(p *Page, v *engine.Shown) {
	for i := range v.Rules {
		if i > 0 {
			p.Blank()
		}
		rule(p, &v.Rules[i], v.Sources)
	}
}

func rule(p *Page, r *engine.RuleView, cited map[string]engine.Cited) {
	head := r.ID
	if r.Name != "" {
		head = r.Name + " (" + r.ID + ")"
	}
	p.Head(Named(capital(r.Part)+": "+head, r.Own))
	p.Text(0, r.What)
	part := ""
	for _, c := range r.Conditions {
		if c.Part != part {
			part = c.Part
			p.Blank()
			if head := partHeads[part]; head != "" {
				p.Head(head)
			} else {
				p.Head(strings.ReplaceAll(capital(part), "-", " "))
			}
		}
		text := c.Words
		switch {
		case c.Words == "":
			text = c.Then
		case c.Then != "":
			text = c.Then + " if " + text
		}
		p.Item(0, "-", 2, closed(text, c.Because, c.Sources, cited))
	}
	if len(r.Says) > 0 {
		p.Blank()
		p.Head("Besides")
	}
	for _, s := range r.Says {
		p.Item(0, "-", 2, capital(strings.ReplaceAll(s.About, "-", " "))+": "+closed(s.Text, "", s.Sources, cited))
	}
	for i, s := range r.Steps {
		if i == 0 {
			p.Blank()
			p.Head("Steps")
		}
		text := s.Do
		if s.Stop != "" {
			text += " Stop: " + s.Stop
		}
		p.Item(0, fmt.Sprintf("%d", i+1), 3, text)
	}
	cases(p, r)
	for i, id := range r.Sources {
		if i == 0 {
			p.Blank()
			p.Head("Rests on")
		}
		p.Item(0, "-", 2, fullSources([]string{id}, cited))
	}
	if r.File != "" {
		p.Blank()
		p.Text(0, fmt.Sprintf("Written in %s, line %d.", r.File, r.Line))
	}
}

func cases(p *Page, r *engine.RuleView) {
	for i, k := range r.Cases {
		if i == 0 {
			p.Blank()
			p.Head("Cases that hold it")
		}
		text := k.That + ": " + strings.ReplaceAll(k.Then, "_", " ")
		var given []string
		for _, id := range slices.Sorted(maps.Keys(k.Given)) {
			given = append(given, id+" "+Glue(k.Given[id]))
		}
		if k.With != "" {
			given = append([]string{"with " + k.With}, given...)
		}
		if len(given) > 0 {
			text += " (" + strings.Join(given, ", ") + ")"
		}
		for _, id := range slices.Sorted(maps.Keys(k.Harms)) {
			text += "; " + id + " " + k.Harms[id]
		}
		p.Item(0, "-", 2, text)
	}
}

// closed writes a statement with its reason and what kinds of source stand behind it.
func closed(text, because string, sources []string, cited map[string]engine.Cited) string {
	if because != "" {
		text += ": " + because
	}
	if len(sources) > 0 {
		text += " [" + backing(sources, cited) + "]"
	}
	return text
}
