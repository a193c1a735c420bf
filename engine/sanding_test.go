package engine_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

func exactly(mm float64) engine.Measure { return between(mm, mm) }

func between(lo, hi float64) engine.Measure {
	return engine.Measure{Range: interval.Range{Lo: lo, Hi: hi}, Known: true}
}

// skin is a stripped skin of exactly 1 mm, to be sanded down to a mark. 0.5 mm must stay and the
// grits take 0.1 mm with a standard uncertainty of 0.02 mm, so the keep line lies at a mark of
// 0.4 mm, and the margin must be above 0.0465 mm to be clear and below 0.0256 mm to go through.
func skin(mark engine.Measure) engine.Cut {
	return engine.Cut{Layer: "skin", Thin: condition.True, Thickness: exactly(1), Stripped: condition.True, ToMark: true, Mark: mark}
}

// plank is a plank of exactly 20 mm without screws. At most 1.5 mm may be taken of it.
func plank(mark engine.Measure) engine.Cut {
	return engine.Cut{Layer: "plank", Thin: condition.False, Thickness: exactly(20), Screwed: condition.False, ToMark: true, Mark: mark}
}

// but changes a cut.
func but(c engine.Cut, change func(*engine.Cut)) engine.Cut {
	change(&c)
	return c
}

func TestTheVerdictFollowsTheMarginOverTheKeepLine(t *testing.T) {
	for _, c := range []struct {
		that string
		cut  engine.Cut
		want string
	}{
		{"0.05 mm to spare", skin(exactly(0.35)), "clear"},
		{"0.045 mm to spare", skin(exactly(0.355)), "tight"},
		{"0.03 mm to spare", skin(exactly(0.37)), "tight"},
		{"0.02 mm to spare", skin(exactly(0.38)), "through"},
		{"on the line", skin(exactly(0.4)), "through"},
		{"only a fresh surface", but(skin(exactly(0.4)), func(c *engine.Cut) { c.ToMark = false }), "clear"},
		{"a plank is held by the most that may be taken", plank(exactly(1.35)), "clear"},
		{"and no further", plank(exactly(1.4)), "through"},
		{"a thin plank is held by what must stay of it", but(plank(exactly(0.35)), func(c *engine.Cut) { c.Thickness = exactly(6.5) }), "clear"},
		{"to the same margin", but(plank(exactly(0.4)), func(c *engine.Cut) { c.Thickness = exactly(6.5) }), "through"},
		{"a keep line of one's own", but(skin(exactly(0.35)), func(c *engine.Cut) { keep := 0.6; c.Programme.Keep = &keep }), "through"},
		{"coarser grits take more", but(skin(exactly(0.35)), func(c *engine.Cut) { c.Programme.Grits = []string{"80", "120", "150"} }), "through"},
	} {
		s := tables().Sand(c.cut)
		assert.Equal(t, c.want, s.Verdict, c.that)
		assert.Empty(t, s.Missing, c.that)
		assert.Empty(t, s.Problem, c.that)
	}
}

func TestACheckWithAllItsInputsShowsItsFigures(t *testing.T) {
	s := tables().Sand(but(skin(between(0.2, 0.29)), func(c *engine.Cut) { c.Width = between(4, 5) }))
	assert.Equal(t, "clear", s.Verdict)
	assert.Equal(t, []string{"120", "150"}, s.Grits)
	assert.Equal(t, "block", s.Tool)
	assert.Equal(t, 0.5, s.KeepMM)
	assert.Equal(t, 0.8, s.WarnMM)
	for _, f := range []struct {
		got  *interval.Range
		want interval.Range
	}{
		{s.ThicknessMM, interval.Exact(1)}, {s.MarkMM, interval.Range{Lo: 0.2, Hi: 0.29}}, {s.ScratchesMM, interval.Exact(0.1)},
		{s.FilmMM, interval.Exact(0)}, {s.TakeMM, interval.Range{Lo: 0.3, Hi: 0.39}}, {s.LeftMM, interval.Range{Lo: 0.61, Hi: 0.7}},
	} {
		require.NotNil(t, f.got, "%v", f.want)
		assert.InDelta(t, f.want.Lo, f.got.Lo, 1e-12)
		assert.InDelta(t, f.want.Hi, f.got.Hi, 1e-12)
	}
	assert.InDelta(t, 5+2*100*0.29, s.Feather["satin"], 1e-12, "as wide as the mark and a hundred times its depth on each side")
	require.NotNil(t, s.Passes)
	assert.Equal(t, 5, *s.Passes, "half of the 0.11 mm that is left at the worst, at 0.01 mm a pass")
	require.NotNil(t, s.DeepestMM)
	assert.Equal(t, "clear", tables().Sand(skin(exactly(*s.DeepestMM))).Verdict, "the deepest mark can be sanded out")
	assert.Equal(t, "tight", tables().Sand(skin(exactly(*s.DeepestMM+0.002))).Verdict, "and none deeper")
	assert.Nil(t, s.Stiff)
	assert.Nil(t, s.Cover)
}

