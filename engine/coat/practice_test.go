package coat_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/coat"
	"mendwright/rules/interval"
)

func TestWhenOneFinishMayGoOverAnother(t *testing.T) {
	free := coat.Over{May: coat.MayGo, Barrier: coat.NoBarrier}
	waits := coat.Over{May: coat.MayGo, Barrier: coat.NoBarrier, Wait: between(300, 600), Under: between(300, 600)}
	either := coat.Over{May: coat.MayGo, Barrier: coat.BarrierOrWait, Wait: between(300, 600), Under: between(24, 48)}
	needs := coat.Over{May: coat.MayMist, Barrier: coat.NeedsBarrier, Under: between(24, 48)}
	never := coat.Over{May: coat.MayNot, Barrier: coat.NoBarrier}
	for _, c := range []struct {
		over    coat.Over
		dried   interval.Range
		barrier bool
		want    coat.Truth
	}{
		{free, exact(0), false, coat.Yes},
		{waits, exact(100), false, coat.No},
		{waits, exact(400), false, coat.Unknown},
		{waits, exact(600), false, coat.Yes},
		{waits, exact(100), true, coat.No}, // no barrier shortens this one
		{either, exact(100), false, coat.No},
		{either, exact(100), true, coat.Yes},
		{either, exact(30), true, coat.Unknown},
		{either, exact(5), true, coat.No}, // the barrier itself needs a dry ground
		{needs, exact(9000), false, coat.No},
		{needs, exact(50), true, coat.Yes},
		{never, exact(9000), true, coat.No},
		{never, exact(9000), false, coat.No},
	} {
		got, err := c.over.Now(c.dried, c.barrier)
		require.NoError(t, err)
		assert.Equal(t, c.want, got, "%+v after %v h, barrier %v", c.over, c.dried, c.barrier)
	}
}

func TestAPairThatNobodyKnowsIsNotGuessed(t *testing.T) {
	tables := coat.Tables{Over: []coat.Over{{Old: "a", New: "b", May: coat.MayGo}}}
	o, err := tables.Pair("b", "a")
	require.NoError(t, err)
	assert.Equal(t, coat.MayGo, o.May)
	_, err = tables.Pair("a", "b")
	assert.ErrorContains(t, err, `"a" over "b"`, "the other way round is another pair")
}

func strippers() coat.Tables {
	return coat.Tables{Removers: []coat.Remover{
		{Name: "mild", Takes: []string{"shellac"}},
		{Name: "gel", Takes: []string{"shellac", "varnish"}},
		{Name: "watery", Takes: []string{"varnish", "paint"}, Water: true},
		{Name: "lye", Takes: []string{"varnish", "paint", "milk-paint"}, Water: true, Blackens: true},
		{Name: "fumes", Takes: []string{"milk-paint"}, Blackens: true},
	}}
}

func TestRemoversSpareWhatTheyMust(t *testing.T) {
	oakVeneer := coat.Surface{WaterHarms: coat.Yes, TanninHarms: coat.Yes}
	pineVeneer := coat.Surface{WaterHarms: coat.Yes, TanninHarms: coat.No}
	solidOak := coat.Surface{WaterHarms: coat.No, TanninHarms: coat.Yes}
	solidPine := coat.Surface{WaterHarms: coat.No, TanninHarms: coat.No}
	for _, c := range []struct {
		finish  string
		surface coat.Surface
		want    []string
	}{
		{"shellac", oakVeneer, []string{"mild", "gel"}},
		{"varnish", oakVeneer, []string{"gel"}},
		{"varnish", coat.Surface{}, []string{"gel"}}, // nobody looked
		{"varnish", solidOak, []string{"gel", "watery"}},
		{"varnish", solidPine, []string{"gel", "watery", "lye"}},
		{"milk-paint", pineVeneer, []string{"fumes"}},
		{"milk-paint", solidPine, []string{"lye", "fumes"}},
	} {
		found, err := strippers().RemoversFor(c.finish, c.surface)
		require.NoError(t, err)
		var names []string
		for _, r := range found {
			names = append(names, r.Name)
		}
		assert.Equal(t, c.want, names, "%s on %v", c.finish, c.surface)
	}
	_, err := strippers().RemoversFor("milk-paint", oakVeneer)
	assert.ErrorContains(t, err, "would harm the surface")
	_, err = strippers().RemoversFor("oil", solidPine)
	assert.ErrorContains(t, err, `no remover of the table is for the finish "oil"`)
}

