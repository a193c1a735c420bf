package knowledge_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/reckon"
)

func init() {
	reckonPublished = append(reckonPublished, []struct{ id, ask, figure string }{
		{"metal-bake-1350", "bake-by-strength strength=1350", "hours"},
		{"metal-rust-grade-0-31", "rust-grade area=0.31", "grade"},
		{"metal-dilute-85-to-10", "dilution-by-weight have=85 want=10 make=1000_kg", "acid"},
		{"metal-soda-for-vinegar", "neutralise-acid acid=vinegar weight=50_g", "soda"},
		{"metal-hydrogen-2-a-6-h", "electrolysis-gas current=2 time=6_h space=0.1_m³", "hydrogen"},
		{"metal-hydrogen-share", "electrolysis-gas current=2 time=6_h space=0.1_m³", "share"},
		{"metal-screw-4-8-mm", "screw-gauge shank=4.8", "by-formula"},
		{"metal-screw-4-8-mm-whole", "screw-gauge shank=4.8", "gauge"},
		{"metal-pitch-counted", "thread diameter=4.75 length=7.94 turns=10", "pitch"},
		{"metal-pilot-10-hard", "pilot-hole gauge=10 wood=hardwood", "pilot"},
		{"metal-gap-steel-brass", "metals-that-touch one=steel other=brass", "apart"},
		{"air-dew-22-78", "dew-point air=22 humidity=78", "dew-point"},
		{"air-paint-damp-margin", "above-dew-point air=20 humidity=80 surface=18", "margin"},
		{"air-paint-damp-verdict", "above-dew-point air=20 humidity=80 surface=18", "dew"},
		{"air-wet-bulb-20-15", "wet-and-dry-bulb dry=20 wet=15", "humidity"},
		{"air-wet-bulb-of-7", "wet-bulb air=7 humidity=61 pressure=100_kPa", "wet-bulb"},
		{"air-mg-of-isopropyl", "mg-per-m3 substance=isopropyl-alcohol ppm=1", "mg"},
		{"air-lights-toluene", "saturation substance=toluene air=20", "burns"},
		{"air-day-regulation", "exposure substance=acetone first=150 first-time=2_h second=75 second-time=2_h third=50 third-time=4_h", "average"},
		{"air-door-flow", "air-changes-door opening=5.04 wind=1 room=40", "flow"},
		{"air-door-changes", "air-changes-door opening=5.04 wind=1 room=40", "changes"},
		{"air-dust-cloud", "dust-lying-about layer=1 density=300 height=2.4_m", "cloud"},
		{"air-lead-from-2009", "lead-in-paint lead=0.009", "ppm"},
		{"air-highest-hdi-10", "mask mask=airline-demand-half-mask substance=hdi ppm=0.01", "highest"},
		{"air-glove-level-45", "glove-level time=45", "level"},
		{"air-noise-osha-95", "noise-by-level level=95 time=1_h", "osha-hours"},
		{"air-scald-third-60", "scald water=60", "third"},
		{"coat-dry-100", "dry-film wet=100_µm solids=50", "dry"},
		{"coat-wet-125", "wet-film dry=125_µm solids=71", "wet"},
		{"coat-sag", "run-on-an-upright wet=6_mil", "hang"},
		{"coat-rate-65", "spreading-rate solids=65 dry=125_µm", "rate"},
		{"coat-wet-at-8", "wet-film-at-a-rate rate=8", "wet"},
		{"coat-sheet-needs", "solids-of-a-sheet printed=33_to_42 wet=2.7_mil dry=1.3_mil", "needs"},
		{"coat-sheet-fits", "solids-of-a-sheet printed=33_to_42 wet=2.7_mil dry=1.3_mil", "fits"},
		{"coat-thinned-added", "solids-when-thinned solids=30 coating=1_L thinner=100_ml", "solids"},
		{"coat-two-coats-scuffed-um", "film-of-coats one=0.9_mil coats=2 scuff=0.3_mil", "film"},
		{"coat-litres-wasted", "litres-at-a-rate area=1.44 coats=3 rate=10 waste=15", "litres"},
		{"coat-cut-flakes", "shellac-flakes alcohol=250_ml cut=2", "flakes"},
		{"coat-recoat-late", "next-coat coat=lacquer since=13_h", "window"},
		{"coat-recoat-late-scuff", "next-coat coat=lacquer since=13_h", "scuff"},
		{"coat-wax-under-varnish", "finish-over-finish new=varnish old=wax", "may"},
		{"coat-lacquer-spray-care", "coat-today coat=lacquer air=20 humidity=65 surface=17 spray=yes", "verdict"},
		{"coat-gloss-name-furniture", "sheen at-60=38 convention=furniture", "name"},
		{"plan-mean-1", "step-time low=5_h likely=8_h high=17_h", "expected"},
		{"plan-deal-profit", "piece-profit price=340 fee=10 bought=60 materials=45 fixed=20 rate=18 work=9_h", "profit"},
		{"plan-deal-margin", "piece-profit price=340 fee=10 bought=60 materials=45 fixed=20 rate=18 work=9_h", "margin"},
		{"plan-deal-break-even", "break-even-price fee=10 bought=60 materials=45 fixed=20 rate=18 work=9_h", "price"},
		{"plan-deal-highest-bid", "highest-bid price=340 fee=10 materials=45 fixed=20 rate=18 work=9_h", "bid"},
		{"plan-deal-hour-earns", "hour-earns price=340 fee=10 bought=60 materials=45 fixed=20 work=9_h", "earns"},
		{"plan-hours-dresser-most", "hours-allowed price=960 bought=0 rate=60", "hours"},
		{"plan-luck-profit", "profit-chance price=340 price-off=40 fee=10 bought=60 materials=45 fixed=20 rate=18 low=6_h likely=9_h high=15_h", "profit"},
		{"plan-luck-std", "profit-chance price=340 price-off=40 fee=10 bought=60 materials=45 fixed=20 rate=18 low=6_h likely=9_h high=15_h", "scatter"},
		{"plan-contribution", "pieces-to-break-even fixed=1000 price=30 cost=18", "contribution"},
		{"plan-margin-of-markup", "margin-of-markup markup=50", "margin"},
		{"coat-keeps-out-shellac", "moisture-kept-out film=shellac", "keeps-out"},
	}...)
}

