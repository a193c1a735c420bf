package condition

import (
	"slices"

	"mendwright/rules/interval"
)

// Measure is what changes of a condition need to know of a quantity.
type Measure struct {
	Bounds interval.Range
	Spread float64 // the usual ± of a measurement
}

// Changed is a condition with one thing changed, and answers that tell it from what it was; "" if there
// were too many to try.
type Changed struct{ Text, Apart string }

// Mutants are the conditions that come of c by one change: a part negated, a part of && or ||
// dropped, an answer put in the place of another, an answer more or fewer in a list, a number moved.
// They are given as they would be written, each once, and without those that mean the same as c (see
// Same) to whoever sees only what tells makes of an outcome; of these it says how many there are.
func (c *Condition) Mutants(measures func(fact string) Measure, tells func(Outcome) Outcome) (changed []Changed, same int) {
	t := c.Tree()
	seen := map[string]bool{t.String(): true}
	for _, m := range c.env.changed(t, measures) {
		text := m.String()
		if seen[text] {
			continue
		}
		seen[text] = true
		row, differ := apart(c.env, measures, tells, []*Tree{t}, []*Tree{m})
		if !differ {
			same++
			continue
		}
		changed = append(changed, Changed{text, row})
	}
	return changed, same
}

// changed lists the trees that come of t by one change.
func (e *Env) changed(t *Tree, measures func(string) Measure) []*Tree {
	out := []*Tree{t.negated()}
	with := func(change func(*Tree)) {
		m := *t
		change(&m)
		out = append(out, &m)
	}
	switch t.Op {
	case Not:
		for _, part := range e.changed(t.Parts[0], measures)[1:] { // the first would deny it twice
			out = append(out, &Tree{Op: Not, Parts: []*Tree{part}})
		}
	case And, Or:
		for i, part := range t.Parts {
			rest := slices.Delete(slices.Clone(t.Parts), i, i+1)
			if len(rest) == 1 {
				out = append(out, rest[0])
			} else {
				with(func(m *Tree) { m.Parts = rest })
			}
			for _, changed := range e.changed(part, measures) {
				with(func(m *Tree) {
					m.Parts = slices.Clone(t.Parts)
					m.Parts[i] = changed
				})
			}
		}
	case Is:
		if len(t.Answers) > 1 {
			for i := range t.Answers {
				with(func(m *Tree) { m.Answers = slices.Delete(slices.Clone(t.Answers), i, i+1) })
			}
		}
		if next, ok := another(e.facts[t.Fact].Answers, t.Answers); ok {
			with(func(m *Tree) {
				if len(t.Answers) == 1 {
					m.Answers = nil
				}
				m.Answers = append(slices.Clone(m.Answers), next)
			})
		}
	case Cut:
		by := measures(t.Fact).shift(t.Number)
		with(func(m *Tree) { m.Number += by })
		with(func(m *Tree) { m.Number -= by })
	}
	return out
}

// opposite of an ordering.
var opposite = map[string]string{"<": ">=", ">=": "<", ">": "<=", "<=": ">"}

func (t *Tree) negated() *Tree {
	switch t.Op {
	case Not:
		return t.Parts[0]
	case Cut:
		n := *t
		n.Than = opposite[t.Than]
		return &n
	}
	return &Tree{Op: Not, Parts: []*Tree{t}}
}

// shift is how far a number is moved: a quarter of itself, or as far as a measurement with its usual
// spread can tell from it if that is more.
func (m Measure) shift(number float64) float64 { return max(number/4, -number/4, 3*m.Spread) }

// another is the answer that comes after the last of those used, around the end, and is not used.
func another(answers, used []string) (string, bool) {
	if len(used) == 0 { // a yes or no has no list
		return "", false
	}
	at := slices.Index(answers, used[len(used)-1])
	for i := range answers {
		if a := answers[(at+1+i)%len(answers)]; !slices.Contains(used, a) {
			return a, true
		}
	}
	return "", false
}

// SameInEitherOrder reports whether, of two conditions that are tried one after the other until one is
// true, it makes no difference which comes first: no answers leave both of them open or true.
func SameInEitherOrder(a, b *Condition, measures func(string) Measure) bool {
	x, y := a.Tree(), b.Tree()
	return sameTable(a.env, measures, func(o Outcome) Outcome { return o }, []*Tree{x, y}, []*Tree{y, x})
}
