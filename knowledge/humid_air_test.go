package knowledge_test

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/air"
	"mendwright/rules/interval"
)

// TestHumidAirAgreesWithALibraryThatOthersWrote holds the dew point, the wet bulb, the humidity of
// a wet bulb and the vapour pressure of water against testdata/published/humid-air.csv, which says
// whose figures they are. What the two may differ by follows from what the two reckon with.
//
//   - Vapour pressure: from 0 to 50 °C the constants of Magnus run within 0.3 % of Hyland and Wexler.
//   - Dew point: it moves 1 °C for 6 % of pressure or more, so 0.3 % of pressure is 0.05 °C. The
//     library has frost below 0 °C, and ours is turned into frost here; so there it holds that the
//     dew point undoes the pressure, not what the pressure over water that has not frozen is.
//   - Humidity of a wet bulb: what evaporation has taken is, by the psychrometer formula, about
//     0.00066 P for each degree between the bulbs, and by the heat balance about 0.00065 (P - e).
//     The first is larger by the share e/P that the wet bulb's vapour has of the air, and 1 to 2.5 %
//     more.
//   - Wet bulb: for the same reason it reads 1.1 to 2 % of the way to the dry bulb warmer than the
//     heat balance has it, which is what a wick does that its surroundings warm. The library halves
//     its interval down to 0.001 °C.
func TestHumidAirAgreesWithALibraryThatOthersWrote(t *testing.T) {
	ok := func(r interval.Range, err error) float64 {
		t.Helper()
		require.NoError(t, err)
		return r.Mid()
	}
	at := interval.Exact
	water := func(celsius float64) float64 { return ok(air.WaterPascals(at(celsius))) }

	// check says whether a figure of the library is met, and by how much ours is above it.
	type check func(celsius, given, hPa, theirs float64) (above float64, met bool)
	figures := map[string]struct {
		check   check
		largest float64 // the largest difference found
		count   int
		sum     float64 // of the figures as they stand in the file, so that none of them can change unseen
	}{
		"saturation-pa": {func(celsius, _, _, theirs float64) (float64, bool) {
			above := 100 * (water(celsius)/theirs - 1) // per cent
			return above, math.Abs(above) <= 0.3
		}, 0.29, 11, 49125.5},
		"dew-point-c": {func(celsius, humidity, _, theirs float64) (float64, bool) {
			if celsius < 0 {
				humidity *= ice(celsius) / water(celsius)
			}
			ours := ok(air.DewPoint(at(celsius), at(humidity)))
			if ours < 0 {
				ours = frostPoint(water(ours))
			}
			return ours - theirs, math.Abs(ours-theirs) <= 0.05
		}, 0.044, 83, 798.099},
		"wet-bulb-c": {func(celsius, humidity, hPa, theirs float64) (float64, bool) {
			above := ok(air.WetBulb(at(celsius), at(humidity), at(hPa))) - theirs
			apart := celsius - theirs
			return above, 0.011*apart-0.001 <= above && above <= 0.02*apart+0.001
		}, 0.379, 135, 2709.287},
		"humidity-pct": {func(celsius, wet, hPa, theirs float64) (float64, bool) {
			ours := ok(air.HumidityOfWetBulb(at(celsius), at(wet), at(hPa)))
			taken := 100*water(wet)/water(celsius) - ours
			larger := (theirs-ours)/taken - water(wet)/(100*hPa)
			return ours - theirs, 0.01 <= larger && larger <= 0.025
		}, 1.21, 117, 6705.395},
	}

	file, err := os.Open(filepath.Join("..", "testdata", "published", "humid-air.csv"))
	require.NoError(t, err)
	defer file.Close()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	rows, err := reader.ReadAll()
	require.NoError(t, err)
	require.Equal(t, []string{"quantity", "celsius", "given", "hpa", "expect"}, rows[0])

	count, sum, largest := map[string]int{}, map[string]float64{}, map[string]float64{}
	for _, row := range rows[1:] {
		f, known := figures[row[0]]
		require.True(t, known, "%v: there is no such quantity", row)
		var v [4]float64
		for i, text := range row[1:] {
			if text == "" { // not an input of this quantity
				continue
			}
			v[i], err = strconv.ParseFloat(text, 64)
			require.NoError(t, err, "%v", row)
		}
		above, met := f.check(v[0], v[1], v[2], v[3])
		assert.True(t, met, "%v: ours is above by %.4f", row, above)
		count[row[0]]++
		sum[row[0]] += v[3]
		largest[row[0]] = max(largest[row[0]], math.Abs(above))
	}
	for quantity, f := range figures {
		assert.Equal(t, f.count, count[quantity], "%s: figures in the file", quantity)
		assert.InDelta(t, f.sum, sum[quantity], 1e-4, "%s: a figure was changed", quantity)
		last := math.Pow(10, math.Floor(math.Log10(f.largest))-1) // two digits were kept
		assert.InDelta(t, f.largest, largest[quantity], last, "%s: largest difference", quantity)
	}
}

// The vapour pressure over ice in Pa, and the temperature at which it stands. From memory of the WMO
// guide to instruments, which is where engine/air has the constants over water from.
const (
	iceA = 22.46
	iceB = 272.62
	iceP = 611.2
)

func ice(celsius float64) float64 { return iceP * math.Exp(iceA*celsius/(iceB+celsius)) }

func frostPoint(pascals float64) float64 {
	g := math.Log(pascals / iceP)
	return iceB * g / (iceA - g)
}
