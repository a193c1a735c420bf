package engine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine"
	"mendwright/rules/interval"
)

// hall is all that the vapour is reckoned from: in it 1 m2 of spirit is 2.445 times the limit.
var hall = facts{"shop.place": "hall", "shop.room_m3": "100", "shop.air_c": "20", "surface.area_m2": "1", "shop.mask": "yes"}

// vapourOf is what work with a product puts into the air.
func vapourOf(t *testing.T, product string, given facts) *engine.Vapour {
	t.Helper()
	v := painted(t, own{"vapour": "{of: " + product + "}"}, given).Vapour
	require.NotNil(t, v)
	return v
}

// says are the three verdicts: above the limit, above the mask, near exploding.
func says(v *engine.Vapour) [3]string { return [3]string{v.AboveLimit, v.AboveMask, v.NearExploding} }

func TestTheVapourIsJudgedByLimitMaskAndFire(t *testing.T) {
	for _, c := range []struct {
		area, mask string
		want       [3]string
	}{
		{"0.4", "no", [3]string{"no", "no", "no"}},      // 0.98 of the limit
		{"0.42", "yes", [3]string{"yes", "no", "no"}},   // 1.03
		{"0.42", "no", [3]string{"yes", "yes", "no"}},   // and no mask
		{"4", "yes", [3]string{"yes", "no", "no"}},      // 9.8
		{"4.1", "yes", [3]string{"yes", "yes", "no"}},   // 10.02
		{"10.3", "yes", [3]string{"yes", "yes", "yes"}}, // 2518 ppm
	} {
		v := vapourOf(t, "spirit", hall.with(facts{"surface.area_m2": c.area, "shop.mask": c.mask}))
		assert.Equal(t, c.want, says(v), "%s m² with a mask: %s", c.area, c.mask)
		assert.Empty(t, v.Missing)
	}
	v := vapourOf(t, "spirit", hall)
	require.NotNil(t, v.OfLimit)
	assert.InDelta(t, 2.445, v.OfLimit.Lo, 0.002)
	assert.InDelta(t, 2.445, v.OfLimit.Hi, 0.002)
	assert.InDelta(t, 0.02445, v.OfLEL.Hi, 0.00002)
	assert.Equal(t, &interval.Range{Lo: 100, Hi: 100}, v.RoomM3)
	assert.Equal(t, [3]string{"yes", "yes", "no"}, says(vapourOf(t, "slippery", hall)), "the mask does not hold it")
}

func TestWhatIsMissingStandsForAllItCouldBe(t *testing.T) {
	for id, area := range map[string]string{"shop.place": "6", "shop.room_m3": "1", "surface.area_m2": "1"} {
		given := hall.with(facts{id: "cannot tell"})
		if id != "surface.area_m2" {
			given["surface.area_m2"] = area
		}
		v := vapourOf(t, "spirit", given)
		if id == "shop.place" {
			// 6 m² are 14.7 times the limit in a hall, and 1.5 times on the quay.
			assert.Equal(t, [3]string{"yes", "unknown", "no"}, says(v), "no place would make it less than the limit")
		} else {
			assert.Equal(t, "unknown", v.AboveLimit, id)
		}
		assert.Equal(t, []string{id}, v.Missing)
		assert.Nil(t, v.OfLimit, "no figure without %s", id)
		assert.Nil(t, v.OfLEL)
	}
	v := vapourOf(t, "spirit", facts{})
	assert.Equal(t, [3]string{"unknown", "unknown", "unknown"}, says(v))
	assert.Equal(t, []string{"shop.air_c", "shop.mask", "shop.place", "shop.room_m3", "surface.area_m2"}, v.Missing)

	v = vapourOf(t, "spirit", facts{"shop.place": "quay", "shop.air_c": "20", "surface.area_m2": "1", "shop.mask": "yes"})
	assert.Equal(t, [3]string{"no", "no", "no"}, says(v), "out there nobody needs to know of a room")
	assert.NotNil(t, v.OfLimit)
	assert.Nil(t, v.RoomM3)
}

