package screen

import (
	"fmt"
	"slices"
	"strings"

	"mendwright/engine"
)

// Settled says what an answer settled about a mark, the weightiest first; nothing if nothing that
// one sees. The warnings are those that name the mark, before and now.
func Settled(was, is *engine.DefectAnswer, warned, warns []engine.WarningView) []string {
	var out []string
	add := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if what := kindsLeft(is); what != kindsLeft(was) {
		add("%s", capital(what))
	}
	if came := fresh(warned, warns); len(came) > 0 {
		add("%s: %s", strings.ToUpper(came[0].Signal), strings.TrimSuffix(firstSentence(came[0].Text), "."))
	}
	before, now := top(was), top(is)
	if before != nil && now != nil && before.Method == now.Method && before.Risk != now.Risk {
		add("the risk of %s is now %s", before.Name, now.Risk)
	}
	if n := len(turned(was, is, engine.RuledOut)); n > 0 {
		add("rules out %s", count(n, "more repair"))
	}
	if went := fresh(warns, warned); len(went) == 1 {
		add("a warning falls away")
	} else if len(went) > 1 {
		add("%d warnings fall away", len(went))
	}
	if len(out) > 0 {
		out[0] = capital(out[0])
	}
	return out
}

// Changed says all that the change of an answer changed: kinds, repairs, risks and warnings of
// every mark. idle are the answers that matter no more.
func Changed(p *Page, before, now *engine.Answer, idle []string) {
	said := false
	say := func(mark, text string) {
		p.Item(2, "-", 4, mark+": "+text)
		said = true
	}
	for i := range now.Defects {
		is := &now.Defects[i]
		j := slices.IndexFunc(before.Defects, func(d engine.DefectAnswer) bool { return d.ID == is.ID })
		if j < 0 {
			continue
		}
		was := &before.Defects[j]
		if kindNames(was) != kindNames(is) {
			say(is.ID, "it was: "+kindNames(was)+". Now: "+kindNames(is))
		}
		for _, s := range []struct {
			state engine.State
			text  string
		}{{engine.Ready, "ready now"}, {engine.RuledOut, "ruled out now"}, {engine.NeedsAnswer, "needs an answer now"}} {
			if names := turned(was, is, s.state); len(names) > 0 {
				say(is.ID, s.text+": "+andMore(names, 4))
			}
		}
		var risks []string
		for _, r := range is.Repairs {
			for _, o := range was.Repairs {
				if o.Method == r.Method && o.Risk != r.Risk && o.Risk != "" && r.Risk != "" {
					risks = append(risks, fmt.Sprintf("%s from %s to %s", r.Name, o.Risk, r.Risk))
				}
			}
		}
		if len(risks) > 0 {
			say(is.ID, "risk of "+andMore(risks, 3))
		}
	}
	// Warnings are in order, the gravest first.
	came, went := fresh(before.Warnings, now.Warnings), fresh(now.Warnings, before.Warnings)
	gravestOf(p, "comes", came, 4)
	gravestOf(p, "goes", went, 2)
	if len(idle) > 0 {
		p.Item(2, "-", 4, "no longer matters: "+strings.Join(idle, "; "))
	}
	if !said && len(came)+len(went)+len(idle) == 0 {
		p.Text(2, "Changed; nothing else changes with it.")
	}
}

// gravestOf writes the first of the warnings that come or go, the gravest, and counts the rest.
func gravestOf(p *Page, verb string, list []engine.WarningView, most int) {
	for i, w := range list {
		if left := len(list) - i; i == most && left > 1 {
			p.Item(2, "-", 4, fmt.Sprintf("%s: %d more; the triage at the end has all that stand", verb, left))
			return
		}
		p.Item(2, "-", 4, verb+": "+strings.ToUpper(w.Signal)+": "+firstSentence(w.Text))
	}
}

// WarningsOf are the warnings that a mark, or a repair of it, brings.
func WarningsOf(a *engine.Answer, mark string) []engine.WarningView {
	var out []engine.WarningView
	for _, w := range a.Warnings {
		if slices.Contains(w.Defects, mark) {
			out = append(out, w)
		}
	}
	return out
}

// fresh are the warnings of now that were not there before.
func fresh(before, now []engine.WarningView) []engine.WarningView {
	var out []engine.WarningView
	for _, w := range now {
		if !slices.ContainsFunc(before, func(o engine.WarningView) bool { return o.Warning == w.Warning }) {
			out = append(out, w)
		}
	}
	return out
}

// turned names the repairs of a mark that came into a state. A repair for what the mark cannot be
// any more is none of them.
func turned(was, is *engine.DefectAnswer, state engine.State) []string {
	var out []string
	for _, r := range is.Repairs {
		there := slices.ContainsFunc(was.Repairs, func(o engine.Repair) bool { return o.Method == r.Method && o.State == state })
		if r.State == state && !there {
			out = append(out, r.Name)
		}
	}
	return out
}

// top is the best repair that is not ruled out, nil if there is none.
func top(d *engine.DefectAnswer) *engine.Repair {
	if len(d.Repairs) == 0 || d.Repairs[0].State == engine.RuledOut {
		return nil
	}
	return &d.Repairs[0]
}

// kindsLeft says what a mark is, as far as it is settled.
func kindsLeft(d *engine.DefectAnswer) string {
	var sure []string
	for _, k := range d.Kinds {
		if k.Certain {
			sure = append(sure, k.Name)
		}
	}
	switch {
	case len(sure) > 0:
		return "it is: " + strings.Join(sure, ", ")
	case len(d.Kinds) == 0:
		return "it fits no kind of mark that is known; look again, or take the answer back"
	case len(d.Kinds) <= 3:
		return "it may be: " + kindNamesOf(d.Kinds)
	}
	return fmt.Sprintf("%d kinds of mark are left", len(d.Kinds))
}

func kindNamesOf(kinds []engine.KindView) string {
	var names []string
	for _, k := range kinds {
		names = append(names, k.Name)
	}
	return strings.Join(names, ", ")
}

// andMore lists the first of many and counts the rest.
func andMore(names []string, n int) string {
	if len(names) <= n+1 {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:n], ", "), len(names)-n)
}
