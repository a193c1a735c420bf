package engine

import (
	"cmp"
	"slices"

	"mendwright/rules"
	"mendwright/rules/condition"
)

// maxQuestions is how many questions an answer lists.
const maxQuestions = 6

// questions lists what to answer next, at most n: until a repair is ready, what leads to one; then what
// settles the kind of defect, what the best repair waits for or could lower its risk, then what other
// repairs and the warnings wait for; within each the least effort first, then what decides most. Each of
// them has an answer that would bring something further.
func (b *standing) questions(n int) []Question {
	needs := b.needs()
	order := b.toReady()
	var rest []*rules.Fact
	for id := range needs {
		if f := b.scene.book.Facts[id]; !slices.Contains(order, f) {
			rest = append(rest, f)
		}
	}
	slices.SortFunc(rest, func(x, y *rules.Fact) int {
		return cmp.Or(
			cmp.Compare(needs[x.ID].tier, needs[y.ID].tier),
			cmp.Compare(slices.Index(rules.Efforts, x.Effort), slices.Index(rules.Efforts, y.Effort)),
			cmp.Compare(len(needs[y.ID].decides), len(needs[x.ID].decides)),
			cmp.Compare(x.ID, y.ID),
		)
	})
	out := []Question{}
	for _, f := range append(order, rest...) {
		if len(out) == n {
			break
		}
		if b.matters(f) {
			q := ask(f, needs[f.ID].decides)
			q.Closer = b.scene.resolve(f.ID).known
			out = append(out, q)
		}
	}
	return out
}

// need is a question with what waits for it.
type need struct {
	tier    int
	decides []string
}

// needs lists what is open, by fact.
func (b *standing) needs() map[string]*need {
	needs := map[string]*need{}
	add := func(tier int, what string, v *verdict, missing []string) {
		for _, m := range missing {
			for _, f := range b.asked(v, m) {
				n := needs[f.ID]
				if n == nil {
					n = &need{tier: tier}
					needs[f.ID] = n
				}
				n.tier = min(n.tier, tier)
				if !slices.Contains(n.decides, what) {
					n.decides = append(n.decides, what)
				}
			}
		}
	}
	settled := slices.ContainsFunc(b.kinds, func(k kind) bool { return k.certain })
	for _, k := range b.kinds {
		tier := 0
		if settled {
			tier = 3
		}
		add(tier, "whether it is: "+k.def.Name, nil, k.missing)
	}
	judged := slices.Clone(b.judged)
	slices.SortStableFunc(judged, compare)
	for i, v := range judged {
		if v.state == RuledOut {
			break
		}
		tier := 2
		if i == 0 {
			tier = 1
		}
		add(tier, v.method.Name, v, v.missing)
		if i == 0 {
			for _, h := range v.hazards {
				if h.risk < int(rules.Low) {
					add(tier, "the risk that "+h.What, v, h.Lowers)
				}
			}
		}
	}
	for _, w := range b.scene.book.Warnings {
		if o := b.warnings[w.ID]; o.result == condition.Unknown {
			add(4, "a warning: "+w.ID, nil, o.missing)
		}
	}
	return needs
}

// ask is the question for a fact.
func ask(f *rules.Fact, decides []string) Question {
	q := Question{Fact: f.ID, Ask: f.Ask, Tell: f.Tell, Effort: f.Effort, Harms: f.Harms, Unit: f.Unit, Decides: decides}
	for _, a := range f.Answers {
		q.Answers = append(q.Answers, Option(a))
	}
	if f.Kind == condition.YesNo {
		q.Answers = []Option{{"yes", "yes"}, {"no", "no"}}
	}
	return q
}
