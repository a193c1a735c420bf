package engine_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine"
	"mendwright/rules"
)

// harm writes a critical harm to the piece; more are keys that begin with a comma.
func harm(id, probability, more string) string {
	return fmt.Sprintf("{harm: %s, what: it %s, to: piece, severity: critical, probability: %s%s, source: yard-code}", id, id, probability, more)
}

// shifts writes what moves a harm, as pairs of a condition and a level.
func shifts(key string, pairs ...string) string {
	s := ", " + key + ": ["
	for p := range slices.Chunk(pairs, 2) {
		s += fmt.Sprintf("{when: '%s', to: %s, because: 'moved by %s'},", p[0], p[1], p[0])
	}
	return s + "]"
}

// hazard is how one harm stands on a ready repair.
func hazard(t *testing.T, written string, given facts) engine.Hazard {
	t.Helper()
	r := judged(t, own{"harms": "[" + written + "]"}, hammered.with(given))
	require.Equal(t, engine.Ready, r.State)
	require.Len(t, r.Harms, 1)
	assert.Equal(t, r.Risk, r.Harms[0].Risk, "the only harm is the worst")
	return r.Harms[0]
}

func TestWhatRaisesAHarmActsUnlessFalseAndWhatLowersItOnlyWhenTrue(t *testing.T) {
	splits := harm("splits", "occasional", shifts("raised", "surface.knots", "frequent")+shifts("lowered", "surface.stripped", "remote"))
	for _, c := range []struct{ raised, lowered, want string }{
		{"yes", "yes", "frequent"}, {"yes", "no", "frequent"}, {"yes", "cannot tell", "frequent"},
		{"cannot tell", "yes", "frequent"}, {"cannot tell", "no", "frequent"}, {"cannot tell", "cannot tell", "frequent"},
		{"no", "yes", "remote"}, {"no", "no", "occasional"}, {"no", "cannot tell", "occasional"},
	} {
		got := hazard(t, splits, facts{"surface.knots": c.raised, "surface.stripped": c.lowered})
		assert.Equal(t, c.want, got.Level, "raised %s, lowered %s", c.raised, c.lowered)
	}
}

func TestAnAnswerNeverRaisesALevelThatWasShownWithoutIt(t *testing.T) {
	splits := harm("splits", "occasional", shifts("raised", "surface.knots", "frequent", "surface.screwed", "probable")+
		shifts("lowered", "surface.stripped", "remote", "defect.fresh", "improbable"))
	ids := []string{"surface.knots", "surface.screwed", "surface.stripped", "defect.fresh"}
	level := func(given facts) int { return slices.Index(rules.Levels, hazard(t, splits, given).Level) }
	for n := range 81 {
		given := facts{}
		for i, id := range ids {
			given[id] = []string{"yes", "no", "cannot tell"}[n/int(math.Pow(3, float64(i)))%3]
		}
		for _, id := range ids {
			if given[id] == "cannot tell" {
				assert.GreaterOrEqual(t, level(given.with(facts{id: "yes"})), level(given), "%v, then %s: yes", given, id)
				assert.GreaterOrEqual(t, level(given.with(facts{id: "no"})), level(given), "%v, then %s: no", given, id)
			}
		}
	}
}

func TestAHarmSaysWhatMovedItAndWhichAnswersCouldLowerIt(t *testing.T) {
	splits := harm("splits", "occasional", shifts("raised", "surface.bleeds", "probable")+shifts("lowered", "surface.stripped", "remote"))

	h := hazard(t, splits, facts{"surface.dye": "red", "surface.stripped": "no"})
	assert.Equal(t, []string{"moved by surface.bleeds"}, h.Because)
	assert.Empty(t, h.Lowers)

	h = hazard(t, splits, facts{"surface.stripped": "no"})
	assert.Equal(t, []string{"unless it is known not to be so: moved by surface.bleeds"}, h.Because)
	assert.Equal(t, []string{"surface.dye"}, h.Lowers, "as a fact that can be asked")

	h = hazard(t, splits, facts{"surface.dye": "blue"})
	assert.Empty(t, h.Because)
	assert.Equal(t, []string{"surface.stripped"}, h.Lowers)

	h = hazard(t, splits, facts{"surface.dye": "blue", "surface.stripped": "yes"})
	assert.Equal(t, []string{"moved by surface.stripped"}, h.Because)
	assert.Empty(t, h.Lowers)
	assert.Equal(t, []string{"yard-code"}, h.Sources)
	assert.Equal(t, "it splits", h.What)
	assert.Equal(t, "piece", h.To)
}

