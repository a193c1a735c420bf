package coat_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/coat"
	"mendwright/rules/interval"
)

func TestARangeIsOutIfEitherEndIs(t *testing.T) {
	for _, wet := range []interval.Range{between(-1, 10), between(10, 6000), between(-1, 6000)} {
		_, err := coat.Dry(wet, exact(50))
		assert.ErrorContains(t, err, "the wet film reads", "%v", wet)
	}
	for _, wet := range []interval.Range{exact(0), exact(5000), between(0, 5000)} {
		_, err := coat.Dry(wet, exact(50))
		assert.NoError(t, err, "%v", wet)
	}
	_, err := coat.Rate(exact(50), between(0, 10))
	assert.ErrorContains(t, err, "the dry film reads from 0 µm", "one end at 0 is enough")
	_, err = coat.Dry(between(-2, 3), exact(50))
	assert.ErrorContains(t, err, "-2 to 3 µm")
}

func TestScuffingMustTakeLessThanAnyCoatLeaves(t *testing.T) {
	_, err := coat.Build{Coat: between(10, 30), Scuff: between(2, 12)}.Total(2)
	assert.ErrorContains(t, err, "up to 12 µm and a coat leaves from 10 µm")
	_, err = coat.Build{Coat: between(10, 30), Scuff: between(2, 9)}.Total(2)
	assert.NoError(t, err)
}

func TestSixtyCoatsAreTheMostThatAreCounted(t *testing.T) {
	b := coat.Build{Coat: exact(1)}
	total, err := b.Total(coat.MostCoats)
	require.NoError(t, err)
	assert.Equal(t, exact(60), total)
	count, err := b.Coats(exact(60))
	require.NoError(t, err)
	assert.Equal(t, coat.Span{Lo: 60, Hi: 60}, count)
	_, err = b.Coats(exact(60.1))
	assert.Error(t, err)
	_, err = b.Coats(between(10, 61))
	assert.ErrorContains(t, err, "at most 60 coats", "if it may take more, it is not known to do")
	many := slow
	_, _, err = many.Schedule(coat.MostCoats, exact(23), exact(50))
	assert.NoError(t, err)
	_, _, err = many.Schedule(coat.MostCoats+1, exact(23), exact(50))
	assert.Error(t, err)
}

func TestAFilmOnItsLimitIsNotBeyondIt(t *testing.T) {
	get := must[coat.Truth](t)
	assert.Equal(t, coat.No, get(coat.TooThick(between(10, 125), exact(125))))
	assert.Equal(t, coat.Unknown, get(coat.TooThick(exact(125), between(75, 125))))
	assert.Equal(t, coat.Unknown, get(coat.TooThick(between(10, 130), exact(125))))
}

func TestASheetOnTheEdgeOfWhatItNeeds(t *testing.T) {
	for _, c := range []struct {
		printed interval.Range
		fits    bool
	}{
		{between(10, 24.9), false}, {between(10, 25), true}, {between(30, 35), true}, {between(50, 60), true}, {between(50.1, 60), false},
	} {
		sheet, err := coat.CheckSheet(c.printed, exact(100), between(25, 50))
		require.NoError(t, err)
		assert.Equal(t, c.fits, sheet.Fits, "%v", c.printed)
	}
	sheet, err := coat.CheckSheet(exact(100), exact(40), exact(40))
	require.NoError(t, err)
	assert.Equal(t, exact(100), sheet.Needs, "all of it stays")
	_, err = coat.CheckSheet(exact(100), between(20, 40), exact(30))
	assert.NoError(t, err, "some of the wet films are thick enough")
}

func TestSquaresOfALattice(t *testing.T) {
	get := must[interval.Range](t)
	assert.Equal(t, exact(12), get(coat.SquaresLost(6, exact(3))))
	assert.Equal(t, exact(100), get(coat.SquaresLost(2, exact(1))))
	assert.Equal(t, exact(50), get(coat.SquaresLost(11, exact(50))))
	assert.Equal(t, between(0, 4), get(coat.SquaresLost(6, between(0, 1))))
	_, err := coat.SquaresLost(12, exact(1))
	assert.Error(t, err)
}

