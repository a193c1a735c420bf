package sheet

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
	"mendwright/rules"
)

// mark is a mark and what is done about it.
type mark struct {
	Head   string
	State  string
	Rows   []row
	Photos []picture
}

// What a sheet says of one mark at most: reasons, what is forbidden, and with that what is of no use.
const (
	mostWhy   = 2
	mostNever = 4
	mostNot   = 3
)

func (m *maker) mark(p *engine.PlannedMark) mark {
	head := p.ID
	if p.On != "" && !p.Arises {
		head += " on " + p.On
	}
	if len(p.Is) > 0 {
		head += ": " + strings.Join(p.Is, ", or ")
	}
	if p.State == engine.Finished {
		return mark{Head: head, State: "done", Rows: rows(said("Repair", screen.Sentence(p.Name))), Photos: pictures(m.Photos.Marks[p.ID], "the mark "+p.ID)}
	}
	because := screen.Sentence(p.Because)
	if p.State == engine.Refusal {
		because = "" // the reasons say it
	}
	out := mark{Head: head, State: screen.MarkState(p), Photos: pictures(m.Photos.Marks[p.ID], "the mark "+p.ID)}
	what, leave := m.kind(p.ID)
	not, never := m.avoid(p)
	var against, why []string
	for i := range p.Reasons {
		line := screen.ReasonLine(&p.Reasons[i], m.Plan.Sources)
		if p.State == engine.Refusal {
			against = append(against, line)
		} else if p.Name != "" && len(why) < mostWhy {
			why = append(why, line)
		}
	}
	out.Rows = rows(
		said("Note", m.File.Notes[p.ID]),
		said("Seen", m.seen("defect", p.ID)),
		said("It is", what),
		said("If left", leave),
		m.repair(p),
		said("But", because),
		said("Against", against...),
		said("Why", why...),
		led("Risk", m.risk(p)...),
		led("Do not", never...),
		led("No use", not...),
		said("Next try", nextTry(p)),
	)
	return out
}

// repair is what is done to a mark, with the steps at which.
func (m *maker) repair(p *engine.PlannedMark) row {
	if p.Name == "" {
		return row{}
	}
	s := p.Name
	for i := range m.Plan.Steps {
		if st := &m.Plan.Steps[i]; st.Rule == p.Method && slices.Contains(st.Marks, p.ID) {
			s += fmt.Sprintf(" (step\u00a0%d)", i+1)
		}
	}
	return row{"Repair", []text{{s + ".", p.What}}}
}

// kind is what a mark is, and what happens if nothing is done about it.
func (m *maker) kind(id string) (what, leave string) {
	d := m.triaged(id)
	if d == nil {
		return "", ""
	}
	if len(d.Kinds) > 0 && d.Kinds[0].Certain {
		what = screen.Sentence(d.Kinds[0].What)
	}
	if len(d.Leave) > 0 {
		leave = screen.LeaveLine(&d.Leave[0], m.Triage.Sources)
		m.cite(d.Leave[0].Sources)
	}
	return what, leave
}

// cite adds to the sources of the sheet what the triage rests on.
func (m *maker) cite(ids []string) {
	for _, id := range ids {
		if c, ok := m.Triage.Sources[id]; ok {
			m.cited[id] = c
		}
	}
}

func (m *maker) triaged(id string) *engine.DefectAnswer {
	for i := range m.Triage.Defects {
		if d := &m.Triage.Defects[i]; d.ID == id {
			return d
		}
	}
	return nil
}

// risk is the gravest harm of a repair; the rest stands at its step.
func (m *maker) risk(p *engine.PlannedMark) []string {
	if len(p.Harms) == 0 {
		return nil
	}
	return []string{screen.HarmLine(&p.Harms[0])}
}

// avoid is what not to do: what is of no use, and what is forbidden.
func (m *maker) avoid(p *engine.PlannedMark) (not, never []string) {
	for _, a := range p.Avoid {
		if method := m.Book.Method(a.Method); a.Why.Outcome != "true" && method != nil && method.Achieves == rules.Holds {
			continue // that nobody need be asked is nothing to hang on a wall
		}
		line := a.Name + ": " + lower(screen.ReasonLine(&a.Why, m.Plan.Sources))
		if a.Why.Outcome == "true" {
			never = append(never, line)
		} else {
			not = append(not, line)
		}
	}
	return not[:min(len(not), max(mostNot-len(never), 1))], never[:min(len(never), mostNever)]
}

// lower begins a sentence small, to stand after a colon, unless its first word is all capitals.
func lower(s string) string {
	if len(s) > 1 && s[1] >= 'A' && s[1] <= 'Z' {
		return s
	}
	return strings.ToLower(s[:min(1, len(s))]) + s[min(1, len(s)):]
}

// nextTry is what comes next if the repair is not enough.
func nextTry(p *engine.PlannedMark) string {
	var names []string
	for i, r := range p.IfNot {
		if i > 0 {
			r.Name = lower(r.Name)
		}
		names = append(names, r.Name)
	}
	if names == nil {
		return ""
	}
	return screen.Sentence(strings.Join(names, ", then "))
}

// refused says what of the plan is refused; nil if nothing is.
func (m *maker) refused() []string {
	var out []string
	for i := range m.Plan.Marks {
		if p := &m.Plan.Marks[i]; p.State == engine.Refusal {
			out = append(out, p.ID+": "+screen.Sentence(p.Because))
		}
	}
	for i := range m.Plan.Surfaces {
		if s := &m.Plan.Surfaces[i]; s.Refused {
			out = append(out, m.cuts(s))
		}
	}
	if m.Plan.Refused && out == nil {
		out = []string{"The plan is refused."}
	}
	return out
}

// matrix is the risk matrix with the marks in it.
type matrix struct {
	Severities []string
	Rows       []risks
}

type risks struct {
	Level string
	Cells []cell
}

// cell is a place of the matrix; Marks are those whose repair stands there with its gravest harm.
type cell struct {
	Risk  string
	Marks []string
}

// matrixSource is what the risk matrix stands in.
const matrixSource = "mil-std-882e"

// risks puts the gravest harm of each repair into the matrix; nil if nothing is planned.
func (m *maker) risks() *matrix {
	at := map[[2]string][]string{}
	for _, p := range m.Plan.Marks {
		if p.Name == "" || len(p.Harms) == 0 || p.Harms[0].Risk == rules.None.String() {
			continue
		}
		h := p.Harms[0]
		at[[2]string{h.Severity, h.Level}] = append(at[[2]string{h.Severity, h.Level}], p.ID)
	}
	if len(at) == 0 {
		return nil
	}
	out := &matrix{Severities: rules.Severities}
	maps.Copy(m.cited, engine.CitedBy(m.Book, []string{matrixSource}))
	for j, level := range rules.Levels[:rules.Eliminated] {
		r := risks{Level: level}
		for i, severity := range rules.Severities {
			r.Cells = append(r.Cells, cell{rules.RiskOf(i, j).String(), at[[2]string{severity, level}]})
		}
		out.Rows = append(out.Rows, r)
	}
	return out
}
