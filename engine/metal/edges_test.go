package metal_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/metal"
	"mendwright/rules/interval"
)

func TestWhatOneDoesTheOtherUndoes(t *testing.T) {
	c := deal()
	value := func(r rng, err error) float64 {
		t.Helper()
		require.NoError(t, err)
		require.InDelta(t, r.Lo, r.Hi, 1e-9*(1+math.Abs(r.Lo)))
		return r.Mid()
	}
	near := func(want, got float64, what string) {
		t.Helper()
		require.InDelta(t, want, got, 1e-9*(1+math.Abs(want)), what)
	}
	acids := []metal.Acid{metal.Acetic, metal.Citric, metal.CitricMonohydrate, metal.Phosphoric}
	for range tries {
		v := c.Float64() * 100
		percent := 0.1 + c.Float64()*90
		s := wv(exact(percent))
		grams := value(s.Grams(exact(v)))
		near(v, value(s.Amount(exact(grams))), "Amount undoes Grams")
		acid, rust := acids[c.IntN(len(acids))], []metal.Rust{metal.RedRust, metal.Oxide}[c.IntN(2)]
		near(v, value(acid.Takes(rust, exact(value(acid.ForRust(rust, exact(v)))))), "Takes undoes ForRust")
		bath := metal.Bath{Acid: acid, Strength: s}
		amount, err := bath.For(rust, exact(v))
		require.NoError(t, err)
		near(v, value(bath.Takes(rust, amount.Least)), "a bath takes what it was made for")
		require.Equal(t, amount.Least.Mul(rng{Lo: 3, Hi: 5}), amount.Ample)

		amps, space := 0.01+c.Float64()*10, 1+c.Float64()*900
		hours := value(metal.HoursToFlammable(exact(amps), exact(space)))
		if hours <= 1000 {
			cell, err := metal.Electrolyse(exact(amps), exact(hours))
			require.NoError(t, err)
			near(metal.FlammableFrom, value(metal.GasShare(cell.Hydrogen, exact(space))), "the hours fill the space to 4 %")
		}
		gauge := c.IntN(25)
		mm, err := metal.ScrewMM(gauge)
		require.NoError(t, err)
		near(float64(gauge), value(metal.ScrewGauge(exact(mm))), "ScrewGauge undoes ScrewMM")
		gauges, err := metal.ScrewGauges(exact(mm))
		require.NoError(t, err)
		require.Equal(t, []int{gauge}, gauges)
		front, deep := 1+c.Float64()*90, 1+c.Float64()*40
		near(deep, value(metal.Enters(exact(value(metal.PullScrew(exact(front), exact(deep)))), exact(front))), "Enters undoes PullScrew")
		turns := 4 + c.IntN(120)
		near(25.4, value(metal.PitchOfTPI(exact(float64(turns))))*float64(turns), "so many turns make an inch")
		near(value(metal.PitchOfTPI(exact(float64(turns)))), value(metal.PitchOver(exact(25.4), turns)), "counted over an inch")
	}
}

func TestFractionsOfAnInch(t *testing.T) {
	for _, c := range []struct {
		n, d int
		mm   float64
	}{{0, 1, 0}, {1, 1, 25.4}, {1, 128, 0.1984375}, {9, 64, 3.571875}, {3, 4, 19.05}, {19, 8, 60.325}, {1000, 1, 25400}} {
		mm, err := metal.FractionMM(c.n, c.d)
		require.NoError(t, err)
		assert.InDelta(t, c.mm, mm, 1e-12, "%d/%d in", c.n, c.d)
	}
}

