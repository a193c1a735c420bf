package finish_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/coat"
	"mendwright/engine/finish"
	"mendwright/knowledge"
	"mendwright/rules/interval"
)

func exact(v float64) *interval.Range { return &interval.Range{Lo: v, Hi: v} }

func between(lo, hi float64) *interval.Range { return &interval.Range{Lo: lo, Hi: hi} }

// asker asks questions of the built-in tables.
func asker(t *testing.T) (func(finish.Question) *finish.Answer, coat.Tables) {
	t.Helper()
	k, err := knowledge.Load()
	require.NoError(t, err)
	tables, err := knowledge.CoatTables(k.Book)
	require.NoError(t, err)
	return func(q finish.Question) *finish.Answer {
		a, err := finish.Judge(k.Book, tables, q)
		require.NoError(t, err, "%+v", q)
		return a
	}, tables
}

// fair is a question on a day that suits nearly all.
func fair(coat string) finish.Question {
	return finish.Question{Coat: coat, Way: "brush", Air: exact(20), Humidity: exact(55), Surface: exact(19)}
}

func but(q finish.Question, change func(*finish.Question)) finish.Question {
	change(&q)
	return q
}

func TestOnlyWhatIsAskedIsAnswered(t *testing.T) {
	ask, _ := asker(t)
	for _, c := range []struct {
		that                                 string
		q                                    finish.Question
		weather, ground, next, times, amount bool
	}{
		{"a coat alone: what its label says", finish.Question{Coat: "shellac"}, false, false, false, true, true},
		{"weather", fair("shellac"), true, false, false, true, false},
		{"over what", finish.Question{Coat: "shellac", Over: "varnish"}, false, true, false, false, false},
		{"how much", finish.Question{Coat: "shellac", Area: exact(1)}, false, false, false, false, true},
		{"the next coat", but(fair("shellac"), func(q *finish.Question) { q.Since = exact(5) }), true, false, true, true, false},
		{"the next coat over its own finish", but(fair("shellac"), func(q *finish.Question) { q.Since, q.Over = exact(5), "shellac" }), true, true, true, true, false},
		{"over another finish the time is that of the old one", but(fair("shellac"), func(q *finish.Question) { q.Since, q.Over = exact(5), "varnish" }), true, true, false, true, false},
	} {
		a := ask(c.q)
		got := []bool{a.Weather != nil, a.Ground != nil, a.Next != nil, a.Times != nil, a.Amount != nil}
		assert.Equal(t, []bool{c.weather, c.ground, c.next, c.times, c.amount}, got, c.that)
		assert.Nil(t, a.Choices, c.that)
	}
	assert.Empty(t, ask(finish.Question{Coat: "shellac"}).Verdict, "nothing was judged")
}

func TestTheWorstPartDecides(t *testing.T) {
	ask, _ := asker(t)
	for _, c := range []struct {
		that string
		q    finish.Question
		want finish.Verdict
	}{
		{"a fair day", fair("varnish"), finish.Go},
		{"nothing holds on wax, and no weather mends that", but(fair("varnish"), func(q *finish.Question) { q.Over, q.Humidity = "wax", exact(99) }), finish.No},
		{"too damp", but(fair("varnish"), func(q *finish.Question) { q.Humidity = exact(90) }), finish.Wait},
		{"perhaps too damp", but(fair("varnish"), func(q *finish.Question) { q.Humidity = between(75, 90) }), finish.NotKnown},
		{"cold slows it", but(fair("varnish"), func(q *finish.Question) { q.Air, q.Surface = exact(9), exact(9) }), finish.Care},
		{"perhaps slow is a matter of care", but(fair("varnish"), func(q *finish.Question) { q.Air, q.Surface = between(9, 12), exact(11) }), finish.Care},
		{"no time", but(fair("varnish"), func(q *finish.Question) { q.Time = exact(10) }), finish.Wait},
		{"perhaps enough time", but(fair("varnish"), func(q *finish.Question) { q.Time = between(10, 100) }), finish.NotKnown},
		{"too soon", but(fair("varnish"), func(q *finish.Question) { q.Since = exact(2) }), finish.Wait},
		{"a film that cracks", finish.Question{Coat: "lacquer", Coats: &coat.Span{Lo: 20, Hi: 20}}, finish.No},
		{"no row for the pair", finish.Question{Coat: "catalysed", Over: "varnish"}, finish.NotKnown},
		{"sprayed only, and brushed", finish.Question{Coat: "shellac", Over: "alcohol-dye", Way: "brush"}, finish.No},
		{"sprayed only, and nobody said", finish.Question{Coat: "shellac", Over: "alcohol-dye"}, finish.NotKnown},
		{"sprayed only, and sprayed", finish.Question{Coat: "shellac", Over: "alcohol-dye", Way: "spray"}, finish.Go},
		{"in mist coats", finish.Question{Coat: "lacquer", Over: "varnish", Barrier: true}, finish.Care},
		{"without its barrier", finish.Question{Coat: "lacquer", Over: "varnish"}, finish.Wait},
		{"oil that nobody dated", finish.Question{Coat: "varnish", Over: "oil"}, finish.NotKnown},
	} {
		assert.Equal(t, c.want, ask(c.q).Verdict, c.that)
	}
}

