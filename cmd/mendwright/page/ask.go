package page

import (
	"html/template"
	"net/http"
	"slices"
	"strings"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/cmd/mendwright/sitting"
	"mendwright/engine"
	"mendwright/rules"
	"mendwright/rules/condition"
)

// ask puts the next question about a mark, or the contradiction that must be settled first; where there
// is neither, it says so.
func (s *Server) ask(r *request) error {
	doc, file, mark, err := r.readMark()
	if err != nil {
		return err
	}
	book, tables := s.Knowledge.Book, s.Knowledge.Tables
	version := doc.Digest()
	a, err := s.triages.of(s.Knowledge, version, file.Job, mark.ID)
	if err != nil {
		return err
	}
	said, err := s.said(r, doc, file, a, mark)
	if err != nil {
		return err
	}
	data := r.about(file, mark.ID, map[string]any{"Said": said, "Version": version})
	if f := book.Facts[r.FormValue("after")]; f != nil && f.Asked() {
		data["Back"] = f.ID
	}
	for _, c := range a.Conflicts {
		if c.On == sitting.Thing(c.Fact, mark.ID, mark.On) {
			data["Was"], _ = sitting.Stands(file, book.Facts[c.Fact], c.On)
			said, but := screen.Against(book.Facts[c.Fact], &c)
			data["Title"], data["Fact"], data["You"], data["But"], data["Answered"] = screen.Contradiction, c.Fact, said, but, c.Answered
			return r.show(http.StatusOK, "conflict", data)
		}
	}
	q, err := engine.Next(book, tables, sitting.OneMark(file.Job, mark.ID), mark.ID)
	if err != nil {
		return err
	}
	d := screen.MarkOf(a, sitting.Of(a, mark.ID), "")
	if len(d.Best) > 0 && sitting.IsReady(sitting.Of(a, mark.ID)) && (q == nil || !q.Guard) {
		data["Ready"] = &d.Best[0]
	}
	if q == nil {
		data["Title"] = "Nothing more to ask about " + mark.ID
		return r.show(http.StatusOK, "nomore", data)
	}
	return s.put(r, http.StatusOK, file, mark, q, data)
}

// askFact puts one question whatever comes next, for going back and for changing an answer.
func (s *Server) askFact(r *request) error {
	doc, file, mark, err := r.readMark()
	if err != nil {
		return err
	}
	f := s.fact(r.PathValue("fact"))
	if f == nil {
		return errNoPage
	}
	data := r.about(file, mark.ID, map[string]any{"Version": doc.Digest(), "Change": true})
	return s.put(r, http.StatusOK, file, mark, sitting.QuestionOf(f), data)
}

// fact is the fact of the address, nil if there is none that is asked of a person.
func (s *Server) fact(id string) *rules.Fact {
	f := s.Knowledge.Book.Facts[id]
	if f == nil || !f.Asked() || !slices.Contains([]string{"piece", "shop", "surface", "defect"}, f.Subject) {
		return nil
	}
	return f
}

// option is an answer as it is offered.
type option struct {
	ID, Text string
	Chosen   bool
	Picture  template.HTML // "": none shows it
}

// put shows a question.
func (s *Server) put(r *request, code int, file *jobfile.File, mark *engine.Mark, q *engine.Question, data map[string]any) error {
	f := s.Knowledge.Book.Facts[q.Fact]
	of := sitting.Thing(f.ID, mark.ID, mark.On)
	typed, understood := sitting.Stands(file, f, of)
	var options []option
	pictures := false
	for _, o := range q.Answers {
		options = append(options, option{o.ID, screen.Option(o), slices.Contains(typed, o.ID) || f.Kind != condition.Several && understood == o.ID, pictureOf(f.ID, o.ID)})
		pictures = pictures || options[len(options)-1].Picture != ""
	}
	if len(q.Answers) == 0 {
		data["Expects"] = screen.Expects(f)
		if _, again := data["Typed"]; !again && understood != "cannot tell" {
			data["Typed"] = strings.Join(typed, ", ")
		}
	}
	data["Title"] = q.Ask
	data["Question"], data["Of"], data["Fact"], data["MayHarm"], data["Decides"] = q, of, f.ID, screen.MayHarm(q), screen.Decides(q)
	data["Pictures"], data["Options"], data["Several"], data["Was"], data["Stands"] = pictures, options, f.Kind == condition.Several, typed, understood
	if q.Closer {
		data["Closer"] = true
	}
	return r.show(code, "question", data)
}

// said says what the answer just given settled, or all that its change changed. The address says which
// answer it was and what stood there before; the rest is reckoned anew.
func (s *Server) said(r *request, doc *jobfile.Doc, file *jobfile.File, now *engine.Answer, mark *engine.Mark) ([]string, error) {
	f := s.fact(r.FormValue("after"))
	if f == nil {
		return nil, nil
	}
	of := sitting.Thing(f.ID, mark.ID, mark.On)
	was, changed := r.Form["was"]
	undo := func(d *jobfile.Doc) error {
		if changed {
			return d.Set(of, f.ID, was...)
		}
		return d.Clear(of, f.ID)
	}
	if err := undo(doc); err != nil {
		return nil, nil // an address that somebody made up
	}
	before, err := doc.Read()
	if err != nil {
		return nil, nil
	}
	old, err := s.triages.of(s.Knowledge, doc.Digest(), before.Job, mark.ID)
	if err != nil {
		return nil, err
	}
	var out []string
	if read := sitting.ReadAs(file, f, of); read != "" {
		out = append(out, read)
	}
	if !changed {
		out = append(out, screen.Settled(sitting.Of(old, mark.ID), sitting.Of(now, mark.ID), screen.WarningsOf(old, mark.ID), screen.WarningsOf(now, mark.ID))...)
		if len(out) == 0 {
			return []string{"Noted."}, nil
		}
		return out[:min(len(out), 2)], nil
	}
	idle, err := sitting.Idle(s.Knowledge.Book, s.Knowledge.Tables, mark.ID, of, f.ID, before, file)
	if err != nil {
		return nil, err
	}
	for _, l := range screen.Lines(func(p *screen.Page) { screen.Changed(p, old, now, idle) }) {
		out = append(out, l.Text)
	}
	return out, nil
}
