package engine

import (
	"slices"
	"strings"

	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

// trials are answers to a fact that between them lead to all it could lead to for the mark; of what was
// measured already, what a closer measurement may find.
func (b *standing) trials(f *rules.Fact) []condition.Value {
	if was := b.scene.resolve(f.ID); was.known && f.Kind == condition.Quantity {
		r := was.value.Range()
		var out []condition.Value
		for _, x := range []float64{r.Lo, r.Mid(), r.Hi} {
			out = append(out, condition.Measured(interval.Exact(x)))
		}
		return out
	}
	return f.Trials(b.cuts(f))
}

// cuts are the numbers that a rule of the mark compares a quantity with; of one that is computed with, some
// along its range as well.
func (b *standing) cuts(f *rules.Fact) []float64 {
	if f.Kind != condition.Quantity {
		return nil
	}
	var at []float64
	add := func(c *rules.Cond) {
		if c == nil || !strings.Contains(c.Text, f.ID) {
			return
		}
		if comp, err := c.Compile(); err == nil {
			at = append(at, comp.Cuts[f.ID]...)
		}
	}
	for _, k := range b.kinds {
		for _, c := range k.def.Signs {
			add(c.When)
		}
	}
	for _, v := range b.verdicts() {
		for _, c := range slices.Concat(v.method.Suits, v.method.Never) {
			add(c.When)
		}
		for _, h := range v.method.Harms {
			for _, sh := range slices.Concat(h.Raised, h.Lowered) {
				add(sh.When)
			}
		}
	}
	for _, finding := range b.scene.book.Findings {
		for _, br := range finding.Branches {
			add(br.When)
		}
	}
	for _, c := range b.scene.book.Calculators {
		for _, in := range c.Inputs {
			if in == f.ID {
				for _, part := range []float64{0.002, 0.01, 0.04, 0.15, 0.4} {
					at = append(at, f.Bounds.Lo+part*(f.Bounds.Hi-f.Bounds.Lo))
				}
			}
		}
	}
	return at
}
