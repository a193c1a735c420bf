package rules

import (
	"slices"

	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

// Trials are answers that between them lead to all that the fact could lead to: of a choice and a yes or no every one, of several each alone, none and all,
// of a quantity one between each two of the numbers that it is compared with (cuts, in its unit).
func (f *Fact) Trials(cuts []float64) []condition.Value {
	var out []condition.Value
	switch f.Kind {
	case condition.YesNo:
		return []condition.Value{condition.Yes(true), condition.Yes(false)}
	case condition.Choice:
		for _, a := range f.Answers {
			out = append(out, condition.Pick(a.ID))
		}
	case condition.Several:
		var all []string
		for _, a := range f.Answers {
			all = append(all, a.ID)
			out = append(out, condition.PickSeveral(a.ID))
		}
		out = append(out, condition.PickSeveral(), condition.PickSeveral(all...))
	case condition.Quantity:
		at := slices.DeleteFunc(slices.Concat([]float64{f.Bounds.Lo, f.Bounds.Hi}, cuts), func(x float64) bool { return x < f.Bounds.Lo || x > f.Bounds.Hi })
		slices.Sort(at)
		at = slices.Compact(at)
		for i := range at[1:] {
			out = append(out, condition.Measured(interval.Exact((at[i]+at[i+1])/2)))
		}
	}
	return out
}

// Share is the part of the answers to a fact, from 0 to 1, under which the condition, everything else
// unknown, does not come out as said. A condition that does not compile shares nothing out: 1.
func (c *Cond) Share(fact string, as condition.Outcome) float64 {
	key := shareOf{c.Text, fact, as}
	if p, ok := c.book.shares.Load(key); ok {
		return p.(float64)
	}
	comp, err := c.Compile()
	if err != nil {
		return 1
	}
	trials := c.book.Facts[fact].Trials(comp.Cuts[fact])
	n := 0
	for _, v := range trials {
		o, _, err := comp.Eval(func(id string) (condition.Value, bool) { return v, id == fact })
		if err != nil || o != as {
			n++
		}
	}
	p := float64(n) / float64(len(trials))
	c.book.shares.Store(key, p)
	return p
}

type shareOf struct {
	text, fact string
	as         condition.Outcome
}
