package engine

import (
	"maps"
	"math"
	"slices"

	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

// maxRungs bounds a ladder: nobody plans further than this on one mark.
const maxRungs = 4

// ladder strings repairs: the best ready one, then, on the facts as it and its waits leave them,
// the best of what is ready then, until one leaves nothing to go on with.
func (s *scene) ladder(judged []*verdict) []Rung {
	var rungs []Rung
	used := map[string]bool{}
	at, next := s, firstReady(judged)
	for ; next != nil && len(rungs) < maxRungs; next = at.ready(used) {
		used[next.method.ID] = true
		rung := Rung{Method: next.method.ID, Name: next.method.Name, State: next.state, Risk: next.worst().String()}
		after := maps.Clone(at.after)
		if after == nil {
			after = map[string]*condition.Value{}
		}
		for _, l := range next.method.Leaves {
			v := at.left(l)
			after[l.Fact] = v
			left := Left{Fact: l.Fact, Answer: "look again", Because: l.Because, Sources: l.Sources}
			if v != nil {
				decl, shown := s.book.Facts[l.Fact], *v
				if decl.Kind == condition.Quantity {
					shown = condition.Measured(asRoughly(v.Range()))
				}
				left.Answer = decl.Show(shown)
			}
			rung.Leaves = append(rung.Leaves, left)
		}
		rungs = append(rungs, rung)
		if len(next.method.Leaves) == 0 {
			break
		}
		at = s.changing(after)
	}
	if at.err != nil {
		s.fail(at.err)
	}
	return rungs
}

// ready is the best of the methods that are ready and have not been used yet; nil if none is.
func (s *scene) ready(used map[string]bool) *verdict {
	certain := slices.DeleteFunc(s.kinds(), func(k *kind) bool { return !k.certain })
	var best *verdict
	for _, m := range s.methodsFor(certain) {
		if used[m.ID] {
			continue
		}
		if v := s.isReady(m); v != nil {
			v.weigh()
			if best == nil || compare(v, best) < 0 {
				best = v
			}
		}
	}
	return best
}

// firstReady is the best that is ready of what was judged, best first; nil if none is.
func firstReady(judged []*verdict) *verdict {
	if i := slices.IndexFunc(judged, func(v *verdict) bool { return v.state == Ready }); i >= 0 {
		return judged[i]
	}
	return nil
}

// left is a fact as a method leaves it; nil if it is not known then.
func (s *scene) left(l rules.Leave) *condition.Value {
	if l.Times == nil {
		return l.To
	}
	f := s.resolve(l.Fact)
	if !f.known {
		return nil
	}
	v := condition.Measured(f.value.Range().Mul(*l.Times).Clamp(s.book.Facts[l.Fact].Bounds))
	return &v
}

// asRoughly rounds the middle of what was reckoned to the second digit of its ±, for the eye only:
// the next rung is judged on the range itself.
func asRoughly(r interval.Range) interval.Range {
	half := r.Half()
	if half < 1e-9 {
		return r
	}
	step := math.Pow10(int(math.Floor(math.Log10(half))) - 1)
	mid := math.Round(r.Mid()/step) * step
	return interval.Range{Lo: mid - half, Hi: mid + half}
}
