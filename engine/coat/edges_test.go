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
