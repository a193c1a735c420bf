package metal_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/metal"
)

func TestHowMuchAcidRustTakes(t *testing.T) {
	for _, c := range []struct {
		acid metal.Acid
		rust metal.Rust
		per  float64
	}{
		{metal.Acetic, metal.Oxide, 2.256}, {metal.Acetic, metal.RedRust, 2.028},
		{metal.Citric, metal.Oxide, 2.406}, {metal.Citric, metal.RedRust, 2.162},
		{metal.CitricMonohydrate, metal.Oxide, 2.632}, {metal.CitricMonohydrate, metal.RedRust, 2.365},
		{metal.Phosphoric, metal.Oxide, 1.227},
	} {
		per, err := c.acid.PerRust(c.rust)
		require.NoError(t, err)
		assert.InDelta(t, c.per, per, 0.0005, "%v", c.acid)
	}
}

func TestAPairOfHinges(t *testing.T) {
	// Three grams of red rust take 122 mL of vinegar at the least, and 65 mL of a 10 % citric bath.
	vinegar, err := metal.Bath{Strength: ww(exact(5))}.For(metal.RedRust, exact(3))
	require.NoError(t, err)
	assert.InDelta(t, 121.7, vinegar.Least.Mid(), 0.05)
	assert.InDelta(t, 3*121.66, vinegar.Ample.Lo, 0.1)
	assert.InDelta(t, 5*121.66, vinegar.Ample.Hi, 0.1)
	citric, err := metal.Bath{Acid: metal.Citric, Strength: wv(exact(10))}.For(metal.RedRust, exact(3))
	require.NoError(t, err)
	assert.InDelta(t, 64.9, citric.Least.Mid(), 0.05)
}

func TestWhatNeutralises(t *testing.T) {
	for _, c := range []struct {
		acid      metal.Acid
		base      metal.Base
		grams     float64
		soda, gas float64
	}{
		{metal.Acetic, metal.BakingSoda, 50, 69.94, 20.03}, // a litre of vinegar; the gas is 24.055/60.052 L a gram
		{metal.Citric, metal.BakingSoda, 1, 1.312, 0.3756},
		{metal.Citric, metal.SodaAsh, 1, 0.828, 0.1878},
		{metal.Citric, metal.WashingSoda, 1, 2.234, 0.1878}, // ten waters more to weigh: 286.138/105.988
		{metal.CitricMonohydrate, metal.BakingSoda, 1, 1.199, 0.3434},
	} {
		n, err := metal.Neutralise(c.acid, c.base, exact(c.grams))
		require.NoError(t, err)
		assert.InDelta(t, c.soda, n.Base.Mid(), 0.005, "%v with %v", c.acid, c.base)
		assert.InDelta(t, c.gas, n.Gas.Mid(), 0.005, "%v with %v", c.acid, c.base)
	}
}

func TestAWeakerLiquid(t *testing.T) {
	d, err := metal.Dilute(ww(exact(85)), ww(exact(10)), exact(1000))
	require.NoError(t, err)
	assert.InDelta(t, 117.6, d.Stock.Mid(), 0.05)
	assert.InDelta(t, 882.4, d.Water.Mid(), 0.05)
	// Phosphoric acid of 85 % by weight, 1.685 g/mL, holds 1.43 g in a millilitre.
	s, err := ww(exact(85)).InVolume(exact(1.685))
	require.NoError(t, err)
	assert.InDelta(t, 143.2, s.Percent.Mid(), 0.05)
	assert.Equal(t, metal.WeightInVolume, s.Basis)
	// The same strength is no dilution.
	same, err := metal.Dilute(wv(exact(5)), wv(exact(5)), exact(400))
	require.NoError(t, err)
	assert.Equal(t, metal.Dilution{Stock: exact(400)}, same)
	// 15 g in 400 mL is 3.75 % by weight in volume.
	grams, err := wv(exact(3.75)).Grams(exact(400))
	require.NoError(t, err)
	assert.InDelta(t, 15, grams.Mid(), 1e-9)
}

func TestStockAndWaterMakeUpTheAmount(t *testing.T) {
	c := deal()
	for range tries {
		wanted := 0.01 + c.Float64()*60
		stock := wanted + c.Float64()*(100-wanted)
		made := c.Float64() * 5000
		d, err := metal.Dilute(ww(exact(stock)), ww(exact(wanted)), exact(made))
		require.NoError(t, err)
		require.InDelta(t, made, d.Stock.Mid()+d.Water.Mid(), 1e-9*(1+made))
		// What was dissolved is still there.
		require.InDelta(t, stock*d.Stock.Mid(), wanted*made, 1e-9*(1+stock*made))
	}
}

