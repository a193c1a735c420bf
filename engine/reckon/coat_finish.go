package reckon

import (
	"fmt"
	"slices"
	"strings"

	"mendwright/engine/coat"
	"mendwright/rules/interval"
)

var finishCalculations = []*Calculation{
	{
		ID: "sheen", Field: Coat,
		Ask: "What is a gloss called?",
		Inputs: []Input{
			{Name: "at-60", Means: "gloss units at 60 degrees", Range: between(0, 100), Optional: true, Example: "22 ± 1"},
			{Name: "at-85", Means: "gloss units at 85 degrees", Range: between(0, 100), Optional: true, Example: "30 ± 1"},
			{Name: "convention", Means: "whose words", Words: conventions, Default: "painters", Example: "furniture"},
		},
		Sources: []string{"design-choice", "furniture-gloss", "maker-gloss", "painters-gloss"},
		Holds:   "The same reading has other names elsewhere: keep the number.",
		Reckon:  sheenNames,
	},
	{
		ID: "sheen-match", Field: Coat,
		Ask: "Does a sheen match its neighbour?",
		Inputs: []Input{
			{Name: "got", Means: "gloss units of the new finish at 60 degrees", Range: between(0, 100), Example: "25 ± 1"},
			{Name: "target", Means: "gloss units of its neighbour at 60 degrees", Range: between(0, 100), Example: "22 ± 1"},
		},
		Sources: []string{"design-choice"},
		Holds:   "Within 5 units below 40 and within 10 from there on, a choice of this program.",
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			match, err := coat.SheenMatches(g.Range("got"), g.Range("target"))
			return []Figure{judged("match", "it matches", match, map[string]string{
				"yes": "the difference hardly shows", "no": "the difference shows", NotKnown: "on the limit as measured; look at it against the window",
			})}, err
		},
	},
	{
		ID: "moisture-kept-out", Field: Coat,
		Ask: "How much moisture does a film keep out of wood?",
		Inputs: []Input{{Name: "film", Means: "three coats of", Words: func(t *Tables) []string {
			return column(t.Coat.Excludes, func(e coat.Excluding) []string { return []string{e.Film} })
		}, Example: "shellac"}},
		Sources: []string{"moisture-exclusion"},
		Holds:   "Of what bare wood takes up in 14 days at 90 % and 27 °C. No film stops it, and years even it out.",
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			e, err := t.Coat.Excluding(g.Word("film"))
			return only("keeps-out", "keeps out", "%")(interval.Exact(e.Percent), err)
		},
	},
	{
		ID: "remover", Field: Coat,
		Ask: "Which removers are for a finish and spare the wood?",
		Inputs: []Input{
			{Name: "finish", Means: "finish to take off", Words: func(t *Tables) []string {
				return column(t.Coat.Removers, func(r coat.Remover) []string { return r.Takes })
			}, Example: "varnish"},
			{Name: "water-harms", Means: "veneer, or joints of hide glue", Words: words("no", "yes"), Optional: true, Example: "yes"},
			{Name: "tannin", Means: "oak, chestnut, walnut, mahogany or cherry", Words: words("no", "yes"), Optional: true, Example: "no"},
		},
		Sources: []string{"finish-id", "lye-practice", "memory", "milk-paint-practice", "poultice-removal", "stripper-class", "stripper-coverage", "stripper-rank", "white-ring"},
		Holds:   "In the order in which to try. Below 10 °C removers do little. Old paint may hold lead: have it tested first.",
		Caution: finishCaution,
		Reckon:  removers,
	},
	{
		ID: "bleach", Field: Coat,
		Ask: "Which bleach takes a stain out of bare wood, how strong and for how long?",
		Inputs: []Input{{Name: "stain", Means: "what is to come out", Words: func(t *Tables) []string {
			return column(t.Coat.Washes, func(w coat.Washing) []string {
				if w.Bleach == "" {
					return nil
				}
				return []string{w.Lifts}
			})
		}, Example: "iron"}},
		Sources: []string{"bleach-formulary", "design-choice", "fpl-bleach", "lye-practice", "memory", "oxalic-practice"},
		Caution: "Bleaches, acid and lye burn skin, eyes and lungs and must not meet each other: goggles, gloves, moving air, a mask when the dry wood is sanded.",
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			steps, err := t.Coat.BleachFor(g.Word("stain"))
			if err != nil {
				return nil, err
			}
			var figures []Figure
			for _, w := range steps {
				figures = append(figures, Verdict(w.Name, "put on", w.Name, w.Then), Amount(w.Name+"-strength", "as strong as", "g/L", w.Strength))
				if w.Minutes != (interval.Range{}) {
					figures = append(figures, Amount(w.Name+"-minutes", "left on for", "min", w.Minutes))
				}
				figures = append(figures, Amount(w.Name+"-dries", "dry before what follows", "h", w.Dries))
			}
			return figures, nil
		},
	},
}

func conventions(t *Tables) []string {
	return column(t.Coat.Sheens, func(s coat.Sheen) []string { return []string{s.Convention} })
}

func sheenNames(t *Tables, g Given) ([]Figure, error) {
	at60, at85 := g.Range("at-60"), g.Range("at-85")
	could, err := t.Coat.SheensOf(g.Word("convention"), at60, at85)
	if err != nil {
		return nil, err
	}
	var corners [][]coat.Sheen
	for _, a := range ends(at60) {
		for _, b := range ends(at85) {
			corner, err := t.Coat.SheensOf(g.Word("convention"), a, b)
			if err != nil {
				return nil, err
			}
			corners = append(corners, corner)
		}
	}
	return listed("name", "it is called", could, corners,
		func(s coat.Sheen) string { return strings.ReplaceAll(s.Name, " ", "-") },
		func(s coat.Sheen) string {
			says := s.Name + " (" + Show(s.At60, "units at 60 degrees")
			if s.At85 != coat.AnyGloss {
				says += ", " + Show(s.At85, "at 85")
			}
			return says + ")"
		},
		"these readings have no name there"), nil
}

// removers judges every remover for the finish of the call: what was not said harms at the worst and
// not at the best.
func removers(t *Tables, g Given) ([]Figure, error) {
	spares := func(r coat.Remover, unsaid coat.Truth) string {
		harms := func(name string) coat.Truth {
			if g.LeftOut(name) {
				return unsaid
			}
			return map[string]coat.Truth{"no": coat.No, "yes": coat.Yes}[g.Word(name)]
		}
		// A table of this one remover has none to offer where it would harm.
		one := coat.Tables{Removers: []coat.Remover{r}}
		if _, err := one.RemoversFor(g.Word("finish"), coat.Surface{WaterHarms: harms("water-harms"), TanninHarms: harms("tannin")}); err != nil {
			return "harms"
		}
		return "will-do"
	}
	var figures []Figure
	for _, r := range t.Coat.Removers {
		if !slices.Contains(r.Takes, g.Word("finish")) {
			continue
		}
		name := strings.ReplaceAll(r.Name, "-", " ")
		figures = append(figures, settled(r.Name, name, spares(r, coat.No), spares(r, coat.Unknown), map[string]string{
			"will-do": fmt.Sprintf("leave it on for %s, wash with %s", Show(r.Dwell, "min"), r.WashWith),
			"harms":   "its water lifts veneer and opens hide glue, or it blackens such a timber",
		}), Amount(r.Name+"-dries", "drying after "+name+" and its wash", "h", r.Dries))
	}
	return figures, nil
}