// asked reckons a call written as its words, with an underscore for a space.
func asked(t *testing.T, call string) (map[string]reckon.Figure, error) {
	t.Helper()
	words := strings.Fields(call)
	c, err := reckon.Find(words[0])
	require.NoError(t, err)
	typed := map[string]string{}
	for _, w := range words[1:] {
		name, text, _ := strings.Cut(w, "=")
		typed[name] = strings.ReplaceAll(text, "_", " ")
	}
	a, err := c.Answer(reckonTables()[c.Field], typed)
	if err != nil {
		return nil, err
	}
	figures := map[string]reckon.Figure{}
	for _, f := range a.Figures {
		figures[f.Name] = f
	}
	return figures, nil
}

// word is the word of one figure of a call that has an answer.
func word(t *testing.T, call, figure string) string {
	t.Helper()
	figures, err := asked(t, call)
	require.NoError(t, err, call)
	require.Contains(t, figures, figure, call)
	return figures[figure].Word
}

func TestAHardenedSpringStaysOutOfAcidWhateverElseItIs(t *testing.T) {
	c, err := reckon.Find("bath-on-a-part")
	require.NoError(t, err)
	also := c.Inputs[2].Words(reckonTables()[reckon.Metal])
	require.Greater(t, len(also), 5)
	for _, bath := range []string{"vinegar", "citric", "phosphoric"} {
		for _, other := range also {
			assert.Equal(t, "never", word(t, "bath-on-a-part bath="+bath+" part=hardened-spring also="+other, "verdict"), "%s, also %s", bath, other)
			if other != "nothing-else" {
				assert.Equal(t, "never", word(t, "bath-on-a-part bath="+bath+" part="+other+" also=hardened-spring", "verdict"), "%s, %s first", bath, other)
			}
		}
	}
	assert.Equal(t, "watch", word(t, "bath-on-a-part bath=citric part=plain-steel", "verdict"))
}

