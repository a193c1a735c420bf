package rules

import (
	"maps"
	"path"
	"slices"
	"strings"

	"mendwright/rules/condition"
	"mendwright/rules/interval"
	"mendwright/rules/strictyaml"
)

// file is one rule file being read: the keys that all kinds of rule share.
type file struct {
	*loader
	*page
	cited map[string]bool
	errs  strictyaml.Errors
}

// id takes the first key of a rule file, which must be the file's own name.
func (f *file) id(m *strictyaml.Map, kind string) (string, strictyaml.Pos) {
	v, ok := m.Need(kind)
	if !ok {
		return "", m.Pos()
	}
	id := v.Str()
	if want := strings.TrimSuffix(path.Base(f.name), ".yaml"); id != want {
		v.Fail("the file is called %s.yaml, the %s %q; they must be the same", want, kind, id)
	}
	if plain(id) != id {
		v.Fail("an id is lower-case words joined by hyphens")
	}
	if f.own && overridable[kind] {
		f.unique("own "+kind, id, v.Pos())
	} else {
		f.unique(kind, id, v.Pos())
	}
	return id, v.Pos()
}

// cite takes the source of a rule: one id or a list.
func (f *file) cite(m *strictyaml.Map) []string {
	v, ok := m.Need("source")
	if !ok {
		return nil
	}
	var ids []string
	list := v.OneOrMore()
	if len(list) == 0 {
		v.Fail("a rule without a source; write practice, memory or design-choice if there is no document")
	}
	for _, n := range list {
		id := n.Str()
		if !f.trusted {
			f.checkSource(n, id)
			f.cited[id] = true
		}
		ids = append(ids, id)
	}
	return ids
}

func (f *file) checkSource(n strictyaml.Node, id string) {
	if _, ok := f.book.Sources[id]; ok || id == "" {
		return
	}
	var known []string
	for k := range f.book.Sources {
		known = append(known, k)
	}
	n.Fail("the source %q is not declared in sources.yaml%s", id, strictyaml.Nearest(id, known))
}

// closing checks the list that ends a file: exactly the sources cited above it. A file that was
// cut short lacks the list or part of it.
func (f *file) closing(m *strictyaml.Map) {
	v, ok := m.Need("sources")
	if !ok || f.trusted {
		return
	}
	listed := map[string]bool{}
	for _, n := range v.List() {
		id := n.Str()
		f.checkSource(n, id)
		if listed[id] {
			n.Fail("the source %q is listed twice", id)
		}
		listed[id] = true
		if !f.cited[id] {
			n.Fail("the source %q is listed but nothing in the file cites it", id)
		}
	}
	for _, id := range slices.Sorted(maps.Keys(f.cited)) {
		if !listed[id] {
			v.Fail("the closing list lacks the source %q, which the file cites; was the file cut short?", id)
		}
	}
}

// oneOf takes a word of a closed list.
func oneOf(m *strictyaml.Map, key string, words []string) string {
	v, ok := m.Need(key)
	if !ok {
		return first(words)
	}
	return wordOf(v, words)
}

// first stands in for a word that is missing, so that reading can go on.
func first(words []string) string {
	if len(words) == 0 {
		return ""
	}
	return words[0]
}

func wordOf(v strictyaml.Node, words []string) string {
	s := v.Str()
	if !slices.Contains(words, s) {
		v.Fail("read %q; expected one of %s%s", s, strings.Join(words, ", "), strictyaml.Nearest(s, words))
		return first(words)
	}
	return s
}

func termIDs(terms []Term) []string {
	ids := make([]string, len(terms))
	for i, t := range terms {
		ids[i] = t.ID
	}
	return ids
}

func (f *file) emissions(m *strictyaml.Map, key string) []string {
	v, ok := m.Opt(key)
	if !ok {
		return nil
	}
	var out []string
	for _, n := range v.List() {
		out = append(out, wordOf(n, termIDs(f.book.Terms.Emissions)))
	}
	return out
}

// cond takes a condition; nil if the key is missing.
func (f *file) cond(m *strictyaml.Map, key string) *Cond {
	v, ok := m.Opt(key)
	if !ok {
		return nil
	}
	return &Cond{Text: v.Str(), Pos: v.Pos(), book: f.book}
}

