package condition_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

var vocabulary = []condition.Fact{
	{ID: "surface.layer", Kind: condition.Choice, Answers: []string{"solid", "veneer", "foil"}},
	{ID: "surface.glue", Kind: condition.Choice, Answers: []string{"hide", "resin"}},
	{ID: "surface.waxed", Kind: condition.YesNo},
	{ID: "surface.film_mm", Kind: condition.Quantity},
	{ID: "shop.air_c", Kind: condition.Quantity},
	{ID: "shop.tools", Kind: condition.Several, Answers: []string{"iron", "scraper"}},
}

type answers map[string]condition.Value

func (a answers) lookup(id string) (condition.Value, bool) { v, ok := a[id]; return v, ok }

func TestThreeValuedOutcomes(t *testing.T) {
	env := condition.NewEnv(vocabulary)
	veneer, solid, hide := condition.Pick("veneer"), condition.Pick("solid"), condition.Pick("hide")
	for _, c := range []struct {
		text    string
		known   answers
		want    condition.Outcome
		missing []string
	}{
		{`surface.layer == "veneer"`, answers{"surface.layer": veneer}, condition.True, nil},
		{`surface.layer == "veneer"`, answers{"surface.layer": solid}, condition.False, nil},
		{`surface.layer == "veneer"`, nil, condition.Unknown, []string{"surface.layer"}},
		{`surface.layer != "veneer"`, nil, condition.Unknown, []string{"surface.layer"}},
		{`surface.layer == "veneer" && surface.glue == "hide"`, answers{"surface.layer": solid}, condition.False, nil},
		{`surface.glue == "hide" && surface.layer == "veneer"`, answers{"surface.layer": solid}, condition.False, nil},
		{`surface.glue == "hide" || surface.layer == "veneer"`, answers{"surface.layer": veneer}, condition.True, nil},
		{`surface.layer == "veneer" && surface.glue == "hide"`, answers{"surface.layer": veneer}, condition.Unknown, []string{"surface.glue"}},
		{`surface.layer == "veneer" && surface.glue == "hide"`, nil, condition.Unknown, []string{"surface.glue", "surface.layer"}},
		{`surface.waxed || surface.glue == "hide"`, nil, condition.Unknown, []string{"surface.glue", "surface.waxed"}},
		{`surface.glue == "hide" && !surface.waxed`, answers{"surface.glue": hide, "surface.waxed": condition.Yes(false)}, condition.True, nil},
		{`!surface.waxed`, answers{"surface.waxed": condition.Yes(false)}, condition.True, nil},
		{`!surface.waxed`, nil, condition.Unknown, []string{"surface.waxed"}},
		{`surface.layer in ["veneer", "foil"]`, answers{"surface.layer": veneer}, condition.True, nil},
		{`!(surface.layer in ["veneer", "foil"])`, nil, condition.Unknown, []string{"surface.layer"}},
		{`"iron" in shop.tools`, answers{"shop.tools": condition.PickSeveral("scraper", "iron")}, condition.True, nil},
		{`"iron" in shop.tools`, answers{"shop.tools": condition.PickSeveral("scraper")}, condition.False, nil},
		{`"iron" in shop.tools`, nil, condition.Unknown, []string{"shop.tools"}},
		{`shop.air_c < -5.0`, answers{"shop.air_c": condition.Measured(interval.Exact(-6))}, condition.True, nil},
	} {
		cond, err := env.Compile(c.text)
		require.Nil(t, err, c.text)
		got, missing, evalErr := cond.Eval(c.known.lookup)
		require.NoError(t, evalErr, c.text)
		assert.Equal(t, c.want, got, "%s given %v", c.text, c.known)
		assert.Equal(t, c.missing, missing, "%s given %v", c.text, c.known)
	}
}

