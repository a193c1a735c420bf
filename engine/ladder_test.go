package engine_test

import (
	"maps"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine"
)

// leaves writes what a method leaves, each as the middle of a flow mapping.
func leaves(each ...string) string {
	s := "["
	for _, l := range each {
		s += "{" + l + ", because: it does, source: hearsay},"
	}
	return s + "]"
}

// ladder are the rungs for the one mark.
func ladder(t *testing.T, given facts, methods ...files) []engine.Rung {
	t.Helper()
	_, d := triage(t, load(t, append(methods, rest)...), given)
	for _, r := range d.Ladder {
		assert.Equal(t, engine.Ready, r.State, "a rung is a repair that is ready by then")
	}
	return d.Ladder
}

func rungs(l []engine.Rung) []string {
	return each(l, func(r engine.Rung) string { return r.Method })
}

// onHammerMarks is a method for hammer marks alone.
func onHammerMarks(id string, set own) files {
	keys := own{"treats": "[hammer-mark]"}
	maps.Copy(keys, set)
	return method(id, keys)
}

func TestARungIsJudgedOnTheQuantityThatTheRungBeforeLeaves(t *testing.T) {
	coax := onHammerMarks("coax", own{"leaves": leaves("fact: defect.depth_mm, times: [0.2, 0.5]")})
	shallow := onHammerMarks("polish", own{"suits": clauses("defect.depth_mm < 0.5")})

	l := ladder(t, hammered.with(facts{"defect.depth_mm": "0.8 ± 0"}), coax, shallow)
	assert.Equal(t, []string{"coax", "polish"}, rungs(l))
	assert.Equal(t, []engine.Left{{Fact: "defect.depth_mm", Answer: "0.28 ± 0.12 mm", Because: "it does", Sources: []string{"hearsay"}}}, l[0].Leaves)

	assert.Equal(t, []string{"coax"}, rungs(ladder(t, hammered.with(facts{"defect.depth_mm": "1.2 ± 0"}), coax, shallow)),
		"0.24 to 0.6 mm may still be too deep")
	assert.Equal(t, []string{"coax"}, rungs(ladder(t, hammered.with(facts{"defect.depth_mm": "3 ± 0"}), coax, shallow)))
}

func TestWhatIsLeftOfAnUnknownQuantityIsUnknown(t *testing.T) {
	l := ladder(t, hammered, onHammerMarks("coax", own{"leaves": leaves("fact: defect.depth_mm, times: [0, 0.1]")}),
		onHammerMarks("polish", own{"suits": clauses("defect.depth_mm < 50.0")}))
	assert.Equal(t, []string{"coax"}, rungs(l))
	assert.Equal(t, "look again", l[0].Leaves[0].Answer)
}

func TestWhatIsLeftStaysWithinWhatIsPossible(t *testing.T) {
	l := ladder(t, hammered.with(facts{"defect.depth_mm": "25 ± 0"}), onHammerMarks("deepen", own{"leaves": leaves("fact: defect.depth_mm, times: [2, 3]")}))
	assert.Equal(t, "55 ± 5 mm", l[0].Leaves[0].Answer, "75 mm is more than a mark can be deep")
}

func TestARungIsJudgedOnTheFactThatTheRungBeforeSets(t *testing.T) {
	strip := onHammerMarks("anvil", own{"leaves": leaves("fact: surface.stripped, to: yes")})
	polish := onHammerMarks("polish", own{"suits": clauses("surface.stripped")})
	l := ladder(t, hammered.with(facts{"surface.stripped": "no"}), strip, polish)
	assert.Equal(t, []string{"anvil", "polish"}, rungs(l))
	assert.Equal(t, "yes", l[0].Leaves[0].Answer)
	assert.Equal(t, []string{"anvil", "polish"}, rungs(ladder(t, hammered, strip, polish)), "nobody needs to have known before")
}

func TestWhatARungSetsReachesTheFindingsToo(t *testing.T) {
	l := ladder(t, hammered.with(facts{"surface.drop_test": "swells", "surface.scratch_test": "powders"}),
		onHammerMarks("anvil", own{"leaves": leaves("fact: surface.drop_test, to: beads")}),
		onHammerMarks("polish", own{"suits": clauses(`surface.binding == "tallow"`)}))
	assert.Equal(t, []string{"anvil", "polish"}, rungs(l))
}

func TestWhatARungSetsReachesTheTablesToo(t *testing.T) {
	l := ladder(t, hammered.with(facts{"surface.dye": "red"}),
		onHammerMarks("anvil", own{"leaves": leaves("fact: surface.dye, to: blue")}),
		onHammerMarks("polish", own{"suits": clauses("!surface.bleeds", "surface.fades_c > 40.0")}))
	assert.Equal(t, []string{"anvil", "polish"}, rungs(l))
}

func TestWhatARungLeavesReachesTheSandingSum(t *testing.T) {
	coax := onHammerMarks("coax", own{"leaves": leaves("fact: defect.depth_mm, times: [0.2, 0.5]")})
	shave := onHammerMarks("shave", own{"sanding": `{reaches: defect, grits: ["120", "150"]}`, "suits": clauses(`sand.verdict == "clear"`)})
	assert.Equal(t, []string{"coax", "shave"}, rungs(ladder(t, shaved.with(facts{"defect.depth_mm": "0.6 ± 0"}), coax, shave)))
	assert.Equal(t, []string{"coax"}, rungs(ladder(t, shaved.with(facts{"defect.depth_mm": "0.9 ± 0"}), coax, shave)), "0.45 mm is still too much")
}

