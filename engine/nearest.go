package engine

import (
	"cmp"
	"math"
	"slices"

	"mendwright/rules"
	"mendwright/rules/condition"
)

// The way to a first ready repair. Of the repairs that may get ready, each for each kind the mark may be,
// the nearest is gone for: the one that the cheapest questions stand before, and that they are not
// likely to rule out. Of its questions that one comes first which leaves the fewest repairs and kinds
// open for what it costs. On made-up rulebooks small enough to try every order, this asks a few per cent more than
// the best order does (TestTheOrderOfQuestionsIsNearlyTheBestThereIs).

// effort is what an answer costs by the effort of its fact: a spot test or taking apart is worth several looks.
var effort = map[string]float64{"look": 1, "touch": 1, "measure": 2, "spot-test": 4, "take-apart": 8}

const (
	// blocked is what a fact that nobody can tell adds to the cost of a repair that waits for it.
	blocked = 3
	// even is how likely an answer is to suit a repair, where its question was not tried.
	even = 0.5
	// least is taken of an answer that is likelier to rule the repair out than this.
	least = 0.1
	// doubt says how much the chance of a repair counts beside the cost of its questions: 0 goes for the
	// shortest way whatever its odds, 1 for the least cost for each repair that gets ready.
	doubt = 0.3
	// tryNears is of how many repairs the questions are tried, to learn how likely they rule it out.
	tryNears = 8
	// kindsCount is what a kind told apart counts beside a repair.
	kindsCount = 2
)

// near is a repair for one kind of mark that may get ready, and the questions between.
type near struct {
	v    *verdict
	kind *rules.Defect
	// lacks are the questions; those of the repair itself come first, and there are own of them.
	lacks   []*rules.Fact
	own     int
	blocked int // facts that nobody can tell
	cost    float64
}

// nears lists the repairs that may get ready; none if one is ready.
func (b *standing) nears() []near {
	if b.nearsKnown {
		return b.nearest
	}
	b.nearsKnown = true
	if slices.ContainsFunc(b.judged, func(v *verdict) bool { return v.state == Ready }) {
		return nil
	}
	stamp := make([]bool, len(b.scene.book.Facts))
	for _, v := range b.judged {
		if v.state != NeedsAnswer {
			continue
		}
		certain := slices.ContainsFunc(v.for_, func(k kind) bool { return k.certain })
		for _, k := range v.for_ {
			if certain && !k.certain {
				continue // it waits for nothing but its own conditions
			}
			n := near{v: v, kind: k.def}
			b.lacking(&n, v, v.own, stamp)
			n.own = len(n.lacks)
			b.lacking(&n, nil, k.missing, stamp)
			for _, f := range n.lacks {
				stamp[f.Index] = false
			}
			if len(n.lacks) > 0 {
				b.nearest = append(b.nearest, n)
			}
		}
	}
	return b.nearest
}

// lacking adds to n the questions behind missing facts. stamp marks those that n has.
func (b *standing) lacking(n *near, of *verdict, missing []string, stamp []bool) {
	for _, id := range missing {
		asked := b.asked(of, id)
		if len(asked) == 0 {
			n.blocked++
		}
		for _, f := range asked {
			if !stamp[f.Index] {
				stamp[f.Index] = true
				n.lacks = append(n.lacks, f)
			}
		}
	}
}

// plain is the cost of what a repair lacks.
func (n *near) plain() float64 {
	sum := float64(blocked * n.blocked)
	for _, f := range n.lacks {
		sum += effort[f.Effort]
	}
	return sum
}

// toReady lists the questions that lead to the nearest repair, the one to ask first before the rest.
func (b *standing) toReady() []*rules.Fact {
	nears := slices.Clone(b.nears())
	if len(nears) == 0 {
		return nil
	}
	for i := range nears {
		nears[i].cost = nears[i].plain()
	}
	slices.SortStableFunc(nears, func(x, y near) int { return cmp.Compare(x.cost, y.cost) })
	tried := map[*rules.Fact]bool{}
	for _, n := range nears[:min(len(nears), tryNears)] {
		for _, f := range n.lacks {
			tried[f] = true
		}
	}
	kinds := b.likely()
	for i := range nears {
		n := &nears[i]
		chance := kinds[n.kind]
		for _, f := range n.lacks[:n.own] {
			if tried[f] {
				chance *= max(b.suits(f, n), least)
			} else {
				chance *= even
			}
		}
		n.cost /= math.Pow(chance, doubt)
	}
	best := slices.MinFunc(nears, func(x, y near) int { return cmp.Compare(x.cost, y.cost) })
	facts, gain := slices.Clone(best.lacks), map[*rules.Fact]float64{}
	for _, f := range facts {
		left := 0.0
		after := b.after(f)
		for _, h := range after {
			left += h.openness() / float64(len(after))
		}
		gain[f] = (b.openness() - left) / effort[f.Effort]
	}
	slices.SortFunc(facts, func(x, y *rules.Fact) int { return cmp.Or(cmp.Compare(gain[y], gain[x]), cmp.Compare(x.ID, y.ID)) })
	return facts
}

// suits is the share of the answers to a fact that leave a repair for a kind possible.
func (b *standing) suits(f *rules.Fact, n *near) float64 {
	after, sum := b.after(f), 0
	for _, h := range after {
		for _, v := range h.judged {
			if v.method == n.v.method && v.state != RuledOut && slices.ContainsFunc(v.for_, func(k kind) bool { return k.def == n.kind }) {
				sum++
			}
		}
	}
	return float64(sum) / float64(len(after))
}

// openness measures, in bits, how much is open until a repair is ready: among how many it is still to be
// found, and of which kind the mark is.
func (b *standing) openness() float64 {
	h := 0.0
	for _, p := range b.likely() {
		if p > 0 {
			h -= p * math.Log2(p)
		}
	}
	return math.Log2(float64(len(b.nears())+1)) + kindsCount*h
}

// likely says how likely each kind is, were all equally common and an answer of which a kind says nothing as
// likely as any other: an answer that a kind's signs ask for speaks for that kind.
func (b *standing) likely() map[*rules.Defect]float64 {
	out, sum := map[*rules.Defect]float64{}, 0.0
	for _, k := range b.kinds {
		w := 1.0
		for _, sign := range k.def.Signs {
			comp, err := sign.When.Compile()
			if err != nil {
				continue // kinds has reported it
			}
			for _, id := range comp.Facts {
				if b.scene.resolve(id).known {
					w /= b.share(comp, id)
				}
			}
		}
		out[k.def] = w
		sum += w
	}
	for k := range out {
		out[k] /= sum
	}
	return out
}

// share is the part of the answers to a fact under which a condition is not false, whatever else holds.
func (b *standing) share(c *condition.Condition, id string) float64 {
	key := share{c, id}
	if p, ok := b.shares[key]; ok {
		return p
	}
	trials := trialsOf(b.scene.book.Facts[id], c.Cuts[id])
	n := 0
	for _, v := range trials {
		o, _, err := c.Eval(func(q string) (condition.Value, bool) { return v, q == id })
		if err != nil || o != condition.False {
			n++
		}
	}
	p := float64(max(n, 1)) / float64(len(trials))
	b.shares[key] = p
	return p
}

// share names a condition and a fact that it reads.
type share struct {
	of   *condition.Condition
	fact string
}
