package engine_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine"
	"mendwright/rules"
	"mendwright/rules/condition"
)

// workshop is a rulebook with something of everything.
var workshop = []files{
	method("coax", own{"treats": "[hammer-mark]", "suits": clauses(`surface.layer in ["plank", "skin"]`), "never": clauses("surface.bleeds", `surface.binding == "paste"`, "shop.warmth_c < 5.0"),
		"gives_off": "[fumes]", "achieves": "reduces", "undo": "partly",
		"harms":  "[" + harm("splits", "occasional", shifts("raised", "surface.knots", "probable")+shifts("lowered", "defect.fresh", "remote")) + "]",
		"leaves": leaves("fact: defect.depth_mm, times: [0.2, 0.5]", "fact: surface.stripped, to: yes", "fact: surface.drop_test, to: cannot tell"),
		"waits":  "[{for: it to settle, hours: [1, 2], because: it creeps, source: hearsay}]"}),
	method("shave", own{"treats": "[hammer-mark, claw-mark]", "sanding": `{reaches: defect, grits: ["120", "150"]}`, "gives_off": "[dust]",
		"suits": clauses(`sand.verdict == "clear"`), "never": clauses(`sand.verdict == "through"`), "undo": "no",
		"harms": "[" + harm("goes-through", "frequent", ", probability_from: sand.chance") + "]", "leaves": leaves("fact: surface.layer_mm, times: [0.8, 1]")}),
	method("wedge-up", own{"treats": "[claw-mark, streak]", "suits": clauses(`"wedge" in shop.jigs`), "takes": "{wood_mm: [0.1, 0.4]}"}),
	method("wipe", own{"treats": "[streak]", "suits": clauses("surface.fades_c > 40.0"), "gives_off": "[fumes, sparks]"}),
	warning("choke", own{"on": "[fumes]", "when": `surface.binding == "tallow"`, "signal": "danger"}),
	warning("cough", own{"on": "[dust]", "when": "'!shop.goggles'"}),
	warning("tip", own{"when": "surface.screwed", "source": "yard-code"}),
}

// anyAnswers answers each question at random, by cannot tell or not at all.
func anyAnswers(r *rand.Rand, book *rules.Book) facts {
	given := facts{}
	for _, id := range slices.Sorted(maps.Keys(book.Facts)) {
		f := book.Facts[id]
		if !f.Asked() || r.IntN(5) == 0 {
			continue
		}
		switch f.Kind {
		case condition.YesNo:
			given[id] = []string{"yes", "no"}[r.IntN(2)]
		case condition.Quantity:
			given[id] = fmt.Sprintf("%.3f ± %.3f", f.Bounds.Lo+r.Float64()*min(f.Bounds.Hi-f.Bounds.Lo, 2), r.Float64()*0.05)
		default:
			given[id] = f.Answers[r.IntN(len(f.Answers))].ID
		}
		if r.IntN(8) == 0 {
			given[id] = "cannot tell"
		}
	}
	return given
}

// anyJob is a raft with three marks on two of its sides.
func anyJob(t testing.TB, r *rand.Rand, book *rules.Book) *engine.Job {
	j := job(t, book, anyAnswers(r, book))
	j.Surfaces["keel"] = &engine.Surface{Subject: subject(t, book, "surface", anyAnswers(r, book)), Programme: engine.Programme{Grits: []string{"80", "120"}, Tool: "paw"}}
	for _, id := range []string{"chip", "bump"} {
		j.Defects = append(j.Defects, &engine.Mark{ID: id, On: []string{"deck", "keel"}[r.IntN(2)], Subject: subject(t, book, "defect", anyAnswers(r, book))})
	}
	return j
}

// seed starts the same draw again.
func seed() *rand.Rand { return rand.New(rand.NewPCG(1830, 1848)) }

// written writes a job out whole; maps print in the order of their keys.
func written(j *engine.Job) string {
	var b strings.Builder
	fmt.Fprintln(&b, j.Name, j.Piece, j.Shop)
	for _, name := range slices.Sorted(maps.Keys(j.Surfaces)) {
		fmt.Fprintln(&b, name, *j.Surfaces[name])
	}
	for _, m := range j.Defects {
		fmt.Fprintln(&b, *m)
	}
	return b.String()
}

