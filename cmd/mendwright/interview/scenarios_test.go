package interview_test

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/engine"
	"mendwright/knowledge"
	"mendwright/rules/condition"
)

// walk asks about one mark of an answered piece, a truthful person answering each question with what the file says;
// what the file does not say cannot be told. each sees the job before each question. It returns how many questions it
// took until a repair was ready, or -1 if none ever is.
func walk(tb testing.TB, full *engine.Job, mark *engine.Mark, each func(*engine.Job)) int {
	k, err := knowledge.Load()
	require.NoError(tb, err)
	known := func(s engine.Subject) engine.Subject {
		return engine.Subject{Answers: map[string]condition.Value{}, CannotTell: map[string]bool{}, Confirmed: s.Confirmed}
	}
	job := &engine.Job{Piece: known(full.Piece), Shop: known(full.Shop), Surfaces: map[string]*engine.Surface{}}
	on := full.Surfaces[mark.On]
	job.Surfaces[mark.On] = &engine.Surface{Subject: known(on.Subject), Programme: on.Programme}
	job.Defects = []*engine.Mark{{ID: mark.ID, On: mark.On, Subject: known(mark.Subject)}}
	for n := range 200 {
		a, err := engine.Triage(k.Book, k.Tables, job)
		require.NoError(tb, err)
		if rs := a.Defects[0].Repairs; len(rs) > 0 && rs[0].Mends() {
			return n
		}
		each(job)
		q, err := engine.Next(k.Book, k.Tables, job, mark.ID)
		require.NoError(tb, err)
		if q == nil {
			return -1
		}
		subject, _, _ := strings.Cut(q.Fact, ".")
		from, to := map[string]*engine.Subject{"piece": &full.Piece, "shop": &full.Shop, "surface": &on.Subject, "defect": &mark.Subject}[subject],
			map[string]*engine.Subject{"piece": &job.Piece, "shop": &job.Shop, "surface": &job.Surfaces[mark.On].Subject, "defect": &job.Defects[0].Subject}[subject]
		if v, ok := from.Answers[q.Fact]; ok {
			to.Answers[q.Fact] = v
		} else {
			to.CannotTell[q.Fact] = true
		}
	}
	return -1
}

// eachMark goes through the marks of the answered pieces and of the example jobs.
func eachMark(tb testing.TB, do func(file string, full *engine.Job, m *engine.Mark)) {
	k, err := knowledge.Load()
	require.NoError(tb, err)
	scenarios, err := filepath.Glob("../../../testdata/jobs/scenarios/*.yaml")
	require.NoError(tb, err)
	examples, err := filepath.Glob("../../../testdata/jobs/*.yaml")
	require.NoError(tb, err)
	require.GreaterOrEqual(tb, len(scenarios), 40)
	for _, path := range append(examples, scenarios...) {
		file, err := jobfile.ReadFile(path, k.Book, k.Tables)
		require.NoError(tb, err)
		for _, m := range file.Job.Defects {
			do(filepath.Base(path), file.Job, m)
		}
	}
}

// BenchmarkQuestionsToAReadyRepair counts questions over all answered pieces: the median, the worst, and of how many
// marks no repair is ever ready.
func BenchmarkQuestionsToAReadyRepair(b *testing.B) {
	var counts []int
	never, worst := 0, ""
	for b.Loop() {
		counts, never = nil, 0
		eachMark(b, func(file string, full *engine.Job, m *engine.Mark) {
			n := walk(b, full, m, func(*engine.Job) {})
			if n < 0 {
				never++
				return
			}
			if len(counts) == 0 || n > slices.Max(counts) {
				worst = file + " " + m.ID
			}
			counts = append(counts, n)
		})
	}
	slices.Sort(counts)
	b.ReportMetric(float64(counts[len(counts)/2]), "median-questions")
	b.ReportMetric(float64(counts[len(counts)-1]), "most-questions")
	b.ReportMetric(float64(never), "never-ready")
	b.Logf("%v; most at %s", counts, worst)
}

// TestTheReadmeSaysHowManyQuestionsItTakes holds the figures of the README to those of the answered pieces, and
// the questions asked to the fewest answers with which the same repair could have been ready: those of which none
// can be left out. Nobody can know beforehand which these are; they are what any order is measured against.
func TestTheReadmeSaysHowManyQuestionsItTakes(t *testing.T) {
	if raced {
		t.Skip("it counts the same with the race detector, and takes ten times as long")
	}
	t.Parallel()
	var counts, fewest []int
	pieces := map[string]bool{}
	never := 0
	eachMark(t, func(file string, full *engine.Job, m *engine.Mark) {
		pieces[file] = true
		var last *engine.Job
		n := walk(t, full, m, func(j *engine.Job) { last = j })
		if n < 0 {
			never++
			return
		}
		counts = append(counts, n)
		if len(counts)%5 == 0 {
			fewest = append(fewest, suffice(t, last, m.ID))
		}
	})
	slices.Sort(counts)
	slices.Sort(fewest)
	median, most := counts[len(counts)/2], counts[len(counts)-1]
	assert.LessOrEqual(t, median, fewest[len(fewest)/2]+3)
	readme, err := os.ReadFile("../../../README.md")
	require.NoError(t, err)
	assert.Contains(t, strings.Join(strings.Fields(string(readme)), " "), fmt.Sprintf("a first repair is ready after %d questions at the median and %d at most, over %d marks of %d answered pieces; %d answers is the least it could do with, at the median. For %d more marks none ever is",
		median, most, len(counts), len(pieces), fewest[len(fewest)/2], never))
}

// suffice leaves answers out of a job, one after the other, as long as a repair of the mark stays ready, and
// counts those that are left.
func suffice(t *testing.T, job *engine.Job, mark string) int {
	k, err := knowledge.Load()
	require.NoError(t, err)
	left := 0
	for _, s := range []*engine.Subject{&job.Shop, &job.Piece, &job.Surfaces[job.Defects[0].On].Subject, &job.Defects[0].Subject} {
		for _, id := range slices.Sorted(maps.Keys(s.Answers)) {
			v := s.Answers[id]
			delete(s.Answers, id)
			a, err := engine.Triage(k.Book, k.Tables, job)
			require.NoError(t, err)
			if rs := a.Defects[0].Repairs; len(rs) == 0 || !rs[0].Mends() {
				s.Answers[id] = v
				left++
			}
		}
	}
	return left
}
