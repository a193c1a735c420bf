package strictyaml

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// Pos is a place in a file that can still be complained about after the file has been walked.
// The zero Pos belongs to no file.
type Pos struct {
	doc       *Doc
	Line, Col int
	// inline says that the text at this place runs on in one line, so that an offset into the
	// text is an offset into the line.
	inline bool
}

// File is the name of the file, or "" for the zero Pos.
func (p Pos) File() string {
	if p.doc == nil {
		return ""
	}
	return p.doc.File
}

// Error returns a mistake at this place.
func (p Pos) Error(format string, args ...any) *Error { return p.ErrorAt(0, format, args...) }

// ErrorAt returns a mistake offset characters into the text at this place.
func (p Pos) ErrorAt(offset int, format string, args ...any) *Error {
	d := Doc{File: "(no file)"}
	if p.doc != nil {
		d = Doc{File: p.doc.File, text: p.doc.text}
	}
	if !p.inline {
		offset = 0
	}
	d.fail(p.Line, p.Col+offset, format, args...)
	return d.errs[0]
}

// Node is one value of the file.
type Node struct {
	doc *Doc
	n   *node
}

// Pos is where the value stands.
func (v Node) Pos() Pos {
	if v.n == nil {
		return Pos{doc: v.doc}
	}
	p := Pos{doc: v.doc, Line: v.n.Line, Col: v.n.Column}
	if v.n.Kind == yaml.ScalarNode && v.n.Line >= 1 {
		p.inline = v.n.inline
		if v.n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) != 0 {
			p.Col++
		}
	}
	return p
}

// Fail records a mistake at the value.
func (v Node) Fail(format string, args ...any) {
	p := v.Pos()
	v.doc.fail(p.Line, p.Col, format, args...)
}

// Scalar returns the text of a plain value and whether it is one; lists and mappings are not.
func (v Node) Scalar() (string, bool) {
	if v.n == nil || v.n.Kind != yaml.ScalarNode || v.n.null {
		return "", false
	}
	return v.n.Value, true
}

// IsList reports whether the value is a list.
func (v Node) IsList() bool { return v.n != nil && v.n.Kind == yaml.SequenceNode }

// Str returns the text of the value; a list, a mapping or nothing at all is a mistake.
func (v Node) Str() string {
	s, ok := v.Scalar()
	if !ok || strings.TrimSpace(s) == "" {
		v.Fail("expected a text")
	}
	return s
}

// Num returns the number the value is.
func (v Node) Num() float64 {
	s, _ := v.Scalar()
	f, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(f) || math.IsInf(f, 0) {
		v.Fail("expected a number")
		return 0
	}
	return f
}

// Nums returns the numbers of a list of exactly n.
func (v Node) Nums(n int) []float64 {
	out := make([]float64, n)
	l := v.List()
	if len(l) != n {
		v.Fail("expected a list of %d numbers", n)
		return out
	}
	for i, e := range l {
		out[i] = e.Num()
	}
	return out
}

// Bool returns the yes or no the value is.
func (v Node) Bool() bool {
	s, _ := v.Scalar()
	b, ok := YesNo(s)
	if !ok {
		v.Fail("expected yes or no")
	}
	return b
}

// YesNo reads yes and no as people type them.
func YesNo(s string) (yes, ok bool) {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "yes", "true", "y":
		return true, true
	case "no", "false", "n":
		return false, true
	}
	return false, false
}

// List returns the values of a list.
func (v Node) List() []Node {
	if !v.IsList() {
		v.Fail("expected a list")
		return nil
	}
	out := make([]Node, len(v.n.Content))
	for i, c := range v.n.Content {
		out[i] = Node{v.doc, c}
	}
	return out
}

// OneOrMore returns the values of a list, or the one value that is not a list.
func (v Node) OneOrMore() []Node {
	if v.IsList() {
		return v.List()
	}
	return []Node{v}
}

// Map returns the value as a mapping.
func (v Node) Map() *Map { return newMap(v.doc, v.n) }

// Map is a mapping whose keys are taken one by one; what nobody took is reported by Done.
type Map struct {
	Node
	taken []string   // may hold a key twice
	room  [14]string // for most of them
}

func newMap(d *Doc, n *node) *Map {
	m := &Map{}
	m.be(d, n)
	return m
}

// be makes m the mapping n, of which nothing was taken.
func (m *Map) be(d *Doc, n *node) {
	m.Node = Node{d, n}
	m.taken = m.room[:0]
	if n == nil || n.Kind != yaml.MappingNode {
		m.Fail("expected a mapping (name: value)")
		m.n = &node{Kind: yaml.MappingNode, Line: m.Pos().Line, Column: m.Pos().Col}
	}
}

// Opt takes the value of key, if it is there.
func (m *Map) Opt(key string) (Node, bool) {
	m.taken = append(m.taken, key)
	for i := 0; i+1 < len(m.n.Content); i += 2 {
		if m.n.Content[i].Value == key {
			return Node{m.doc, m.n.Content[i+1]}, true
		}
	}
	return Node{m.doc, nil}, false
}

// Need takes the value of key; that it is missing is a mistake.
func (m *Map) Need(key string) (Node, bool) {
	v, ok := m.Opt(key)
	if !ok {
		m.Fail("the key %q is missing", key)
	}
	return v, ok
}

// Str takes the text of key, which must be there.
func (m *Map) Str(key string) string {
	if v, ok := m.Need(key); ok {
		return v.Str()
	}
	return ""
}

// OptStr takes the text of key, or "".
func (m *Map) OptStr(key string) string {
	if v, ok := m.Opt(key); ok {
		return v.Str()
	}
	return ""
}

// OptStrs takes the texts of a list, or nil.
func (m *Map) OptStrs(key string) []string {
	v, ok := m.Opt(key)
	if !ok {
		return nil
	}
	var out []string
	for _, e := range v.List() {
		out = append(out, e.Str())
	}
	return out
}

// Each takes the list of key, which must be there, and calls f for each mapping in it; what f
// left over in a mapping is a mistake. f may not keep the mapping.
func (m *Map) Each(key string, f func(*Map)) {
	if v, ok := m.Need(key); ok {
		v.each(f)
	}
}

// OptEach is Each for a key that may be missing.
func (m *Map) OptEach(key string, f func(*Map)) {
	if v, ok := m.Opt(key); ok {
		v.each(f)
	}
}

func (v Node) each(f func(*Map)) {
	if !v.IsList() {
		v.Fail("expected a list")
		return
	}
	var em Map // one after the other
	for _, c := range v.n.Content {
		em.be(v.doc, c)
		f(&em)
		em.Done()
	}
}

// Keys returns the keys of the mapping in file order, with their places, and takes them all.
func (m *Map) Keys() []Node {
	var out []Node
	for i := 0; i+1 < len(m.n.Content); i += 2 {
		m.taken = append(m.taken, m.n.Content[i].Value)
		out = append(out, Node{m.doc, m.n.Content[i]})
	}
	return out
}

// Done reports every key that nobody took.
func (m *Map) Done() { m.doc.errs = append(m.doc.errs, m.Left()...) }

// Left returns a mistake for every key that nobody took, and reports none.
func (m *Map) Left() Errors {
	var out Errors
	for i := 0; i+1 < len(m.n.Content); i += 2 {
		if k := m.n.Content[i]; !slices.Contains(m.taken, k.Value) {
			known := slices.Compact(slices.Sorted(slices.Values(m.taken)))
			out = append(out, Node{m.doc, k}.Pos().Error("unknown key %q%s", k.Value, Nearest(k.Value, known)))
		}
	}
	return out
}
