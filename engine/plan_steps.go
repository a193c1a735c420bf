package engine

import (
	"slices"

	"mendwright/rules"
	"mendwright/rules/condition"
)

// work is a step of the plan on its way into the order.
type work struct {
	id, name, kind, rule, on string
	stage                    int
	marks                    []*planned // a repair's; of a chore, those it is done for
	method                   *rules.Method
	coat                     string
	chore                    *rules.Chore
	between                  *rules.Pair
	minutes                  [3]float64
	waits                    []WaitView
	waitH                    float64
	// closesH is when the next coat no longer holds on it without a scuff, in h after the work; 0: never.
	closesH float64
}

func stepID(rule, on string) string {
	if on == "" {
		return rule
	}
	return rule + "@" + on
}

// steps makes one step of all that is done together: a repair across a surface or the piece is done once for
// all marks that have it, one at a mark is done mark by mark in one go.
func (p *planner) steps() []*work {
	var out []*work
	byID := map[string]*work{}
	for _, m := range p.marks {
		if m.pick == nil || m.state == Finished {
			continue
		}
		method, on := m.pick.method, m.mark.On
		if method.Covers == "piece" {
			on = ""
		}
		id := stepID(method.ID, on)
		w := byID[id]
		if w == nil {
			w = &work{id: id, name: method.Name, kind: "repair", rule: method.ID, on: on, stage: p.stages[method.Stage], method: method,
				coat: m.pick.scene.coatOf(method), minutes: method.Minutes}
			byID[id] = w
			out = append(out, w)
			w.wait(m.pick)
		} else if method.Covers == "mark" {
			for i := range w.minutes {
				w.minutes[i] += method.Minutes[i]
			}
		}
		w.marks = append(w.marks, m)
	}
	return append(out, p.chores(out)...)
}

// wait says what has to be waited for after a repair: what the method says, and of a coat what this room's
// air makes of it, if that is longer.
func (w *work) wait(v *verdict) {
	for _, x := range v.method.Waits {
		view := WaitView{For: x.For, Hours: x.Hours, Because: x.Because, Sources: x.Sources}
		if x.Wood {
			view.SettlesPC = v.scene.settles()
		}
		w.waits = append(w.waits, view)
		w.waitH += x.Hours.Hi
	}
	if v.method.Coat == nil {
		return
	}
	day, _ := v.scene.reckon("weather").(*CoatDay)
	if day == nil || day.RecoatH == nil {
		return
	}
	if day.RecoatH.Hi > w.waitH {
		w.waits = append(w.waits, WaitView{For: "the coat to take the next one, in this room's air", Hours: *day.RecoatH,
			Because: "colder and damper air dries it slower", Sources: v.scene.drying()})
		w.waitH = day.RecoatH.Hi
	}
	if day.ClosesH != nil {
		w.closesH = max(day.ClosesH.Lo, w.waitH)
	}
}

// chores makes the steps that a careful hand does around the repairs, and that are not done yet.
func (p *planner) chores(repairs []*work) []*work {
	var out []*work
	for _, c := range p.book.Order().Chores {
		byID := map[string]*work{}
		for _, r := range repairs {
			if !c.With.Picks(r.method, r.coat) {
				continue
			}
			for _, m := range r.marks {
				if c.When != nil && m.pick.scene.eval(c.When) == condition.False {
					continue
				}
				on, id := "", c.ID
				switch c.Where {
				case "surface":
					on, id = m.mark.On, stepID(c.ID, m.mark.On)
				case "mark":
					on, id = m.mark.On, stepID(c.ID, m.mark.ID)
				}
				if slices.Contains(p.job.Planning.Done, id) {
					continue
				}
				w := byID[id]
				if w == nil {
					w = &work{id: id, name: c.Name, kind: "chore", rule: c.ID, on: on, stage: p.stages[c.Stage], chore: c, minutes: c.Minutes}
					for _, x := range c.Waits {
						w.waits = append(w.waits, WaitView{For: x.For, Hours: x.Hours, Because: x.Because, Sources: x.Sources})
						w.waitH += x.Hours.Hi
					}
					byID[id] = w
					out = append(out, w)
				}
				w.marks = append(w.marks, m)
			}
		}
	}
	return out
}

// drying are the sources behind how long a coat dries.
func (s *scene) drying() []string {
	for _, f := range s.book.Facts {
		if f.Computed == "weather.wait" {
			return f.Sources
		}
	}
	return nil
}
