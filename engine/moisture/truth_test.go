package moisture_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/moisture"
	"mendwright/rules/interval"
)

func TestAWaitIsOver(t *testing.T) {
	tables := moisture.Tables{Waits: map[string]moisture.Wait{
		"wiped": {Hours: between(2, 12)}, "steamed": {Hours: between(24, 48), Meter: true}}}
	for _, c := range []struct {
		after   string
		elapsed interval.Range
		want    moisture.Truth
	}{
		{"wiped", exact(1), moisture.No}, {"wiped", exact(2), moisture.Unknown}, {"wiped", exact(12), moisture.Yes},
		{"wiped", between(1, 20), moisture.Unknown}, {"wiped", between(11, 20), moisture.Unknown}, {"wiped", between(13, 20), moisture.Yes},
		{"steamed", exact(10), moisture.No}, {"steamed", exact(30), moisture.Unknown}, {"steamed", exact(500), moisture.Unknown},
	} {
		w, err := tables.Wait(c.after)
		require.NoError(t, err)
		got, err := w.Over(c.elapsed)
		require.NoError(t, err)
		assert.Equal(t, c.want, got, "%s after %v h", c.after, c.elapsed)
	}
	_, err := tables.Wait("drowned")
	assert.ErrorContains(t, err, `"drowned"`)
	_, err = moisture.Wait{}.Over(exact(-1))
	assert.ErrorContains(t, err, "read -1 h")
}

func TestTwoReadingsShowThatWoodIsDry(t *testing.T) {
	for _, c := range []struct {
		says                      string
		first, second, hours, emc interval.Range
		want                      moisture.Truth
	}{
		{"two that agree near the room", exact(10.2), exact(10), exact(24), exact(9), moisture.Yes},
		{"half a point apart is close enough", exact(8.3), exact(7.8), exact(24), exact(9), moisture.Yes},
		{"still falling", exact(14), exact(12), exact(24), exact(11), moisture.No},
		{"too soon after one another", exact(10.2), exact(10), exact(4), exact(9), moisture.No},
		{"at rest, but wetter than the room", exact(13), exact(13), exact(48), exact(9), moisture.No},
		{"drier than the room will hold it", exact(5), exact(5), exact(48), exact(9), moisture.No},
		{"a poor guess at the room", exact(11), exact(11), exact(48), between(7, 10), moisture.Unknown},
		{"readings to a point each", between(9.5, 10.5), between(9.5, 10.5), exact(48), exact(9), moisture.Unknown},
	} {
		got, err := moisture.Dry(c.first, c.second, c.hours, c.emc)
		require.NoError(t, err, c.says)
		assert.Equal(t, c.want, got, c.says)
	}
	_, err := moisture.Dry(exact(-1), exact(10), exact(24), exact(9))
	assert.ErrorContains(t, err, "first reading")
}

func TestAMeterIsPutRight(t *testing.T) {
	for _, c := range []struct{ read, celsius, want float64 }{
		{9, 20, 9}, {9, 10, 10}, {9, 30, 8}, {9, 15, 9.5}, {0.5, 40, 0},
	} {
		got, err := moisture.Corrected(exact(c.read), exact(c.celsius))
		require.NoError(t, err)
		assert.InDelta(t, c.want, got.Lo, 1e-12, "%v %% at %v °C", c.read, c.celsius)
		assert.Equal(t, got.Lo, got.Hi)
		content, err := moisture.Content(exact(c.read), exact(c.celsius))
		require.NoError(t, err)
		assert.InDelta(t, max(0, c.want-2), content.Lo, 1e-12)
		assert.InDelta(t, c.want+2, content.Hi, 1e-12)
	}
}

func TestWhereAMeterIsGood(t *testing.T) {
	for _, c := range []struct {
		read interval.Range
		want moisture.Truth
	}{
		{exact(5), moisture.No}, {exact(6.5), moisture.Unknown}, {exact(7), moisture.Yes}, {exact(12), moisture.Yes},
		{exact(25), moisture.Yes}, {exact(28), moisture.Unknown}, {exact(35), moisture.No}, {between(5, 35), moisture.Unknown}, {between(20, 27), moisture.Unknown},
	} {
		got, err := moisture.Reliable(c.read)
		require.NoError(t, err)
		assert.Equal(t, c.want, got, "%v", c.read)
	}
	_, err := moisture.Reliable(exact(math.NaN()))
	assert.ErrorContains(t, err, "reading")
}

