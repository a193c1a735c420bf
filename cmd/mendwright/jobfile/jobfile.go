// Package jobfile reads job files: what a restorer knows of a piece, its shop, its surfaces and
// its marks, as YAML with facts by their ids without the subject.
package jobfile

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"mendwright/engine"
	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/quantity"
	"mendwright/rules/strictyaml"
)

// MaxBytes is the largest job file that is read.
const MaxBytes = 1 << 20

// MaxMarks bounds the defects and the surfaces of a job.
const MaxMarks = 1000

// Format is the form of job file that this program reads.
const Format = "1"

// File is a job as it was read.
type File struct {
	Job *engine.Job
	// Understood lists every answer as it was understood, in file order.
	Understood []Understood
	// Notes are the free words about a defect, by its id.
	Notes map[string]string
	// Photos are the photographs that the file names, in its order.
	Photos []Photo
	// Unread says of every field that this program does not know where it stands. Only a file
	// that is open for editing may have any: they are kept and not reasoned from.
	Unread strictyaml.Errors
}

// Photo is a photograph of the piece, a surface or a mark.
type Photo struct {
	Subject string // piece, surface or defect
	Of      string // as in Understood
	Name    string // a path from the folder of the file, with slashes; nobody has looked whether it is there
}

// MaxPhotos bounds the photographs of one thing.
const MaxPhotos = 50

// Understood is one answer of the file and how it was read.
type Understood struct {
	Of     string // "piece", "shop", a surface's name or a defect's id
	Fact   string
	Typed  string
	Answer string // "cannot tell" if so
	// Spread is set where a measurement was typed without a ± and the fact's usual one was taken.
	Spread bool
}

// ReadFile reads and checks the job file at path against the vocabulary of book and the grits and
// tools of tables.
func ReadFile(path string, book *rules.Book, tables *engine.Tables) (*File, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("job file: %w", err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, MaxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("job file %s: %w", path, err)
	}
	return Read(filepath.ToSlash(path), data, book, tables)
}

// Read reads a job from data; name is used in errors, which are strictyaml.Errors with every
// mistake of the file.
func Read(name string, data []byte, book *rules.Book, tables *engine.Tables) (*File, error) {
	return read(name, data, &reader{book: book, tables: tables})
}

func read(name string, data []byte, r *reader) (*File, error) {
	doc := strictyaml.Parse(name, data, strictyaml.Options{MaxBytes: MaxBytes})
	if errs := doc.Errs(); errs != nil {
		return nil, errs
	}
	r.out = &File{Job: &engine.Job{Surfaces: map[string]*engine.Surface{}}, Notes: map[string]string{}}
	top := doc.Top()
	checkFormat(top)
	if v, ok := top.Opt("piece"); ok {
		m := v.Map()
		r.out.Job.Name = m.OptStr("name")
		m.OptStr("note")
		r.out.Job.Piece = r.subject(m, "piece", "piece")
	}
	if v, ok := top.Opt("shop"); ok {
		m := v.Map()
		m.OptStr("note")
		r.out.Job.Shop = r.subject(m, "shop", "shop")
	}
	if v, ok := top.Opt("surfaces"); ok {
		m := v.Map()
		keys := m.Keys()
		if len(keys) > MaxMarks {
			v.Fail("%d surfaces; at most %d are read", len(keys), MaxMarks)
			keys = nil
		}
		for _, k := range keys {
			name, _ := k.Scalar()
			n, _ := m.Opt(name)
			r.surface(k, n)
		}
	}
	if v, ok := top.Opt("defects"); ok {
		r.defects(v)
	}
	if v, ok := top.Opt("plan"); ok {
		r.out.Job.Planning = r.planning(v.Map())
	}
	r.done(top)
	if errs := doc.Errs(); errs != nil {
		return nil, errs
	}
	r.out.Job = engine.Carry(r.book, r.tables, r.out.Job)
	r.out.Unread = r.out.Unread.Sorted()
	return r.out, nil
}

// checkFormat refuses a file of another format than this program reads.
func checkFormat(top *strictyaml.Map) {
	if v, ok := top.Need("format"); ok {
		if s := v.Str(); s != Format {
			v.Fail("this program reads format %s; the file says %q", Format, s)
		}
	}
}

type reader struct {
	book    *rules.Book
	tables  *engine.Tables
	lenient bool // fields that are not known are listed and no mistake
	out     *File
}

// done takes up the keys of m that nobody knew.
func (r *reader) done(m *strictyaml.Map) {
	if !r.lenient {
		m.Done()
		return
	}
	r.out.Unread = append(r.out.Unread, m.Left()...)
}

func (r *reader) surface(key, n strictyaml.Node) {
	name, _ := key.Scalar()
	if name == "" {
		key.Fail("a surface needs a name")
		return
	}
	m := n.Map()
	s := &engine.Surface{}
	m.OptStr("note")
	if v, ok := m.Opt("sanding"); ok {
		s.Programme = r.programme(v.Map())
	}
	s.Subject = r.subject(m, "surface", name)
	r.out.Job.Surfaces[name] = s
}