// writtenBook writes a book out whole, with the values that JSON leaves out.
func writtenBook(t *testing.T, book *rules.Book) string {
	t.Helper()
	out, err := json.Marshal(book)
	require.NoError(t, err)
	for _, f := range book.Findings {
		for _, b := range f.Branches {
			out = fmt.Append(out, b.Is)
		}
	}
	for _, m := range book.Methods() {
		for _, l := range m.Leaves {
			if l.To != nil {
				out = fmt.Append(out, *l.To)
			}
		}
	}
	return string(out)
}

func TestTriageChangesNeitherTheJobNorTheBookNorTheTables(t *testing.T) {
	book, err := rules.Load(mapFS(workshop...))
	require.NoError(t, err)
	untouched, err := rules.Load(mapFS(workshop...))
	require.NoError(t, err)
	tab := tables()
	r, again := seed(), seed()
	for range 100 {
		j, same := anyJob(t, r, book), anyJob(t, again, untouched)
		a, err := engine.Triage(book, tab, j)
		require.NoError(t, err)
		for _, m := range book.Methods() {
			_, err = engine.Explain(book, tab, j, a.Defects[0].ID, m.ID)
			require.NoError(t, err)
		}
		_, err = engine.CheckSanding(book, tab, j, "keel", "")
		require.NoError(t, err)
		require.Equal(t, written(same), written(j))
	}
	assert.Equal(t, writtenBook(t, untouched), writtenBook(t, book))
	assert.Equal(t, tables(), tab)
}

func TestTheSameJobGivesTheSameAnswer(t *testing.T) {
	book := load(t, workshop...)
	r := seed()
	for range 100 {
		j := anyJob(t, r, book)
		first, err := engine.Triage(book, tables(), j)
		require.NoError(t, err)
		again, err := engine.Triage(book, tables(), j)
		require.NoError(t, err)
		require.Equal(t, first, again)
	}
}

func TestTheOrderOfTheDefectsIsIrrelevant(t *testing.T) {
	book := load(t, workshop...)
	r := seed()
	for range 100 {
		j := anyJob(t, r, book)
		first, err := engine.Triage(book, tables(), j)
		require.NoError(t, err)
		assert.Equal(t, []string{"bump", "chip", "dint"}, each(first.Defects, func(d engine.DefectAnswer) string { return d.ID }))
		r.Shuffle(len(j.Defects), func(a, b int) { j.Defects[a], j.Defects[b] = j.Defects[b], j.Defects[a] })
		again, err := engine.Triage(book, tables(), j)
		require.NoError(t, err)
		require.Equal(t, first, again)
	}
}

func TestOneMarkIsJudgedTheSameWithOthersBesideIt(t *testing.T) {
	book := load(t, workshop...)
	r := seed()
	for range 100 {
		j := anyJob(t, r, book)
		all, err := engine.Triage(book, tables(), j)
		require.NoError(t, err)
		var apart []engine.DefectAnswer
		marks := slices.SortedFunc(slices.Values(j.Defects), func(a, b *engine.Mark) int { return strings.Compare(a.ID, b.ID) })
		for _, m := range marks {
			j.Defects = []*engine.Mark{m}
			a, err := engine.Triage(book, tables(), j)
			require.NoError(t, err)
			apart = append(apart, a.Defects...)
		}
		require.Equal(t, apart, all.Defects)
	}
}

func TestOneBookServesManyAtOnce(t *testing.T) {
	book, err := rules.Load(mapFS(workshop...))
	require.NoError(t, err)
	tab, j := tables(), anyJob(t, seed(), load(t, workshop...))
	answers := make([]*engine.Answer, 16)
	var wg sync.WaitGroup
	for i := range answers {
		wg.Go(func() { answers[i], _ = engine.Triage(book, tab, j) })
	}
	wg.Wait()
	require.NotNil(t, answers[0])
	for _, a := range answers[1:] {
		assert.Equal(t, answers[0], a)
	}
}