func TestKnowingMoreOfASurfaceNeverTakesARemoverAway(t *testing.T) {
	// An unknown counts as harm, so an answer can only add removers or leave them.
	for _, finish := range []string{"shellac", "varnish", "paint"} {
		list := func(s coat.Surface) map[string]bool {
			found, _ := strippers().RemoversFor(finish, s)
			out := map[string]bool{}
			for _, r := range found {
				out[r.Name] = true
			}
			return out
		}
		unknown := list(coat.Surface{})
		for _, w := range []coat.Truth{coat.Yes, coat.No} {
			for _, tannin := range []coat.Truth{coat.Yes, coat.No} {
				for name := range unknown {
					assert.True(t, list(coat.Surface{WaterHarms: w, TanninHarms: tannin})[name], "%s for %s", name, finish)
				}
			}
		}
	}
}

func TestRemoversAreSlowInTheCold(t *testing.T) {
	get := must[coat.Truth](t)
	assert.Equal(t, coat.Yes, get(coat.RemoverSlow(exact(9.9))))
	assert.Equal(t, coat.No, get(coat.RemoverSlow(exact(10))))
	assert.Equal(t, coat.Unknown, get(coat.RemoverSlow(between(8, 12))))
}

func washes() coat.Tables {
	return coat.Tables{Washes: []coat.Washing{
		{Name: "acid", Bleach: "acid", Lifts: "iron", Dissolve: 95},
		{Name: "first", Bleach: "pair", Lifts: "colour"},
		{Name: "second", Bleach: "pair", Lifts: "colour"},
		{Name: "rinse", Lifts: "iron"},
	}}
}

func TestBleachesAreFoundByWhatTheyLift(t *testing.T) {
	steps, err := washes().BleachFor("colour")
	require.NoError(t, err)
	require.Len(t, steps, 2)
	assert.Equal(t, []string{"first", "second"}, []string{steps[0].Name, steps[1].Name}, "both steps, in order")
	steps, err = washes().BleachFor("iron")
	require.NoError(t, err)
	require.Len(t, steps, 1, "a rinse is no bleach")
	assert.Equal(t, "acid", steps[0].Name)
	_, err = washes().BleachFor("ink")
	assert.ErrorContains(t, err, `takes out "ink"; expected one of ["iron" "colour"]`)
	_, err = washes().Washing("soap")
	assert.ErrorContains(t, err, `"soap"`)
}

func TestMoreThanDissolvesStaysAsCrystals(t *testing.T) {
	get := must[coat.Truth](t)
	acid, err := washes().Washing("acid")
	require.NoError(t, err)
	assert.Equal(t, coat.No, get(acid.TooMuch(exact(95))))
	assert.Equal(t, coat.Yes, get(acid.TooMuch(exact(120))))
	assert.Equal(t, coat.Unknown, get(acid.TooMuch(between(60, 120))))
	assert.Equal(t, coat.No, get(coat.Washing{}.TooMuch(exact(1000))), "no bound is known")
}

func TestOneAcidRinseDoesNotNeutraliseTheLye(t *testing.T) {
	get := must[interval.Range](t)
	acetic := get(coat.Neutralised(exact(12), coat.AceticEquivalent, exact(47.9)))
	assert.InDelta(t, 0.167, acetic.Lo, 0.001, "far short of the lye that went on: the water before it does most of the work")
	oxalic := get(coat.Neutralised(exact(12), coat.OxalicEquivalent, exact(47.9)))
	assert.Less(t, oxalic.Lo, acetic.Lo, "a gram of the dihydrate does a little less than one of acetic acid")
	assert.InDelta(t, 1, get(coat.Neutralised(exact(coat.AceticEquivalent), coat.AceticEquivalent, exact(coat.LyeEquivalent))).Lo, 1e-12)
}