// programme reads the sanding a person chose for a surface.
func (r *reader) programme(m *strictyaml.Map) engine.Programme {
	var p engine.Programme
	if v, ok := m.Opt("grits"); ok {
		for _, g := range v.List() {
			p.Grits = append(p.Grits, g.Str())
			if _, err := r.tables.Depth.Grain(p.Grits[len(p.Grits)-1]); err != nil {
				g.Fail("%s", err)
			}
		}
	}
	if v, ok := m.Opt("tool"); ok {
		p.Tool = v.Str()
		if tools := r.tables.ToolNames(); !slices.Contains(tools, p.Tool) {
			v.Fail("the tool %q is not known; expected %s%s", p.Tool, strings.Join(tools, ", "), strictyaml.Nearest(p.Tool, tools))
		}
	}
	if v, ok := m.Opt("keep"); ok {
		q, err := quantity.Parse(v.Str(), "mm")
		if err != nil {
			v.Fail("%s", err)
		} else if q.Lo < 0 {
			v.Fail("read %q; what must stay cannot be less than nothing", v.Str())
		}
		keep := q.Hi
		p.Keep = &keep
	}
	r.done(m)
	return p
}

func (r *reader) defects(v strictyaml.Node) {
	list := v.List()
	if len(list) > MaxMarks {
		v.Fail("%d defects; at most %d are read", len(list), MaxMarks)
		return
	}
	ids := map[string]bool{}
	for _, n := range list {
		m := n.Map()
		d := &engine.Mark{}
		if idNode, ok := m.Need("id"); ok {
			d.ID = idNode.Str()
			if ids[d.ID] {
				idNode.Fail("the defect %q stands twice", d.ID)
			}
			ids[d.ID] = true
		}
		if on, ok := m.Need("on"); ok {
			d.On = on.Str()
			if r.out.Job.Surfaces[d.On] == nil {
				on.Fail("there is no surface %q in the file%s", d.On, strictyaml.Nearest(d.On, sortedKeys(r.out.Job.Surfaces)))
			}
		}
		if s := m.OptStr("note"); s != "" {
			r.out.Notes[d.ID] = s
		}
		r.history(m, d)
		d.Subject = r.subject(m, "defect", d.ID)
		r.out.Job.Defects = append(r.out.Job.Defects, d)
	}
}

// subject reads the answers left in a mapping as facts of one subject.
func (r *reader) subject(m *strictyaml.Map, subject, of string) engine.Subject {
	s := engine.Subject{Answers: map[string]condition.Value{}, CannotTell: map[string]bool{}, Confirmed: map[string]bool{}}
	if v, ok := m.Opt("confirmed"); ok {
		for _, n := range v.List() {
			if f := r.fact(n, subject); f != nil {
				s.Confirmed[f.ID] = true
			}
		}
	}
	if v, ok := m.Opt("photos"); ok && subject != "shop" {
		r.photos(v, subject, of)
	}
	taken := map[string]bool{"note": true, "photos": subject != "shop", "confirmed": true, "name": subject == "piece",
		"sanding": subject == "surface", "id": subject == "defect", "on": subject == "defect", "repair": subject == "defect", "done": subject == "defect"}
	for _, k := range m.Keys() {
		name, _ := k.Scalar()
		if taken[name] {
			continue
		}
		f := r.fact(k, subject)
		if f == nil {
			continue
		}
		n, _ := m.Opt(name)
		r.answer(&s, f, n, of)
	}
	return s
}

// photos reads the names of the photographs of a thing.
func (r *reader) photos(v strictyaml.Node, subject, of string) {
	list := v.List()
	if len(list) > MaxPhotos {
		v.Fail("%d photographs of one thing; at most %d are kept", len(list), MaxPhotos)
		return
	}
	for _, n := range list {
		if name := n.Str(); name != "" {
			r.out.Photos = append(r.out.Photos, Photo{subject, of, name})
		} else {
			n.Fail("a photograph needs the name of its file")
		}
	}
}

// fact finds the fact of a subject by its id without the subject.
func (r *reader) fact(n strictyaml.Node, subject string) *rules.Fact {
	name, _ := n.Scalar()
	f, err := asked(r.book, subject, name)
	switch {
	case err == nil:
	case r.lenient && r.book.Facts[subject+"."+name] == nil:
		r.out.Unread = append(r.out.Unread, n.Pos().Error("%s", err))
	default:
		n.Fail("%s", err)
	}
	return f
}

// asked returns the fact of a subject by its id without the subject. The error says that there is
// none or that nobody is asked for it.
func asked(book *rules.Book, subject, name string) (*rules.Fact, error) {
	switch f := book.Facts[subject+"."+name]; {
	case f != nil && f.Asked():
		return f, nil
	case f != nil:
		return nil, fmt.Errorf("%s is not asked; it follows from other answers", name)
	}
	var known []string
	for id, f := range book.Facts {
		if rest, ok := strings.CutPrefix(id, subject+"."); ok && f.Asked() {
			known = append(known, rest)
		}
	}
	return nil, fmt.Errorf("there is no fact %q about a %s%s", name, subject, strictyaml.Nearest(name, known))
}

func (r *reader) answer(s *engine.Subject, f *rules.Fact, n strictyaml.Node, of string) {
	var texts []string
	for _, e := range n.OneOrMore() {
		t, ok := e.Scalar()
		if !ok {
			e.Fail("expected an answer to %s, or cannot tell", f.ID)
			return
		}
		texts = append(texts, t)
	}
	v, known, err := f.ReadAnswer(texts...)
	if err != nil {
		n.Fail("%s", err)
		return
	}
	u := Understood{Of: of, Fact: f.ID, Typed: strings.Join(texts, ", "), Answer: "cannot tell"}
	if known {
		s.Answers[f.ID] = v
		u.Answer = f.Show(v)
		if f.Kind == condition.Quantity && f.Spread > 0 {
			q, err := quantity.Parse(texts[0], f.Unit)
			u.Spread = err == nil && !q.Stated
		}
	} else {
		s.CannotTell[f.ID] = true
	}
	r.out.Understood = append(r.out.Understood, u)
}

func sortedKeys(m map[string]*engine.Surface) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}
