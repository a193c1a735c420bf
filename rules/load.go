package rules

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path"
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
const maxFiles = 5000

// Load reads and verifies the rulebook whose files lie in fsys. Its error, if not nil, is
// strictyaml.Errors with every mistake of the load, unless a file could not be read at all.
func Load(fsys fs.FS) (*Book, error) {
	l, err := read(fsys, false)
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
// the cases beside the rules are not read, and a table only when it is asked for.
func LoadTrusted(fsys fs.FS) (*Book, error) {
	l, err := read(fsys, true)
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
}

func read(fsys fs.FS, trusted bool) (*loader, error) {
	l := &loader{seen: map[string]strictyaml.Pos{}, book: &Book{
		Sources: map[string]*Source{}, Facts: map[string]*Fact{}, tables: map[string]*Table{},
		findingOf: map[string]*Finding{}, methods: map[string]*Method{}, defects: map[string]*Defect{}, treating: map[string][]*Method{}, warningsOn: map[string][]*Warning{},
	}}
	names, err := list(fsys)
	if err != nil {
		return nil, err
	}
	digest := sha256.New()
	data := make(map[string][]byte, len(names))
	for _, name := range names {
		content, err := readFile(fsys, name)
		if err != nil {
			return nil, fmt.Errorf("rulebook file %s: %w", name, err)
		}
		fmt.Fprintf(digest, "%s %d\n", name, len(content))
		digest.Write(content)
		data[name] = content
	}
	l.book.Digest = hex.EncodeToString(digest.Sum(nil))

	for _, need := range []string{"sources.yaml", "terms.yaml"} {
		if _, ok := data[need]; !ok {
			l.errs = append(l.errs, &strictyaml.Error{File: need, Msg: "the rulebook has no such file"})
		}
	}
	now, skip := names, ""
	if trusted {
		skip = "cases"
		now = slices.DeleteFunc(slices.Clone(names), func(name string) bool { return path.Dir(name) == "tables" })
		l.book.lateTable = func(id string) (*Table, error) { return l.table(id, data) }
	}
	docs := parse(now, data, skip)
	l.one(docs["sources.yaml"], (*file).sourceList)
	l.one(docs["terms.yaml"], (*file).terms)
	for _, folder := range folders {
		if folder.name == "facts" && len(l.errs) > 0 {
			// Everything else draws on sources, terms and tables; complaints about what they
			// lack would hide what is wrong with them.
			return l, nil
		}
		for _, name := range names {
			if path.Dir(name) == folder.name {
				l.one(docs[name], folder.read)
			}
		}
		if folder.name == "facts" {
			l.vocabulary()
		}
	}
	for _, name := range names {
		if !placed(name) {
			// A rule in a misspelt folder must not be dropped in silence.
			l.errs = append(l.errs, &strictyaml.Error{File: name, Msg: "no rule file belongs here" + strictyaml.Nearest(path.Dir(name), folderNames())})
		}
	}
	l.index()
	return l, nil
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
	return name == "sources.yaml" || name == "terms.yaml" || slices.Contains(folderNames(), path.Dir(name))
}

// list returns the names of the rulebook's files, sorted, so that the order of a directory
// changes nothing.
func list(fsys fs.FS) ([]string, error) {
	var names []string
	err := fs.WalkDir(fsys, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if !entry.IsDir() && strings.HasSuffix(name, ".yaml") {
			names = append(names, name)
		}
		if len(names) > maxFiles {
			return fmt.Errorf("more than %d files", maxFiles)
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("rulebook: %w", err)
	}
	slices.Sort(names)
	return names, nil
}

// readFile reads at most one byte more than a rule file may have, so that a huge file is
// noticed without being held.
func readFile(fsys fs.FS, name string) ([]byte, error) {
	f, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var b bytes.Buffer
	if info, err := f.Stat(); err == nil {
		b.Grow(int(min(info.Size(), MaxFileBytes)) + bytes.MinRead)
	}
	_, err = b.ReadFrom(io.LimitReader(f, MaxFileBytes+1))
	return b.Bytes(), err
}

// parse reads the files as YAML, all processors at once: that is most of the time that a
// program takes to start.
func parse(names []string, data map[string][]byte, skip string) map[string]*strictyaml.Doc {
	docs := make([]*strictyaml.Doc, len(names))
	var next atomic.Int64
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= len(names) {
					return
				}
				docs[i] = strictyaml.Parse(names[i], data[names[i]], strictyaml.Options{MaxBytes: MaxFileBytes, Closing: closingKey(names[i]), Skip: skip})
			}
		})
	}
	wg.Wait()
	out := make(map[string]*strictyaml.Doc, len(names))
	for i, name := range names {
		out[name] = docs[i]
	}
	return out
}