func TestAnUnmeasuredThinLayerIsUnknownAndSaysSo(t *testing.T) {
	for _, mark := range []engine.Measure{exactly(0), exactly(0.01), between(0.1, 0.2)} {
		s := tables().Sand(but(skin(mark), func(c *engine.Cut) { c.Thickness, c.Age = engine.Measure{}, "old" }))
		assert.Equal(t, "unknown", s.Verdict)
		assert.Equal(t, []string{"thickness"}, s.Missing)
		assert.Equal(t, &interval.Range{Lo: 1, Hi: 2}, s.Estimate, "the usual thickness is shown and clears nothing")
		assert.Nil(t, s.TakeMM, "no figures without a measurement")
	}
	measured := tables().Sand(but(skin(exactly(0)), func(c *engine.Cut) { c.Age = "old" }))
	assert.Nil(t, measured.Estimate, "a measurement leaves nothing to estimate")
}

func TestEachInputThatIsNotKnownIsMissing(t *testing.T) {
	screwed := func(c *engine.Cut) { c.Screwed, c.Screw = condition.True, exactly(5) }
	for _, c := range []struct {
		that    string
		cut     engine.Cut
		missing []string
	}{
		{"the mark", skin(engine.Measure{}), []string{"defect-depth"}},
		{"the layer", but(skin(exactly(0.1)), func(c *engine.Cut) { c.Layer = "" }), []string{"layer"}},
		{"whether it is thin", but(skin(exactly(0.1)), func(c *engine.Cut) { c.Thin = condition.Unknown }), []string{"layer"}},
		{"the film of what is not stripped", but(skin(exactly(0.1)), func(c *engine.Cut) { c.Stripped = condition.False }), []string{"film"}},
		{"the film and whether it is there", but(skin(exactly(0.1)), func(c *engine.Cut) { c.Stripped = condition.Unknown }), []string{"film", "stripped"}},
		{"the plank", but(plank(exactly(0.1)), func(c *engine.Cut) { c.Thickness = engine.Measure{} }), []string{"thickness"}},
		{"whether there are screws", but(plank(exactly(0.1)), func(c *engine.Cut) { c.Screwed = condition.Unknown }), []string{"screwed"}},
		{"how deep they are", but(but(plank(exactly(0.1)), screwed), func(c *engine.Cut) { c.Screw = engine.Measure{} }), []string{"screw-depth"}},
		{"whether there are screws under a cut that is tight without them", but(plank(exactly(1.37)), func(c *engine.Cut) { c.Screwed = condition.Unknown }), []string{"screwed"}},
		{"the film of a skin that could spare any film: no guess clears anything",
			but(skin(exactly(0.1)), func(c *engine.Cut) { c.Thickness, c.Stripped = exactly(9), condition.False }), []string{"film"}},
		{"mark and plank", but(plank(engine.Measure{}), func(c *engine.Cut) { c.Thickness = engine.Measure{} }), []string{"thickness", "defect-depth"}},
	} {
		s := tables().Sand(c.cut)
		assert.Equal(t, "unknown", s.Verdict, c.that)
		assert.Equal(t, c.missing, s.Missing, c.that)
	}
}

func TestWhatGoesThroughWhateverIsMissingIsKnownAtOnce(t *testing.T) {
	s := tables().Sand(but(skin(exactly(0.5)), func(c *engine.Cut) { c.Stripped = condition.Unknown }))
	assert.Equal(t, "through", s.Verdict, "a film could only make it worse")
	assert.Empty(t, s.Missing)
	s = tables().Sand(but(plank(exactly(2)), func(c *engine.Cut) { c.Thickness, c.Screwed = engine.Measure{}, condition.Unknown }))
	assert.Equal(t, "through", s.Verdict, "no plank may lose that much")
	assert.Empty(t, s.Missing)
}

