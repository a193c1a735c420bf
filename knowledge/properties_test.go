package knowledge_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"mendwright/engine"
	"mendwright/knowledge"
	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

// verified is the built-in rulebook with the cases beside its rules.
var verified = sync.OnceValue(func() *knowledge.Loaded {
	book, err := rules.Load(knowledge.Files())
	if err != nil {
		panic(err)
	}
	tables, err := knowledge.Tables(book)
	if err != nil {
		panic(err)
	}
	return &knowledge.Loaded{Book: book, Tables: tables}
})

// generator draws jobs. It starts from the answers of a case of the rulebook, so that repairs
// do become ready, forgets some and adds some at random.
type generator struct {
	*rand.Rand
	book  *rules.Book
	asked []*rules.Fact
	given []map[string]condition.Value
}

func newGenerator(seed uint64) *generator {
	g := &generator{Rand: rand.New(rand.NewPCG(seed, 882)), book: verified().Book}
	for _, id := range slices.Sorted(maps.Keys(g.book.Facts)) {
		if f := g.book.Facts[id]; f.Asked() {
			g.asked = append(g.asked, f)
		}
	}
	for _, m := range g.book.Methods() {
		for _, c := range m.Cases {
			g.given = append(g.given, c.Given)
		}
	}
	return g
}

// answer draws an answer to a fact.
func (g *generator) answer(f *rules.Fact) condition.Value {
	pick := func() string { return f.Answers[g.IntN(len(f.Answers))].ID }
	switch f.Kind {
	case condition.YesNo:
		return condition.Yes(g.IntN(2) == 0)
	case condition.Choice:
		return condition.Pick(pick())
	case condition.Several:
		return condition.PickSeveral(pick())
	}
	// Half of the time near the low end, where thin layers and shallow marks are.
	lo, hi := f.Bounds.Lo, f.Bounds.Hi
	v := lo + g.Float64()*(hi-lo)
	if g.IntN(2) == 0 {
		v = lo + math.Pow(g.Float64(), 6)*(hi-lo)
	}
	half := 0.0
	if g.IntN(2) == 0 {
		half = g.Float64() * 0.1 * (hi - lo) * math.Pow(g.Float64(), 3)
	}
	return condition.Measured(interval.Range{Lo: max(v-half, lo), Hi: min(v+half, hi)})
}

// job draws a job of one defect.
func (g *generator) job() *engine.Job {
	answers := map[string]condition.Value{}
	forget := g.Float64() * 0.5
	given := g.given[g.IntN(len(g.given))]
	for _, id := range slices.Sorted(maps.Keys(given)) {
		if g.book.Facts[id].Asked() && g.Float64() >= forget {
			answers[id] = given[id]
		}
	}
	add := g.Float64() * 0.6
	for _, f := range g.asked {
		if _, ok := answers[f.ID]; !ok && g.Float64() < add {
			answers[f.ID] = g.answer(f)
		}
	}
	return jobOf(answers)
}

func jobOf(answers map[string]condition.Value) *engine.Job {
	s := engine.Subject{Answers: answers}
	return &engine.Job{Piece: s, Shop: s, Surfaces: map[string]*engine.Surface{"it": {Subject: s}},
		Defects: []*engine.Mark{{ID: "mark", On: "it", Subject: s}}}
}

func triage(t *testing.T, job *engine.Job) *engine.Answer {
	t.Helper()
	a, err := engine.Triage(verified().Book, verified().Tables, job)
	require.NoError(t, err)
	return a
}

var riskOrder = []string{"high", "serious", "medium", "low", "eliminated"}

// TestAnAnswerNeverMakesThingsWorse: adding an answer never turns ready into ruled out, never
// adds a warning and never raises a risk that was shown.
func TestAnAnswerNeverMakesThingsWorse(t *testing.T) {
	t.Parallel()
	g := newGenerator(1)
	ready, conflicts := 0, 0
	for i := range generated {
		job := g.job()
		known := job.Piece.Answers
		var open []*rules.Fact
		for _, f := range g.asked {
			if _, ok := known[f.ID]; !ok {
				open = append(open, f)
			}
		}
		if len(open) == 0 {
			continue
		}
		f := open[g.IntN(len(open))]
		more := maps.Clone(known)
		more[f.ID] = g.answer(f)
		before, after := triage(t, job), triage(t, jobOf(more))
		what := fmt.Sprintf("job %d: %v, then %s = %s", i, show(known), f.ID, more[f.ID])
		if len(after.Conflicts) > len(before.Conflicts) {
			// The answer contradicts a finding. That takes knowledge away, and is shown as such;
			// even then nothing that was ready is ruled out.
			conflicts++
			for _, r := range before.Defects[0].Repairs {
				if now := find(after, r.Method); r.State == engine.Ready && now != nil && now.State == engine.RuledOut {
					t.Fatalf("%s is ruled out after a contradiction\n%s", r.Method, what)
				}
			}
			continue
		}
		ready += compareAnswers(t, before, after, what)
	}
	t.Logf("%d jobs, %d ready repairs watched, %d answers contradicted a finding", generated, ready, conflicts)
	require.Greater(t, ready, generated/20, "too few ready repairs for the property to say anything")
}