func TestAJobWithoutMarksHasAnAnswerWithoutRepairs(t *testing.T) {
	a, err := engine.Triage(load(t, workshop...), tables(), &engine.Job{})
	require.NoError(t, err)
	out, err := json.Marshal(a)
	require.NoError(t, err)
	assert.Contains(t, string(out), `"defects":[],"warnings":[]`)
	assert.Equal(t, load(t, workshop...).Digest(), a.Rulebook.Digest.String())
}

func TestAMarkOnASurfaceThatIsNotThereIsAnError(t *testing.T) {
	book := load(t, workshop...)
	_, err := engine.Triage(book, tables(), &engine.Job{Defects: []*engine.Mark{{ID: "dint", On: "mast"}}})
	assert.ErrorContains(t, err, `"dint" is on "mast"`)
	_, err = engine.Explain(book, tables(), &engine.Job{Defects: []*engine.Mark{{ID: "dint", On: "mast"}}}, "dint", "coax")
	assert.ErrorContains(t, err, `"dint" is on "mast"`)
}

// TestARuleThatCannotBeEvaluatedIsAnErrorWithItsPlace takes the rulebook on trust, as programs do
// with the built-in one, so that a broken rule is met only when it is needed.
func TestARuleThatCannotBeEvaluatedIsAnErrorWithItsPlace(t *testing.T) {
	const broken = `surface.nowhere == "lost"`
	for _, c := range []struct {
		file  string
		rules files
	}{
		{"methods/mend.yaml", method("mend", own{"suits": clauses(broken)})},
		{"methods/mend.yaml", method("mend", own{"never": clauses(broken)})},
		{"methods/mend.yaml", method("mend", own{"sanding": `{reaches: defect, grits: ["120"]}`, "suits": clauses(broken)})},
		{"methods/mend.yaml", method("mend", own{"harms": "[" + harm("splits", "occasional", shifts("raised", broken, "frequent")) + "]"})},
		{"methods/mend.yaml", method("mend", own{"harms": "[" + harm("splits", "occasional", shifts("lowered", broken, "remote")) + "]"})},
		{"defects/hammer-mark.yaml", files{"defects/hammer-mark.yaml": defect("hammer-mark", "Hammer mark", clauses(broken))}},
		{"findings/fresh.yaml", files{"findings/fresh.yaml": strings.Replace(vocabulary["findings/fresh.yaml"], `defect.rim == "sharp"`, broken, 1)}},
		{"findings/binding.yaml", files{"findings/binding.yaml": strings.Replace(vocabulary["findings/binding.yaml"], `surface.drop_test == "swells"`, broken, 1)}},
		{"warnings/tip.yaml", warning("tip", own{"when": "'" + broken + "'"})},
	} {
		use := method("use", own{"suits": clauses("defect.fresh", `surface.binding == "paste"`)})
		book, err := rules.LoadTrusted(mapFS(method("mend", nil), use, c.rules))
		require.NoError(t, err, c.file)
		j := job(t, book, hammered)
		answer, err := engine.Triage(book, tables(), j)
		assert.Nil(t, answer, c.file)
		require.ErrorContains(t, err, c.file)
		assert.ErrorContains(t, err, `there is no fact "surface.nowhere"`)

		method := strings.TrimSuffix(strings.TrimPrefix(c.file, "methods/"), ".yaml")
		if method != "mend" {
			method = "use"
		}
		_, err = engine.Explain(book, tables(), j, "dint", method)
		assert.ErrorContains(t, err, c.file)
	}
}

func TestASandingCheckPassesOnThatAFindingCannotBeEvaluated(t *testing.T) {
	thin := strings.Replace(vocabulary["findings/thin-layer.yaml"], `surface.layer == "skin"`, `surface.nowhere == "lost"`, 1)
	book, err := rules.LoadTrusted(mapFS(method("mend", nil), files{"findings/thin-layer.yaml": thin}))
	require.NoError(t, err)
	_, err = engine.CheckSanding(book, tables(), job(t, book, shaved), "deck", "")
	assert.ErrorContains(t, err, "findings/thin-layer.yaml")
}
