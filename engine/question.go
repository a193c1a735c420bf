package engine

import (
	"cmp"
	"maps"
	"slices"

	"mendwright/rules"
	"mendwright/rules/condition"
)

// maxQuestions is how many questions an answer lists.
const maxQuestions = 6

// questions lists what to answer next, at most n: until a repair is ready, what leads to one; once one is, whether it is a danger to somebody; then what
// settles the kind of defect, what the best repair waits for or could lower its risk, then what other
// repairs and the warnings wait for; within each the least effort first, then what decides most. Each of
// them has an answer that would bring something further.
func (b *standing) questions(n int) []Question {
	out := []Question{}
	add := func(fs []*rules.Fact) {
		for _, f := range fs {
			if len(out) == n {
				return
			}
			if slices.ContainsFunc(out, func(q Question) bool { return q.Fact == f.ID }) || !b.matters(f) {
				continue
			}
			q := ask(f, b.decides(f))
			q.Closer = b.scene.resolve(f.ID).known
			out = append(out, q)
		}
	}
	guards := b.guards()
	add(b.toReady())
	add(guards)
	if len(out) < n {
		add(b.rest())
	}
	for i, q := range out {
		out[i].Guard = slices.Contains(guards, b.scene.book.Facts[q.Fact])
	}
	return out
}

// waiting is something in the answer that waits for facts: the lower its tier, the sooner they are asked.
type waiting struct {
	tier          int
	prefix, named string   // what waits, in two parts
	v             *verdict // nil of the mark itself
	missing       []int
	kinds         []*kind // or any of these, to be certain
}

// on reports whether it waits for a missing fact of which that is so.
func (w *waiting) on(so func(missing int) bool) bool {
	return slices.ContainsFunc(w.missing, so) || slices.ContainsFunc(w.kinds, func(k *kind) bool { return slices.ContainsFunc(k.missing(), so) })
}

// waits lists what waits for an answer, warnings aside. Ranked, the best repair comes first and with it
// what could lower its risk.
func (b *standing) waits(ranked bool) []waiting {
	var out []waiting
	tier := 0
	if slices.ContainsFunc(b.kinds, func(k *kind) bool { return k.certain }) {
		tier = 3
	}
	for _, k := range b.kinds {
		out = append(out, waiting{tier: tier, prefix: "whether it is: ", named: k.def.Name, missing: k.missing()})
	}
	judged := b.verdicts()
	if ranked {
		judged = b.ranked()
	}
	for i, v := range judged {
		if v.state == RuledOut {
			continue
		}
		tier := 2
		if i == 0 && ranked {
			tier = 1
		}
		w := waiting{tier: tier, named: v.method.Name, v: v, missing: v.own}
		if !v.certain() {
			w.kinds = v.for_
		}
		out = append(out, w)
		if tier == 1 {
			for _, h := range v.hazards {
				if h.risk < int(rules.Low) {
					out = append(out, waiting{tier: tier, prefix: "the risk that ", named: h.harm.What, v: v, missing: v.scene.lowers(h.harm)})
				}
			}
		}
	}
	return out
}

// decides names what waits for an answer to a fact.
func (b *standing) decides(f *rules.Fact) []string {
	var out []string
	// Whether the fact is behind a missing one, by index; much waits for the same.
	const not, yes = 1, 2
	known := make([]byte, b.scene.book.CountFacts())
	behind := func(v *verdict, missing int) bool {
		ofRepair := v != nil && b.scene.book.FactAt(missing).OfRepair()
		if !ofRepair && known[missing] != 0 {
			return known[missing] == yes
		}
		is := slices.Contains(b.asked(v, missing), f)
		if !ofRepair {
			known[missing] = not
			if is {
				known[missing] = yes
			}
		}
		return is
	}
	named := func(ws []waiting) {
		for _, w := range ws {
			if w.on(func(m int) bool { return behind(w.v, m) }) {
				if what := w.prefix + w.named; !slices.Contains(out, what) {
					out = append(out, what)
				}
			}
		}
	}
	named(b.waits(b.ready()))
	if len(out) == 0 { // it may lower the risk of what is likely to come out best
		named(b.waits(true))
	}
	var warnings []string
	book := b.scene.book
	for id := range book.Reach(f.ID).Asks {
		for w := range book.Reach(id).Warnings {
			if b.scene.eval(w.When) == condition.Unknown && b.calls(w) && slices.Contains(b.behind(b.scene.lacks(w.When, nil)), f) {
				warnings = append(warnings, "a warning: "+w.ID)
			}
		}
	}
	slices.Sort(warnings)
	out = append(out, slices.Compact(warnings)...)
	return out
}

// behind lists the questions behind missing facts.
func (b *standing) behind(missing []int) []*rules.Fact {
	var out []*rules.Fact
	for _, m := range missing {
		out = append(out, b.asked(nil, m)...)
	}
	return out
}

// rest lists all that is open, in the order to ask it once a repair is ready or none can be.
func (b *standing) rest() []*rules.Fact {
	tiers, count := map[*rules.Fact]int{}, map[*rules.Fact]int{}
	add := func(tier int, fs []*rules.Fact) {
		slices.SortFunc(fs, func(x, y *rules.Fact) int { return cmp.Compare(x.Index, y.Index) })
		for _, f := range slices.Compact(fs) {
			if was, known := tiers[f]; !known || tier < was {
				tiers[f] = tier
			}
			count[f]++
		}
	}
	for _, w := range b.waits(true) {
		var open []*rules.Fact
		w.on(func(m int) bool { open = append(open, b.asked(w.v, m)...); return false })
		add(w.tier, open)
	}
	for w, o := range b.warnings() {
		if o == condition.Unknown {
			add(4, b.behind(b.scene.lacks(w.When, nil)))
		}
	}
	return slices.SortedFunc(maps.Keys(tiers), func(x, y *rules.Fact) int {
		return cmp.Or(
			harmsLast(x, y),
			cmp.Compare(tiers[x], tiers[y]),
			cmp.Compare(slices.Index(rules.Efforts, x.Effort), slices.Index(rules.Efforts, y.Effort)),
			cmp.Compare(count[y], count[x]),
			cmp.Compare(x.Index, y.Index),
		)
	})
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
