package rules

import (
	"slices"
	"strings"
)

// Reach is what an answer to one fact can change the judgement of.
type Reach struct {
	// Facts are the fact itself and what is found or looked up from it.
	Facts map[string]bool
	// Asks are those and what they may make meaningless, with what is found or looked up from that: for
	// all of these the answer may change what is to be asked.
	Asks map[string]bool
	// Defects are the kinds whose signs read one of Facts.
	Defects map[*Defect]bool
	// Warnings are those whose condition reads one of Facts.
	Warnings map[*Warning]bool

	book *Book
	// the same by index, which is quicker to look up
	facts, asks, kinds set
}

// Fact reports whether the fact with an index is among Facts.
func (r *Reach) Fact(index int) bool { return r.facts.has(index) }

// Asked reports whether the fact with an index is among Asks.
func (r *Reach) Asked(index int) bool { return r.asks.has(index) }

// Reads reports whether a condition reads one of Facts.
func (r *Reach) Reads(c *Cond) bool {
	comp, err := c.Compile()
	if err != nil {
		return true // whoever judges it says so
	}
	for _, at := range comp.Places {
		if r.facts.has(at) {
			return true
		}
	}
	return false
}

// Kind reports whether a kind, by its index, is among Defects.
func (r *Reach) Kind(d *Defect) bool { return r.kinds.has(d.Index) }

// set is a set of small numbers.
type set []uint64

func (s set) has(i int) bool { return i>>6 < len(s) && s[i>>6]&(1<<(i&63)) != 0 }

func (s *set) put(i int) {
	for i>>6 >= len(*s) {
		*s = append(*s, 0)
	}
	(*s)[i>>6] |= 1 << (i & 63)
}

// Method reports whether a method's conditions or harms read one of Facts, or its sums are done with one.
func (r *Reach) Method(m *Method) bool {
	return m != nil && slices.ContainsFunc(r.book.reads(m), r.facts.has)
}

// readers lists what reads a fact itself.
type readers struct {
	found, gated []string // facts found or looked up from it; facts that apply only by it
	defects      []*Defect
	warnings     []*Warning
}

// Reach returns what an answer to a fact can change. It is worked out once and not to be changed.
func (b *Book) Reach(fact string) *Reach {
	b.readersOnce.Do(b.indexReaders)
	if r, ok := b.reach.Load(fact); ok {
		return r.(*Reach)
	}
	r := &Reach{Facts: map[string]bool{}, Asks: map[string]bool{}, Defects: map[*Defect]bool{}, Warnings: map[*Warning]bool{}, book: b}
	var walk func(id string, seen map[string]bool, gates bool)
	walk = func(id string, seen map[string]bool, gates bool) {
		if seen[id] {
			return
		}
		seen[id] = true
		at := b.readers[id]
		if at == nil {
			return
		}
		for _, next := range at.found {
			walk(next, seen, gates)
		}
		if gates {
			for _, next := range at.gated {
				walk(next, seen, gates)
			}
		}
	}
	walk(fact, r.Facts, false)
	walk(fact, r.Asks, true)
	for id := range r.Asks {
		if f := b.Facts[id]; f != nil {
			r.asks.put(f.Index)
		}
	}
	for id := range r.Facts {
		if f := b.Facts[id]; f != nil {
			r.facts.put(f.Index)
		}
		at := b.readers[id]
		if at == nil {
			continue
		}
		for _, d := range at.defects {
			r.Defects[d] = true
			r.kinds.put(d.Index)
		}
		for _, w := range at.warnings {
			r.Warnings[w] = true
		}
	}
	got, _ := b.reach.LoadOrStore(fact, r)
	return got.(*Reach)
}

// indexReaders notes for every fact what reads it.
func (b *Book) indexReaders() {
	b.readers = map[string]*readers{}
	at := func(id string) *readers {
		r := b.readers[id]
		if r == nil {
			r = &readers{}
			b.readers[id] = r
		}
		return r
	}
	for id, f := range b.Facts {
		for _, read := range f.Applies.Names() {
			at(read).gated = append(at(read).gated, id)
		}
		if f.Lookup != nil {
			at(f.Lookup.By).found = append(at(f.Lookup.By).found, id)
		}
	}
	for _, f := range b.Findings {
		for _, br := range f.Branches {
			for _, read := range br.When.Names() {
				at(read).found = append(at(read).found, f.Derives)
			}
		}
	}
	for _, d := range b.Defects {
		for _, c := range d.Signs {
			for _, read := range c.When.Names() {
				at(read).defects = append(at(read).defects, d)
			}
		}
	}
	for _, w := range b.Warnings {
		for _, read := range w.When.Names() {
			at(read).warnings = append(at(read).warnings, w)
		}
	}
}

// reads lists, by index, the facts of readBy. It is worked out once.
func (b *Book) reads(m *Method) []int {
	if got, ok := b.readBys.Load(m); ok {
		return got.([]int)
	}
	var out []int
	for _, id := range b.readBy(m) {
		if f := b.Facts[id]; f != nil && !slices.Contains(out, f.Index) {
			out = append(out, f.Index)
		}
	}
	b.readBys.Store(m, out)
	return out
}

// readBy lists the facts that a method's own judgement rests on; for a computed one, what it is computed from.
func (b *Book) readBy(m *Method) []string {
	out := []string{b.Terms.AimFact}
	add := func(clauses []Clause) {
		for _, c := range clauses {
			out = append(out, c.When.Names()...)
		}
	}
	add(m.Suits)
	add(m.Never)
	for _, h := range m.Harms {
		out = append(out, h.From)
		for _, s := range h.Raised {
			out = append(out, s.When.Names()...)
		}
		for _, s := range h.Lowered {
			out = append(out, s.When.Names()...)
		}
	}
	for _, c := range b.Calculators {
		if m.Has(c.ID) {
			for _, in := range c.Inputs {
				out = append(out, in)
			}
		}
	}
	if m.Vapour != nil {
		out = append(out, m.Vapour.By)
	}
	if m.Coat != nil {
		out = append(out, m.Coat.By)
	}
	return out
}

// Names lists the facts that the condition names, as they stand in its text; none of a nil condition,
// which is always true. Unlike Compile it costs next to nothing.
func (c *Cond) Names() []string {
	if c == nil {
		return nil
	}
	var out []string
	for rest := c.Text; rest != ""; {
		i := strings.IndexFunc(rest, func(r rune) bool { return r == '"' || r == '\'' || isWord(r) })
		if i < 0 {
			break
		}
		rest = rest[i:]
		if q := rest[0]; q == '"' || q == '\'' { // an answer
			end := strings.IndexByte(rest[1:], q)
			if end < 0 {
				break
			}
			rest = rest[end+2:]
			continue
		}
		end := strings.IndexFunc(rest, func(r rune) bool { return !isWord(r) && r != '.' })
		if end < 0 {
			end = len(rest)
		}
		if word := rest[:end]; c.book.Facts[word] != nil {
			out = append(out, word)
		}
		rest = rest[end:]
	}
	return out
}

func isWord(r rune) bool {
	return r == '_' || 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || '0' <= r && r <= '9'
}
