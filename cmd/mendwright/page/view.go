package page

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"errors"
	"fmt"
	"html/template"
	"io"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"sync"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/rules/strictyaml"
)

//go:embed assets
var assets embed.FS

// style and script are embedded whole; the style goes with each page, so that one request shows it.
var (
	style     = asset("style.css")
	script    = asset("script.js")
	styleHash = hashOf(style)
)

func asset(name string) string {
	data, err := assets.ReadFile("assets/" + name)
	if err != nil {
		panic(err) // it was embedded when the program was built
	}
	return string(data)
}

func hashOf(s string) string {
	sum := sha256.Sum256([]byte(s))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}

// pages are the templates of the pages, each with the frame around it; no other command has to wait for them.
var pages = sync.OnceValue(func() map[string]*template.Template {
	frame := template.Must(template.New("frame").Funcs(template.FuncMap{
		"style":     func() template.HTML { return template.HTML("<style>" + style + "</style>") },
		"deference": func() string { return screen.Deference },
		"lower":     strings.ToLower,
		"upper":     strings.ToUpper,
		"path":      pathOf,
		"list":      func(v ...any) []any { return v },
	}).ParseFS(assets, "assets/frame.html", "assets/parts.html"))
	out := map[string]*template.Template{}
	for _, name := range []string{"home", "job", "newmark", "question", "nomore", "conflict", "clash", "result", "answers", "why", "plan", "sand", "air", "code", "sorry"} {
		out[name] = template.Must(template.Must(frame.Clone()).ParseFS(assets, "assets/"+name+".html"))
	}
	return out
})

// pathOf joins the segments of an address, each written so that it stays one segment whatever it holds.
func pathOf(segments ...string) string {
	var b strings.Builder
	for i, s := range segments {
		b.WriteByte('/')
		if i%2 == 1 { // names stand behind the words "jobs", "marks" and so on
			s = segment(s)
		}
		b.WriteString(url.PathEscape(s))
	}
	return b.String()
}

// segment guards the names that a browser would take for something else: none at all, and the dots that
// lead upwards.
func segment(name string) string {
	if name == "" || strings.Trim(name, ".") == "" || name[0] == '~' {
		return "~" + name
	}
	return name
}

// named undoes segment.
func named(segment string) string { return strings.TrimPrefix(segment, "~") }

// request is a request being answered.
type request struct {
	*http.Request
	w http.ResponseWriter
	s *Server
}

// jobID, markID and the like are the names in the address.
func (r *request) name(of string) string { return named(r.PathValue(of)) }

// Errors that stand for a page of their own.
var (
	errNoPage = errors.New("there is no such page")
	errNoMark = errors.New("there is no such mark in the job")
)

// sayError is an error of the person, told on a page as it is.
type sayError string

func (e sayError) Error() string { return string(e) }

// handle answers requests by do, and turns its error into a page that tells it.
func (s *Server) handle(do func(*request) error) http.Handler { return s.handleUpTo(maxForm, do) }

// handleUpTo is handle for a body of at most so many bytes. One longer than a form is left for do to read.
func (s *Server) handleUpTo(most int64, do func(*request) error) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, h *http.Request) {
		r := &request{h, w, s}
		h.Body = http.MaxBytesReader(w, h.Body, most)
		if most == maxForm {
			if err := h.ParseForm(); err != nil {
				s.sorry(w, fmt.Errorf("the form: %w", err))
				return
			}
		}
		if err := do(r); err != nil {
			s.sorry(w, err)
		}
	})
}

// sorry tells an error on a page.
func (s *Server) sorry(w http.ResponseWriter, err error) {
	var large *http.MaxBytesError
	var mistakes strictyaml.Errors
	var say sayError
	code, text := http.StatusInternalServerError, s.jobs.plain(err)
	switch {
	case errors.Is(err, errNoPage), errors.Is(err, errNoJob), errors.Is(err, errNoMark):
		code = http.StatusNotFound
	case errors.As(err, &large):
		code, text = http.StatusRequestEntityTooLarge, fmt.Sprintf("That is too large; at most %d kB are read.", large.Limit>>10)
	case errors.As(err, &mistakes):
		code, text = http.StatusUnprocessableEntity, "The job file has mistakes. Mend them in an editor, then load this page anew.\n"+text
	case errors.As(err, &say):
		code = http.StatusBadRequest
	}
	s.refuse(w, code, text)
}

// refuse writes a page that says why nothing else is on it.
func (s *Server) refuse(w http.ResponseWriter, code int, text string) {
	s.write(w, code, "sorry", map[string]any{"Title": "Sorry", "Text": text})
}

// show writes a page. Where the template fails, nothing of it is written.
func (r *request) show(code int, page string, data map[string]any) error {
	r.s.write(r.w, code, page, data)
	return nil
}

func (s *Server) write(w http.ResponseWriter, code int, page string, data map[string]any) {
	var b bytes.Buffer
	if err := pages()[page].ExecuteTemplate(&b, "frame", data); err != nil {
		http.Error(w, "the page could not be written: "+err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(code)
	w.Write(b.Bytes()) // who has gone away needs no answer
}

// see sends the browser on to another page.
func (r *request) see(where string) error {
	http.Redirect(r.w, r.Request, where, http.StatusSeeOther)
	return nil
}

func (s *Server) script(r *request) error {
	r.w.Header().Set("Content-Type", "text/javascript; charset=utf-8")
	_, err := io.WriteString(r.w, script)
	return err
}

var ownStyle = regexp.MustCompile(`(?s)<style>(.*?)</style>`)

// policyOf lets a page that is written elsewhere have the style and the pictures that stand in it, and nothing
// from anywhere. What a job says stands in it escaped, so that no style of a job is among them.
func policyOf(page string) string {
	styles := "style-src"
	for _, m := range ownStyle.FindAllStringSubmatch(page, -1) {
		styles += " '" + hashOf(m[1]) + "'"
	}
	return "default-src 'none'; " + styles + "; img-src data:; base-uri 'none'; frame-ancestors 'none'"
}

// written answers with a page of a job that is written elsewhere.
func (s *Server) written(write func(io.Writer, *jobfile.File) error) func(*request) error {
	return func(r *request) error {
		_, file, err := r.read()
		if err != nil {
			return err
		}
		var b bytes.Buffer
		if err := write(&b, file); err != nil {
			return err
		}
		r.w.Header().Set("Content-Type", "text/html; charset=utf-8")
		r.w.Header().Set("Content-Security-Policy", policyOf(b.String()))
		r.w.Write(b.Bytes()) // who has gone away needs no answer
		return nil
	}
}