func TestAPartThatNobodyNamedCountsAsTheWorst(t *testing.T) {
	figures, err := asked(t, "bath-on-a-part bath=vinegar")
	require.NoError(t, err)
	assert.Equal(t, reckon.NotKnown, figures["verdict"].Word)
	assert.Contains(t, figures["verdict"].Says, "until it is known better, never")
}

func TestNoCartridgeIsWornAgainstMethanol(t *testing.T) {
	assert.Equal(t, "refused", word(t, "mask mask=full-face cartridge=organic-vapour substance=methanol ppm=1", "verdict"))
	assert.Equal(t, "may", word(t, "mask mask=airline-pressure-full-face substance=methanol ppm=1", "verdict"))
	figures, err := asked(t, "mask-choice substance=methanol ppm=1")
	require.NoError(t, err)
	assert.Equal(t, "none", figures["cartridge"].Word)
	for name, mask := range reckonTables()[reckon.Air].Air.Respirators {
		assert.Equal(t, mask.Supplied, figures[name].Word == "may", name)
	}
}

func TestADustFilterIsRefusedAgainstEveryVapour(t *testing.T) {
	for substance := range reckonTables()[reckon.Air].Air.Substances {
		assert.Equal(t, "refused", word(t, "mask mask=filtering-facepiece substance="+substance+" ppm=0.001", "verdict"), substance)
		assert.Equal(t, "refused", word(t, "mask-choice substance="+substance+" ppm=0.001", "filtering-facepiece"), substance)
	}
}

func TestAReadingAcrossALimitIsTakenAtItsWorse(t *testing.T) {
	figures, err := asked(t, "exposure substance=xylene first=90_to_110 first-time=8_h")
	require.NoError(t, err)
	assert.Equal(t, reckon.NotKnown, figures["health"].Word)
	assert.Contains(t, figures["health"].Says, "until it is known better, stop")
	assert.Equal(t, "stop", word(t, "exposure substance=xylene first=101_to_110 first-time=8_h", "health"))
	assert.Equal(t, "warn", word(t, "exposure substance=xylene first=90_to_99 first-time=8_h", "health"))
}

func TestAVapourWithoutALimitIsNeverCleared(t *testing.T) {
	without := 0
	tables := reckonTables()[reckon.Air].Air
	for substance := range tables.Substances {
		if _, err := tables.Tightest(substance); err != nil {
			without++
			assert.Equal(t, reckon.NotKnown, word(t, "exposure substance="+substance+" first=0.001 first-time=1_min", "health"), substance)
			figures, err := asked(t, "solvent-in-a-room substance="+substance+" amount=0.001_ml room=1000 place=outdoors")
			require.NoError(t, err, substance)
			assert.Equal(t, "warn", figures["health"].Word, substance)
			assert.NotContains(t, figures, "of-limit", "0 %% of no limit, for %s", substance)
		}
	}
	assert.NotZero(t, without)
}

func TestWhatHasNoFigureForFireIsNotSaidToBeFarFromIt(t *testing.T) {
	call := "solvent-in-a-room amount=1_ml room=40 place=outdoors substance="
	assert.Equal(t, reckon.NotKnown, word(t, call+"hydrogen-peroxide", "fire"))
	assert.Equal(t, "warn", word(t, call+"hdi", "fire"), "it has a flash point")
	assert.Equal(t, "go", word(t, call+"acetone", "fire"))
}

