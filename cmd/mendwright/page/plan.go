package page

import (
	"fmt"
	"net/http"
	"slices"
	"strings"
	"time"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/cmd/mendwright/sitting"
	"mendwright/engine"
)

// plan shows one order of work for the whole piece, what is dangerous in it before its steps.
func (s *Server) plan(r *request) error { return s.planWith(r, http.StatusOK, "") }

// planWith shows the plan with what is wrong with a note that was given for it; "" if nothing is.
func (s *Server) planWith(r *request, code int, wrong string) error {
	_, file, err := r.read()
	if err != nil {
		return err
	}
	o, err := engine.PlanOf(s.Knowledge.Book, s.Knowledge.Tables, file.Job)
	if err != nil {
		return err
	}
	lines := screen.Lines(func(p *screen.Page) { screen.Plan(p, o) })
	short, warnings, rest := dangersFirst(lines[1 : len(lines)-1]) // the page has a heading and an end of its own
	var steps []step
	for i := range o.Steps {
		id := o.Steps[i].ID
		steps = append(steps, step{id, fmt.Sprintf("%d %s", i+1, screen.StepHead(&o.Steps[i], o)), id == r.FormValue("step")})
	}
	return r.show(code, "plan", r.about(file, "", map[string]any{"Title": "Plan, " + r.name("job"), "HasSheet": s.Sheet != nil,
		"Short": short, "Warnings": warnings, "Lines": rest, "Steps": steps, "Found": r.FormValue("found"), "CameOut": r.FormValue("came-out"), "Wrong": wrong}))
}

// step is a step of the plan to choose.
type step struct {
	ID, Text string
	Chosen   bool
}

// dangersFirst takes the warnings, which stand last, out to stand before all but what the plan comes to.
func dangersFirst(lines []screen.Line) (short, warnings, rest []screen.Line) {
	first := slices.IndexFunc(lines, func(l screen.Line) bool { return l.Head })
	at := slices.IndexFunc(lines, func(l screen.Line) bool { return l.Head && l.Text == "Warnings" })
	switch {
	case first < 0:
		return lines, nil, nil
	case at < first:
		return lines[:first], nil, lines[first:]
	}
	return lines[:first], lines[at+1:], lines[first:at]
}

// done notes that a step of the plan was done.
func (s *Server) done(r *request) error {
	var wrong error
	_, err := s.jobs.change(r.name("job"), func(d *jobfile.Doc) error {
		file, err := d.Read()
		if err != nil {
			return err
		}
		o, err := engine.PlanOf(s.Knowledge.Book, s.Knowledge.Tables, file.Job)
		if err != nil {
			return err
		}
		var at *engine.PlanStep
		if at, wrong = sitting.StepOf(o, r.PostFormValue("step")); wrong == nil {
			said := sitting.Done{CameOut: r.PostFormValue("came-out"), On: time.Now().Format(time.DateOnly)}
			if found := strings.TrimSpace(r.PostFormValue("found")); found != "" {
				said.Found = []string{found}
			}
			if at.Kind != "repair" {
				said.CameOut = ""
			}
			wrong = sitting.Note(d, at, said)
		}
		return wrong
	})
	if wrong != nil {
		return s.planWith(r, http.StatusUnprocessableEntity, wrong.Error())
	}
	if err != nil {
		return err
	}
	return r.see(pathOf("jobs", r.name("job"), "plan"))
}

// pick plans a mark with a repair that a person prefers.
func (s *Server) pick(r *request) error {
	if s.Knowledge.Book.Method(r.name("method")) == nil {
		return errNoPage
	}
	_, err := s.jobs.change(r.name("job"), func(d *jobfile.Doc) error {
		if !d.Has(r.name("mark")) {
			return errNoMark
		}
		return d.Pick(r.name("mark"), r.name("method"))
	})
	if err != nil {
		return err
	}
	return r.see(pathOf("jobs", r.name("job"), "plan"))
}
