package rules

import (
	"path"
	"strings"

	"mendwright/rules/condition"
	"mendwright/rules/strictyaml"
)

// ofOrder are the folders that only a plan needs.
var ofOrder = map[string]bool{"goods": true, "pairs": true, "chores": true, "aftermaths": true}

func (f *file) selector(m *strictyaml.Map, key string) Selector {
	v, ok := m.Need(key)
	if !ok {
		return Selector{}
	}
	return f.picks(v)
}

func (f *file) picks(v strictyaml.Node) Selector {
	m := v.Map()
	s := Selector{GivesOff: f.emissions(m, "gives_off"), Methods: m.OptStrs("methods"), Coats: m.OptStrs("coats"), But: m.OptStrs("but")}
	if v, ok := m.Opt("stages"); ok {
		for _, n := range v.List() {
			s.Stages = append(s.Stages, wordOf(n, f.book.Terms.StageIDs()))
		}
	}
	if len(s.GivesOff)+len(s.Methods)+len(s.Coats)+len(s.Stages) == 0 {
		v.Fail("expected which repairs are meant: stages, gives_off, methods or coats")
	}
	m.Done()
	return s
}

func (f *file) pair(m *strictyaml.Map) {
	p := &Pair{Own: f.origin()}
	p.ID, p.Pos = f.id(m, "pair")
	p.First, p.Next = f.selector(m, "first"), f.selector(m, "next")
	p.Where = oneOf(m, "where", Wheres)
	p.When = f.cond(m, "when")
	if v, ok := m.Need("hard"); ok {
		p.Hard = v.Bool()
	}
	if v, ok := m.Opt("between"); ok {
		between := v.Map()
		p.Between = &Between{Do: between.Str("do")}
		if v, ok := between.Need("hours"); ok {
			p.Between.Hours = amounts(v)
		}
		between.Done()
	}
	p.Instead, p.Swap = m.OptStr("instead"), m.OptStrs("swap")
	if p.Instead != "" && p.Between != nil {
		m.Fail("either the order saves both, with what lies between, or something else instead does")
	}
	if p.Instead == "" && len(p.Swap) > 0 {
		m.Fail("swap names what may stand in for the first; say under instead why")
	}
	p.Because, p.Sources = m.Str("because"), f.cite(m)
	m.OptEach("cases", func(m *strictyaml.Map) {
		c := PairCase{That: m.Str("that"), First: m.Str("first"), Next: m.Str("next"), Given: f.known(m, "given"), Pos: m.Pos()}
		if v, ok := m.Need("holds"); ok {
			c.Holds = v.Bool()
		}
		p.Cases = append(p.Cases, c)
	})
	f.book.order.Pairs = append(f.book.order.Pairs, p)
}

func (f *file) chore(m *strictyaml.Map) {
	c := &Chore{Own: f.origin()}
	c.ID, c.Pos = f.id(m, "chore")
	c.Name = m.Str("name")
	c.With = f.selector(m, "with")
	c.Where = oneOf(m, "where", Wheres)
	c.When = f.cond(m, "when")
	c.Stage = oneOf(m, "stage", f.book.Terms.StageIDs())
	c.Minutes, c.Waits, c.Materials = f.minutes(m), f.waits(m), f.materials(m)
	c.Steps = f.steps(m)
	c.Compare = m.OptStrs("compare")
	c.Because, c.Sources = m.Str("because"), f.cite(m)
	f.book.order.Chores = append(f.book.order.Chores, c)
}

func (f *file) aftermath(m *strictyaml.Map) {
	a := &Aftermath{Own: f.origin()}
	a.ID, a.Pos = f.id(m, "aftermath")
	a.When = f.needCond(m, "when")
	a.Unless = f.selector(m, "unless")
	a.Mark = f.known(m, "mark")
	a.Because, a.Sources = m.Str("because"), f.cite(m)
	f.book.order.Aftermaths = append(f.book.order.Aftermaths, a)
}

func (f *file) goods(m *strictyaml.Map) {
	m.Str("about")
	if v, ok := m.Need("goods"); ok && v.Str() != strings.TrimSuffix(path.Base(f.name), ".yaml") {
		v.Fail("the file is called %s; the two must be the same", path.Base(f.name))
	}
	m.Each("list", func(m *strictyaml.Map) {
		g := &Good{ID: m.Str("id"), Name: m.Str("name"), Pos: m.Pos(), Own: f.origin()}
		f.unique("good", g.ID, m.Pos())
		g.Unit = oneOf(m, "unit", []string{"L", "ml", "kg", "g", "m", "sheets", "pieces"})
		if v, ok := m.Opt("covers_m2"); ok {
			if g.Covers = amounts(v); g.Covers.Lo <= 0 {
				v.Fail("what covers nothing needs no figure")
			}
		}
		if v, ok := m.Opt("waste_percent"); ok {
			if g.Waste = v.Num() / 100; g.Waste < 0 || g.Waste > 2 {
				v.Fail("expected a percentage of at least 0 and at most 200")
			}
		}
		g.Keep, g.Discard = m.OptStr("keep"), m.OptStr("discard")
		g.Sources = f.cite(m)
		f.book.order.Goods[g.ID] = g
	})
}

// materials takes what a method uses up: words, or a good with its amount.
func (f *file) materials(m *strictyaml.Map) []Material {
	v, ok := m.Opt("materials")
	if !ok {
		return nil
	}
	var out []Material
	for _, n := range v.List() {
		if text, plain := n.Scalar(); plain {
			out = append(out, Material{Text: text})
			continue
		}
		m := n.Map()
		u := Material{Text: m.OptStr("as"), Good: m.OptStr("good"), By: m.OptStr("by")}
		if (u.Good == "") == (u.By == "") {
			m.Fail("expected either good, the thing itself, or by, the fact whose answer names it")
		}
		if u.By != "" && u.Text == "" {
			m.Fail("what an answer names needs words of its own (as)")
		}
		if u.Text == "" {
			u.Text = strings.ReplaceAll(u.Good, "-", " ")
		}
		amount := func(key string) float64 {
			v, ok := m.Opt(key)
			if !ok {
				return 0
			}
			x := v.Num()
			if x <= 0 || x > 1e4 {
				v.Fail("expected an amount above 0")
			}
			return x
		}
		u.Coats, u.Each = amount("coats"), amount("each")
		if u.Coats > 0 && u.Each > 0 {
			m.Fail("expected how often it goes over the area (coats) or how much a mark takes (each), not both")
		}
		m.Done()
		out = append(out, u)
	}
	return out
}

// known takes known answers by fact.
func (f *file) known(m *strictyaml.Map, key string) map[string]condition.Value {
	out := map[string]condition.Value{}
	v, ok := m.Need(key)
	if !ok {
		return out
	}
	given := v.Map()
	for _, k := range given.Keys() {
		id, _ := k.Scalar()
		fact := f.fact(k, id)
		if fact == nil {
			continue
		}
		n, _ := given.Opt(id)
		if v, known := answer(n, fact); known {
			out[id] = v
		}
	}
	return out
}
