package condition_test

import (
	"testing"
	"unicode/utf8"

	"mendwright/rules/condition"
)

// FuzzCondition compiles arbitrary text. What compiles speaks of declared facts alone, and is
// unknown, not wrong, as long as none of them is known.
func FuzzCondition(f *testing.F) {
	for _, seed := range []string{
		` `,
		`surface.waxed`,
		`!!surface.waxed || !(surface.waxed && surface.waxed)`,
		`surface.layer == "veneer" && (surface.glue != 'hide' || surface.film_mm < 0.04)`,
		`surface.layer in ["veneer", "foil"] || "iron" in shop.tools`,
		`shop.air_c >= -5.5e1 && -1.0 < shop.air_c`,
		`surface.layer == r"""veneer"""`,
		`surface.film_mm < - - 1.0`,
		`surface.film_mm < -(1.0)`,
		`[surface.waxed].all(x, x) ? surface.layer : has(surface.glue)`,
		`{"a": surface.waxed}["a"] == surface{layer: 1u}.layer`,
		`.surface.layer == b"foil" // why`,
		"surface.layer ==\n\"\\u00e9\" \x00\xff",
	} {
		f.Add(seed)
	}
	env := condition.NewEnv(vocabulary)
	nothing := func(string) (condition.Value, bool) { return condition.Value{}, false }
	f.Fuzz(func(t *testing.T, text string) {
		cond, refused := env.Compile(text)
		if refused != nil {
			if refused.Msg == "" {
				t.Error("refused without a reason")
			}
			if refused.Offset < 0 || refused.Offset > utf8.RuneCountInString(text) {
				t.Errorf("%q points at character %d of %d", refused.Msg, refused.Offset, utf8.RuneCountInString(text))
			}
			return
		}
		reads := map[string]bool{}
		for _, id := range cond.Facts {
			reads[id] = true
			if _, ok := env.Fact(id); !ok {
				t.Errorf("reads %q, which is no fact", id)
			}
		}
		outcome, missing, err := cond.Eval(nothing)
		if err != nil {
			t.Fatal(err)
		}
		if outcome != condition.Unknown || len(missing) == 0 {
			t.Errorf("is %s with %v missing although nothing is known", outcome, missing)
		}
		for _, id := range missing {
			if !reads[id] {
				t.Errorf("misses %q, which it does not read", id)
			}
		}
	})
}
