package reckon

import (
	"mendwright/engine/air"
	"mendwright/rules/interval"
)

var dustLimit = Input{Name: "limit", Means: "whose limit for wood dust", Words: keys(func(t *Tables) map[string]float64 { return t.Air.Dust }), Default: "niosh", Example: "eu-hardwood"}

const leadCaution = "Dust of old paint poisons children first: no dry sanding, scraping or burning before a laboratory has spoken."

var dustSources = []string{"iarc-wood-dust", "memory", "niosh-wood-dust", "osha-wood-sampling", "wood-dust-europe"}

var dustCalculations = []*Calculation{
	{
		ID: "sanding-dust", Field: Air,
		Ask: "How much dust stands in a room when sanding ends?",
		Inputs: []Input{
			{Name: "dust", Means: "dust that gets past the suction into the air", Unit: "kg", Range: between(0, 10), Example: "5 to 20 g"},
			{Name: "time", Means: "how long the sanding takes", Unit: "min", Range: between(1, 1440), Example: "1 h"},
			roomInput, placeInput, dustLimit,
		},
		Sources: sources(dustSources, []string{"design-choice", "garage-guide", "ventilation-formulas"}),
		Holds:   "Mixed through the room with nothing settling: an upper estimate there, a lower one at the nose of who sands.",
		Caution: dustCaution,
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			mg, lasts := times(g.Range("dust"), 1e6), hours(g.Range("time"))
			release := between(mg.Lo/lasts.Hi, mg.Hi/lasts.Lo)
			var at []interval.Range
			for _, name := range g.Words("place") {
				place := t.Air.Places[name]
				rise, err := air.Room{Volume: g.Range("room"), Changes: place.Changes, Mixing: place.Mixing}.Rise(release, lasts)
				if err != nil {
					return nil, err
				}
				at = append(at, rise)
			}
			return ofDustLimit(t, g, over(at...))
		},
	},
	{
		ID: "dust-limit", Field: Air,
		Ask: "What is so much wood dust in the air of a limit?",
		Inputs: []Input{
			{Name: "dust", Means: "wood dust in the air, over the day", Unit: "mg/m³", Range: between(0, 1e6), Example: "0.5 to 1.5 mg/m³"}, dustLimit,
		},
		Sources: dustSources,
		Caution: dustCaution,
		Reckon:  func(t *Tables, g Given) ([]Figure, error) { return ofDustLimit(t, g, g.Range("dust")) },
	},
	{
		ID: "dust-lying-about", Field: Air,
		Ask: "Can the dust that lies about explode when it is thrown up?",
		Inputs: []Input{
			{Name: "layer", Means: "how thick it lies", Unit: "mm", Range: between(0, 100), Example: "0.5 to 1 mm"},
			{Name: "density", Means: "density of the dust as it lies", Unit: "kg/m³", Range: between(0, 1000), Example: "200 to 300 kg/m³"},
			{Name: "height", Means: "height of the room", Unit: "mm", Range: between(500, 20000), Example: "2.5 m"},
		},
		Sources: []string{"geometry", "memory"},
		Caution: dustCaution,
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			cloud, err := air.Cloud(g.Range("layer"), g.Range("density"), times(g.Range("height"), 0.001))
			return []Figure{
				Amount("cloud", "dust in the air if all of it is thrown up", "g/m³", cloud),
				settled("explodes", "enough to explode", yesNo(cloud.Lo >= air.LightestCloud), yesNo(cloud.Hi >= air.LightestCloud), map[string]string{
					"no": "less than 30 g/m³ if it spreads evenly; in a corner it can be more", "yes": "30 g/m³ or more",
				}),
				levelOf("layer", "the layer", g.Range("layer"), air.LayerLevel, map[string]string{
					"go": "thinner than 0.8 mm", "warn": "0.8 mm or more; take it up with a vacuum, not a broom", "stop": "more than 3.2 mm; no work before it is taken up",
				}),
			}, err
		},
	},
	{
		ID: "spray-mist", Field: Air,
		Ask: "How much mist of a coating hangs in a closed room after spraying?",
		Inputs: []Input{
			{Name: "gun", Means: "what sprays", Words: keys(func(t *Tables) map[string]interval.Range { return t.Air.Guns }), Example: "low-pressure-gun"},
			{Name: "sprayed", Means: "how much coating is sprayed", Unit: "kg", Range: between(0, 100), Example: "0.5 kg"},
			{Name: "solids", Means: "share of it that does not evaporate, by weight", Unit: "%", Range: between(0, 100), Example: "20 to 25 %"},
			roomInput,
		},
		Sources: []string{"design-choice", "geometry", "memory"},
		Caution: vapourCaution,
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			return only("mist", "mist in the air", "mg/m³")(air.Mist(grams(g.Range("sprayed")), times(g.Range("solids"), 0.01), t.Air.Guns[g.Word("gun")], g.Range("room")))
		},
	},
	{
		ID: "lead-in-paint", Field: Air,
		Ask:     "How does the lead in a paint compare with what the rules allow?",
		Inputs:  []Input{{Name: "lead", Means: "lead in the dry paint, by weight, as a laboratory prints it", Unit: "%", Range: between(0, 100), Example: "0.05 to 0.07 %"}},
		Sources: []string{"cpsc-lead-rule", "epa-lead-kits"},
		Holds:   "A colour test for houses finds 0.5 % and no less; it never clears what a child may mouth.",
		Caution: leadCaution,
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			lead := g.Range("lead")
			ppm, err := air.LeadPPM(lead)
			return []Figure{
				Amount("ppm", "the same by weight", "ppm", ppm),
				settled("child", "too much for new furniture today", yesNo(lead.Lo > air.LeadConsumer), yesNo(lead.Hi > air.LeadConsumer), map[string]string{
					"no": "no more than 0.009 %", "yes": "more than 0.009 %, which has held in the US since 2009",
				}),
				settled("house", "lead-based by the rule for houses", yesNo(lead.Lo >= air.LeadHouse), yesNo(lead.Hi >= air.LeadHouse), map[string]string{
					"no": "less than 0.5 %; that is no leave to sand it", "yes": "0.5 % or more",
				}),
			}, err
		},
	},
	{
		ID: "lead-on-a-surface", Field: Air,
		Ask: "How much lead lies on a square centimetre of painted wood?",
		Inputs: []Input{
			{Name: "lead", Means: "lead in the dry paint, by weight", Unit: "%", Range: between(0, 100), Example: "0.5 %"},
			{Name: "film", Means: "thickness of the paint", Unit: "mm", Range: between(0, 10), Example: "150 to 250 µm"},
			{Name: "density", Means: "density of the dry paint", Unit: "kg/m³", Range: between(0, 12000), Example: "1.5 to 2.5 g/cm³"},
		},
		Sources: []string{"epa-lead-kits", "geometry"},
		Caution: leadCaution,
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			lead, err := air.LeadOnSurface(g.Range("lead"), micrometres(g.Range("film")), times(g.Range("density"), 0.001))
			return []Figure{
				Amount("lead", "lead", "mg/cm²", lead),
				settled("house", "lead-based by the rule for houses", yesNo(lead.Lo >= air.LeadHouseMGCM2), yesNo(lead.Hi >= air.LeadHouseMGCM2), map[string]string{
					"no": "less than 1.0 mg/cm²; that is no leave to sand it", "yes": "1.0 mg/cm² or more",
				}),
			}, err
		},
	},
}

// ofDustLimit is dust in mg/m³ against the limit of the call.
func ofDustLimit(t *Tables, g Given, mg interval.Range) ([]Figure, error) {
	share, err := t.Air.DustShare(mg, g.Word("limit"))
	return []Figure{
		Amount("dust", "dust in the air", "mg/m³", mg),
		Amount("of-limit", "share of the limit", "%", percent(share)),
		levelOf("health", "breathing it", share, air.HealthLevel, map[string]string{
			"go":   "no more than half of the limit over a day",
			"warn": "more than half of the limit over a day; more suction",
			"stop": "more than the limit over a day; not without suction at the tool and a mask",
		}),
	}, err
}
