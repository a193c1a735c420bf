package engine_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine"
)

// yard are stages with more to say than the two of the vocabulary.
var yard = files{"terms.yaml": strings.Replace(vocabulary["terms.yaml"],
	"stages: [{id: flatten, means: flatten}, {id: dress, means: dress}]",
	"stages: [{id: moor, means: moor, across: piece}, {id: flatten, means: flatten, once: yes}, {id: dress, means: dress, whole: yes}, {id: launch, means: launch, across: piece}]", 1)}

// pair writes the file of a pair; its cases are not what these tests are about.
func pair(id string, set own) files {
	keys := own{"where": "surface", "because": "the one spoils the other", "source": "bench-note",
		"cases": "[{that: so, first: streaks, next: streaks, given: {}, holds: no}, {that: so too, first: streaks, next: streaks, given: {}, holds: no}]", "hard": "no"}
	for k, v := range set {
		keys[k] = v
	}
	return rule("pair", id, keys)
}

func chore(id string, set own) files {
	keys := own{"name": "See to " + id, "where": "surface", "stage": "flatten", "minutes": "[1, 2, 3]", "steps": "[{do: do it}]", "because": "it is wise", "source": "bench-note"}
	for k, v := range set {
		keys[k] = v
	}
	return rule("chore", id, keys)
}

// raft is a job of several marks, each by its id, on one deck or on what the facts say under "on".
func raft(t *testing.T, marks map[string]facts, parts ...files) *engine.Plan {
	t.Helper()
	book := load(t, append(append(parts, method("streaks", own{"treats": "[streak]"})), yard)...)
	j := &engine.Job{Surfaces: map[string]*engine.Surface{}}
	for id, given := range marks {
		on := "deck"
		if s, ok := given["on"]; ok {
			on = s
		}
		pick := given["repair"]
		given = given.with(nil)
		delete(given, "on")
		delete(given, "repair")
		if j.Surfaces[on] == nil {
			j.Surfaces[on] = &engine.Surface{Subject: subject(t, book, "surface", given)}
		}
		j.Defects = append(j.Defects, &engine.Mark{ID: id, On: on, Repair: pick, Subject: subject(t, book, "defect", given)})
	}
	p, err := engine.PlanOf(book, tables(), j)
	require.NoError(t, err)
	return p
}

func steps(p *engine.Plan) []string {
	return each(p.Steps, func(s engine.PlanStep) string { return s.ID })
}

func marked(t *testing.T, p *engine.Plan, id string) engine.PlannedMark {
	t.Helper()
	i := slices.IndexFunc(p.Marks, func(m engine.PlannedMark) bool { return m.ID == id })
	require.GreaterOrEqual(t, i, 0, "%s is among the marks", id)
	return p.Marks[i]
}

// clawing treats claw marks, quickly.
var clawing = method("clawing", own{"treats": "[claw-mark]", "minutes": "[1, 1, 1]"})

var clawed = facts{"defect.form": "dip", "defect.cause": "claw"}

func TestWhatSeveralMarksShareIsDoneOnce(t *testing.T) {
	across := onHammerMarks("plane", own{"covers": "surface"})
	at := onHammerMarks("plane", own{})
	marks := map[string]facts{"a": hammered, "b": hammered, "c": hammered.with(facts{"on": "side"})}

	p := raft(t, marks, across, clawing)
	assert.Equal(t, []string{"plane@deck", "plane@side"}, steps(p))
	assert.Equal(t, []string{"a", "b"}, p.Steps[0].Marks)
	assert.Equal(t, [3]float64{1, 5, 9}, p.Steps[0].Minutes, "across the deck is once, for both")

	p = raft(t, marks, at, clawing)
	assert.Equal(t, []string{"plane@deck", "plane@side"}, steps(p))
	assert.Equal(t, [3]float64{2, 10, 18}, p.Steps[0].Minutes, "mark by mark is twice, in one go")
}