func TestRangesThatStraddleTheNumberAreUnknown(t *testing.T) {
	env := condition.NewEnv(vocabulary)
	for _, c := range []struct {
		text   string
		lo, hi float64
		want   condition.Outcome
	}{
		{"surface.film_mm < 0.04", 0.02, 0.03, condition.True},
		{"surface.film_mm < 0.04", 0.02, 0.04, condition.Unknown},
		{"surface.film_mm < 0.04", 0.04, 0.05, condition.False},
		{"surface.film_mm <= 0.04", 0.02, 0.04, condition.True},
		{"surface.film_mm <= 0.04", 0.04, 0.05, condition.Unknown},
		{"surface.film_mm > 0.04", 0.04, 0.05, condition.Unknown},
		{"surface.film_mm > 0.04", 0.02, 0.04, condition.False},
		{"surface.film_mm >= 0.04", 0.04, 0.05, condition.True},
		{"surface.film_mm >= 0.04", 0.02, 0.04, condition.Unknown},
		{"surface.film_mm >= 0.04", 0.02, 0.03, condition.False},
		{"surface.film_mm >= 0.04", 0.04, 0.04, condition.True},
		{"surface.film_mm < 0.04", 0.04, 0.04, condition.False},
	} {
		cond, err := env.Compile(c.text)
		require.Nil(t, err, c.text)
		known := answers{"surface.film_mm": condition.Measured(interval.Range{Lo: c.lo, Hi: c.hi})}
		got, missing, evalErr := cond.Eval(known.lookup)
		require.NoError(t, evalErr)
		assert.Equal(t, c.want, got, "%s for %g to %g", c.text, c.lo, c.hi)
		if c.want == condition.Unknown {
			assert.Equal(t, []string{"surface.film_mm"}, missing)
		}
	}
}

func TestConditionsRefused(t *testing.T) {
	env := condition.NewEnv(vocabulary)
	for text, says := range map[string]string{
		`surface.layr == "veneer"`:                      `no fact "surface.layr" (did you mean "surface.layer"?)`,
		`surface.layer == "veneeer"`:                    `(did you mean "veneer"?)`,
		`surface.layer == surface.glue`:                 "not with another fact",
		`surface.layer`:                                 "cannot stand alone",
		`surface.film_mm == 0.5`:                        "no measurement is exact",
		`surface.film_mm != 0.5`:                        "no measurement is exact",
		`surface.film_mm < shop.air_c`:                  "not with another fact",
		`surface.film_mm < 1`:                           "1.0",
		`surface.film_mm + 1.0 < 2.0`:                   "expected a fact",
		`surface.layer < 2.0`:                           "only a quantity",
		`surface.waxed == true`:                         "write it alone",
		`surface.waxed in ["yes"]`:                      "only a choice",
		`shop.tools == "iron"`:                          `"answer" in shop.tools`,
		`"irn" in shop.tools`:                           `did you mean "iron"`,
		`"iron" in surface.layer`:                       "does not have several",
		`surface.layer in []`:                           "list of answers",
		`["a"].exists(x, x == "a")`:                     "a condition may use",
		`surface.waxed ? surface.waxed : surface.waxed`: "a condition may use",
		`size(surface.layer) > 1`:                       "expected a fact",
		`true`:                                          "a condition may use",
		`surface.waxed &&`:                              "not readable as a condition",
		``:                                              "not readable as a condition",
		`has(surface.waxed)`:                            "a condition may use",
		`surface.film_mm < 0.5 && surface.film_mm > "thick"`: "compared with a number",
		`surface.layer == 3`: "in quotes",
	} {
		_, err := env.Compile(text)
		require.NotNil(t, err, text)
		assert.Contains(t, err.Msg, says, text)
	}
}

func TestErrorsPointAtTheWord(t *testing.T) {
	env := condition.NewEnv(vocabulary)
	_, err := env.Compile(`surface.waxed && surface.glue == "hid"`)
	require.NotNil(t, err)
	assert.Equal(t, 33, err.Offset)
	_, err = env.Compile(`surface.waxed && surface.glu == "hide"`)
	require.NotNil(t, err)
	assert.Equal(t, 17, err.Offset)
}

