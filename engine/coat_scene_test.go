package engine_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine"
)

// fair is a day on which nothing stands against pitch: its dew point lies at 9.3 °C.
var fair = facts{"shop.air_c": "20", "shop.humidity": "50", "surface.wood_c": "20"}

func dayFor(t *testing.T, name string, given facts) *engine.CoatDay {
	t.Helper()
	c := painted(t, own{"coat": "{of: " + name + "}"}, given).CoatDay
	require.NotNil(t, c)
	return c
}

func TestWaitingAndCareAreKnownEachOnItsOwn(t *testing.T) {
	for _, c := range []struct{ air, wait, care string }{
		{"20", "no", "no"},
		{"8", "no", "yes"},           // slow
		{"3", "yes", "yes"},          // too cold
		{"7 to 12", "no", "unknown"}, // slow or not, but never too cold
		{"3 to 7", "unknown", "yes"}, // slow or too cold
		{"3 to 12", "unknown", "unknown"},
	} {
		d := dayFor(t, "pitch", fair.with(facts{"shop.air_c": c.air, "shop.humidity": "30", "surface.wood_c": "20"}))
		assert.Equal(t, [2]string{c.wait, c.care}, [2]string{d.Wait, d.Care}, "air of %s °C", c.air)
		if c.wait == "unknown" || c.care == "unknown" {
			assert.Equal(t, []string{"shop.air_c"}, d.Missing, "air of %s °C", c.air)
		} else {
			assert.Empty(t, d.Missing, "air of %s °C", c.air)
		}
	}
	set := own{"coat": "{of: pitch}", "never": clauses("coat.must_wait")}
	given := fair.with(facts{"shop.air_c": "7 to 12"})
	assert.Equal(t, engine.Ready, painted(t, set, given).State, "what wants care, or may, can be done")
	set["never"] = clauses("coat.wants_care")
	r := painted(t, set, given)
	assert.Equal(t, engine.NeedsAnswer, r.State)
	assert.Equal(t, []string{"shop.air_c"}, r.Missing)
}

func TestWoodNearTheDewPointMustWait(t *testing.T) {
	for wood, want := range map[string]string{"12.2": "yes", "12.4": "no", "12 to 13": "unknown"} {
		d := dayFor(t, "pitch", fair.with(facts{"surface.wood_c": wood}))
		assert.Equal(t, want, d.Wait, "wood of %s °C", wood)
		require.NotNil(t, d.AboveDewC)
		if want == "yes" {
			assert.InDelta(t, 9.26, d.DewPointC.Lo, 0.05)
			assert.InDelta(t, 2.94, d.AboveDewC.Lo, 0.05)
			require.Len(t, d.Why, 1)
			assert.Contains(t, d.Why[0], "dew point")
		}
	}
	d := dayFor(t, "pitch", fair.with(facts{"surface.wood_c": "cannot tell"}))
	assert.Equal(t, "unknown", d.Wait, "wood that nobody measured may have come from the cold")
	assert.Equal(t, []string{"surface.wood_c"}, d.Missing)
	assert.NotNil(t, d.DewPointC, "the air is known")
	assert.Nil(t, d.AboveDewC)
	assert.NotNil(t, d.RecoatH, "the hours go by the air")
}

func TestAnUnmeasuredDayIsOpenUnlessWhatIsKnownForbidsTheCoat(t *testing.T) {
	d := dayFor(t, "pitch", facts{})
	assert.Equal(t, [2]string{"unknown", "unknown"}, [2]string{d.Wait, d.Care})
	assert.Equal(t, []string{"shop.air_c", "shop.humidity", "surface.wood_c"}, d.Missing)
	assert.Nil(t, d.DewPointC)
	assert.Nil(t, d.RecoatH)
	d = dayFor(t, "pitch", facts{"shop.air_c": "3"})
	assert.Equal(t, [2]string{"yes", "yes"}, [2]string{d.Wait, d.Care}, "no wood and no damp make cold air warm")
	assert.Empty(t, d.Missing)
}

func TestTheHoursAreThoseOfTheCoatInThisRoom(t *testing.T) {
	d := dayFor(t, "pitch", fair.with(facts{"shop.air_c": "13", "surface.wood_c": "13"}))
	require.NotNil(t, d.RecoatH)
	assert.InDelta(t, 16, d.RecoatH.Hi, 1e-9, "oil takes twice as long at 10 °C below 23 °C")
	require.NotNil(t, d.ClosesH)
	assert.False(t, d.Scuff)
	d = dayFor(t, "glaze", fair)
	assert.Nil(t, d.ClosesH, "glaze never closes")
	assert.True(t, d.Scuff, "and always wants a scuff")
}