// table reads one table of a trusted book.
func (l *loader) table(id string, data map[string][]byte) (*Table, error) {
	name := "tables/" + id + ".yaml"
	content, ok := data[name]
	if !ok {
		return nil, fmt.Errorf("there is no table %q", id)
	}
	late := &loader{seen: map[string]strictyaml.Pos{}, book: &Book{Sources: l.book.Sources, tables: map[string]*Table{}}}
	late.one(parse([]string{name}, map[string][]byte{name: content}, "")[name], (*file).table)
	if errs := late.errs.Sorted(); errs != nil {
		return nil, errs
	}
	return late.book.tables[id], nil
}

// closingKey is the key that must end a file.
func closingKey(name string) string {
	if name == "sources.yaml" {
		return "count"
	}
	return "sources"
}

// one walks one file; nil is a file that is not there.
func (l *loader) one(doc *strictyaml.Doc, read func(*file, *strictyaml.Map)) {
	if doc == nil {
		return
	}
	if errs := doc.Errs(); errs != nil {
		l.errs = append(l.errs, errs...)
		return
	}
	f := &file{loader: l, name: doc.File, cited: map[string]bool{}}
	top := doc.Top()
	read(f, top)
	if closingKey(doc.File) == "sources" {
		f.closing(top)
	}
	top.Done()
	l.errs = append(l.errs, doc.Errs()...)
	l.errs = append(l.errs, f.errs...)
}

// vocabulary readies the facts for conditions.
func (l *loader) vocabulary() {
	var facts []condition.Fact
	for _, f := range l.book.Facts {
		facts = append(facts, condition.Fact{ID: f.ID, Kind: f.Kind, Answers: f.answerIDs()})
	}
	l.book.env = condition.NewEnv(facts)
}

func (l *loader) index() {
	b := l.book
	slices.SortFunc(b.Findings, func(x, y *Finding) int { return cmp.Compare(x.ID, y.ID) })
	slices.SortFunc(b.Defects, func(x, y *Defect) int { return cmp.Compare(x.ID, y.ID) })
	slices.SortFunc(b.Methods, func(x, y *Method) int { return cmp.Compare(x.ID, y.ID) })
	slices.SortFunc(b.Warnings, func(x, y *Warning) int { return cmp.Compare(x.ID, y.ID) })
	slices.SortFunc(b.Calculators, func(x, y *Calculator) int { return cmp.Compare(x.ID, y.ID) })
	for i, id := range slices.Sorted(maps.Keys(b.Facts)) {
		b.Facts[id].Index = i
	}
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
	for _, d := range b.Defects {
		b.defects[d.ID] = d
	}
	for _, m := range b.Methods {
		b.methods[m.ID] = m
		for _, d := range m.Treats {
			b.treating[d] = append(b.treating[d], m)
		}
	}
}

// unique reports an id of a kind that two rules share.
func (l *loader) unique(kind, id string, pos strictyaml.Pos) {
	key := kind + " " + id
	if first, ok := l.seen[key]; ok {
		l.errs = append(l.errs, pos.Error("the %s %q stands twice; first in %s, line %d", kind, id, first.File(), first.Line))
		return
	}
	l.seen[key] = pos
}
