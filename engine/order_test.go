package engine_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine"
	"mendwright/rules"
)

// smallBooks is how many are tried.
const smallBooks = 25

// smallBook makes up a rulebook of six facts with two or three answers each, three kinds of mark that two
// signs each tell, and six repairs with up to three conditions each.
func smallBook(t testing.TB, r *rand.Rand, efforts ...string) *rules.Book {
	t.Helper()
	ids := []string{"defect.a", "defect.b", "defect.c", "surface.d", "surface.e", "shop.f"}
	answers := map[string]int{}
	text := map[string]string{}
	for _, id := range ids {
		answers[id] = 2 + r.IntN(2)
		subject, _, _ := strings.Cut(id, ".")
		var as []string
		for i := range answers[id] {
			as = append(as, fmt.Sprintf("{id: a%d, means: answer %d}", i, i))
		}
		effort, harms := efforts[r.IntN(len(efforts))], ""
		if effort == "spot-test" {
			harms = "harms: A spot., "
		}
		text[subject] += fmt.Sprintf("  - {id: %s, ask: \"%s?\", tell: Look., kind: choice, answers: [%s], effort: %s, %ssource: bench-note}\n", id, id, strings.Join(as, ", "), effort, harms)
	}
	one := func(id string) string {
		op := []string{"==", "!="}[r.IntN(2)]
		return fmt.Sprintf(`%s %s "a%d"`, id, op, r.IntN(answers[id]))
	}
	some := func(n int, from ...string) string {
		var out []string
		for _, i := range r.Perm(len(from))[:n] {
			out = append(out, one(from[i]))
		}
		if n == 0 {
			return "[]"
		}
		return clauses(out...)
	}
	fsys := fstest.MapFS{}
	put := func(name, text string) { fsys[name] = &fstest.MapFile{Data: []byte(strings.TrimPrefix(text, "\n"))} }
	put("sources.yaml", vocabulary["sources.yaml"])
	put("terms.yaml", vocabulary["terms.yaml"])
	for _, s := range []string{"shop", "surface", "defect"} {
		put("facts/"+s+".yaml", fmt.Sprintf("subject: %s\nabout: it\nfacts:\n%ssources: [bench-note]\n", s, text[s]))
	}
	put("facts/piece.yaml", vocabulary["facts/piece.yaml"])
	for i := range 3 {
		id := fmt.Sprintf("k%d", i)
		put("defects/"+id+".yaml", defect(id, "Kind "+id, some(2, ids[:4]...)))
	}
	for i := range 6 {
		id := fmt.Sprintf("m%d", i)
		treats := fmt.Sprintf("[k%d]", i%3)
		for name, text := range method(id, own{"treats": treats, "suits": some(r.IntN(3), ids[2:]...), "never": some(r.IntN(2), ids[2:]...)}) {
			put(name, text)
		}
	}
	book, err := rules.Load(fsys)
	require.NoError(t, err)
	return book
}

// search finds by trying everything what asking costs until a repair is ready or none can be, on average over
// all answers.
type search struct {
	t     testing.TB
	book  *rules.Book
	facts []string
	best  map[string]float64
	ends  map[string]bool
}

func newSearch(t testing.TB, book *rules.Book) *search {
	s := &search{t: t, book: book, best: map[string]float64{}, ends: map[string]bool{}}
	for id := range book.Facts {
		if !strings.HasPrefix(id, "piece.") {
			s.facts = append(s.facts, id)
		}
	}
	slices.Sort(s.facts)
	return s
}

var price = map[string]float64{"look": 1, "touch": 1, "measure": 2, "spot-test": 4, "take-apart": 8}

func (s *search) job(given facts) *engine.Job { return job(s.t, s.book, given) }

// end reports whether a repair is ready or none can be any more.
func (s *search) end(given facts) bool {
	key := fmt.Sprint(given)
	if out, ok := s.ends[key]; ok {
		return out
	}
	a, err := engine.Triage(s.book, tables(), s.job(given))
	require.NoError(s.t, err)
	rs := a.Defects[0].Repairs
	out := !slices.ContainsFunc(rs, func(r engine.Repair) bool { return r.State == engine.NeedsAnswer }) ||
		slices.ContainsFunc(rs, func(r engine.Repair) bool { return r.State == engine.Ready })
	s.ends[key] = out
	return out
}

// after averages a cost over the answers to a question.
func (s *search) after(given facts, id string, cost func(facts) float64) float64 {
	f := s.book.Facts[id]
	sum := 0.0
	for _, a := range f.Answers {
		sum += cost(given.with(facts{id: a.ID}))
	}
	return price[f.Effort] + sum/float64(len(f.Answers))
}

// optimum is the cost in the best order there is.
func (s *search) optimum(given facts) float64 {
	key := fmt.Sprint(given)
	if c, ok := s.best[key]; ok {
		return c
	}
	best := 0.0
	if !s.end(given) {
		best = math.Inf(1)
		for _, id := range s.facts {
			if _, known := given[id]; !known {
				best = min(best, s.after(given, id, s.optimum))
			}
		}
	}
	s.best[key] = best
	return best
}

// fixed is the cost in the order of the facts.
func (s *search) fixed(given facts) float64 {
	for _, id := range s.facts {
		if _, known := given[id]; !known && !s.end(given) {
			return s.after(given, id, s.fixed)
		}
	}
	return 0
}

// asking is the cost in the order of the engine.
func (s *search) asking(given facts) float64 {
	if s.end(given) {
		return 0
	}
	q, err := engine.Next(s.book, tables(), s.job(given), "dint")
	require.NoError(s.t, err)
	require.NotNil(s.t, q, "something is open: %v", given)
	require.Contains(s.t, s.facts, q.Fact)
	_, known := given[q.Fact]
	require.False(s.t, known, "%s is asked again", q.Fact)
	return s.after(given, q.Fact, s.asking)
}

func TestTheOrderOfQuestionsIsNearlyTheBestThereIs(t *testing.T) {
	t.Parallel()
	for name, efforts := range map[string][]string{
		"every question costs the same": {"look"},
		"some cost more":                {"look", "touch", "measure", "spot-test"},
	} {
		var best, ours, fixed, worst float64
		for seed := range uint64(smallBooks) {
			s := newSearch(t, smallBook(t, rand.New(rand.NewPCG(seed, 4)), efforts...))
			b, o := s.optimum(facts{}), s.asking(facts{})
			require.LessOrEqual(t, b, o+1e-9, "nothing beats the best order")
			best, ours, fixed = best+b, ours+o, fixed+s.fixed(facts{})
			if b > 0 {
				worst = max(worst, o/b)
			}
		}
		t.Logf("%s: %.2f times the best order, at worst %.2f; the order of the book %.2f times", name, ours/best, worst, fixed/best)
		assert.LessOrEqual(t, ours, 1.1*best, name)
		assert.LessOrEqual(t, worst, 1.3, name)
		assert.GreaterOrEqual(t, fixed, 1.3*ours, "%s: better than asking in the order of the book", name)
	}
}
