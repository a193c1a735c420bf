package engine

import (
	"cmp"
	"fmt"
	"slices"

	"mendwright/rules"
	"mendwright/rules/condition"
)

// Triage judges every defect of the job by the rulebook. It changes none of its arguments, and
// the order of answers, defects and surfaces changes nothing in what it says. The error is that
// of a rule that cannot be evaluated, with its place.
func Triage(book *rules.Book, tables *Tables, job *Job) (*Answer, error) {
	a := &Answer{Rulebook: rulebookID(book), Job: job.Name, Defects: []DefectAnswer{}, Warnings: []WarningView{}}
	scenes, err := scenesOf(book, tables, job)
	if err != nil {
		return nil, err
	}
	w := newWarner(book)
	for _, s := range scenes {
		d := s.defect(w)
		a.Defects = append(a.Defects, d)
		a.Conflicts = append(a.Conflicts, s.conflicts()...)
		if s.err != nil {
			return nil, s.err
		}
		if s.wide != nil && s.wide.err != nil {
			return nil, s.wide.err
		}
	}
	a.Mended = mended(book, job)
	a.Warnings = append(a.Warnings, w.views()...)
	a.Conflicts = dedupe(a.Conflicts)
	a.Sources = citedBy(book, a.sources())
	return a, nil
}

// mended lists the defects on which nothing is left to do, by id.
func mended(book *rules.Book, job *Job) []Mended {
	var out []Mended
	for _, m := range job.Defects {
		if d := m.Mended(); d != nil {
			out = append(out, Mended{ID: m.ID, On: m.On, Method: d.Method, Name: book.Method(d.Method).Name, Day: d.On})
		}
	}
	slices.SortFunc(out, func(a, b Mended) int { return cmp.Compare(a.ID, b.ID) })
	return out
}

// scenesOf makes a scene for each defect on which something is left to do, sorted by id; defects of one surface share what does
// not depend on the defect.
func scenesOf(book *rules.Book, tables *Tables, job *Job) ([]*scene, error) {
	wide := map[string]*scene{}
	var out []*scene
	for _, m := range job.Defects {
		if m.Mended() != nil {
			continue
		}
		on := job.Surfaces[m.On]
		if on == nil && m.On != "" {
			return nil, fmt.Errorf("the defect %q is on %q, which is no surface of the job", m.ID, m.On)
		}
		if wide[m.On] == nil {
			wide[m.On] = newScene(book, tables, job, nil, on, nil)
		}
		out = append(out, newScene(book, tables, job, m, on, wide[m.On]))
	}
	slices.SortStableFunc(out, func(a, b *scene) int { return cmp.Compare(a.mark.ID, b.mark.ID) })
	return out, nil
}

// verdicts judges every method that treats a candidate kind, best first.
func (s *scene) verdicts(candidates []*kind) []*verdict {
	out := s.judged(candidates)
	for _, v := range out {
		v.weighOnce()
	}
	slices.SortStableFunc(out, compare)
	return out
}

// judged judges every method that treats a candidate kind, in the order of methodsFor.
func (s *scene) judged(candidates []*kind) []*verdict {
	var out []*verdict
	of := map[*rules.Method]*verdict{}
	for _, k := range candidates {
		for _, m := range s.book.Treating(k.def.ID) {
			v := of[m]
			if v == nil {
				v = s.alone(m)
				of[m] = v
				out = append(out, v)
			}
			v.for_ = append(v.for_, k)
		}
	}
	for _, v := range out {
		v.settle()
	}
	return out
}

func (s *scene) methodsFor(candidates []*kind) []*rules.Method {
	seen := map[string]bool{}
	var out []*rules.Method
	for _, k := range candidates {
		for _, m := range s.book.Treating(k.def.ID) {
			if !seen[m.ID] {
				seen[m.ID] = true
				out = append(out, m)
			}
		}
	}
	return out
}

// defect is the triage of the scene's defect; what it warns of goes to w.
func (s *scene) defect(w *warner) DefectAnswer {
	d := DefectAnswer{ID: s.mark.ID, On: s.mark.On, Kinds: []KindView{}, Leave: []LeaveIt{}, Repairs: []Repair{}}
	candidates := s.kinds()
	for _, k := range candidates {
		d.Kinds = append(d.Kinds, s.kindView(k))
		d.Leave = append(d.Leave, LeaveIt{Kind: k.def.ID, Text: k.def.IfLeft, Urgency: k.def.Urgency, Use: k.def.Use, Sources: k.def.Sources})
	}
	judged := s.verdicts(candidates)
	d.Repairs = make([]Repair, 0, len(judged))
	for i, v := range judged {
		r := s.repair(v)
		if v.state != RuledOut {
			r.Rank = i + 1
		}
		if v.state != RuledOut || r.ShopOnly {
			w.method(s, v) // the shop can be changed, and then the repair is there with its dangers
		}
		d.Repairs = append(d.Repairs, r)
	}
	w.mark(s)
	d.Ladder = s.ladder(judged)
	if slices.ContainsFunc(judged, func(v *verdict) bool { return v.method.Sanding != nil && v.method.Sanding.ToDefect }) {
		d.Sanding = s.sanding()
	}
	d.Questions = []Question{}
	return d
}

