package rules

import (
	"slices"
	"strings"

	"mendwright/rules/condition"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
	"mendwright/rules/strictyaml"
)

// sourceList reads sources.yaml; its closing key counts the sources, so that a lost one shows.
func (f *file) sourceList(m *strictyaml.Map) {
	before := len(f.book.Sources)
	m.Each("sources", func(m *strictyaml.Map) {
		s := &Source{ID: m.Str("id"), Kind: oneOf(m, "kind", SourceKinds), Title: m.Str("title"), Where: m.OptStr("where"), Pos: m.Pos()}
		f.unique("source", s.ID, m.Pos())
		f.book.Sources[s.ID] = s
	})
	n := len(f.book.Sources) - before
	if v, ok := m.Need("count"); ok && v.Num() != float64(n) {
		v.Fail("the file holds %d sources; was it cut short?", n)
	}
}

func (f *file) terms(m *strictyaml.Map) {
	t := &f.book.Terms
	m.Str("terms")
	list := func(key string) (out []Term) {
		m.Each(key, func(m *strictyaml.Map) {
			term := Term{ID: m.Str("id"), Means: m.Str("means")}
			f.unique(key, term.ID, m.Pos())
			out = append(out, term)
		})
		return out
	}
	t.Emissions = list("emissions")
	m.Each("stages", func(m *strictyaml.Map) {
		stage := Stage{ID: m.Str("id"), Means: m.Str("means"), Across: "surface"}
		f.unique("stages", stage.ID, m.Pos())
		if v, ok := m.Opt("across"); ok {
			stage.Across = wordOf(v, Wheres)
		}
		if v, ok := m.Opt("whole"); ok {
			stage.Whole = v.Bool()
		}
		if v, ok := m.Opt("once"); ok {
			stage.Once = v.Bool()
		}
		t.Stages = append(t.Stages, stage)
	})
	t.Sanding = f.emissions(m, "sanding")
	if v, ok := m.Need("aims"); ok {
		aims := v.Map()
		t.AimFact = aims.Str("fact")
		aims.Each("accepts", func(m *strictyaml.Map) {
			a := Aim{Aim: m.Str("aim")}
			if v, ok := m.Need("outcomes"); ok {
				for _, n := range v.List() {
					a.Outcomes = append(a.Outcomes, wordOf(n, Outcomes))
				}
			}
			t.Aims = append(t.Aims, a)
		})
		aims.Done()
	}
	f.cited["design-choice"] = true // which outcome meets which aim is ours
}

func (f *file) table(m *strictyaml.Map) {
	t := &Table{byKey: map[string]*Row{}}
	t.ID, t.Pos = f.id(m, "table")
	t.Key = m.Str("key")
	m.Each("columns", func(m *strictyaml.Map) {
		t.Columns = append(t.Columns, Column{ID: m.Str("id"), Kind: oneOf(m, "kind", []string{"number", "range", "text"}), Means: m.Str("means")})
	})
	m.Each("rows", func(m *strictyaml.Map) {
		r := &Row{Key: m.Str(t.Key), Texts: map[string]string{}, Ranges: map[string]interval.Range{}, Pos: m.Pos()}
		for _, c := range t.Columns {
			v, ok := m.Need(c.ID)
			if !ok {
				continue
			}
			switch c.Kind {
			case "number":
				r.Ranges[c.ID] = interval.Exact(v.Num())
			case "range":
				r.Ranges[c.ID] = span(v)
			default:
				r.Texts[c.ID] = v.Str()
			}
		}
		r.Sources = f.cite(m)
		f.unique("row of "+t.ID, r.Key, m.Pos())
		t.Rows = append(t.Rows, r)
		t.byKey[r.Key] = r
	})
	f.book.tables[t.ID] = t
}