func (f *file) needCond(m *strictyaml.Map, key string) *Cond {
	c := f.cond(m, key)
	if c == nil {
		m.Need(key)
		return &Cond{Pos: m.Pos(), book: f.book}
	}
	return c
}

func (f *file) clauses(m *strictyaml.Map, key string) []Clause {
	var out []Clause
	m.OptEach(key, func(m *strictyaml.Map) {
		out = append(out, Clause{When: f.needCond(m, "when"), Because: m.Str("because"), Sources: f.cite(m)})
	})
	return out
}

// fact takes the name of a fact.
func (f *file) fact(n strictyaml.Node, id string) *Fact {
	if fact, ok := f.book.Facts[id]; ok {
		return fact
	}
	var known []string
	for k := range f.book.Facts {
		known = append(known, k)
	}
	if id != "" {
		n.Fail("there is no fact %q%s", id, strictyaml.Nearest(id, known))
	}
	return nil
}

// answer reads n as a known answer to fact.
func answer(n strictyaml.Node, fact *Fact) (condition.Value, bool) {
	var texts []string
	for _, e := range n.OneOrMore() {
		s, ok := e.Scalar()
		if !ok {
			e.Fail("expected an answer to %s", fact.ID)
			return condition.Value{}, false
		}
		texts = append(texts, s)
	}
	v, known, err := fact.ReadAnswer(texts...)
	if err != nil {
		n.Fail("%s", err)
		return condition.Value{}, false
	}
	return v, known
}

// span takes a list of two numbers, lowest first.
func span(v strictyaml.Node) interval.Range {
	n := v.Nums(2)
	r := interval.Range{Lo: n[0], Hi: n[1]}
	if !r.Valid() {
		v.Fail("expected the lower number first")
	}
	return r
}

// amounts is a span of numbers that cannot be less than nothing.
func amounts(v strictyaml.Node) interval.Range {
	r := span(v)
	if r.Lo < 0 {
		v.Fail("expected numbers of at least 0")
	}
	return r
}

// cases takes the cases of a rule; then reads the expectation.
func (f *file) cases(m *strictyaml.Map, then func(strictyaml.Node) string) []Case {
	var out []Case
	m.OptEach("cases", func(m *strictyaml.Map) {
		c := Case{That: m.Str("that"), Given: f.known(m, "given"), Pos: m.Pos()}
		c.Method = m.OptStr("method")
		if v, ok := m.Need("then"); ok {
			c.Then = then(v)
		}
		if v, ok := m.Opt("harms"); ok {
			c.Harms = map[string]Weight{}
			harms := v.Map()
			for _, k := range harms.Keys() {
				id, _ := k.Scalar()
				n, _ := harms.Opt(id)
				c.Harms[id] = weight(n)
			}
		}
		c.NeverReady = m.OptStrs("never_ready")
		c.Best = m.OptStr("best")
		out = append(out, c)
	})
	return out
}

// weight takes how likely a harm is, with how grave it is before that or without: "remote" or
// "critical remote".
func weight(n strictyaml.Node) Weight {
	if s, _ := n.Scalar(); strings.Contains(s, " ") {
		grave, likely, _ := strings.Cut(s, " ")
		w := Weight{slices.Index(Severities, grave), slices.Index(Levels, strings.TrimSpace(likely))}
		if w.Severity < 0 || w.Level < 0 {
			n.Fail("read %q; expected a severity (%s) and a probability (%s)", s, strings.Join(Severities, ", "), strings.Join(Levels, ", "))
			return Weight{}
		}
		return w
	}
	return Weight{-1, slices.Index(Levels, wordOf(n, Levels))}
}

// survives takes the changes of a rule that no case needs to catch.
func (f *file) survives(m *strictyaml.Map) []Survivor {
	var out []Survivor
	m.OptEach("survives", func(m *strictyaml.Map) {
		out = append(out, Survivor{m.Str("change"), m.Str("because"), m.Pos()})
	})
	return out
}

func oneOfWords(words ...string) func(strictyaml.Node) string {
	return func(n strictyaml.Node) string { return wordOf(n, words) }
}
