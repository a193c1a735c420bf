package sheet

import (
	"fmt"
	"html/template"
	"slices"
	"time"

	"mendwright/cmd/mendwright/drawing"
	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
	"mendwright/rules/interval"
)

// figure is a drawing with words beside it.
type figure struct {
	Head  string
	SVG   template.HTML
	Texts []string
}

// sections are the surfaces that are cut, drawn in section, and those whose cut is refused.
func (m *maker) sections() []figure {
	var out []figure
	cut := map[string]bool{}
	for i := range m.Plan.Surfaces {
		s := &m.Plan.Surfaces[i]
		cut[s.Surface] = true
		d := m.layers(s).Draw(fmt.Sprintf("layers-%d", len(out)+1))
		out = append(out, figure{"The layers of " + s.Surface, d.SVG, []string{m.cuts(s), d.Text}})
	}
	for i := range m.Plan.Marks {
		p := &m.Plan.Marks[i]
		d := m.triaged(p.ID)
		if d == nil || cut[p.On] || d.Sanding == nil || d.Sanding.Verdict != "through" || d.Sanding.TakeMM == nil {
			continue
		}
		cut[p.On] = true
		l := drawing.FromSanding(d.Sanding)
		l.Name, l.Kind = p.On, m.kindOf(p.On)
		draw := l.Draw(fmt.Sprintf("layers-%d", len(out)+1))
		out = append(out, figure{"Why " + p.On + " is not sanded for " + p.ID, draw.SVG, []string{screen.Verdict(d.Sanding), draw.Text}})
	}
	return out
}

// cuts says what all cuts into a surface take and leave, with the steps by their numbers.
func (m *maker) cuts(s *engine.SurfacePlan) string {
	numbered := *s
	numbered.Cuts = slices.Clone(s.Cuts)
	for i, c := range s.Cuts {
		numbered.Cuts[i].Step = fmt.Sprintf("step\u00a0%d takes", m.number[c.Step])
	}
	return screen.CutsLine(&numbered)
}

// kindOf is what a surface is made of, as far as it was answered.
func (m *maker) kindOf(surface string) string {
	if s := m.File.Job.Surfaces[surface]; s != nil {
		if v, ok := s.Answers["surface.layer"]; ok {
			return v.Choice()
		}
	}
	return ""
}

// layers is a surface with all that is cut from it at the worst place.
func (m *maker) layers(s *engine.SurfacePlan) drawing.Layers {
	l := drawing.Layers{Layer: s.BeforeMM, Film: s.FilmMM, Keep: s.KeepMM}
	// One cut is known as its check left it: with its mark and the tips of screws.
	for i := range m.Plan.Marks {
		if p := &m.Plan.Marks[i]; len(s.Cuts) == 1 && p.On == s.Surface && p.Sanding != nil && len(s.Cuts[0].Marks) == 1 && s.Cuts[0].Marks[0] == p.ID {
			l = drawing.FromSanding(p.Sanding)
		}
	}
	l.Name, l.Kind = s.Surface, s.Layer
	if l.Kind == "" {
		l.Kind = m.kindOf(s.Surface)
	}
	if len(s.Cuts) > 0 {
		take := worst(s.Cuts)
		l.Take = &take
	}
	return l
}

// worst is what cuts take at the worst place: all that go across, and the deepest of the rest.
func worst(cuts []engine.PlanCut) interval.Range {
	var across, deepest interval.Range
	for _, c := range cuts {
		switch {
		case c.Across:
			across = across.Add(c.TakeMM)
		case c.TakeMM.Hi > deepest.Hi:
			deepest = c.TakeMM
		}
	}
	return across.Add(deepest)
}

// timeline is the plan as bars of time: on the calendar where it has one, else in hours from its start.
func (m *maker) timeline() []figure {
	p := m.Plan
	t := drawing.Timeline{Title: "Work and waits, step by step"}
	start, dated := midnight(p)
	for i := range p.Steps {
		s := &p.Steps[i]
		r := drawing.Row{Label: stepNumber(i) + " " + s.Name, Critical: s.Critical && len(p.Steps) > 1}
		if w := screen.StepWhere(s); w != "" {
			r.Label += ", " + w
		}
		if dated {
			r.Bars = m.dated(s, start)
		} else {
			worked := s.EarlyH + s.Minutes[1]/60
			r.Bars = []drawing.Bar{{From: s.EarlyH, To: worked}}
			if s.WaitH > 0 {
				r.Bars = append(r.Bars, drawing.Bar{From: worked, To: worked + s.WaitH, Wait: true})
			}
		}
		t.Rows = append(t.Rows, r)
	}
	if dated {
		t.Ticks = days(t.Rows, start)
	}
	var out []figure
	for i, d := range t.Draw("time") {
		f := figure{Head: d.Title, SVG: d.SVG}
		if i == 0 {
			f.Texts = timeWords(dated)
		}
		out = append(out, f)
	}
	return out
}

// midnight is the beginning of the day on which the plan begins; false if it has no dates.
func midnight(p *engine.Plan) (time.Time, bool) {
	t, err := engine.Moment(p.Time.Start, time.UTC)
	if err != nil {
		return t, false
	}
	return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, t.Location()), true
}

// dated are the bars of a step by the calendar. Moments that the engine wrote are read without an error.
func (m *maker) dated(s *engine.PlanStep, start time.Time) []drawing.Bar {
	var out []drawing.Bar
	hour := func(text string) float64 {
		t, _ := engine.Moment(text, time.UTC)
		return t.Sub(start).Hours()
	}
	for _, w := range s.Work {
		out = append(out, drawing.Bar{From: hour(w.From), To: hour(w.To)})
	}
	if n := len(out); n > 0 && s.WaitH > 0 {
		out = append(out, drawing.Bar{From: out[n-1].To, To: hour(s.Ready), Wait: true})
	}
	return out
}

// mostDays is about how many days are named on a timeline.
const mostDays = 6

// days name the days of a timeline, all or every so many.
func days(rows []drawing.Row, start time.Time) []drawing.Tick {
	end := 0.0
	for _, r := range rows {
		for _, b := range r.Bars {
			end = max(end, b.To)
		}
	}
	n := int(end/24) + 1
	every := 1
	for _, e := range []int{2, 7, 14, 28, 56, 112} {
		if n/every > mostDays {
			every = e
		}
	}
	var out []drawing.Tick
	for d := 0; d < n; d += every {
		out = append(out, drawing.Tick{At: float64(d) * 24, Label: start.AddDate(0, 0, d).Format("Mon 2 Jan")})
	}
	return out
}

// timeWords say how to read the timeline.
func timeWords(dated bool) []string {
	what := "Each row is a step, from the start of the work, with hands enough to do side by side what can be done so."
	if dated {
		what = "Each row is a step, in your own hours of work."
	}
	return []string{what + " Black is work, hatched is waiting; the hours stand at the steps."}
}
