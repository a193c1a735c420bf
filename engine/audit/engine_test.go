package audit_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine"
	"mendwright/engine/audit"
	"mendwright/knowledge"
	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

// jobOf is a job of one mark with all that was answered, insisted on against any finding.
func jobOf(given map[string]condition.Value) *engine.Job {
	all := engine.Subject{Answers: given, Confirmed: map[string]bool{}}
	for id := range given {
		all.Confirmed[id] = true
	}
	return &engine.Job{Piece: all, Shop: all, Surfaces: map[string]*engine.Surface{"it": {Subject: all}},
		Defects: []*engine.Mark{{ID: "it", On: "it", Subject: all}}}
}

// TestWhatIsSaidToBeBestTheEngineRanksFirst puts the answers of the audit before the engine, for every
// method of the built-in rulebook that rests on no arithmetic. Without tables the others that do
// are never ready, which the audit allows for.
func TestWhatIsSaidToBeBestTheEngineRanksFirst(t *testing.T) {
	book, err := rules.Load(knowledge.Files())
	require.NoError(t, err)
	tried := 0
	for _, b := range audit.Bests(book) {
		if b.Method.Sanding != nil || b.Method.Vapour != nil || b.Method.Coat != nil {
			continue
		}
		tried++
		a, err := engine.Triage(book, nil, jobOf(b.Given))
		require.NoError(t, err)
		what := fmt.Sprintf("%s for %s", b.Method.ID, b.Kind)
		require.NotEmpty(t, a.Defects[0].Repairs, what)
		first := a.Defects[0].Repairs[0]
		assert.Equal(t, b.Method.ID, first.Method, what)
		assert.Equal(t, engine.Ready, first.State, what)
		assert.Contains(t, first.For, b.Kind, what)
	}
	assert.Greater(t, tried, 40)
}

// grid is every way to answer what the random conditions read; what means nothing is left out.
func grid() []map[string]condition.Value {
	out := []map[string]condition.Value{{}}
	times := func(id string, values ...condition.Value) {
		var next []map[string]condition.Value
		for _, g := range out {
			for _, v := range values {
				n := map[string]condition.Value{id: v}
				for k, was := range g {
					n[k] = was
				}
				next = append(next, n)
			}
		}
		out = next
	}
	times("surface.cloth", condition.Pick("nylon"), condition.Pick("silk"), condition.Pick("paper"), condition.Pick("film"))
	times("surface.coated", condition.Yes(true), condition.Yes(false))
	times("surface.coat_age", condition.Pick("fresh"), condition.Pick("old"))
	var degrees []condition.Value
	for _, x := range []float64{-10, 0, 10, 15, 20, 30, 40} {
		degrees = append(degrees, condition.Measured(interval.Exact(x)))
	}
	times("shop.air_c", degrees...)
	times("shop.kit", condition.PickSeveral(), condition.PickSeveral("tape"), condition.PickSeveral("glue"), condition.PickSeveral("tape", "glue"))
	return slices.DeleteFunc(out, func(g map[string]condition.Value) bool {
		if g["surface.coated"].IsYes() {
			return false
		}
		old := g["surface.coat_age"].Choice() == "old"
		delete(g, "surface.coat_age")
		return old // the same again
	})
}

// randomCondition makes a condition that, likely, is sometimes true.
func randomCondition(r *rand.Rand, deep int) string {
	if deep == 0 || r.IntN(4) == 0 {
		atoms := []string{`surface.cloth == "film"`, `surface.cloth != "silk"`, `surface.cloth in ["nylon", "paper"]`, `surface.coated`, `!surface.coated`,
			`surface.coat_age == "old"`, `surface.coat_age != "old"`, `surface.brittle`, `!surface.brittle`, `surface.takes == "thread"`, `surface.takes != "tape"`,
			`surface.melts_c > 150.0`, `surface.melts_c <= 200.0`, `surface.melts_c < 95.0`, `shop.air_c < 10.0`, `shop.air_c >= 20.0`, `shop.air_c > 40.0`, `shop.air_c <= 40.0`,
			`"tape" in shop.kit`, `"glue" in shop.kit`}
		return atoms[r.IntN(len(atoms))]
	}
	op := []string{" && ", " && ", " || "}[r.IntN(3)]
	text := "(" + randomCondition(r, deep-1) + op + randomCondition(r, deep-1) + op + randomCondition(r, deep-1) + ")"
	if r.IntN(5) == 0 {
		return "!" + text
	}
	return text
}

