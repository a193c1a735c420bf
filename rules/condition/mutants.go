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

// Mutants are the conditions that come of c by one change: a part negated, a part of && or ||
// dropped, an answer put in the place of another, an answer more or fewer in a list, a number moved.
// They are given as they would be written, each once, and without those that mean the same as c (see
// Same) to whoever sees only what tells makes of an outcome; of these it says how many there are.
func (c *Condition) Mutants(measures func(fact string) Measure, tells func(Outcome) Outcome) (texts []string, same int) {
	t := c.taken()
	seen := map[string]bool{t.String(): true}
	for _, m := range c.env.changed(t, measures) {
		text := m.String()
		if seen[text] {
			continue
		}
		seen[text] = true
		if sameTable(c.env, measures, tells, []*tree{t}, []*tree{m}) {
			same++
			continue
		}
		texts = append(texts, text)
	}
	return texts, same
}

// changed lists the trees that come of t by one change.
func (e *Env) changed(t *tree, measures func(string) Measure) []*tree {
	out := []*tree{t.negated()}
	answers := e.facts[t.fact].Answers
	with := func(change func(*tree)) {
		m := *t
		change(&m)
		out = append(out, &m)
	}
	switch t.op {
	case "!":
		for _, k := range e.changed(t.kids[0], measures)[1:] { // the first would deny it twice
			out = append(out, &tree{op: "!", kids: []*tree{k}})
		}
	case "&&", "||":
		for i, k := range t.kids {
			rest := slices.Delete(slices.Clone(t.kids), i, i+1)
			if len(rest) == 1 {
				out = append(out, rest[0])
			} else {
				with(func(m *tree) { m.kids = rest })
			}
			for _, changed := range e.changed(k, measures) {
				with(func(m *tree) {
					m.kids = slices.Clone(t.kids)
					m.kids[i] = changed
				})
			}
		}
	case "==", "!=", "has":
		if next, ok := another(answers, t.answers); ok {
			with(func(m *tree) { m.answers = []string{next} })
		}
	case "in":
		for i := range t.answers {
			if len(t.answers) > 1 {
				with(func(m *tree) { m.answers = slices.Delete(slices.Clone(t.answers), i, i+1) })
			}
		}
		if next, ok := another(answers, t.answers); ok {
			with(func(m *tree) { m.answers = append(slices.Clone(t.answers), next) })
		}
	case "<", "<=", ">", ">=":
		by := measures(t.fact).shift(t.number)
		with(func(m *tree) { m.number += by })
		with(func(m *tree) { m.number -= by })
	}
	return out
}

// shift is how far a number is moved: a quarter of itself, or as far as a measurement with its usual
// spread can tell from it if that is more.
func (m Measure) shift(number float64) float64 { return max(number/4, -number/4, 3*m.Spread) }

// another is the answer that comes after the last of those used, around the end, and is not used.
func another(answers, used []string) (string, bool) {
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
	x, y := a.taken(), b.taken()
	return sameTable(a.env, measures, func(o Outcome) Outcome { return o }, []*tree{x, y}, []*tree{y, x})
}