func (s *scene) kindView(k *kind) KindView {
	v := KindView{Kind: k.def.ID, Name: k.def.Name, What: k.def.What, Own: k.def.Own, Certain: k.certain}
	for _, sign := range k.def.Signs {
		v.Signs = append(v.Signs, s.reason(sign))
	}
	for _, t := range k.def.Tell {
		v.Tell = append(v.Tell, Tell(t))
	}
	return v
}

// repair writes a verdict out, with the reasons that carry its state.
func (s *scene) repair(v *verdict) Repair {
	m := v.method
	r := Repair{Method: m.ID, Name: m.Name, What: m.What, Own: m.Own, State: v.state, Achieves: m.Achieves, Undo: m.Undo, Stage: m.Stage,
		Minutes: m.Minutes, Harms: []Hazard{}, Because: []Reason{}, RemovesMM: v.removes,
		MeetsAim: yesNo[v.aim], mends: v.mends(), Tried: v.spent}
	for _, k := range v.for_ {
		r.For = append(r.For, k.def.ID)
	}
	for _, c := range m.Suits {
		v.sortReason(&r, c, condition.True)
	}
	for _, c := range m.Never {
		v.sortReason(&r, c, condition.False)
	}
	if m.Sanding != nil {
		r.Sanding = v.scene.sanding()
	}
	if m.Vapour != nil {
		r.Vapour, _ = v.scene.reckon("vapour").(*Vapour)
	}
	if m.Coat != nil {
		r.CoatDay, _ = v.scene.reckon("weather").(*CoatDay)
		r.Pairing, _ = v.scene.reckon("pairing").(*Pairing)
	}
	r.Missing = []string{}
	if v.state == RuledOut {
		r.ShopOnly = v.shopOnly
		if !r.ShopOnly {
			return r
		}
	}
	if v.state == NeedsAnswer {
		r.Missing = append(r.Missing, s.ids(v.scene.asks(v.missing()))...)
	}
	r.Risk = v.worst().String()
	r.Harms = make([]Hazard, 0, len(v.hazards))
	for _, h := range v.hazards {
		r.Harms = append(r.Harms, v.scene.hazardView(h))
	}
	for _, w := range m.Waits {
		view := WaitView{For: w.For, Hours: w.Hours, Because: w.Because, Sources: w.Sources}
		if w.Wood {
			view.SettlesPC = s.settles()
		}
		r.Waits = append(r.Waits, view)
	}
	return r
}

// sortReason puts a clause where the reader looks for it: what carries a ready repair or rules
// one out under Because, what is open under Open. wanted is the outcome that lets the method pass.
func (v *verdict) sortReason(r *Repair, c rules.Clause, wanted condition.Outcome) {
	switch o := v.scene.eval(c.When); {
	case o == condition.Unknown:
		if v.state == NeedsAnswer {
			r.Open = append(r.Open, v.scene.reasonAs(c, o))
		}
	case o != wanted || v.state != RuledOut && wanted == condition.True:
		r.Because = append(r.Because, v.scene.reasonAs(c, o))
	}
}

// conflicts lists the direct answers that findings contradict.
func (s *scene) conflicts() []Conflict {
	var out []Conflict
	for _, f := range s.answeredFindings() {
		got := s.resolve(f.Derives)
		if !got.conflict {
			continue
		}
		decl := s.book.Facts[f.Derives]
		on := map[string]string{"shop": "shop", "piece": "piece", "surface": s.mark.On, "defect": s.mark.ID}[decl.Subject]
		b := f.Branches[got.branch]
		out = append(out, Conflict{Fact: f.Derives, On: on, Answered: decl.Show(got.value), Found: decl.Show(b.Is),
			Because: b.Because, Sources: b.Sources})
	}
	return out
}

// answeredFindings are the findings for what was answered as well, in the order of the book.
func (s *scene) answeredFindings() []*rules.Finding {
	var out []*rules.Finding
	subjects := []*Subject{&s.job.Shop, &s.job.Piece, &s.mark.Subject}
	if s.on != nil {
		subjects = append(subjects, &s.on.Subject)
	}
	for _, answers := range subjects {
		for id := range answers.Answers {
			if f := s.book.FindingFor(id); f != nil && !slices.Contains(out, f) {
				out = append(out, f)
			}
		}
	}
	slices.SortFunc(out, func(a, b *rules.Finding) int { return cmp.Compare(a.ID, b.ID) })
	return out
}

func dedupe(cs []Conflict) []Conflict {
	slices.SortStableFunc(cs, func(a, b Conflict) int { return cmp.Or(cmp.Compare(a.On, b.On), cmp.Compare(a.Fact, b.Fact)) })
	return slices.CompactFunc(cs, func(a, b Conflict) bool { return a.On == b.On && a.Fact == b.Fact })
}
