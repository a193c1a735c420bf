package rules

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"mendwright/rules/condition"
	"mendwright/rules/strictyaml"
)

// MaxFileBytes is the largest rule file that is read.
const MaxFileBytes = 128 << 10

// maxFiles bounds a rulebook.
const maxFiles = 20000

// Load reads and verifies the rulebook whose files lie in fsys. Its error, if not nil, is
// strictyaml.Errors with every mistake of the load, unless a file could not be read at all.
func Load(fsys fs.FS) (*Book, error) {
	return load(layer{fsys: fsys})
}

func load(layers ...layer) (*Book, error) {
	l, err := read(layers, false)
	if err != nil {
		return nil, err
	}
	if len(l.errs) == 0 {
		l.errs = append(l.errs, l.book.verify()...)
	}
	if errs := l.errs.Sorted(); errs != nil {
		return nil, errs
	}
	return l.book, nil
}

// LoadTrusted reads a rulebook that a test has verified whole, such as an embedded one: what
// Load finds by looking across files and by compiling every condition is not looked for again,
// the cases beside the rules are not read, and a table or a method only when it is asked for. A method
// that turns out wrong then is a mistake of the program, and panics.
func LoadTrusted(fsys fs.FS) (*Book, error) {
	l, err := read([]layer{{fsys: fsys}}, true)
	if err != nil {
		return nil, err
	}
	if errs := l.errs.Sorted(); errs != nil {
		return nil, errs
	}
	return l.book, nil
}

// loader gathers a book and its mistakes while files are read.
type loader struct {
	book *Book
	errs strictyaml.Errors
	// places of ids, to report doubled ones
	seen map[string]strictyaml.Pos
	// trusted says that a test has looked for what is wrong across a file or the files
	trusted bool
	room    [2048]byte // for the ends of files
	// late is a method that the book has waited for, where one is read by itself
	late *Method
}

// folders are the places of rule files, in reading order: what later files refer to comes first.
var folders = []struct {
	name string
	read func(*file, *strictyaml.Map)
}{
	{"tables", (*file).table},
	{"facts", (*file).facts},
	{"findings", (*file).finding},
	{"defects", (*file).defect},
	{"methods", (*file).method},
	{"warnings", (*file).warning},
	{"goods", (*file).goods},
	{"pairs", (*file).pair},
	{"chores", (*file).chore},
	{"aftermaths", (*file).aftermath},
}

// layer is a rulebook or what lies over one. at, if it is not "", is the folder of a shop's own rules.
type layer struct {
	fsys fs.FS
	at   string
}

// page is one file of a layer.
type page struct {
	name  string // within its layer
	shown string // where errors say it stands
	own   bool   // of the shop
	fsys  fs.FS
	data  []byte // nil in a trusted book, which reads each as it comes to it
	doc   *strictyaml.Doc
}

func read(layers []layer, trusted bool) (*loader, error) {
	l := &loader{trusted: trusted, seen: map[string]strictyaml.Pos{}, book: &Book{
		Sources: map[string]*Source{}, Facts: map[string]*Fact{}, tables: map[string]*Table{},
		order: &Order{Goods: map[string]*Good{}}, findingOf: map[string]*Finding{}, methods: map[string]*Method{}, late: map[*Method]func(){}, defects: map[string]*Defect{}, treating: map[string][]*Method{}, warningsOn: map[string][]*Warning{},
	}}
	var pages []*page
	for _, at := range layers {
		of, err := at.pages(trusted)
		if err != nil {
			return nil, err
		}
		pages = append(pages, of...)
	}
	l.book.digest = sync.OnceValue(func() string { return digest(pages) })

	for _, need := range []string{"sources.yaml", "terms.yaml"} {
		if !slices.ContainsFunc(pages, func(p *page) bool { return p.name == need && !p.own }) {
			l.errs = append(l.errs, &strictyaml.Error{File: need, Msg: "the rulebook has no such file"})
		}
	}
	now, skip := pages, ""
	if trusted {
		skip = "cases"
		now = slices.DeleteFunc(slices.Clone(pages), func(p *page) bool {
			return isLate(p.name) && (path.Dir(p.name) != "methods" || l.later(p))
		})
		l.book.lateTable = func(id string) (*Table, error) { return l.table(id, pages) }
		l.book.lateOrder = sync.OnceFunc(func() { l.order(pages) })
	}
	parse(now, skip)
	l.named(pages, "sources.yaml", (*file).sourceList)
	for _, p := range pages {
		if p.own && p.name == "terms.yaml" {
			l.errs = append(l.errs, &strictyaml.Error{File: p.shown, Msg: "the closed lists are part of the program; a shop's rules draw on them and add nothing to them"})
			p.doc = nil
		}
	}
	l.named(pages, "terms.yaml", (*file).terms)
	for _, folder := range folders {
		if folder.name == "facts" && len(l.errs) > 0 {
			// Everything else draws on sources, terms and tables; complaints about what they
			// lack would hide what is wrong with them.
			return l, nil
		}
		for _, p := range pages {
			if path.Dir(p.name) == folder.name {
				l.one(p, folder.read)
			}
		}
		if folder.name == "facts" {
			l.vocabulary()
		}
	}
	for _, p := range pages {
		if !placed(p.name) {
			// A rule in a misspelt folder must not be dropped in silence.
			l.errs = append(l.errs, &strictyaml.Error{File: p.shown, Msg: "no rule file belongs here" + strictyaml.Nearest(path.Dir(p.name), folderNames())})
		}
	}
	l.override()
	l.index()
	return l, nil
}