func TestACoatThatTurnsWhiteMustWaitOnlyIfItIsSprayed(t *testing.T) {
	damp := fair.with(facts{"shop.humidity": "70"})
	damp["surface.wood_c"] = "25"
	for coat, want := range map[string]string{"{of: glaze}": "no", "{of: glaze, sprayed: yes}": "yes", "{of: pitch, sprayed: yes}": "no"} {
		assert.Equal(t, want, painted(t, own{"coat": coat}, damp).CoatDay.Wait, coat)
	}
}

func TestTheAnswerNamesTheCoat(t *testing.T) {
	set := own{"coat": "{by: surface.new}", "never": clauses("coat.must_wait")}
	cool := fair.with(facts{"shop.air_c": "12", "surface.wood_c": "12", "shop.humidity": "30"})
	r := painted(t, set, cool)
	assert.Equal(t, []string{"surface.new"}, r.Missing, "pitch goes at 12 °C, glaze does not")
	assert.Empty(t, r.CoatDay.Coat)
	assert.Nil(t, r.CoatDay.RecoatH, "no hours of a coat that nobody chose")
	assert.Equal(t, engine.Ready, painted(t, set, cool.with(facts{"surface.new": "pitch"})).State)
	assert.Equal(t, engine.RuledOut, painted(t, set, cool.with(facts{"surface.new": "glaze"})).State)
	assert.Equal(t, engine.Ready, painted(t, set, fair).State, "on a fair day any will do")
	set["coat"] = "{of: pitch}"
	assert.Equal(t, engine.Ready, painted(t, set, cool.with(facts{"surface.new": "glaze"})).State, "a row of its own asks no answer")
}

func over(t *testing.T, coat string, given facts) *engine.Pairing {
	t.Helper()
	p := painted(t, own{"coat": coat}, given).Pairing
	require.NotNil(t, p)
	return p
}

func TestWhatGoesOverWhat(t *testing.T) {
	const brush, gun = "{of: pitch}", "{of: pitch, sprayed: yes}"
	for _, c := range []struct{ coat, old, may string }{
		{brush, "tar", "yes"}, {gun, "tar", "yes"},
		{brush, "lime", "no"}, {gun, "lime", "yes"}, // sprayed only
		{brush, "grease", "no"}, {gun, "grease", "no"},
		{"{of: glaze, sprayed: yes}", "tar", "no"}, // in mist coats only, which no repair lays
		{"{of: thin-pitch}", "grease", "no"},       // thin pitch dries to pitch
		{"{of: thin-pitch}", "tar", "yes"},
		{"{by: surface.new}", "grease", "unknown"}, // glaze over grease is untested
	} {
		assert.Equal(t, c.may, over(t, c.coat, facts{"surface.old": c.old, "surface.stripped": "no"}).May, "%s over %s", c.coat, c.old)
	}
	p := over(t, brush, facts{"surface.old": "tar", "surface.stripped": "no"})
	assert.Equal(t, engine.Pairing{May: "yes", Why: "pitch holds on dulled tar", Scuff: true, Barrier: "yes"}, *p)
	p = over(t, "{of: thin-pitch}", facts{"surface.old": "tar", "surface.stripped": "no"})
	assert.True(t, p.Scuff, "whatever it is thinned with")
	assert.False(t, p.Untested)
}

func TestAnUntestedPairMayGoAndSaysSo(t *testing.T) {
	p := over(t, "{of: pitch}", facts{"surface.old": "moss", "surface.stripped": "no"})
	assert.Equal(t, engine.Pairing{May: "yes", Untested: true}, *p)
}

func TestStrippedWoodIsBareWhateverWasOnIt(t *testing.T) {
	for _, old := range []string{"grease", "cannot tell"} {
		p := over(t, "{of: pitch}", facts{"surface.old": old, "surface.stripped": "yes"})
		assert.Equal(t, "yes", p.May, old)
		assert.True(t, strings.HasPrefix(p.Why, "bare wood"), old)
	}
	p := over(t, "{of: pitch}", facts{"surface.old": "grease"})
	assert.Equal(t, "unknown", p.May, "grease, or bare wood")
	assert.Equal(t, []string{"surface.stripped"}, p.Missing)
	p = over(t, "{of: pitch}", facts{"surface.old": "tar"})
	assert.Equal(t, "yes", p.May, "on either it may go")
	assert.Empty(t, p.Missing)
	assert.Empty(t, p.Why, "but which of the two is not known")
	p = over(t, "{of: pitch}", facts{"surface.stripped": "no"})
	assert.Equal(t, []string{"surface.old"}, p.Missing)
}
