package engine_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine"
	"mendwright/rules"
)

// run runs the mutants of the rule called id.
func run(t *testing.T, book *rules.Book, id string) *engine.MutantRun {
	t.Helper()
	i := slices.IndexFunc(book.Rules(), func(r rules.Rule) bool { return r.ID() == id })
	require.GreaterOrEqual(t, i, 0)
	return engine.RunMutants(book, tables(), book.Rules()[i:i+1])
}

func survivors(run *engine.MutantRun) []string {
	out := []string{}
	for _, s := range run.Survived {
		out = append(out, s.Mutant.Change)
	}
	return out
}

// dips treats the marks that these tests do not.
var dips = method("dips", own{"treats": "[hammer-mark, claw-mark]"})

const aStreak = "defect.form: streak"

// pitch is a method with a ban and a harm, and these cases beside it.
func pitch(cases string, more own) files {
	keys := own{"treats": "[streak]", "never": clauses(`surface.layer == "crust"`), "cases": cases,
		"harms": `[{harm: burn, what: it burns, to: person, severity: marginal, probability: remote,
  raised: [{when: '!shop.tongs', to: occasional, because: bare hands}], source: bench-note}]`}
	for k, v := range more {
		keys[k] = v
	}
	return method("pitch", keys)
}

const (
	onPlanks = "{that: on planks, given: {" + aStreak + ", surface.layer: plank, shop.tongs: yes}, then: ready, harms: {burn: marginal remote}}"
	onASkin  = "{that: on a skin, given: {" + aStreak + ", surface.layer: skin, shop.tongs: no}, then: ready, harms: {burn: occasional}}"
	onACrust = "{that: on a crust, given: {" + aStreak + ", surface.layer: crust}, then: ruled_out}"
	onNoIdea = "{that: on who knows, given: {" + aStreak + "}, then: needs_answer}"
)

func TestEnoughCasesCatchEveryMutant(t *testing.T) {
	got := run(t, load(t, dips, pitch("["+onPlanks+", "+onASkin+", "+onACrust+", "+onNoIdea+"]", nil)), "pitch")
	assert.Empty(t, survivors(got))
	assert.Empty(t, got.Mistakes)
	assert.Equal(t, got.Mutants, got.Caught)
	assert.Equal(t, 100, got.Of100)
	// never: dropped, denied, another layer; burn: two severities, two levels less the one that its raise
	// would no longer raise, the raise dropped, denied and one worse.
	assert.Equal(t, 3+2+1+3, got.Mutants)
}

func TestWhatNoCaseStatesSurvives(t *testing.T) {
	for what, c := range map[string]struct {
		cases string
		want  []string
	}{
		"nobody is ruled out": {"[" + onPlanks + ", " + onASkin + "]", []string{`never: surface.layer == "crust" is dropped`}},
		"no severity": {`[{that: on planks, given: {` + aStreak + `, surface.layer: plank, shop.tongs: yes}, then: ready, harms: {burn: remote}}, ` + onASkin + ", " + onACrust + "]",
			[]string{"harm burn: marginal becomes critical", "harm burn: marginal becomes negligible"}},
		"no bare hands": {"[" + onPlanks + ", {that: on a skin, given: {" + aStreak + ", surface.layer: skin}, then: ready}, " + onACrust + "]",
			[]string{"harm burn: raised when !shop.tongs is dropped", "harm burn: raised when !shop.tongs to occasional becomes probable"}},
	} {
		assert.Equal(t, c.want, survivors(run(t, load(t, dips, pitch(c.cases, nil)), "pitch")), what)
	}
}

func TestASurvivorMayBeExplained(t *testing.T) {
	cases := "[" + onPlanks + ", " + onASkin + "]"
	explain := func(change string) own {
		return own{"survives": "[{change: '" + change + "', because: nobody pitches a crust}]"}
	}
	got := run(t, load(t, dips, pitch(cases, explain(`never: surface.layer == "crust" is dropped`))), "pitch")
	require.Len(t, got.Survived, 1)
	assert.Equal(t, "nobody pitches a crust", got.Survived[0].Because)
	assert.Less(t, got.Of100, 100, "it is not caught for all that")
	assert.Empty(t, got.Mistakes)

	got = run(t, load(t, dips, pitch(cases, explain(`never: surface.layer == "crust" becomes surface.layer != "crust"`))), "pitch")
	require.Len(t, got.Mistakes, 1)
	assert.Contains(t, got.Mistakes[0].Says, "a case catches this change")
	got = run(t, load(t, dips, pitch(cases, explain(`never: surface.layer == "crust" is droped`))), "pitch")
	require.Len(t, got.Mistakes, 1)
	assert.Contains(t, got.Mistakes[0].Says, `there is no such change of this rule (did you mean "never: surface.layer == \"crust\" is dropped"?)`)
}

func TestACaseOfAnotherRuleCatchesToo(t *testing.T) {
	// The case of the method sees what the finding makes of a sharp rim, and which mark it is.
	book := load(t, dips, method("fresh-only", own{"treats": "[streak]", "suits": clauses("defect.fresh"),
		"cases": "[{that: sharp, given: {" + aStreak + ", defect.rim: sharp}, then: ready}, {that: a dip, given: {defect.form: dip}, then: not_offered}]"}))
	assert.NotContains(t, survivors(run(t, book, "fresh")), `branch: defect.rim == "sharp" gives no in place of yes`)
	assert.Contains(t, survivors(run(t, book, "fresh")), `branch: defect.rim == "worn" gives yes in place of no`)
	assert.NotContains(t, survivors(run(t, book, "streak")), `sign: defect.form == "streak" is dropped`)
	assert.NotContains(t, survivors(run(t, book, "fresh")), `branch: defect.rim == "worn" comes before the one above it`, "only one of the two can be true")
}

func TestWarningsAreTriedBySignalAndEmission(t *testing.T) {
	glue, saw := method("glue", own{"gives_off": "[fumes]"}), method("saw", own{"gives_off": "[fumes, dust]"})
	warn := func(cases string) *engine.MutantRun {
		return run(t, load(t, glue, saw, warning("mind", own{"signal": "warning", "on": "[fumes, dust]", "when": "'!shop.goggles'", "cases": cases})), "mind")
	}
	assert.Equal(t, []string{"signal: warning becomes danger", "signal: warning becomes caution", "on: fumes is dropped"},
		survivors(warn("[{that: bare eyes, method: saw, given: {shop.goggles: no}, then: warned}, {that: goggles, method: saw, given: {shop.goggles: yes}, then: silent}]")))
	got := warn("[{that: bare eyes, method: glue, given: {shop.goggles: no}, then: warning}, {that: goggles, method: saw, given: {shop.goggles: yes}, then: silent}]")
	assert.Empty(t, survivors(got))
	assert.Equal(t, 1, got.Same, "nothing gives off dust and no fumes")
}

func TestACaseThatStatesASeverityOrASignalIsHeldToIt(t *testing.T) {
	book := load(t, method("glue", own{"gives_off": "[fumes]"}),
		warning("mind", own{"on": "[fumes]", "cases": "[{that: it is a notice, method: glue, given: {}, then: danger}]"}),
		pitch("[{that: burns, given: {"+aStreak+", surface.layer: plank, shop.tongs: yes}, then: ready, harms: {burn: critical remote}}]", nil))
	var says []string
	for _, e := range engine.CheckCases(book, tables()) {
		says = append(says, e.Msg)
	}
	assert.Contains(t, says, `the case "it is a notice" says danger, the rule is notice`)
	assert.Contains(t, says, `the case "burns" says that burn is critical remote, the rules give marginal remote`)
}