// digest is the SHA-256 of the pages, a shop's own apart from those built in.
func digest(pages []*page) string {
	sum := sha256.New()
	var buf bytes.Buffer
	for _, p := range pages {
		data := p.content(&buf)
		fmt.Fprintf(sum, "%s %d\n", path.Join(map[bool]string{true: "own"}[p.own], p.name), len(data))
		sum.Write(data)
	}
	return hex.EncodeToString(sum.Sum(nil))
}

func folderNames() []string {
	var names []string
	for _, f := range folders {
		names = append(names, f.name)
	}
	return names
}

// placed reports whether a file lies where it is read.
func placed(name string) bool {
	at := path.Dir(name)
	for _, f := range folders {
		if f.name == at {
			return true
		}
	}
	return name == "sources.yaml" || name == "terms.yaml"
}

// pages reads the files of a layer.
func (at layer) pages(trusted bool) ([]*page, error) {
	names, err := list(at.fsys)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", at.called(), err)
	}
	var out []*page
	for _, name := range names {
		p := &page{name: name, shown: name, own: at.at != "", fsys: at.fsys}
		if p.own {
			p.shown = path.Join(filepath.ToSlash(at.at), name)
		}
		if !trusted {
			if p.data, err = readFile(at.fsys, name); err != nil {
				return nil, fmt.Errorf("rulebook file %s: %w", p.shown, err)
			}
		}
		out = append(out, p)
	}
	return out, nil
}

// isLate reports whether a trusted book reads a file only when it is asked for.
func isLate(name string) bool {
	dir := path.Dir(name)
	return dir == "tables" || dir == "methods" || ofOrder[dir]
}

// content is what stands in the page, until the buffer is used again. A page of a trusted book that cannot be read
// counts as empty, which is a mistake of its own.
func (p *page) content(buf *bytes.Buffer) []byte {
	if p.data != nil {
		return p.data
	}
	if err := readInto(buf, p.fsys, p.name); err != nil {
		return nil
	}
	return buf.Bytes()
}

func (at layer) called() string {
	if at.at == "" {
		return "rulebook"
	}
	return "the shop's rules in " + at.at
}

// list returns the names of the rulebook's files, sorted, so that the order of a directory
// changes nothing.
func list(fsys fs.FS) ([]string, error) {
	var names []string
	err := fs.WalkDir(fsys, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() && name != "." && strings.HasPrefix(entry.Name(), ".") {
			return fs.SkipDir
		}
		if !entry.IsDir() && strings.HasSuffix(name, ".yaml") {
			names = append(names, name)
		}
		if len(names) > maxFiles {
			return fmt.Errorf("more than %d files", maxFiles)
		}
		return nil
	})
	slices.Sort(names)
	return names, err
}

// readFile reads at most one byte more than a rule file may have, so that a huge file is
// noticed without being held.
func readFile(fsys fs.FS, name string) ([]byte, error) {
	var b bytes.Buffer
	err := readInto(&b, fsys, name)
	return b.Bytes(), err
}

// readInto is readFile into a buffer, in the place of what it holds.
func readInto(b *bytes.Buffer, fsys fs.FS, name string) error {
	// A pipe called like a rule file would be waited for.
	if info, err := fs.Stat(fsys, name); err != nil {
		return err
	} else if !info.Mode().IsRegular() {
		return errors.New("it is no plain file")
	}
	f, err := fsys.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	b.Reset()
	if info, err := f.Stat(); err == nil {
		b.Grow(int(min(info.Size(), MaxFileBytes)) + bytes.MinRead)
	}
	_, err = b.ReadFrom(io.LimitReader(f, MaxFileBytes+1))
	return err
}

// parse reads the files as YAML, all processors at once: that is most of the time that a
// program takes to start.
func parse(pages []*page, skip string) {
	var next atomic.Int64
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			var desk desk
			for {
				i := int(next.Add(1)) - 1
				if i >= len(pages) {
					return
				}
				desk.parse(pages[i], skip)
			}
		})
	}
	wg.Wait()
}

// desk is where files are read one after the other.
type desk struct {
	buf  bytes.Buffer
	room strictyaml.Room
}

func (d *desk) parse(p *page, skip string) {
	p.doc = strictyaml.Parse(p.shown, p.content(&d.buf), strictyaml.Options{MaxBytes: MaxFileBytes, Closing: closingKey(p.name), Skip: skip, Room: &d.room})
}

