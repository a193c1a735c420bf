package engine_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine"
)

func TestARepairIsReadyOnlyWithACertainKindEverySuitTrueAndEveryNeverFalse(t *testing.T) {
	book := load(t, method("mend", own{"treats": "[hammer-mark]",
		"suits": clauses("surface.stripped", "shop.tongs"), "never": clauses("surface.screwed", "surface.knots")}), rest)
	kinds := map[string]facts{"certain": hammered, "possible": {"defect.form": "dip"}, "none": {"defect.form": "dip", "defect.cause": "claw"}}
	for certainty, kind := range kinds {
		for _, suits := range []string{"yes", "no", "cannot tell"} {
			for _, never := range []string{"yes", "no", "cannot tell"} {
				_, d := triage(t, book, kind.with(facts{"shop.tongs": "yes", "surface.screwed": "no", "surface.stripped": suits, "surface.knots": never}))
				if certainty == "none" {
					assert.Equal(t, []string{"rest"}, methodsOf(d), "it is not offered for a mark of another kind")
					continue
				}
				want := engine.NeedsAnswer
				switch {
				case suits == "no" || never == "yes":
					want = engine.RuledOut
				case certainty == "certain" && suits == "yes" && never == "no":
					want = engine.Ready
				}
				assert.Equal(t, want, repair(t, d, "mend").State, "kind %s, suits %s, never %s", certainty, suits, never)
			}
		}
	}
}

func TestWhatIsMissingIsGivenAsFactsThatCanBeAsked(t *testing.T) {
	for _, c := range []struct {
		that, suits string
		given       facts
		missing     []string
	}{
		{"an answerable fact stands for itself", "surface.stripped", nil, []string{"surface.stripped"}},
		{"both sides of a conjunction are missing", `shop.tongs && surface.layer == "skin"`, nil, []string{"shop.tongs", "surface.layer"}},
		{"a side that is known is not missing", `shop.tongs && surface.layer == "skin"`, facts{"shop.tongs": "yes"}, []string{"surface.layer"}},
		{"a fact that only a finding gives stands for what the finding reads", "surface.thin_layer", nil, []string{"surface.layer"}},
		{"a fact of a table stands for the fact that chooses the row", "surface.fast", nil, []string{"surface.dye"}},
		{"a finding on a fact of a table leads to the fact that chooses the row", "surface.bleeds", nil, []string{"surface.dye"}},
		{"a fact that is both asked and found stands for itself", `surface.binding == "resin"`, nil, []string{"surface.binding"}},
		{"a fact nobody can tell falls back on the finding's first open branch", `surface.binding == "resin"`,
			facts{"surface.binding": "cannot tell"}, []string{"surface.drop_test"}},
		{"branches that are false are passed over", `surface.binding == "resin"`,
			facts{"surface.binding": "cannot tell", "surface.drop_test": "beads"}, []string{"surface.scratch_test"}},
		{"what nobody can tell and nothing derives is not asked again", "surface.stripped", facts{"surface.stripped": "cannot tell"}, []string{}},
		{"nor is what a finding rests on, once nobody can tell that", `surface.binding == "resin"`,
			facts{"surface.binding": "cannot tell", "surface.drop_test": "cannot tell"}, []string{}},
		{"nor the fact that chooses the row of a table", "surface.bleeds", facts{"surface.dye": "cannot tell"}, []string{}},
		{"a fact that does not apply is not asked", "surface.knots", facts{"surface.layer": "skin"}, []string{}},
		{"a fact that applies is", "surface.knots", facts{"surface.layer": "plank"}, []string{"surface.knots"}},
		{"before one that may apply, what decides whether it does", "surface.knots", nil, []string{"surface.layer"}},
		{"unless nobody can tell that", "surface.knots", facts{"surface.layer": "cannot tell"}, []string{"surface.knots"}},
		{"a quantity that is not known is asked", "defect.depth_mm < 0.5", nil, []string{"defect.depth_mm"}},
		{"and one known too roughly is asked again", "defect.depth_mm < 0.5", facts{"defect.depth_mm": "0.4 to 0.6 mm"}, []string{"defect.depth_mm"}},
	} {
		r := judged(t, own{"suits": clauses(c.suits)}, hammered.with(c.given))
		assert.Equal(t, engine.NeedsAnswer, r.State, c.that)
		assert.Equal(t, c.missing, r.Missing, c.that)
		assert.Equal(t, []string{c.suits}, each(r.Open, rulesOf), c.that)
		assert.Empty(t, r.Because, c.that)
	}
}

