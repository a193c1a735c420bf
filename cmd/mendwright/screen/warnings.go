package screen

import (
	"fmt"
	"slices"
	"strings"

	"mendwright/engine"
)

// warnings writes the warnings of the repairs that one would do now in full, and those of the
// rest by their first sentence.
func warnings(p *Page, a *engine.Answer) {
	if len(a.Warnings) == 0 {
		return
	}
	full, later := weighed(a)
	warningList(p, full, a.Sources)
	if len(later) == 0 {
		return
	}
	p.Blank()
	p.Head("Warnings that answers still missing would bring or lift")
	for _, w := range later {
		p.Item(0, strings.ToUpper(w.Signal), textCol-3, fmt.Sprintf("%s [for %s]", Named(firstSentence(w.Text), w.Own), strings.Join(orMark(w), ", ")))
	}
}

// weighed parts the warnings of the repairs that one would do now, and of the marks, from those that
// answers still missing would bring or lift.
func weighed(a *engine.Answer) (full, later []engine.WarningView) {
	now := map[string]bool{}
	for i := range a.Defects {
		for j, r := range a.Defects[i].Repairs {
			if r.State == engine.Ready || j == 0 || r.ShopOnly {
				now[r.Method] = true
			}
		}
	}
	for _, w := range a.Warnings {
		open := len(w.Methods) > 0 && !slices.ContainsFunc(w.Methods, func(m string) bool { return now[m] })
		if open || len(w.Methods) == 0 && !w.Certain {
			later = append(later, w)
		} else {
			full = append(full, w)
		}
	}
	return full, later
}

// warningList writes warnings in full.
func warningList(p *Page, list []engine.WarningView, cited map[string]engine.Cited) {
	if len(list) == 0 {
		return
	}
	p.Blank()
	p.Head("Warnings")
	for _, w := range list {
		p.Item(0, strings.ToUpper(w.Signal), textCol-3, warningText(&w, cited))
	}
}

// warningText is a warning in full: what to wear, what to do if it goes wrong, and what it is for.
func warningText(w *engine.WarningView, cited map[string]engine.Cited) string {
	s := Named(w.Text, w.Own)
	if len(w.Wear) > 0 {
		s += " Wear: " + strings.Join(w.Wear, ", ") + "."
	}
	s += " If it goes wrong: " + w.IfWrong
	if !w.Certain && len(w.Missing) > 0 {
		s += " (Stands until " + known(w.Missing) + ".)"
	}
	s += " [" + backing(w.Sources, cited) + "; for " + strings.Join(orMark(*w), ", ") + "]"
	return s
}

// known names facts that must become known.
func known(facts []string) string {
	if len(facts) == 1 {
		return facts[0] + " is known"
	}
	return strings.Join(facts[:len(facts)-1], ", ") + " and " + facts[len(facts)-1] + " are known"
}

func firstSentence(s string) string {
	first, _, _ := strings.Cut(s, ". ")
	return strings.TrimSuffix(first, ".") + "."
}

// orMark names the methods a warning is for, or the marks if it holds whatever is done.
func orMark(w engine.WarningView) []string {
	if len(w.Methods) > 0 {
		return w.Methods
	}
	return w.Defects
}
