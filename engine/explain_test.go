package engine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine"
)

// explained is one method explained for the one mark.
func explained(t *testing.T, given facts, method string, rules ...files) *engine.Explanation {
	t.Helper()
	book := load(t, rules...)
	e, err := engine.Explain(book, tables(), job(t, book, given), "dint", method)
	require.NoError(t, err)
	return e
}

func outcomes(rs []engine.Reason) map[string]string {
	out := map[string]string{}
	for _, r := range rs {
		out[r.Rule] = r.Outcome
	}
	return out
}

func TestEveryClauseIsShownWithItsOutcome(t *testing.T) {
	e := explained(t, hammered.with(facts{"surface.stripped": "yes", "shop.tongs": "no", "surface.screwed": "yes", "surface.dye": "blue"}), "mend",
		method("mend", own{"suits": clauses("surface.stripped", "shop.tongs", "defect.fresh"), "never": clauses("surface.screwed", "surface.bleeds", "surface.knots")}))
	assert.Equal(t, map[string]string{"surface.stripped": "true", "shop.tongs": "false", "defect.fresh": "unknown"}, outcomes(e.Suits))
	assert.Equal(t, map[string]string{"surface.screwed": "true", "surface.bleeds": "false", "surface.knots": "unknown"}, outcomes(e.Never))
	assert.Equal(t, engine.RuledOut, e.Repair.State)
	for _, r := range append(e.Suits, e.Never...) {
		assert.Equal(t, "as it is: "+r.Rule, r.Because)
		assert.Equal(t, []string{"bench-note"}, r.Sources)
		if r.Outcome == "unknown" {
			assert.Equal(t, map[string][]string{"defect.fresh": {"defect.fresh"}, "surface.knots": {"surface.layer"}}[r.Rule], r.Missing)
		} else {
			assert.Empty(t, r.Missing)
		}
	}
}

func TestAClauseThatIsNotMetStillListsWhatIsKnownOfIt(t *testing.T) {
	e := explained(t, hammered.with(facts{"shop.tongs": "yes"}), "mend", method("mend", own{"suits": clauses("shop.tongs && surface.bleeds")}))
	assert.Equal(t, "unknown", e.Suits[0].Outcome)
	assert.Equal(t, []engine.Rest{{Fact: "shop.tongs", Answer: "yes", How: "answered"}}, e.Suits[0].RestsOn)
	assert.Equal(t, []string{"surface.dye"}, e.Suits[0].Missing)
}

// rests is what the only clause that suits "mend" rests on.
func rests(t *testing.T, clause string, given facts) (engine.Rest, *engine.Explanation) {
	t.Helper()
	e := explained(t, hammered.with(given), "mend", method("mend", own{"suits": clauses(clause), "sanding": `{reaches: defect, grits: ["120", "150"]}`}))
	require.Len(t, e.Suits, 1)
	require.Len(t, e.Suits[0].RestsOn, 1)
	return e.Suits[0].RestsOn[0], e
}

func TestAnAnswerIsShownAsItWasUnderstood(t *testing.T) {
	for _, c := range []struct{ clause, fact, typed, shown string }{
		{"surface.stripped", "surface.stripped", "y", "yes"},
		{"defect.depth_mm < 9.0", "defect.depth_mm", "0.3", "0.3 ± 0.05 mm"},
		{"defect.depth_mm < 9.0", "defect.depth_mm", "1/10 in ± 0", "2.54 mm"},
		{`"clamp" in shop.jigs`, "shop.jigs", "Wedge, clamp", "clamp, wedge"},
		{`surface.layer == "skin"`, "surface.layer", "Skin", "skin"},
	} {
		rest, _ := rests(t, c.clause, facts{c.fact: c.typed})
		assert.Equal(t, engine.Rest{Fact: c.fact, Answer: c.shown, How: "answered"}, rest)
	}
}

func TestAFindingIsShownWithTheBranchThatGaveIt(t *testing.T) {
	rest, e := rests(t, `surface.binding == "tallow"`, facts{"surface.drop_test": "beads", "surface.scratch_test": "powders"})
	assert.Equal(t, engine.Rest{Fact: "surface.binding", Answer: "tallow", How: "finding", Why: &engine.Reason{
		Rule: `surface.drop_test == "beads" && surface.scratch_test == "powders"`, Outcome: "true", Because: "tallow sheds water", Sources: []string{"hearsay"},
		RestsOn: []engine.Rest{{Fact: "surface.drop_test", Answer: "beads", How: "answered"}, {Fact: "surface.scratch_test", Answer: "powders", How: "answered"}},
	}}, rest)
	assert.Equal(t, engine.Cited{Kind: "memory", Title: "Hearsay"}, e.Sources["hearsay"])
}

