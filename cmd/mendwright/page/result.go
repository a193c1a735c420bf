package page

import (
	"net/http"
	"net/url"
	"strings"

	"mendwright/cmd/mendwright/check"
	"mendwright/cmd/mendwright/drawing"
	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/cmd/mendwright/sitting"
	"mendwright/engine"
)

// result shows what the triage says of a mark: the best repair first, its dangers before anything else.
func (s *Server) result(r *request) error {
	_, file, mark, err := r.readMark()
	if err != nil {
		return err
	}
	book, tables := s.Knowledge.Book, s.Knowledge.Tables
	one := sitting.OneMark(file.Job, mark.ID)
	a, err := engine.Triage(book, tables, one)
	if err == nil {
		err = engine.AddRemedies(book, tables, one, a)
	}
	if err == nil {
		err = engine.AddQuestions(book, tables, one, a)
	}
	if err != nil {
		return err
	}
	d := sitting.Of(a, mark.ID)
	m := screen.MarkOf(a, d, file.Notes[mark.ID])
	full, later := screen.Warnings(a)
	open := screen.Lines(func(p *screen.Page) { screen.StillOpen(p, book, one, a) })
	data := map[string]any{"M": m, "Full": full, "Later": later, "Open": open, "More": len(m.Next) > 0 || len(a.Conflicts) > 0,
		"Conflict": len(a.Conflicts) > 0, "HasSheet": s.Sheet != nil, "Photos": photosOf(file, mark.ID)}
	if d.Sanding != nil {
		data["Layers"] = drawing.FromSanding(d.Sanding).Draw("cut")
		data["SandLink"] = "/sand?" + s.sandQuery(file, mark).Encode()
	}
	if best := m.Best; len(best) > 0 && len(best[0].Dangers) > 0 {
		worst := best[0].Dangers[0]
		data["Matrix"] = drawing.Matrix("risk", worst.Severity, worst.Level)
	}
	return r.show(http.StatusOK, "result", r.about(file, mark.ID, data))
}

// sandQuery asks the sanding check what the job says of a mark and its surface, each as it was typed.
func (s *Server) sandQuery(file *jobfile.File, mark *engine.Mark) url.Values {
	q := url.Values{}
	for _, f := range check.SandFields {
		fact := s.Knowledge.Book.Facts[f.Fact]
		if typed, _ := sitting.Stands(file, fact, sitting.Thing(f.Fact, mark.ID, mark.On)); len(typed) == 1 {
			q.Set(f.Field, typed[0])
		}
	}
	if on := file.Job.Surfaces[mark.On]; on != nil {
		if len(on.Programme.Grits) > 0 {
			q.Set("grits", strings.Join(on.Programme.Grits, ","))
		}
		if on.Programme.Tool != "" {
			q.Set("tool", on.Programme.Tool)
		}
	}
	return q
}

// why shows one repair of a mark: its dangers, then its steps, and every rule behind it.
func (s *Server) why(r *request) error {
	_, file, mark, err := r.readMark()
	if err != nil {
		return err
	}
	method := r.name("method")
	if s.Knowledge.Book.Method(method) == nil {
		return errNoPage
	}
	e, err := engine.Explain(s.Knowledge.Book, s.Knowledge.Tables, file.Job, mark.ID, method)
	if err != nil {
		return err
	}
	rules := screen.Lines(func(p *screen.Page) { screen.Why(p, e) })
	return r.show(http.StatusOK, "why", r.about(file, mark.ID, map[string]any{"Title": e.Repair.Name + " for " + mark.ID,
		"Method": method, "R": screen.RepairOf(e), "What": e.Repair.What, "Warnings": screen.InFull(e.Warnings, e.Sources), "Steps": steps(e), "Rules": rules[1:], "Pick": e.Offered && e.Repair.State != engine.RuledOut}))
}

// steps are those of a repair that may be done, or could be.
func steps(e *engine.Explanation) []engine.WorkStep {
	if e.Repair.State == engine.RuledOut || !e.Offered {
		return nil
	}
	return e.Steps
}
