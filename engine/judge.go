package engine

import (
	"slices"
	"strings"

	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

// verdict is a method judged in a scene, before it is written out.
type verdict struct {
	method *rules.Method
	scene  *scene // the method's own
	state  State
	aim    condition.Outcome // whether it meets the piece's aim
	// shopOnly says of a method that is ruled out that nothing but the room, the weather and
	// what is at hand stands against it, all of which can be changed.
	shopOnly bool
	for_     []*kind
	spent    bool  // it was done to this mark and was not enough
	own      []int // raw, the facts that its own open conditions lack; none where more than the shop rules it out
	weighed  bool
	hazards  []hazard // the worst first
	risks    []int
	removes  *interval.Range
}

// judge puts a method into one of the three states. It is ready only if a kind it treats is
// certain, everything that suits it is true and everything that forbids it is false.
func (s *scene) judge(m *rules.Method, candidates []*kind) *verdict {
	v := s.alone(m)
	v.treat(candidates)
	return v
}

// alone judges a method by its own conditions, whatever the mark is.
func (s *scene) alone(m *rules.Method) *verdict { return s.aloneIn(s.forMethod(m), m) }

func (s *scene) unjudged(ms *scene, m *rules.Method) *verdict {
	return &verdict{method: m, scene: ms, state: Ready, aim: s.meetsAim(m), spent: s.mark != nil && s.mark.Tried(m.ID)}
}

// isReady judges whether a method is ready by its own conditions and no more: it ends at the first that
// stands against it, and then is nil.
func (s *scene) isReady(m *rules.Method) *verdict {
	ms := s.forMethod(m)
	for i := range m.Suits {
		if ms.eval(m.Suits[i].When) != condition.True {
			return nil
		}
	}
	for i := range m.Never {
		if ms.eval(m.Never[i].When) != condition.False {
			return nil
		}
	}
	return s.unjudged(ms, m)
}

// aloneIn judges a method in a scene made for it.
func (s *scene) aloneIn(ms *scene, m *rules.Method) *verdict {
	v := s.unjudged(ms, m)
	own := s.lists.pad[:0]
	// need reports whether it is worth going on: what more than the shop rules out, nothing brings back.
	need := func(c *rules.Clause, forbids condition.Outcome) bool {
		switch ms.eval(c.When) {
		case forbids:
			v.shopOnly = (v.shopOnly || v.state != RuledOut) && s.changeable(c.When)
			v.state = RuledOut
		case condition.Unknown:
			if v.state == Ready {
				v.state = NeedsAnswer
			}
			own = ms.lacks(c.When, own)
		}
		return v.state != RuledOut || v.shopOnly
	}
	for i := range m.Suits {
		if !need(&m.Suits[i], condition.False) {
			return v
		}
	}
	for i := range m.Never {
		if !need(&m.Never[i], condition.True) {
			return v
		}
	}
	v.own = s.lists.keep(own)
	return v
}

// of is the verdict for the kinds that the mark may be.
func (v *verdict) of(candidates []*kind) *verdict {
	out := *v
	out.treat(candidates)
	return &out
}

// treat makes v, which was judged by its own conditions, the verdict for kinds that the mark may be.
func (v *verdict) treat(candidates []*kind) {
	v.for_ = make([]*kind, 0, min(len(v.method.Treats), len(candidates)))
	for _, k := range candidates {
		if slices.Contains(v.method.Treats, k.def.ID) {
			v.for_ = append(v.for_, k)
		}
	}
	v.settle()
}

// settle takes back that v is ready where the mark may be of no kind that the method treats.
func (v *verdict) settle() {
	if v.state == Ready && !v.certain() {
		v.state = NeedsAnswer
	}
}

// certain reports whether the mark is certainly of a kind that the method treats.
func (v *verdict) certain() bool {
	return slices.ContainsFunc(v.for_, func(k *kind) bool { return k.certain })
}

// missing lists, raw, the facts that open conditions lack: the method's own and, while none of its kinds is
// certain, those of the kinds.
func (v *verdict) missing() []int {
	if v.certain() {
		return v.own
	}
	out := slices.Clone(v.own)
	for _, k := range v.for_ {
		out = append(out, k.missing()...)
	}
	return out
}

// changeable reports whether a condition reads nothing but the shop and what is computed from the
// shop: room, weather and gear, all of which can be changed.
func (s *scene) changeable(c *rules.Cond) bool {
	comp, err := c.Compile()
	return err == nil && !slices.ContainsFunc(comp.Facts, func(id string) bool { return !s.changes(id) })
}

func (s *scene) changes(id string) bool {
	decl := s.book.Facts[id]
	if calculator, _, ok := strings.Cut(decl.Computed, "."); ok {
		for _, in := range s.calculator(calculator).Inputs {
			if s.book.Facts[in].Subject == "shop" {
				return true
			}
		}
	}
	return decl.Subject == "shop"
}

// weighOnce weighs a method that may be done, unless it was.
func (v *verdict) weighOnce() {
	if !v.weighed && (v.state != RuledOut || v.shopOnly) {
		v.weigh()
	}
}

// weigh works out the harms, the risk and the wood that goes.
func (v *verdict) weigh() {
	v.weighed = true
	n := len(v.method.Harms)
	v.hazards, v.risks = make([]hazard, n), make([]int, n)
	for i := range v.method.Harms {
		v.hazards[i] = v.scene.hazard(&v.method.Harms[i])
	}
	slices.SortStableFunc(v.hazards, func(a, b hazard) int { return a.risk - b.risk })
	for i, h := range v.hazards {
		v.risks[i] = h.risk
	}
	switch {
	case v.method.Sanding == nil:
		v.removes = &v.method.TakesWood
	case v.scene.sanding().known:
		v.removes = v.scene.sanding().TakeMM
	}
}

// worst is the worst risk of a method that has been weighed.
func (v *verdict) worst() rules.Risk {
	if len(v.risks) == 0 {
		return rules.None
	}
	return rules.Risk(v.risks[0])
}

// hazard is a harm with how likely it is as things stand, and its risk.
type hazard struct {
	harm        *rules.Harm
	level, risk int
}

// hazard weighs one harm. What raises it acts unless it is known to be false; what lowers it acts
// only when it is known to be true; and what raises wins. So no later answer raises the level.
func (s *scene) hazard(h *rules.Harm) hazard {
	base := s.stated(h)
	level, raised := base, false
	for _, r := range h.Raised {
		if s.eval(r.When) != condition.False {
			raised = true
			level = min(level, r.To)
		}
	}
	for _, l := range h.Lowered {
		if !raised && l.To > base && s.eval(l.When) == condition.True {
			level = max(level, l.To)
		}
	}
	return hazard{harm: h, level: level, risk: int(rules.RiskOf(h.Severity, level))}
}

// stated is the level of a harm that nothing raises or lowers.
func (s *scene) stated(h *rules.Harm) int {
	if h.From != "" {
		if f := s.resolve(h.From); f.known {
			return rules.LevelOf(f.value.Range().Hi / 100)
		}
	}
	return h.Probability
}

// lowers are the facts, raw, whose answer could lower the level of a harm.
func (s *scene) lowers(h *rules.Harm) []int {
	var open []int
	surely := false
	for _, r := range h.Raised {
		switch s.eval(r.When) {
		case condition.True:
			surely = true
		case condition.Unknown:
			open = s.lacks(r.When, open)
		}
	}
	for _, l := range h.Lowered {
		if !surely && s.eval(l.When) == condition.Unknown { // what is raised for certain, nothing lowers
			open = s.lacks(l.When, open)
		}
	}
	if h.From != "" {
		if decl := s.book.Facts[h.From]; decl != nil && !s.resolved(decl).known {
			open = append(open, decl.Index)
		}
	}
	return open
}

// hazardView writes a harm out, with what moved its level.
func (s *scene) hazardView(hz hazard) Hazard {
	h := hz.harm
	base := s.stated(h)
	var because []string
	raised := false
	for _, r := range h.Raised {
		switch s.eval(r.When) {
		case condition.False:
			continue
		case condition.True:
			because = append(because, r.Because)
		case condition.Unknown:
			because = append(because, "unless it is known not to be so: "+r.Because)
		}
		raised = true
	}
	for _, l := range h.Lowered {
		if !raised && l.To > base && s.eval(l.When) == condition.True {
			because = append(because, l.Because)
		}
	}
	to := "piece"
	if h.ToPerson {
		to = "person"
	}
	return Hazard{ID: h.ID, What: h.What, To: to, Severity: rules.Severities[h.Severity], Level: rules.Levels[hz.level],
		Risk: rules.Risk(hz.risk).String(), Because: because, Lowers: s.ids(s.asks(s.lowers(h))), Sources: h.Sources}
}
