package engine

import (
	"cmp"
	"fmt"
	"slices"

	"mendwright/engine/plan"
	"mendwright/rules"
	"mendwright/rules/condition"
)

// PlanOf puts the chosen repair of each mark, the one the person picked or the first that is ready, into one
// order of work. Each repair is judged on what those before it leave of its surface, so that a layer that is
// cut twice is checked twice. It changes none of its arguments. The error is that of a rule that cannot be
// evaluated, with its place.
func PlanOf(book *rules.Book, tables *Tables, job *Job) (*Plan, error) {
	p, err := newPlanner(book, tables, job)
	if err != nil {
		return nil, err
	}
	p.settle()
	p.arise()
	p.settle()
	p.hold()
	todo := p.steps()
	if len(todo) > plan.MostTasks {
		return nil, fmt.Errorf("%d steps are more than one plan holds, which is %d; make a job file for each part of the piece", len(todo), plan.MostTasks)
	}
	steps, arcs := p.arrange(todo)
	out := &Plan{Rulebook: rulebookID(book), Job: job.Name, Marks: []PlannedMark{}, Steps: []PlanStep{}, Surfaces: []SurfacePlan{}, Warnings: []WarningView{}}
	p.write(out, steps, direct(len(steps), arcs))
	if err := p.time(out, steps, arcs); err != nil {
		return nil, err
	}
	p.buy(out, steps)
	out.AtHand, out.Tools, out.Wear = unique(out.AtHand), unique(out.Tools), unique(out.Wear)
	p.worth(out)
	if p.begin != nil {
		byDate := make([]PlanStep, 0, len(out.Steps))
		for _, i := range p.begin {
			byDate = append(byDate, out.Steps[i])
		}
		out.Steps = byDate
	}
	out.Sources = citedBy(book, out.sources())
	for _, m := range p.marks {
		if m.scene.err != nil {
			return nil, m.scene.err
		}
	}
	return out, nil
}

// unique sorts and drops what stands twice; never nil.
func unique(list []string) []string {
	slices.Sort(list)
	return append([]string{}, slices.Compact(list)...)
}

// write writes marks, surfaces, warnings and steps out.
func (p *planner) write(out *Plan, steps []*work, arcs []before) {
	w := newWarner(p.book)
	for _, m := range p.marks {
		out.Marks = append(out.Marks, p.mark(m))
		out.Refused = out.Refused || m.state == Refusal
		if m.pick != nil {
			s := m.pick.scene
			if s.base != nil {
				s = s.base
			}
			w.method(s, m.pick)
		}
		if m.state != Gone {
			w.mark(m.scene)
		}
	}
	for _, d := range mended(p.book, p.job) {
		out.Marks = append(out.Marks, PlannedMark{ID: d.ID, On: d.On, State: Finished, Is: []string{}, Method: d.Method, Name: d.Name})
	}
	slices.SortStableFunc(out.Marks, func(a, b PlannedMark) int { return cmp.Compare(a.ID, b.ID) })
	out.Warnings = append(out.Warnings, w.views()...)
	for _, name := range p.names() {
		if s := p.surfaces[name]; s != nil && (len(s.Cuts) > 0 || s.Refused) {
			out.Surfaces = append(out.Surfaces, *s)
		}
	}
	slices.SortStableFunc(p.clashes, func(a, b Clash) int {
		return cmp.Or(cmp.Compare(a.On, b.On), cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.First, b.First), cmp.Compare(a.Next, b.Next), slices.Compare(a.Marks, b.Marks))
	})
	out.Clashes = append([]Clash{}, p.clashes...)
	from := map[int][]StepAfter{}
	for _, a := range arcs {
		from[a.b] = append(from[a.b], p.after(steps, a))
	}
	for i, s := range steps {
		out.Steps = append(out.Steps, p.step(out, s, from[i]))
	}
}

func (p *planner) after(steps []*work, a before) StepAfter {
	first, next := steps[a.a], steps[a.b]
	after := StepAfter{Step: first.id, Hard: a.strength >= pieceWide, Because: "the usual order of work"}
	if first.kind == "repair" && next.kind == "repair" && first.stage != next.stage {
		after.Because += ": " + p.means(first) + ", then " + p.means(next)
	}
	if a.pair != nil {
		after.Rule, after.Because, after.Sources = a.pair.ID, a.pair.Because, a.pair.Sources
	}
	return after
}

