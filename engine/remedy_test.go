package engine_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine"
)

// wouldDo are the remedies beside the reason, or the doubt, that a rule gives.
func wouldDo(t *testing.T, r engine.Repair, rule string) []string {
	t.Helper()
	for _, reason := range slices.Concat(r.Because, r.Open) {
		if reason.Rule == rule {
			return reason.WouldDo
		}
	}
	require.Fail(t, "no such reason", rule)
	return nil
}

// change is what somebody does in the shop, and how the repair stands then.
type change struct {
	to   facts
	then engine.State
}

func TestEachRemedyAloneLiftsTheBan(t *testing.T) {
	chill := fair.with(facts{"shop.air_c": "10", "surface.wood_c": "10"})
	for _, c := range []struct {
		that    string
		set     own
		rule    string
		given   facts
		would   []string
		changes []change
	}{
		{"too much vapour to breathe", own{"vapour": "{of: spirit}"}, "air.above_limit", hall,
			[]string{"shop.place: quay", "shop.room_m3: at least 245 m³", "surface.area_m2: at most 0.4 m²"},
			[]change{{facts{"shop.place": "quay"}, engine.Ready}, {facts{"shop.place": "barn"}, engine.RuledOut},
				{facts{"shop.room_m3": "245"}, engine.Ready}, {facts{"shop.room_m3": "244"}, engine.RuledOut},
				{facts{"surface.area_m2": "0.4"}, engine.Ready}, {facts{"surface.area_m2": "0.41"}, engine.RuledOut}, {facts{"shop.air_c": "-20"}, engine.RuledOut}}},
		{"no mask", own{"vapour": "{of: spirit}"}, "air.above_mask", hall.with(facts{"shop.mask": "no", "surface.area_m2": "4"}),
			[]string{"shop.mask: yes", "shop.place: quay", "shop.room_m3: at least 979 m³", "surface.area_m2: at most 0.4 m²"},
			[]change{{facts{"shop.mask": "yes"}, engine.Ready}, {facts{"shop.room_m3": "979"}, engine.Ready}, {facts{"shop.room_m3": "977"}, engine.RuledOut}}},
		{"another brew", own{"vapour": "{by: shop.brew}"}, "air.above_limit", hall.with(facts{"shop.brew": "spirit", "surface.area_m2": "20", "shop.mask": "no"}),
			[]string{"shop.brew: lye", "surface.area_m2: at most 0.4 m²"},
			[]change{{facts{"shop.brew": "lye"}, engine.Ready}, {facts{"shop.brew": "potion"}, engine.NeedsAnswer}, {facts{"shop.place": "quay"}, engine.RuledOut}, {facts{"shop.room_m3": "1000"}, engine.RuledOut}}},
		{"wood near the dew point", own{"coat": "{of: pitch}"}, "coat.must_wait", fair.with(facts{"surface.wood_c": "10"}),
			[]string{"shop.air_c: at most 17 °C", "shop.humidity: at most 42 %", "surface.wood_c: at least 13 °C"},
			[]change{{facts{"shop.air_c": "17"}, engine.Ready}, {facts{"shop.air_c": "18"}, engine.RuledOut}, {facts{"shop.humidity": "42"}, engine.Ready}, {facts{"shop.humidity": "43"}, engine.RuledOut},
				{facts{"surface.wood_c": "13"}, engine.Ready}, {facts{"surface.wood_c": "12"}, engine.RuledOut}}},
		{"a mark of the shop itself, as closely as it was read", own{}, "shop.air_c < 15.5", chill.with(facts{"shop.air_c": "10 ± 1"}),
			[]string{"shop.air_c: at least 17 °C"}, []change{{facts{"shop.air_c": "17 ± 1"}, engine.Ready}, {facts{"shop.air_c": "16 ± 1"}, engine.NeedsAnswer}}},
		{"a limit that itself does", own{}, "shop.air_c < 15.0", chill.with(facts{"shop.air_c": "10 ± 1"}),
			[]string{"shop.air_c: at least 16 °C"}, []change{{facts{"shop.air_c": "16 ± 1"}, engine.Ready}, {facts{"shop.air_c": "15.9 ± 1"}, engine.NeedsAnswer}}},
		{"a tool that is not there", own{}, "!shop.tongs", facts{"shop.tongs": "no"}, []string{"shop.tongs: yes"}, []change{{facts{"shop.tongs": "yes"}, engine.Ready}}},
	} {
		c.set["never"] = clauses(c.rule)
		r := helped(t, c.set, c.given)
		assert.Equal(t, engine.RuledOut, r.State, c.that)
		assert.True(t, r.ShopOnly, c.that)
		assert.Equal(t, c.would, wouldDo(t, r, c.rule), c.that)
		for _, do := range c.changes {
			assert.Equal(t, do.then, painted(t, c.set, c.given.with(do.to)).State, "%s: %v", c.that, do.to)
		}
	}
}

