package rules

import (
	"slices"

	"mendwright/rules/strictyaml"
)

func (f *file) finding(m *strictyaml.Map) {
	d := &Finding{}
	d.ID, d.Pos = f.id(m, "finding")
	d.Derives = m.Str("derives")
	fact := f.fact(m.Node, d.Derives)
	m.Each("branches", func(m *strictyaml.Map) {
		b := Branch{Clause: Clause{When: f.needCond(m, "when")}}
		if v, ok := m.Need("is"); ok && fact != nil {
			var known bool
			if b.Is, known = answer(v, fact); !known {
				v.Fail("a branch ends in a known answer to %s", fact.ID)
			}
		}
		b.Because, b.Sources = m.Str("because"), f.cite(m)
		d.Branches = append(d.Branches, b)
	})
	if len(d.Branches) == 0 {
		m.Fail("a finding has at least one branch")
	}
	d.Cases = f.cases(m, func(n strictyaml.Node) string {
		if s := n.Str(); s == "unknown" || fact == nil {
			return s
		}
		v, _ := answer(n, fact)
		return v.String()
	})
	d.Survives = f.survives(m)
	d.Own = f.origin()
	f.book.Findings = append(f.book.Findings, d)
}

func (f *file) defect(m *strictyaml.Map) {
	d := &Defect{}
	d.ID, d.Pos = f.id(m, "defect")
	d.Name, d.What = m.Str("name"), m.Str("what")
	d.Signs = f.clauses(m, "signs")
	if len(d.Signs) == 0 {
		m.Fail("a defect kind needs at least one sign")
	}
	m.OptEach("tell", func(m *strictyaml.Map) {
		d.Tell = append(d.Tell, TellApart{From: m.Str("from"), By: m.Str("by")})
	})
	d.IfLeft = m.Str("if_left")
	d.Urgency = oneOf(m, "urgency", Urgencies)
	d.Use = oneOf(m, "use", Uses)
	d.Sources = f.cite(m)
	d.Cases = f.cases(m, oneOfWords("is", "may_be", "is_not"))
	d.Survives = f.survives(m)
	d.Own = f.origin()
	f.book.Defects = append(f.book.Defects, d)
}

func (f *file) method(m *strictyaml.Map) {
	d := &Method{}
	d.ID, d.Pos = f.id(m, "method")
	d.Name, d.What = m.Str("name"), m.Str("what")
	if v, ok := m.Need("treats"); ok {
		for _, n := range v.List() {
			if slices.Contains(d.Treats, n.Str()) {
				n.Fail("%q stands twice", n.Str())
			}
			d.Treats = append(d.Treats, n.Str())
		}
		if len(d.Treats) == 0 {
			v.Fail("a method treats at least one kind of defect")
		}
	}
	d.Stage = oneOf(m, "stage", f.book.Terms.StageIDs())
	d.Covers = "mark"
	if v, ok := m.Opt("covers"); ok {
		d.Covers = wordOf(v, Wheres)
	}
	d.Suits, d.Never = f.clauses(m, "suits"), f.clauses(m, "never")
	d.Achieves, d.Undo = oneOf(m, "achieves", Outcomes), oneOf(m, "undo", Undos)
	d.GivesOff = f.emissions(m, "gives_off")
	if v, ok := m.Opt("sanding"); ok {
		d.Sanding = f.sanding(v.Map())
	}
	if v, ok := m.Opt("vapour"); ok {
		vapour := v.Map()
		c := f.choice(vapour)
		d.Vapour = &c
		vapour.Done()
	}
	if v, ok := m.Opt("coat"); ok {
		coat := v.Map()
		d.Coat = &NewCoat{Choice: f.choice(coat)}
		if v, ok := coat.Opt("sprayed"); ok {
			d.Coat.Sprayed = v.Bool()
		}
		coat.Done()
	}
	if v, ok := m.Opt("takes"); ok {
		takes := v.Map()
		if w, ok := takes.Need("wood_mm"); ok {
			d.TakesWood = amounts(w)
		}
		takes.Done()
	}
	m.OptEach("harms", func(m *strictyaml.Map) { d.Harms = append(d.Harms, f.harm(m)) })
	m.OptEach("leaves", func(m *strictyaml.Map) { d.Leaves = append(d.Leaves, f.leave(m)) })
	d.Materials, d.Tools, d.Protection = f.materials(m), m.OptStrs("tools"), m.OptStrs("protection")
	if v, ok := m.Opt("beside"); ok {
		beside := v.Map()
		d.Beside = &Beside{Method: beside.Str("method"), Because: beside.Str("because"), Pos: beside.Pos()}
		beside.Done()
	}
	d.Minutes, d.Waits, d.Steps = f.minutes(m), f.waits(m), f.steps(m)
	d.Cases = f.cases(m, oneOfWords("ready", "needs_answer", "ruled_out", "not_offered"))
	d.Survives = f.survives(m)
	d.Own = f.origin()
	f.put(d)
}