func rulesOf(r engine.Reason) string { return r.Rule }

func TestARepairForAKindThatIsOnlyPossibleWaitsForItsSigns(t *testing.T) {
	r := judged(t, own{"treats": "[hammer-mark]", "suits": clauses("surface.stripped")}, facts{"defect.form": "dip", "surface.stripped": "yes"})
	assert.Equal(t, engine.NeedsAnswer, r.State)
	assert.Equal(t, []string{"defect.cause"}, r.Missing)
	assert.Equal(t, []string{"hammer-mark"}, r.For)

	r = judged(t, own{"treats": "[hammer-mark, claw-mark]"}, facts{"defect.form": "dip"})
	assert.Equal(t, engine.NeedsAnswer, r.State, "that it treats every kind the mark may be does not make one of them certain")
	assert.Equal(t, []string{"claw-mark", "hammer-mark"}, r.For)
}

func TestARepairIsRuledOutWithEveryReasonThatStandsAgainstIt(t *testing.T) {
	r := judged(t, own{
		"suits": clauses("surface.stripped", `surface.layer == "skin"`, "shop.tongs"),
		"never": clauses("surface.screwed", "surface.bleeds", `surface.binding == "paste"`),
		"harms": "[" + harm("splits", "occasional", "") + "]",
	}, hammered.with(facts{"surface.stripped": "no", "surface.layer": "plank", "shop.tongs": "yes", "surface.screwed": "no", "surface.dye": "red"}))

	assert.Equal(t, engine.RuledOut, r.State)
	assert.Equal(t, []string{"surface.stripped", `surface.layer == "skin"`, "surface.bleeds"}, each(r.Because, rulesOf),
		"not what is met, and not what is open")
	assert.Equal(t, []string{"false", "false", "true"}, each(r.Because, func(r engine.Reason) string { return r.Outcome }))
	assert.Empty(t, r.Open)
	assert.Empty(t, r.Missing, "no answer is worth waiting for")
	assert.Zero(t, r.Rank)
	assert.Empty(t, r.Harms)
	assert.Empty(t, r.Risk)
}

func TestARepairThatIsRuledOutStaysSoWhateverElseIsOpen(t *testing.T) {
	r := judged(t, own{"treats": "[hammer-mark]", "suits": clauses("surface.stripped", "shop.tongs")}, facts{"defect.form": "dip", "surface.stripped": "no"})
	assert.Equal(t, engine.RuledOut, r.State)
	assert.Equal(t, []string{"surface.stripped"}, each(r.Because, rulesOf))
}

func TestARepairThatOnlyTheShopStandsAgainstSaysSo(t *testing.T) {
	set := own{"suits": clauses("shop.tongs"), "never": clauses("shop.warmth_c < 5.0", "surface.bleeds")}
	cold := hammered.with(facts{"shop.tongs": "no", "shop.warmth_c": "-3"})
	assert.True(t, judged(t, set, cold.with(facts{"surface.dye": "blue"})).ShopOnly)
	assert.True(t, judged(t, set, cold).ShopOnly, "what is open does not stand against it")
	assert.False(t, judged(t, set, cold.with(facts{"surface.dye": "red"})).ShopOnly)
	assert.False(t, judged(t, set, hammered.with(facts{"shop.tongs": "yes", "shop.warmth_c": "20", "surface.dye": "blue"})).ShopOnly, "it is ready")
}

func TestAReadyRepairSaysWhatSpeaksForIt(t *testing.T) {
	r := judged(t, own{"suits": clauses("surface.stripped", "shop.tongs"), "never": clauses("surface.screwed")},
		hammered.with(facts{"surface.stripped": "yes", "shop.tongs": "yes", "surface.screwed": "no"}))
	assert.Equal(t, engine.Ready, r.State)
	assert.Equal(t, []string{"surface.stripped", "shop.tongs"}, each(r.Because, rulesOf))
	assert.Equal(t, []string{"true", "true"}, each(r.Because, func(r engine.Reason) string { return r.Outcome }))
	assert.Empty(t, r.Missing)
	assert.Empty(t, r.Open)
	assert.Equal(t, 1, r.Rank)
}

