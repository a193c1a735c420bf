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
// open for what it costs; one that may harm the piece costs most, and where something milder settles the
// same fact it is not even among them (see asks). On made-up rulebooks small enough to try every order,
// this asks a few per cent more than the best order does (TestTheOrderOfQuestionsIsNearlyTheBestThereIs).

// effort is what an answer costs by the effort of its fact: a spot test or taking apart is worth several looks.
var effort = map[string]float64{"look": 1, "touch": 1, "measure": 2, "spot-test": 4, "take-apart": 8}

const (
	// blocked is what a fact that nobody can tell adds to the cost of a repair that waits for it.
	blocked = 3
	// even is how likely an answer is to suit a repair where that is not worked out.
	even = 0.5
	// least is taken of an answer that is likelier to rule the repair out than this.
	least = 0.1
	// doubt says how much the chance of a repair counts beside the cost of its questions: 0 goes for the
	// shortest way whatever its odds, 1 for the least cost for each repair that gets ready.
	doubt = 0.3
	// kindsCount is what a kind told apart counts beside a repair.
	kindsCount = 2
	// strange says beside how many kinds the marks count that are of none of them, whose answers may be any.
	strange = 10
	// few is up to how many kinds the worth of a question is worked out exactly, with what each answer does to
	// each repair. As long as there are more, telling them apart is most of what an answer is worth.
	few = 8
)

// near is a repair for one kind of mark that may get ready. cost is that of the questions between.
type near struct {
	v    *verdict
	kind *kind
	cost float64
}

// nears lists the repairs that may get ready; none if one is ready.
func (b *standing) nears() []near {
	if b.ready() {
		return nil
	}
	var out []near
	w := b.wants()
	for _, v := range b.verdicts() {
		if v.state != NeedsAnswer || v.onlyHolds() {
			continue
		}
		certain := v.certain()
		for _, k := range v.for_ {
			if certain && !k.certain {
				continue // it waits for nothing but its own conditions
			}
			n := near{v: v, kind: k}
			if facts, unasked := w.of(n); len(facts) > 0 {
				n.cost = float64(blocked * unasked)
				for _, f := range facts {
					n.cost += effort[f.Effort]
				}
				out = append(out, n)
			}
		}
	}
	return out
}

// wants gathers what repairs lack, one after the other.
type wants struct {
	*standing
	facts []*rules.Fact
	has   []bool // by the index of a fact, whether it is among them
}

func (b *standing) wants() *wants {
	return &wants{standing: b, has: make([]bool, b.scene.book.CountFacts())}
}

// of lists the questions that stand before a repair, those of the repair itself first, until it is called again.
// unasked counts the missing facts that nobody can tell.
func (w *wants) of(n near) (questions []*rules.Fact, unasked int) {
	for _, f := range w.facts {
		w.has[f.Index] = false
	}
	w.facts = w.facts[:0]
	add := func(v *verdict, missing []int) {
		for _, at := range missing {
			asked := w.asked(v, at)
			if len(asked) == 0 {
				unasked++
			}
			for _, f := range asked {
				if !w.has[f.Index] {
					w.has[f.Index] = true
					w.facts = append(w.facts, f)
				}
			}
		}
	}
	add(n.v, n.v.own)
	add(nil, n.kind.missing())
	return w.facts, unasked
}

// toReady lists the questions that lead to the nearest repair, the one to ask first before the rest.
func (b *standing) toReady() []*rules.Fact {
	nears := b.nears()
	if len(nears) == 0 {
		return nil
	}
	shares, _ := b.likely()
	share, waiting := make([]float64, len(b.scene.book.Defects)), make([]int, len(b.scene.book.Defects)) // by kind
	for i, k := range b.kinds {
		share[k.def.Index] = shares[i]
	}
	best, chance, of := near{cost: math.Inf(1)}, 0.0, (*verdict)(nil)
	for _, n := range nears {
		k := n.kind.def.Index
		waiting[k]++
		if n.cost/math.Pow(share[k], doubt) >= best.cost {
			continue // not even if it were sure to suit
		}
		if n.v != of {
			chance, of = b.chance(n.v), n.v
		}
		if n.cost /= math.Pow(share[k]*chance, doubt); n.cost < best.cost {
			best = n
		}
	}
	if len(b.kinds) <= few {
		waiting = nil // worked out exactly
	}
	facts, _ := b.wants().of(best)
	gain := map[*rules.Fact]float64{}
	open, _ := b.openness(waiting)
	for _, f := range facts {
		left, all := 0.0, 0.0
		for _, h := range b.after(f) {
			then, weight := h.openness(waiting)
			left, all = left+then*(strange+weight), all+strange+weight
		}
		gain[f] = (open - left/max(all, strange)) / effort[f.Effort]
	}
	slices.SortFunc(facts, func(x, y *rules.Fact) int {
		return cmp.Or(cmp.Compare(gain[y], gain[x]), cmp.Compare(x.ID, y.ID))
	})
	return facts
}