func TestStagesKeepTheirPlaceOnASurfaceAndSomeAcrossThePiece(t *testing.T) {
	marks := map[string]facts{"a": hammered, "b": clawed.with(facts{"on": "side"})}
	p := raft(t, marks, onHammerMarks("dressing", own{"stage": "dress"}), clawing)
	assert.Equal(t, []string{"clawing@side", "dressing@deck"}, steps(p))
	assert.Empty(t, p.Steps[1].After, "what is done to the deck does not wait for the side")

	p = raft(t, marks, onHammerMarks("mooring", own{"stage": "moor"}), clawing)
	assert.Equal(t, []string{"mooring@deck", "clawing@side"}, steps(p))
	assert.Equal(t, "mooring@deck", p.Steps[1].After[0].Step, "all of the raft waits until it is moored")
}

func TestAPairGoesBeforeTheUsualOrderAndSaysWhy(t *testing.T) {
	marks := map[string]facts{"a": hammered, "b": clawed}
	early := onHammerMarks("early", own{"stage": "flatten"})
	late := method("late", own{"treats": "[claw-mark]", "stage": "dress", "minutes": "[1, 1, 1]"})
	assert.Equal(t, []string{"early@deck", "late@deck"}, steps(raft(t, marks, early, late)))

	turned := pair("late-first", own{"first": "{methods: [late]}", "next": "{stages: [flatten]}", "hard": "yes"})
	p := raft(t, marks, early, late, turned)
	assert.Equal(t, []string{"late@deck", "early@deck"}, steps(p))
	assert.Equal(t, []engine.StepAfter{{Step: "late@deck", Rule: "late-first", Because: "the one spoils the other", Hard: true, Sources: []string{"bench-note"}}}, p.Steps[1].After)

	unless := pair("late-first", own{"first": "{methods: [late]}", "next": "{stages: [flatten]}", "hard": "yes", "when": "'surface.knots'"})
	marks["a"], marks["b"] = hammered.with(facts{"surface.knots": "no", "surface.layer": "plank"}), clawed.with(facts{"surface.knots": "no", "surface.layer": "plank"})
	assert.Equal(t, []string{"early@deck", "late@deck"}, steps(raft(t, marks, early, late, unless)), "without knots the pair does not hold")
	marks["a"], marks["b"] = hammered, clawed
	assert.Equal(t, []string{"late@deck", "early@deck"}, steps(raft(t, marks, early, late, unless)), "it acts unless it is false")
}

func TestOfReasonsThatClashTheWeakerIsGivenUpAndNamed(t *testing.T) {
	marks := map[string]facts{"a": hammered, "b": clawed}
	one, two := onHammerMarks("one", own{}), method("two", own{"treats": "[claw-mark]", "minutes": "[1, 1, 1]"})
	p := raft(t, marks, one, two,
		pair("one-first", own{"first": "{methods: [one]}", "next": "{methods: [two]}"}),
		pair("two-first", own{"first": "{methods: [two]}", "next": "{methods: [one]}", "hard": "yes"}))
	assert.Equal(t, []string{"two@deck", "one@deck"}, steps(p))
	require.Len(t, p.Clashes, 1)
	assert.Equal(t, "one-first", p.Clashes[0].Rule)
}

func TestWhatLiesBetweenTwoStepsIsAStepOfItsOwn(t *testing.T) {
	p := raft(t, map[string]facts{"a": hammered, "b": clawed}, onHammerMarks("one", own{}), method("two", own{"treats": "[claw-mark]", "minutes": "[1, 1, 1]"}),
		pair("rinse", own{"first": "{methods: [one]}", "next": "{methods: [two]}", "hard": "yes", "between": "{do: Rinse it, hours: [2, 6]}"}))
	assert.Equal(t, []string{"one@deck", "rinse@deck", "two@deck"}, steps(p))
	assert.InDelta(t, 6.0, p.Steps[1].WaitH, 1e-9)
	assert.InDelta(t, 5.0/60+6, p.Steps[2].EarlyH, 1e-9, "the longer time is allowed for")
}

