package engine

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"mendwright/engine/depth"
	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

// planned is a mark on its way into a plan.
type planned struct {
	mark   *Mark
	scene  *scene // as it was answered
	judged []*verdict
	person bool // the person picked the repair
	arises *rules.Aftermath
	is     []string
	stand
	chosen stand // as it stood by itself, before the work around it was looked at
}

// stand is how a mark stands in a plan.
type stand struct {
	pick  *verdict // in the scene in which the repair is done; nil: nothing is done
	state MarkState
	// because says why it stands so, reasons what carries that.
	because string
	reasons []Reason
	missing []string
}

// planner settles which repair each mark gets, when the repairs of a piece are done one after another.
type planner struct {
	book   *rules.Book
	tables *Tables
	job    *Job
	stages map[string]int
	marks  []*planned // by id
	// banned are repairs that a mark cannot have in this plan, and why.
	banned   map[[2]string]string
	clashes  []Clash
	surfaces map[string]*SurfacePlan
	// left is what the repairs across a surface leave of its facts.
	left map[string]map[string]*condition.Value
	// through are the surfaces on which a cut was refused after those before it.
	through map[string]bool
	// begin is the order in which the steps begin, where the plan has dates.
	begin []int
}

func newPlanner(book *rules.Book, tables *Tables, job *Job) (*planner, error) {
	p := &planner{book: book, tables: tables, job: job, stages: map[string]int{}, banned: map[[2]string]string{},
		surfaces: map[string]*SurfacePlan{}, left: map[string]map[string]*condition.Value{}, through: map[string]bool{}}
	for i, id := range book.Terms.StageIDs() {
		p.stages[id] = i
	}
	scenes, err := scenesOf(book, tables, job)
	if err != nil {
		return nil, err
	}
	for _, s := range scenes {
		m := &planned{mark: s.mark, scene: s}
		m.look()
		m.choose()
		m.chosen = m.stand
		p.marks = append(p.marks, m)
	}
	return p, nil
}

// look judges the mark by itself.
func (m *planned) look() {
	candidates := m.scene.kinds()
	for _, k := range candidates {
		if k.certain || !candidates[0].certain {
			m.is = append(m.is, k.def.Name)
		}
	}
	best := NeedsAnswer
	for _, method := range m.scene.methodsFor(candidates) {
		v := m.scene.judge(method, candidates)
		if v.state == Ready {
			best = Ready
		}
		m.judged = append(m.judged, v)
	}
	for _, v := range m.judged { // only what may be taken is worth weighing
		if v.state == best {
			v.weighOnce()
		}
	}
	slices.SortStableFunc(m.judged, compare)
}

// ifNot is what comes next if the repair is not enough.
func (m *planned) ifNot() []Rung {
	rungs := m.scene.ladder(m.judged)
	i := slices.IndexFunc(rungs, func(r Rung) bool { return r.Method == m.pick.method.ID })
	if i < 0 {
		return nil
	}
	return rungs[i+1:]
}

// choose takes what the person picked, or the first repair that is ready.
func (m *planned) choose() {
	if m.mark.Repair != "" {
		m.person = true
		i := slices.IndexFunc(m.judged, func(v *verdict) bool { return v.method.ID == m.mark.Repair })
		if i < 0 {
			m.state, m.because = Refusal, fmt.Sprintf("%s does not treat what this mark is, or may be", m.scene.book.Method(m.mark.Repair).Name)
			return
		}
		m.take(m.judged[i])
		return
	}
	v := firstReady(m.judged)
	if v == nil {
		m.open()
		return
	}
	m.take(v)
	if v.onlyHolds() {
		m.because = "it mends nothing by itself"
		if next := m.nearest(func(v *verdict) bool { return !v.onlyHolds() }); next != nil {
			m.because += "; " + next.method.Name + " waits for an answer"
			m.missing = next.scene.ids(next.scene.asks(next.missing()))
		}
	}
}

// nearest is the first repair that waits for an answer, one that treats what the mark certainly is before others;
// nil if there is none.
func (m *planned) nearest(ok func(*verdict) bool) *verdict {
	waits := func(v *verdict) bool { return v.state == NeedsAnswer && ok(v) }
	i := slices.IndexFunc(m.judged, func(v *verdict) bool { return waits(v) && v.certain() })
	if i < 0 {
		i = slices.IndexFunc(m.judged, waits)
	}
	if i < 0 {
		return nil
	}
	return m.judged[i]
}

// take puts a repair into the plan, if it is ready.
func (m *planned) take(v *verdict) {
	m.pick, m.missing = nil, nil
	switch v.state {
	case Ready:
		m.pick, m.state = v, Planned
	case NeedsAnswer:
		m.state, m.missing = OpenMark, v.scene.ids(v.scene.asks(v.missing()))
		m.because = v.method.Name + " waits for an answer"
	case RuledOut:
		m.refuse(v)
	}
	if v.state == Ready {
		m.reasons = v.reasons(condition.True)
	}
}