func TestRotWantsWaterAndWarmth(t *testing.T) {
	for _, c := range []struct {
		says             string
		content, celsius interval.Range
		decays           moisture.Truth
		pace             moisture.Pace
	}{
		{"a dry room", exact(9), exact(20), moisture.No, moisture.Active},
		{"at the limit", exact(20), exact(20), moisture.No, moisture.Active},
		{"a wet cellar", exact(35), exact(15), moisture.Yes, moisture.Active},
		{"a wet shed in frost", exact(35), exact(-5), moisture.No, moisture.Stops},
		{"a wet shed in a cold spring", exact(35), exact(6), moisture.Yes, moisture.Slow},
		{"still mild", exact(35), exact(35), moisture.Yes, moisture.Active},
		{"no longer mild", exact(35), exact(35.5), moisture.Yes, moisture.Slow},
		{"under a hot roof", exact(35), exact(37), moisture.Yes, moisture.Slow},
		{"between the manuals' limits", exact(25), exact(20), moisture.Unknown, moisture.Active},
		{"a winter and a summer", exact(35), between(-5, 25), moisture.Unknown, moisture.PaceUnknown},
		{"a frost and a desert, with all between", exact(35), between(-5, 50), moisture.Unknown, moisture.PaceUnknown},
		{"cool or mild", exact(35), between(5, 20), moisture.Yes, moisture.PaceUnknown},
		{"cool or hot, with the mild between", exact(35), between(8, 36), moisture.Yes, moisture.PaceUnknown},
		{"dry, whatever the weather", between(8, 18), between(-30, 60), moisture.No, moisture.PaceUnknown},
	} {
		got, err := moisture.Decays(c.content, c.celsius)
		require.NoError(t, err, c.says)
		assert.Equal(t, c.decays, got, c.says)
		pace, err := moisture.DecayPace(c.celsius)
		require.NoError(t, err, c.says)
		assert.Equal(t, c.pace, pace, c.says)
	}
	for _, c := range []struct{ content, celsius interval.Range }{{exact(-1), exact(20)}, {exact(20), exact(200)}} {
		_, err := moisture.Decays(c.content, c.celsius)
		assert.ErrorContains(t, err, "expected between")
	}
}

func TestTreatmentsMeetTheirSchedules(t *testing.T) {
	tables := moisture.Tables{Treatments: []moisture.Treatment{
		{Method: moisture.Anoxia, Against: "borers", Oxygen: 0.5, Celsius: 24, Hours: 500},
		{Method: moisture.Anoxia, Against: "borers", Oxygen: 1, Celsius: 27, Hours: 500},
		{Method: moisture.Cold, Against: "borers", Celsius: -20, Hours: 300},
		{Method: moisture.Cold, Against: "borers", Celsius: -30, Hours: 150},
		{Method: moisture.Heat, Against: "borers", Celsius: 55, Hours: 1},
	}}
	for _, c := range []struct {
		says                   string
		method                 moisture.Method
		oxygen, celsius, hours interval.Range
		want                   moisture.Truth
	}{
		{"low oxygen, warm, long", moisture.Anoxia, exact(0.3), exact(25), exact(600), moisture.Yes},
		{"more oxygen wants more warmth", moisture.Anoxia, exact(0.9), exact(28), exact(600), moisture.Yes},
		{"more oxygen at the lower warmth", moisture.Anoxia, exact(0.9), exact(25), exact(600), moisture.No},
		{"plain air", moisture.Anoxia, exact(21), exact(28), exact(5000), moisture.No},
		{"a leaky bag", moisture.Anoxia, between(0.3, 3), exact(28), exact(600), moisture.Unknown},
		{"two weeks at twenty below", moisture.Cold, exact(21), exact(-20), exact(336), moisture.Yes},
		{"a week there is not enough", moisture.Cold, exact(21), exact(-20), exact(168), moisture.No},
		{"a week at thirty below is", moisture.Cold, exact(21), exact(-31), exact(168), moisture.Yes},
		{"a household freezer", moisture.Cold, exact(21), exact(-18), exact(5000), moisture.No},
		{"a freezer that wavers", moisture.Cold, exact(21), between(-22, -17), exact(336), moisture.Unknown},
		{"hot to the core", moisture.Heat, exact(21), exact(56), exact(2), moisture.Yes},
		{"warm only", moisture.Heat, exact(21), exact(50), exact(20), moisture.No},
	} {
		got, err := tables.Treated(c.method, "borers", c.oxygen, c.celsius, c.hours)
		require.NoError(t, err, c.says)
		assert.Equal(t, c.want, got, c.says)
	}
	_, err := tables.Treated(moisture.Heat, "mice", exact(21), exact(56), exact(2))
	assert.ErrorContains(t, err, `"mice"`)
	_, err = moisture.Tables{}.Treated(moisture.Heat, "borers", exact(21), exact(56), exact(2))
	assert.Error(t, err)
	for _, bad := range [][3]interval.Range{{exact(30), exact(25), exact(1)}, {exact(1), exact(500), exact(1)}, {exact(1), exact(25), exact(-1)}} {
		_, err := tables.Treated(moisture.Anoxia, "borers", bad[0], bad[1], bad[2])
		assert.ErrorContains(t, err, "expected between")
		_, err = tables.Treatments[0].Meets(bad[0], bad[1], bad[2])
		assert.ErrorContains(t, err, "expected between")
	}
}

