package reckon

import (
	"mendwright/engine/coat"
	"mendwright/rules/interval"
)

var (
	oneCoat = Input{Name: "one", Means: "dry film of one coat", Unit: "mm", Range: between(0.0001, 5), Example: "25 to 30 µm"}
	scuff   = Input{Name: "scuff", Means: "what scuffing takes before each further coat; 0 where coats melt together", Unit: "mm", Range: between(0, 1), Default: "3 to 5 µm", Example: "3 to 5 µm"}
	sinks   = Input{Name: "sinks", Means: "share of the first coat that bare wood drinks; 0 over an old film", Unit: "%", Range: between(0, 100), Default: "0 %", Example: "50 %"}
	filmOff = Input{Name: "off", Means: "how much comes off", Unit: "mm", Range: between(0, 5), Example: "10 to 20 µm"}
)

var filmCalculations = []*Calculation{
	{
		ID: "dry-film", Field: Coat,
		Ask:     "How thick a film does a wet coat leave?",
		Inputs:  []Input{wetInput, solidsInput},
		Sources: []string{"volume-solids"},
		Holds:   "From solids by volume; those by weight make it come out too thick.",
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			return only("dry", "dry film", "µm")(coat.Dry(micrometres(g.Range("wet")), g.Range("solids")))
		},
	},
	{
		ID: "wet-film", Field: Coat,
		Ask:     "How thick must a coat be wet to dry to a film?",
		Inputs:  []Input{dryInput, solidsInput},
		Sources: []string{"volume-solids"},
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			return only("wet", "wet film", "µm")(coat.Wet(micrometres(g.Range("dry")), g.Range("solids")))
		},
	},
	{
		ID: "run-on-an-upright", Field: Coat,
		Ask:     "Does a wet coat run on an upright face?",
		Inputs:  []Input{wetInput},
		Sources: []string{"film-mils"},
		Holds:   "Finishers' talk among themselves; a thixotropic product holds more.",
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			hang, err := coat.HangOf(micrometres(g.Range("wet")))
			return []Figure{judged("hang", "on an upright face it", hang, map[string]string{
				"holds": "less than 127 µm", "near-running": "from 127 µm on it is close to running", "sags": "152 µm or more",
				NotKnown: "on both sides of a limit as measured; take it that it sags",
			})}, err
		},
	},
	{
		ID: "spreading-rate", Field: Coat,
		Ask:     "How far does a litre go at a dry film?",
		Inputs:  []Input{solidsInput, dryInput},
		Sources: []string{"volume-solids"},
		Holds:   "Without loss, on what does not drink.",
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			rate, err := coat.Rate(g.Range("solids"), micrometres(g.Range("dry")))
			return []Figure{
				Amount("rate", "spreading rate", "m²/L", rate),
				Amount("per-gallon", "the same in US units", "ft²/gal", coat.PerGallon(rate)),
			}, err
		},
	},
	{
		ID: "wet-film-at-a-rate", Field: Coat,
		Ask:     "How thick is a coat wet when a litre goes so far?",
		Inputs:  []Input{{Name: "rate", Means: "how far a litre goes", Unit: "m²/L", Range: between(0.1, 1000), Example: "8.6 to 12.3 m²/L"}},
		Sources: []string{"geometry"},
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			return only("wet", "wet film", "µm")(coat.WetAt(g.Range("rate")))
		},
	},
	{
		ID: "solids-of-a-sheet", Field: Coat,
		Ask: "Do the solids and films of a data sheet fit each other?",
		Inputs: []Input{
			{Name: "printed", Means: "solids that it prints", Unit: "%", Range: between(0, 100), Example: "33 to 42 %"}, wetInput, dryInput,
		},
		Sources: []string{"volume-solids"},
		Holds:   "Solids that do not fit are mostly those by weight.",
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			printed, wet, dry := g.Range("printed"), micrometres(g.Range("wet")), micrometres(g.Range("dry"))
			sheet, err := coat.CheckSheet(printed, wet, dry)
			fits := Verdict("fits", "the sheet fits itself", "no", "the printed solids are not those that the films need: ask whether they are by weight")
			switch exact := printed.Half()+wet.Half()+dry.Half() == 0; {
			case sheet.Fits && exact:
				fits.Word, fits.Says = "yes", "the printed solids are those that the films need"
			case sheet.Fits:
				fits.Word, fits.Says = NotKnown, "some of what it prints fits, as far as its ranges say"
			}
			return []Figure{Amount("needs", "solids by volume at which the films fit", "%", sheet.Needs), fits}, err
		},
	},
	{
		ID: "solids-when-thinned", Field: Coat,
		Ask: "What solids are left when thinner goes into a coating?",
		Inputs: []Input{solidsInput,
			{Name: "coating", Means: "coating that is there", Unit: "L", Range: between(0.001, 1000), Example: "1 L"},
			{Name: "thinner", Means: "thinner that goes in", Unit: "L", Range: between(0, 1000), Example: "100 ml"}},
		Sources: []string{"geometry"},
		Caution: finishCaution,
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			return only("solids", "solids by volume", "%")(coat.ThinnedByAdding(g.Range("solids"), g.Range("coating"), g.Range("thinner")))
		},
	},
	{
		ID: "thinner-for", Field: Coat,
		Ask: "How much thinner brings a coating down to lower solids?",
		Inputs: []Input{solidsInput,
			{Name: "coating", Means: "coating that is there", Unit: "L", Range: between(0, 1000), Example: "1 L"},
			{Name: "target", Means: "solids that are wanted", Unit: "%", Range: between(0.1, 100), Example: "25 %"}},
		Sources: []string{"geometry"},
		Caution: finishCaution,
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			return only("thinner", "thinner to add", "L")(coat.ThinnerFor(g.Range("coating"), g.Range("solids"), g.Range("target")))
		},
	},
	{
		ID: "film-of-coats", Field: Coat,
		Ask: "How thick is the film after so many coats?",
		Inputs: []Input{oneCoat,
			{Name: "coats", Means: "number of coats", Range: between(1, coat.MostCoats), Example: "3"}, scuff, sinks},
		Sources: []string{"design-choice", "film-mils"},
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			fewest, most, err := whole("coats", g.Range("coats"))
			if err != nil {
				return nil, err
			}
			thin, errLo := built(g).Total(fewest)
			thick, errHi := built(g).Total(most)
			if errLo != nil {
				return nil, errLo
			}
			return only("film", "dry film in all", "µm")(over(thin, thick), errHi)
		},
	},
	{
		ID: "coats-for-a-film", Field: Coat,
		Ask: "How many coats does a film take?",
		Inputs: []Input{
			{Name: "film", Means: "dry film that is wanted", Unit: "mm", Range: between(0, 5), Example: "100 µm"}, oneCoat, scuff, sinks},
		Sources: []string{"design-choice", "film-mils"},
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			n, err := built(g).Coats(micrometres(g.Range("film")))
			return only("coats", "coats", "")(between(float64(n.Lo), float64(n.Hi)), err)
		},
	},
	{
		ID: "film-too-thick", Field: Coat,
		Ask: "Does a film crack because it is too thick?",
		Inputs: []Input{coatInput,
			{Name: "film", Means: "dry film in all", Unit: "mm", Range: between(0, 5), Example: "90 to 110 µm"}},
		Sources: []string{"film-mils", "instrument-lacquer-sheet", "memory", "polyurethane-sheet"},
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			c, err := t.Coat.Coat(g.Word("coat"))
			if err != nil {
				return nil, err
			}
			if c.Most == (interval.Range{}) {
				return []Figure{Verdict("too-thick", "too thick", NotKnown, "there is no such figure for this finish")}, nil
			}
			thick, err := coat.TooThick(micrometres(g.Range("film")), c.Most)
			return []Figure{
				Amount("most", "the most that it bears", "µm", c.Most),
				judged("too-thick", "too thick", thick, map[string]string{
					"no": "it bears that", "yes": "it cracks in time", NotKnown: "makers disagree, or it lies on the limit as measured; take it as too thick",
				}),
			}, err
		},
	},
	{
		ID: "scuff-a-film", Field: Coat,
		Ask: "Is a film thick enough to be scuffed with sandpaper, and to have some taken off?",
		Inputs: []Input{
			{Name: "film", Means: "dry film that is there", Unit: "mm", Range: between(0, 5), Example: "90 to 110 µm"}, filmOff},
		Sources: []string{"design-choice"},
		Holds:   "40 µm before P320 or coarser, and for levelling 100 µm before and 50 µm after, are choices of this program.",
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			film := micrometres(g.Range("film"))
			may, err := coat.MaySand(film)
			if err != nil {
				return nil, err
			}
			level, err := coat.Level(film, micrometres(g.Range("off")))
			if err != nil {
				return nil, err
			}
			most, err := coat.MostOff(film)
			return []Figure{
				judged("scuff", "may be scuffed with P320 or coarser", may, map[string]string{
					"yes": "40 µm or more", "no": "less than 40 µm: grey pad only", NotKnown: "on both sides of 40 µm as measured; grey pad only",
				}),
				Amount("left", "film left after that; below 0 it is through", "µm", level.Left),
				judged("level", "may be levelled that far", level.Allowed, map[string]string{
					"yes": "100 µm or more before and 50 µm or more after", "no": "too little film for it", NotKnown: "not settled as measured; leave it",
				}),
				Amount("most", "the most that levelling may take", "µm", most),
			}, err
		},
	},
	{
		ID: "rings", Field: Coat,
		Ask: "Does rubbing go through the last coat and show rings?",
		Inputs: []Input{coatInput,
			{Name: "last", Means: "dry film of the last coat", Unit: "mm", Range: between(0, 5), Example: "30 to 40 µm"}, filmOff},
		Sources: []string{"film-mils", "memory"},
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			c, err := t.Coat.Coat(g.Word("coat"))
			if err != nil {
				return nil, err
			}
			rings, err := c.Rings(micrometres(g.Range("last")), micrometres(g.Range("off")))
			return []Figure{judged("rings", "rings show", rings, map[string]string{
				"no": "the coats melt together, or it stays within the last one", "yes": "it goes through the last coat into the one before",
				NotKnown: "it may go through as measured; take less",
			})}, err
		},
	},
}

func built(g Given) coat.Build {
	return coat.Build{Coat: micrometres(g.Range("one")), Scuff: micrometres(g.Range("scuff")), Sinks: g.Range("sinks")}
}