func TestAScuffWaitsForBothTheWindowAndTheSandpaper(t *testing.T) {
	c := quick
	c.Bonds, c.Recoat, c.Closes = coat.InWindow, between(10, 20), exact(25)
	for _, k := range []struct {
		sand, since interval.Range
		want        coat.Window
	}{
		{between(30, 40), exact(29), coat.TooSoon},
		{between(30, 40), between(26, 29), coat.TooSoon},
		{between(30, 40), between(26, 31), coat.WindowUnknown},
		{between(30, 40), exact(35), coat.WindowUnknown},
		{between(30, 40), between(35, 45), coat.WindowUnknown},
		{between(30, 40), exact(40), coat.Closed},
		{between(1, 2), exact(26), coat.Closed},
		{between(1, 2), exact(22), coat.Open},
		{between(1, 60), exact(26), coat.WindowUnknown},
	} {
		c.Sand = k.sand
		r, err := c.Recoating(k.since, exact(23), exact(50))
		require.NoError(t, err)
		assert.Equal(t, k.want, r.Window, "%v h, sanded from %v", k.since, k.sand)
	}
	// In the cold a window can close before it opens; then it is waited for and scuffed.
	c.Recoat, c.Sand = between(30, 50), between(28, 45)
	r, err := c.Recoating(exact(29), exact(23), exact(50))
	require.NoError(t, err)
	assert.Equal(t, coat.TooSoon, r.Window)
	assert.Equal(t, coat.Yes, r.Scuff)
	r, err = c.Recoating(exact(40), exact(23), exact(50))
	require.NoError(t, err)
	assert.Equal(t, coat.WindowUnknown, r.Window)
	r, err = c.Recoating(exact(50), exact(23), exact(50))
	require.NoError(t, err)
	assert.Equal(t, coat.Closed, r.Window)
}

func TestTheTimeThereIsHoldsAgainstTheTimeItTakes(t *testing.T) {
	// One coat, dry to the touch after 10 to 20 h.
	c := quick
	c.Name, c.Coats, c.Touch = "one", exact(1), between(10, 20)
	at := fine()
	at.Air = exact(coat.RatedAir)
	for _, k := range []struct {
		available interval.Range
		want      coat.Truth
	}{
		{exact(20), coat.Yes}, {between(20, 30), coat.Yes}, {exact(15), coat.Unknown}, {exact(10), coat.Unknown},
		{exact(9.9), coat.No}, {between(5, 9.9), coat.No}, {between(5, 25), coat.Unknown}, {between(5, 12), coat.Unknown},
	} {
		choices, err := coat.Tables{Coats: []coat.Coat{c}}.Choose(at, k.available)
		require.NoError(t, err)
		assert.Equal(t, k.want, choices[0].InTime, "%v h", k.available)
	}
}

func TestEqualChoicesStandByWhatIsHardSoonestThenByName(t *testing.T) {
	coats := []coat.Coat{quick, quick, quick}
	coats[0].Name, coats[0].Cure = "c", between(50, 210)
	coats[1].Name, coats[1].Cure = "b", between(100, 200)
	coats[2].Name, coats[2].Cure = "a", between(150, 200)
	choices, err := coat.Tables{Coats: coats}.Choose(fine(), exact(1000))
	require.NoError(t, err)
	assert.Equal(t, []string{"a", "b", "c"}, []string{choices[0].Coat, choices[1].Coat, choices[2].Coat}, "by the time at its longest")
}

func TestWordsForWhatWasFound(t *testing.T) {
	assert.Equal(t, "unknown no yes", coat.Unknown.String()+" "+coat.No.String()+" "+coat.Yes.String())
	assert.Equal(t, "unknown sags", coat.HangUnknown.String()+" "+coat.Sags.String())
	assert.Equal(t, "unknown closed", coat.WindowUnknown.String()+" "+coat.Closed.String())
	assert.Equal(t, "undecided wait", coat.Undecided.String()+" "+coat.Wait.String())
	assert.Equal(t, "3", coat.Span{Lo: 3, Hi: 3}.String())
}

func TestThinningOnlyEverLowers(t *testing.T) {
	for _, c := range []struct {
		have, target interval.Range
		ok           bool
	}{
		{exact(4), exact(4), true}, // nothing to add
		{between(4, 8), between(2, 4), true},
		{between(4, 8), between(2, 5), false}, // it may have 4 and want 5
		{between(4, 8), exact(5), false},
		{exact(4), exact(5), false},
	} {
		_, errCut := coat.AlcoholToAdd(exact(1), c.have, c.target)
		_, errThin := coat.ThinnerFor(exact(1), c.have, c.target)
		_, errWater := coat.WaterFor(exact(1), c.have, c.target)
		for _, err := range []error{errCut, errThin, errWater} {
			assert.Equal(t, c.ok, err == nil, "%v to %v: %v", c.have, c.target, err)
		}
	}
}

func TestARateAndAFilmThatMayNeedMoreThanEverything(t *testing.T) {
	got := must[interval.Range](t)(coat.SolidsAt(exact(10), between(50, 150)))
	assert.Equal(t, between(50, 100), got, "cut at everything")
	assert.Equal(t, exact(100), must[interval.Range](t)(coat.SolidsAt(exact(10), exact(100))))
}

