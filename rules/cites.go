package rules

// Cites is the set of sources that something in the book rests on. The tables of a book read with
// LoadTrusted that nobody has asked for yet are not looked at.
func (b *Book) Cites() map[string]bool {
	out := map[string]bool{"design-choice": true} // which outcome meets which aim is ours
	add := func(ids []string) {
		for _, id := range ids {
			out[id] = true
		}
	}
	clauses := func(cs []Clause) {
		for _, c := range cs {
			add(c.Sources)
		}
	}
	for _, f := range b.Facts {
		add(f.Sources)
	}
	for _, f := range b.Findings {
		for _, br := range f.Branches {
			add(br.Sources)
		}
	}
	for _, d := range b.Defects {
		add(d.Sources)
		clauses(d.Signs)
	}
	for _, m := range b.Methods() {
		clauses(m.Suits)
		clauses(m.Never)
		for _, h := range m.Harms {
			add(h.Sources)
		}
		for _, l := range m.Leaves {
			add(l.Sources)
		}
		for _, w := range m.Waits {
			add(w.Sources)
		}
	}
	for _, w := range b.Warnings {
		add(w.Sources)
	}
	for _, p := range b.Order().Pairs {
		add(p.Sources)
	}
	for _, c := range b.Order().Chores {
		add(c.Sources)
		for _, w := range c.Waits {
			add(w.Sources)
		}
	}
	for _, a := range b.Order().Aftermaths {
		add(a.Sources)
	}
	for _, g := range b.Order().Goods {
		add(g.Sources)
	}
	b.tableMu.Lock()
	defer b.tableMu.Unlock()
	for _, t := range b.tables {
		for _, r := range t.Rows {
			add(r.Sources)
		}
	}
	return out
}
