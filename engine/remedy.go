package engine

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

// AddRemedies fills in, in the triage a of the job, what in the shop would lift each ban that
// nothing but the shop upholds, and each doubt that no answer can settle. It tries other answers
// one by one, which takes longer than the triage itself.
func AddRemedies(book *rules.Book, tables *Tables, job *Job, a *Answer) error {
	scenes, err := scenesOf(book, tables, job)
	if err != nil {
		return err
	}
	for i, s := range scenes {
		candidates := s.kinds()
		for j := range a.Defects[i].Repairs {
			r := &a.Defects[i].Repairs[j]
			if !r.ShopOnly && len(r.Open) == 0 {
				continue // nothing to lift
			}
			m := book.Method(r.Method)
			v := s.judge(m, candidates)
			for _, c := range m.Suits {
				v.remedy(r, c, condition.True)
			}
			for _, c := range m.Never {
				v.remedy(r, c, condition.False)
			}
		}
		if s.err != nil {
			return s.err
		}
	}
	return nil
}

// remedy fills in what would make a clause come out as wanted, where the repair r gives it as a reason.
func (v *verdict) remedy(r *Repair, c rules.Clause, wanted condition.Outcome) {
	for i := range r.Because {
		if r.ShopOnly && r.Because[i].Rule == c.When.Text {
			r.Because[i].WouldDo = v.remedies(c, wanted)
		}
	}
	for i := range r.Open {
		if r.Open[i].Rule == c.When.Text && len(r.Open[i].Missing) == 0 {
			r.Open[i].WouldDo = v.remedies(c, wanted)
		}
	}
}

// remedies says what in the shop, each on its own, would lift a ban that rests on the shop: other
// answers to a question, or the nearest value of a measurement. Where nothing on its own does,
// the list is empty.
func (v *verdict) remedies(c rules.Clause, wanted condition.Outcome) []string {
	s, m := v.scene, v.method
	comp, err := c.When.Compile()
	if err != nil || !s.changeable(c.When) {
		return nil
	}
	var out, measured []string
	for _, id := range s.shopFacts(m, comp.Facts) {
		f, decl := s.resolve(id), s.book.Facts[id]
		if !f.known {
			continue
		}
		lifts := func(other condition.Value) bool {
			return v.helps(c, wanted, map[string]condition.Value{id: other})
		}
		var text string
		if decl.Kind == condition.Quantity {
			measured = append(measured, id)
			text = nearest(decl, f.value.Range(), func(x float64) bool { return lifts(asClosely(decl, f, x)) })
		} else {
			text = others(decl, f.value, lifts)
		}
		if text != "" {
			out = append(out, id+": "+text)
		}
	}
	if len(out) > 0 {
		return out
	}
	for i, a := range measured {
		for _, b := range measured[i+1:] {
			if text := v.together(c, wanted, a, b); text != "" {
				return append(out, text)
			}
		}
	}
	return nil
}

// helps reports whether other answers make a clause come out as wanted and breach no clause of the
// method that the present ones keep: nobody is sent from one ban into another.
func (v *verdict) helps(c rules.Clause, wanted condition.Outcome, answers map[string]condition.Value) bool {
	changed := v.scene.with(v.method, answers)
	if changed.eval(c.When) != wanted {
		return false
	}
	breaches := func(forbids condition.Outcome) func(rules.Clause) bool {
		return func(o rules.Clause) bool {
			return changed.eval(o.When) == forbids && v.scene.eval(o.When) != forbids
		}
	}
	return !slices.ContainsFunc(v.method.Suits, breaches(condition.False)) && !slices.ContainsFunc(v.method.Never, breaches(condition.True))
}

// asClosely is a measurement of x as close as the one that was made.
func asClosely(decl *rules.Fact, f *fact, x float64) condition.Value {
	return condition.Measured(interval.Around(x, f.value.Range().Half()).Clamp(decl.Bounds))
}

