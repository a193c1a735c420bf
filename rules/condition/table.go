package condition

import (
	"maps"
	"math"
	"slices"
	"strings"

	"mendwright/rules/interval"
)

// mostRows bounds the truth tables that are compared; what is larger counts as different.
const mostRows = 200_000

// sameTable compares, over all answers and with any of them unknown, what two rows of conditions come
// to. Of one condition that is what tells makes of its outcome; of more, tried one after the other,
// which is the first that is true, and unknown if one before it is.
func sameTable(e *Env, measures func(string) Measure, tells func(Outcome) Outcome, a, b []*Tree) bool {
	_, differ := apart(e, measures, tells, a, b)
	return !differ
}

// apart finds answers for which two rows of conditions come to something else, known ones where there are
// such, and writes them out; "" where there are too many to try, which counts as different.
func apart(e *Env, measures func(string) Measure, tells func(Outcome) Outcome, a, b []*Tree) (string, bool) {
	come := func(row []*Tree, lookup Lookup) (int, Outcome) {
		for i, t := range row {
			if o := t.eval(lookup); o != False || i == len(row)-1 {
				return i, tells(o)
			}
		}
		return 0, Unknown
	}
	return rowWhere(e, measures, slices.Concat(a, b), func(lookup Lookup) bool {
		ia, oa := come(a, lookup)
		ib, ob := come(b, lookup)
		return oa != ob || oa == True && a[ia] != b[ib] && len(a) > 1
	})
}

// Example writes out answers for which the condition comes out so; "" if there are none or too many to try.
func (c *Condition) Example(measures func(fact string) Measure, out Outcome) string {
	row, _ := rowWhere(c.env, measures, []*Tree{c.tree}, func(lookup Lookup) bool { return c.tree.eval(lookup) == out })
	return row
}

// rowWhere writes out the first row of the truth table of the conditions that is so. It counts as found,
// and is "", where the table is too large.
func rowWhere(e *Env, measures func(string) Measure, trees []*Tree, so func(Lookup) bool) (string, bool) {
	used := map[string]*usage{}
	for _, t := range trees {
		t.use(used)
	}
	names := slices.Sorted(maps.Keys(used))
	var trials [][]*Value
	rows := 1
	for _, name := range names {
		trials = append(trials, used[name].trials(e.facts[name], measures(name).Bounds))
		if rows *= len(trials[len(trials)-1]); rows > mostRows {
			return "", true
		}
	}
	given := make(map[string]*Value, len(names))
	lookup := func(id string) (Value, bool) {
		if v := given[id]; v != nil {
			return *v, true
		}
		return Value{}, false
	}
	for row := range rows {
		for i, name := range names {
			given[name] = trials[i][row%len(trials[i])]
			row /= len(trials[i])
		}
		if !so(lookup) {
			continue
		}
		var out []string
		for _, name := range names {
			if v := given[name]; v != nil {
				out = append(out, name+": "+v.String())
			} else {
				out = append(out, name+" not known")
			}
		}
		return strings.Join(out, ", "), true
	}
	return "", false
}

// usage is what conditions say of one fact.
type usage struct {
	answers []string
	numbers []float64
}

func (t *Tree) use(used map[string]*usage) {
	for _, part := range t.Parts {
		part.use(used)
	}
	if t.Fact == "" {
		return
	}
	u := used[t.Fact]
	if u == nil {
		u = &usage{}
		used[t.Fact] = u
	}
	for _, a := range t.Answers {
		if !slices.Contains(u.answers, a) {
			u.answers = append(u.answers, a)
		}
	}
	if t.Op == Cut {
		u.numbers = append(u.numbers, t.Number)
	}
}

// trials are answers, and unknown as nil, that between them stand for all there are: those that the
// conditions name and one that they do not; of a quantity every range from one number to another.
func (u *usage) trials(f Fact, bounds interval.Range) []*Value {
	var out []*Value
	add := func(v Value) { out = append(out, &v) }
	switch f.Kind {
	case YesNo:
		add(Yes(true))
		add(Yes(false))
	case Choice:
		other := false
		for _, a := range f.Answers {
			if named := slices.Contains(u.answers, a); named || !other {
				add(Pick(a))
				other = other || !named
			}
		}
	case Several:
		for n := range 1 << min(len(u.answers), 16) {
			var set []string
			for i, a := range u.answers {
				if n&(1<<i) != 0 {
					set = append(set, a)
				}
			}
			add(PickSeveral(set...))
		}
	case Quantity:
		at := u.points(bounds)
		for i, lo := range at {
			for _, hi := range at[i:] {
				add(Measured(interval.Range{Lo: lo, Hi: hi}))
			}
		}
	}
	return append(out, nil)
}

// points are the numbers themselves, one between each two and the ends.
func (u *usage) points(bounds interval.Range) []float64 {
	at := append(slices.Clone(u.numbers), bounds.Lo, bounds.Hi)
	at = slices.DeleteFunc(at, func(x float64) bool { return x < bounds.Lo || x > bounds.Hi || math.IsNaN(x) })
	slices.Sort(at)
	at = slices.Compact(at)
	for i := len(at) - 1; i > 0; i-- {
		at = slices.Insert(at, i, (at[i-1]+at[i])/2)
	}
	return at
}

// eval judges the tree as Condition.Eval would, without what is missing. An answer of the wrong kind
// counts as none.
func (t *Tree) eval(lookup Lookup) Outcome {
	j := judging{lookup: lookup}
	out, err := j.judge(t, nil)
	if err != nil {
		return Unknown
	}
	return out
}