func TestOfTwoThatNoOrderSavesAnotherRepairIsTaken(t *testing.T) {
	marks := map[string]facts{"a": hammered, "b": clawed}
	harsh := onHammerMarks("harsh", own{"minutes": "[1, 1, 1]"})
	mild := onHammerMarks("mild", own{"minutes": "[9, 9, 9]"})
	fine := method("fine", own{"treats": "[claw-mark]", "minutes": "[1, 1, 1]"})
	never := pair("never-both", own{"first": "{methods: [harsh]}", "next": "{methods: [fine]}", "instead": "Go about it mildly.", "hard": "yes"})

	p := raft(t, marks, harsh, mild, fine, never)
	assert.ElementsMatch(t, []string{"mild@deck", "fine@deck"}, steps(p))
	require.Len(t, p.Clashes, 1)
	assert.Equal(t, "swap", p.Clashes[0].Saved)
	assert.Contains(t, marked(t, p, "a").Because, "the one spoils the other")

	p = raft(t, map[string]facts{"a": hammered, "b": clawed}, harsh, fine, never,
		method("other", own{"treats": "[claw-mark]"}))
	assert.ElementsMatch(t, []string{"harsh@deck", "other@deck"}, steps(p), "then the other side gives way")

	p = raft(t, map[string]facts{"a": hammered.with(facts{"repair": "harsh"}), "b": clawed.with(facts{"repair": "fine"})}, harsh, mild, fine, never)
	assert.ElementsMatch(t, []string{"harsh@deck", "fine@deck"}, steps(p), "what a person picked is not taken away")
	require.Len(t, p.Clashes, 1)
	assert.Empty(t, p.Clashes[0].Saved)
	assert.Equal(t, "Go about it mildly.", p.Clashes[0].Text)
}

func TestASurfaceGoesThroughSomeStagesOnce(t *testing.T) {
	hammering := onHammerMarks("hammering", own{"covers": "surface", "minutes": "[1, 1, 1]"})
	both := method("both", own{"covers": "surface", "minutes": "[6, 6, 6]", "treats": "[hammer-mark, claw-mark]"})
	marks := map[string]facts{"a": hammered, "b": clawed}

	p := raft(t, marks, hammering, both)
	assert.Equal(t, []string{"both@deck"}, steps(p), "the claw mark needs what does for the hammer mark too")
	require.Len(t, p.Clashes, 1)
	assert.Equal(t, "swap", p.Clashes[0].Saved)

	p = raft(t, marks, hammering, method("scraping", own{"covers": "surface", "treats": "[claw-mark]"}))
	assert.ElementsMatch(t, []string{"hammering@deck", "scraping@deck"}, steps(p), "neither serves the other's mark")
	require.Len(t, p.Clashes, 1)
	assert.Empty(t, p.Clashes[0].Saved)

	p = raft(t, marks, hammering, method("scraping", own{"treats": "[claw-mark]"}))
	assert.Empty(t, p.Clashes, "what is done mark by mark is not done across the deck")
}

// sanded is all that a check of a cut into a skin asks for.
var sanded = facts{"surface.layer": "skin", "surface.layer_mm": "1.2 ± 0", "surface.stripped": "yes", "surface.screwed": "no", "surface.film_mm": "0 ± 0", "piece.age": "old"}

