package screen

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/coat"
	"mendwright/engine/finish"
	"mendwright/knowledge"
	"mendwright/rules/interval"
)

func TestWhoBuysByTheUpperFigureDoesNotRunShort(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		want   string
	}{
		{0.3129, 0.5015, "310 to 510 ml"},
		{0.5, 0.5, "500 ml"}, // an even figure stays as it is
		{0.996, 0.999, "990 to 1000 ml"},
		{0.95, 1.02, "0.95 to 1.1 L"},
		{12.31, 18.01, "12 to 19 L"},
		{0.0123, 0.0129, "12 to 13 ml"},
		{0, 0, "0 ml"},
	} {
		got := strings.ReplaceAll(boughtLitres(interval.Range{Lo: c.lo, Hi: c.hi}), "\u00a0", " ")
		assert.Equal(t, c.want, got)
	}
	assert.Equal(t, "330 to 760 g", strings.ReplaceAll(boughtGrams(interval.Range{Lo: 331, Hi: 752}), "\u00a0", " "))
	assert.Equal(t, "0.91 to 1.3 kg", strings.ReplaceAll(boughtGrams(interval.Range{Lo: 912, Hi: 1240}), "\u00a0", " "))
}

func TestABoundIsRoundedToTheSideOnWhichItHolds(t *testing.T) {
	assert.Equal(t, "17", bounded("at least", 16.01))
	assert.Equal(t, "16", bounded("at least", 16))
	assert.Equal(t, "16", bounded("at least", 13.000000000001+3))
	assert.Equal(t, "64", bounded("at most", 64.99))
	assert.Equal(t, "65", bounded("at most", 64.9999999999999))
	assert.Equal(t, "70", bounded("below", 70))
}

func TestAWaitIsSaidInTheUnitOfItsLength(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		want   string
	}{
		{0.083, 0.083, "5 min"},
		{0.5, 1, "30 to 60 min"},
		{0.5, 2, "30 min to 2 h"},
		{2, 4, "2 to 4 h"},
		{24, 24, "24 h"},
		{24, 72, "24 to 72 h"},
		{24, 168, "24 h to 7 days"},
		{0.5, 168, "30 min to 7 days"},
		{336, 672, "14 to 28 days"},
		{0, 22, "0 to 22 h"},
		{41.8, 42.1, "42 h"},
	} {
		assert.Equal(t, c.want, strings.ReplaceAll(hours(interval.Range{Lo: c.lo, Hi: c.hi}), "\u00a0", " "))
	}
}

func TestWoodBelowTheDewPointIsSaidToBeWet(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		want   string
	}{
		{3, 5, "3 to 5 °C above that"},
		{-2, 1, "between 2 °C below and 1 °C above that"},
		{-3, -1, "1 to 3 °C below that, and so is wet"},
	} {
		assert.Equal(t, c.want, strings.ReplaceAll(aboveDew(interval.Range{Lo: c.lo, Hi: c.hi}), "\u00a0", " "))
	}
}

func TestWhatIsAskedIsAnOrderOnlyWhereItIsCertain(t *testing.T) {
	damp := finish.Until{Of: "humidity", Side: "at most", At: 65.4, Certain: true}
	wood := finish.Until{Of: "surface", Side: "at least", At: 16.2, Certain: true, Dew: true}
	for _, c := range []struct {
		u    finish.Until
		want string
	}{
		{damp, "wait until the humidity is at most 65 %"},
		{finish.Until{Of: "humidity", Side: "at most", At: 65.4}, "make sure that the humidity is at most 65 %"},
		{finish.Until{Of: "humidity", Side: "at most", At: 65, Sprayed: true}, "make sure that the humidity is at most 65 %, or brush it"},
		{finish.Until{Of: "humidity", Side: "at least", At: 50, Certain: true}, "wait until the humidity is at least 50 %, or it dries before it flows out"},
		{wood, "warm the wood to at least 17 °C, 3 °C above the dew point"},
		{finish.Until{Of: "surface", Side: "at most", At: 32}, "make sure that the wood is at most 32 °C"},
		{finish.Until{Of: "air", Side: "at most", At: 32, Certain: true}, "let the air cool to at most 32 °C"},
		{finish.Until{Of: both, Side: "at least", At: 10, Certain: true}, "warm air and wood to at least 10 °C"},
	} {
		assert.Equal(t, c.want, strings.ReplaceAll(untilWords(c.u), "\u00a0", " "))
	}
}

func TestAirAndWoodAreWarmedTogether(t *testing.T) {
	air, wood := finish.Until{Of: "air", Side: "at least", At: 10}, finish.Until{Of: "surface", Side: "at least", At: 10, Certain: true}
	got := airWithWood([]finish.Until{air, wood})
	require.Len(t, got, 1)
	assert.Equal(t, both, got[0].Of)
	assert.True(t, got[0].Certain)
	wood.At = 12
	assert.Len(t, airWithWood([]finish.Until{air, wood}), 2, "another bound is another step")
	wood.At, wood.Dew = 10, true
	assert.Len(t, airWithWood([]finish.Until{air, wood}), 2, "the dew point is a reason of its own")
}

// coatScreens are all that can be said of every coat over every old finish, on three days.
func coatScreens(t *testing.T) (out []screenful) {
	t.Helper()
	k := loaded(t)
	tables, err := knowledge.CoatTables(k.Book)
	require.NoError(t, err)
	exact := func(v float64) *interval.Range { return &interval.Range{Lo: v, Hi: v} }
	olds := map[string]bool{"": true}
	for _, o := range tables.Over {
		olds[o.Old] = true
	}
	for old := range olds {
		for _, c := range append(tables.Coats, coat.Coat{}) {
			q := finish.Question{Coat: c.Name, Over: old, Air: exact(18), Since: exact(30), Time: exact(60)}
			if c.Name != "" {
				q.Area, q.Film = exact(1.2), exact(40)
			}
			for _, humidity := range []*interval.Range{nil, exact(60), exact(90)} {
				q.Humidity = humidity
				a, err := finish.Judge(k.Book, tables, q)
				require.NoError(t, err, "%s over %s", c.Name, old)
				out = append(out, screenful{c.Name + " over " + old, func(p *Page) { Coat(p, a) }})
			}
		}
	}
	return out
}

func TestEveryAnswerAboutACoatFitsAndSaysItsVerdictFirst(t *testing.T) {
	screens := coatScreens(t)
	require.Greater(t, len(screens), 400)
	for _, s := range screens {
		for _, width := range []int{40, 48, 80} {
			text := s.at(width)
			for line := range strings.SplitSeq(text, "\n") {
				require.LessOrEqual(t, len([]rune(line)), width, "%s at %d: %q", s.name, width, line)
			}
			first, _, _ := strings.Cut(text, "\n\n")
			require.Regexp(t, `:\s+[A-Z0-9]`, first, "%s: the verdict comes first", s.name)
			require.NotContains(t, text, "NaN")
			require.NotContains(t, text, "%!")
			require.NotContains(t, text, ": \n")
		}
	}
}