func TestRankingOfWhatKeepsMoistureOut(t *testing.T) {
	tables := coat.Tables{Excludes: []coat.Excluding{{"b", 10}, {"c", 0}, {"a", 42}, {"d", 0}}}
	var names []string
	for _, e := range tables.Ranking() {
		names = append(names, e.Film)
	}
	assert.Equal(t, []string{"a", "b", "c", "d"}, names)
	assert.Equal(t, "b", tables.Excludes[0].Film, "the table keeps its order")
	e, err := tables.Excluding("a")
	require.NoError(t, err)
	assert.Equal(t, 42.0, e.Percent)
	_, err = tables.Excluding("z")
	assert.ErrorContains(t, err, `"z"`)
}

func TestLevellingNeedsAFilm(t *testing.T) {
	for _, c := range []struct {
		film, off interval.Range
		want      coat.Truth
	}{
		{exact(120), exact(30), coat.Yes},
		{exact(100), exact(50), coat.Yes},
		{exact(99), exact(5), coat.No},   // one or two coats
		{exact(120), exact(75), coat.No}, // too little left
		{between(80, 120), exact(5), coat.Unknown},
		{exact(40), exact(60), coat.No},
	} {
		got, err := coat.Level(c.film, c.off)
		require.NoError(t, err)
		assert.Equal(t, c.want, got.Allowed, "%v off %v", c.off, c.film)
		assert.Equal(t, c.film.Sub(c.off), got.Left)
	}
}

func TestTheMostThatMayComeOffIsAllowedAndNoMore(t *testing.T) {
	for film := 0.0; film <= 300; film += 2.5 {
		most := must[interval.Range](t)(coat.MostOff(exact(film)))
		got, err := coat.Level(exact(film), most)
		require.NoError(t, err)
		if film < coat.LevelFrom {
			assert.Zero(t, most.Hi)
			assert.Equal(t, coat.No, got.Allowed)
			continue
		}
		assert.Equal(t, coat.Yes, got.Allowed, "%v µm", film)
		got, err = coat.Level(exact(film), exact(most.Hi+1))
		require.NoError(t, err)
		assert.Equal(t, coat.No, got.Allowed, "%v µm", film)
	}
}

func TestAThinFilmIsNotSanded(t *testing.T) {
	get := must[coat.Truth](t)
	assert.Equal(t, coat.No, get(coat.MaySand(exact(39))))
	assert.Equal(t, coat.Yes, get(coat.MaySand(exact(40))))
	assert.Equal(t, coat.Unknown, get(coat.MaySand(between(20, 80))))
}

func TestCuttingThroughACoatShowsUnlessCoatsMelt(t *testing.T) {
	get := must[coat.Truth](t)
	assert.Equal(t, coat.Yes, get(slow.Rings(exact(30), exact(30))))
	assert.Equal(t, coat.No, get(slow.Rings(exact(30), exact(20))))
	assert.Equal(t, coat.Unknown, get(slow.Rings(between(20, 40), exact(30))))
	assert.Equal(t, coat.No, get(quick.Rings(exact(30), exact(100))))
}

func TestTablesSayWhatTheyDoNotHold(t *testing.T) {
	tables := coat.Tables{Coats: bench(), Losses: map[string]interval.Range{"brush": between(10, 20)}}
	c, err := tables.Coat("slow")
	require.NoError(t, err)
	assert.Equal(t, "varnish", c.Finish)
	_, err = tables.Coat("tar")
	assert.ErrorContains(t, err, `no coat "tar"`)
	r, err := tables.Loss("brush")
	require.NoError(t, err)
	assert.Equal(t, between(10, 20), r)
	_, err = tables.Loss("bucket")
	assert.ErrorContains(t, err, `"bucket"`)
	_, err = coat.Tables{}.Coat("slow")
	assert.Error(t, err)
}
