package page

import (
	"errors"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/sitting"
	"mendwright/rules"
	"mendwright/rules/condition"
)

// errClash says that the answer which a form was made for is another by now.
var errClash = errors.New("the answer was changed meanwhile")

// given is an answer as a form brings it.
type given struct {
	texts   []string // the answer
	was     []string // what stood there when the form was made; nil: nothing
	version string   // of the file that the form was made from
}

func givenBy(r *request, f *rules.Fact) given {
	g := given{was: r.PostForm["was"], version: r.PostFormValue("version")}
	switch {
	case r.PostFormValue("cannot") != "":
		g.texts = []string{"cannot tell"}
	case f.Kind == condition.Several:
		g.texts = append([]string{}, r.PostForm["answer"]...)
	default:
		g.texts = []string{strings.TrimSpace(r.PostFormValue("answer"))}
	}
	return g
}

// unclashed reports whether the file still holds the answer that a form was made for. Another answer
// may have been changed: then this one still fits.
func unclashed(doc *jobfile.Doc, file *jobfile.File, f *rules.Fact, of string, g given) bool {
	typed, _ := sitting.Stands(file, f, of)
	return doc.Digest() == g.version || slices.Equal(typed, g.was)
}

// changeAnswer changes the answer to the fact of the address about its mark, unless it was changed since
// the form was made: then the error is errClash.
func (s *Server) changeAnswer(r *request, g given, f *rules.Fact, do func(d *jobfile.Doc, of string) error) error {
	_, err := s.jobs.change(r.name("job"), func(d *jobfile.Doc) error {
		file, err := d.Read()
		if err != nil {
			return err
		}
		mark := markOf(file.Job, r.name("mark"))
		if mark == nil {
			return errNoMark
		}
		of := sitting.Thing(f.ID, mark.ID, mark.On)
		if !unclashed(d, file, f, of, g) {
			return errClash
		}
		return do(d, of)
	})
	return err
}

// answer takes an answer and goes on to the next question.
func (s *Server) answer(r *request) error {
	f := s.fact(r.PathValue("fact"))
	if f == nil {
		return errNoPage
	}
	g := givenBy(r, f)
	if _, _, err := f.ReadAnswer(g.texts...); err != nil {
		return s.askAnew(r, f, g, strings.ReplaceAll(err.Error(), f.ID, "this"))
	}
	err := s.changeAnswer(r, g, f, func(d *jobfile.Doc, of string) error { return d.Set(of, f.ID, g.texts...) })
	if errors.Is(err, errClash) {
		return s.clash(r, f, g)
	}
	if err != nil {
		return err
	}
	next := url.Values{"after": {f.ID}}
	if len(g.was) > 0 {
		next["was"] = g.was
	}
	return r.see(pathOf("jobs", r.name("job"), "marks", r.name("mark"), "ask") + "?" + next.Encode())
}

// askAnew shows a question again with what is wrong with the answer.
func (s *Server) askAnew(r *request, f *rules.Fact, g given, wrong string) error {
	doc, file, mark, err := r.readMark()
	if err != nil {
		return err
	}
	data := r.about(file, mark.ID, map[string]any{"Version": doc.Digest(), "Wrong": wrong, "Typed": strings.Join(g.texts, ", "), "Change": len(g.was) > 0})
	return s.put(r, http.StatusUnprocessableEntity, file, mark, sitting.QuestionOf(f), data)
}

// clash shows the answer that stands by now beside the one that was given, to choose from.
func (s *Server) clash(r *request, f *rules.Fact, g given) error {
	doc, file, mark, err := r.readMark()
	if err != nil {
		return err
	}
	typed, understood := sitting.Stands(file, f, sitting.Thing(f.ID, mark.ID, mark.On))
	if understood == "" {
		understood = "no answer"
	}
	yours := strings.Join(g.texts, ", ")
	if v, known, err := f.ReadAnswer(g.texts...); err == nil && known {
		yours = f.Show(v)
	}
	return r.show(http.StatusConflict, "clash", r.about(file, mark.ID, map[string]any{"Title": "Answered twice", "Ask": f.Ask, "Fact": f.ID,
		"Version": doc.Digest(), "Was": typed, "Theirs": understood, "Yours": yours, "Texts": g.texts}))
}

// takeBack takes an answer away and puts its question again.
func (s *Server) takeBack(r *request) error {
	return s.settle(r, func(d *jobfile.Doc, of, fact string) error { return d.Clear(of, fact) })
}

// keep holds an answer against the finding that makes something else of it.
func (s *Server) keep(r *request) error {
	return s.settle(r, func(d *jobfile.Doc, of, fact string) error { return d.Confirm(of, fact) })
}

func (s *Server) settle(r *request, do func(d *jobfile.Doc, of, fact string) error) error {
	f := s.fact(r.PathValue("fact"))
	if f == nil {
		return errNoPage
	}
	g := givenBy(r, f)
	var said error
	err := s.changeAnswer(r, g, f, func(d *jobfile.Doc, of string) error {
		said = do(d, of, f.ID)
		return said
	})
	switch {
	case errors.Is(err, errClash):
		return sayError("The answer was changed meanwhile, in another tab or by another program; nothing was done. Go back and load the page anew.")
	case err != nil && said != nil:
		return sayError(s.jobs.plain(said))
	case err != nil:
		return err
	}
	return r.see(pathOf("jobs", r.name("job"), "marks", r.name("mark"), "ask"))
}
