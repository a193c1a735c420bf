package screen

import (
	"fmt"
	"strings"

	"mendwright/engine"
)

// Why writes an explanation: every rule of a repair, how it came out, what it rests on and what
// stands behind it.
func Why(p *Page, e *engine.Explanation) {
	r := &e.Repair
	head := fmt.Sprintf("%s for %s on %s: %s", Named(r.Name, r.Own), e.Defect, e.On, stateWords[r.State])
	if !e.Offered {
		head = fmt.Sprintf("%s for %s on %s: NOT OFFERED, the mark is none of the kinds it treats", Named(r.Name, r.Own), e.Defect, e.On)
	} else if r.State != engine.RuledOut {
		head += fmt.Sprintf(", rank %d, risk %s", r.Rank, r.Risk)
	}
	p.Head(head)
	p.Text(0, r.What)

	p.Blank()
	p.Head("What it is for")
	for _, k := range e.Kinds {
		switch {
		case k.Not:
			p.Item(0, "-", 2, Named(k.Name, k.Own)+": it is not this, because "+failing(k.Signs))
		case k.Certain:
			p.Item(0, "-", 2, Named(k.Name, k.Own)+": it is this")
			reasonsList(p, 2, k.Signs, e, "true")
		default:
			p.Item(0, "-", 2, Named(k.Name, k.Own)+": it may be this")
			reasonsList(p, 2, k.Signs, e, "true")
		}
	}
	p.Blank()
	p.Head("What must be so")
	reasonsList(p, 0, e.Suits, e, "true")
	if len(e.Suits) == 0 {
		p.Text(0, "Nothing beyond the signs above.")
	}
	p.Blank()
	p.Head("What must not be so")
	reasonsList(p, 0, e.Never, e, "false")
	if len(e.Never) == 0 {
		p.Text(0, "Nothing forbids it.")
	}
	p.Blank()
	p.Head("What it may do wrong")
	for _, h := range e.Harms {
		p.Item(0, "-", 2, fmt.Sprintf("%s (to the %s): risk %s, from %s and %s; the rule says %s before anything raises or lowers it",
			h.What, h.To, h.Risk, h.Severity, h.Level, h.Stated))
		shifts(p, h.Raised, e)
		shifts(p, h.Lowered, e)
		p.Text(4, "Source: "+fullSources(h.Sources, e.Sources))
	}
	if r.Sanding != nil {
		p.Blank()
		p.Head("Sanding check")
		p.Text(0, Verdict(r.Sanding))
	}
	if len(e.Warnings) > 0 {
		p.Blank()
		p.Head("Warnings")
		for _, w := range e.Warnings {
			p.Item(0, strings.ToUpper(w.Signal), textCol-3, w.Text+" Source: "+fullSources(w.Sources, e.Sources))
		}
	}
	if r.State != engine.RuledOut && e.Offered {
		p.Blank()
		p.Head("Steps")
		for i, s := range e.Steps {
			t := s.Do
			if s.Stop != "" {
				t += " Stop when: " + s.Stop
			}
			p.Item(0, fmt.Sprintf("%d.", i+1), 3, t)
		}
	}
	p.Blank()
	p.Text(0, Deference)
}

// failing says which sign a mark lacks.
func failing(signs []engine.Reason) string {
	for _, s := range signs {
		if s.Outcome == "false" {
			return restsOn(s.RestsOn)
		}
	}
	return "its signs do not fit"
}

// reasonsList writes conditions with how they came out; wanted is the outcome that lets the
// repair pass.
func reasonsList(p *Page, indent int, rs []engine.Reason, e *engine.Explanation, wanted string) {
	for _, r := range rs {
		mark := "FAILS"
		switch r.Outcome {
		case "unknown":
			mark = "open"
		case wanted:
			mark = "ok"
		}
		p.Item(indent, mark, indent+6, r.Because)
		p.Item(indent+6, "rule", indent+14, r.Rule)
		restTree(p, indent+6, r.RestsOn, e)
		if len(r.Missing) > 0 {
			p.Item(indent+6, "waits", indent+14, "for "+strings.Join(r.Missing, ", "))
		}
		p.Item(indent+6, "source", indent+14, fullSources(r.Sources, e.Sources))
	}
}

// shifts writes the conditions that move a harm; they share its source.
func shifts(p *Page, rs []engine.Reason, e *engine.Explanation) {
	for _, r := range rs {
		mark := map[string]string{"true": "yes", "false": "no", "unknown": "open"}[r.Outcome]
		p.Item(4, mark, 10, r.Because)
		p.Item(10, "rule", 18, r.Rule)
		restTree(p, 10, r.RestsOn, e)
		if len(r.Missing) > 0 {
			p.Item(10, "waits", 18, "for "+strings.Join(r.Missing, ", "))
		}
	}
}

func restTree(p *Page, indent int, rests []engine.Rest, e *engine.Explanation) {
	for _, rest := range rests {
		p.Item(indent, "rests on", indent+9, fmt.Sprintf("%s = %s (%s)", rest.Fact, rest.Answer, rest.How))
		if rest.Why != nil {
			p.Text(indent+11, fmt.Sprintf("since %s: %s [%s]", rest.Why.Because, rest.Why.Rule, backing(rest.Why.Sources, e.Sources)))
			restTree(p, indent+11, rest.Why.RestsOn, e)
		}
	}
}