// TestOutOfRangeIsSaid: the error says what was read and what is expected.
func TestOutOfRangeIsSaid(t *testing.T) {
	tables := bench()
	one, none := exact(1), rng{}
	inf, nan, back := exact(math.Inf(1)), exact(math.NaN()), rng{Lo: 2, Hi: 1}
	last := func(_ any, err error) error { return err }
	for _, c := range []struct {
		what  string
		err   error
		needs []string
	}{
		{"no strength", last(metal.Dilute(wv(none), wv(one), one)), []string{"read 0 % w/v for the stock", "expected 0.01 to 200 % w/v"}},
		{"over 100 %", last(metal.Dilute(ww(exact(101)), ww(one), one)), []string{"101 % w/w", "0.01 to 100"}},
		{"stronger than the stock", last(metal.Dilute(ww(exact(5)), ww(exact(6)), one)), []string{"read 6 % for the wanted strength", "the stock's 5 %"}},
		{"perhaps stronger", last(metal.Dilute(ww(rng{Lo: 5, Hi: 8}), ww(exact(6)), one)), []string{"no more than the stock's 5 to 8 %"}},
		{"two bases", last(metal.Dilute(ww(exact(85)), wv(exact(10)), one)), []string{"% w/w", "% w/v", "alike"}},
		{"an unknown basis", last(metal.Dilute(metal.Strength{Percent: one, Basis: 7}, wv(one), one)), []string{"basis 7"}},
		{"less than nothing to make", last(metal.Dilute(wv(one), wv(one), exact(-1))), []string{"read -1", "0 to 1000000"}},
		{"volume has no density", last(wv(one).InVolume(one)), []string{"% w/v", "expected % w/w"}},
		{"density of water vapour", last(ww(one).InVolume(exact(0.001))), []string{"0.001 g/mL", "0.7 to 1.9"}},
		{"strength out of range", last(ww(none).InVolume(one)), []string{"0 % w/w"}},
		{"grams of a share of volume", last(metal.Strength{Percent: one, Basis: metal.VolumeInVolume}.Grams(one)), []string{"v/v", "no grams"}},
		{"amount of a share of volume", last(metal.Strength{Percent: one, Basis: metal.VolumeInVolume}.Amount(one)), []string{"v/v", "no grams"}},
		{"grams of a negative amount", last(wv(one).Grams(exact(-1))), []string{"amount of liquid"}},
		{"amount for negative grams", last(wv(one).Amount(exact(-1))), []string{"substance"}},
		{"negative powder", last(metal.GramsPerLitre(exact(-1), one)), []string{"powder"}},
		{"no solvent", last(metal.GramsPerLitre(one, none)), []string{"read 0 L for the solvent"}},
		{"an unknown acid", last(metal.Acid(9).PerRust(metal.RedRust)), []string{"read acid 9", "acetic"}},
		{"an unknown rust", last(metal.Acetic.PerRust(9)), []string{"read rust 9"}},
		{"an unknown acid for rust", last(metal.Acid(-1).ForRust(metal.RedRust, one)), []string{"read acid -1"}},
		{"an unknown acid that takes", last(metal.Acid(-1).Takes(metal.RedRust, one)), []string{"read acid -1"}},
		{"rust that is no number", last(metal.Acetic.ForRust(metal.RedRust, nan)), []string{"NaN", "the rust"}},
		{"endless acid", last(metal.Acetic.Takes(metal.RedRust, inf)), []string{"+Inf g", "the acid"}},
		{"a bath of nothing", last(metal.Bath{}.For(metal.RedRust, one)), []string{"0 % w/v for the strength"}},
		{"a bath and a backward range", last(metal.Bath{Strength: wv(one)}.For(metal.RedRust, back)), []string{"read 2 to 1 g for the rust"}},
		{"a bath of nothing that takes", last(metal.Bath{}.Takes(metal.RedRust, one)), []string{"strength"}},
		{"phosphoric and soda", last(metal.Neutralise(metal.Phosphoric, metal.BakingSoda, one)), []string{"read phosphoric acid", "rinsed off"}},
		{"an unknown acid and soda", last(metal.Neutralise(7, metal.BakingSoda, one)), []string{"read acid 7"}},
		{"an unknown base", last(metal.Neutralise(metal.Acetic, 7, one)), []string{"read base 7", "baking soda"}},
		{"negative acid", last(metal.Neutralise(metal.Acetic, metal.BakingSoda, exact(-1))), []string{"-1 g"}},
		{"negative iron", last(metal.HydrogenFromIron(exact(-1))), []string{"the iron"}},
		{"negative zinc", last(metal.HydrogenFromZinc(exact(-1))), []string{"the zinc"}},
		{"negative gas", last(metal.GasShare(exact(-1), one)), []string{"the gas"}},
		{"no space", last(metal.GasShare(one, none)), []string{"read 0 L for the space"}},
		{"a share over all", last(metal.Flammable(exact(101))), []string{"101 %"}},
		{"a current backwards", last(metal.Electrolyse(exact(-1), one)), []string{"read -1 A for the current", "0 to 100 A"}},
		{"weeks", last(metal.Electrolyse(one, exact(1001))), []string{"1001 h"}},
		{"no current", last(metal.HoursToFlammable(none, one)), []string{"read 0 A"}},
		{"no bin", last(metal.HoursToFlammable(one, none)), []string{"read 0 L"}},
		{"no part", last(tables.Judge("acid")), []string{"read no part"}},
		{"no such bath", last(tables.Judge("beer", "steel")), []string{`"beer"`, `"steel"`}},
		{"no such verdict", last(metal.VerdictNamed("maybe")), []string{`"maybe"`, "never", "allowed"}},
		{"more zinc than brass holds", last(metal.AmmoniaOnBrass(exact(60))), []string{"60 %", "0 to 50 %"}},
		{"stronger than the bake table", last(metal.BakeTensile(exact(1801))), []string{"1801 MPa", "0 to 1800 MPa"}},
		{"harder than the bake table", last(metal.BakeHRC(rng{Lo: 50, Hi: 52})), []string{"50 to 52 HRC", "0 to 51 HRC"}},
		{"stronger than wire", last(metal.EmbrittlesTensile(exact(5000))), []string{"5000 MPa"}},
		{"harder than a file", last(metal.EmbrittlesHRC(exact(71))), []string{"71 HRC"}},
		{"more area than there is", last(metal.RustGrade(exact(101))), []string{"101 %"}},
		{"no such grade", last(metal.RustArea(11)), []string{"11", "10 to 0"}},
		{"no such degree", last(metal.RiArea(6)), []string{"Ri 6", "0 to 5"}},
		{"no extent", last(metal.RustExtent(-1, false)), []string{"-1"}},
		{"no mass", last(metal.Weigh(none, one)), []string{"read 0 g for the mass"}},
		{"no volume", last(metal.Weigh(one, none)), []string{"read 0 mL for the displaced volume"}},
		{"no ounces", last(metal.FromOuncesPerCubicInch(none)), []string{"oz/in³"}},
		{"lighter than wood", last(tables.CouldBe(exact(0.3), metal.AnyPull)), []string{"0.3 g/cm³", "0.5 to 25"}},
		{"a thread like a hair", last(tables.ThreadsLike(exact(0.5), one)), []string{"read 0.5 mm for the diameter"}},
		{"a pitch like a corkscrew", last(tables.ThreadsLike(one, exact(9))), []string{"read 9 mm for the pitch"}},
		{"no threads", last(metal.PitchOfTPI(none)), []string{"read 0 for the threads per inch"}},
		{"no turns", last(metal.PitchOver(one, 0)), []string{"no turn"}},
		{"no length", last(metal.PitchOver(none, 10)), []string{"read 0 mm for the length"}},
		{"no such gauge in the table", last(tables.Screw(7)), []string{"gauge 7", "[8]"}},
		{"no such gauge", last(metal.ScrewMM(25)), []string{"25", "0 to 24"}},
		{"thinner than gauge 0", last(metal.ScrewGauge(exact(1.5))), []string{"1.5 mm", "1.524"}},
		{"a bolt", last(metal.ScrewGauges(exact(12))), []string{"12 mm"}},
		{"no root", last(metal.PilotOfRoot(none, metal.Softwood)), []string{"root"}},
		{"thirds", last(metal.FractionMM(1, 3)), []string{"1/3 in", "64"}},
		{"a negative fraction", last(metal.FractionMM(-1, 4)), []string{"-1/4 in"}},
		{"no front", last(metal.PullScrew(none, one)), []string{"the front"}},
		{"it does not enter", last(metal.PullScrew(one, none)), []string{"the engagement"}},
		{"no screw", last(metal.Enters(none, one)), []string{"the screw"}},
		{"no front to enter", last(metal.Enters(one, none)), []string{"the front"}},
		{"a thick pull screw", last(metal.PullFits(one, one, 12)), []string{"12 mm", "1 to 9 mm"}},
		{"a pull screw of no length", last(metal.PullFits(none, one, 4)), []string{"the screw"}},
		{"two series", last(tables.Gap("one", "steel", "tin")), []string{`"steel"`, `"tin"`, `"one"`}},
		{"no such metal in any series", last(tables.Gap("", "gold", "brass")), []string{`"gold"`}},
		{"no such metal in order", last(tables.ActiveFirst("one", "zinc", "gold")), []string{`"gold"`, `"one"`}},
		{"no such thing to store", last(metal.StorageHumidity(9)), []string{"9"}},
		{"no such thing in store", last(metal.Storage(9, one)), []string{"9"}},
		{"wetter than water", last(metal.Storage(metal.SoundIron, exact(101))), []string{"101 %"}},
	} {
		if assert.Error(t, c.err, c.what) {
			for _, need := range append(c.needs, "expected") {
				assert.ErrorContains(t, c.err, need, c.what)
			}
		}
	}
}

func TestWhatThingsAreCalled(t *testing.T) {
	for want, got := range map[string]interface{ String() string }{
		"unsettled": metal.Unsettled, "below": metal.Below, "inside": metal.Inside, "above": metal.Above,
		"w/v": metal.WeightInVolume, "v/v": metal.VolumeInVolume, "w/w": metal.WeightInWeight,
		"acetic acid": metal.Acetic, "citric acid monohydrate": metal.CitricMonohydrate, "acid 9": metal.Acid(9),
		"baking soda": metal.BakingSoda, "washing soda crystals": metal.WashingSoda, "base 9": metal.Base(9),
		"clean-and-wax": metal.CleanAndWax, "touch-in": metal.TouchIn, "recoat": metal.Recoat, "replace": metal.Replace,
		"take-apart": metal.TakeApart,
	} {
		assert.Equal(t, want, got.String())
	}
}

func TestAnExactWeighingIsFarFromEveryOtherDensity(t *testing.T) {
	w, err := metal.Weigh(interval.Exact(84), interval.Exact(10))
	require.NoError(t, err)
	assert.Zero(t, w.Away(8.4))
	assert.True(t, math.IsInf(w.Away(7.85), 1))
}
