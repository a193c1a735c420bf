package engine

import (
	"fmt"
	"slices"

	"mendwright/rules"
	"mendwright/rules/condition"
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
	banned map[[2]string]string
	// seen are the clashes that were looked into.
	seen     map[string]bool
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
	p := &planner{book: book, tables: tables, job: job, stages: map[string]int{}, banned: map[[2]string]string{}, seen: map[string]bool{},
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

// names are the surfaces that have marks, sorted.

// at lists the marks on a surface whose repair is planned, in the order of the work.

// walk goes through the work of a surface in its order and judges each repair on what those before leave of

// the surface, its layer too: a cut is checked against what earlier cuts have left. It reports whether a mark

// had to take another repair.

// again judges a mark's repair on what earlier ones leave. It reports whether another repair was taken.

// allReady are the methods that are ready, best first.

// cut notes what the marks' repair takes off the layer.

// leaves is what is left of the layer at the worst place: under all cuts across it and the deepest of the rest.

// takes is how much wood the repair takes, false if nobody can tell.

// leave carries what a repair across the surface leaves into the facts of the surface. A layer that was measured

// is as thick as the cut leaves it, as far as can be reckoned; it is measured again before the next cut.

// once lets a surface go through a stage once: of several repairs across it at a stage that is done once, one

// that all their marks can have is taken for all. It reports whether it changed anything.

// clash looks for repairs that spoil each other whatever their order and takes another one where there is one.

// It reports whether it changed anything.

// holds reports whether a pair holds the repairs of two marks.

// hold drops the marks that no repair leaves any more, since other repairs were taken.

// arise adds the marks that the repairs of each surface leave, or have left, such as bare wood, unless a repair

// sees to them or they are among the marks already.
