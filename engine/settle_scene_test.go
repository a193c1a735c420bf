package engine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// soak is a method after which wood must dry, and glue too.
var soak = own{"waits": "[{for: the wood to dry, hours: [24, 72], wood: yes, because: it is wet, source: bench-note}, {for: the glue, hours: [2, 4], because: it is soft, source: bench-note}]"}

func TestWetWoodComesToRestInTheAirOfTheShop(t *testing.T) {
	w := painted(t, soak, facts{"shop.air_c": "20", "shop.humidity": "50"}).Waits
	require.Len(t, w, 2)
	require.NotNil(t, w[0].SettlesPC)
	assert.InDelta(t, 9.2, w[0].SettlesPC.Lo, 0.1, "per cent")
	assert.InDelta(t, 9.2, w[0].SettlesPC.Hi, 0.1)
	assert.Nil(t, w[1].SettlesPC, "glue has no such mark")
	damp := painted(t, soak, facts{"shop.air_c": "20", "shop.humidity": "50 to 80"}).Waits[0].SettlesPC
	require.NotNil(t, damp)
	assert.Equal(t, w[0].SettlesPC.Lo, damp.Lo)
	assert.InDelta(t, 16, damp.Hi, 0.2)
}

func TestNoMarkIsGivenForAirThatIsNotKnownOrBeyondTheFormula(t *testing.T) {
	for _, given := range []facts{{}, {"shop.air_c": "20"}, {"shop.humidity": "50"}, {"shop.air_c": "-15", "shop.humidity": "50"}, {"shop.air_c": "20", "shop.humidity": "100"}} {
		assert.Nil(t, painted(t, soak, given).Waits[0].SettlesPC, "%v", given)
	}
	_, d := triage(t, load(t, method("mend", soak), rest), hammered)
	assert.Nil(t, repair(t, d, "mend").Waits[0].SettlesPC, "a rulebook without the sum gives none")
}
