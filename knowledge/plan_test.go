package knowledge_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendwright/engine"
	"mendwright/rules"
	"mendwright/rules/condition"
)

// pieces draws whole pieces: marks from cases in which some repair is ready, two or three on a surface, whose
// answers are then those of the first.
type pieces struct {
	*rand.Rand
	ready []rules.Case
}

func newPieces(seed uint64) *pieces {
	g := &pieces{Rand: rand.New(rand.NewPCG(seed, 32))}
	for _, m := range verified().Book.Methods() {
		for _, c := range m.Cases {
			if c.Then == "ready" {
				g.ready = append(g.ready, c)
			}
		}
	}
	return g
}

func (g *pieces) job() *engine.Job {
	job := &engine.Job{Surfaces: map[string]*engine.Surface{}, Piece: subject(), Shop: subject()}
	for i := range 1 + g.IntN(6) {
		g.add(job, fmt.Sprint("d", i), fmt.Sprint("s", g.IntN(3)))
	}
	return job
}

// add adds a mark of a case to a surface. What was answered before stands.
func (g *pieces) add(job *engine.Job, id, name string) {
	if job.Surfaces[name] == nil {
		job.Surfaces[name] = &engine.Surface{Subject: subject()}
	}
	mark := &engine.Mark{ID: id, On: name, Subject: subject()}
	of := map[string]engine.Subject{"piece": job.Piece, "shop": job.Shop, "surface": job.Surfaces[name].Subject, "defect": mark.Subject}
	given := g.ready[g.IntN(len(g.ready))].Given
	for _, fact := range slices.Sorted(maps.Keys(given)) {
		about, _, _ := strings.Cut(fact, ".")
		if _, taken := of[about].Answers[fact]; !taken && g.IntN(20) > 0 {
			of[about].Answers[fact] = given[fact]
		}
	}
	job.Defects = append(job.Defects, mark)
}

func subject() engine.Subject {
	return engine.Subject{Answers: map[string]condition.Value{}, CannotTell: map[string]bool{}, Confirmed: map[string]bool{}}
}

func planOf(t *testing.T, job *engine.Job) *engine.Plan {
	t.Helper()
	p, err := engine.PlanOf(verified().Book, verified().Tables, job)
	require.NoError(t, err)
	return p
}

// TestAPlanKeepsEveryOrder: over generated pieces no step comes before one that it must follow, by the
// pairs, by the stages of its surface or by the stages of the piece, unless the plan says that reasons clash;
// each step begins when what it follows is over; and no layer is planned away.
func TestAPlanKeepsEveryOrder(t *testing.T) {
	t.Parallel()
	book, g := verified().Book, newPieces(1)
	shared, held, staged, cut := 0, 0, 0, 0
	for range generated {
		job := g.job()
		p := planOf(t, job)
		at := map[string]int{}
		for i, s := range p.Steps {
			require.NotContains(t, at, s.ID, "a step stands once")
			at[s.ID] = i
			if s.Kind == "repair" && len(s.Marks) > 1 {
				shared++
			}
		}
		clashes := func(pair string) bool {
			return slices.ContainsFunc(p.Clashes, func(c engine.Clash) bool { return c.Rule == pair })
		}
		for i, s := range p.Steps {
			for _, a := range s.After {
				before := p.Steps[at[a.Step]]
				require.Less(t, at[a.Step], i, "%s comes after %s", s.ID, a.Step)
				require.GreaterOrEqual(t, s.EarlyH+1e-6, before.EarlyH+before.Minutes[1]/60+before.WaitH, "%s begins when %s is over", s.ID, a.Step)
			}
			if s.Kind != "repair" {
				continue
			}
			for j, o := range p.Steps[:i] {
				if o.Kind != "repair" {
					continue
				}
				// o comes before s: nothing may ask for s before o.
				for _, pair := range book.Order().Pairs {
					if pair.Instead != "" || !reaches(pair.Where, s, o) || !picks(book, pair.First, s, job) || !picks(book, pair.Next, o, job) {
						continue
					}
					if picks(book, pair.First, o, job) && picks(book, pair.Next, s, job) {
						continue // each is both: they are not held to each other
					}
					held++
					if pair.When == nil {
						require.True(t, clashes(pair.ID), "%s is before %s against %s, and nothing is said\n%s", p.Steps[j].ID, s.ID, pair.ID, written(t, p))
					}
				}
				stages := book.Terms.StageIDs()
				a, b := slices.Index(stages, s.Stage), slices.Index(stages, o.Stage)
				near := s.On == o.On || s.On == "" || o.On == "" || book.Terms.Stages[a].Across == "piece" || book.Terms.Stages[b].Across == "piece"
				if near && a < b {
					staged++
					require.True(t, opposed(book, o, s, job), "%s (%s) is before %s (%s), and no pair asks for it\n%s", o.ID, o.Stage, s.ID, s.Stage, written(t, p))
				}
			}
		}
		for _, s := range p.Surfaces {
			if (s.Layer == "veneer" || s.Layer == "plywood") && s.LeftMM != nil {
				cut++
				require.GreaterOrEqual(t, s.LeftMM.Mid(), s.KeepMM, "the cuts of %s together leave what must stay\n%s", s.Surface, written(t, p))
			}
		}
	}
	require.Positive(t, shared, "some marks share a step")
	if generated > 1000 { // few of them are
		require.Positive(t, cut, "some veneers are cut")
	}
	t.Logf("%d steps shared, %d pairs the other way round, %d stages the other way round, %d veneers cut", shared, held, staged, cut)
}