// minutes takes the hands-on time: low, likely and high.
func (f *file) minutes(m *strictyaml.Map) [3]float64 {
	v, ok := m.Need("minutes")
	if !ok {
		return [3]float64{}
	}
	n := v.Nums(3)
	if !(0 <= n[0] && n[0] <= n[1] && n[1] <= n[2]) {
		v.Fail("expected low, likely and high, in this order")
	}
	return [3]float64(n)
}

func (f *file) waits(m *strictyaml.Map) []Wait {
	var out []Wait
	m.OptEach("waits", func(m *strictyaml.Map) {
		w := Wait{For: m.Str("for")}
		if v, ok := m.Need("hours"); ok {
			w.Hours = amounts(v)
		}
		if v, ok := m.Opt("wood"); ok {
			w.Wood = v.Bool()
		}
		w.Because, w.Sources = m.Str("because"), f.cite(m)
		out = append(out, w)
	})
	return out
}

func (f *file) steps(m *strictyaml.Map) []Step {
	var out []Step
	m.Each("steps", func(m *strictyaml.Map) {
		out = append(out, Step{Do: m.Str("do"), Stop: m.OptStr("stop")})
	})
	if len(out) == 0 {
		m.Fail("expected at least one step")
	}
	return out
}

// choice reads which row of a table is meant: `of` names it, `by` the fact whose answer does.
func (f *file) choice(m *strictyaml.Map) Choice {
	c := Choice{Of: m.OptStr("of"), By: m.OptStr("by")}
	if (c.Of == "") == (c.By == "") {
		m.Fail("expected either of, the row itself, or by, the fact whose answer names it")
	}
	return c
}

func (f *file) sanding(m *strictyaml.Map) *Sanding {
	s := &Sanding{ToDefect: oneOf(m, "reaches", []string{"surface", "defect"}) == "defect"}
	if v, ok := m.Need("grits"); ok {
		for _, n := range v.List() {
			s.Grits = append(s.Grits, n.Str())
		}
	}
	if len(s.Grits) == 0 {
		m.Fail("a sanding programme needs at least one grit")
	}
	m.Done()
	return s
}

func (f *file) harm(m *strictyaml.Map) Harm {
	h := Harm{ID: m.Str("harm"), What: m.Str("what"), Pos: m.Pos()}
	h.ToPerson = oneOf(m, "to", []string{"piece", "person"}) == "person"
	h.Severity = slices.Index(Severities, oneOf(m, "severity", Severities))
	h.Probability = slices.Index(Levels, oneOf(m, "probability", Levels))
	h.From = m.OptStr("probability_from")
	h.Raised, h.Lowered = f.shifts(m, "raised"), f.shifts(m, "lowered")
	h.Sources = f.cite(m)
	return h
}

func (f *file) shifts(m *strictyaml.Map, key string) []Shift {
	var out []Shift
	m.OptEach(key, func(m *strictyaml.Map) {
		out = append(out, Shift{
			When: f.needCond(m, "when"), To: slices.Index(Levels, oneOf(m, "to", Levels)), Because: m.Str("because"),
		})
	})
	return out
}

func (f *file) leave(m *strictyaml.Map) Leave {
	l := Leave{Fact: m.Str("fact"), Pos: m.Pos()}
	fact := f.fact(m.Node, l.Fact)
	to, hasTo := m.Opt("to")
	times, hasTimes := m.Opt("times")
	switch {
	case hasTo == hasTimes:
		m.Fail("a leave says either what the fact becomes (to) or what it is multiplied by (times)")
	case hasTimes:
		r := amounts(times)
		l.Times = &r
		if fact != nil && fact.Unit == "" {
			times.Fail("%s is not a quantity", l.Fact)
		}
	case fact != nil:
		if v, known := answer(to, fact); known {
			l.To = &v
		}
	}
	l.Because, l.Sources = m.Str("because"), f.cite(m)
	return l
}

func (f *file) warning(m *strictyaml.Map) {
	w := &Warning{}
	w.ID, w.Pos = f.id(m, "warning")
	w.Signal = oneOf(m, "signal", Signals)
	w.On = f.emissions(m, "on")
	w.When = f.cond(m, "when")
	w.Text = m.Str("text")
	w.Wear = m.OptStrs("wear")
	w.IfWrong = m.Str("if_wrong")
	w.Sources = f.cite(m)
	w.Cases = f.cases(m, oneOfWords(append([]string{"warned", "silent"}, Signals...)...))
	w.Survives = f.survives(m)
	w.Own = f.origin()
	f.book.Warnings = append(f.book.Warnings, w)
}
