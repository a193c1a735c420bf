package interview_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/engine"
	"mendwright/knowledge"
	"mendwright/rules/condition"
)

// asked counts, for one mark of an answered piece, the questions until a repair is first ready, a truthful person
// answering each with what the file says; what the file does not say cannot be told. -1 if none ever is.
func asked(tb testing.TB, full *engine.Job, mark *engine.Mark) int {
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
		d := &a.Defects[0]
		if len(d.Repairs) > 0 && d.Repairs[0].State == engine.Ready {
			return n
		}
		q, err := engine.Next(k.Book, k.Tables, job, mark.ID)
		require.NoError(tb, err)
		if q == nil {
			return -1
		}
		id := q.Fact
		subject, _, _ := strings.Cut(id, ".")
		from, to := map[string]*engine.Subject{"piece": &full.Piece, "shop": &full.Shop, "surface": &on.Subject, "defect": &mark.Subject}[subject],
			map[string]*engine.Subject{"piece": &job.Piece, "shop": &job.Shop, "surface": &job.Surfaces[mark.On].Subject, "defect": &job.Defects[0].Subject}[subject]
		if v, ok := from.Answers[id]; ok {
			to.Answers[id] = v
		} else {
			delete(to.Answers, id)
			to.CannotTell[id] = true
		}
	}
	return -1
}

// BenchmarkQuestionsToAReadyRepair counts questions over all answered pieces: the median, the worst, and of how many
// marks no repair is ever ready.
func BenchmarkQuestionsToAReadyRepair(b *testing.B) {
	k, err := knowledge.Load()
	require.NoError(b, err)
	paths, err := filepath.Glob("../../../testdata/jobs/scenarios/*.yaml")
	require.NoError(b, err)
	var counts []int
	never, worst := 0, ""
	for b.Loop() {
		counts, never = nil, 0
		for _, path := range paths {
			data, err := os.ReadFile(path)
			require.NoError(b, err)
			file, err := jobfile.Read(path, data, k.Book, k.Tables)
			require.NoError(b, err)
			for _, m := range file.Job.Defects {
				switch n := asked(b, file.Job, m); {
				case n < 0:
					never++
				default:
					if n > 11 {
						b.Log(n, filepath.Base(path), m.ID)
					}
					if len(counts) == 0 || n > slices.Max(counts) {
						worst = filepath.Base(path) + " " + m.ID
					}
					counts = append(counts, n)
				}
			}
		}
	}
	slices.Sort(counts)
	b.ReportMetric(float64(counts[len(counts)/2]), "median-questions")
	b.ReportMetric(float64(counts[len(counts)-1]), "most-questions")
	b.ReportMetric(float64(never), "never-ready")
	b.Logf("%v; most at %s", counts, worst)
}
