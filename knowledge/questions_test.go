package knowledge_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendwright/engine"
	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

// TestNoQuestionIsAskedInVain walks generated jobs from question to question, with answers at random and now and
// then none. No fact is asked twice, none that an answer made meaningless, and of each some answer changes what
// triage says, or what that still waits for.
func TestNoQuestionIsAskedInVain(t *testing.T) {
	t.Parallel()
	g := newGenerator(4)
	walked, guarded := 0, 0
	for i := range 100 {
		job := g.job()
		known := maps.Clone(job.Piece.Answers)
		cannot := map[string]bool{}
		for range 12 {
			job = jobOf(known)
			for _, s := range []*engine.Subject{&job.Piece, &job.Shop, &job.Surfaces["it"].Subject, &job.Defects[0].Subject} {
				s.CannotTell = cannot
			}
			q, err := engine.Next(verified().Book, verified().Tables, job, "mark")
			require.NoError(t, err)
			if q == nil {
				break
			}
			walked++
			f := g.book.Facts[q.Fact]
			what := fmt.Sprintf("job %d asks %s after %v, not told %v", i, f.ID, show(known), slices.Sorted(maps.Keys(cannot)))
			require.NotContains(t, known, f.ID, what)
			require.NotContains(t, cannot, f.ID, what)
			require.NotEmpty(t, q.Decides, what)
			if applies := f.Applies; applies != nil {
				comp, err := applies.Compile()
				require.NoError(t, err)
				o, _, err := comp.Eval(func(id string) (condition.Value, bool) { v, ok := known[id]; return v, ok })
				require.NoError(t, err)
				require.NotEqual(t, condition.False, o, what)
				guarded++
			}
			before := standing(triage(t, job), f.ID)
			require.True(t, slices.ContainsFunc(every(f), func(v condition.Value) bool {
				more := maps.Clone(known)
				more[f.ID] = v
				then := jobOf(more)
				then.Piece.CannotTell, then.Shop.CannotTell, then.Surfaces["it"].CannotTell, then.Defects[0].CannotTell = cannot, cannot, cannot, cannot
				return standing(triage(t, then), f.ID) != before
			}), "no answer changes anything\n%s", what)
			if g.IntN(6) == 0 {
				cannot = maps.Clone(cannot)
				cannot[f.ID] = true
			} else {
				known = maps.Clone(known)
				known[f.ID] = g.answer(f)
			}
		}
	}
	t.Logf("%d questions asked, %d of them with a condition of their own", walked, guarded)
	require.Greater(t, walked, 300)
	require.Positive(t, guarded)
}

// every is all answers to a choice, and answers all along the range of a quantity.
func every(f *rules.Fact) []condition.Value {
	var out []condition.Value
	switch f.Kind {
	case condition.YesNo:
		return []condition.Value{condition.Yes(true), condition.Yes(false)}
	case condition.Quantity:
		for _, power := range []float64{1, 6} {
			for i := range 101 {
				part := 1.0
				for range int(power) {
					part *= float64(i) / 100
				}
				out = append(out, condition.Measured(interval.Exact(f.Bounds.Lo+part*(f.Bounds.Hi-f.Bounds.Lo))))
			}
		}
		return out
	}
	for _, a := range f.Answers {
		if f.Kind == condition.Several {
			out = append(out, condition.PickSeveral(a.ID))
		} else {
			out = append(out, condition.Pick(a.ID))
		}
	}
	if f.Kind == condition.Several {
		out = append(out, condition.PickSeveral())
	}
	return out
}

// standing writes down what triage says of the mark, and what it waits for, one fact aside.
func standing(a *engine.Answer, without string) string {
	var b strings.Builder
	waits := func(ids []string) string {
		return strings.Join(slices.DeleteFunc(slices.Clone(ids), func(id string) bool { return id == without }), " ")
	}
	d := a.Defects[0]
	for _, k := range d.Kinds {
		fmt.Fprintln(&b, "kind", k.Kind, k.Certain)
		for _, s := range k.Signs {
			fmt.Fprintln(&b, s.Outcome, waits(s.Missing))
		}
	}
	for _, r := range d.Repairs {
		fmt.Fprintln(&b, "repair", r.Method, r.State, r.ShopOnly, r.Risk, waits(r.Missing), r.MeetsAim)
		if r.RemovesMM != nil {
			fmt.Fprintln(&b, r.RemovesMM.Hi)
		}
		for _, h := range r.Harms {
			fmt.Fprintln(&b, "harm", h.ID, h.Level, waits(h.Lowers))
		}
	}
	for _, w := range a.Warnings {
		fmt.Fprintln(&b, "warning", w.Warning, w.Certain, waits(w.Missing))
	}
	return b.String()
}
