package engine

import (
	"cmp"
	"slices"

	"mendwright/rules"
	"mendwright/rules/condition"
)

// maxQuestions is how many questions an answer lists.
const maxQuestions = 6

// questions lists what to answer next: until a repair is ready, first what the nearest one waits
// for; then what settles the kind of defect, what the best repair waits for or could lower its
// risk, then what other repairs wait for; within each the least effort first, then what decides most.
func (s *scene) questions(candidates []kind, judged []*verdict) []Question {
	type need struct {
		tier    int
		decides []string
	}
	needs := map[string]*need{}
	add := func(tier int, what string, in *scene, missing []string) {
		for _, id := range in.asks(missing) {
			n := needs[id]
			if n == nil {
				n = &need{tier: tier}
				needs[id] = n
			}
			n.tier = min(n.tier, tier)
			if !slices.Contains(n.decides, what) {
				n.decides = append(n.decides, what)
			}
		}
	}
	settled := slices.ContainsFunc(candidates, func(k kind) bool { return k.certain })
	for _, k := range candidates {
		tier := 0
		if settled {
			tier = 3
		}
		add(tier, "whether it is: "+k.def.Name, s, k.missing)
	}
	for i, v := range judged {
		if v.state == RuledOut {
			break
		}
		tier := 2
		if i == 0 {
			tier = 1
		}
		add(tier, v.method.Name, v.scene, v.missing)
		if i == 0 {
			for _, h := range v.hazards {
				if h.risk < int(rules.Low) {
					add(tier, "the risk that "+h.What, v.scene, h.Lowers)
				}
			}
		}
	}
	for _, id := range s.nearest(judged) {
		if n := needs[id]; n != nil {
			n.tier = -1
		}
	}
	out := []Question{}
	for id, n := range needs {
		f := s.book.Facts[id]
		q := Question{Fact: id, Ask: f.Ask, Tell: f.Tell, Effort: f.Effort, Harms: f.Harms, Unit: f.Unit, Closer: s.resolve(id).known, Decides: n.decides}
		for _, a := range f.Answers {
			q.Answers = append(q.Answers, Option(a))
		}
		if f.Kind == condition.YesNo {
			q.Answers = []Option{{"yes", "yes"}, {"no", "no"}}
		}
		out = append(out, q)
	}
	slices.SortFunc(out, func(a, b Question) int {
		x, y := needs[a.Fact], needs[b.Fact]
		return cmp.Or(
			cmp.Compare(x.tier, y.tier),
			cmp.Compare(slices.Index(rules.Efforts, a.Effort), slices.Index(rules.Efforts, b.Effort)),
			cmp.Compare(len(y.decides), len(x.decides)),
			cmp.Compare(a.Fact, b.Fact),
		)
	})
	return out[:min(len(out), maxQuestions)]
}

// nearest lists the facts that are asked before the repair that lacks the fewest is ready, for the
// kind of defect that lacks the fewest. It is empty once a repair is ready.
func (s *scene) nearest(judged []*verdict) []string {
	var best []string
	for _, v := range judged {
		switch v.state {
		case Ready:
			return nil
		case RuledOut:
			continue
		}
		for _, k := range v.for_ {
			lacks := v.scene.asks(append(slices.Clone(v.own), k.missing...))
			if len(lacks) > 0 && (best == nil || len(lacks) < len(best)) {
				best = lacks
			}
		}
	}
	return best
}