func TestNothingIsOfferedForAMarkOfNoKind(t *testing.T) {
	book := load(t, method("mend", nil), files{"defects/streak.yaml": defect("streak", "Streak", clauses(`defect.form == "streak"`, "defect.fresh"))})
	a, d := triage(t, book, facts{"defect.form": "streak", "defect.fresh": "no"})
	assert.Empty(t, d.Kinds)
	assert.Empty(t, d.Leave)
	assert.Empty(t, d.Repairs)
	assert.Empty(t, d.Ladder)
	assert.Empty(t, d.Questions)
	assert.Empty(t, a.Warnings)
}

func TestKindsAreCertainOrPossibleAndCertainOnesComeFirst(t *testing.T) {
	kinds := func(given facts) map[string]bool {
		_, d := triage(t, load(t, method("mend", nil)), given)
		out := map[string]bool{}
		for _, k := range d.Kinds {
			out[k.Kind] = k.Certain
		}
		assert.Len(t, d.Leave, len(d.Kinds), "each kind says what comes of leaving it")
		return out
	}
	assert.Equal(t, map[string]bool{"claw-mark": false, "hammer-mark": false, "streak": false}, kinds(nil))
	assert.Equal(t, map[string]bool{"claw-mark": false, "hammer-mark": false}, kinds(facts{"defect.form": "dip"}))
	assert.Equal(t, map[string]bool{"hammer-mark": true}, kinds(hammered))
	assert.Equal(t, map[string]bool{"streak": true}, kinds(facts{"defect.form": "streak", "defect.cause": "claw"}))

	book := load(t, method("mend", own{"treats": "[any-dip, claw-mark, hammer-mark, streak, whole-dip]"}),
		files{"defects/any-dip.yaml": defect("any-dip", "Any dip", clauses("defect.fresh")),
			"defects/whole-dip.yaml": defect("whole-dip", "Whole dip", clauses(`defect.form == "dip"`))})
	_, d := triage(t, book, facts{"defect.form": "dip"})
	assert.Equal(t, []string{"whole-dip", "any-dip", "claw-mark", "hammer-mark"}, each(d.Kinds, func(k engine.KindView) string { return k.Kind }))
}

func TestAClosedQuestionIsNotAskedAndARoughOneIsAskedMoreClosely(t *testing.T) {
	book := load(t, method("mend", own{"suits": clauses("surface.stripped", "defect.depth_mm < 0.5", "surface.layer_mm > 3.0")}))
	_, d := triage(t, book, hammered.with(facts{"surface.stripped": "cannot tell", "defect.depth_mm": "0.5"}))
	require.Equal(t, []string{"defect.depth_mm", "surface.layer_mm"}, each(d.Questions, func(q engine.Question) string { return q.Fact }))
	assert.True(t, d.Questions[0].Closer, "0.5 without a spread is 0.45 to 0.55, on both sides of the number")
	assert.False(t, d.Questions[1].Closer, "nobody has measured it at all")
	assert.Equal(t, []string{"Do mend"}, d.Questions[0].Decides)
	assert.Equal(t, "mm", d.Questions[0].Unit)
}

func TestQuestionsSettleTheKindFirstThenTheBestRepairThenTheOthers(t *testing.T) {
	book := load(t,
		method("best", own{"suits": clauses("shop.tongs", "shop.warmth_c > 5.0"), "minutes": "[1, 2, 3]"}),
		method("other", own{"suits": clauses("surface.stripped", `surface.drop_test == "beads"`), "minutes": "[5, 6, 7]"}),
		method("hopeless", own{"suits": clauses("surface.screwed", "surface.knots")}))
	_, d := triage(t, book, facts{"defect.form": "dip", "surface.screwed": "no"})
	assert.Equal(t, []string{"defect.cause", "shop.tongs", "shop.warmth_c", "surface.stripped", "surface.drop_test"},
		each(d.Questions, func(q engine.Question) string { return q.Fact }),
		"within one rank what costs least comes first; a repair that is ruled out asks nothing")
	assert.Equal(t, []string{"yes", "no"}, each(d.Questions[1].Answers, func(o engine.Option) string { return o.ID }))
	assert.Equal(t, "A wet spot.", d.Questions[4].Harms)
}