func TestAFactOfATableIsShownWithTheAnswerThatChoseItsRow(t *testing.T) {
	rest, e := rests(t, "surface.fades_c > 40.0", facts{"surface.dye": "blue"})
	assert.Equal(t, "55 ± 5 °C", rest.Answer)
	assert.Equal(t, "table", rest.How)
	require.NotNil(t, rest.Why)
	assert.Equal(t, []engine.Rest{{Fact: "surface.dye", Answer: "blue", How: "answered"}}, rest.Why.RestsOn)
	assert.Equal(t, []string{"dye-chart"}, rest.Why.Sources)
	assert.Contains(t, e.Sources, "dye-chart")
}

func TestAFindingOnAFactOfATableIsFollowedToTheAnswer(t *testing.T) {
	rest, _ := rests(t, "surface.bleeds", facts{"surface.dye": "red"})
	assert.Equal(t, "finding", rest.How)
	require.Len(t, rest.Why.RestsOn, 1)
	chart := rest.Why.RestsOn[0]
	assert.Equal(t, []string{"surface.fast", "no", "table"}, []string{chart.Fact, chart.Answer, chart.How})
	assert.Equal(t, []engine.Rest{{Fact: "surface.dye", Answer: "red", How: "answered"}}, chart.Why.RestsOn)
}

func TestAComputedFactIsShownWithItsInputs(t *testing.T) {
	rest, e := rests(t, `sand.verdict == "clear"`, shaved.with(facts{"defect.depth_mm": "0.3 ± 0"}))
	assert.Equal(t, []string{"sand.verdict", "clear", "computed"}, []string{rest.Fact, rest.Answer, rest.How})
	require.NotNil(t, rest.Why)
	inputs := map[string]string{}
	for _, r := range rest.Why.RestsOn {
		inputs[r.Fact] = r.Answer + ", " + r.How
	}
	assert.Equal(t, map[string]string{"surface.layer": "skin, answered", "surface.thin_layer": "yes, finding", "surface.layer_mm": "1 mm, answered",
		"surface.stripped": "yes, answered", "defect.depth_mm": "0.3 mm, answered"}, inputs)
	assert.Equal(t, "yard-code", rest.Why.Sources[0])
	assert.Contains(t, e.Sources, "yard-code")
	require.NotNil(t, e.Repair.Sanding)
	assert.Equal(t, "clear", e.Repair.Sanding.Verdict)
}

func TestAHarmIsShownWithWhatCouldMoveItEvenIfTheRepairIsRuledOut(t *testing.T) {
	splits := harm("splits", "occasional", shifts("raised", "surface.knots", "frequent")+shifts("lowered", "surface.stripped", "remote"))
	e := explained(t, hammered.with(facts{"surface.knots": "no", "surface.screwed": "yes"}), "mend",
		method("mend", own{"never": clauses("surface.screwed"), "harms": "[" + splits + "]"}))
	assert.Equal(t, engine.RuledOut, e.Repair.State)
	require.Len(t, e.Harms, 1)
	assert.Equal(t, "occasional", e.Harms[0].Stated)
	assert.Equal(t, "occasional", e.Harms[0].Level)
	assert.Equal(t, map[string]string{"surface.knots": "false"}, outcomes(e.Harms[0].Raised))
	assert.Equal(t, map[string]string{"surface.stripped": "unknown"}, outcomes(e.Harms[0].Lowered))
	assert.Equal(t, "to frequent: moved by surface.knots", e.Harms[0].Raised[0].Because)
	assert.Equal(t, []string{"surface.stripped"}, e.Harms[0].Lowers)
	assert.Contains(t, e.Sources, "yard-code")
}