// judgement is a truth, or one of its kin, about ranges.
type judgement struct {
	name   string
	bounds []interval.Range
	of     func(x []interval.Range) (int, error)
}

// A closer measurement may settle what was unknown; it never changes what was settled.
func TestWhatIsSettledStaysSettled(t *testing.T) {
	wait := moisture.Wait{Hours: between(24, 48)}
	anoxia := moisture.Treatment{Oxygen: 0.5, Celsius: 24, Hours: 500}
	cold := moisture.Treatment{Method: moisture.Cold, Celsius: -20, Hours: 300}
	percent, celsius, hours := between(0, 100), between(-40, 60), between(0, 1000)
	c := deal()
	for _, j := range []judgement{
		{"ScorchAt", []interval.Range{between(0, 400)}, func(x []interval.Range) (int, error) { v, err := moisture.ScorchAt(x[0]); return int(v), err }},
		{"Softens", []interval.Range{between(40, 100), between(0, 150)}, func(x []interval.Range) (int, error) { v, err := moisture.Softens(x[0], x[1]); return int(v), err }},
		{"Over", []interval.Range{between(0, 100)}, func(x []interval.Range) (int, error) { v, err := wait.Over(x[0]); return int(v), err }},
		{"Dry", []interval.Range{between(6, 12), between(6, 12), between(0, 72), between(6, 12)},
			func(x []interval.Range) (int, error) {
				v, err := moisture.Dry(x[0], x[1], x[2], x[3])
				return int(v), err
			}},
		{"Reliable", []interval.Range{percent}, func(x []interval.Range) (int, error) { v, err := moisture.Reliable(x[0]); return int(v), err }},
		{"DecayByMoisture", []interval.Range{percent}, func(x []interval.Range) (int, error) { v, err := moisture.DecayByMoisture(x[0]); return int(v), err }},
		{"DecayPace", []interval.Range{celsius}, func(x []interval.Range) (int, error) { v, err := moisture.DecayPace(x[0]); return int(v), err }},
		{"Decays", []interval.Range{percent, celsius}, func(x []interval.Range) (int, error) { v, err := moisture.Decays(x[0], x[1]); return int(v), err }},
		{"Meets, anoxia", []interval.Range{between(0, 1), between(20, 30), hours}, func(x []interval.Range) (int, error) { v, err := anoxia.Meets(x[0], x[1], x[2]); return int(v), err }},
		{"Meets, cold", []interval.Range{exact(21), celsius, hours}, func(x []interval.Range) (int, error) { v, err := cold.Meets(x[0], x[1], x[2]); return int(v), err }},
	} {
		settled := map[int]int{}
		for range tries {
			wide := c.all(j.bounds)
			narrow := c.all(wide)
			outer, err := j.of(wide)
			require.NoError(t, err, j.name)
			inner, err := j.of(narrow)
			require.NoError(t, err, j.name)
			settled[outer]++
			if outer != 0 {
				require.Equal(t, outer, inner, "%s of %v and of %v inside it", j.name, wide, narrow)
			}
		}
		assert.Greater(t, len(settled), 2, "%s was seen both ways and unknown", j.name)
	}
}

func TestTheWordsAreSpelt(t *testing.T) {
	assert.Equal(t, "unknown no yes", moisture.Unknown.String()+" "+moisture.No.String()+" "+moisture.Yes.String())
	assert.Equal(t, "chars", moisture.FaceChars.String())
	assert.Equal(t, "stops", moisture.Stops.String())
	assert.Equal(t, moisture.Unknown, moisture.Truth(0))
}
