package engine

import (
	"maps"
	"slices"
	"strings"

	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

// kind is a defect kind that the mark is or may be.
type kind struct {
	def     *rules.Defect
	certain bool
	missing []string // raw, of the signs that are open
}

// kinds lists the defect kinds that no sign rules out, certain ones first, then by id.
func (s *scene) kinds() []kind {
	var out []kind
	for _, d := range s.book.Defects {
		if k, possible := s.kindOf(d); possible {
			out = append(out, k)
		}
	}
	slices.SortStableFunc(out, certainFirst)
	return out
}

// kindOf says whether the mark is of a kind; false if a sign rules it out.
func (s *scene) kindOf(d *rules.Defect) (kind, bool) {
	k := kind{def: d, certain: true}
	for _, sign := range d.Signs {
		switch o := s.eval(sign.When); o.result {
		case condition.False:
			return kind{}, false
		case condition.Unknown:
			k.certain = false
			k.missing = append(k.missing, o.missing...)
		}
	}
	return k, true
}

// certainFirst orders kinds; those alike in it stay in the order of their ids.
func certainFirst(a, b kind) int {
	switch {
	case a.certain == b.certain:
		return 0
	case a.certain:
		return -1
	}
	return 1
}

// verdict is a method judged in a scene, before it is written out.
type verdict struct {
	method *rules.Method
	scene  *scene // the method's own
	state  State
	aim    condition.Outcome // whether it meets the piece's aim
	// shopOnly says of a method that is ruled out that nothing but the room, the weather and
	// what is at hand stands against it, all of which can be changed.
	shopOnly bool
	for_     []kind
	spent    bool     // it was done to this mark and was not enough
	own      []string // raw fact ids that its own open conditions lack
	weighed  bool
	hazards  []Hazard
	risks    []int
	removes  *interval.Range
}

// judge puts a method into one of the three states. It is ready only if a kind it treats is
// certain, everything that suits it is true and everything that forbids it is false.
func (s *scene) judge(m *rules.Method, candidates []kind) *verdict {
	return s.alone(m, nil).of(candidates)
}

// alone judges a method by its own conditions, whatever the mark is. was is its verdict before the answer
// that is supposed in this scene; nil elsewhere.
func (s *scene) alone(m *rules.Method, was *verdict) *verdict {
	ms := s.forMethod(m)
	if was != nil && ms != s {
		ms.earlier = was.scene
	}
	return s.aloneIn(ms, m)
}

// aloneIn judges a method in a scene made for it.
func (s *scene) aloneIn(ms *scene, m *rules.Method) *verdict {
	v := &verdict{method: m, scene: ms, state: Ready, aim: s.meetsAim(m), spent: s.mark != nil && s.mark.Tried(m.ID)}
	need := func(c rules.Clause, forbids condition.Outcome) {
		switch o := ms.eval(c.When); o.result {
		case forbids:
			v.shopOnly = (v.shopOnly || v.state != RuledOut) && s.changeable(c.When)
			v.state = RuledOut
		case condition.Unknown:
			if v.state == Ready {
				v.state = NeedsAnswer
			}
			v.own = append(v.own, o.missing...)
		}
	}
	for _, c := range m.Suits {
		need(c, condition.False)
	}
	for _, c := range m.Never {
		need(c, condition.True)
	}
	return v
}

// of is the verdict for the kinds that the mark may be.
func (v *verdict) of(candidates []kind) *verdict {
	out := *v
	out.for_ = nil
	for _, k := range candidates {
		if k.def.TreatedBy(v.method) {
			out.for_ = append(out.for_, k)
		}
	}
	if out.state == Ready && !out.certain() {
		out.state = NeedsAnswer
	}
	return &out
}

// certain reports whether the mark is certainly of a kind that the method treats.
func (v *verdict) certain() bool {
	return slices.ContainsFunc(v.for_, func(k kind) bool { return k.certain })
}

// missing lists, raw, the facts that open conditions lack: the method's own and, while none of its kinds is
// certain, those of the kinds.
func (v *verdict) missing() []string {
	if v.certain() {
		return v.own
	}
	out := slices.Clone(v.own)
	for _, k := range v.for_ {
		out = append(out, k.missing...)
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
	for i := range v.method.Harms {
		h := v.scene.hazard(&v.method.Harms[i])
		v.hazards = append(v.hazards, h)
		v.risks = append(v.risks, h.risk)
	}
	slices.SortStableFunc(v.hazards, func(a, b Hazard) int { return a.risk - b.risk })
	slices.Sort(v.risks)
	switch {
	case v.method.Sanding == nil:
		takes := v.method.TakesWood
		v.removes = &takes
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

// hazard weighs one harm. What raises it acts unless it is known to be false; what lowers it acts
// only when it is known to be true; and what raises wins. So no later answer raises the level.
func (s *scene) hazard(h *rules.Harm) Hazard {
	level := h.Probability
	if h.From != "" {
		if f := s.resolve(h.From); f.known {
			level = rules.LevelOf(f.value.Range().Hi / 100)
		}
	}
	base := level
	var because, open []string
	raised, surely := false, false
	for _, r := range h.Raised {
		o := s.eval(r.When)
		if o.result == condition.False {
			continue
		}
		raised = true
		surely = surely || o.result == condition.True
		level = min(level, r.To)
		switch o.result {
		case condition.True:
			because = append(because, r.Because)
		case condition.Unknown:
			because = append(because, "unless it is known not to be so: "+r.Because)
			open = append(open, o.missing...)
		}
	}
	for _, l := range h.Lowered {
		switch o := s.eval(l.When); o.result {
		case condition.True:
			if !raised && l.To > base {
				level = max(level, l.To)
				because = append(because, l.Because)
			}
		case condition.Unknown:
			if !surely { // what is raised for certain, nothing lowers
				open = append(open, o.missing...)
			}
		}
	}
	if h.From != "" && !s.resolve(h.From).known {
		open = append(open, h.From)
	}
	to := "piece"
	if h.ToPerson {
		to = "person"
	}
	risk := rules.RiskOf(h.Severity, level)
	return Hazard{ID: h.ID, What: h.What, To: to, Severity: rules.Severities[h.Severity], Level: rules.Levels[level],
		Risk: risk.String(), Because: because, Lowers: open, Sources: h.Sources, risk: int(risk)}
}

// reason writes out how a clause came out and what that rests on.
func (s *scene) reason(c rules.Clause) Reason {
	o := s.eval(c.When)
	r := Reason{Rule: c.When.Text, Outcome: o.result.String(), Because: c.Because, Sources: c.Sources}
	if o.result == condition.Unknown {
		r.Missing = s.asks(o.missing)
	}
	comp, err := c.When.Compile()
	if err != nil {
		return r
	}
	r.RestsOn = s.restsOn(comp.Facts)
	return r
}

// rest writes out a fact with, where it was not answered, what gave it.
func (s *scene) rest(id string, f fact) Rest {
	decl := s.book.Facts[id]
	rest := Rest{Fact: id, Answer: decl.Show(f.value), How: f.how}
	var why Reason
	switch f.how {
	case Found:
		why = s.reason(f.finding.Branches[f.branch].Clause)
	case LookedUp:
		row := s.row(decl.Lookup.Table, s.resolve(decl.Lookup.By).value.Choice())
		why = Reason{Rule: decl.Lookup.Table + "." + decl.Lookup.Column, Outcome: condition.True.String(),
			Because: "the table " + decl.Lookup.Table + " says so", RestsOn: s.restsOn([]string{decl.Lookup.By}), Sources: row.Sources}
	case Computed:
		id, _, _ := strings.Cut(decl.Computed, ".")
		why = Reason{Rule: decl.Computed, Outcome: condition.True.String(), Because: s.reckon(id).because(),
			RestsOn: s.restsOn(slices.Sorted(maps.Values(s.calculator(id).Inputs))), Sources: decl.Sources}
	default:
		return rest
	}
	rest.Why = &why
	return rest
}

// restsOn lists those of the facts that are known.
func (s *scene) restsOn(ids []string) []Rest {
	out := make([]Rest, 0, len(ids))
	for _, id := range ids {
		if f := s.resolve(id); f.known {
			out = append(out, s.rest(id, f))
		}
	}
	return out
}