func TestUnitsOfOldRecipes(t *testing.T) {
	assert.InDelta(t, 0.946353, coat.USQuart, 1e-6)
	assert.InDelta(t, 0.473176, coat.USPint, 1e-6)
	assert.InDelta(t, 0.0295735, coat.USFluidOunce, 1e-7)
	assert.InDelta(t, 28.3495, coat.Ounce, 1e-4)
	assert.InDelta(t, 0.024542, coat.FromPerGallon(exact(1)).Lo, 1e-6)
	assert.InDelta(t, 63.035, coat.OxalicEquivalent, 1e-9)
}

func TestAPairIsBothItsFinishes(t *testing.T) {
	tables := coat.Tables{Over: []coat.Over{
		{Old: "a", New: "x", Why: "ax"}, {Old: "b", New: "x", Why: "bx"}, {Old: "a", New: "y", Why: "ay"}, {Old: "b", New: "y", Why: "by"},
	}}
	for _, o := range tables.Over {
		got, err := tables.Pair(o.New, o.Old)
		require.NoError(t, err)
		assert.Equal(t, o.Why, got.Why)
	}
	o := coat.Over{May: coat.MayGo, Wait: between(10, 20)}
	now, err := o.Now(exact(10), false)
	require.NoError(t, err)
	assert.Equal(t, coat.Unknown, now, "the shortest wait may be the right one")
}

func TestPencilsAtTheEndsOfTheScale(t *testing.T) {
	softest, hardest := coat.Pencil(0), coat.Pencil(13)
	got, err := coat.Hardness([]coat.Trial{{Pencil: softest}, {Pencil: softest + 1, Marks: true}})
	require.NoError(t, err)
	assert.Equal(t, softest, got)
	_, err = coat.Hardness([]coat.Trial{{Pencil: 3}, {Pencil: 3, Marks: true}})
	assert.ErrorContains(t, err, "try again", "one pencil cannot do both")
	for _, none := range []coat.Pencil{-1, hardest + 1} {
		_, err = coat.Hardness([]coat.Trial{{Pencil: none}})
		assert.ErrorContains(t, err, "the pencil reads")
		assert.Contains(t, none.String(), "Pencil(")
	}
}

func TestASheenThatDiffersByTheWholeTolerance(t *testing.T) {
	get := must[coat.Truth](t)
	assert.Equal(t, coat.Yes, get(coat.SheenMatches(exact(50), exact(40))), "40 counts as shiny")
	assert.Equal(t, coat.No, get(coat.SheenMatches(exact(46), exact(39.9))))
	assert.Equal(t, coat.Yes, get(coat.SheenMatches(exact(50), between(40, 45))))
	assert.Equal(t, coat.Unknown, get(coat.SheenMatches(exact(30), between(36, 40))))
	assert.Equal(t, coat.Yes, get(coat.SheenMatches(exact(36), between(36, 40))))
}

func TestACoatWithoutOneOfItsRangesIsNotJudged(t *testing.T) {
	for _, lack := range []func(*coat.Coat){
		func(c *coat.Coat) { c.Air = interval.Range{} }, func(c *coat.Coat) { c.Humidity = interval.Range{} },
	} {
		c := slow
		lack(&c)
		_, err := c.Judge(fine())
		assert.ErrorContains(t, err, "expected both")
	}
}

func TestReasonsNameTheCoatsOwnLimits(t *testing.T) {
	for _, c := range []struct {
		day  coat.Day
		says string
	}{
		{day(func(d *coat.Day) { d.Surface = exact(5) }), "10 °C"},
		{day(func(d *coat.Day) { d.Surface = exact(35) }), "30 °C"},
		{day(func(d *coat.Day) { d.Humidity = exact(30) }), "40 %"},
	} {
		w, err := thin.Judge(c.day)
		require.NoError(t, err)
		require.Len(t, w.Reasons, 1)
		assert.Contains(t, w.Reasons[0].Why, c.says)
		assert.True(t, w.Reasons[0].Certain)
	}
	w, err := slow.Judge(day(func(d *coat.Day) { d.Humidity = between(80, 85) }))
	require.NoError(t, err)
	assert.Equal(t, []coat.Reason{{Of: "humidity", Verdict: coat.Wait, Why: "damper than it stands, from 85 % on", Until: coat.Bound{Side: coat.Below, At: 85}}}, w.Reasons)
	assert.Equal(t, coat.Undecided, w.Verdict(), "the upper end alone is too damp")
	w, err = slow.Judge(day(func(d *coat.Day) { d.Humidity = between(85, 90) }))
	require.NoError(t, err)
	assert.True(t, w.Reasons[0].Certain)
	w, err = thin.Judge(day(func(d *coat.Day) { d.Humidity = between(30, 40) }))
	require.NoError(t, err)
	assert.False(t, w.Reasons[0].Certain, "the upper end alone is damp enough")
}