// refuse says why a repair is ruled out.
func (m *planned) refuse(v *verdict) {
	m.pick, m.state = nil, Refusal
	m.reasons = v.reasons(condition.False)
	m.because = v.method.Name + " is ruled out"
	if len(m.reasons) > 0 {
		m.because += ": " + m.reasons[0].Because
	}
}

// reasons are the clauses that carry a verdict: those that suit it, or those that rule it out.
func (v *verdict) reasons(which condition.Outcome) []Reason {
	var out []Reason
	for _, c := range v.method.Suits {
		if v.scene.eval(c.When) == which {
			out = append(out, v.scene.reason(c))
		}
	}
	if which == condition.True {
		return out
	}
	for _, c := range v.method.Never {
		if v.scene.eval(c.When) == condition.True {
			out = append(out, v.scene.reason(c))
		}
	}
	return out
}

// open says of a mark without a ready repair what it waits for.
func (m *planned) open() {
	m.pick, m.state = nil, OpenMark
	if v := m.nearest(func(*verdict) bool { return true }); v != nil {
		m.missing = v.scene.ids(v.scene.asks(v.missing()))
		m.because = "no repair is ready; the nearest, " + v.method.Name + ", waits for an answer"
		return
	}
	m.because = "every repair is ruled out"
}

// cuts reports whether the repair takes wood, or may.
func (v *verdict) cuts() bool { return v.method.Sanding != nil || v.method.TakesWood.Hi > 0 }

// instead takes the best other repair of the mark that may be done; false if there is none. why says why
// the one before does not do.
func (p *planner) instead(m *planned, judged []*verdict, why string, ok func(*verdict) bool) bool {
	was := m.pick
	if was != nil {
		p.banned[[2]string{m.mark.ID, was.method.ID}] = why
	}
	if m.person {
		return false
	}
	for _, v := range judged {
		if v.state != Ready || p.banned[[2]string{m.mark.ID, v.method.ID}] != "" || ok != nil && !ok(v) {
			continue
		}
		m.take(v)
		if was != nil {
			m.because = was.method.Name + " would have come first: " + why
		}
		m.chosen = m.stand
		return true
	}
	return false
}

// settle goes through the work of every surface until nothing changes any more. Each change bans one repair
// of one mark, so it ends.
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

// names are the surfaces that have marks, sorted.
func (p *planner) names() []string {
	seen := map[string]bool{}
	for _, m := range p.marks {
		seen[m.mark.On] = true
	}
	return slices.Sorted(maps.Keys(seen))
}

// at lists the marks on a surface whose repair is planned, in the order of the work.
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

// walk goes through the work of a surface in its order and judges each repair on what those before leave of
// the surface, its layer too: a cut is checked against what earlier cuts have left. It reports whether a mark
// had to take another repair.
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

// again judges a mark's repair on what earlier ones leave. It reports whether another repair was taken.
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

// allReady are the methods that are ready, best first.
func (s *scene) allReady() []*verdict {
	var out []*verdict
	used := map[string]bool{}
	for v := s.ready(used); v != nil; v = s.ready(used) {
		used[v.method.ID] = true
		out = append(out, v)
	}
	return out
}

// cut notes what the marks' repair takes off the layer.
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

// leaves is what is left of the layer at the worst place: under all cuts across it and the deepest of the rest.
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

// takes is how much wood the repair takes, false if nobody can tell.
func (v *verdict) takes() (interval.Range, bool) {
	if !v.weighed {
		v.weigh()
	}
	if v.removes == nil {
		return interval.Range{}, false
	}
	return *v.removes, true
}

// leave carries what a repair across the surface leaves into the facts of the surface. A layer that was measured
// is as thick as the cut leaves it, as far as can be reckoned; it is measured again before the next cut.
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

// once lets a surface go through a stage once: of several repairs across it at a stage that is done once, one
// that all their marks can have is taken for all. It reports whether it changed anything.
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
	if p.banned[[2]string{"", key}] != "" {
		return false
	}
	p.banned[[2]string{"", key}] = "seen" // either they become one now, or they never do
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

// clash looks for repairs that spoil each other whatever their order and takes another one where there is one.
// It reports whether it changed anything.
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
				key := [2]string{a.mark.ID + "\x00" + b.mark.ID, pair.ID + a.pick.method.ID + b.pick.method.ID}
				if p.banned[key] != "" {
					continue
				}
				p.banned[key] = "seen"
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

// holds reports whether a pair holds the repairs of two marks.
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

// hold drops the marks that no repair leaves any more, since other repairs were taken.
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

// arise adds the marks that the repairs of each surface leave, or have left, such as bare wood, unless a repair
// sees to them or they are among the marks already.
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