func TestTheKindsAMethodTreatsAreShownWithTheirSigns(t *testing.T) {
	kinds := func(given facts) (map[string]bool, *engine.Explanation) {
		e := explained(t, given, "mend", method("mend", own{"treats": "[claw-mark, hammer-mark]"}), rest)
		certain := map[string]bool{}
		for _, k := range e.Kinds {
			certain[k.Kind] = k.Certain
			assert.Len(t, k.Signs, 2)
		}
		return certain, e
	}
	certain, e := kinds(hammered)
	assert.Equal(t, map[string]bool{"claw-mark": false, "hammer-mark": true}, certain)
	assert.True(t, e.Offered)
	assert.Equal(t, "false", e.Kinds[0].Signs[1].Outcome, "it is no claw mark, by its cause")

	certain, e = kinds(facts{"defect.form": "dip"})
	assert.Equal(t, map[string]bool{"claw-mark": false, "hammer-mark": false}, certain)
	assert.True(t, e.Offered)

	certain, e = kinds(facts{"defect.form": "streak"})
	assert.Equal(t, map[string]bool{"claw-mark": false, "hammer-mark": false}, certain)
	assert.False(t, e.Offered)
	assert.NotEqual(t, engine.Ready, e.Repair.State, "what is not offered is not ready")
	assert.Zero(t, e.Repair.Rank)
}

func TestAnExplanationHasTheStepsTheWarningsAndWhoIsCited(t *testing.T) {
	e := explained(t, hammered, "smoke", method("smoke", own{"gives_off": "[fumes]", "steps": "[{do: light it, stop: it burns}, {do: put it out}]"}),
		warning("choke", own{"on": "[fumes]", "signal": "danger", "source": "yard-code"}), warning("cough", own{"on": "[dust]"}), warning("tip", nil))
	assert.Equal(t, []engine.WorkStep{{Do: "light it", Stop: "it burns"}, {Do: "put it out"}}, e.Steps)
	assert.Equal(t, []string{"choke", "tip"}, each(e.Warnings, func(w engine.WarningView) string { return w.Warning }))
	assert.Equal(t, "dint", e.Defect)
	assert.Equal(t, "deck", e.On)
	assert.Equal(t, map[string]engine.Cited{"yard-code": {Kind: "standard", Title: "The yard code", Where: "http://yard.example/code"},
		"bench-note": {Kind: "guide", Title: "A note from the bench"}}, e.Sources, "nobody else is cited")
}

func TestAnUnknownMethodOrMarkIsAnErrorThatNamesTheNearest(t *testing.T) {
	book := load(t, workshop...)
	for _, c := range []struct{ mark, method, want string }{
		{"dint", "coaxe", `there is no method "coaxe" (did you mean "coax"?)`},
		{"dint", "incantation", `there is no method "incantation"`},
		{"din", "coax", `the job has no defect "din" (did you mean "dint"?); its defects are dint`},
		{"elsewhere", "coax", `the job has no defect "elsewhere"; its defects are dint`},
	} {
		e, err := engine.Explain(book, tables(), job(t, book, hammered), c.mark, c.method)
		assert.Nil(t, e)
		assert.EqualError(t, err, c.want)
	}
}

// TestAnExplanationNeverDiffersFromTheTriage explains every repair of random jobs.
func TestAnExplanationNeverDiffersFromTheTriage(t *testing.T) {
	book := load(t, workshop...)
	r := seed()
	states := map[engine.State]int{}
	for range 200 {
		j := anyJob(t, r, book)
		a, err := engine.Triage(book, tables(), j)
		require.NoError(t, err)
		for _, d := range a.Defects {
			for _, triaged := range d.Repairs {
				e, err := engine.Explain(book, tables(), j, d.ID, triaged.Method)
				require.NoError(t, err)
				require.Equal(t, triaged, e.Repair)
				require.True(t, e.Offered)
				states[triaged.State]++
				for rule, outcome := range outcomes(e.Suits) {
					require.True(t, triaged.State != engine.Ready || outcome == "true", "%s is ready, and %s is %s", triaged.Method, rule, outcome)
				}
				for rule, outcome := range outcomes(e.Never) {
					require.True(t, triaged.State != engine.Ready || outcome == "false", "%s is ready, and %s is %s", triaged.Method, rule, outcome)
				}
			}
		}
	}
	for _, s := range []engine.State{engine.Ready, engine.NeedsAnswer, engine.RuledOut} {
		assert.Greater(t, states[s], 20, "the jobs see repairs that are %s", s)
	}
}