func TestHydrogen(t *testing.T) {
	fe, err := metal.HydrogenFromIron(exact(1))
	require.NoError(t, err)
	assert.InDelta(t, 0.431, fe.Mid(), 0.0005)
	zn, err := metal.HydrogenFromZinc(exact(1))
	require.NoError(t, err)
	assert.InDelta(t, 0.368, zn.Mid(), 0.0005)
	cell, err := metal.Electrolyse(exact(1), exact(1))
	require.NoError(t, err)
	assert.InDelta(t, 0.449, cell.Hydrogen.Mid(), 0.0005)
	assert.InDelta(t, 1.04, cell.Anode.Mid(), 0.005)
	assert.InDelta(t, 0.224, cell.Oxygen.Mid(), 0.0005)
	night, err := metal.Electrolyse(exact(2), exact(6))
	require.NoError(t, err)
	assert.InDelta(t, 12.5, night.Anode.Mid(), 0.05)
	for _, c := range []struct {
		space, share float64
		burns        metal.Place
	}{
		{100, 5.39, metal.Inside},   // a closed bin
		{30000, 0.018, metal.Below}, // a room of 30 m³
		{1, 100, metal.Inside},      // nothing but gas
	} {
		share, err := metal.GasShare(night.Hydrogen, exact(c.space))
		require.NoError(t, err)
		assert.InDelta(t, c.share, share.Mid(), 0.005)
		burns, err := metal.Flammable(share)
		require.NoError(t, err)
		assert.Equal(t, c.burns, burns, "in %v L", c.space)
	}
	at, err := metal.Flammable(exact(4))
	require.NoError(t, err)
	assert.Equal(t, metal.Inside, at, "4 % burns")
}

func TestOnlyWhatIsHardIsBaked(t *testing.T) {
	for _, c := range []struct{ mpa, lo, hi float64 }{
		{0, 0, 0}, {400, 0, 0}, {1000, 0, 0}, {1000.5, 8, 8}, {1100, 8, 8}, {1101, 10, 10}, {1200, 10, 10},
		{1201, 12, 12}, {1350, 14, 14}, {1450, 16, 16}, {1501, 18, 18}, {1601, 20, 20}, {1701, 22, 22}, {1800, 22, 22},
	} {
		b, err := metal.BakeTensile(exact(c.mpa))
		require.NoError(t, err)
		assert.Equal(t, rng{Lo: c.lo, Hi: c.hi}, b.Hours, "%v MPa", c.mpa)
		assert.Equal(t, rng{Lo: 190, Hi: 220}, b.Celsius)
		assert.Equal(t, 3.0, b.Within)
	}
	for _, c := range []struct{ hrc, lo, hi float64 }{
		{20, 0, 0}, {31, 0, 8}, {32, 8, 8}, {33, 8, 10}, {38, 12, 12}, {41, 14, 14}, {45, 16, 18}, {49, 20, 22}, {51, 22, 22},
	} {
		b, err := metal.BakeHRC(exact(c.hrc))
		require.NoError(t, err)
		assert.Equal(t, rng{Lo: c.lo, Hi: c.hi}, b.Hours, "HRC %v", c.hrc)
	}
	for _, c := range []struct {
		of   func(rng) (metal.Place, error)
		r    rng
		want metal.Place
	}{
		{metal.EmbrittlesTensile, exact(420), metal.Inside}, // a hinge leaf
		{metal.EmbrittlesTensile, exact(1000), metal.Inside},
		{metal.EmbrittlesTensile, exact(2200), metal.Above}, // music wire, beyond the bake table
		{metal.EmbrittlesTensile, rng{Lo: 900, Hi: 1100}, metal.Unsettled},
		{metal.EmbrittlesHRC, exact(45), metal.Above},
		{metal.EmbrittlesHRC, exact(31), metal.Unsettled},
		{metal.EmbrittlesHRC, exact(30.9), metal.Inside},
		{metal.EmbrittlesHRC, rng{Lo: 31, Hi: 40}, metal.Unsettled},
		{metal.EmbrittlesHRC, rng{Lo: 20, Hi: 31}, metal.Unsettled},
	} {
		p, err := c.of(c.r)
		require.NoError(t, err)
		assert.Equal(t, c.want, p, "%v", c.r)
	}
}

func TestBrassThatCracksUnderAmmonia(t *testing.T) {
	for _, c := range []struct {
		zinc rng
		want metal.Place
	}{
		{exact(0), metal.Inside}, {exact(15), metal.Inside}, {exact(30), metal.Above},
		{rng{Lo: 0, Hi: 45}, metal.Unsettled}, // nobody knows the alloy
	} {
		p, err := metal.AmmoniaOnBrass(c.zinc)
		require.NoError(t, err)
		assert.Equal(t, c.want, p, "%v", c.zinc)
	}
}

func TestTheWorstVerdictWins(t *testing.T) {
	tables := bench()
	for _, c := range []struct {
		parts []string
		want  metal.Verdict
		why   []string
	}{
		{[]string{"steel"}, metal.Watch, []string{"bubbles"}},
		{[]string{"steel", "brass"}, metal.Dab, []string{"pink"}},
		{[]string{"steel", "spring"}, metal.Never, []string{"hydrogen"}},
		{[]string{"zinc", "spring"}, metal.Never, []string{"bare steel", "hydrogen"}},
	} {
		j, err := tables.Judge("acid", c.parts...)
		require.NoError(t, err)
		assert.Equal(t, c.want, j.Verdict, "%v", c.parts)
		var why []string
		for _, r := range j.Rules {
			why = append(why, r.Why)
		}
		assert.Equal(t, c.why, why)
	}
	for _, v := range []metal.Verdict{metal.Never, metal.TakeApart, metal.Dab, metal.Watch, metal.Allowed} {
		named, err := metal.VerdictNamed(v.String())
		require.NoError(t, err)
		assert.Equal(t, v, named)
	}
}