func TestWhatSuitsIsMendedLikeWhatForbids(t *testing.T) {
	set := own{"suits": clauses("shop.tongs", "shop.air_c > 15.0")}
	r := helped(t, set, facts{"shop.tongs": "no", "shop.air_c": "10"})
	assert.Equal(t, []string{"shop.tongs: yes"}, wouldDo(t, r, "shop.tongs"))
	assert.Equal(t, []string{"shop.air_c: at least 16 °C"}, wouldDo(t, r, "shop.air_c > 15.0"), "each ban has its own remedy")
}

func TestTwoMeasurementsTogetherDoWhereOneDoesNot(t *testing.T) {
	set := own{"coat": "{of: pitch}", "never": clauses("coat.must_wait")}
	given := facts{"shop.air_c": "3", "shop.humidity": "90", "surface.wood_c": "10"}
	r := helped(t, set, given)
	assert.Equal(t, []string{"shop.air_c: 5 °C, together with shop.humidity: at most 79 %"}, wouldDo(t, r, "coat.must_wait"))
	for _, c := range []change{{facts{"shop.air_c": "5", "shop.humidity": "79"}, engine.Ready}, {facts{"shop.air_c": "5", "shop.humidity": "80"}, engine.RuledOut},
		{facts{"shop.air_c": "5"}, engine.RuledOut}, {facts{"shop.humidity": "79"}, engine.RuledOut}} {
		assert.Equal(t, c.then, painted(t, set, given.with(c.to)).State, "%v", c.to)
	}
}

func TestADoubtThatNoAnswerSettlesIsLiftedByTheShop(t *testing.T) {
	set := own{"vapour": "{of: rough-spirit}", "never": clauses("air.above_limit")}
	r := helped(t, set, hall)
	assert.Equal(t, engine.NeedsAnswer, r.State)
	assert.Empty(t, r.Missing)
	assert.Equal(t, []string{"shop.room_m3: 250 m³, together with surface.area_m2: at most 0.1 m²"}, wouldDo(t, r, "air.above_limit"))
	assert.Equal(t, engine.Ready, painted(t, set, hall.with(facts{"shop.room_m3": "250", "surface.area_m2": "0.1"})).State)

	r = helped(t, set, hall.with(facts{"surface.area_m2": "cannot tell"}))
	assert.Empty(t, wouldDo(t, r, "air.above_limit"), "first somebody must say how much there is to do")
}

func TestNothingIsOfferedWhereTheBanDoesNotRestOnTheShop(t *testing.T) {
	set := own{"vapour": "{of: spirit}", "never": clauses("air.above_limit", "surface.screwed")}
	r := helped(t, set, hall.with(facts{"surface.screwed": "yes"}))
	assert.False(t, r.ShopOnly)
	assert.Empty(t, wouldDo(t, r, "air.above_limit"), "no room helps against screws")
	assert.Empty(t, wouldDo(t, r, "surface.screwed"))

	r = helped(t, own{"coat": "{of: pitch}", "suits": clauses("coat.may_go")}, facts{"surface.old": "grease", "surface.stripped": "no"})
	assert.False(t, r.ShopOnly)
	assert.Empty(t, wouldDo(t, r, "coat.may_go"), "the shop does not change what is on the wood")

	r = helped(t, own{"suits": clauses("shop.tongs && surface.screwed")}, facts{"shop.tongs": "no", "surface.screwed": "no"})
	assert.Empty(t, wouldDo(t, r, "shop.tongs && surface.screwed"))
}

func TestNothingIsOfferedWhereNothingInTheShopWouldDo(t *testing.T) {
	r := helped(t, own{"vapour": "{of: slippery}", "never": clauses("air.above_mask && shop.tongs")}, hall.with(facts{"surface.area_m2": "20", "shop.tongs": "yes"}))
	assert.Equal(t, []string{"shop.tongs: no", "surface.area_m2: at most 0.4 m²"}, wouldDo(t, r, "air.above_mask && shop.tongs"), "a mask that does not hold it is no remedy")
	r = helped(t, own{"vapour": "{of: musk}", "never": clauses("air.above_limit")}, hall)
	assert.Empty(t, wouldDo(t, r, "air.above_limit"), "no room makes it known what musk does")
}

func TestLookingForRemediesChangesNothingElse(t *testing.T) {
	set := own{"vapour": "{of: spirit}", "coat": "{of: pitch}", "never": clauses("air.above_limit", "coat.must_wait")}
	given := hall.with(fair).with(facts{"surface.wood_c": "10"})
	with := helped(t, set, given)
	for i := range with.Because {
		assert.NotEmpty(t, with.Because[i].WouldDo)
		with.Because[i].WouldDo = nil
	}
	assert.Equal(t, painted(t, set, given), with)
}