// together looks for two measurements that lift a ban only if both change: the first by a few
// even steps, the second as little as will do.
func (v *verdict) together(c rules.Clause, wanted condition.Outcome, a, b string) string {
	s := v.scene
	declA, declB, fa, fb := s.book.Facts[a], s.book.Facts[b], s.resolve(a), s.resolve(b)
	is := fa.value.Range().Mid()
	const steps = 24
	for i := 1; i <= steps; i++ {
		for _, bound := range []float64{declA.Bounds.Lo, declA.Bounds.Hi} {
			x := math.Round(is + (bound-is)*float64(i)/steps)
			text := nearest(declB, fb.value.Range(), func(y float64) bool {
				answers := map[string]condition.Value{a: asClosely(declA, fa, x), b: asClosely(declB, fb, y)}
				return v.helps(c, wanted, answers)
			})
			if text != "" {
				return fmt.Sprintf("%s: %s, together with %s: %s", a, declA.Show(condition.Measured(interval.Exact(x))), b, text)
			}
		}
	}
	return ""
}

// shopFacts are the facts of the shop that conditions over the given facts rest on, and the warmth
// of what is worked on, which the shop gives it.
func (s *scene) shopFacts(m *rules.Method, ids []string) []string {
	var out []string
	for _, id := range ids {
		calculator, _, computed := strings.Cut(s.book.Facts[id].Computed, ".")
		if !computed {
			out = append(out, id)
			continue
		}
		for role, in := range s.calculator(calculator).Inputs {
			if calculator == "vapour" && role == "air" {
				continue // nobody strips in the frost to have less vapour
			}
			if s.book.Facts[in].Asked() && s.book.Facts[in].Subject != "defect" {
				out = append(out, in)
			}
		}
		if by := m.Vapour; calculator == "vapour" && by != nil && by.By != "" {
			out = append(out, by.By)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// with is the scene of a method with some answers changed.
func (s *scene) with(m *rules.Method, answers map[string]condition.Value) *scene {
	if s.base != nil {
		s = s.base
	}
	return s.supposing(answers).forMethod(m)
}

// supposing is the scene with some answers changed; what they do not touch stays judged as it is.
func (s *scene) supposing(answers map[string]condition.Value) *scene {
	after := make(map[string]*condition.Value, len(answers))
	for id, v := range answers {
		after[id] = &v
	}
	return s.changing(after)
}

// others lists the other answers that would do.
func others(decl *rules.Fact, is condition.Value, lifts func(condition.Value) bool) string {
	if decl.Kind == condition.YesNo {
		if other := condition.Yes(!is.IsYes()); lifts(other) {
			return decl.Show(other)
		}
		return ""
	}
	var out []string
	for _, a := range decl.Answers {
		if v := condition.Pick(a.ID); a.ID != is.Choice() && decl.Kind == condition.Choice && lifts(v) {
			out = append(out, a.ID)
		}
	}
	return strings.Join(out, " or ")
}

// nearest finds the value next to what was measured that would do, rounded to the side that does.
func nearest(decl *rules.Fact, is interval.Range, lifts func(float64) bool) string {
	for _, side := range []struct {
		bound float64
		words string
		round func(float64) float64
	}{{decl.Bounds.Lo, "at most", math.Floor}, {decl.Bounds.Hi, "at least", math.Ceil}} {
		bad, good, found := is.Mid(), side.bound, false
		// What lifts the ban may lie in the middle: too cold is as bad as too warm.
		const tries = 24
		for i := 1; i <= tries && !found; i++ {
			x := is.Mid() + (side.bound-is.Mid())*float64(i)/tries
			if lifts(x) {
				good, found = x, true
			} else {
				bad = x
			}
		}
		if !found {
			continue
		}
		for i := 0; i < 12; i++ {
			if mid := (bad + good) / 2; lifts(mid) {
				good = mid
			} else {
				bad = mid
			}
		}
		// The search ends just beyond a limit that may itself do: at least 16 °C, not 16.0002.
		if round := math.Round(good*100) / 100; (bad-round)*(round-good) >= 0 && lifts(round) {
			good = round
		}
		for _, step := range []float64{1, 0.1, 0.01} {
			if round := side.round(good/step) * step; decl.Bounds.Lo <= round && round <= decl.Bounds.Hi && lifts(round) {
				good = round
				break
			}
		}
		return fmt.Sprintf("%s %s", side.words, decl.Show(condition.Measured(interval.Exact(good))))
	}
	return ""
}
