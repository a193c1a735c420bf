package engine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine"
)

func warningIDs(a *engine.Answer) []string {
	return each(a.Warnings, func(w engine.WarningView) string { return w.Warning })
}

// warned are the warnings of a job with one mark.
func warned(t *testing.T, given facts, rules ...files) []engine.WarningView {
	t.Helper()
	a, _ := triage(t, load(t, append(rules, rest)...), given)
	return a.Warnings
}

func TestAWarningActsUnlessItsConditionIsFalse(t *testing.T) {
	smokes := method("smoke", own{"treats": "[hammer-mark]", "gives_off": "[fumes]"})
	choke := warning("choke", own{"on": "[fumes]", "when": "surface.bleeds", "signal": "warning", "text": "It chokes.", "wear": "[a mask]", "if_wrong": "Go out.", "source": "yard-code"})

	view := engine.WarningView{Warning: "choke", Signal: "warning", Text: "It chokes.", Wear: []string{"a mask"}, IfWrong: "Go out.",
		Certain: true, Defects: []string{"dint"}, Methods: []string{"smoke"}, Sources: []string{"yard-code"}}
	assert.Equal(t, []engine.WarningView{view}, warned(t, hammered.with(facts{"surface.dye": "red"}), smokes, choke))

	view.Certain, view.Missing = false, []string{"surface.dye"}
	assert.Equal(t, []engine.WarningView{view}, warned(t, hammered, smokes, choke), "an unknown condition acts, and says what could lift it")

	view.Missing = nil
	assert.Equal(t, []engine.WarningView{view}, warned(t, hammered.with(facts{"surface.dye": "cannot tell"}), smokes, choke), "what nobody can tell is not asked again")

	assert.Empty(t, warned(t, hammered.with(facts{"surface.dye": "blue"}), smokes, choke))
}

func TestAWarningWithoutAConditionIsCertain(t *testing.T) {
	w := warned(t, hammered, method("smoke", own{"gives_off": "[fumes]"}), warning("choke", own{"on": "[fumes]"}))
	require.Len(t, w, 1)
	assert.True(t, w[0].Certain)
	assert.Empty(t, w[0].Missing)
}

func TestAWarningIsTiedToWhatTheRepairsThatAreNotRuledOutGiveOff(t *testing.T) {
	all := []files{
		method("smoke", own{"gives_off": "[fumes, dust]", "suits": clauses("surface.stripped")}),
		method("strike", own{"gives_off": "[sparks, dust]", "never": clauses("surface.screwed")}),
		warning("choke", own{"on": "[fumes]"}), warning("burn", own{"on": "[sparks]"}), warning("cough", own{"on": "[dust, fumes]"}),
	}
	for _, c := range []struct {
		that  string
		given facts
		want  map[string][]string
	}{
		{"both are ready", facts{"surface.stripped": "yes", "surface.screwed": "no"},
			map[string][]string{"choke": {"smoke"}, "burn": {"strike"}, "cough": {"smoke", "strike"}}},
		{"both need an answer", nil, map[string][]string{"choke": {"smoke"}, "burn": {"strike"}, "cough": {"smoke", "strike"}}},
		{"smoke is ruled out", facts{"surface.stripped": "no"}, map[string][]string{"burn": {"strike"}, "cough": {"strike"}}},
		{"strike is ruled out", facts{"surface.screwed": "yes"}, map[string][]string{"choke": {"smoke"}, "cough": {"smoke"}}},
		{"both are ruled out", facts{"surface.stripped": "no", "surface.screwed": "yes"}, map[string][]string{}},
	} {
		got := map[string][]string{}
		for _, w := range warned(t, hammered.with(c.given), all...) {
			got[w.Warning] = w.Methods
		}
		assert.Equal(t, c.want, got, c.that)
	}
}