func TestOfSeveralThatRaiseTheWorstActsAndOfSeveralThatLowerTheBest(t *testing.T) {
	raised := harm("splits", "remote", shifts("raised", "surface.knots", "probable", "surface.screwed", "occasional"))
	assert.Equal(t, "probable", hazard(t, raised, facts{"surface.knots": "yes", "surface.screwed": "yes"}).Level)
	assert.Equal(t, "occasional", hazard(t, raised, facts{"surface.knots": "no", "surface.screwed": "yes"}).Level)
	lowered := harm("splits", "probable", shifts("lowered", "surface.stripped", "occasional", "defect.fresh", "improbable"))
	assert.Equal(t, "improbable", hazard(t, lowered, facts{"surface.stripped": "yes", "defect.fresh": "yes"}).Level)
	assert.Equal(t, "occasional", hazard(t, lowered, facts{"surface.stripped": "yes", "defect.fresh": "no"}).Level)
	turned := harm("splits", "probable", shifts("lowered", "defect.fresh", "improbable", "surface.stripped", "occasional"))
	assert.Equal(t, "improbable", hazard(t, turned, facts{"surface.stripped": "yes", "defect.fresh": "yes"}).Level, "in whatever order they stand")
}

func TestAHarmWhoseCauseIsAbsentIsEliminated(t *testing.T) {
	splits := harm("splits", "frequent", shifts("lowered", `surface.layer == "plank"`, "eliminated"))
	h := hazard(t, splits, facts{"surface.layer": "plank"})
	assert.Equal(t, "eliminated", h.Level)
	assert.Equal(t, "eliminated", h.Risk)
	assert.Equal(t, "high", hazard(t, splits, facts{"surface.layer": "skin"}).Risk)
	assert.Equal(t, "high", hazard(t, splits, nil).Risk, "an unknown cause is not absent")
}

func TestARepairWithoutHarmsRisksNothing(t *testing.T) {
	r := judged(t, nil, hammered)
	assert.Equal(t, "eliminated", r.Risk)
	assert.Equal(t, []engine.Hazard{}, r.Harms)
}

func TestHarmsAreListedWorstFirstAndTheWorstIsTheRiskOfTheRepair(t *testing.T) {
	r := judged(t, own{"harms": "[" + harm("creaks", "improbable", "") + "," + harm("splits", "probable", "") + "," + harm("warps", "occasional", "") + "]"}, hammered)
	assert.Equal(t, []string{"splits", "warps", "creaks"}, each(r.Harms, func(h engine.Hazard) string { return h.ID }))
	assert.Equal(t, []string{"high", "serious", "medium"}, each(r.Harms, func(h engine.Hazard) string { return h.Risk }))
	assert.Equal(t, "high", r.Risk)
}

// shaved is a stripped skin of exactly 1 mm, of which 0.5 mm must stay. The grits take 0.1 mm with
// a standard uncertainty of 0.02 mm, so a mark of 0.4 mm ends on the keep line.
var shaved = hammered.with(facts{"surface.layer": "skin", "surface.stripped": "yes", "surface.layer_mm": "1 ± 0"})

func TestAComputedProbabilityReplacesFrequentByItsUpperEnd(t *testing.T) {
	for _, c := range []struct{ that, depth, want string }{
		{"5 standard uncertainties to spare", "0.3 ± 0", "improbable"},
		{"4", "0.32 ± 0", "remote"},
		{"2.5", "0.35 ± 0", "occasional"},
		{"1.5", "0.37 ± 0", "probable"},
		{"none", "0.4 ± 0", "frequent"},
		{"from 5 down to 1.05: the worse end, a chance of 0.147, counts", "0.3 to 0.379", "frequent"},
		{"nobody has measured the mark", "cannot tell", "frequent"},
	} {
		r := judged(t, own{"sanding": `{reaches: defect, grits: ["120", "150"]}`,
			"harms": "[" + harm("goes-through", "frequent", ", probability_from: sand.chance") + "]"}, shaved.with(facts{"defect.depth_mm": c.depth}))
		require.Equal(t, engine.Ready, r.State, c.that)
		assert.Equal(t, c.want, r.Harms[0].Level, c.that)
	}
}

