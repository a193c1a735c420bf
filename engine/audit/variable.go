package audit

import (
	"slices"

	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

// variable is what a person can answer in one of finitely many ways that matter: a fact, one answer
// of a fact that takes several, or a figure reckoned of one repair.
type variable struct {
	index  int
	fact   *rules.Fact
	answer string // of a fact that takes several: this variable is yes or no
	of     *rules.Method
	harm   string // of a harm whose level is reckoned: which; the cells are the levels
	points []float64
	whole  cells
	n      int
}

func (v *variable) size() int { return v.n }

// value is an answer within a cell: a point, or the middle of a gap between two.
func (v *variable) value(cell int) condition.Value {
	switch v.fact.Kind {
	case condition.Choice:
		return condition.Pick(v.fact.Answers[cell].ID)
	case condition.Quantity:
		x := v.points[cell/2]
		if cell%2 == 1 {
			x = (x + v.points[cell/2+1]) / 2
		}
		return condition.Measured(interval.Exact(x))
	}
	return condition.Yes(cell == 0)
}

// likely is the cell among several to show: of a quantity a gap, since few measure a point exactly.
func (v *variable) likely(c cells) int {
	first := -1
	for i := range v.n {
		if !c.has(i) {
			continue
		}
		if v.points == nil || i%2 == 1 {
			return i
		}
		if first < 0 {
			first = i
		}
	}
	return first
}

// variable returns the one of a fact, of one answer if it takes several, and of a repair if it is
// reckoned of one.
func (a *audit) variable(f *rules.Fact, answer string, m *rules.Method) *variable {
	key := f.ID + " " + answer
	if f.Computed == "" {
		m = nil
	} else if m != nil {
		key += " " + m.ID
	}
	if v := a.byKey[key]; v != nil {
		return v
	}
	v := &variable{fact: f, answer: answer, of: m, n: 2}
	switch f.Kind {
	case condition.Choice:
		v.n = len(f.Answers)
	case condition.Quantity:
		v.points = slices.Concat([]float64{f.Bounds.Lo, f.Bounds.Hi}, a.cuts[f.ID])
		v.points = slices.DeleteFunc(v.points, func(x float64) bool { return x < f.Bounds.Lo || x > f.Bounds.Hi })
		slices.Sort(v.points)
		v.points = slices.Compact(v.points)
		v.n = 2*len(v.points) - 1
	}
	return a.add(key, v)
}

// level is the variable of a harm whose probability is reckoned: any but eliminated, since
// arithmetic eliminates nothing.
func (a *audit) level(m *rules.Method, h *rules.Harm) *variable {
	key := m.ID + " harm " + h.ID
	if v := a.byKey[key]; v != nil {
		return v
	}
	return a.add(key, &variable{fact: a.book.Facts[h.From], of: m, harm: h.ID, n: rules.Eliminated})
}

func (a *audit) add(key string, v *variable) *variable {
	v.index, v.whole = len(a.vars), allOf(v.n)
	a.vars = append(a.vars, v)
	a.byKey[key] = v
	return v
}