func TestAFreshFilmMustHaveDriedWhateverThePair(t *testing.T) {
	ask, _ := asker(t)
	after := func(h float64) *finish.Answer {
		return ask(but(fair("waterborne"), func(q *finish.Question) { q.Over, q.Since = "shellac", exact(h) }))
	}
	assert.Equal(t, finish.Wait, after(0.2).Ground.Verdict)
	assert.Equal(t, finish.Go, after(24).Ground.Verdict)
	assert.True(t, after(24).Ground.Usual)
	cold := ask(but(fair("waterborne"), func(q *finish.Question) {
		q.Over, q.Since, q.Air, q.Surface = "shellac", exact(1), exact(12), exact(12)
	}))
	assert.Greater(t, cold.Ground.WaitH.Lo, after(1).Ground.WaitH.Lo, "cold makes it longer")
	undated := ask(but(fair("waterborne"), func(q *finish.Question) { q.Over = "shellac" }))
	assert.Equal(t, finish.Go, undated.Verdict, "an old film that nobody dated is no fresh one")
}

func TestABarrierThatMustLieIsNotForgottenOverADryFilm(t *testing.T) {
	ask, _ := asker(t)
	q := but(fair("lacquer"), func(q *finish.Question) { q.Over, q.Since, q.Humidity = "varnish", exact(5000), exact(45) })
	assert.Equal(t, finish.Wait, ask(q).Verdict)
	q.Barrier = true
	assert.Equal(t, finish.Care, ask(q).Verdict)
}

// days deals questions about weather, within what a workshop sees.
func days(rnd *rand.Rand, names []string) finish.Question {
	some := func(lo, hi float64) *interval.Range {
		a, b := lo+rnd.Float64()*(hi-lo), lo+rnd.Float64()*(hi-lo)
		if rnd.IntN(3) == 0 {
			b = a
		}
		return between(min(a, b), max(a, b))
	}
	return finish.Question{
		Coat: names[rnd.IntN(len(names))], Way: []string{"", "brush", "spray"}[rnd.IntN(3)],
		Air: some(5, 35), Humidity: some(25, 98), Surface: some(3, 35), Since: some(0, 100), Time: some(1, 200),
	}
}

func within(rnd *rand.Rand, r *interval.Range) *interval.Range {
	a, b := r.Lo+rnd.Float64()*(r.Hi-r.Lo), r.Lo+rnd.Float64()*(r.Hi-r.Lo)
	return between(min(a, b), max(a, b))
}

func coatNames(t coat.Tables) (out []string) {
	for _, c := range t.Coats {
		out = append(out, c.Name)
	}
	return out
}

const tries = 3000

