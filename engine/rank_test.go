package engine_test

import (
	"maps"
	"testing"

	"github.com/stretchr/testify/assert"

	"mendwright/engine"
)

// ordering are the criteria of the ranking, the first to decide first: what is better and what is
// worse by each. The keys worst and next are put together to the harms of a method.
var ordering = []struct {
	name          string
	better, worse own
}{
	{"state", own{"suits": "[]"}, own{"suits": clauses("shop.goggles")}},
	{"aim", own{"achieves": "restores"}, own{"achieves": "hides"}},
	{"worst risk", own{"worst": "occasional"}, own{"worst": "probable"}},
	{"next worst risk", own{"next": "improbable"}, own{"next": "occasional"}},
	{"wood removed", own{"takes": "{wood_mm: [0.1, 0.2]}"}, own{"takes": "{wood_mm: [0, 0.3]}"}},
	{"undo", own{"undo": "partly"}, own{"undo": "no"}},
	{"minutes", own{"minutes": "[4, 5, 60]"}, own{"minutes": "[0, 6, 6]"}},
	{"id", own{"id": "anvil"}, own{"id": "bellows"}},
}

// rival is a method that is better or worse by each criterion, as better says.
func rival(better func(criterion int) bool) (string, files) {
	set := own{}
	for i, c := range ordering {
		if better(i) {
			maps.Copy(set, c.better)
		} else {
			maps.Copy(set, c.worse)
		}
	}
	id := set["id"]
	set["harms"] = "[" + harm("splits", set["worst"], "") + "," + harm("warps", set["next"], "") + "]"
	for _, k := range []string{"id", "worst", "next"} {
		delete(set, k)
	}
	return id, method(id, set)
}

var wantsAsNew = hammered.with(facts{"piece.aim": "as-new"})

func TestEachCriterionDecidesWhereAllBeforeItTieWhateverTheLaterOnesSay(t *testing.T) {
	for i, c := range ordering {
		winner, first := rival(func(j int) bool { return j <= i })
		loser, second := rival(func(j int) bool { return j != i })
		_, d := triage(t, load(t, first, second), wantsAsNew)
		assert.Equal(t, []string{winner, loser}, methodsOf(d), c.name)
		assert.Equal(t, []int{1, 2}, each(d.Repairs, func(r engine.Repair) int { return r.Rank }), c.name)
	}
}

// ranked are methods in the order in which they come out.
func ranked(t *testing.T, given facts, methods ...files) []string {
	t.Helper()
	_, d := triage(t, load(t, methods...), given)
	return methodsOf(d)
}

func TestReadyComesBeforeNeedsAnAnswerAndThatBeforeRuledOut(t *testing.T) {
	_, d := triage(t, load(t,
		method("anvil", own{"never": clauses("shop.tongs")}),
		method("bellows", own{"suits": clauses("shop.goggles")}),
		method("chisel", own{"suits": clauses("shop.tongs")})), hammered.with(facts{"shop.tongs": "yes"}))
	assert.Equal(t, []string{"chisel", "bellows", "anvil"}, methodsOf(d))
	assert.Equal(t, []engine.State{engine.Ready, engine.NeedsAnswer, engine.RuledOut}, each(d.Repairs, func(r engine.Repair) engine.State { return r.State }))
	assert.Equal(t, []int{1, 2, 0}, each(d.Repairs, func(r engine.Repair) int { return r.Rank }), "what is ruled out has no rank")
}

func TestTheAimSortsOnlyByWhetherItIsMet(t *testing.T) {
	hides, reduces := method("anvil", own{"achieves": "hides"}), method("bellows", own{"achieves": "reduces"})
	restores, holds := method("chisel", own{"achieves": "restores"}), method("drill", own{"achieves": "holds"})
	all := []files{hides, reduces, restores, holds}
	assert.Equal(t, []string{"chisel", "anvil", "bellows", "drill"}, ranked(t, wantsAsNew, all...))
	assert.Equal(t, []string{"anvil", "bellows", "chisel", "drill"}, ranked(t, hammered.with(facts{"piece.aim": "fit-to-see"}), all...))
	assert.Equal(t, []string{"anvil", "bellows", "chisel", "drill"}, ranked(t, hammered, all...), "nobody has named an aim")
}

func TestWhatOnlyHoldsComesLastUnlessThatIsAllThatIsWanted(t *testing.T) {
	all := []files{method("anvil", own{"achieves": "holds"}), method("bellows", own{"achieves": "hides"})}
	mends := func(given facts) []bool {
		_, d := triage(t, load(t, all...), given)
		return each(d.Repairs, func(r engine.Repair) bool { return r.Mends() })
	}
	assert.Equal(t, []string{"bellows", "anvil"}, ranked(t, hammered, all...), "nobody has named an aim")
	assert.Equal(t, []bool{true, false}, mends(hammered))
	assert.Equal(t, []string{"bellows", "anvil"}, ranked(t, wantsAsNew, all...))
	assert.Equal(t, []bool{true, false}, mends(wantsAsNew), "what hides mends something, if not all")
	noWorse := hammered.with(facts{"piece.aim": "no-worse"})
	assert.Equal(t, []string{"anvil", "bellows"}, ranked(t, noWorse, all...), "the id decides")
	assert.Equal(t, []bool{true, true}, mends(noWorse))
}