func TestTheCutsIntoALayerAddUp(t *testing.T) {
	rub := onHammerMarks("rub", own{"stage": "flatten", "covers": "surface", "sanding": `{reaches: defect, grits: ["120", "150"]}`, "suits": clauses(`sand.verdict == "clear"`)})
	scrub := method("scrub", own{"treats": "[claw-mark]", "stage": "dress", "covers": "surface", "sanding": `{reaches: defect, grits: ["120", "150"]}`, "suits": clauses(`sand.verdict == "clear"`), "minutes": "[1, 1, 1]"})
	leave := method("leave", own{"treats": "[claw-mark]", "achieves": "holds", "stage": "dress", "minutes": "[60, 60, 60]"})
	a := hammered.with(sanded).with(facts{"defect.depth_mm": "0.2 ± 0", "defect.width_mm": "9 ± 0"})
	b := clawed.with(sanded).with(facts{"defect.depth_mm": "0.2 ± 0", "defect.width_mm": "9 ± 0"})

	alone := raft(t, map[string]facts{"b": b}, rub, scrub, leave)
	assert.Equal(t, []string{"scrub@deck"}, steps(alone), "0.3 mm of the 0.7 above the keep line can go")

	p := raft(t, map[string]facts{"a": a, "b": b}, rub, scrub, leave)
	assert.Equal(t, "scrub", marked(t, p, "b").Method, "0.6 mm of 0.7 can go too")
	require.Len(t, p.Surfaces, 1)
	assert.InDelta(t, 0.6, p.Surfaces[0].LeftMM.Mid(), 1e-9)

	deep := b.with(facts{"defect.depth_mm": "0.38 ± 0"})
	assert.Equal(t, []string{"scrub@deck"}, steps(raft(t, map[string]facts{"b": deep}, rub, scrub, leave)), "0.48 mm alone can go")
	p = raft(t, map[string]facts{"a": a, "b": deep}, rub, scrub, leave)
	assert.NotContains(t, steps(p), "scrub@deck", "0.78 mm together cannot")
	assert.True(t, p.Surfaces[0].Refused)
	assert.False(t, p.Refused, "another repair took its place")

	p = raft(t, map[string]facts{"a": a.with(facts{"repair": "rub"}), "b": deep.with(facts{"repair": "scrub"})}, rub, scrub, leave)
	assert.Equal(t, engine.Refusal, marked(t, p, "b").State)
	assert.True(t, p.Refused, "what a person picked is refused and not exchanged")
}

func TestOneSandingGoesAsDeepAsTheDeepestMark(t *testing.T) {
	rub := onHammerMarks("rub", own{"covers": "surface", "sanding": `{reaches: defect, grits: ["120", "150"]}`, "suits": clauses(`sand.verdict == "clear"`)})
	a := hammered.with(sanded).with(facts{"defect.width_mm": "9 ± 0"})
	p := raft(t, map[string]facts{"a": a.with(facts{"defect.depth_mm": "0.1 ± 0"}), "b": a.with(facts{"defect.depth_mm": "0.3 ± 0"})}, rub, clawing)
	assert.Equal(t, []string{"rub@deck"}, steps(p))
	require.Len(t, p.Surfaces, 1)
	require.Len(t, p.Surfaces[0].Cuts, 1)
	assert.InDelta(t, 0.4, p.Surfaces[0].Cuts[0].TakeMM.Hi, 1e-9, "not 0.2 and 0.4")
}

func TestWhatWorkAcrossASurfaceTakesAwayNeedsNoRepair(t *testing.T) {
	gone := files{"defects/hammer-mark.yaml": defect("hammer-mark", "Hammer mark", clauses(`defect.form == "dip"`, `defect.cause == "hammer"`, "!surface.stripped"))}
	strip := method("strip", own{"treats": "[claw-mark]", "covers": "surface", "leaves": leaves("fact: surface.stripped, to: yes"), "minutes": "[1, 1, 1]"})
	fix := onHammerMarks("fix", own{"stage": "dress"})
	p := raft(t, map[string]facts{"a": hammered.with(facts{"surface.stripped": "no"}), "b": clawed.with(facts{"surface.stripped": "no"})}, gone, strip, fix)
	assert.Equal(t, []string{"strip@deck"}, steps(p))
	assert.Equal(t, engine.Gone, marked(t, p, "a").State)
}

func TestWhatRepairsLeaveBehindIsSeenTo(t *testing.T) {
	hammering := onHammerMarks("hammering", own{})
	strip := method("strip", own{"treats": "[claw-mark]", "covers": "surface", "leaves": leaves("fact: surface.stripped, to: yes"), "minutes": "[1, 1, 1]"})
	dress := method("dressing", own{"treats": "[streak]", "stage": "dress", "covers": "surface", "minutes": "[1, 1, 1]", "leaves": leaves("fact: surface.stripped, to: no")})
	bare := rule("aftermath", "bare", own{"when": "surface.stripped", "unless": "{stages: [dress]}", "mark": "{defect.form: streak}", "because": "nothing is on it", "source": "bench-note"})
	b := clawed.with(facts{"surface.stripped": "no"})
	p := raft(t, map[string]facts{"b": b}, strip, dress, bare, hammering)
	assert.Equal(t, []string{"strip@deck", "dressing@deck"}, steps(p))
	assert.True(t, marked(t, p, "bare@deck").Arises)

	p = raft(t, map[string]facts{"b": b, "c": facts{"defect.form": "streak", "surface.stripped": "no"}}, strip, dress, bare, hammering)
	assert.Len(t, p.Marks, 2, "the streak is there already and is dressed")
}

