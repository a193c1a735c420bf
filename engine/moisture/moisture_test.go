package moisture_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/moisture"
	"mendwright/rules/interval"
)

func exact(v float64) interval.Range      { return interval.Exact(v) }
func between(a, b float64) interval.Range { return interval.Range{Lo: a, Hi: b} }

func TestTheAlternativeEquationIsUndone(t *testing.T) {
	c := deal()
	for range tries {
		celsius, humidity := exact(c.between(between(-10, 100))), exact(c.between(between(0.1, 95)))
		content, err := moisture.EquilibriumAlt(celsius, humidity)
		require.NoError(t, err)
		back, err := moisture.HumidityAlt(celsius, content)
		require.NoError(t, err)
		assert.InDelta(t, humidity.Lo, back.Lo, 1e-9, "%v at %v", humidity, celsius)
	}
}

// Both equations fit the same measurements, in the air of rooms.
func TestTheTwoEquationsAgreeWithinAPoint(t *testing.T) {
	for celsius := 15.0; celsius <= 35; celsius++ {
		for humidity := 20.0; humidity <= 70; humidity++ {
			a, err := moisture.Equilibrium(exact(celsius), exact(humidity))
			require.NoError(t, err)
			b, err := moisture.EquilibriumAlt(exact(celsius), exact(humidity))
			require.NoError(t, err)
			assert.InDelta(t, a.Lo, b.Lo, 1, "%v °C, %v %%", celsius, humidity)
		}
	}
}

func TestColdAndHotRoomsAreBothDrierThanTheOneBetween(t *testing.T) {
	around, err := moisture.Equilibrium(between(-10, 40), exact(50))
	require.NoError(t, err)
	cold, err := moisture.Equilibrium(exact(-10), exact(50))
	require.NoError(t, err)
	hot, err := moisture.Equilibrium(exact(40), exact(50))
	require.NoError(t, err)
	assert.Greater(t, around.Hi, max(cold.Hi, hot.Hi)+0.1, "the peak lies between the ends")
	assert.InDelta(t, min(cold.Lo, hot.Lo), around.Lo, 1e-12)
}

// The rule of thumb of the trade: 30 % humidity holds 6, 50 % 9, 65 % 12 and 80 % 16.
func TestTheRuleOfThumbHolds(t *testing.T) {
	for humidity, want := range map[float64]float64{30: 6, 50: 9, 65: 12, 80: 16} {
		got, err := moisture.Equilibrium(exact(21), exact(humidity))
		require.NoError(t, err)
		assert.InDelta(t, want, got.Mid(), 0.5, "%v %%", humidity)
	}
}

func TestABoardMoves(t *testing.T) {
	for _, c := range []struct {
		says                      string
		width, coefficient        interval.Range
		from, to                  interval.Range
		wantLo, wantHi, tolerance float64
	}{
		{"nothing without a change", exact(600), exact(0.0025), exact(8), exact(8), 0, 0, 0},
		{"wider when it gets damper", exact(600), exact(0.0025), exact(8), exact(10), 3, 3, 1e-9},
		{"narrower by as much when it dries", exact(600), exact(0.0025), exact(10), exact(8), -3, -3, 1e-9},
		{"either way if the room swings", exact(400), exact(0.003), between(7, 9), exact(8), -1.2, 1.2, 1e-9},
		{"twice as far if twice as wide", exact(1200), exact(0.0025), exact(8), exact(10), 6, 6, 1e-9},
	} {
		got, err := moisture.Movement(c.width, c.coefficient, c.from, c.to)
		require.NoError(t, err, c.says)
		assert.InDelta(t, c.wantLo, got.Lo, c.tolerance, c.says)
		assert.InDelta(t, c.wantHi, got.Hi, c.tolerance, c.says)
	}
}

// Two ways to the same movement: the handbook's coefficients are its shrinkages, related to a board
// of about ten percent.
func TestCoefficientAndShrinkageTellTheSameStory(t *testing.T) {
	for _, c := range []struct {
		timber             string
		whole, coefficient float64
	}{{"cherry", 7.1, 0.00248}, {"sugar maple", 9.9, 0.00353}, {"white oak", 10.5, 0.00365}, {"beech", 11.9, 0.00431}, {"walnut", 7.8, 0.00274}} {
		byShrinkage, err := moisture.MovementByShrinkage(exact(1000), exact(c.whole), exact(10), exact(11))
		require.NoError(t, err)
		byCoefficient, err := moisture.Movement(exact(1000), exact(c.coefficient), exact(10), exact(11))
		require.NoError(t, err)
		assert.InEpsilon(t, byCoefficient.Lo, byShrinkage.Lo, 0.05, c.timber)
	}
}

func TestMovingThereAndBackIsNoMovement(t *testing.T) {
	c := deal()
	for range tries {
		width, whole := exact(c.between(between(10, 2000))), exact(c.between(between(2, 15)))
		from, to := exact(c.between(between(0, 40))), exact(c.between(between(0, 40)))
		out, err := moisture.MovementByShrinkage(width, whole, from, to)
		require.NoError(t, err)
		back, err := moisture.MovementByShrinkage(exact(width.Lo+out.Lo), whole, to, from)
		require.NoError(t, err)
		assert.InDelta(t, 0, out.Lo+back.Lo, 1e-9)
	}
}

