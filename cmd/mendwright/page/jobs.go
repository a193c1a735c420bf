package page

import (
	"maps"
	"net/http"
	"slices"
	"strings"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/cmd/mendwright/sitting"
	"mendwright/engine"
)

// home lists the jobs of the folder and begins new ones.
func (s *Server) home(r *request) error { return s.homeWith(r, http.StatusOK, "", "") }

func (s *Server) homeWith(r *request, code int, typed, wrong string) error {
	jobs, others, err := s.jobs.list()
	if err != nil {
		return err
	}
	return r.show(code, "home", map[string]any{"Title": "Jobs", "Jobs": jobs, "Others": others, "Typed": typed, "Wrong": wrong})
}

// begin begins a job and goes on to its first mark.
func (s *Server) begin(r *request) error {
	name := r.PostFormValue("name")
	id, err := s.jobs.begin(name)
	if err != nil {
		return s.homeWith(r, http.StatusUnprocessableEntity, name, s.jobs.plain(err))
	}
	return r.see(pathOf("jobs", id, "mark"))
}

// read opens the job of the address and reads it.
func (r *request) read() (*jobfile.Doc, *jobfile.File, error) {
	doc, err := r.s.jobs.open(r.name("job"))
	if err != nil {
		return nil, nil, err
	}
	file, err := doc.Read()
	return doc, file, err
}

// readMark opens the job of the address and finds the mark in it.
func (r *request) readMark() (*jobfile.Doc, *jobfile.File, *engine.Mark, error) {
	doc, file, err := r.read()
	if err != nil {
		return nil, nil, nil, err
	}
	mark := markOf(file.Job, r.name("mark"))
	if mark == nil {
		return nil, nil, nil, errNoMark
	}
	return doc, file, mark, nil
}

func markOf(job *engine.Job, id string) *engine.Mark {
	i := slices.IndexFunc(job.Defects, func(m *engine.Mark) bool { return m.ID == id })
	if i < 0 {
		return nil
	}
	return job.Defects[i]
}

// markLine is a mark in the list of a job.
type markLine struct {
	ID, On, Kinds string
	Best          *screen.Repair // nil: none is left
}

// job shows the marks of a job and what is the best for each.
func (s *Server) job(r *request) error {
	_, file, err := r.read()
	if err != nil {
		return err
	}
	a, err := engine.Triage(s.Knowledge.Book, s.Knowledge.Tables, file.Job)
	if err != nil {
		return err
	}
	var marks []markLine
	for i := range a.Defects {
		m := screen.MarkOf(a, &a.Defects[i], "")
		line := markLine{ID: m.ID, On: m.On, Kinds: m.Kinds}
		if m.NoRepair == "" && len(m.Best) > 0 {
			line.Best = &m.Best[0]
		}
		marks = append(marks, line)
	}
	return r.show(http.StatusOK, "job", r.about(file, "", map[string]any{"Marks": marks, "Unread": unread(file),
		"HasSheet": s.Sheet != nil}))
}

// unread says that a file holds what this program does not know.
func unread(file *jobfile.File) string {
	if len(file.Unread) == 0 {
		return ""
	}
	return file.Unread[0].Error()
}

// about fills in what every page of a job shows: which piece and which mark.
func (r *request) about(file *jobfile.File, mark string, data map[string]any) map[string]any {
	job := r.name("job")
	piece := file.Job.Name
	if piece == "" {
		piece = job
	}
	title := piece
	if mark != "" {
		title = mark + ", " + piece
	}
	out := map[string]any{"Title": title, "Job": job, "Piece": piece, "Mark": mark}
	if m := markOf(file.Job, mark); m != nil {
		out["On"] = m.On
	}
	maps.Copy(out, data)
	return out
}

// newMark asks where another mark is and what to call it.
func (s *Server) newMark(r *request) error {
	_, file, err := r.read()
	if err != nil {
		return err
	}
	return s.newMarkWith(r, http.StatusOK, file, "")
}

func (s *Server) newMarkWith(r *request, code int, file *jobfile.File, wrong string) error {
	surfaces := slices.Sorted(maps.Keys(file.Job.Surfaces))
	var like []string
	for _, m := range file.Job.Defects {
		like = append(like, m.ID)
	}
	on := r.FormValue("on")
	if on == "" && len(surfaces) > 0 && r.FormValue("surface") == "" {
		on = surfaces[0]
		if len(file.Job.Defects) > 0 {
			on = file.Job.Defects[len(file.Job.Defects)-1].On
		}
	}
	return r.show(code, "newmark", r.about(file, "", map[string]any{"Title": "A mark, " + r.name("job"), "Surfaces": surfaces, "Like": like,
		"ChosenOn": on, "Surface": r.FormValue("surface"), "Name": r.FormValue("name"), "ChosenLike": r.FormValue("like"), "Wrong": wrong}))
}

// addMark adds a mark, and its surface where that is new, and goes on to the first question.
func (s *Server) addMark(r *request) error {
	name, on, surface, like := strings.TrimSpace(r.PostFormValue("name")), r.PostFormValue("on"), strings.TrimSpace(r.PostFormValue("surface")), r.PostFormValue("like")
	var said error
	doc, err := s.jobs.change(r.name("job"), func(d *jobfile.Doc) error {
		file, err := d.Read()
		if err != nil {
			return err
		}
		place := on
		if surface != "" {
			place = surface
		}
		if _, known := file.Job.Surfaces[place]; !known {
			if said = d.AddSurface(place); said != nil {
				return said
			}
		}
		if like != "" {
			said = d.AddDefectLike(like, name, place)
		} else {
			said = d.AddDefect(name, place)
		}
		return said
	})
	switch {
	case said != nil && err != nil:
		_, file, rerr := r.read()
		if rerr != nil {
			return rerr
		}
		return s.newMarkWith(r, http.StatusUnprocessableEntity, file, s.jobs.plain(said))
	case err != nil:
		return err
	}
	file, err := doc.Read()
	if err != nil {
		return err
	}
	added := file.Job.Defects[len(file.Job.Defects)-1]
	return r.see(pathOf("jobs", r.name("job"), "marks", added.ID, "ask"))
}

// answers lists what was answered in view of a mark, each to be changed.
func (s *Server) answers(r *request) error {
	_, file, mark, err := r.readMark()
	if err != nil {
		return err
	}
	type line struct{ Of, Fact, Ask, Answer string }
	var lines []line
	for _, u := range sitting.InView(file, mark.ID) {
		answer := u.Answer
		if u.Spread {
			answer += " (the usual ± was taken)"
		}
		lines = append(lines, line{u.Of, u.Fact, s.Knowledge.Book.Facts[u.Fact].Ask, screen.Glue(answer)})
	}
	return r.show(http.StatusOK, "answers", r.about(file, mark.ID, map[string]any{"Lines": lines, "Title": "Answers about " + mark.ID}))
}
