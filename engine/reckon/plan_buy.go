package reckon

import "mendwright/engine/plan"

var piecesCalculations = []*Calculation{
	{
		ID: "discs-to-buy", Field: Plan,
		Ask: "How many discs or sheets of each grit does a piece need?",
		Inputs: []Input{
			{Name: "area", Means: "surface to sand, all faces together", Unit: "m²", Range: between(0, 1000), Example: "3.5 m²"},
			{Name: "each", Means: "what one disc or sheet sands before it is dull", Unit: "m²", Range: between(0.001, 100), Example: "0.3 to 0.5 m²"}},
		Sources: []string{"geometry"},
		Caution: "Old paint may hold lead: have it tested before any dry sanding. Wear a mask for the dust.",
		Holds:   "Old finish clogs a disc long before it is dull: count what the first ones do.",
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			return only("discs", "of each grit", "pieces")(plan.Pieces(g.Range("area"), g.Range("each")))
		},
	},
	{
		ID: "tins-to-buy", Field: Plan,
		Ask: "How many tins hold the litres that a piece needs?",
		Inputs: []Input{
			{Name: "litres", Means: "needed, as by litres-to-buy", Unit: "L", Range: between(0, 10000), Example: "1.2 to 1.4 L"},
			{Name: "tin", Means: "what one tin holds", Unit: "L", Range: between(0.01, 1000), Example: "0.75 L"}},
		Sources: []string{"geometry"},
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			return only("tins", "to buy", "tins")(plan.Pieces(g.Range("litres"), g.Range("tin")))
		},
	},
}