func TestWhatNoCloserMeasurementCouldSettleListsNothingMissing(t *testing.T) {
	v := vapourOf(t, "spirit", hall.with(facts{"surface.area_m2": "0.3 to 0.7"}))
	assert.Equal(t, "unknown", v.AboveLimit)
	assert.Equal(t, []string{"surface.area_m2"}, v.Missing, "0.5 m² would settle it")

	v = vapourOf(t, "rough-spirit", hall.with(facts{"surface.area_m2": "0.9 to 1.1"}))
	assert.Equal(t, "unknown", v.AboveLimit)
	assert.Empty(t, v.Missing, "it is the brew that differs tenfold and more")
	assert.NotNil(t, v.OfLimit)
}

func TestAProductThatIsNotInTheTableIsOpen(t *testing.T) {
	v := vapourOf(t, "potion", hall)
	assert.Equal(t, [3]string{"unknown", "unknown", "unknown"}, says(v))
	assert.Empty(t, v.Missing, "no answer about the shop tells what is in it")
	assert.Nil(t, v.OfLimit, "there is no figure for what nobody knows")
	assert.Nil(t, v.OfLEL)
}

func TestAProductOfWhichNothingEvaporatesIsFreeWhateverIsNotKnown(t *testing.T) {
	v := vapourOf(t, "lye", facts{})
	assert.Equal(t, [3]string{"no", "no", "no"}, says(v))
	assert.Empty(t, v.Missing)
}

func TestAMaskThatMayBeAtHandCountsAtTheBetterEndOnly(t *testing.T) {
	given := hall.with(facts{"shop.mask": "cannot tell"})
	v := vapourOf(t, "spirit", given)
	assert.Equal(t, [3]string{"yes", "unknown", "no"}, says(v))
	assert.Equal(t, []string{"shop.mask"}, v.Missing)
	assert.Equal(t, "yes", vapourOf(t, "spirit", given.with(facts{"surface.area_m2": "5"})).AboveMask, "12 times the limit is too much for it anyway")
	assert.Equal(t, "no", vapourOf(t, "spirit", given.with(facts{"surface.area_m2": "0.3"})).AboveMask, "and below the limit nobody needs it")
}

func TestASubstanceWithoutALimitIsNeverFreeForCertain(t *testing.T) {
	for _, area := range []string{"0.1", "1", "20"} {
		v := vapourOf(t, "musk", hall.with(facts{"surface.area_m2": area}))
		assert.Equal(t, "unknown", v.AboveLimit, "%s m²", area)
		assert.Equal(t, "unknown", v.AboveMask, "%s m²", area)
		assert.Nil(t, v.OfLimit, "nothing is a share of no limit")
	}
	assert.Equal(t, "yes", vapourOf(t, "musk", hall.with(facts{"surface.area_m2": "20"})).NearExploding, "how it burns is known")
}

func TestWhatBurnsWithoutAKnownLimitMayExplode(t *testing.T) {
	v := vapourOf(t, "unlit", hall.with(facts{"surface.area_m2": "0.1"}))
	assert.Equal(t, [3]string{"no", "no", "unknown"}, says(v))
	assert.Nil(t, v.OfLEL)
}

func TestTheAnswerNamesTheProduct(t *testing.T) {
	set := own{"vapour": "{by: shop.brew}", "never": clauses("air.above_limit")}
	r := painted(t, set, hall)
	assert.Equal(t, engine.NeedsAnswer, r.State)
	assert.Equal(t, []string{"shop.brew"}, r.Missing)
	for brew, want := range map[string]engine.State{"spirit": engine.RuledOut, "lye": engine.Ready, "potion": engine.NeedsAnswer} {
		assert.Equal(t, want, painted(t, set, hall.with(facts{"shop.brew": brew})).State, brew)
	}
	set["vapour"] = "{of: lye}"
	assert.Equal(t, engine.Ready, painted(t, set, hall.with(facts{"shop.brew": "spirit"})).State, "a row of its own asks no answer")
}