// Mineral spirits: by its vapour pressure it does not burn at 20 °C, by the low end of its flash points it may.
func TestWhereBooksDisagreeALiquidMayBeLit(t *testing.T) {
	assert.Equal(t, reckon.NotKnown, word(t, "saturation substance=mineral-spirits air=20", "burns"))
	assert.Equal(t, "no", word(t, "saturation substance=benzyl-alcohol air=20", "burns"))
	assert.Equal(t, "yes", word(t, "saturation substance=acetone air=0", "burns"))
}

func TestGlovesForTwoSolventsHoldAgainstBoth(t *testing.T) {
	figures, err := asked(t, "gloves substance=acetone also=toluene")
	require.NoError(t, err)
	assert.Equal(t, "holds", figures["laminate"].Word)
	assert.Equal(t, "gives-way", figures["nitrile"].Word)
	assert.NotContains(t, figures, "butyl", "good against acetone alone")
}

func TestThreadsThatLookAlikeAreAQuestion(t *testing.T) {
	figures, err := asked(t, "thread diameter=4.75 length=7.94 turns=10")
	require.NoError(t, err)
	assert.Equal(t, reckon.NotKnown, figures["thread"].Word)
	assert.Contains(t, figures["thread"].Says, "10-32")
	assert.Contains(t, figures["thread"].Says, "M5x0.8")

	figures, err = asked(t, "thread diameter=5.9 length=10 turns=10")
	require.NoError(t, err)
	assert.Equal(t, "one-fits", figures["thread"].Word)
	assert.Contains(t, figures["thread"].Says, "M6x1.0")

	// Half-inch Whitworth has 12 threads to the inch where the table has 13.
	figures, err = asked(t, "thread diameter=12.6 length=1_in turns=12")
	require.NoError(t, err)
	assert.Equal(t, "none", figures["thread"].Word)
	assert.Contains(t, figures["thread"].Says, "Whitworth")
}

func TestVeneerThatNobodyRuledOutIsSparedTheWater(t *testing.T) {
	for given, says := range map[string]string{"": reckon.NotKnown, " water-harms=yes": "harms", " water-harms=no": "will-do"} {
		assert.Equal(t, says, word(t, "remover finish=varnish tannin=no"+given, "dibasic-ester"), given)
		assert.Equal(t, "will-do", word(t, "remover finish=varnish tannin=no"+given, "solvent-gel"), given)
	}
}

func TestThereIsNoHalfACoat(t *testing.T) {
	for _, call := range []string{"film-of-coats one=25_µm", "whole-finish coat=shellac"} {
		_, err := asked(t, call+" coats=2.5")
		assert.ErrorContains(t, err, "coats reads 2.5; expected a whole number", call)
	}
	two, err := asked(t, "film-of-coats one=25_µm coats=2 scuff=0")
	require.NoError(t, err)
	three, err := asked(t, "film-of-coats one=25_µm coats=3 scuff=0")
	require.NoError(t, err)
	either, err := asked(t, "film-of-coats one=25_µm coats=2_to_3 scuff=0")
	require.NoError(t, err)
	assert.Equal(t, two["film"].Range.Lo, either["film"].Range.Lo)
	assert.Equal(t, three["film"].Range.Hi, either["film"].Range.Hi)
}

// TestWorkThatHurtsIsNeverAskedWithoutACaution: acid, hydrogen, vapour, dust, heat and noise.
func TestWorkThatHurtsIsNeverAskedWithoutACaution(t *testing.T) {
	hurts := []string{"acid", "hydrogen", "solvent", "vapour", "dust", "sander", "lead", "bleach", "heat gun", "bath", "remover", "mist"}
	warned := 0
	for _, c := range reckon.All() {
		if c.Field != reckon.Metal && c.Field != reckon.Air && c.Field != reckon.Coat {
			continue
		}
		of := func(word string) bool { return strings.Contains(strings.ToLower(c.Ask), word) }
		// What only turns one unit into another touches nothing.
		if slices.ContainsFunc(hurts, of) && c.ID != "ppm" && c.ID != "mg-per-m3" {
			warned++
			assert.NotEmpty(t, c.Caution, c.ID)
		}
	}
	assert.Greater(t, warned, 20)
}