func TestAMethodThatIsNotOfferedWarnsOfNothing(t *testing.T) {
	smokes := method("smoke", own{"treats": "[hammer-mark]", "gives_off": "[fumes]"})
	choke := warning("choke", own{"on": "[fumes]"})
	assert.Empty(t, warned(t, facts{"defect.form": "streak"}, smokes, choke))
	assert.Len(t, warned(t, facts{"defect.form": "dip"}, smokes, choke), 1, "it may be a hammer mark")
}

func TestAWarningTiedToNoEmissionHoldsForTheMarkWhateverIsDone(t *testing.T) {
	hopeless := method("mend", own{"treats": "[hammer-mark]", "never": clauses("surface.stripped")})
	tip := warning("tip", own{"when": `defect.form == "dip"`})
	for _, given := range []facts{hammered, hammered.with(facts{"surface.stripped": "yes"}), {"defect.form": "dip"}} {
		w := warned(t, given, hopeless, tip)
		require.Len(t, w, 1, "%v", given)
		assert.True(t, w[0].Certain)
		assert.Equal(t, []string{"dint"}, w[0].Defects)
		assert.Empty(t, w[0].Methods)
	}
	assert.Empty(t, warned(t, facts{"defect.form": "streak"}, hopeless, tip))
	assert.Equal(t, []string{"defect.form"}, warned(t, nil, hopeless, tip)[0].Missing)
}

func TestTheGravestSignalWordComesFirstAndWithinOneTheIDDecides(t *testing.T) {
	a, _ := triage(t, load(t, method("mend", nil),
		warning("anvil", own{"signal": "notice"}), warning("bellows", own{"signal": "caution"}), warning("chisel", own{"signal": "danger"}),
		warning("drill", own{"signal": "warning"}), warning("edger", own{"signal": "danger"}), warning("file", own{"signal": "caution"})), hammered)
	assert.Equal(t, []string{"chisel", "edger", "drill", "bellows", "file", "anvil"}, warningIDs(a))
}

func TestAWarningOfSeveralMarksIsCertainIfItIsForOneOfThem(t *testing.T) {
	book := load(t, method("smoke", own{"gives_off": "[fumes]"}), method("fume", own{"gives_off": "[fumes]"}),
		warning("choke", own{"on": "[fumes]", "when": `defect.fresh || surface.binding == "paste"`}))
	mark := func(id, fresh string) *engine.Mark {
		return &engine.Mark{ID: id, On: "deck", Subject: subject(t, book, "defect", hammered.with(facts{"defect.fresh": fresh}))}
	}
	warn := func(marks ...*engine.Mark) engine.WarningView {
		a, err := engine.Triage(book, tables(), &engine.Job{Surfaces: map[string]*engine.Surface{"deck": {}}, Defects: marks})
		require.NoError(t, err)
		require.Len(t, a.Warnings, 1)
		return a.Warnings[0]
	}
	open := &engine.Mark{ID: "c", On: "deck", Subject: subject(t, book, "defect", hammered)}

	w := warn(mark("b", "no"), open)
	assert.False(t, w.Certain)
	assert.Equal(t, []string{"defect.fresh", "surface.binding"}, w.Missing, "each fact once")
	assert.Equal(t, []string{"b", "c"}, w.Defects)
	assert.Equal(t, []string{"fume", "smoke"}, w.Methods)

	w = warn(mark("b", "no"), open, mark("a", "yes"))
	assert.True(t, w.Certain)
	assert.Empty(t, w.Missing, "no answer lifts it")
	assert.Equal(t, []string{"a", "b", "c"}, w.Defects)
}

func TestAWarningCitesItsSources(t *testing.T) {
	a, _ := triage(t, load(t, method("mend", nil), warning("tip", own{"source": "yard-code"})), hammered)
	assert.Equal(t, engine.Cited{Kind: "standard", Title: "The yard code", Where: "http://yard.example/code"}, a.Sources["yard-code"])
	a, _ = triage(t, load(t, method("mend", nil), warning("tip", own{"source": "yard-code", "when": "surface.stripped"})), hammered.with(facts{"surface.stripped": "no"}))
	assert.NotContains(t, a.Sources, "yard-code", "it is silent")
}
