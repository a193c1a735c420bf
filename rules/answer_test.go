package rules_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

var (
	lid = &rules.Fact{ID: "piece.lid", Kind: condition.Choice, Answers: []rules.Answer{
		{ID: "screw-on", Means: "it screws on"}, {ID: "snap-on", Means: "it snaps on"}, {ID: "none", Means: "no lid"}}}
	tools = &rules.Fact{ID: "shop.tools", Kind: condition.Several, Answers: []rules.Answer{
		{ID: "card-scraper"}, {ID: "block-plane"}, {ID: "file"}}}
	waxed = &rules.Fact{ID: "surface.waxed", Kind: condition.YesNo}
	film  = &rules.Fact{ID: "surface.film_mm", Kind: condition.Quantity, Unit: "mm", Bounds: interval.Range{Lo: 0, Hi: 2}, Spread: 0.05}
	air   = &rules.Fact{ID: "shop.air_c", Kind: condition.Quantity, Unit: "°C", Bounds: interval.Range{Lo: -10, Hi: 45}}
)

func TestAnAnswerMayBeTypedInManyWays(t *testing.T) {
	for _, c := range []struct {
		fact  *rules.Fact
		texts []string
		want  condition.Value
	}{
		{lid, []string{"screw-on"}, condition.Pick("screw-on")},
		{lid, []string{"Screw-On"}, condition.Pick("screw-on")},
		{lid, []string{"SCREW ON"}, condition.Pick("screw-on")},
		{lid, []string{"screw_on"}, condition.Pick("screw-on")},
		{lid, []string{"  screw   on "}, condition.Pick("screw-on")},
		{lid, []string{"screw _- on"}, condition.Pick("screw-on")},
		{lid, []string{"None"}, condition.Pick("none")},
		{tools, []string{"file"}, condition.PickSeveral("file")},
		{tools, []string{"File", "Card Scraper", "block_plane"}, condition.PickSeveral("block-plane", "card-scraper", "file")},
		{tools, nil, condition.PickSeveral()},
		{waxed, []string{"yes"}, condition.Yes(true)},
		{waxed, []string{"Y"}, condition.Yes(true)},
		{waxed, []string{" TRUE "}, condition.Yes(true)},
		{waxed, []string{"no"}, condition.Yes(false)},
		{waxed, []string{"N"}, condition.Yes(false)},
		{waxed, []string{"False"}, condition.Yes(false)},
	} {
		got, known, err := c.fact.ReadAnswer(c.texts...)
		require.NoError(t, err, "%q", c.texts)
		assert.True(t, known, "%q", c.texts)
		assert.True(t, c.want.Equal(got), "%q is read as %s", c.texts, got)
		assert.Equal(t, c.fact.Kind, got.Kind())
	}
}

func TestCannotTellIsAnAnswerToEveryQuestion(t *testing.T) {
	for _, fact := range []*rules.Fact{lid, tools, waxed, film} {
		for _, text := range []string{"Cannot Tell", " can't tell ", "DON'T KNOW", "Unknown", "cannot tell", "cannot_tell", "can\u2019t tell", "?"} {
			v, known, err := fact.ReadAnswer(text)
			assert.NoError(t, err, "%s: %q", fact.ID, text)
			assert.False(t, known, "%s: %q", fact.ID, text)
			assert.Equal(t, condition.Value{}, v)
		}
	}
}

func TestAQuantityTakesTheSpreadThatWasNotTyped(t *testing.T) {
	for _, c := range []struct {
		fact   *rules.Fact
		text   string
		lo, hi float64
	}{
		{film, "0.6", 0.55, 0.65},
		{film, "0.6 mm", 0.55, 0.65},
		{film, "0,6 mm", 0.55, 0.65},
		{film, "600 µm", 0.55, 0.65},
		{film, "1/28 in", 25.4/28 - 0.05, 25.4/28 + 0.05},
		{film, "0.6 ± 0.01 mm", 0.59, 0.61},
		{film, "0.6 +/- 0.01", 0.59, 0.61},
		{film, "0.6 mm ± 0", 0.6, 0.6},
		{film, "0.5 to 0.7 mm", 0.5, 0.7},
		{film, "0.5 to 0.5 mm", 0.5, 0.5},
		// The bounds are what is possible at all.
		{film, "0.02", 0, 0.07},
		{film, "2", 1.95, 2},
		{film, "1.5 ± 1", 0.5, 2},
		{air, "20", 20, 20},
		{air, "68 °F", 20, 20},
		{air, "-5", -5, -5},
	} {
		v, known, err := c.fact.ReadAnswer(c.text)
		require.NoError(t, err, c.text)
		assert.True(t, known, c.text)
		assert.Equal(t, condition.Quantity, v.Kind(), c.text)
		assert.InDelta(t, c.lo, v.Range().Lo, 1e-12, c.text)
		assert.InDelta(t, c.hi, v.Range().Hi, 1e-12, c.text)
	}
}

