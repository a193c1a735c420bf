package engine

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"mendwright/engine/depth"
	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

func (v *verdict) cuts() bool { return v.method.Sanding != nil || v.method.TakesWood.Hi > 0 }

func (p *planner) settle() {
	for {
		changed := p.once()
		for _, name := range p.names() {
			for p.walk(name) {
				changed = true
			}
		}
		if !changed && !p.clash() {
			return
		}
	}
}

func (p *planner) names() []string {
	seen := map[string]bool{}
	for _, m := range p.marks {
		seen[m.mark.On] = true
	}
	return slices.Sorted(maps.Keys(seen))
}

func (p *planner) at(surface string) []*planned {
	var out []*planned
	for _, m := range p.marks {
		if m.mark.On == surface && m.pick != nil && m.state != Finished {
			out = append(out, m)
		}
	}
	slices.SortStableFunc(out, func(a, b *planned) int {
		return cmp.Or(cmp.Compare(p.stage(a), p.stage(b)), cmp.Compare(a.pick.method.ID, b.pick.method.ID))
	})
	return out
}

func (p *planner) stage(m *planned) int { return p.stages[m.pick.method.Stage] }

func (p *planner) walk(surface string) bool {
	after := map[string]*condition.Value{}
	plan := &SurfacePlan{Surface: surface, Cuts: []PlanCut{}, Refused: p.through[surface]}
	p.surfaces[surface], p.left[surface] = plan, after
	for _, m := range p.marks { // what an earlier round made of it may no longer be so
		if m.mark.On == surface {
			m.stand = m.chosen
		}
	}
	todo := p.at(surface)
	for len(todo) > 0 {
		method := todo[0].pick.method
		n := 1
		for n < len(todo) && todo[n].pick.method == method {
			n++
		}
		now := todo[:n]
		todo = todo[n:]
		var done []*planned
		for _, m := range now {
			if len(after) > 0 {
				if p.again(m, after) {
					return true
				}
			}
			if m.pick != nil {
				done = append(done, m)
			}
		}
		if len(done) == 0 {
			continue
		}
		p.cut(plan, method, done)
		if method.Covers != "mark" {
			p.leave(after, done)
		}
	}
	return false
}

func (p *planner) again(m *planned, after map[string]*condition.Value) bool {
	s := m.scene.changing(maps.Clone(after))
	candidates := s.kinds()
	if len(candidates) == 0 {
		m.because = "the work before it on this surface takes it away"
		m.pick, m.state = nil, Gone
		return false
	}
	v := s.judge(m.pick.method, candidates)
	switch {
	case v.state == Ready:
		v.weigh()
		m.pick = v
		return false
	case v.state == NeedsAnswer && !v.cuts():
		v.weigh()
		m.pick, m.state, m.missing = v, LookAgain, v.scene.ids(v.scene.asks(v.missing()))
		m.because = "the work before it changes what is known here: look again before it"
		return false
	}
	why := "after the work before it on this surface it no longer suits"
	if rs := v.reasons(condition.False); len(rs) > 0 {
		why = rs[0].Because
	} else if v.cuts() {
		why = "what is left of the layer after the cuts before is not known well enough; measure again first"
	}
	through := v.method.Sanding != nil && v.scene.sanding().Verdict != depth.Clear.String()
	if through {
		p.surfaces[m.mark.On].Refused, p.through[m.mark.On] = true, true
		why = "by itself the cut would leave enough of the layer; after the cuts before it, it does not for certain"
	}
	if p.instead(m, s.allReady(), why, func(o *verdict) bool { return !o.spent && p.stages[o.method.Stage] >= p.stages[v.method.Stage] }) {
		return true
	}
	if v.state == RuledOut || through && m.person {
		m.refuse(v)
	} else {
		m.pick, m.state, m.missing = nil, OpenMark, v.scene.ids(v.scene.asks(v.missing()))
	}
	m.because = v.method.Name + " cannot follow the work before it: " + why
	return false
}

func (s *scene) allReady() []*verdict {
	var out []*verdict
	used := map[string]bool{}
	for v := s.ready(used); v != nil; v = s.ready(used) {
		used[v.method.ID] = true
		out = append(out, v)
	}
	return out
}

func (p *planner) cut(plan *SurfacePlan, method *rules.Method, done []*planned) {
	v := done[0].pick
	if s := v.scene.resolve("surface.layer"); s.known && plan.Layer == "" {
		plan.Layer = s.value.Choice()
	}
	for _, m := range done {
		take, known := m.pick.takes()
		if !known || take.Hi <= 0 || method.Sanding == nil && !p.book.Terms.Stages[p.stage(m)].Once {
			continue // what a graft or a new leg takes is no cut into the layer
		}
		c := PlanCut{Step: stepID(method.ID, plan.Surface), Marks: []string{m.mark.ID}, Across: method.Covers != "mark", TakeMM: take}
		if method.Sanding != nil {
			s := m.pick.scene.sanding()
			plan.KeepMM = s.KeepMM
			if plan.BeforeMM == nil {
				plan.BeforeMM = s.ThicknessMM
			}
			if s.FilmMM != nil && plan.FilmMM == nil {
				plan.FilmMM = s.FilmMM
			}
		}
		i := slices.IndexFunc(plan.Cuts, func(o PlanCut) bool { return o.Step == c.Step })
		if c.Across && i >= 0 {
			// One sanding goes as deep as the deepest mark asks for.
			o := &plan.Cuts[i]
			o.Marks = append(o.Marks, c.Marks...)
			o.TakeMM = interval.Range{Lo: max(o.TakeMM.Lo, take.Lo), Hi: max(o.TakeMM.Hi, take.Hi)}
			continue
		}
		plan.Cuts = append(plan.Cuts, c)
	}
	if plan.BeforeMM != nil {
		plan.LeftMM = plan.leaves()
	}
}

func (s *SurfacePlan) leaves() *interval.Range {
	left, deepest := *s.BeforeMM, interval.Range{}
	for _, c := range s.Cuts {
		if c.Across {
			left = left.Sub(c.TakeMM)
		} else if c.TakeMM.Hi > deepest.Hi {
			deepest = c.TakeMM
		}
	}
	left = left.Sub(deepest)
	return &left
}

func (v *verdict) takes() (interval.Range, bool) {
	if !v.weighed {
		v.weigh()
	}
	if v.removes == nil {
		return interval.Range{}, false
	}
	return *v.removes, true
}

func (p *planner) leave(after map[string]*condition.Value, done []*planned) {
	s, method := done[0].pick.scene, done[0].pick.method
	left := map[string]*condition.Value{}
	for _, l := range method.Leaves {
		if strings.HasPrefix(l.Fact, "defect.") {
			continue
		}
		left[l.Fact] = s.left(l)
	}
	const layer = "surface.layer_mm"
	if p.book.Facts[layer] != nil {
		thick, least, all := s.resolve(layer), interval.Range{}, true
		for _, m := range done {
			take, known := m.pick.takes()
			all = all && known
			least = interval.Range{Lo: max(least.Lo, take.Lo), Hi: max(least.Hi, take.Hi)}
		}
		switch {
		case !thick.known || !all:
			if least.Hi > 0 || !all {
				left[layer] = nil
			}
		case least.Hi > 0:
			v := condition.Measured(thick.value.Range().Sub(least).Clamp(p.book.Facts[layer].Bounds))
			left[layer] = &v
		default:
			delete(left, layer)
		}
	}
	maps.Copy(after, left)
}
