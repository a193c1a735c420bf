package engine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine"
	"mendwright/rules"
)

// paintedRungs is the ladder for the one mark.
func paintedRungs(t *testing.T, given facts, methods ...files) []string {
	t.Helper()
	book := load(t, append([]files{paint, rest}, methods...)...)
	a, err := engine.Triage(book, paintTables(), job(t, book, hammered.with(given)))
	require.NoError(t, err)
	return rungs(a.Defects[0].Ladder)
}

// marks puts a second mark, "gash", on a surface of the job; given is all that is answered of it.
func marks(t *testing.T, book *rules.Book, j *engine.Job, on string, given facts) {
	t.Helper()
	if j.Surfaces[on] == nil {
		j.Surfaces[on] = &engine.Surface{Subject: subject(t, book, "surface", given)}
	}
	j.Defects = append(j.Defects, &engine.Mark{ID: "gash", On: on, Subject: subject(t, book, "defect", hammered.with(given))})
}

// both are the method judged for the marks "dint" and "gash".
func both(t *testing.T, book *rules.Book, j *engine.Job) (dint, gash engine.Repair) {
	t.Helper()
	a, err := engine.Triage(book, paintTables(), j)
	require.NoError(t, err)
	require.Len(t, a.Defects, 2)
	require.Equal(t, "dint", a.Defects[0].ID)
	return repair(t, a.Defects[0], "mend"), repair(t, a.Defects[1], "mend")
}

func TestEachSurfaceHasItsOwnVapourAndCoat(t *testing.T) {
	book := paintBook(t, own{"vapour": "{of: spirit}", "coat": "{of: pitch}", "never": clauses("air.above_limit", "coat.must_wait"), "suits": clauses("coat.may_go")})
	given := hall.with(fair).with(facts{"surface.area_m2": "1", "surface.old": "grease", "surface.stripped": "no", "surface.wood_c": "3"})
	for _, first := range []string{"deck", "keel"} {
		j := job(t, book, hammered.with(given))
		marks(t, book, j, "keel", facts{"surface.area_m2": "0.2", "surface.old": "tar", "surface.stripped": "no", "surface.wood_c": "20"})
		bad, good := both(t, book, j)
		if first == "keel" { // the order of judging is that of the marks' names
			j.Defects[0].On, j.Defects[1].On = "keel", "deck"
			good, bad = both(t, book, j)
		}
		assert.Equal(t, engine.RuledOut, bad.State)
		assert.Equal(t, [3]string{"yes", "yes", "no"}, [3]string{bad.Vapour.AboveLimit, bad.CoatDay.Wait, bad.Pairing.May})
		assert.Equal(t, engine.Ready, good.State)
		assert.Equal(t, [3]string{"no", "no", "yes"}, [3]string{good.Vapour.AboveLimit, good.CoatDay.Wait, good.Pairing.May})
	}
}

func TestMarksOfOneSurfaceShareWhatDoesNotDependOnTheMark(t *testing.T) {
	book := paintBook(t, own{"vapour": "{of: spirit}"})
	j := job(t, book, hammered.with(hall))
	marks(t, book, j, "deck", facts{})
	dint, gash := both(t, book, j)
	assert.Equal(t, "yes", dint.Vapour.AboveLimit)
	assert.Equal(t, dint.Vapour, gash.Vapour)
}

func TestWhatTheMarkNamesIsReckonedForEachMark(t *testing.T) {
	book := paintBook(t, own{"vapour": "{by: defect.filler}", "never": clauses("air.above_limit")})
	j := job(t, book, hammered.with(hall).with(facts{"defect.filler": "spirit"}))
	marks(t, book, j, "deck", facts{"defect.filler": "lye"})
	dint, gash := both(t, book, j)
	assert.Equal(t, engine.RuledOut, dint.State)
	assert.Equal(t, engine.Ready, gash.State)
	assert.Equal(t, "no", gash.Vapour.AboveLimit)
}