func TestAnAnswerThatIsNoneSaysWhatWasExpected(t *testing.T) {
	for _, c := range []struct {
		fact  *rules.Fact
		texts []string
		says  string
	}{
		{lid, []string{"screwon"}, `read "screwon"; piece.lid takes screw-on, snap-on, none, or cannot tell (did you mean "screw-on"?)`},
		{lid, []string{"Snap On It"}, `read "Snap On It"; piece.lid takes screw-on, snap-on, none, or cannot tell (did you mean "snap-on"?)`},
		{lid, []string{"hinged"}, `read "hinged"; piece.lid takes screw-on, snap-on, none, or cannot tell`},
		{lid, []string{""}, `read ""; piece.lid takes screw-on, snap-on, none, or cannot tell`},
		{lid, nil, "expected one answer to piece.lid, read a list"},
		{lid, []string{"none", "snap-on"}, "expected one answer to piece.lid, read a list"},
		{tools, []string{"file", "flie"}, `read "flie"; shop.tools takes card-scraper, block-plane, file, or cannot tell (did you mean "file"?)`},
		{tools, []string{"file", "cannot tell"}, `read "cannot tell"; shop.tools takes card-scraper, block-plane, file, or cannot tell`},
		{waxed, []string{"a bit"}, `read "a bit"; expected yes, no or cannot tell`},
		{waxed, []string{"yes", "no"}, "expected one answer to surface.waxed, read a list"},
		{film, []string{"3 mm"}, `read "3 mm", which is 3 mm; surface.film_mm lies between 0 and 2 mm`},
		{film, []string{"1 in"}, `read "1 in", which is 25.4 mm; surface.film_mm lies between 0 and 2 mm`},
		{film, []string{"-0.1"}, `read "-0.1", which is -0.1 mm; surface.film_mm lies between 0 and 2 mm`},
		{film, []string{"3 ± 2 mm"}, `read "3 ± 2 mm", which is 3 ± 2 mm; surface.film_mm lies between 0 and 2 mm`},
		{film, []string{"20 °C"}, `read "20 °C", whose unit "°c" is of another kind; expected a quantity such as 0.6 mm, 0.6 ± 0.05 mm, 1/28 in or 25 thou`},
		{film, []string{"thin"}, `read "thin", where no number stands in front; expected a quantity such as 0.6 mm, 0.6 ± 0.05 mm, 1/28 in or 25 thou`},
		{air, []string{"200 °F"}, `read "200 °F", which is 93.33 °C; shop.air_c lies between -10 and 45 °C`},
	} {
		v, known, err := c.fact.ReadAnswer(c.texts...)
		assert.EqualError(t, err, c.says, "%q", c.texts)
		assert.False(t, known, "%q", c.texts)
		assert.Equal(t, condition.Value{}, v, "%q", c.texts)
	}
}

func TestAnAnswerIsShownAsItWasUnderstood(t *testing.T) {
	for _, c := range []struct {
		fact  *rules.Fact
		texts []string
		want  string
	}{
		{lid, []string{"Snap On"}, "snap-on"},
		{tools, []string{"file", "Block Plane"}, "block-plane, file"},
		{tools, nil, "none of them"},
		{waxed, []string{"y"}, "yes"},
		{waxed, []string{"FALSE"}, "no"},
		{film, []string{"0.6"}, "0.6 ± 0.05 mm"},
		{film, []string{"0.5 to 0.7"}, "0.6 ± 0.1 mm"},
		{air, []string{"68 °F"}, "20 °C"},
	} {
		v, _, err := c.fact.ReadAnswer(c.texts...)
		require.NoError(t, err, "%q", c.texts)
		assert.Equal(t, c.want, c.fact.Show(v), "%q", c.texts)
	}
}

func TestAnAnswerMeansWhatIsWrittenBesideIt(t *testing.T) {
	assert.Equal(t, "it snaps on", lid.Means("snap-on"))
	assert.Equal(t, "hinged", lid.Means("hinged"))
}
