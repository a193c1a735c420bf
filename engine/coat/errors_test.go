package coat_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/coat"
	"mendwright/rules/interval"
)

// TestWhatIsOutOfRangeIsSaid: every error names what was read and what is expected.
func TestWhatIsOutOfRangeIsSaid(t *testing.T) {
	some := exact(50)
	first := func(_ any, err error) error { return err }
	for _, c := range []struct {
		err  error
		read string
	}{
		{first(coat.Dry(exact(-1), some)), "the wet film reads -1 µm"},
		{first(coat.Dry(some, exact(101))), "the share of solids by volume reads 101 %"},
		{first(coat.Dry(between(2, 1), some)), "the wet film reads 2 to 1 µm"},
		{first(coat.Dry(exact(math.NaN()), some)), "NaN"},
		{first(coat.Dry(exact(math.Inf(1)), some)), "+Inf"},
		{first(coat.Wet(some, exact(0))), "the share of solids by volume reads 0 %"},
		{first(coat.Wet(exact(9000), some)), "the dry film reads 9000 µm"},
		{first(coat.CheckSheet(some, exact(0), exact(0))), "the wet film reads from 0 µm"},
		{first(coat.CheckSheet(some, exact(10), exact(20))), "the dry film reads from 20 µm and the wet film to 10 µm"},
		{first(coat.CheckSheet(exact(-4), exact(10), exact(2))), "the share of solids by volume reads -4 %"},
		{first(coat.HangOf(exact(6000))), "the wet film reads 6000 µm"},
		{first(coat.ThinnedByShare(some, exact(100))), "the share of thinner in the mix reads 100 %"},
		{first(coat.ThinnedByAdding(some, exact(0), exact(1))), "the volume reads from 0 L"},
		{first(coat.ThinnedByAdding(some, exact(1), exact(-1))), "the volume reads -1 L"},
		{first(coat.ThinnerFor(exact(1), exact(20), exact(30))), "the solids read from 20 % and the target to 30 %"},
		{first(coat.ThinnerFor(exact(1), exact(20), exact(0))), "the share of solids by volume reads 0 %"},
		{first(coat.Rate(some, exact(0))), "the dry film reads from 0 µm"},
		{first(coat.WetAt(exact(0))), "the spreading rate reads 0 m²/L"},
		{first(coat.SolidsAt(exact(100), exact(100))), "that needs 1000 % of solids"},
		{first(coat.SolidsAt(exact(100), exact(-1))), "the dry film reads -1 µm"},
		{first(coat.Build{}.Total(1)), "the dry film reads from 0 µm"},
		{first(coat.Build{Coat: some}.Total(0)), "the number of coats reads 0"},
		{first(coat.Build{Coat: some}.Total(coat.MostCoats + 1)), "the number of coats reads 61"},
		{first(coat.Build{Coat: some, Scuff: some}.Total(1)), "scuffing takes up to 50 µm and a coat leaves from 50 µm"},
		{first(coat.Build{Coat: some, Sinks: exact(101)}.Total(1)), "the share of the first coat that sinks in reads 101 %"},
		{first(coat.Build{Coat: some}.Coats(exact(4000))), "expected at most 60 coats"},
		{first(coat.Build{Coat: some}.Coats(exact(-1))), "the dry film reads -1 µm"},
		{first(coat.TooThick(exact(-1), some)), "the dry film reads -1 µm"},
		{first(coat.Purchase{}.Litres()), "the spreading rate reads 0 m²/L"},
		{first(coat.Purchase{Rate: some, Area: exact(-1)}.Litres()), "the area reads -1 m²"},
		{first(coat.Purchase{Rate: some, Coats: exact(99)}.Litres()), "the number of coats reads 99"},
		{first(coat.Purchase{Rate: some, Loss: exact(100)}.Litres()), "the loss reads 100 %"},
		{first(coat.Purchase{Rate: some, Waste: exact(-5)}.Litres()), "the waste reads -5 %"},
		{first(coat.Grams(exact(1), exact(900))), "the density reads 900 g/mL"},
		{first(coat.PasteGrams(exact(1), exact(1), exact(0))), "the spreading rate reads 0 m²/kg"},
		{first(coat.FlakesPerLitre(exact(-1))), "the cut reads -1 lb"},
		{first(coat.Flakes(exact(-1), exact(1))), "the volume of alcohol reads -1 mL"},
		{first(coat.CutOf(exact(-1), some)), "the mass of flakes reads -1 g"},
		{first(coat.CutOf(some, exact(0))), "the volume of alcohol reads from 0 mL"},
		{first(coat.CutByVolume(exact(30))), "the cut reads 30 lb"},
		{first(coat.CutByMass(exact(30))), "the cut reads 30 lb"},
		{first(coat.AlcoholToAdd(some, exact(1), exact(2))), "the cut reads from 1 lb and the target to 2 lb"},
		{first(coat.AlcoholToAdd(some, exact(1), exact(0))), "the cut reads 0 lb"},
		{first(coat.TimeFactor(coat.ByOxygen, exact(99), some)), "the temperature reads 99 °C"},
		{first(coat.TimeFactor(coat.ByOxygen, exact(20), exact(101))), "the humidity reads 101 %"},
		{first(coat.TimeFactor(0, exact(20), some)), "the way of drying reads 0"},
		{first(quick.Times(exact(-99), some)), "the temperature reads -99 °C"},
		{first(coat.Coat{}.Times(exact(20), some)), "the way of drying reads 0"},
		{first(quick.Recoating(exact(-1), exact(20), some)), "the time reads -1 h"},
		{first(quick.Judge(coat.Day{Air: exact(99)})), "the air reads 99 °C"},
		{first(quick.Judge(coat.Day{Surface: exact(99)})), "the surface reads 99 °C"},
		{first(quick.Judge(coat.Day{Humidity: exact(-1)})), "the humidity reads -1 %"},
		{first(quick.Judge(coat.Day{DewMargin: exact(999)})), "the margin over the dew point reads 999 °C"},
		{first(coat.Coat{Name: "bare"}.Judge(coat.Day{})), `the coat "bare" has no range`},
		{first(coat.DewMargin(exact(20), exact(99))), "the dew point reads 99 °C"},
		{first(coat.Tables{Coats: bench()}.Choose(coat.Day{}, exact(-1))), "the time reads -1 h"},
		{first(coat.Tables{Coats: bench()}.Choose(coat.Day{Air: exact(99)}, exact(1))), "the air reads 99 °C"},
		{first(coat.Over{May: coat.MayGo}.Now(exact(-1), false)), "the time reads -1 h"},
		{first(coat.RemoverSlow(exact(99))), "the temperature reads 99 °C"},
		{first(coat.Strength(exact(-1), some)), "the mass reads -1 g"},
		{first(coat.Strength(some, exact(0))), "the volume reads from 0 L"},
		{first(coat.ToDissolve(exact(-1), some)), "the strength reads -1 g/L"},
		{first(coat.Diluted(some, exact(0), some)), "the number of parts reads from 0 parts"},
		{first(coat.WaterFor(some, exact(5), exact(6))), "the strength reads from 5 and the target to 6"},
		{first(coat.WaterFor(some, exact(5), exact(0))), "the strength reads from 0"},
		{first(coat.Neutralised(some, coat.AceticEquivalent, exact(0))), "the strength reads from 0 g/L"},
		{first(coat.Neutralised(some, 0, some)), "the acid's equivalent reads 0 g"},
		{first(coat.Neutralised(some, math.NaN(), some)), "the acid's equivalent reads NaN g"},
		{first(coat.Washing{}.TooMuch(exact(-1))), "the strength reads -1 g/L"},
		{first(coat.Level(exact(-1), some)), "the dry film reads -1 µm"},
		{first(coat.Level(some, exact(-1))), "what levelling takes reads -1 µm"},
		{first(coat.MostOff(exact(-1))), "the dry film reads -1 µm"},
		{first(coat.MaySand(exact(-1))), "the dry film reads -1 µm"},
		{first(quick.Rings(exact(-1), some)), "the dry film reads -1 µm"},
		{first(coat.SheenMatches(some, exact(120))), "the gloss reads 120 GU"},
		{first(sheens().SheensOf("a", exact(-1), some)), "the gloss reads -1 GU"},
		{first(coat.CrossCutOf(exact(101))), "the share of the lattice that came off reads 101 %"},
		{first(coat.CrossCutSuits(exact(-1))), "the dry film reads -1 µm"},
		{first(coat.SquaresLost(1, exact(0))), "the cuts each way read 1"},
		{first(coat.SquaresLost(6, exact(26))), "the squares that came off reads 26 squares"},
		{first(coat.Flaking(exact(101))), "the flaked area reads 101 %"},
		{first(coat.FlakeSize(exact(-1))), "the size of the flakes reads -1 mm"},
	} {
		require.Error(t, c.err, c.read)
		assert.ErrorContains(t, c.err, c.read)
	}
	_, err := coat.Dry(exact(-1), some)
	assert.EqualError(t, err, "the wet film reads -1 µm; expected 0 to 5000 µm, the lower number first")
	_, _, err = quick.Schedule(0, exact(20), some)
	assert.ErrorContains(t, err, "the number of coats reads 0")
	_, _, err = quick.Schedule(2, exact(99), some)
	assert.ErrorContains(t, err, "the temperature reads 99 °C")
}

// TestTheZeroRangeIsNothing: what was left out of a Purchase or a Build adds nothing.
func TestTheZeroRangeIsNothing(t *testing.T) {
	litres, err := coat.Purchase{Rate: exact(10)}.Litres()
	require.NoError(t, err)
	assert.Equal(t, interval.Range{}, litres)
	total, err := coat.Build{Coat: exact(30)}.Total(2)
	require.NoError(t, err)
	assert.Equal(t, exact(60), total)
}
