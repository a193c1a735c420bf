package reckon

import (
	"mendwright/engine/moisture"
	"mendwright/rules/interval"
)

var (
	hotFace = between(-20, 600)                // °C
	woods   = []string{"hardwood", "softwood"} // broad-leaved or conifer
)

var heatCalculations = []*Calculation{
	{
		ID: "face-heat", Field: Moisture,
		Ask: "What does heat do to the bare face of wood, and do its fibres soften?",
		Inputs: []Input{
			{Name: "face", Means: "temperature of the face of the wood", Unit: "°C", Range: hotFace, Example: "90 to 100 °C"},
			{Name: "wood", Means: "hardwood (broad-leaved) or softwood (conifer)", Words: words(woods...), Optional: true, Example: "hardwood"},
		},
		Sources: []string{"wood-heat", "lignin-softening", "practice", "design-choice"},
		Holds:   "Damp, bare wood. A finish goes sooner: shellac and lacquer are not reckoned here. Browning from 150 °C is trade experience, keeping to 100 °C this program's choice.",
		Caution: "Steam and irons burn, and scorched wood does not come back.",
		Reckon:  faceHeat,
	},
	{
		ID: "heat-at-glue", Field: Moisture,
		Ask: "Does the glue under a layer let go when the face gets hot?",
		Inputs: []Input{
			{Name: "face", Means: "temperature of the face of the layer", Unit: "°C", Range: hotFace, Example: "95 to 100 °C"},
			{Name: "glue", Means: "glue that holds the layer", Words: keys(func(t *Tables) map[string]interval.Range { return t.Moisture.Glues }), Optional: true, Example: "pva"},
		},
		Sources: []string{"glue-softening", "hide-glue-heat", "hide-glue-release", "hot-melt", "conservation-of-furniture", "memory", "design-choice"},
		Holds:   "As if the heat stayed on until the glue is as hot as the face; how much cooler it stays under a short touch is not known. Hide and casein glue want water as well.",
		Reckon:  heatAtGlue,
	},
}

// scorches says what each word of a scorch means.
var scorches = map[moisture.Scorch]string{
	moisture.NoScorch:   "the face keeps its colour",
	moisture.FaceDries:  "the water goes, and soon the face is as hot as the iron",
	moisture.FaceBrowns: "the face turns brown within minutes",
	moisture.FaceChars:  "the face chars",
}

func faceHeat(_ *Tables, g Given) ([]Figure, error) {
	face := g.Range("face")
	scorch, err := moisture.ScorchAt(face)
	if err != nil {
		return nil, err
	}
	word, says := scorch.String(), scorches[scorch]
	if scorch == moisture.ScorchUnknown {
		worst, err := moisture.ScorchAt(interval.Exact(face.Hi))
		if err != nil {
			return nil, err
		}
		word, says = NotKnown, "count on the hot end: "+scorches[worst]
	}
	var soft []moisture.Truth
	for _, wood := range g.Words("wood") {
		from := map[string]float64{"hardwood": moisture.HardwoodSoftens, "softwood": moisture.SoftwoodSoftens}[wood]
		s, err := moisture.Softens(interval.Exact(from), face)
		if err != nil {
			return nil, err
		}
		soft = append(soft, s)
	}
	return []Figure{
		Verdict("scorch", "scorch of the face", word, says),
		truth("fibres-soften", "wet fibres soften, so that a dent can rise", agreed(soft...),
			"they do if the heat stays on", "not at this heat", "the measurements leave it open"),
	}, nil
}

func heatAtGlue(t *Tables, g Given) ([]Figure, error) {
	var from []interval.Range
	var lets []moisture.Truth
	for _, glue := range g.Words("glue") {
		soft := t.Moisture.Glues[glue]
		s, err := moisture.Softens(soft, g.Range("face"))
		if err != nil {
			return nil, err
		}
		from, lets = append(from, soft), append(lets, s)
	}
	return []Figure{
		Amount("softens", "the glue begins to let go at", "°C", over(from...)),
		truth("lets-go", "the layer comes loose", agreed(lets...),
			"the face reaches all of that: count on the glue letting go",
			"the face stays below all of that", "the face reaches part of that, or the sources differ: count on it letting go"),
	}, nil
}