func TestOfTwoQuestionsThatCostTheSameTheOneThatDecidesMoreComesFirst(t *testing.T) {
	book := load(t, method("anvil", own{"suits": clauses("shop.tongs")}), method("bellows", own{"suits": clauses("surface.screwed")}),
		method("chisel", own{"suits": clauses("surface.stripped")}), method("drill", own{"suits": clauses("surface.stripped")}))
	_, d := triage(t, book, hammered)
	assert.Equal(t, []string{"shop.tongs", "surface.stripped", "surface.screwed"}, each(d.Questions, func(q engine.Question) string { return q.Fact }))
	assert.Equal(t, []string{"Do chisel", "Do drill"}, d.Questions[1].Decides)
}

func TestOnceARepairIsReadyItIsFirstAskedWhetherItIsADanger(t *testing.T) {
	mend := method("mend", own{"gives_off": "[dust]", "harms": "[" + harm("splits", "occasional", shifts("lowered", "surface.stripped", "remote")) + "]"})
	asked := func(signal, when string) []string {
		_, d := triage(t, load(t, mend, warning("old-paint", own{"signal": signal, "on": "[dust]", "when": when})), hammered)
		require.Equal(t, engine.Ready, repair(t, d, "mend").State)
		return each(d.Questions, func(q engine.Question) string { return fmt.Sprint(q.Fact, " ", q.Guard) })
	}
	assert.Equal(t, []string{"surface.screwed true", "surface.stripped false"}, asked("danger", "surface.screwed"))
	assert.Equal(t, []string{"surface.stripped false", "surface.screwed false"}, asked("notice", "surface.screwed"), "a notice waits its turn")
	assert.Equal(t, []string{"surface.stripped false", "shop.tongs false"}, asked("danger", "shop.tongs"), "what is at hand can be put right at any time")
}

func TestASpotTestIsOfferedOnlyWhereWhatIsMilderCannotTell(t *testing.T) {
	book := load(t, method("mend", own{"suits": clauses(`surface.binding == "paste"`)}), rest)
	first := func(given facts) string {
		_, d := triage(t, book, given)
		require.NotEmpty(t, d.Questions)
		return d.Questions[0].Fact
	}
	assert.Equal(t, "surface.binding", first(hammered), "ask what binds it")
	assert.Equal(t, "surface.drop_test", first(hammered.with(facts{"surface.binding": "cannot tell"})), "and try a drop only if nobody can tell")
}

func TestWhatCouldLowerTheRiskOfTheBestRepairIsAskedUnlessItIsLowAlready(t *testing.T) {
	splits := harm("splits", "occasional", shifts("lowered", "surface.stripped", "remote"))
	asked := func(methods ...files) []string {
		_, d := triage(t, load(t, methods...), hammered)
		return each(d.Questions, func(q engine.Question) string { return q.Fact + " for " + q.Decides[0] })
	}
	assert.Equal(t, []string{"surface.stripped for the risk that it splits"}, asked(method("mend", own{"harms": "[" + splits + "]"})))
	assert.Empty(t, asked(method("mend", own{"harms": "[" + strings.Replace(splits, "critical", "negligible", 1) + "]"})))
	assert.Empty(t, asked(method("mend", own{"harms": "[" + splits + "]"}), method("anvil", nil)), "the best repair risks nothing")
}

func TestAnAnswerCitesTheClausesThatAreMetOpenOrAgainstIt(t *testing.T) {
	for stripped, state := range map[string]engine.State{"yes": engine.Ready, "no": engine.RuledOut, "cannot tell": engine.NeedsAnswer} {
		a, d := triage(t, load(t, method("mend", own{"suits": "[{when: surface.stripped, because: so the code says, source: yard-code}]"})),
			hammered.with(facts{"surface.stripped": stripped}))
		require.Equal(t, state, repair(t, d, "mend").State)
		assert.Equal(t, "The yard code", a.Sources["yard-code"].Title, state)
	}
}

func TestNoMoreThanSixQuestionsAreAsked(t *testing.T) {
	book := load(t, method("mend", own{"suits": clauses("shop.tongs", "shop.goggles", "surface.stripped", "surface.screwed",
		"surface.knots", "surface.bleeds", "defect.depth_mm < 1.0", "defect.fresh")}))
	_, d := triage(t, book, hammered)
	assert.Len(t, d.Questions, 6)
	assert.Len(t, repair(t, d, "mend").Missing, 8, "the repair still lists all that it waits for")
}
