package interview_test

import (
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"mendwright/engine"
	"mendwright/knowledge"
	"mendwright/rules"
	"mendwright/rules/condition"
)

// BenchmarkNextQuestion times the question to ask next, at every step from nothing to a ready repair of every mark of
// the answered pieces: its 99th percentile with the rulebook, and with one five and twenty times as large, the rest of
// it about other things than furniture.
func BenchmarkNextQuestion(b *testing.B) {
	atEachStep(b, func(k *knowledge.Loaded, job *engine.Job) error {
		_, err := engine.Next(k.Book, k.Tables, job, job.Defects[0].ID)
		return err
	})
}

// BenchmarkTriage times the triage of one mark at the same steps, with rulebooks of the same sizes.
func BenchmarkTriage(b *testing.B) {
	atEachStep(b, func(k *knowledge.Loaded, job *engine.Job) error {
		_, err := engine.Triage(k.Book, k.Tables, job)
		return err
	})
}

func atEachStep(b *testing.B, do func(*knowledge.Loaded, *engine.Job) error) {
	k, err := knowledge.Load()
	require.NoError(b, err)
	walks := walks(b)
	b.Run("1-times", func(b *testing.B) { timed(b, k, walks, do) })
	for _, n := range []int{5, 20} {
		larger := times(b, n)
		b.Run(fmt.Sprintf("%d-times", n), func(b *testing.B) { timed(b, larger, walks, do) })
	}
}

// timed times one thing done with each job.
func timed(b *testing.B, k *knowledge.Loaded, walks []*engine.Job, do func(*knowledge.Loaded, *engine.Job) error) {
	var took []time.Duration
	for b.Loop() {
		for _, job := range walks {
			began := time.Now()
			err := do(k, job)
			took = append(took, time.Since(began))
			require.NoError(b, err)
		}
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)*99/100].Microseconds())/1000, "ms-p99")
	b.ReportMetric(float64(took[len(took)/2].Microseconds())/1000, "ms-median")
}

// walks are the jobs as they stand before each question.
func walks(tb testing.TB) []*engine.Job {
	var out []*engine.Job
	eachMark(tb, func(file string, full *engine.Job, m *engine.Mark) {
		walk(tb, full, m, func(job *engine.Job) { out = append(out, clone(job)) })
	})
	require.NotEmpty(tb, out)
	return out
}

func clone(job *engine.Job) *engine.Job {
	sub := func(s engine.Subject) engine.Subject {
		out := engine.Subject{Answers: map[string]condition.Value{"piece.trade": condition.Pick("furniture")}, CannotTell: map[string]bool{}, Confirmed: s.Confirmed}
		for id, v := range s.Answers {
			out.Answers[id] = v
		}
		for id := range s.CannotTell {
			out.CannotTell[id] = true
		}
		return out
	}
	m := job.Defects[0]
	return &engine.Job{Piece: sub(job.Piece), Shop: sub(job.Shop),
		Surfaces: map[string]*engine.Surface{m.On: {Subject: sub(job.Surfaces[m.On].Subject), Programme: job.Surfaces[m.On].Programme}},
		Defects:  []*engine.Mark{{ID: m.ID, On: m.On, Subject: sub(m.Subject)}}}
}

var factName = regexp.MustCompile(`\b(surface|defect|piece|shop)\.([a-z][a-z0-9_]*)`)

// times is the rulebook with as many rules again, n-1 times, about the same things of another trade: every fact, kind,
// method, finding and warning once more under another name, and every kind and warning only where the piece is of that trade.
func times(tb testing.TB, n int) *knowledge.Loaded {
	tb.Helper()
	fsys := fstest.MapFS{}
	type file = map[string]any
	read := map[string]file{}
	require.NoError(tb, fs.WalkDir(knowledge.Files(), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(knowledge.Files(), p)
		fsys[p] = &fstest.MapFile{Data: data}
		var f file
		if err == nil && path.Dir(p) != "tables" && path.Dir(p) != "." {
			err = yaml.Unmarshal(data, &f)
			read[p] = f
		}
		return err
	}))
	put := func(p string, f file) {
		data, err := yaml.Marshal(f)
		require.NoError(tb, err)
		fsys[p] = &fstest.MapFile{Data: append(data, []byte("sources: [practice]\n")...)}
	}
	put("facts/trade.yaml", file{"subject": "piece", "about": "its trade", "facts": []any{file{"id": "piece.trade", "ask": "Which trade is it?", "tell": "Look.", "kind": "choice",
		"answers": []any{file{"id": "furniture", "means": "furniture"}, file{"id": "boats", "means": "boats"}}, "effort": "look", "source": "practice"}}})
	const there = `piece.trade == "boats"`
	for i := range n - 1 {
		end := fmt.Sprintf("-x%d", i)
		for p, f := range read {
			kind := strings.TrimSuffix(path.Dir(p), "s")
			out := renamed(f, fmt.Sprintf("${1}.${2}_x%d", i)).(file)
			delete(out, "cases")
			delete(out, "tell")
			delete(out, "sources")
			switch kind {
			case "fact":
				out["facts"] = slices.DeleteFunc(out["facts"].([]any), func(v any) bool { return v.(file)["computed"] != nil })
				if delete(out, "calculators"); len(out["facts"].([]any)) == 0 {
					continue
				}
			case "method":
				if f["sanding"] != nil || f["vapour"] != nil || f["coat"] != nil {
					continue
				}
				var treats []any
				for _, k := range out["treats"].([]any) {
					treats = append(treats, k.(string)+end)
				}
				out["treats"] = treats
			case "defect":
				out["signs"] = append([]any{file{"when": there, "because": "boats", "source": "practice"}}, out["signs"].([]any)...)
			case "warning":
				if when, ok := out["when"].(string); ok {
					out["when"] = there + " && (" + when + ")"
				} else {
					out["when"] = there
				}
			}
			if id, ok := out[kind].(string); ok {
				out[kind] = id + end
			}
			put(strings.TrimSuffix(p, ".yaml")+end+".yaml", out)
		}
	}
	book, err := rules.LoadTrusted(fsys)
	require.NoError(tb, err)
	tables, err := knowledge.Tables(book)
	require.NoError(tb, err)
	return &knowledge.Loaded{Book: book, Tables: tables}
}

// renamed is a copy of a rule file with every fact under another name.
func renamed(v any, to string) any {
	switch v := v.(type) {
	case string:
		return factName.ReplaceAllString(v, to)
	case []any:
		out := make([]any, len(v))
		for i, x := range v {
			out[i] = renamed(x, to)
		}
		return out
	case map[string]any:
		out := map[string]any{}
		for k, x := range v {
			if out[factName.ReplaceAllString(k, to)] = renamed(x, to); k == "source" {
				out[k] = "practice"
			}
		}
		return out
	}
	return v
}