func TestACloserMeasurementNeverContradictsAVerdict(t *testing.T) {
	ask, tables := asker(t)
	rnd := rand.New(rand.NewPCG(1, 2))
	seen := map[finish.Verdict]int{}
	for range tries {
		q := days(rnd, coatNames(tables))
		if rnd.IntN(2) == 0 {
			q.Humidity = nil
		}
		if rnd.IntN(2) == 0 {
			q.Since, q.Time = nil, nil
		}
		wide := ask(q)
		seen[wide.Verdict]++
		humidity := between(0, 100)
		if q.Humidity != nil {
			humidity = q.Humidity
		}
		q.Air, q.Surface, q.Humidity = within(rnd, q.Air), within(rnd, q.Surface), within(rnd, humidity)
		if q.Since != nil {
			q.Since, q.Time = within(rnd, q.Since), within(rnd, q.Time)
		}
		if q.Way == "" {
			q.Way = []string{"brush", "spray"}[rnd.IntN(2)]
		}
		narrow := ask(q)
		switch wide.Verdict {
		case finish.Go:
			require.Equal(t, finish.Go, narrow.Verdict, "%+v", q)
		case finish.Care:
			require.True(t, narrow.Verdict.May(), "%+v", q)
		case finish.Wait:
			require.Equal(t, finish.Wait, narrow.Verdict, "%+v", q)
		}
	}
	for _, v := range []finish.Verdict{finish.Go, finish.Care, finish.NotKnown, finish.Wait} {
		assert.Greater(t, seen[v], tries/100, "%s came up %d times", v, seen[v])
	}
}

// What an answer asks for is enough: done, it lifts the reason.
func TestWhoDoesWhatIsAskedMayCoat(t *testing.T) {
	ask, tables := asker(t)
	rnd := rand.New(rand.NewPCG(3, 4))
	mended, dried := 0, 0
	for range tries {
		q := days(rnd, coatNames(tables))
		q.Since, q.Time = nil, nil
		a := ask(q)
		if a.Weather.Verdict.May() {
			continue
		}
		todo, byDrying := q, true
		aired := false
		for _, u := range a.Weather.Until {
			apply(&todo, u)
			aired = aired || u.Of == "air"
			byDrying = byDrying && u.OrHumidity != nil
		}
		if aired {
			continue // warmer air holds another dew point
		}
		require.True(t, ask(todo).Weather.Verdict.May(), "%+v after %+v", todo, a.Weather.Until)
		mended++
		if byDrying {
			drier := q
			most := *a.Weather.Until[0].OrHumidity
			drier.Humidity = between(0, most)
			require.NotContains(t, dews(ask(drier).Weather.Reasons), finish.Wait, "%+v", drier)
			dried++
		}
	}
	assert.Greater(t, mended, tries/20)
	assert.Greater(t, dried, tries/100)
}

// apply brings a quantity to where an answer wants it.
func apply(q *finish.Question, u finish.Until) {
	to := map[string]**interval.Range{"surface": &q.Surface, "humidity": &q.Humidity, "air": &q.Air}[u.Of]
	r := **to
	switch u.Side {
	case coat.AtLeast.String():
		r = interval.Range{Lo: max(r.Lo, u.At), Hi: max(r.Hi, u.At)}
	case coat.AtMost.String():
		r = interval.Range{Lo: min(r.Lo, u.At), Hi: min(r.Hi, u.At)}
	default:
		r = interval.Range{Lo: min(r.Lo, u.At-1e-6), Hi: min(r.Hi, u.At-1e-6)}
	}
	*to = &r
}

func dews(reasons []finish.Reason) (out []finish.Verdict) {
	for _, r := range reasons {
		if r.Of == "dew-margin" {
			out = append(out, r.Verdict)
		}
	}
	return out
}

func TestARankingAgreesWithItsCoats(t *testing.T) {
	ask, tables := asker(t)
	rnd := rand.New(rand.NewPCG(5, 6))
	order := map[finish.Verdict]int{finish.Go: 1, finish.Care: 2, finish.NotKnown: 3, finish.Wait: 4, finish.No: 5}
	for range tries / 20 {
		q := days(rnd, []string{""})
		q.Since = nil
		q.Over = []string{"", "wax", "varnish", "shellac", finish.Bare}[rnd.IntN(5)]
		a := ask(q)
		require.Len(t, a.Choices, len(tables.Coats))
		require.Equal(t, a.Choices[0].Verdict, a.Verdict, "the best of them is the answer")
		last := 0
		for _, c := range a.Choices {
			require.GreaterOrEqual(t, order[c.Verdict], last, "%+v", q)
			last = order[c.Verdict]
			q.Coat = c.Coat
			require.Equal(t, ask(q).Verdict, c.Verdict, "%s of %+v", c.Coat, q)
		}
		q.Coat = ""
	}
}