func TestAComputedProbabilityThatIsNotKnownYetAsksForWhatTheSumLacks(t *testing.T) {
	set := own{"sanding": `{reaches: defect, grits: ["120", "150"]}`, "harms": "[" + harm("goes-through", "frequent", ", probability_from: sand.chance") + "]"}
	r := judged(t, set, hammered.with(facts{"surface.layer": "skin", "surface.stripped": "yes"}))
	assert.Equal(t, "frequent", r.Harms[0].Level)
	assert.Equal(t, []string{"defect.depth_mm", "surface.layer_mm"}, r.Harms[0].Lowers)
}

func TestWhatIsComputedCanStillBeLowered(t *testing.T) {
	set := own{"sanding": `{reaches: defect, grits: ["120", "150"]}`,
		"harms": "[" + harm("goes-through", "frequent", ", probability_from: sand.chance"+shifts("lowered", "shop.tongs", "occasional")) + "]"}
	at := func(depth string) engine.Hazard {
		return judged(t, set, shaved.with(facts{"defect.depth_mm": depth, "shop.tongs": "yes"})).Harms[0]
	}
	assert.Equal(t, "occasional", at("0.4 ± 0").Level, "lowered from frequent")
	assert.Equal(t, []string{"moved by shop.tongs"}, at("0.4 ± 0").Because)
	assert.Equal(t, "improbable", at("0.3 ± 0").Level, "what lowers to a worse level than the sum gives changes nothing")
	assert.Empty(t, at("0.3 ± 0").Because, "and is no reason")
}

// TestTheRiskMatrixIsThatOfTheStandard holds every cell to MIL-STD-882E, Department of Defense
// Standard Practice: System Safety, 11 May 2012, table III, "Risk assessment matrix". Rows are
// the probability levels of table II, columns the severity categories of table I.
func TestTheRiskMatrixIsThatOfTheStandard(t *testing.T) {
	for _, c := range []struct {
		cell            string
		severity, level int
		want            string
	}{
		{"1A", 0, 0, "high"}, {"2A", 1, 0, "high"}, {"3A", 2, 0, "serious"}, {"4A", 3, 0, "medium"},
		{"1B", 0, 1, "high"}, {"2B", 1, 1, "high"}, {"3B", 2, 1, "serious"}, {"4B", 3, 1, "medium"},
		{"1C", 0, 2, "high"}, {"2C", 1, 2, "serious"}, {"3C", 2, 2, "medium"}, {"4C", 3, 2, "low"},
		{"1D", 0, 3, "serious"}, {"2D", 1, 3, "medium"}, {"3D", 2, 3, "medium"}, {"4D", 3, 3, "low"},
		{"1E", 0, 4, "medium"}, {"2E", 1, 4, "medium"}, {"3E", 2, 4, "medium"}, {"4E", 3, 4, "low"},
		{"1F", 0, 5, "eliminated"}, {"2F", 1, 5, "eliminated"}, {"3F", 2, 5, "eliminated"}, {"4F", 3, 5, "eliminated"},
	} {
		assert.Equal(t, c.want, rules.RiskOf(c.severity, c.level).String(), c.cell)
	}
	assert.Equal(t, []string{"catastrophic", "critical", "marginal", "negligible"}, rules.Severities)
	assert.Equal(t, []string{"frequent", "probable", "occasional", "remote", "improbable", "eliminated"}, rules.Levels)
}

// TestAnEdgeOfABandBelongsToTheWorseLevel: the bands are those of MIL-STD-882D, appendix A,
// table A-II; to which level an edge belongs the standard leaves open.
func TestAnEdgeOfABandBelongsToTheWorseLevel(t *testing.T) {
	below := func(p float64) float64 { return math.Nextafter(p, 0) }
	for _, c := range []struct {
		p    float64
		want string
	}{
		{1, "frequent"}, {0.1, "frequent"},
		{below(0.1), "probable"}, {0.01, "probable"},
		{below(0.01), "occasional"}, {0.001, "occasional"},
		{below(0.001), "remote"}, {1e-6, "remote"},
		{below(1e-6), "improbable"}, {0, "improbable"},
	} {
		assert.Equal(t, c.want, rules.Levels[rules.LevelOf(c.p)], "%g", c.p)
	}
}