func TestARepairSaysWhetherItMeetsTheAim(t *testing.T) {
	for aim, want := range map[string]string{"as-new": "no", "fit-to-see": "yes", "cannot tell": "unknown"} {
		assert.Equal(t, want, judged(t, own{"achieves": "hides"}, hammered.with(facts{"piece.aim": aim})).MeetsAim, aim)
	}
}

func TestRisksAreComparedFromTheWorstDown(t *testing.T) {
	risks := func(id string, levels ...string) files {
		var all string
		for i, l := range levels {
			all += harm(string(rune('a'+i))+"-breaks", l, "") + ","
		}
		return method(id, own{"harms": "[" + all + "]"})
	}
	assert.Equal(t, []string{"bellows", "anvil"},
		ranked(t, hammered, risks("anvil", "probable"), risks("bellows", "occasional", "occasional", "occasional")),
		"one grave harm is worse than three middling ones")
	assert.Equal(t, []string{"bellows", "anvil"},
		ranked(t, hammered, risks("anvil", "occasional", "remote", "occasional"), risks("bellows", "remote", "occasional", "remote")),
		"the order in which harms are written does not matter")
	assert.Equal(t, []string{"bellows", "anvil"},
		ranked(t, hammered, risks("anvil", "occasional", "improbable"), risks("bellows", "occasional")),
		"a harm more is worse than none")
	assert.Equal(t, []string{"anvil", "bellows"},
		ranked(t, hammered, risks("anvil", "occasional", "eliminated"), risks("bellows", "occasional")),
		"an eliminated harm counts as none, so the ids decide")
	assert.Equal(t, []string{"anvil", "bellows"},
		ranked(t, hammered, risks("anvil", "probable"), risks("bellows", "frequent")),
		"frequent and probable are the same risk of a critical harm, so the ids decide")
}

func TestRisksAreComparedAsTheyStandAndNotAsStated(t *testing.T) {
	calm := method("bellows", own{"harms": "[" + harm("splits", "occasional", shifts("lowered", "surface.stripped", "improbable")) + "]"})
	plain := method("anvil", own{"harms": "[" + harm("splits", "remote", shifts("raised", "surface.knots", "occasional")) + "]"})
	assert.Equal(t, []string{"anvil", "bellows"}, ranked(t, hammered.with(facts{"surface.knots": "no"}), calm, plain))
	assert.Equal(t, []string{"bellows", "anvil"}, ranked(t, hammered.with(facts{"surface.stripped": "yes"}), calm, plain))
}

func TestAnUnknownAmountOfWoodComesLastAndAKnownOneCountsByItsUpperEnd(t *testing.T) {
	sands := method("anvil", own{"sanding": `{reaches: defect, grits: ["120", "150"]}`})
	deep, shallow := method("bellows", own{"takes": "{wood_mm: [0, 50]}"}), method("chisel", own{"takes": "{wood_mm: [0.3, 0.3]}"})

	_, d := triage(t, load(t, sands, deep, shallow), hammered)
	assert.Equal(t, []string{"chisel", "bellows", "anvil"}, methodsOf(d), "nobody has measured what there is to sand")
	assert.Nil(t, repair(t, d, "anvil").RemovesMM)
	assert.Equal(t, 50.0, repair(t, d, "bellows").RemovesMM.Hi)

	measured := shaved.with(facts{"defect.depth_mm": "0.1 to 0.15"})
	_, d = triage(t, load(t, sands, deep, shallow), measured)
	assert.Equal(t, []string{"anvil", "chisel", "bellows"}, methodsOf(d))
	assert.InDelta(t, 0.25, repair(t, d, "anvil").RemovesMM.Hi, 1e-12, "0.15 mm of mark and 0.1 mm for the grits")
}

func TestWhatCanBeUndoneComesFirst(t *testing.T) {
	assert.Equal(t, []string{"chisel", "bellows", "anvil"}, ranked(t, hammered,
		method("anvil", own{"undo": "no"}), method("bellows", own{"undo": "partly"}), method("chisel", own{"undo": "yes"})))
}

func TestTheIDDecidesAmongMethodsForDifferentKindsToo(t *testing.T) {
	assert.Equal(t, []string{"anvil", "bellows", "rest"}, ranked(t, facts{"defect.form": "dip"},
		method("anvil", own{"treats": "[hammer-mark]"}), method("bellows", own{"treats": "[claw-mark]"}), rest))
}