func TestFactsReadAreSorted(t *testing.T) {
	cond, err := condition.NewEnv(vocabulary).Compile(`surface.waxed || shop.air_c < 5.0 || surface.layer == "foil"`)
	require.Nil(t, err)
	assert.Equal(t, []string{"shop.air_c", "surface.layer", "surface.waxed"}, cond.Facts)
}

func BenchmarkEval(b *testing.B) {
	cond, err := condition.NewEnv(vocabulary).Compile(`surface.layer == "veneer" && (surface.glue == "hide" || surface.film_mm < 0.04)`)
	if err != nil {
		b.Fatal(err)
	}
	known := answers{"surface.layer": condition.Pick("veneer"), "surface.film_mm": condition.Measured(interval.Exact(0.1))}
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := cond.Eval(known.lookup); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCompile(b *testing.B) {
	env := condition.NewEnv(vocabulary)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := env.Compile(`surface.layer == "veneer" && (surface.glue == "hide" || surface.film_mm < 0.04)`); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFirstCompile(b *testing.B) {
	for b.Loop() {
		if _, err := condition.NewEnv(vocabulary).Compile(`surface.layer == "veneer"`); err != nil {
			b.Fatal(err)
		}
	}
}

// TestTheTreeSaysWhatTheConditionDoes: written out and compiled again it judges alike.
func TestTheTreeSaysWhatTheConditionDoes(t *testing.T) {
	env := condition.NewEnv(vocabulary)
	for text, want := range map[string]string{
		`surface.waxed`:                                                  "",
		`!surface.waxed`:                                                 "",
		`!(!surface.waxed)`:                                              "",
		`surface.layer == "veneer"`:                                      "",
		`surface.layer != "veneer"`:                                      "",
		`!(surface.layer == "veneer")`:                                   `surface.layer != "veneer"`,
		`surface.layer in ["veneer", "foil"]`:                            "",
		`!(surface.layer in ["veneer"])`:                                 `surface.layer != "veneer"`,
		`"iron" in shop.tools && !("scraper" in shop.tools)`:             "",
		`shop.air_c < -5.5 || shop.air_c >= 30.0`:                        "",
		`shop.air_c <= 0.25 && surface.film_mm > 1.0`:                    "",
		`surface.waxed && (surface.layer == "foil" && shop.air_c > 1.0)`: `surface.waxed && surface.layer == "foil" && shop.air_c > 1.0`,
		`surface.waxed && (surface.glue == "hide" || shop.air_c > 1.0)`:  "",
		`!(surface.waxed || surface.glue == "hide")`:                     "",
	} {
		cond, err := env.Compile(text)
		require.Nil(t, err, text)
		if want == "" {
			want = text
		}
		assert.Equal(t, want, cond.Tree().String())
		again, err := env.Compile(want)
		require.Nil(t, err, want)
		assert.Equal(t, cond.Tree(), again.Tree())
	}
}

func TestWords(t *testing.T) {
	env := condition.NewEnv(vocabulary)
	for text, want := range map[string]string{
		`surface.layer in ["solid", "veneer", "foil"] && !surface.waxed`: "surface layer is solid, veneer or foil, and surface waxed: no",
		`surface.waxed || !(surface.layer in ["solid", "veneer"])`:       "surface waxed: yes, or surface layer is neither solid nor veneer",
		`(surface.glue != "hide" || surface.waxed) && shop.air_c < 5.0`:  "(surface glue is not hide, or surface waxed: yes), and shop air c is less than 5 °C",
		`!("iron" in shop.tools && surface.waxed)`:                       "it is not so that (shop tools include iron, and surface waxed: yes)",
	} {
		c, err := env.Compile(text)
		require.Nil(t, err, text)
		assert.Equal(t, want, c.Words(func(fact string) string { return map[string]string{"shop.air_c": "°C"}[fact] }))
	}
}
