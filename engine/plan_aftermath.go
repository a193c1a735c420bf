package engine

import (
	"maps"
	"slices"
	"strings"

	"mendwright/rules/condition"
)

func (p *planner) hold() {
	p.marks = slices.DeleteFunc(p.marks, func(m *planned) bool {
		if m.arises == nil {
			return false
		}
		s := newScene(p.book, p.tables, p.job, m.mark, m.scene.on, nil).changing(p.left[m.mark.On])
		if m.pick != nil {
			s = m.pick.scene // as it is before the repair that sees to it
		}
		return s.eval(m.arises.When) != condition.True
	})
}

func (p *planner) arise() {
	on := map[string]bool{}
	for _, m := range p.job.Defects {
		on[m.On] = true
	}
	for _, name := range slices.Sorted(maps.Keys(on)) {
		marks := p.at(name)
		for _, a := range p.book.Order().Aftermaths {
			if slices.ContainsFunc(marks, func(m *planned) bool {
				return a.Unless.Picks(m.pick.method, m.pick.scene.coatOf(m.pick.method))
			}) {
				continue
			}
			mark := &Mark{ID: stepID(a.ID, name), On: name, Subject: Subject{Answers: a.Mark}, Repair: p.job.Planning.Repairs[stepID(a.ID, name)]}
			surface := p.job.Surfaces[name]
			s := newScene(p.book, p.tables, p.job, mark, surface, nil)
			if left := p.left[name]; len(left) > 0 {
				s = s.changing(left)
			}
			if s.eval(a.When) != condition.True {
				continue
			}
			m := &planned{mark: mark, scene: s, arises: a}
			m.look()
			if slices.ContainsFunc(p.marks, func(o *planned) bool {
				return o.mark.On == name && slices.ContainsFunc(o.is, func(k string) bool { return slices.Contains(m.is, k) })
			}) {
				continue
			}
			m.choose()
			m.because = strings.TrimSuffix(a.Because+"; "+m.because, "; ")
			if m.pick != nil && slices.Contains(p.job.Planning.Done, stepID(m.pick.method.ID, name)) {
				m.state, m.because = Finished, ""
			}
			m.chosen = m.stand
			p.marks = append(p.marks, m)
		}
	}
}
