package page

import (
	"net/http"
	"slices"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
)

// plan shows one order of work for the whole piece, what is dangerous in it before its steps.
func (s *Server) plan(r *request) error {
	_, file, err := r.read()
	if err != nil {
		return err
	}
	o, err := engine.PlanOf(s.Knowledge.Book, s.Knowledge.Tables, file.Job)
	if err != nil {
		return err
	}
	lines := screen.Lines(func(p *screen.Page) { screen.Plan(p, o) })
	return r.show(http.StatusOK, "plan", r.about(file, "", map[string]any{"Title": "Plan, " + r.name("job"), "HasSheet": s.Sheet != nil,
		"Lines": dangersFirst(lines[1 : len(lines)-1])})) // the page has a heading and an end of its own
}

// dangersFirst moves the warnings, which stand last, before the first of the other parts.
func dangersFirst(lines []screen.Line) []screen.Line {
	first := slices.IndexFunc(lines, func(l screen.Line) bool { return l.Head })
	warnings := slices.IndexFunc(lines, func(l screen.Line) bool { return l.Head && l.Text == "Warnings" })
	if first < 0 || warnings <= first {
		return lines
	}
	return slices.Concat(lines[:first], lines[warnings:], lines[first:warnings])
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
