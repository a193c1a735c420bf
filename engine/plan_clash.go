package engine

import (
	"maps"
	"slices"
	"strings"

	"mendwright/rules"
	"mendwright/rules/condition"
)

func (p *planner) once() bool {
	changed := false
	for _, name := range p.names() {
		by := map[string][]*planned{}
		for _, m := range p.at(name) {
			if st := p.book.Terms.Stages[p.stage(m)]; st.Once && m.pick.method.Covers == "surface" {
				by[st.ID] = append(by[st.ID], m)
			}
		}
		for _, stage := range slices.Sorted(maps.Keys(by)) {
			if p.unite(name, by[stage]) {
				changed = true
			}
		}
	}
	return changed
}

func (p *planner) unite(surface string, marks []*planned) bool {
	methods := map[string]bool{}
	for _, m := range marks {
		methods[m.pick.method.ID] = true
	}
	if len(methods) < 2 {
		return false
	}
	ids := slices.Sorted(maps.Keys(methods))
	key := strings.Join(append([]string{surface}, ids...), " ")
	if p.seen[key] {
		return false
	}
	p.seen[key] = true // either they become one now, or they never do
	best, place := "", 0
	for _, id := range ids {
		at, ok := 0, true
		for _, m := range marks {
			i := slices.IndexFunc(m.judged, func(v *verdict) bool { return v.method.ID == id && v.state == Ready })
			if i < 0 || p.banned[[2]string{m.mark.ID, id}] != "" || m.person && m.pick.method.ID != id {
				ok = false
				break
			}
			at += i
		}
		if ok && (best == "" || at < place) {
			best, place = id, at
		}
	}
	clash := Clash{On: surface, First: ids[0], Next: ids[1], Because: "a surface goes through this stage once, whatever the number of its marks"}
	for _, m := range marks {
		clash.Marks = append(clash.Marks, m.mark.ID)
	}
	slices.Sort(clash.Marks)
	if best == "" {
		clash.Text = "No one of them suits all these marks; the later in the order does not undo the earlier, but it is the same work twice."
		p.clashes = append(p.clashes, clash)
		return false
	}
	name := p.book.Method(best).Name
	for _, m := range marks {
		if m.pick.method.ID == best {
			continue
		}
		was := m.pick.method
		i := slices.IndexFunc(m.judged, func(v *verdict) bool { return v.method.ID == best })
		m.take(m.judged[i])
		m.because = was.Name + " would have come first; " + name + " is done here anyway"
		m.chosen = m.stand
	}
	clash.Saved, clash.Text = "swap", name+" serves all of them."
	p.clashes = append(p.clashes, clash)
	return true
}

func (p *planner) clash() bool {
	for _, pair := range p.book.Order().Pairs {
		if pair.Instead == "" {
			continue
		}
		for _, a := range p.marks {
			for _, b := range p.marks {
				if a == b && pair.Where != "mark" || a.pick == nil || b.pick == nil || a.pick.method == b.pick.method || !p.holds(pair, a, b) {
					continue
				}
				key := strings.Join([]string{pair.ID, a.mark.ID, a.pick.method.ID, b.mark.ID, b.pick.method.ID}, "\x00")
				if p.seen[key] {
					continue
				}
				p.seen[key] = true
				c := Clash{Rule: pair.ID, On: a.mark.On, Marks: []string{a.mark.ID, b.mark.ID}, First: a.pick.method.ID, Next: b.pick.method.ID,
					Because: pair.Because, Sources: pair.Sources, Text: pair.Instead}
				changed := p.instead(a, a.judged, pair.Because, func(v *verdict) bool {
					return !pair.First.Picks(v.method, v.scene.coatOf(v.method)) && (len(pair.Swap) == 0 || slices.Contains(pair.Swap, v.method.ID)) && (v.mends() || !a.pick.mends())
				})
				if !changed && len(pair.Swap) == 0 {
					changed = p.instead(b, b.judged, pair.Because, func(v *verdict) bool {
						return !pair.Next.Picks(v.method, v.scene.coatOf(v.method)) && (v.mends() || !b.pick.mends())
					})
				}
				if changed {
					c.Saved = "swap"
				} else { // nothing else is ready: what was there stays, with the advice
					delete(p.banned, [2]string{a.mark.ID, a.pick.method.ID})
					delete(p.banned, [2]string{b.mark.ID, b.pick.method.ID})
				}
				p.clashes = append(p.clashes, c)
				if changed {
					return true
				}
			}
		}
	}
	return false
}

func (p *planner) holds(pair *rules.Pair, a, b *planned) bool {
	switch pair.Where {
	case "mark":
		if a.mark != b.mark {
			return false
		}
	case "surface":
		if a.mark.On != b.mark.On {
			return false
		}
	}
	return pair.First.Picks(a.pick.method, a.pick.scene.coatOf(a.pick.method)) &&
		pair.Next.Picks(b.pick.method, b.pick.scene.coatOf(b.pick.method)) &&
		b.pick.scene.eval(pair.When) != condition.False
}