func TestWhatARungMakesUnknownIsNotReliedOnAgain(t *testing.T) {
	beads := own{"suits": clauses(`surface.drop_test == "beads"`), "minutes": "[7, 8, 9]"}
	given := hammered.with(facts{"surface.drop_test": "beads"})
	l := ladder(t, given, onHammerMarks("wet", own{"leaves": leaves("fact: surface.drop_test, to: cannot tell")}), onHammerMarks("polish", beads))
	assert.Equal(t, []string{"wet"}, rungs(l))
	assert.Equal(t, "look again", l[0].Leaves[0].Answer)

	l = ladder(t, given, onHammerMarks("wet", own{"leaves": leaves("fact: surface.stripped, to: yes")}), onHammerMarks("polish", beads))
	assert.Equal(t, []string{"wet", "polish"}, rungs(l), "what it leaves alone stays known")
}

func TestTheChangesOfAllRungsBeforeAddUp(t *testing.T) {
	l := ladder(t, hammered.with(facts{"defect.depth_mm": "1 ± 0"}),
		onHammerMarks("anvil", own{"leaves": leaves("fact: surface.stripped, to: yes", "fact: defect.depth_mm, times: [0.5, 0.5]")}),
		onHammerMarks("bellows", own{"suits": clauses("defect.depth_mm < 0.9"), "leaves": leaves("fact: defect.depth_mm, times: [0.5, 0.5]")}),
		onHammerMarks("chisel", own{"suits": clauses("surface.stripped", "defect.depth_mm < 0.3")}))
	assert.Equal(t, []string{"anvil", "bellows", "chisel"}, rungs(l))
	assert.Equal(t, "0.25 mm", l[1].Leaves[0].Answer)
}

func TestALadderEndsWithAMethodThatLeavesNothing(t *testing.T) {
	l := ladder(t, hammered, onHammerMarks("anvil", nil), onHammerMarks("bellows", own{"leaves": leaves("fact: surface.stripped, to: yes")}))
	assert.Equal(t, []string{"anvil"}, rungs(l))
	assert.Empty(t, l[0].Leaves)
}

func TestALadderEndsWhereTheMarkIsNoLongerWhatTheMethodsTreat(t *testing.T) {
	l := ladder(t, hammered, onHammerMarks("anvil", own{"leaves": leaves("fact: defect.form, to: cannot tell")}), onHammerMarks("bellows", nil))
	assert.Equal(t, []string{"anvil"}, rungs(l))
	l = ladder(t, hammered, onHammerMarks("anvil", own{"leaves": leaves("fact: defect.form, to: streak")}), onHammerMarks("bellows", nil))
	assert.Equal(t, []string{"anvil", "rest"}, rungs(l), "a streak is treated as a streak")
}

func TestALadderNeverRepeatsAMethod(t *testing.T) {
	l := ladder(t, hammered, onHammerMarks("anvil", own{"leaves": leaves("fact: surface.stripped, to: yes")}),
		onHammerMarks("bellows", own{"leaves": leaves("fact: surface.stripped, to: yes")}))
	assert.Equal(t, []string{"anvil", "bellows"}, rungs(l))
}

func TestALadderHasAtMostFourRungs(t *testing.T) {
	var all []files
	for _, id := range []string{"anvil", "bellows", "chisel", "drill", "edger", "file"} {
		all = append(all, onHammerMarks(id, own{"leaves": leaves("fact: surface.stripped, to: yes")}))
	}
	assert.Equal(t, []string{"anvil", "bellows", "chisel", "drill"}, rungs(ladder(t, hammered, all...)))
}

func TestEachRungIsTheBestByThen(t *testing.T) {
	l := ladder(t, hammered.with(facts{"surface.stripped": "no"}),
		onHammerMarks("anvil", own{"minutes": "[1, 1, 1]", "leaves": leaves("fact: surface.stripped, to: yes")}),
		onHammerMarks("bellows", own{"minutes": "[4, 4, 4]", "harms": "[" + harm("splits", "occasional", "") + "]"}),
		onHammerMarks("chisel", own{"minutes": "[9, 9, 9]", "leaves": leaves("fact: surface.screwed, to: no"),
			"harms": "[" + harm("splits", "probable", shifts("lowered", "surface.stripped", "remote")) + "]"}))
	assert.Equal(t, []string{"anvil", "chisel", "bellows"}, rungs(l), "once it is stripped, chisel risks less than bellows")
	assert.Equal(t, []string{"eliminated", "medium", "serious"}, each(l, func(r engine.Rung) string { return r.Risk }))
}

func TestThereIsNoLadderWhereNothingIsReady(t *testing.T) {
	open := onHammerMarks("anvil", own{"suits": clauses("surface.stripped"), "leaves": leaves("fact: surface.stripped, to: yes")})
	assert.Empty(t, ladder(t, hammered, open))
	_, d := triage(t, load(t, open, rest), hammered)
	require.Equal(t, engine.NeedsAnswer, repair(t, d, "anvil").State)
}

func TestALadderChangesNothingOfTheRepairsThemselves(t *testing.T) {
	_, d := triage(t, load(t, rest, onHammerMarks("anvil", own{"leaves": leaves("fact: surface.stripped, to: yes")}),
		onHammerMarks("bellows", own{"suits": clauses("surface.stripped")})), hammered.with(facts{"surface.stripped": "no"}))
	assert.Equal(t, []string{"anvil", "bellows"}, rungs(d.Ladder))
	assert.Equal(t, engine.RuledOut, repair(t, d, "bellows").State, "it is ready only after the first rung")
}