func TestAChoreIsDoneWhereSomethingAsksForIt(t *testing.T) {
	one := onHammerMarks("one", own{"stage": "dress"})
	p := raft(t, map[string]facts{"a": hammered, "b": hammered, "c": hammered.with(facts{"on": "side"})}, one, clawing, chore("sweep", own{"with": "{methods: [one]}"}))
	assert.Equal(t, []string{"sweep@deck", "sweep@side", "one@deck", "one@side"}, steps(p))
	p = raft(t, map[string]facts{"a": hammered, "c": hammered.with(facts{"on": "side"})}, one, clawing, chore("sweep", own{"with": "{methods: [one]}", "where": "piece", "stage": "launch"}))
	assert.Equal(t, []string{"one@deck", "one@side", "sweep"}, steps(p))
	p = raft(t, map[string]facts{"a": hammered.with(facts{"surface.stripped": "no"})}, one, clawing, chore("sweep", own{"with": "{methods: [one]}", "when": "surface.stripped"}))
	assert.Equal(t, []string{"one@deck"}, steps(p), "where it is known to be idle it is left")
}

func TestWhatWasDoneChangesWhatIsPlanned(t *testing.T) {
	coax := onHammerMarks("coax", own{"minutes": "[1, 1, 1]", "leaves": leaves("fact: defect.depth_mm, times: [0.2, 0.5]")})
	fill := onHammerMarks("fill", own{"minutes": "[9, 9, 9]"})
	book := load(t, coax, fill, rest, yard)
	do := func(how string, found facts) *engine.Plan {
		j := job(t, book, hammered.with(facts{"defect.depth_mm": "1 ± 0"}))
		j.Defects[0].Done = []engine.Done{{Method: "coax", CameOut: how, Found: subject(t, book, "defect", found)}}
		j = engine.Carry(book, tables(), j)
		p, err := engine.PlanOf(book, tables(), j)
		require.NoError(t, err)
		return p
	}
	assert.Equal(t, []string{"fill@deck"}, steps(do(engine.Failed, nil)), "what failed leads to the next")
	assert.Equal(t, []string{"fill@deck"}, steps(do(engine.NotEnough, nil)))
	p := do(engine.Enough, nil)
	assert.Empty(t, p.Steps)
	assert.Equal(t, engine.Finished, p.Marks[0].State)
}

func TestWhatWasFoundStandsAgainstWhatARepairUsuallyLeaves(t *testing.T) {
	coax := onHammerMarks("coax", own{"leaves": leaves("fact: defect.depth_mm, times: [0.2, 0.5]", "fact: surface.drop_test, to: unknown")})
	book := load(t, coax, rest)
	after := func(how string, found facts) *engine.Job {
		j := job(t, book, hammered.with(facts{"defect.depth_mm": "1 ± 0", "surface.drop_test": "swells"}))
		j.Defects[0].Done = []engine.Done{{Method: "coax", CameOut: how, Found: subject(t, book, "defect", found)}}
		return engine.Carry(book, tables(), j)
	}
	depth := func(j *engine.Job) float64 { return j.Defects[0].Answers["defect.depth_mm"].Range().Mid() }
	assert.InDelta(t, 0.35, depth(after(engine.NotEnough, nil)), 1e-9)
	assert.InDelta(t, 1, depth(after(engine.Failed, nil)), 1e-9, "what failed left it as it was")
	assert.InDelta(t, 0.25, depth(after(engine.NotEnough, facts{"defect.depth_mm": "0.25 ± 0"})), 1e-9)
	assert.NotContains(t, after(engine.NotEnough, nil).Surfaces["deck"].Answers, "surface.drop_test", "what must be looked at again is unknown")
	assert.Contains(t, after(engine.Failed, nil).Surfaces["deck"].Answers, "surface.drop_test")
}