func TestAFilmIsCutThroughOnAThinLayerThatIsNotStripped(t *testing.T) {
	filmed := func(stripped condition.Outcome) func(*engine.Cut) {
		return func(c *engine.Cut) { c.Stripped, c.Film = stripped, exactly(0.2) }
	}
	assert.Equal(t, "clear", tables().Sand(but(skin(exactly(0.3)), filmed(condition.True))).Verdict)
	assert.Equal(t, "through", tables().Sand(but(skin(exactly(0.3)), filmed(condition.False))).Verdict)
	assert.Equal(t, "clear", tables().Sand(but(skin(exactly(0.1)), filmed(condition.False))).Verdict)
	assert.Equal(t, "unknown", tables().Sand(but(skin(exactly(0.3)), filmed(condition.Unknown))).Verdict)
	assert.InDelta(t, 0.4, tables().Sand(but(plank(exactly(0.3)), filmed(condition.False))).TakeMM.Hi, 1e-12, "a plank is measured without its film")
}

func TestAPlankNeverGetsStifferByHowBadlyItWasMeasured(t *testing.T) {
	s := tables().Sand(but(plank(between(0.2, 0.4)), func(c *engine.Cut) { c.Thickness = between(18, 22) }))
	take := *s.TakeMM
	require.NotNil(t, s.Stiff)
	assert.InDelta(t, math.Pow(1-take.Hi/18, 3), s.Stiff.Lo, 1e-12, "the thin board under the deep cut")
	assert.InDelta(t, math.Pow(1-take.Lo/22, 3), s.Stiff.Hi, 1e-12, "the thick board under the shallow one")
	assert.Less(t, s.Stiff.Hi, 1.0)
}

func TestAPlankThatIsCutAwayHasNoStiffness(t *testing.T) {
	s := tables().Sand(but(plank(exactly(3)), func(c *engine.Cut) { c.Thickness = exactly(2) }))
	assert.Equal(t, "through", s.Verdict)
	assert.Nil(t, s.Stiff)
}

func TestScrewsBoundWhatAPlankCanLose(t *testing.T) {
	screwed := func(deep engine.Measure) func(*engine.Cut) {
		return func(c *engine.Cut) { c.Screwed, c.Screw = condition.True, deep }
	}
	s := tables().Sand(but(plank(exactly(0.3)), screwed(exactly(16))))
	assert.Equal(t, "clear", s.Verdict, "4 mm over the tips, of which 3 mm must stay")
	assert.InDelta(t, 3.6, s.Cover.Lo, 1e-12)
	assert.InDelta(t, 19.6*19.6*19.6/8000, s.Stiff.Lo, 1e-12)
	assert.Equal(t, s.Stiff.Lo, s.Stiff.Hi)

	s = tables().Sand(but(plank(exactly(0.3)), screwed(exactly(16.8))))
	assert.Equal(t, "through", s.Verdict)
	s = tables().Sand(but(plank(exactly(0.3)), screwed(between(16, 16.8))))
	assert.Equal(t, "unknown", s.Verdict)
	assert.Equal(t, []string{"screw-depth"}, s.Missing)
	assert.Equal(t, "clear", tables().Sand(but(plank(exactly(0.3)), screwed(exactly(1)))).Verdict, "short screws leave the rule for the plank itself")
}

func TestAKeepLineBelowTheTablesIsRefusedOnAThinLayer(t *testing.T) {
	keep := 0.4
	s := tables().Sand(but(skin(exactly(0)), func(c *engine.Cut) { c.Programme.Keep = &keep }))
	assert.Equal(t, "unknown", s.Verdict)
	assert.Equal(t, "a keep line of 0.4 mm is below the 0.5 mm that hides the core", s.Problem)
	assert.Equal(t, []string{"keep"}, s.Missing)
	assert.Nil(t, s.TakeMM)
	keep = 0.5
	assert.Equal(t, "clear", tables().Sand(but(skin(exactly(0)), func(c *engine.Cut) { c.Programme.Keep = &keep })).Verdict)
}

