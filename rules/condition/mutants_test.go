package condition_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

func measures(string) condition.Measure {
	return condition.Measure{Bounds: interval.Range{Lo: -20, Hi: 100}, Spread: 1}
}

func asIs(o condition.Outcome) condition.Outcome { return o }

// acts is how a ban sees an outcome: it acts unless that is false.
func acts(o condition.Outcome) condition.Outcome {
	if o == condition.Unknown {
		return condition.True
	}
	return o
}

func TestMutantsAreOneChangeEach(t *testing.T) {
	env := condition.NewEnv(vocabulary)
	for text, want := range map[string][]string{
		`surface.waxed`:             {`!surface.waxed`},
		`!surface.waxed`:            {`surface.waxed`},
		`surface.layer == "veneer"`: {`surface.layer != "veneer"`, `surface.layer == "foil"`},
		`surface.glue != "resin"`:   {`surface.glue == "resin"`, `surface.glue != "hide"`},
		`"iron" in shop.tools`:      {`!("iron" in shop.tools)`, `"scraper" in shop.tools`},
		`shop.air_c < 18.0`:         {`shop.air_c >= 18.0`, `shop.air_c < 22.5`, `shop.air_c < 13.5`},
		`surface.layer in ["solid", "veneer"]`: {`!(surface.layer in ["solid", "veneer"])`, `surface.layer == "veneer"`,
			`surface.layer == "solid"`, `surface.layer in ["solid", "veneer", "foil"]`},
		`surface.waxed && (surface.glue == "hide" || surface.layer == "foil")`: {
			`!(surface.waxed && (surface.glue == "hide" || surface.layer == "foil"))`,
			`surface.glue == "hide" || surface.layer == "foil"`,
			`!surface.waxed && (surface.glue == "hide" || surface.layer == "foil")`,
			`surface.waxed`,
			`surface.waxed && !(surface.glue == "hide" || surface.layer == "foil")`,
			`surface.waxed && surface.layer == "foil"`,
			`surface.waxed && (surface.glue != "hide" || surface.layer == "foil")`,
			`surface.waxed && (surface.glue == "resin" || surface.layer == "foil")`,
			`surface.waxed && surface.glue == "hide"`,
			`surface.waxed && (surface.glue == "hide" || surface.layer != "foil")`,
			`surface.waxed && (surface.glue == "hide" || surface.layer == "solid")`,
		},
	} {
		c, err := env.Compile(text)
		require.Nil(t, err, text)
		changed, _ := c.Mutants(measures, asIs)
		var got []string
		for _, m := range changed {
			got = append(got, m.Text)
			_, err := env.Compile(m.Text)
			assert.Nil(t, err, m)
			assert.NotEmpty(t, m.Apart, m.Text)
		}
		assert.Equal(t, want, got, text)
	}
}

func TestWhatMeansTheSameIsNoMutant(t *testing.T) {
	env := condition.NewEnv(vocabulary)
	c, err := env.Compile(`surface.layer == "veneer" || surface.layer in ["veneer", "foil"]`)
	require.Nil(t, err)
	got, same := c.Mutants(measures, asIs)
	assert.NotContains(t, texts(got), `surface.layer in ["veneer", "foil"]`)
	assert.Positive(t, same)

	c, err = env.Compile(`surface.film_mm <= 100.0`)
	require.Nil(t, err)
	got, _ = c.Mutants(measures, asIs)
	assert.Equal(t, []string{`surface.film_mm > 100.0`, `surface.film_mm <= 75.0`}, texts(got), "no film is thicker than 100")
}

func texts(changed []condition.Changed) []string {
	var out []string
	for _, c := range changed {
		out = append(out, c.Text)
	}
	return out
}

func TestABanSeesUnknownAsTrue(t *testing.T) {
	c, err := condition.NewEnv(vocabulary).Compile(`surface.layer in ["solid", "veneer", "foil"] && surface.waxed`)
	require.Nil(t, err)
	got, _ := c.Mutants(measures, asIs)
	assert.Contains(t, texts(got), `surface.waxed`, "with the layer not known it is not known")
	got, same := c.Mutants(measures, acts)
	assert.NotContains(t, texts(got), `surface.waxed`, "a ban acts whether the layer is known or not")
	assert.Equal(t, 1, same)
}

func TestEitherOrder(t *testing.T) {
	env := condition.NewEnv(vocabulary)
	compile := func(text string) *condition.Condition {
		c, err := env.Compile(text)
		require.Nil(t, err, text)
		return c
	}
	veneer, foil, hide := compile(`surface.layer == "veneer"`), compile(`surface.layer == "foil"`), compile(`surface.glue == "hide"`)
	assert.True(t, condition.SameInEitherOrder(veneer, foil, measures))
	assert.False(t, condition.SameInEitherOrder(veneer, hide, measures))
}

// TestATreeJudgesAsItsConditionDoes: what is taken for the same by its table is the same when judged.
func TestATreeJudgesAsItsConditionDoes(t *testing.T) {
	env := condition.NewEnv(vocabulary)
	rnd := rand.New(rand.NewPCG(1, 2))
	for _, text := range []string{
		`surface.layer == "veneer" && (surface.glue != "hide" || surface.film_mm < 0.04) || "iron" in shop.tools`,
		`!(surface.waxed && surface.layer in ["veneer", "foil"]) || shop.air_c >= -5.5`,
		`!!surface.waxed || !(shop.air_c > 20.0 && shop.air_c <= 25.0)`,
	} {
		c, err := env.Compile(text)
		require.Nil(t, err, text)
		again, err := env.Compile(condition.Written(c))
		require.Nil(t, err, condition.Written(c))
		for range 2000 {
			known := answers{}
			if rnd.IntN(3) > 0 {
				known["surface.layer"] = condition.Pick([]string{"solid", "veneer", "foil"}[rnd.IntN(3)])
			}
			if rnd.IntN(3) > 0 {
				known["surface.glue"] = condition.Pick([]string{"hide", "resin"}[rnd.IntN(2)])
			}
			if rnd.IntN(3) > 0 {
				known["surface.waxed"] = condition.Yes(rnd.IntN(2) == 0)
			}
			if rnd.IntN(3) > 0 {
				known["shop.tools"] = condition.PickSeveral([][]string{{}, {"iron"}, {"iron", "scraper"}}[rnd.IntN(3)]...)
			}
			for id, at := range map[string]float64{"surface.film_mm": 0.04, "shop.air_c": 20} {
				if rnd.IntN(3) > 0 {
					known[id] = condition.Measured(interval.Around(at+float64(rnd.IntN(5)-2), float64(rnd.IntN(3))))
				}
			}
			want, _, evalErr := c.Eval(known.lookup)
			require.NoError(t, evalErr)
			require.Equal(t, want, condition.Judged(c, known.lookup), "%s given %v", text, known)
			got, _, evalErr := again.Eval(known.lookup)
			require.NoError(t, evalErr)
			require.Equal(t, want, got, "%s given %v", again.Text, known)
		}
	}
}