// TestTheAuditAndTheEngineAgreeOnConditions: of random conditions over tables, findings, gates,
// numbers and sets, the audit finds never true exactly those that the engine never finds true,
// whatever is answered, and never false exactly those that it never finds false.
func TestTheAuditAndTheEngineAgreeOnConditions(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	files := overlay(t, "base")
	const n = 250
	for i := range n {
		files[fmt.Sprintf("warnings/w%03d.yaml", i)] = &fstest.MapFile{Data: fmt.Appendf(nil,
			"warning: w%03d\nsignal: notice\nwhen: '%s'\ntext: No. %d.\nif_wrong: Stop.\nsource: guess\nsources: [guess]\n", i, randomCondition(r, 1+i%3), i)}
	}
	book, err := rules.Load(files)
	require.NoError(t, err)
	report, err := audit.Check(book, files, nil)
	require.NoError(t, err)
	require.Zero(t, report.Undecided)
	sometimes := map[condition.Outcome]map[string]bool{condition.True: {}, condition.False: {}}
	for _, given := range grid() {
		a, err := engine.Triage(book, nil, jobOf(given))
		require.NoError(t, err)
		open := map[string]bool{}
		for _, w := range a.Warnings {
			open[w.Warning] = true
			if w.Certain {
				sometimes[condition.True][w.Warning] = true
			}
		}
		for _, w := range book.Warnings {
			if !open[w.ID] {
				sometimes[condition.False][w.ID] = true
			}
		}
	}
	reported := map[string]map[string]bool{"never-true": {}, "never-false": {}}
	for _, f := range report.Faults {
		if reported[f.Fault] != nil {
			reported[f.Fault][strings.TrimSuffix(filepath.Base(f.File), ".yaml")] = true
		}
	}
	never := [2]int{}
	for i := range n {
		id := fmt.Sprintf("w%03d", i)
		text := string(files["warnings/"+id+".yaml"].Data)
		assert.Equal(t, !sometimes[condition.True][id], reported["never-true"][id], "never true: %s", text)
		if !reported["never-true"][id] {
			assert.Equal(t, !sometimes[condition.False][id], reported["never-false"][id], "never false: %s", text)
		}
		if reported["never-true"][id] {
			never[0]++
		}
		if reported["never-false"][id] {
			never[1]++
		}
	}
	assert.Greater(t, never[0], 20)
	assert.Greater(t, never[1], 20)
}

var unfitFor = regexp.MustCompile(` treats (\S+) and is never ready for it`)

// TestNoAnswersContradictAReport tries some 300 ways to answer what the base is about on each rulebook
// that has a repair which is said to be never ready or never the best.
func TestNoAnswersContradictAReport(t *testing.T) {
	dirs, err := os.ReadDir(brokenDir)
	require.NoError(t, err)
	some := marks()
	rand.New(rand.NewPCG(3, 5)).Shuffle(len(some), func(i, j int) { some[i], some[j] = some[j], some[i] })
	some = some[:300]
	tried := 0
	for _, dir := range dirs {
		if !strings.HasPrefix(dir.Name(), "never-best") && !strings.HasPrefix(dir.Name(), "never-ready") && !strings.HasPrefix(dir.Name(), "conflict-") {
			continue
		}
		files := overlay(t, dir.Name())
		book, err := rules.Load(files)
		require.NoError(t, err)
		said, unfit := map[string]string{}, map[string]string{}
		for _, f := range check(t, dir.Name()).Faults {
			if strings.HasPrefix(f.File, "methods/") && !strings.Contains(f.Says, "in two states") && !strings.Contains(f.Says, "this lowers") {
				method := strings.TrimSuffix(filepath.Base(f.File), ".yaml")
				said[method] = f.Fault
				if m := unfitFor.FindStringSubmatch(f.Says); m != nil {
					unfit[method] = m[1]
				}
			}
		}
		for _, given := range some {
			a, err := engine.Triage(book, nil, jobOf(given))
			require.NoError(t, err)
			for i, r := range a.Defects[0].Repairs {
				if r.State != engine.Ready {
					continue
				}
				switch said[r.Method] {
				case "conflict":
					assert.Fail(t, "ready", "%s: %s given %v", dir.Name(), r.Method, given)
				case "never-ready":
					assert.NotContains(t, r.For, unfit[r.Method], "%s: %s given %v", dir.Name(), r.Method, given)
				case "never-best":
					assert.NotZero(t, i, "%s: %s given %v", dir.Name(), r.Method, given)
				}
				tried++
			}
		}
	}
	assert.Greater(t, tried, 1000)
}

// marks is every way to answer what the methods of the base read.
func marks() []map[string]condition.Value {
	var out []map[string]condition.Value
	for _, g := range grid() {
		if x := g["shop.air_c"].Range().Lo; x != 0 && x != 20 {
			continue
		}
		for _, form := range []string{"tear", "hole", "crease"} {
			for _, length := range []float64{5, 45, 90} {
				for _, other := range [][3]bool{{}, {true, true, true}, {true, false, true}, {false, true, false}} {
					n := map[string]condition.Value{"defect.form": condition.Pick(form), "defect.length_mm": condition.Measured(interval.Exact(length)),
						"surface.damp": condition.Yes(other[0]), "shop.gloves": condition.Yes(other[1]),
						"piece.aim": condition.Pick(map[bool]string{true: "as-new", false: "flies"}[other[2]])}
					if slices.Contains([]string{"tear", "hole"}, form) {
						n["defect.at_spar"] = condition.Yes(other[1])
					}
					for k, v := range g {
						n[k] = v
					}
					out = append(out, n)
				}
			}
		}
	}
	return out
}
