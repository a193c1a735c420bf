package engine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine"
	"mendwright/rules"
)

// byBinding are three methods that suit one answer to surface.binding each, and one that must
// never meet paste.
func byBinding(t *testing.T) *rules.Book {
	return load(t, method("for-paste", own{"suits": clauses(`surface.binding == "paste"`)}),
		method("for-resin", own{"suits": clauses(`surface.binding == "resin"`)}),
		method("for-tallow", own{"suits": clauses(`surface.binding == "tallow"`)}),
		method("not-on-paste", own{"never": clauses(`surface.binding == "paste"`)}))
}

// inState are the methods that came out in a state, in rank order.
func inState(d engine.DefectAnswer, s engine.State) []string {
	out := []string{}
	for _, r := range d.Repairs {
		if r.State == s {
			out = append(out, r.Method)
		}
	}
	return out
}

func TestAFindingTakesItsFirstTrueBranchOnlyWhereAllBeforeItAreFalse(t *testing.T) {
	for _, c := range []struct{ drop, scratch, want string }{
		{"swells", "curls", "paste"}, // the second branch is true too
		{"swells", "powders", "paste"},
		{"swells", "cannot tell", "paste"},
		{"beads", "curls", "resin"},
		{"soaks", "curls", "resin"},
		{"cannot tell", "curls", ""}, // the first branch may yet be true
		{"beads", "powders", "tallow"},
		{"soaks", "powders", ""}, // no branch is true
		{"beads", "cannot tell", ""},
		{"cannot tell", "powders", ""},
		{"cannot tell", "cannot tell", ""},
	} {
		a, d := triage(t, byBinding(t), hammered.with(facts{"surface.drop_test": c.drop, "surface.scratch_test": c.scratch}))
		open := inState(d, engine.NeedsAnswer)
		if c.want == "" {
			assert.Len(t, open, 4, "%s and %s say nothing", c.drop, c.scratch)
		} else {
			assert.Contains(t, inState(d, engine.Ready), "for-"+c.want, "%s and %s", c.drop, c.scratch)
			assert.Empty(t, open, "%s and %s settle it", c.drop, c.scratch)
		}
		assert.Empty(t, a.Conflicts)
	}
}

func TestADirectAnswerStandsWhereTheFindingSaysNothingOrTheSame(t *testing.T) {
	for _, tests := range []facts{nil, {"surface.drop_test": "soaks"}, {"surface.drop_test": "beads", "surface.scratch_test": "curls"}} {
		a, d := triage(t, byBinding(t), hammered.with(tests).with(facts{"surface.binding": "resin"}))
		assert.Equal(t, []string{"for-resin", "not-on-paste"}, inState(d, engine.Ready), "%v", tests)
		assert.Equal(t, "answered", repair(t, d, "for-resin").Because[0].RestsOn[0].How)
		assert.Empty(t, a.Conflicts)
	}
}

func TestAFindingFillsInForWhoeverCannotTell(t *testing.T) {
	_, d := triage(t, byBinding(t), hammered.with(facts{"surface.binding": "cannot tell", "surface.drop_test": "swells"}))
	assert.Equal(t, []string{"for-paste"}, inState(d, engine.Ready))
	assert.Equal(t, "finding", repair(t, d, "for-paste").Because[0].RestsOn[0].How)
}

func TestAContradictionShowsBothAndNothingReadyRestsOnEither(t *testing.T) {
	a, d := triage(t, byBinding(t), hammered.with(facts{"surface.binding": "resin", "surface.drop_test": "swells"}))
	assert.Equal(t, []engine.Conflict{{Fact: "surface.binding", On: "deck", Answered: "resin", Found: "paste",
		Because: "paste drinks", Sources: []string{"yard-code"}}}, a.Conflicts)
	assert.Empty(t, inState(d, engine.Ready))
	assert.Len(t, inState(d, engine.NeedsAnswer), 4)
	for _, r := range d.Repairs {
		assert.Equal(t, []string{"surface.binding"}, r.Missing, "%s waits for the person to settle it", r.Method)
		assert.Empty(t, r.Open[0].RestsOn, "an answer in doubt carries nothing")
	}
	assert.Equal(t, []string{"surface.binding"}, each(d.Questions, func(q engine.Question) string { return q.Fact }))
	assert.Contains(t, a.Sources, "yard-code")
}

func TestWhatTheContradictedAnswerDoesNotTouchIsStillReady(t *testing.T) {
	a, d := triage(t, load(t, method("mend", own{"suits": clauses("surface.stripped")})),
		hammered.with(facts{"surface.stripped": "yes", "surface.binding": "resin", "surface.drop_test": "swells"}))
	assert.Equal(t, []string{"mend"}, inState(d, engine.Ready))
	assert.Len(t, a.Conflicts, 1)
}