// compareAnswers holds an answer against the one with one more fact known, and counts the ready
// repairs it watched.
func compareAnswers(t *testing.T, before, after *engine.Answer, what string) int {
	t.Helper()
	watched := 0
	for _, was := range before.Defects[0].Repairs {
		now := find(after, was.Method)
		switch {
		case was.State == engine.Ready:
			watched++
			if now == nil || now.State != engine.Ready {
				t.Fatalf("%s was ready and is not\n%s", was.Method, what)
			}
		case was.State == engine.RuledOut || now == nil || now.State == engine.RuledOut:
			continue
		}
		if slices.Index(riskOrder, now.Risk) < slices.Index(riskOrder, was.Risk) {
			t.Fatalf("%s: the risk rises from %s to %s\n%s", was.Method, was.Risk, now.Risk, what)
		}
		levels := map[string]string{}
		for _, h := range was.Harms {
			levels[h.ID] = h.Level
		}
		for _, h := range now.Harms {
			if slices.Index(rules.Levels, h.Level) < slices.Index(rules.Levels, levels[h.ID]) {
				t.Fatalf("%s: %s rises from %s to %s\n%s", was.Method, h.ID, levels[h.ID], h.Level, what)
			}
		}
	}
	for _, now := range after.Defects[0].Repairs {
		if was := find(before, now.Method); was == nil || was.State == engine.RuledOut && now.State != engine.RuledOut {
			t.Fatalf("%s comes back from nowhere\n%s", now.Method, what)
		}
	}
	for _, w := range after.Warnings {
		i := slices.IndexFunc(before.Warnings, func(b engine.WarningView) bool { return b.Warning == w.Warning })
		if i < 0 {
			t.Fatalf("the warning %s is new\n%s", w.Warning, what)
		}
		for _, m := range w.Methods {
			if !slices.Contains(before.Warnings[i].Methods, m) {
				t.Fatalf("the warning %s is new for %s\n%s", w.Warning, m, what)
			}
		}
	}
	return watched
}

func find(a *engine.Answer, method string) *engine.Repair {
	for i := range a.Defects[0].Repairs {
		if r := &a.Defects[0].Repairs[i]; r.Method == method {
			return r
		}
	}
	return nil
}

func show(answers map[string]condition.Value) string {
	var parts []string
	for _, id := range slices.Sorted(maps.Keys(answers)) {
		parts = append(parts, id+"="+answers[id].String())
	}
	return strings.Join(parts, " ")
}

// TestOrderChangesNothing: the answer is the same byte for byte, twice over and whatever the
// order of defects and surfaces.
func TestOrderChangesNothing(t *testing.T) {
	t.Parallel()
	g := newGenerator(2)
	for n := range generated {
		job := &engine.Job{Surfaces: map[string]*engine.Surface{}}
		for i := range 2 + n%2 {
			one := g.job()
			name := fmt.Sprint("s", i%2)
			if job.Surfaces[name] == nil {
				job.Surfaces[name] = one.Surfaces["it"]
			}
			mark := one.Defects[0]
			mark.ID, mark.On = fmt.Sprint("d", i), name
			job.Defects = append(job.Defects, mark)
			job.Piece, job.Shop = one.Piece, one.Shop
		}
		want := encode(t, triage(t, job))
		slices.Reverse(job.Defects)
		require.Equal(t, want, encode(t, triage(t, job)), "the same job with its defects in another order")
	}
}

func encode(t *testing.T, a *engine.Answer) string {
	t.Helper()
	b, err := json.Marshal(a)
	require.NoError(t, err)
	return string(b)
}

// TestAnUnmeasuredVeneerIsNeverCleared: over every timber, era, finish, tool and programme of
// grits, and whatever else is answered, nothing clears a thin layer that nobody measured.
func TestAnUnmeasuredVeneerIsNeverCleared(t *testing.T) {
	t.Parallel()
	k := verified()
	grits := []string{"60", "80", "100", "120", "150", "180", "220", "240", "320", "400"}
	checked := 0
	for _, layer := range []string{"veneer", "plywood"} {
		for _, age := range k.Book.Facts["piece.age"].Answers {
			for _, tool := range k.Tables.ToolNames() {
				for from := range grits {
					for to := from + 1; to <= len(grits); to++ {
						for _, stripped := range []condition.Outcome{condition.Unknown, condition.False, condition.True} {
							s := k.Tables.Sand(engine.Cut{Layer: layer, Age: age.ID, Thin: condition.True, Stripped: stripped,
								Mark: engine.Measure{Range: interval.Exact(0), Known: true}, Film: engine.Measure{Range: interval.Exact(0), Known: true},
								ToMark: true, Programme: engine.Programme{Grits: grits[from:to], Tool: tool}})
							require.NotEqual(t, "clear", s.Verdict)
							require.NotEqual(t, "tight", s.Verdict)
							if s.Verdict == "unknown" {
								require.Contains(t, s.Missing, "thickness")
							}
							checked++
						}
					}
				}
			}
		}
	}
	g := newGenerator(3)
	timbers := k.Book.Facts["surface.timber"].Answers
	for i := range generated {
		job := g.job()
		a := job.Piece.Answers
		delete(a, "surface.layer_mm")
		a["surface.layer"] = condition.Pick([]string{"veneer", "plywood"}[i%2])
		a["surface.timber"] = condition.Pick(timbers[i%len(timbers)].ID)
		from := g.IntN(len(grits))
		job.Surfaces["it"].Programme.Grits = grits[from : from+1+g.IntN(len(grits)-from)]
		for _, r := range triage(t, job).Defects[0].Repairs {
			if m := k.Book.Method(r.Method); m.Sanding != nil {
				require.NotEqual(t, engine.Ready, r.State, "%s on a veneer that nobody measured: %s", r.Method, show(a))
				checked++
			}
		}
	}
	t.Logf("%d cuts checked", checked)
}