// opposed reports whether a pair, or a row of pairs through the steps between, asks for o before s.
func opposed(book *rules.Book, o, s engine.PlanStep, job *engine.Job) bool {
	for _, pair := range book.Order().Pairs {
		if picks(book, pair.First, o, job) || picks(book, pair.Next, s, job) {
			return true
		}
	}
	return false
}

func reaches(where string, a, b engine.PlanStep) bool {
	switch where {
	case "piece":
		return true
	case "surface":
		return a.On == b.On || a.On == "" || b.On == ""
	}
	return slices.ContainsFunc(a.Marks, func(m string) bool { return slices.Contains(b.Marks, m) })
}

// picks reports whether a selector picks a step, whatever coat it lays.
func picks(book *rules.Book, s rules.Selector, step engine.PlanStep, job *engine.Job) bool {
	m := book.Method(step.Rule)
	if m == nil {
		return false
	}
	coat := ""
	if m.Coat != nil {
		coat = m.Coat.Of
		if on := job.Surfaces[step.On]; m.Coat.By != "" && on != nil {
			if v, ok := on.Answers[m.Coat.By]; ok {
				coat = v.Choice()
			}
		}
	}
	return s.Picks(m, coat)
}

func written(t *testing.T, v any) string {
	t.Helper()
	b, err := json.MarshalIndent(v, "", " ")
	require.NoError(t, err)
	return string(b)
}

// TestAPlanIsTheSameWhateverTheOrderOfMarks: a plan rests on what is known and not on the order in which it
// was written down.
func TestAPlanIsTheSameWhateverTheOrderOfMarks(t *testing.T) {
	t.Parallel()
	g := newPieces(2)
	for range generated / 5 {
		job := g.job()
		want := written(t, planOf(t, job))
		g.Shuffle(len(job.Defects), func(i, j int) { job.Defects[i], job.Defects[j] = job.Defects[j], job.Defects[i] })
		require.Equal(t, want, written(t, planOf(t, job)))
	}
}

// of draws a piece of so many marks on so many surfaces.
func (g *pieces) of(marks, surfaces int) *engine.Job {
	job := &engine.Job{Surfaces: map[string]*engine.Surface{}, Piece: subject(), Shop: subject()}
	for i := range marks {
		g.add(job, fmt.Sprint("d", i), fmt.Sprint("s", i%surfaces))
	}
	return job
}

// BenchmarkPlan is the plan of a piece with the rulebook loaded: of 8 marks on 3 surfaces, and of 200 on 40.
func BenchmarkPlan(b *testing.B) {
	for _, size := range []struct{ marks, surfaces int }{{8, 3}, {200, 40}} {
		b.Run(fmt.Sprint(size.marks, " marks"), func(b *testing.B) {
			k, g := verified(), newPieces(3)
			var jobs []*engine.Job
			for range 20 {
				jobs = append(jobs, g.of(size.marks, size.surfaces))
			}
			steps, i := 0, 0
			for b.Loop() {
				p, err := engine.PlanOf(k.Book, k.Tables, jobs[i%len(jobs)])
				require.NoError(b, err)
				steps += len(p.Steps)
				i++
			}
			b.ReportMetric(float64(steps)/float64(i), "steps")
		})
	}
}