func TestAboveSaturationNothingMoves(t *testing.T) {
	s, err := moisture.Shrinkage(exact(10), between(30, 80))
	require.NoError(t, err)
	assert.Equal(t, exact(0), s)
	m, err := moisture.MovementByShrinkage(exact(500), exact(10), exact(35), exact(90))
	require.NoError(t, err)
	assert.Equal(t, exact(0), m)
}

func TestHowABoardIsSawnChoosesTheFigure(t *testing.T) {
	oak := moisture.Timber{Radial: exact(5.6), Tangential: exact(10.5), PerPointTangential: exact(0.00365)}
	for _, c := range []struct {
		sawn moisture.Sawn
		want interval.Range
	}{{moisture.Flat, exact(10.5)}, {moisture.Quarter, exact(5.6)}, {moisture.Unseen, between(5.6, 10.5)}} {
		got, err := oak.Whole(c.sawn)
		require.NoError(t, err)
		assert.Equal(t, c.want, got)
	}
	flat, err := oak.PerPoint(moisture.Flat)
	require.NoError(t, err)
	assert.Equal(t, exact(0.00365), flat)
	for _, s := range []moisture.Sawn{moisture.Quarter, moisture.Unseen} {
		_, err := oak.PerPoint(s)
		assert.ErrorContains(t, err, "no figure", "the radial coefficient is not known")
	}
}

func TestOutsideTheCoefficientsIsAnErrorThatSaysSo(t *testing.T) {
	_, err := moisture.Movement(exact(600), exact(0.0025), exact(4), exact(16))
	assert.ErrorContains(t, err, "read 4 % for the moisture before; expected between 6 and 14 %")
	assert.ErrorContains(t, err, "read 16 % for the moisture after")
	_, err = moisture.Equilibrium(between(20, 140), exact(50))
	assert.ErrorContains(t, err, "read 20 to 140 °C for the temperature; expected between -10 and 100 °C")
}

func TestADentComesUp(t *testing.T) {
	tables := moisture.Tables{Recoveries: map[string]interval.Range{"fresh": between(0.7, 0.9), "cut": exact(0)}}
	fresh, err := tables.Recovery("fresh")
	require.NoError(t, err)
	left, err := moisture.DentLeft(exact(0.5), fresh)
	require.NoError(t, err)
	assert.InDelta(t, 0.05, left.Lo, 1e-12)
	assert.InDelta(t, 0.15, left.Hi, 1e-12)
	cut, err := tables.Recovery("cut")
	require.NoError(t, err)
	left, err = moisture.DentLeft(between(0.3, 0.4), cut)
	require.NoError(t, err)
	assert.Equal(t, between(0.3, 0.4), left, "cut fibres stay down")
	_, err = tables.Recovery("soft")
	assert.ErrorContains(t, err, `"soft"`)
	_, err = moisture.Tables{}.Recovery("fresh")
	assert.ErrorContains(t, err, `"fresh"`)
}

func TestWhatHeatDoesToAFace(t *testing.T) {
	for _, c := range []struct {
		says string
		face interval.Range
		want moisture.Scorch
	}{
		{"a wet cloth boils and keeps the face cool", between(80, 100), moisture.NoScorch},
		{"a dry cloth under a cotton setting browns", between(180, 220), moisture.FaceBrowns},
		{"a little over the boil only dries", between(101, 140), moisture.FaceDries},
		{"browning begins at 150", exact(150), moisture.FaceBrowns},
		{"charring begins at 225", exact(225), moisture.FaceChars},
		{"a heat gun chars", between(300, 600), moisture.FaceChars},
		{"a wide guess settles nothing", between(90, 160), moisture.ScorchUnknown},
		{"nor does one across the limit", between(99, 101), moisture.ScorchUnknown},
	} {
		got, err := moisture.ScorchAt(c.face)
		require.NoError(t, err, c.says)
		assert.Equal(t, c.want, got, c.says)
	}
	_, err := moisture.ScorchAt(exact(2000))
	assert.ErrorContains(t, err, "read 2000 °C")
}

func TestWhetherTheGlueUnderALayerLetsGo(t *testing.T) {
	hide, pva := between(43, 63), between(71, 99)
	for _, c := range []struct {
		says       string
		from, face interval.Range
		want       moisture.Truth
	}{
		{"an iron on hide glue", hide, between(90, 100), moisture.Yes},
		{"a hand-warm pad does not move white glue", pva, exact(40), moisture.No},
		{"hot sand bags may", pva, between(70, 80), moisture.Unknown},
		{"just at the low end is not yet a no", pva, exact(71), moisture.Unknown},
		{"at the top it goes", hide, exact(63), moisture.Yes},
		{"wet hardwood fibres under steam", exact(moisture.HardwoodSoftens), between(90, 100), moisture.Yes},
		{"wet softwood fibres under warm water", exact(moisture.SoftwoodSoftens), exact(60), moisture.No},
	} {
		got, err := moisture.Softens(c.from, c.face)
		require.NoError(t, err, c.says)
		assert.Equal(t, c.want, got, c.says)
	}
	_, err := moisture.Softens(exact(60), exact(-100))
	assert.ErrorContains(t, err, "temperature of the face")
	_, err = moisture.Softens(between(60, 40), exact(20))
	assert.ErrorContains(t, err, "softening")
}