func TestWhatARungLeavesReachesThePairing(t *testing.T) {
	strip := onHammerMarks("anvil", own{"leaves": leaves("fact: surface.stripped, to: yes")})
	lay := onHammerMarks("lay", own{"coat": "{of: pitch}", "suits": clauses("coat.may_go")})
	given := facts{"surface.old": "grease", "surface.stripped": "no"}
	assert.Equal(t, []string{"anvil", "lay"}, paintedRungs(t, given, strip, lay))
	assert.Equal(t, []string{"anvil"}, paintedRungs(t, given, onHammerMarks("anvil", own{}), lay), "grease stays where nothing strips it")
	assert.Equal(t, []string{"anvil", "lay"}, paintedRungs(t, given,
		onHammerMarks("anvil", own{"leaves": leaves("fact: surface.old, to: tar")}), lay), "nothing but the old finish changes")

	book := load(t, paint, rest, strip, lay)
	j := job(t, book, hammered.with(given))
	marks(t, book, j, "deck", facts{})
	a, err := engine.Triage(book, paintTables(), j)
	require.NoError(t, err)
	for _, d := range a.Defects {
		assert.Equal(t, "no", repair(t, d, "lay").Pairing.May, "the surface is not stripped yet when %s is judged", d.ID)
		assert.Equal(t, []string{"anvil", "lay"}, rungs(d.Ladder), d.ID)
	}
}

func TestWhatARungLeavesReachesTheVapourAndTheWeather(t *testing.T) {
	given := hall.with(fair).with(facts{"surface.area_m2": "2", "surface.wood_c": "10"})
	wipe := onHammerMarks("wipe", own{"vapour": "{of: spirit}", "never": clauses("air.above_limit")})
	assert.Equal(t, []string{"anvil", "wipe"}, paintedRungs(t, given, onHammerMarks("anvil", own{"leaves": leaves("fact: surface.area_m2, times: [0.1, 0.2]")}), wipe))
	assert.Equal(t, []string{"anvil"}, paintedRungs(t, given, onHammerMarks("anvil", own{"leaves": leaves("fact: surface.area_m2, times: [0.1, 0.3]")}), wipe),
		"0.6 m² may be left, which is too much")
	lay := onHammerMarks("lay", own{"coat": "{of: pitch}", "never": clauses("coat.must_wait")})
	assert.Equal(t, []string{"anvil", "lay"}, paintedRungs(t, given, onHammerMarks("anvil", own{"leaves": leaves("fact: surface.wood_c, times: [2, 2]")}), lay),
		"wood of 10 °C is too near the dew point, of 20 °C it is not")
	assert.Equal(t, []string{"anvil"}, paintedRungs(t, given, onHammerMarks("anvil", own{"leaves": leaves("fact: surface.wood_c, to: cannot tell")}), lay))
}

func TestARungThatDirtiesWhatWasReadyIsNotPassedOver(t *testing.T) {
	grease := onHammerMarks("anvil", own{"leaves": leaves("fact: surface.old, to: grease")})
	lay := onHammerMarks("lay", own{"coat": "{of: pitch}", "suits": clauses("coat.may_go"), "minutes": "[7, 8, 9]"})
	assert.Equal(t, []string{"anvil"}, paintedRungs(t, facts{"surface.old": "tar", "surface.stripped": "no"}, grease, lay))
}

func TestEachRepairHasItsOwnVapour(t *testing.T) {
	book := load(t, paint, rest, onHammerMarks("wipe", own{"vapour": "{of: spirit}"}), onHammerMarks("wash", own{"vapour": "{of: lye}"}))
	a, err := engine.Triage(book, paintTables(), job(t, book, hammered.with(hall)))
	require.NoError(t, err)
	assert.Equal(t, "yes", repair(t, a.Defects[0], "wipe").Vapour.AboveLimit)
	assert.Equal(t, "no", repair(t, a.Defects[0], "wash").Vapour.AboveLimit)
}