func TestTheReasonsNameWhatIsWrong(t *testing.T) {
	ask, _ := asker(t)
	w := ask(but(fair("waterborne"), func(q *finish.Question) { q.Air, q.Surface, q.Humidity = exact(20), exact(14), exact(75) })).Weather
	assert.Equal(t, finish.Wait, w.Verdict)
	assert.InDelta(t, 15.4, w.DewC.Lo, 0.1, "the dew point of 20 °C and 75 %")
	require.Len(t, w.Until, 1)
	assert.Equal(t, "surface", w.Until[0].Of)
	assert.True(t, w.Until[0].Dew)
	assert.InDelta(t, 18.4, w.Until[0].At, 0.1, "3 °C above it")
	assert.InDelta(t, 14-3, dewAt(t, ask, *w.Until[0].OrHumidity), 0.01, "or air whose dew point lies 3 °C below the wood")
}

func dewAt(t *testing.T, ask func(finish.Question) *finish.Answer, humidity float64) float64 {
	t.Helper()
	return ask(but(fair("oil"), func(q *finish.Question) { q.Humidity = &interval.Range{Lo: humidity, Hi: humidity} })).Weather.DewC.Lo
}

func TestEverythingCitedIsASource(t *testing.T) {
	ask, tables := asker(t)
	cites := func(a *finish.Answer, ids []string) {
		require.NotEmpty(t, ids)
		for _, id := range ids {
			require.Contains(t, a.Sources, id)
			require.NotEmpty(t, a.Sources[id].Kind, id)
		}
	}
	for _, name := range coatNames(tables) {
		a := ask(but(fair(name), func(q *finish.Question) { q.Over, q.Area, q.Since = finish.Bare, exact(1), nil }))
		cites(a, a.Weather.Sources)
		cites(a, a.Times.Sources)
		cites(a, a.Amount.Sources)
	}
	a := ask(finish.Question{Coat: "varnish", Over: "wax"})
	cites(a, a.Ground.Sources)
	assert.Equal(t, []string{"finish-compatibility", "memory"}, a.Ground.Sources)
}

func TestQuestionsThatMakeNoSense(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	tables, err := knowledge.CoatTables(k.Book)
	require.NoError(t, err)
	for _, c := range []struct {
		q    finish.Question
		says string
	}{
		{finish.Question{}, "temperature of the air is not given"},
		{finish.Question{Coat: "varnish", Since: exact(3)}, "temperature of the air is not given"},
		{finish.Question{Coat: "blancmange"}, `there is no coat "blancmange"`},
		{but(fair("varnish"), func(q *finish.Question) { q.Humidity = exact(130) }), "the humidity reads 130 %"},
		{but(fair("varnish"), func(q *finish.Question) { q.Air = exact(99) }), "the air reads 99 °C"},
		{but(fair("varnish"), func(q *finish.Question) { q.Surface = exact(99) }), "the surface reads 99 °C"},
		{but(fair("varnish"), func(q *finish.Question) { q.Since = exact(-1) }), "the time reads -1 h"},
		{but(fair(""), func(q *finish.Question) { q.Time = exact(-1) }), "the time reads -1 h"},
		{finish.Question{Coat: "varnish", Area: exact(-1)}, "the area reads -1 m²"},
		{finish.Question{Coat: "varnish", Area: exact(1), Way: "bucket"}, `"bucket"`},
		{finish.Question{Coat: "varnish", Area: exact(1), Waste: exact(900)}, "the waste reads 900 %"},
		{finish.Question{Coat: "varnish", Area: exact(1), Density: exact(9)}, "the density reads 9 g/mL"},
		{finish.Question{Coat: "varnish", Solids: exact(120)}, "solids by volume reads 120 %"},
		{finish.Question{Coat: "shellac", Film: exact(3000)}, "expected at most 60 coats"},
		{finish.Question{Coat: "varnish", Coats: &coat.Span{Lo: 61, Hi: 61}}, "the number of coats reads 61"},
	} {
		_, err := finish.Judge(k.Book, tables, c.q)
		assert.ErrorContains(t, err, c.says, "%+v", c.q)
	}
}
