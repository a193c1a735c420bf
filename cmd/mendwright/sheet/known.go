package sheet

import (
	"slices"
	"strings"

	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
)

// known is what is known of the piece, the shop and the surfaces, as it was understood.
func (m *maker) known() []row {
	out := []row{said("Piece", m.seen("piece", "piece")), said("Shop", m.seen("shop", "shop"))}
	var surfaces []string
	for _, u := range m.File.Understood {
		if strings.HasPrefix(u.Fact, "surface.") && !slices.Contains(surfaces, u.Of) {
			surfaces = append(surfaces, u.Of)
		}
	}
	for _, s := range surfaces {
		out = append(out, said(s, m.seen("surface", s)))
	}
	return rows(out...)
}

// seen lists the answers about one thing; what could not be told comes last.
func (m *maker) seen(subject, of string) string {
	var out, untold []string
	for _, u := range m.File.Understood {
		if u.Of != of || !strings.HasPrefix(u.Fact, subject+".") {
			continue
		}
		name := screen.FactName(u.Fact)
		if u.Answer == "cannot tell" {
			untold = append(untold, name)
			continue
		}
		s := screen.Glue(name + " " + u.Answer)
		if u.Spread {
			s += "\u00a0(±\u00a0taken)"
		}
		out = append(out, s)
	}
	if untold != nil {
		out = append(out, "could not be told: "+strings.Join(untold, ", "))
	}
	if out == nil {
		return ""
	}
	return strings.Join(out, "; ") + "."
}

// question is something to find out first, with room for the answer.
type question struct {
	Label string // the mark and the question
	Tell  string
	For   string
}

// open are the questions that keep marks open, and the answers that contradict each other.
func (m *maker) open() (open []question, conflicts []string) {
	at := map[string]int{}
	for _, p := range m.Plan.Marks {
		for _, id := range p.Missing {
			f := m.Book.Facts[id]
			if f == nil || !f.Asked() {
				continue
			}
			of := p.ID
			switch f.Subject {
			case "surface":
				of = p.On
			case "piece", "shop":
				of = "the " + f.Subject
			}
			key := of + "\x00" + id
			if i, ok := at[key]; ok {
				open[i].For += ", " + p.ID
				continue
			}
			at[key] = len(open)
			open = append(open, question{Label: f.Ask + " (" + of + ")", Tell: f.Tell, For: p.ID})
		}
	}
	for _, c := range m.Triage.Conflicts {
		conflicts = append(conflicts, screen.ConflictLine(&c, m.Triage.Sources))
		m.cite(c.Sources)
	}
	return open, conflicts
}

// glance is the plan in one look.
func (m *maker) glance() []row {
	p := m.Plan
	if len(p.Steps) == 0 {
		return rows(said("Plan", screen.PlanInShort(p)))
	}
	until := "at least " + screen.Duration(p.Time.ElapsedH) + " with the waits"
	if p.Time.Done != "" {
		until = "begun " + screen.Glue(p.Time.Start) + ", done " + screen.Glue(p.Time.Done)
	}
	worth := ""
	if p.Worth != nil && p.Worth.Verdict != "" {
		worth = strings.ToUpper(p.Worth.Verdict)
	}
	var buy, open []string
	for _, b := range p.Buy {
		name, _, _ := strings.Cut(b.Name, ",")
		name, _, _ = strings.Cut(name, " (")
		buy = append(buy, name)
	}
	for _, x := range p.Marks {
		if x.State == engine.OpenMark || x.State == engine.Refusal {
			open = append(open, x.ID)
		}
	}
	return rows(
		said("Work", screen.Duration(p.Time.MeanH)+" hands-on ("+screen.Duration(p.Time.LowH)+" to "+screen.Duration(p.Time.HighH)+")"),
		said("From start to end", until),
		said("Highest risk", m.highest()),
		said("Worth it?", worth),
		said("Still open", strings.Join(open, ", ")),
		said("Buy", strings.Join(buy, ", ")),
	)
}

// highest is the highest risk in the plan, and of which steps.
func (m *maker) highest() string {
	for _, risk := range []string{"high", "serious", "medium", "low"} {
		var at []string
		for i, s := range m.Plan.Steps {
			if s.Risk == risk {
				at = append(at, stepNumber(i))
			}
		}
		if at != nil {
			return risk + ", step " + strings.Join(at, ", ")
		}
	}
	return ""
}

// sources lists what everything rests on, by kind of source.
func (m *maker) sources() []row {
	by := map[string][]string{}
	for _, c := range m.cited {
		s := c.Title
		if c.Where != "" {
			s += ", " + c.Where
		}
		by[c.Kind] = append(by[c.Kind], s)
	}
	var out []row
	for _, kind := range screen.Kinds() {
		list := by[kind]
		slices.Sort(list)
		if list != nil {
			out = append(out, said(screen.Kind(kind), list...))
		}
	}
	return out
}
