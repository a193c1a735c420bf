package finish_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/coat"
	"mendwright/engine/finish"
)

func TestWhatToBuyIsReckonedThroughLossAndWaste(t *testing.T) {
	ask, tables := asker(t)
	c, err := tables.Coat("varnish")
	require.NoError(t, err)
	b := ask(finish.Question{Coat: "varnish", Way: "brush", Area: exact(2), Coats: &coat.Span{Lo: 3, Hi: 3}, Density: exact(0.9)}).Amount.Buy
	assert.InDelta(t, 2*3/c.Rate.Hi/0.9*1.1, b.Litres.Lo, 1e-12, "a tenth is lost and a tenth added")
	assert.InDelta(t, 2*3/c.Rate.Lo/0.8*1.1, b.Litres.Hi, 1e-12)
	assert.InDelta(t, b.Litres.Lo*900, b.Grams.Lo, 1e-9)
	assert.InDelta(t, 2/c.Rate.Hi/0.9, b.PerCoatL.Lo, 1e-12, "one coat, without waste")
	none := ask(finish.Question{Coat: "varnish", Way: "brush", Area: exact(2), Coats: &coat.Span{Lo: 3, Hi: 3}, Waste: exact(0)}).Amount.Buy
	assert.InDelta(t, b.Litres.Hi/1.1, none.Litres.Hi, 1e-12)
	assert.Nil(t, none.Grams, "no density, no mass")
}

func TestAWayThatNobodySaidSpansThemAll(t *testing.T) {
	ask, tables := asker(t)
	q := finish.Question{Coat: "shellac", Area: between(0.8, 1.2)}
	any := ask(q).Amount.Buy
	assert.True(t, any.AnyWay)
	for way := range tables.Losses {
		q.Way = way
		b := ask(q).Amount.Buy
		assert.False(t, b.AnyWay)
		assert.True(t, b.Litres.Within(any.Litres), "%s: %v in %v", way, b.Litres, any.Litres)
	}
}

func TestBareWoodDrinksAndAFilmDoesNot(t *testing.T) {
	ask, _ := asker(t)
	film := func(over string) *finish.Amount {
		return ask(finish.Question{Coat: "varnish", Over: over, Coats: &coat.Span{Lo: 2, Hi: 2}}).Amount
	}
	bare, varnish, unsaid := film(finish.Bare).FilmUM, film("varnish").FilmUM, film("").FilmUM
	assert.Equal(t, 25*1.5-5, bare.Lo, "half of the first coat sinks in, and the scuff takes its share")
	assert.Equal(t, 25*2-5.0, varnish.Lo)
	assert.True(t, bare.Within(*unsaid) && varnish.Within(*unsaid), "nobody said: it may be either")
}

func TestTheCoatsThatAFilmTakesReachIt(t *testing.T) {
	ask, _ := asker(t)
	for _, name := range []string{"varnish", "polyurethane", "shellac", "lacquer", "waterborne"} {
		want := between(60, 60)
		a := ask(finish.Question{Coat: name, Film: want, Over: finish.Bare}).Amount
		assert.Equal(t, "film", a.CoatsFrom, name)
		n := coat.Span{Lo: a.Coats.Hi, Hi: a.Coats.Hi}
		assert.Equal(t, "yes", ask(finish.Question{Coat: name, Film: want, Coats: &n, Over: finish.Bare}).Amount.Enough, "%s: that many will do", name)
		if a.Coats.Lo > 1 {
			n = coat.Span{Lo: a.Coats.Lo - 1, Hi: a.Coats.Lo - 1}
			assert.Equal(t, "no", ask(finish.Question{Coat: name, Film: want, Coats: &n, Over: finish.Bare}).Amount.Enough, "%s: one less will not", name)
		}
	}
}

func TestSolidsOfTheOwnDataSheetReplaceTheTypicalOnes(t *testing.T) {
	ask, _ := asker(t)
	typical := ask(finish.Question{Coat: "waterborne", Coats: &coat.Span{Lo: 1, Hi: 1}}).Amount
	own := ask(finish.Question{Coat: "waterborne", Coats: &coat.Span{Lo: 1, Hi: 1}, Solids: exact(40)}).Amount
	assert.False(t, typical.SolidsSet)
	assert.True(t, own.SolidsSet)
	assert.Equal(t, 75*0.4, own.DryUM.Lo, "the wet film of the table, dried to them")
}

func TestFilmsThatCannotBeCountedSayWhy(t *testing.T) {
	ask, _ := asker(t)
	for _, name := range []string{"oil", "wax", "wiping-varnish"} {
		a := ask(finish.Question{Coat: name, Film: exact(50)}).Amount
		assert.NotEmpty(t, a.Uncounted, name)
		assert.Nil(t, a.FilmUM, name)
		assert.Empty(t, a.Enough, name)
	}
}