func TestWhatCannotBeCheckedSaysWhy(t *testing.T) {
	s := tables().Sand(but(skin(exactly(0)), func(c *engine.Cut) { c.Layer = "crust" }))
	assert.Equal(t, "through", s.Verdict)
	assert.Equal(t, "a layer of crust is not sanded", s.Problem)
	for problem, p := range map[string]engine.Programme{
		`the grit "7"`:     {Grits: []string{"7"}},
		`the tool "spoon"`: {Tool: "spoon"},
		"coarse to fine":   {Grits: []string{"150", "120"}},
	} {
		s := tables().Sand(but(skin(exactly(0)), func(c *engine.Cut) { c.Programme = p }))
		assert.Equal(t, "unknown", s.Verdict)
		assert.Contains(t, s.Problem, problem)
	}
}

func TestAMeasurementThatStraddlesLeavesTheVerdictUnknownAndNamesWhatToMeasureMoreClosely(t *testing.T) {
	for _, c := range []struct {
		cut     engine.Cut
		missing []string
	}{
		{skin(between(0.3, 0.4)), []string{"defect-depth"}},
		{but(skin(exactly(0.35)), func(c *engine.Cut) { c.Thickness = between(0.95, 1.05) }), []string{"thickness"}},
		{but(skin(between(0.3, 0.36)), func(c *engine.Cut) { c.Thickness = between(0.95, 1.05) }), []string{"defect-depth", "thickness"}},
		{but(skin(exactly(0.3)), func(c *engine.Cut) { c.Stripped, c.Film = condition.False, between(0.01, 0.2) }), []string{"film"}},
	} {
		s := tables().Sand(c.cut)
		assert.Equal(t, "unknown", s.Verdict)
		assert.Equal(t, c.missing, s.Missing)
		assert.NotNil(t, s.TakeMM, "the figures are there, as far as they go")
	}
}

// TestACloserMeasurementNeverContradictsAKnownVerdict narrows random cuts at random: what was
// measured is measured more closely, what was not known becomes known.
func TestACloserMeasurementNeverContradictsAKnownVerdict(t *testing.T) {
	r := rand.New(rand.NewPCG(1812, 1815))
	within := func(m engine.Measure, least, most float64) engine.Measure {
		if !m.Known {
			m = between(least, most)
			if r.IntN(3) == 0 {
				return engine.Measure{}
			}
		}
		a, b := m.Lo+r.Float64()*(m.Hi-m.Lo), m.Lo+r.Float64()*(m.Hi-m.Lo)
		return between(min(a, b), max(a, b))
	}
	settle := func(o condition.Outcome) condition.Outcome {
		if o != condition.Unknown || r.IntN(3) == 0 {
			return o
		}
		return []condition.Outcome{condition.True, condition.False}[r.IntN(2)]
	}
	seen := map[string]int{}
	for range 6000 {
		c := engine.Cut{Layer: "skin", Thin: condition.True, ToMark: r.IntN(4) > 0, Programme: engine.Programme{Tool: []string{"block", "paw"}[r.IntN(2)]}}
		thickest := 2.0
		if r.IntN(2) == 0 {
			c.Layer, c.Thin, thickest = "plank", condition.False, 30
		}
		closer := func(c engine.Cut) engine.Cut {
			c.Thickness, c.Mark = within(c.Thickness, 0.1, thickest), within(c.Mark, 0, 2)
			c.Film, c.Screw = within(c.Film, 0, 0.4), within(c.Screw, 0, thickest)
			c.Stripped, c.Screwed = settle(c.Stripped), settle(c.Screwed)
			return c
		}
		rough := closer(c)
		was := tables().Sand(rough).Verdict
		for range 6 {
			rough = closer(rough)
			now := tables().Sand(rough).Verdict
			if was != "unknown" {
				require.Equal(t, was, now, "%+v", rough)
			}
			seen[was+" to "+now]++
			was = now
		}
	}
	for _, step := range []string{"unknown to clear", "unknown to tight", "unknown to through", "clear to clear", "tight to tight", "through to through"} {
		assert.Greater(t, seen[step], 20, step)
	}
}

// checkSanding checks a job's deck.
func checkSanding(t *testing.T, given facts, mark string) *engine.Sanding {
	t.Helper()
	book := load(t, method("mend", nil))
	s, err := engine.CheckSanding(book, tables(), job(t, book, given), "deck", mark)
	require.NoError(t, err)
	return &s.Sanding
}

