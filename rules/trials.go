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

// Share is the part of the answers, from 0 to 1, to the fact that stands at i among those which the condition reads,
// under which the condition, everything else unknown, does not come out as said. A condition that does not
// compile shares nothing out: 1.
func (c *Cond) Share(i int, as condition.Outcome) float64 {
	if _, err := c.Compile(); err != nil {
		return 1
	}
	c.sharesOnce.Do(func() {
		for _, fact := range c.comp.Facts {
			trials := c.book.Facts[fact].Trials(c.comp.Cuts[fact])
			var p [3]float64
			for _, v := range trials {
				o, _, err := c.comp.Eval(func(id string) (condition.Value, bool) { return v, id == fact })
				for as := range p {
					if err != nil || o != condition.Outcome(as) {
						p[as]++
					}
				}
			}
			for as := range p {
				p[as] /= float64(len(trials))
			}
			c.shares = append(c.shares, p)
		}
	})
	return c.shares[i][as]
}