func (p *planner) means(w *work) string { return p.book.Terms.Stages[w.stage].Means }

func (p *planner) mark(m *planned) PlannedMark {
	out := PlannedMark{ID: m.mark.ID, On: m.mark.On, Is: append([]string{}, m.is...), State: m.state, Arises: m.arises != nil, Picked: m.person,
		Because: m.because, Missing: m.missing, Reasons: m.reasons}
	if v := m.pick; v != nil {
		out.Method, out.Name, out.What, out.Risk = v.method.ID, v.method.Name, v.method.What, v.worst().String()
		out.Harms = v.written()
		if v.method.Sanding != nil {
			out.Sanding = v.scene.sanding()
		}
		out.IfNot = m.ifNot()
	}
	for _, v := range m.judged {
		if v.state != RuledOut || v.shopOnly || len(out.Avoid) >= mostAvoid || !v.certain() {
			continue
		}
		if rs := v.reasons(condition.False); len(rs) > 0 {
			out.Avoid = append(out.Avoid, Avoid{v.method.ID, v.method.Name, rs[0]})
		}
	}
	return out
}

// mostAvoid bounds what a plan says not to do for one mark; triage says it all.
const mostAvoid = 6

// written are the harms as they stand, for the reader.
func (v *verdict) written() []Hazard {
	var out []Hazard
	for _, h := range v.hazards {
		out = append(out, v.scene.hazardView(h))
	}
	return out
}

func (p *planner) step(out *Plan, w *work, after []StepAfter) PlanStep {
	s := PlanStep{ID: w.id, Kind: w.kind, Rule: w.rule, Name: w.name, On: w.on, Marks: marksOf(w), Stage: p.book.Terms.Stages[w.stage].ID,
		After: append([]StepAfter{}, after...), Minutes: w.minutes, Waits: w.waits, WaitH: w.waitH, Do: []WorkStep{}}
	var steps []rules.Step
	switch {
	case w.method != nil:
		m := w.method
		steps = m.Steps
		worst := rules.None
		s.Materials, s.Tools, s.Wear = materials(m.Materials), m.Tools, m.Protection
		for _, x := range w.marks {
			if r := x.pick.worst(); s.Harms == nil || r < worst {
				worst, s.Risk, s.Harms = r, r.String(), x.pick.written()
			}
		}
		for _, view := range out.Warnings {
			if slices.Contains(view.Methods, m.ID) {
				s.Warnings = append(s.Warnings, view.Warning)
			}
		}
	case w.chore != nil:
		steps = w.chore.Steps
		s.Because, s.Compare, s.Materials, s.Sources = w.chore.Because, w.chore.Compare, materials(w.chore.Materials), w.chore.Sources
	case w.between != nil:
		s.Because, s.Sources = w.between.Because, w.between.Sources
	}
	for _, st := range steps {
		s.Do = append(s.Do, WorkStep(st))
	}
	out.Tools, out.Wear = append(out.Tools, s.Tools...), append(out.Wear, s.Wear...)
	return s
}

func (o *Plan) sources() func(func([]string)) {
	return func(yield func([]string)) {
		yield(o.Time.Sources)
		for _, m := range o.Marks {
			reasons(m.Reasons, yield)
			for _, h := range m.Harms {
				yield(h.Sources)
			}
			for _, a := range m.Avoid {
				reasons([]Reason{a.Why}, yield)
			}
			for _, r := range m.IfNot {
				for _, l := range r.Leaves {
					yield(l.Sources)
				}
			}
		}
		for _, s := range o.Steps {
			yield(s.Sources)
			for _, a := range s.After {
				yield(a.Sources)
			}
			for _, w := range s.Waits {
				yield(w.Sources)
			}
		}
		for _, c := range o.Clashes {
			yield(c.Sources)
		}
		for _, b := range o.Buy {
			yield(b.Sources)
		}
		for _, w := range o.Warnings {
			yield(w.Sources)
		}
	}
}
