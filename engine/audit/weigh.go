package audit

import (
	"cmp"
	"slices"

	"mendwright/rules"
)

// weighed is what the ranking looks at in a method, as formulas.
type weighed struct {
	ready   *formula // by its own conditions
	kinds   map[*rules.Defect]*formula
	certain *formula // the mark is of some kind that the method treats
	// bad are, by risk from High to Low, the harms that are at least as bad as that.
	bad [rules.None][]*formula
}

func (a *audit) weigh(m *rules.Method) *weighed {
	if w := a.risks[m]; w != nil {
		return w
	}
	w := &weighed{ready: all(formulas(a.conditionsOf(m, asked))...), kinds: map[*rules.Defect]*formula{}}
	var ways []*formula
	for _, d := range a.treats(m) {
		w.kinds[d] = all(formulas(a.signs(d, asked))...)
		ways = append(ways, w.kinds[d])
	}
	w.certain = some(ways...)
	for i := range m.Harms {
		for r := range w.bad {
			w.bad[r] = append(w.bad[r], a.atLeastAsBad(m, &m.Harms[i], rules.Risk(r)))
		}
	}
	a.risks[m] = w
	return w
}

// atLeastAsBad is true where the risk of a harm is r or worse. As the engine has it, what raises the
// harm acts unless it is known to be false, what lowers it only when it is true and nothing raises.
func (a *audit) atLeastAsBad(m *rules.Method, h *rules.Harm, r rules.Risk) *formula {
	bad := func(level int) bool { return rules.RiskOf(h.Severity, level) <= r }
	var raisedSo, raised, lowered []*formula
	for _, s := range h.Raised {
		f := opposite(a.unless(s.When, m, asked))
		raised = append(raised, f)
		if bad(s.To) {
			raisedSo = append(raisedSo, f)
		}
	}
	for _, s := range h.Lowered {
		if !bad(s.To) {
			lowered = append(lowered, a.when(s.When, m, asked))
		}
	}
	base := no
	if h.From != "" {
		v := a.level(m, h)
		base = in(v, cellsOf(v.n, bad))
	} else if bad(h.Probability) {
		base = yes
	}
	stays := some(append(raised, opposite(some(lowered...)))...)
	return some(append(raisedSo, all(base, stays))...)
}

// before is true where x, both being ready, ranks before y. Where the order rests on how much wood
// a cut takes, which only the arithmetic knows, it is not.
func (a *audit) before(x, y *rules.Method) *formula {
	key := [2]*rules.Method{x, y}
	if f := a.rivals[key]; f != nil {
		return f
	}
	meetsX, meetsY := a.meetsAim(x), a.meetsAim(y)
	risk, even := a.lessRisk(a.weigh(x), a.weigh(y))
	last := no
	if a.restBefore(x, y) {
		last = yes
	}
	neither := all(opposite(meetsX), opposite(meetsY))
	sooner, level := no, neither // where neither does what is wanted, what mends something comes first
	if holdsX, holdsY := x.Achieves == rules.Holds, y.Achieves == rules.Holds; holdsX != holdsY {
		level = no
		if holdsY {
			sooner = neither
		}
	}
	f := some(all(meetsX, opposite(meetsY)), sooner, all(some(all(meetsX, meetsY), level), some(risk, all(even, last))))
	a.rivals[key] = f
	return f
}

// lessRisk is true where x risks less than y, and where both risk the same. The worst risks count
// first, then how many of them; counting those at least as bad comes to the same.
func (a *audit) lessRisk(x, y *weighed) (less, even *formula) {
	less, even = no, yes
	for r := range x.bad {
		most := max(len(x.bad[r]), len(y.bad[r]))
		var fewer, more []*formula
		for k := range most {
			xk, yk := atLeast(k+1, x.bad[r]), atLeast(k+1, y.bad[r])
			fewer = append(fewer, all(opposite(xk), yk))
			more = append(more, all(xk, opposite(yk)))
		}
		less = some(less, all(even, some(fewer...)))
		even = all(even, opposite(some(fewer...)), opposite(some(more...)))
	}
	return less, even
}

// restBefore reports whether x comes before y where aim and risk do not decide.
func (a *audit) restBefore(x, y *rules.Method) bool {
	if x.Sanding != nil || y.Sanding != nil {
		return false
	}
	return cmp.Or(cmp.Compare(x.TakesWood.Hi, y.TakesWood.Hi),
		cmp.Compare(slices.Index(rules.Undos, x.Undo), slices.Index(rules.Undos, y.Undo)),
		cmp.Compare(x.Minutes[1], y.Minutes[1]), cmp.Compare(x.ID, y.ID)) < 0
}

// meetsAim is true where what a method achieves is not short of the aim.
func (a *audit) meetsAim(m *rules.Method) *formula {
	f := a.book.Facts[a.book.Terms.AimFact]
	v := a.variable(f, "", nil)
	return in(v, cellsOf(v.n, func(i int) bool {
		for _, t := range a.book.Terms.Aims {
			if t.Aim == f.Answers[i].ID {
				return slices.Contains(t.Outcomes, m.Achieves)
			}
		}
		return true
	}))
}