// harmsLast puts what may harm the piece, a spot test or taking apart, behind all that does not.
func harmsLast(x, y *rules.Fact) int {
	harms := func(f *rules.Fact) int {
		if f.Harms != "" {
			return 1
		}
		return 0
	}
	return cmp.Compare(harms(x), harms(y))
}

// guards lists the questions that decide whether the best repair, once it is ready, is a danger to somebody:
// those that a danger waits for and that ask about the piece, not about what is at hand in the shop.
func (b *standing) guards() []*rules.Fact {
	if !b.ready() {
		return nil
	}
	v := b.ranked()[0]
	var out []*rules.Fact
	for _, e := range append([]string{""}, v.method.GivesOff...) {
		for _, w := range b.scene.book.WarningsOn(e) {
			if w.Signal != rules.Signals[0] {
				continue
			}
			if b.scene.eval(w.When) != condition.Unknown {
				continue
			}
			for _, f := range b.behind(b.scene.lacks(w.When, nil)) {
				if f.Subject != "shop" && !slices.Contains(out, f) {
					out = append(out, f)
				}
			}
		}
	}
	slices.SortFunc(out, func(x, y *rules.Fact) int {
		return cmp.Or(cmp.Compare(effort[x.Effort], effort[y.Effort]), cmp.Compare(x.ID, y.ID))
	})
	return out
}

// chance estimates how likely the answers that a repair waits for suit it, kind aside.
func (b *standing) chance(v *verdict) float64 {
	p := 1.0
	var missing []int
	each := func(cs []rules.Clause, forbids condition.Outcome) {
		for _, c := range cs {
			if v.scene.eval(c.When) != condition.Unknown {
				continue
			}
			missing = v.scene.lacks(c.When, missing[:0])
			comp, err := c.When.Compile()
			if err != nil || len(missing) != 1 || b.scene.book.FactAt(missing[0]).Computed != "" {
				p *= even
				continue
			}
			p *= max(c.When.Share(slices.Index(comp.Places, missing[0]), forbids), least)
		}
	}
	each(v.method.Suits, condition.False)
	each(v.method.Never, condition.True)
	return p
}

// openness measures, in bits, how much is open until a repair is ready: among how many it is still to be
// found, and of which kind the mark is. weight is how likely the answers so far are, beside those of another
// standing of the same mark.
// Where waiting is not nil it judges no repair anew, but takes those that waited before, so many for each kind by
// its index, whose kind is left.
func (b *standing) openness(waiting []int) (bits, weight float64) {
	h, repairs := 0.0, 0
	shares, weight := b.likely()
	for i, k := range b.kinds { // in order: sums of the same numbers in another order differ
		if p := shares[i]; p > 0 {
			h -= p * math.Log2(p)
			if waiting != nil {
				repairs += waiting[k.def.Index]
			}
		}
	}
	if waiting == nil {
		repairs = b.possible()
	}
	return math.Log2(float64(repairs+1)) + kindsCount*h, weight
}

// possible counts nears without listing what they lack.
func (b *standing) possible() int {
	n := 0
	for _, v := range b.verdicts() {
		if v.mends() {
			return 0
		}
		if v.state != NeedsAnswer || v.onlyHolds() {
			continue
		}
		own := b.anyAsked(v, v.own)
		certain := v.certain()
		for _, k := range v.for_ {
			if k.certain == certain && (own || b.anyAsked(nil, k.missing())) {
				n++
			}
		}
	}
	return n
}

func (b *standing) anyAsked(v *verdict, missing []int) bool {
	return slices.ContainsFunc(missing, func(at int) bool { return len(b.asked(v, at)) > 0 })
}

// likely says of each of the kinds how likely it is, were all equally common and an answer of which a kind says
// nothing as likely as any other: an answer that a kind's signs ask for speaks for that kind. sum is what all of
// them weigh together before they are made to add up to one.
func (b *standing) likely() (shares []float64, sum float64) {
	shares = make([]float64, len(b.kinds))
	for i, k := range b.kinds {
		if k.weight == 0 {
			k.weight = b.scene.weight(k.def)
		}
		shares[i] = k.weight
		sum += k.weight
	}
	for i := range shares {
		shares[i] /= sum
	}
	return shares, sum
}

// weight is what the answers so far say for a kind.
func (s *scene) weight(d *rules.Defect) float64 {
	w := 1.0
	for _, sign := range d.Signs {
		comp, err := sign.When.Compile()
		if err != nil {
			continue // kinds has reported it
		}
		for i, at := range comp.Places {
			if s.Answer(at) != nil {
				w /= max(sign.When.Share(i, condition.False), least)
			}
		}
	}
	return w
}