func TestAConfirmedAnswerStandsAgainstTheFinding(t *testing.T) {
	book := byBinding(t)
	j := job(t, book, hammered.with(facts{"surface.binding": "resin", "surface.drop_test": "swells"}))
	j.Surfaces["deck"].Confirmed["surface.binding"] = true
	a, err := engine.Triage(book, tables(), j)
	require.NoError(t, err)
	assert.Empty(t, a.Conflicts)
	assert.Equal(t, []string{"for-resin", "not-on-paste"}, inState(a.Defects[0], engine.Ready))
	assert.Equal(t, []string{"for-paste", "for-tallow"}, inState(a.Defects[0], engine.RuledOut))
}

func TestAContradictedFactPutsWhatRestsOnItInDoubtToo(t *testing.T) {
	book := load(t, method("mend", own{"suits": clauses("surface.bleeds")}),
		files{"findings/dye.yaml": "finding: dye\nderives: surface.dye\nbranches:\n  - {when: surface.stripped, is: blue, because: only blue goes on bare, source: hearsay}\nsources: [hearsay]\n"})
	a, d := triage(t, book, hammered.with(facts{"surface.dye": "red", "surface.stripped": "yes"}))
	assert.Equal(t, []string{"mend"}, inState(d, engine.NeedsAnswer), "red alone would bleed")
	assert.Equal(t, []string{"surface.dye"}, repair(t, d, "mend").Missing)
	require.Len(t, a.Conflicts, 1)
	assert.Equal(t, "surface.dye", a.Conflicts[0].Fact)
}

func TestAContradictionOnAMarkNamesTheMark(t *testing.T) {
	a, d := triage(t, load(t, method("mend", own{"suits": clauses("defect.fresh")})), hammered.with(facts{"defect.fresh": "yes", "defect.rim": "worn"}))
	assert.Equal(t, []engine.Conflict{{Fact: "defect.fresh", On: "dint", Answered: "yes", Found: "no", Because: "wear takes time", Sources: []string{"hearsay"}}}, a.Conflicts)
	assert.Equal(t, []string{"mend"}, inState(d, engine.NeedsAnswer))
}

func TestAContradictionIsShownOnceForEachSurfaceAndEachMark(t *testing.T) {
	book := byBinding(t)
	at := func(about string, given facts) engine.Subject { return subject(t, book, about, given) }
	doubtful, aged := facts{"surface.binding": "resin", "surface.drop_test": "swells"}, hammered.with(facts{"defect.fresh": "yes", "defect.rim": "worn"})
	a, err := engine.Triage(book, tables(), &engine.Job{
		Surfaces: map[string]*engine.Surface{"deck": {Subject: at("surface", doubtful)}, "keel": {Subject: at("surface", doubtful)}},
		Defects: []*engine.Mark{{ID: "c", On: "keel", Subject: at("defect", hammered)},
			{ID: "b", On: "deck", Subject: at("defect", aged)}, {ID: "a", On: "deck", Subject: at("defect", aged)}},
	})
	require.NoError(t, err)
	assert.Equal(t, []string{"a defect.fresh", "b defect.fresh", "deck surface.binding", "keel surface.binding"},
		each(a.Conflicts, func(c engine.Conflict) string { return c.On + " " + c.Fact }))
}

func TestAFindingReadsWhatATableSays(t *testing.T) {
	for dye, want := range map[string]engine.State{"red": engine.Ready, "blue": engine.RuledOut, "grey": engine.NeedsAnswer, "cannot tell": engine.NeedsAnswer} {
		r := judged(t, own{"suits": clauses("surface.bleeds")}, hammered.with(facts{"surface.dye": dye}))
		assert.Equal(t, want, r.State, dye)
		assert.Empty(t, r.Missing, "%s: the chart does not say, and that cannot be asked", dye)
	}
}

func TestAQuantityOfATableIsComparedAsAWholeRange(t *testing.T) {
	for dye, want := range map[string]engine.State{"red": engine.RuledOut, "blue": engine.Ready, "grey": engine.NeedsAnswer} {
		assert.Equal(t, want, judged(t, own{"suits": clauses("surface.fades_c > 40.0")}, hammered.with(facts{"surface.dye": dye})).State, dye)
	}
}

func TestAnswersAboutOneSurfaceOrMarkDoNotReachAnother(t *testing.T) {
	book := load(t, method("mend", own{"suits": clauses("surface.stripped", "defect.fresh")}))
	at := func(about string, given facts) engine.Subject { return subject(t, book, about, given) }
	fresh := hammered.with(facts{"defect.fresh": "yes"})
	a, err := engine.Triage(book, tables(), &engine.Job{
		Surfaces: map[string]*engine.Surface{"deck": {Subject: at("surface", facts{"surface.stripped": "yes"})}, "keel": {}},
		Defects: []*engine.Mark{{ID: "a", On: "deck", Subject: at("defect", fresh)}, {ID: "b", On: "deck", Subject: at("defect", hammered)},
			{ID: "c", On: "keel", Subject: at("defect", fresh)}, {ID: "d", Subject: at("defect", fresh)}},
	})
	require.NoError(t, err)
	missing := map[string][]string{}
	for _, d := range a.Defects {
		missing[d.ID] = repair(t, d, "mend").Missing
	}
	assert.Equal(t, map[string][]string{"a": {}, "b": {"defect.fresh"}, "c": {"surface.stripped"}, "d": {"surface.stripped"}}, missing)
}