// desks are for what is read late.
var desks = sync.Pool{New: func() any { return new(desk) }}

// lately parses one page and walks it.
func (l *loader) lately(p page, skip string, read func(*file, *strictyaml.Map)) error {
	d := desks.Get().(*desk)
	d.parse(&p, skip)
	l.one(&p, read)
	d.room.Reset()
	desks.Put(d)
	if errs := l.errs.Sorted(); errs != nil {
		return errs
	}
	return nil
}

// table reads one table of a trusted book.
func (l *loader) table(id string, pages []*page) (*Table, error) {
	i := slices.IndexFunc(pages, func(p *page) bool { return p.name == "tables/"+id+".yaml" })
	if i < 0 {
		return nil, fmt.Errorf("there is no table %q", id)
	}
	late := &loader{trusted: true, book: &Book{Sources: l.book.Sources, tables: map[string]*Table{}}}
	if err := late.lately(*pages[i], "", (*file).table); err != nil {
		return nil, err
	}
	return late.book.tables[id], nil
}

// order reads what only a plan needs, of a trusted book.
func (l *loader) order(pages []*page) {
	late := &loader{seen: map[string]strictyaml.Pos{}, book: l.book}
	for _, folder := range folders {
		for _, p := range pages {
			if dir := path.Dir(p.name); dir == folder.name && ofOrder[dir] {
				read := *p
				parse([]*page{&read}, "cases")
				late.one(&read, folder.read)
			}
		}
	}
	if errs := late.errs.Sorted(); errs != nil {
		panic(fmt.Sprintf("a rulebook that was said to be verified is wrong: %v", errs))
	}
	late.book.order.sort()
}

// closingKey is the key that must end a file.
func closingKey(name string) string {
	if name == "sources.yaml" {
		return "count"
	}
	return "sources"
}

// named walks the files of a name, one in each layer that has it.
func (l *loader) named(pages []*page, name string, read func(*file, *strictyaml.Map)) {
	for _, p := range pages {
		if p.name == name {
			l.one(p, read)
		}
	}
}

// one walks one file, unless it is a table that is read when it is asked for.
func (l *loader) one(p *page, read func(*file, *strictyaml.Map)) {
	doc := p.doc
	if doc == nil {
		return
	}
	if errs := doc.Errs(); errs != nil {
		l.errs = append(l.errs, errs...)
		return
	}
	f := &file{loader: l, page: p, cited: map[string]bool{}}
	top := doc.Top()
	read(f, top)
	if closingKey(p.name) == "sources" {
		f.closing(top)
	}
	top.Done()
	l.errs = append(l.errs, doc.Errs()...)
	l.errs = append(l.errs, f.errs...)
}

// vocabulary readies the facts for conditions.
func (l *loader) vocabulary() {
	b := l.book
	b.facts = slices.SortedFunc(maps.Values(b.Facts), func(x, y *Fact) int { return cmp.Compare(x.ID, y.ID) })
	facts := make([]condition.Fact, len(b.facts))
	for i, f := range b.facts {
		f.Index, f.breadth = i, slices.Index(Subjects, f.Subject)
		facts[i] = condition.Fact{ID: f.ID, Kind: f.Kind, Answers: f.answerIDs()}
	}
	b.env = condition.NewEnv(facts)
}

func (l *loader) index() {
	b := l.book
	slices.SortFunc(b.Findings, func(x, y *Finding) int { return cmp.Compare(x.ID, y.ID) })
	slices.SortFunc(b.Defects, func(x, y *Defect) int { return cmp.Compare(x.ID, y.ID) })
	slices.SortFunc(b.every, func(x, y *Method) int { return cmp.Compare(x.ID, y.ID) })
	slices.SortFunc(b.Warnings, func(x, y *Warning) int { return cmp.Compare(x.ID, y.ID) })
	b.order.sort()
	slices.SortFunc(b.Calculators, func(x, y *Calculator) int { return cmp.Compare(x.ID, y.ID) })
	for _, f := range b.Findings {
		b.findingOf[f.Derives] = f
	}
	for _, w := range b.Warnings {
		for _, e := range w.On {
			b.warningsOn[e] = append(b.warningsOn[e], w)
		}
		if len(w.On) == 0 {
			b.warningsOn[""] = append(b.warningsOn[""], w)
		}
	}
	for i, d := range b.Defects {
		b.defects[d.ID], d.Index = d, i
	}
	for _, m := range b.every {
		b.methods[m.ID] = m
		for _, d := range m.Treats {
			b.treating[d] = append(b.treating[d], m)
		}
	}
}

// unique reports an id of a kind that two rules share.
func (l *loader) unique(kind, id string, pos strictyaml.Pos) {
	if l.trusted {
		return
	}
	key := kind + " " + id
	if first, ok := l.seen[key]; ok {
		l.errs = append(l.errs, pos.Error("the %s %q stands twice; first in %s, line %d", kind, id, first.File(), first.Line))
		return
	}
	l.seen[key] = pos
}
