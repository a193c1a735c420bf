package reckon

import (
	"mendwright/engine/coat"
	"mendwright/rules/interval"
)

var (
	coatedArea = Input{Name: "area", Means: "surface to coat, all faces together", Unit: "m²", Range: between(0, 1000), Example: "3.5 m²"}
	wasteInput = Input{Name: "waste", Means: "what is bought beyond what is used", Unit: "%", Range: between(0, 500), Default: "0 %", Example: "10 %"}
	wayInput   = Input{Name: "way", Means: "how it is put on", Words: keys(func(t *Tables) map[string]interval.Range { return t.Coat.Losses }), Optional: true, Example: "brush"}
)

var buyingCalculations = []*Calculation{
	{
		ID: "litres-to-buy", Field: Coat,
		Ask: "How many litres of a finish does a piece need?",
		Inputs: []Input{coatedArea,
			{Name: "coats", Means: "number of coats", Range: between(0, coat.MostCoats), Example: "3"}, coatInput, wayInput, wasteInput},
		Sources: sources(rateSources, []string{"spread-loss"}),
		Holds:   "By what such a finish usually covers; the label of the can comes first (litres-at-a-rate). Bare wood drinks more.",
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			c, err := t.Coat.Coat(g.Word("coat"))
			if err != nil {
				return nil, err
			}
			var lost []interval.Range
			for _, way := range g.Words("way") {
				loss, err := t.Coat.Loss(way)
				if err != nil {
					return nil, err
				}
				lost = append(lost, loss)
			}
			loss := over(lost...)
			litres, err := coat.Purchase{Area: g.Range("area"), Coats: g.Range("coats"), Rate: c.Rate, Loss: loss, Waste: g.Range("waste")}.Litres()
			return []Figure{
				Amount("litres", "to buy", "L", litres),
				Amount("rate", "reckoned with a rate of", "m²/L", c.Rate),
				Amount("loss", "and a loss of", "%", loss),
			}, err
		},
	},
	{
		ID: "litres-at-a-rate", Field: Coat,
		Ask: "How many litres does a piece need at the rate of a label?",
		Inputs: []Input{coatedArea,
			{Name: "coats", Means: "number of coats", Range: between(0, coat.MostCoats), Example: "2"},
			{Name: "rate", Means: "how far a litre goes, by the label", Unit: "m²/L", Range: between(0.1, 1000), Example: "10 to 12 m²/L"},
			{Name: "loss", Means: "share of what is used that never lands", Unit: "%", Range: between(0, 95), Default: "0 %", Example: "10 to 20 %"}, wasteInput},
		Sources: []string{"geometry", "spread-loss"},
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			return only("litres", "to buy", "L")(coat.Purchase{Area: g.Range("area"), Coats: g.Range("coats"), Rate: g.Range("rate"), Loss: g.Range("loss"), Waste: g.Range("waste")}.Litres())
		},
	},
	{
		ID: "wax-to-buy", Field: Coat,
		Ask: "How much paste wax does a piece need?",
		Inputs: []Input{coatedArea,
			{Name: "coats", Means: "number of coats", Range: between(0, coat.MostCoats), Example: "2"},
			{Name: "rate", Means: "how far a kilogram goes, by the tin", Unit: "m²/kg", Range: between(0.1, 1000), Example: "30 to 40 m²/kg"}},
		Sources: []string{"geometry"},
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			return only("wax", "to buy", "g")(coat.PasteGrams(g.Range("area"), g.Range("coats"), g.Range("rate")))
		},
	},
}
