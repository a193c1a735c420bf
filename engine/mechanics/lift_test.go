package mechanics_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/mechanics"
	"mendwright/rules/interval"
)

// bench is a table of frequencies with round figures of its own.
func bench() mechanics.Tables {
	return mechanics.Tables{Frequencies: []mechanics.Frequency{
		{PerMinute: 0.2, Below: [3]float64{0.8, 0.9, 1}, At: [3]float64{0.8, 0.9, 1}},
		{PerMinute: 5, Below: [3]float64{0.3, 0.6, 0.8}, At: [3]float64{0.4, 0.6, 0.8}},
		{PerMinute: 15, Below: [3]float64{0, 0, 0}, At: [3]float64{0, 0.1, 0.3}},
	}}
}

// easy is a lift in which everything is best.
func easy() mechanics.Lift {
	return mechanics.Lift{Reach: exact(25), Height: exact(75), Travel: exact(25), PerMinute: exact(0.1), Spell: mechanics.UpToOneHour, Grip: mechanics.Good}
}

func limit(t *testing.T, change func(*mechanics.Lift)) mechanics.Limit {
	t.Helper()
	l := easy()
	if change != nil {
		change(&l)
	}
	got, err := bench().Limit(l)
	require.NoError(t, err)
	return got
}

func TestWhatLowersALift(t *testing.T) {
	assert.InDelta(t, 23, limit(t, nil).Mass.Lo, 1e-12)
	for _, c := range []struct {
		says   string
		change func(*mechanics.Lift)
		times  float64
	}{
		{"arms stretched", func(l *mechanics.Lift) { l.Reach = exact(50) }, 0.5},
		{"nearer than the equation knows", func(l *mechanics.Lift) { l.Reach = exact(10) }, 1},
		{"out of reach", func(l *mechanics.Lift) { l.Reach = exact(64) }, 0},
		{"from the floor", func(l *mechanics.Lift) { l.Height = exact(0) }, 0.775},
		{"as far above", func(l *mechanics.Lift) { l.Height = exact(150) }, 0.775},
		{"above the head", func(l *mechanics.Lift) { l.Height = exact(176) }, 0},
		{"a long way up", func(l *mechanics.Lift) { l.Travel = exact(100) }, 0.865},
		{"hardly any way", func(l *mechanics.Lift) { l.Travel = exact(0) }, 1},
		{"too far up", func(l *mechanics.Lift) { l.Travel = exact(176) }, 0},
		{"turned to the side", func(l *mechanics.Lift) { l.Turn = exact(90) }, 0.712},
		{"turned to the back", func(l *mechanics.Lift) { l.Turn = exact(136) }, 0},
		{"no grip", func(l *mechanics.Lift) { l.Grip = mechanics.Poor }, 0.9},
		{"a fair grip at hand height", func(l *mechanics.Lift) { l.Grip = mechanics.Fair }, 1},
		{"a fair grip lower down", func(l *mechanics.Lift) { l.Grip = mechanics.Fair; l.Height = exact(65) }, 0.95 * 0.97},
		{"five times a minute", func(l *mechanics.Lift) { l.PerMinute = exact(5) }, 0.8},
		{"halfway between rows", func(l *mechanics.Lift) { l.PerMinute = exact(2.6) }, 0.9},
		{"five times a minute all day", func(l *mechanics.Lift) { l.PerMinute = exact(5); l.Spell = mechanics.UpToEightHours }, 0.4},
		{"the same from lower down", func(l *mechanics.Lift) {
			l.PerMinute = exact(5)
			l.Spell = mechanics.UpToEightHours
			l.Height = exact(65)
		}, 0.3 * 0.97},
		{"without a pause", func(l *mechanics.Lift) { l.PerMinute = exact(16) }, 0},
		{"two things at once", func(l *mechanics.Lift) { l.Reach = exact(50); l.Turn = exact(90) }, 0.5 * 0.712},
	} {
		assert.InDelta(t, 23*c.times, limit(t, c.change).Mass.Lo, 1e-9, c.says)
	}
}