func (f *file) facts(m *strictyaml.Map) {
	subject := oneOf(m, "subject", Subjects)
	m.Str("about")
	m.OptEach("calculators", func(m *strictyaml.Map) {
		c := &Calculator{ID: m.Str("id"), Inputs: map[string]string{}, Pos: m.Pos()}
		f.unique("calculator", c.ID, m.Pos())
		if v, ok := m.Need("inputs"); ok {
			inputs := v.Map()
			for _, k := range inputs.Keys() {
				role, _ := k.Scalar()
				c.Inputs[role] = inputs.Str(role)
			}
		}
		f.book.Calculators = append(f.book.Calculators, c)
	})
	m.Each("facts", func(m *strictyaml.Map) {
		fact := f.oneFact(m, subject)
		f.unique("fact", fact.ID, m.Pos())
		f.book.Facts[fact.ID] = fact
	})
}

func (f *file) oneFact(m *strictyaml.Map, subject string) *Fact {
	fact := &Fact{ID: m.Str("id"), Subject: subject, Ask: m.OptStr("ask"), Tell: m.Str("tell"), Pos: m.Pos()}
	if !strings.HasPrefix(fact.ID, subject+".") {
		m.Fail("the fact %q does not begin with %q, the subject of this file", fact.ID, subject+".")
	}
	kinds := []string{"choice", "several", "yes-no", "quantity"}
	fact.Kind = condition.Kind(slices.Index(kinds, oneOf(m, "kind", kinds)))
	switch fact.Kind {
	case condition.Choice, condition.Several:
		fact.Answers = f.answers(m)
	case condition.Quantity:
		fact.Unit = m.Str("unit")
		if !quantity.Known(fact.Unit) {
			m.Fail("the unit %q is not one a fact can be kept in", fact.Unit)
		}
		if v, ok := m.Need("range"); ok {
			fact.Bounds = span(v)
		}
		if v, ok := m.Opt("spread"); ok {
			if fact.Spread = v.Num(); fact.Spread < 0 {
				v.Fail("expected a number of at least 0")
			}
		}
	}
	fact.Computed = m.OptStr("computed")
	if v, ok := m.Opt("lookup"); ok {
		lookup := v.Map()
		fact.Lookup = &Lookup{Table: lookup.Str("table"), Column: lookup.Str("column"), By: lookup.Str("by")}
		lookup.Done()
	}
	if fact.Asked() {
		fact.Effort = oneOf(m, "effort", Efforts)
	}
	fact.Harms = m.OptStr("harms")
	if risky := fact.Effort == "spot-test" || fact.Effort == "take-apart"; risky != (fact.Harms != "") {
		m.Fail("a spot test or taking apart, and nothing else, says under \"harms\" what it may harm")
	}
	fact.Applies = f.cond(m, "applies")
	if v, ok := m.Opt("protective"); ok {
		fact.Protective = v.Bool()
	}
	fact.Sources = f.cite(m)
	fact.Own = f.origin()
	return fact
}

// answers takes the answers of a choice: listed, or the rows of a table.
func (f *file) answers(m *strictyaml.Map) []Answer {
	var out []Answer
	if v, ok := m.Opt("answers_from"); ok {
		t, err := f.book.Table(v.Str())
		if err != nil {
			v.Fail("%s", err)
			return nil
		}
		for _, r := range t.Rows {
			out = append(out, Answer{r.Key, strings.ReplaceAll(r.Key, "-", " ")})
		}
		return out
	}
	seen := map[string]bool{}
	m.Each("answers", func(m *strictyaml.Map) {
		a := Answer{ID: m.Str("id"), Means: m.Str("means")}
		if seen[a.ID] {
			m.Fail("the answer %q stands twice", a.ID)
		}
		if plain(a.ID) != a.ID {
			m.Fail("an answer is lower-case words joined by hyphens")
		}
		if cannotTell(a.ID) {
			m.Fail("%q says that nothing could be told; it cannot be an answer", a.ID)
		}
		seen[a.ID] = true
		out = append(out, a)
	})
	if len(out) == 0 {
		m.Fail("a fact of this kind has answers")
	}
	return out
}