func TestASurfaceIsCheckedWithOrWithoutAMark(t *testing.T) {
	deep := shaved.with(facts{"defect.depth_mm": "0.4 ± 0"})
	assert.Equal(t, "through", checkSanding(t, deep, "dint").Verdict)
	assert.Equal(t, "clear", checkSanding(t, deep, "").Verdict, "a fresh surface takes nothing but the grits")
	assert.Equal(t, []string{"defect.depth_mm", "surface.film_mm", "surface.stripped"},
		checkSanding(t, facts{"surface.layer": "skin", "surface.layer_mm": "1 ± 0"}, "dint").Missing, "inputs are named as the facts of the job")
	assert.Equal(t, "clear", checkSanding(t, facts{"surface.layer": "plank", "surface.layer_mm": "20", "surface.screwed": "no"}, "").Verdict,
		"a finding says that planks are no thin layer")
}

func TestASurfaceIsCheckedWithItsOwnProgramme(t *testing.T) {
	book := load(t, method("mend", own{"sanding": `{reaches: defect, grits: ["150", "240"]}`}))
	j := job(t, book, shaved.with(facts{"defect.depth_mm": "0.1 ± 0"}))
	grits := func() []string {
		a, err := engine.Triage(book, tables(), j)
		require.NoError(t, err)
		return repair(t, a.Defects[0], "mend").Sanding.Grits
	}
	assert.Equal(t, []string{"150", "240"}, grits(), "the method's own")
	j.Surfaces["deck"].Programme = engine.Programme{Grits: []string{"80", "120"}, Tool: "paw"}
	assert.Equal(t, []string{"80", "120"}, grits(), "what the person chose wins")

	s, err := engine.CheckSanding(book, tables(), j, "deck", "dint")
	require.NoError(t, err)
	assert.Equal(t, "paw", s.Tool)
	assert.Equal(t, "too-big", checkSandingWith(t, "80", "150").Jump)
	assert.Equal(t, "close", checkSandingWith(t, "120", "150").Jump)
}

func checkSandingWith(t *testing.T, grits ...string) engine.Sanding {
	t.Helper()
	return tables().Sand(but(skin(exactly(0)), func(c *engine.Cut) { c.Programme.Grits = grits }))
}

func TestASurfaceOrMarkThatIsNotThereIsAnErrorThatNamesTheNearest(t *testing.T) {
	book := load(t, method("mend", nil))
	j := job(t, book, hammered)
	j.Surfaces["keel"] = &engine.Surface{}
	j.Defects = append(j.Defects, &engine.Mark{ID: "dent", On: "keel"})
	for _, c := range []struct{ surface, mark, want string }{
		{"dek", "", `the job has no surface "dek" (did you mean "deck"?); its surfaces are deck, keel`},
		{"nothing-like-it", "", `the job has no surface "nothing-like-it"; its surfaces are deck, keel`},
		{"deck", "dit", `there is no defect "dit" on deck (did you mean "dint"?); it has dint`},
		{"deck", "dent", `there is no defect "dent" on deck (did you mean "dint"?); it has dint`},
	} {
		s, err := engine.CheckSanding(book, tables(), j, c.surface, c.mark)
		assert.Nil(t, s)
		assert.EqualError(t, err, c.want)
	}
}

func TestAMethodThatSandsIsJudgedByItsOwnCut(t *testing.T) {
	set := own{"sanding": `{reaches: defect, grits: ["120", "150"]}`, "suits": clauses(`sand.verdict == "clear"`), "never": clauses(`sand.verdict == "through"`)}
	for depth, want := range map[string]engine.State{"0.3 ± 0": engine.Ready, "0.37 ± 0": engine.RuledOut, "0.4 ± 0": engine.RuledOut,
		"0.3 to 0.4": engine.NeedsAnswer, "cannot tell": engine.NeedsAnswer} {
		assert.Equal(t, want, judged(t, set, shaved.with(facts{"defect.depth_mm": depth})).State, depth)
	}
	r := judged(t, set, shaved.with(facts{"defect.depth_mm": "0.3 to 0.4"}))
	assert.Equal(t, []string{"defect.depth_mm"}, r.Missing, "known, but not closely enough")
	r = judged(t, set, hammered.with(facts{"surface.layer": "skin"}))
	assert.Equal(t, []string{"defect.depth_mm", "surface.film_mm", "surface.layer_mm", "surface.stripped"}, r.Missing)
	assert.Equal(t, []string{"surface.layer"}, judged(t, set, hammered).Missing, "nothing can be said before the layer is known")

	set["sanding"] = `{reaches: surface, grits: ["120", "150"]}`
	assert.Equal(t, engine.Ready, judged(t, set, shaved).State, "it does not go down to the mark")
}