// Height steers three multipliers at once; only heights in the range may be combined.
func TestTheHeightCountsOnce(t *testing.T) {
	change := func(l *mechanics.Lift) {
		l.Grip, l.Spell, l.PerMinute = mechanics.Fair, mechanics.UpToEightHours, exact(5)
	}
	whole := limit(t, func(l *mechanics.Lift) { change(l); l.Height = between(60, 110) })
	at := func(cm float64) interval.Range {
		return limit(t, func(l *mechanics.Lift) { change(l); l.Height = exact(cm) }).Mass
	}
	assert.InDelta(t, at(75).Hi, whole.Mass.Hi, 1e-12, "the best is at 75 cm")
	assert.InDelta(t, min(at(60).Lo, at(110).Lo), whole.Mass.Lo, 1e-12)
	assert.Greater(t, whole.Mass.Lo, 23*whole.Height.Lo*whole.Grip.Lo*whole.Frequency.Lo, "the worst of each lies at different heights")
	for cm := 60.0; cm <= 110; cm++ {
		assert.True(t, at(cm).Within(whole.Mass), "%v cm", cm)
	}
}

func TestHowHardALiftIs(t *testing.T) {
	l := limit(t, func(l *mechanics.Lift) { l.Reach = between(25, 50) })
	index, err := l.Index(between(11.5, 23))
	require.NoError(t, err)
	assert.InDelta(t, 0.5, index.Lo, 1e-12)
	assert.InDelta(t, 2, index.Hi, 1e-12)
	_, err = limit(t, func(l *mechanics.Lift) { l.Reach = between(50, 70) }).Index(exact(10))
	assert.ErrorContains(t, err, "may be 0 kg")
	_, err = l.Index(exact(-1))
	assert.ErrorContains(t, err, "load")
}

func TestALiftMustBeDescribed(t *testing.T) {
	_, err := bench().Limit(mechanics.Lift{})
	assert.ErrorContains(t, err, "read 0 cm for the reach; expected between 1 and 150 cm")
	for _, change := range []func(*mechanics.Lift){
		func(l *mechanics.Lift) { l.Spell = 3 }, func(l *mechanics.Lift) { l.Spell = -1 },
		func(l *mechanics.Lift) { l.Grip = 3 }, func(l *mechanics.Lift) { l.Grip = -1 },
	} {
		l := easy()
		change(&l)
		_, err := bench().Limit(l)
		assert.ErrorContains(t, err, "spell or grip")
	}
	_, err = mechanics.Tables{}.Limit(easy())
	assert.ErrorContains(t, err, "table of frequencies")
	assert.Equal(t, mechanics.Poor, mechanics.Lift{}.Grip, "what is not said counts as the worst")
	assert.Equal(t, mechanics.UpToEightHours, mechanics.Lift{}.Spell)
}

func TestReachGuessedFromTheLoad(t *testing.T) {
	one := must(t)
	assert.Equal(t, exact(40), one(mechanics.Reach(exact(40), exact(80))))
	assert.Equal(t, exact(45), one(mechanics.Reach(exact(40), exact(0))), "bent down, the load stands further out")
	assert.Equal(t, exact(40), one(mechanics.Reach(exact(40), exact(25))))
	assert.Equal(t, between(40, 45), one(mechanics.Reach(exact(40), between(0, 80))))
}

func TestATeamLiftsLessThanItsSum(t *testing.T) {
	one := must(t)
	assert.Equal(t, exact(20), one(mechanics.Team(exact(20))))
	assert.InDelta(t, 26.667, one(mechanics.Team(exact(20), exact(20))).Lo, 1e-3)
	assert.InDelta(t, 30, one(mechanics.Team(exact(20), exact(20), exact(20))).Lo, 1e-12)
	for _, each := range [][]interval.Range{nil, make([]interval.Range, 4)} {
		_, err := mechanics.Team(each...)
		assert.ErrorContains(t, err, "expected one, two or three")
	}
	_, err := mechanics.Team(exact(20), exact(-20))
	assert.ErrorContains(t, err, "limit of one person")
}
