package reckon

import (
	"slices"

	"mendwright/engine/coat"
)

var coatCalculations = slices.Concat(shellacCalculations, filmCalculations, buyingCalculations, recoatCalculations, finishCalculations)

const finishCaution = "Solvents burn and go to the head, and rags with oil in them catch fire by themselves: moving air, no flame, rags spread flat outdoors."

// Inputs that several calculations ask for.
var (
	coatInput   = Input{Name: "coat", Means: "which finish", Words: coatNames, Example: "polyurethane"}
	solidsInput = Input{Name: "solids", Means: "share of solids by volume, as the data sheet prints it", Unit: "%", Range: between(0.1, 100), Example: "33 to 42 %"}
	dryInput    = Input{Name: "dry", Means: "dry film", Unit: "mm", Range: between(0.0001, 5), Example: "30 to 40 µm"}
	wetInput    = Input{Name: "wet", Means: "wet film", Unit: "mm", Range: between(0.0001, 5), Example: "100 µm"}
	dryingAir   = Input{Name: "air", Means: "temperature of the room", Unit: "°C", Range: between(-20, 60), Default: "23 °C", Example: "16 to 18 °C"}
	dryingDamp  = Input{Name: "humidity", Means: "relative humidity of the room", Unit: "%", Range: between(0, 100), Default: "50 %", Example: "60 to 70 %"}
)

// What the columns of the table of coats rest on.
var (
	rateSources    = []string{"design-choice", "geometry", "lacquer-sheet", "memory", "polyurethane-sheet", "varnish-coverage", "waterborne-coverage"}
	timeSources    = []string{"design-choice", "dry-times", "instrument-lacquer-sheet", "lacquer-sheet", "memory", "paint-recoat", "polyurethane-sheet", "rag-fires", "rub-out"}
	weatherSources = []string{"design-choice", "finish-weather", "memory", "paint-weather", "polyurethane-sheet", "waterborne-conditions"}
)

func coatNames(t *Tables) []string {
	return column(t.Coat.Coats, func(c coat.Coat) []string { return []string{c.Name} })
}

// column is every word of a column once, in the order of the table.
func column[R any](rows []R, of func(R) []string) []string {
	var out []string
	for _, row := range rows {
		for _, word := range of(row) {
			if !slices.Contains(out, word) {
				out = append(out, word)
			}
		}
	}
	return out
}

var shellacCalculations = []*Calculation{
	{
		ID: "shellac-cut", Field: Coat,
		Ask: "Which cut do flakes and alcohol make?",
		Inputs: []Input{
			{Name: "flakes", Means: "what the flakes weigh", Unit: "kg", Range: between(0, 100), Example: "60 g"},
			{Name: "alcohol", Means: "alcohol they go into", Unit: "L", Range: between(0.001, 1000), Example: "250 ml"},
		},
		Sources: []string{"memory", "practice"},
		Holds:   "A cut is pounds of flakes in a US gallon of alcohol. Old flakes that do not dissolve do not count.",
		Caution: finishCaution,
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			cut, err := coat.CutOf(grams(g.Range("flakes")), millilitres(g.Range("alcohol")))
			if err != nil {
				return nil, err
			}
			volume, err := coat.CutByVolume(cut)
			if err != nil {
				return nil, err
			}
			mass, err := coat.CutByMass(cut)
			return []Figure{
				Amount("cut", "cut in pounds", "lb", cut),
				Amount("solids", "solids by volume, from which a film is reckoned", "%", volume),
				Amount("by-weight", "solids by weight", "%", mass),
			}, err
		},
	},
	{
		ID: "shellac-flakes", Field: Coat,
		Ask: "How many flakes go into this alcohol for a cut?",
		Inputs: []Input{
			{Name: "alcohol", Means: "alcohol that is there", Unit: "L", Range: between(0, 1000), Example: "0.5 L"},
			{Name: "cut", Means: "cut that is wanted, in pounds", Range: between(0, 20), Example: "1.5 to 2"},
		},
		Sources: []string{"practice"},
		Caution: finishCaution,
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			return only("flakes", "flakes to weigh in", "g")(coat.Flakes(millilitres(g.Range("alcohol")), g.Range("cut")))
		},
	},
	{
		ID: "thin-shellac", Field: Coat,
		Ask: "How much alcohol brings shellac down to a lower cut?",
		Inputs: []Input{
			{Name: "shellac", Means: "shellac that is there", Unit: "L", Range: between(0, 1000), Example: "200 ml"},
			{Name: "cut", Means: "cut that it has, in pounds", Range: between(0.05, 20), Example: "3"},
			{Name: "target", Means: "cut that is wanted, in pounds", Range: between(0.05, 20), Example: "1"},
		},
		Sources: []string{"memory", "practice"},
		Caution: finishCaution,
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			add, err := coat.AlcoholToAdd(millilitres(g.Range("shellac")), g.Range("cut"), g.Range("target"))
			return only("add", "alcohol to add", "L")(times(add, 0.001), err)
		},
	},
}
