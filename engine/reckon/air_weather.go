package reckon

import "mendwright/engine/air"

var (
	airInput      = Input{Name: "air", Means: "temperature of the air", Unit: "°C", Range: between(-30, 60), Example: "18 to 22 °C"}
	humidityInput = Input{Name: "humidity", Means: "relative humidity of the air", Unit: "%", Range: between(0, 100), Example: "55 ± 3 %"}
	pressureInput = Input{Name: "pressure", Means: "pressure of the air", Unit: "kPa", Range: between(50, 110), Default: "101.325 kPa", Example: "98 kPa"}
)

var weatherCalculations = []*Calculation{
	{
		ID: "dew-point", Field: Air,
		Ask:     "At what temperature does this air drop its water?",
		Inputs:  []Input{airInput, humidityInput},
		Sources: []string{"memory"},
		Holds:   "Humidity below 1 % counts as 1 %.",
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			dew, err := air.DewPoint(g.Range("air"), g.Range("humidity"))
			if err != nil {
				return nil, err
			}
			spread, err := air.Spread(g.Range("air"), g.Range("humidity"))
			return []Figure{
				Amount("dew-point", "dew point", "°C", dew),
				Amount("spread", "how far it lies below the air", "°C", spread),
			}, err
		},
	},
	{
		ID: "above-dew-point", Field: Air,
		Ask: "Is the wood warm enough above the dew point for a coat?",
		Inputs: []Input{airInput, humidityInput,
			{Name: "surface", Means: "temperature of the wood", Unit: "°C", Range: between(-30, 60), Example: "16 to 18 °C"}},
		Sources: []string{"memory", "paint-weather"},
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			dew, err := air.DewPoint(g.Range("air"), g.Range("humidity"))
			if err != nil {
				return nil, err
			}
			margin := g.Range("surface").Sub(dew)
			return []Figure{
				Amount("dew-point", "dew point", "°C", dew),
				Amount("margin", "the wood stands above it by", "°C", margin),
				settled("dew", "dry enough for a coat", yesNo(margin.Hi >= air.LeastMargin), yesNo(margin.Lo >= air.LeastMargin), map[string]string{
					"yes": "at least 3 °C above the dew point",
					"no":  "less than 3 °C above the dew point: water may settle under the coat",
				}),
			}, nil
		},
	},
	{
		ID: "wet-bulb", Field: Air,
		Ask: "How cold does a wet thermometer get in this air?",
		Inputs: []Input{{Name: "air", Means: "temperature of the air", Unit: "°C", Range: between(-10, 60), Example: "18 to 22 °C"},
			humidityInput, pressureInput},
		Sources: []string{"psychrometer"},
		Holds:   "Below 0 °C it holds for water that has not frozen.",
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			return only("wet-bulb", "wet-bulb temperature", "°C")(air.WetBulb(g.Range("air"), g.Range("humidity"), times(g.Range("pressure"), 10)))
		},
	},
	{
		ID: "wet-and-dry-bulb", Field: Air,
		Ask: "How damp is the air, by a dry and a wet thermometer?",
		Inputs: []Input{
			{Name: "dry", Means: "the dry thermometer", Unit: "°C", Range: between(0, 60), Example: "22 ± 0.2 °C"},
			{Name: "wet", Means: "the one in a wet sock, in moving air", Unit: "°C", Range: between(0, 60), Example: "16 ± 0.2 °C"},
			pressureInput,
		},
		Sources: []string{"psychrometer"},
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			return only("humidity", "relative humidity", "%")(air.HumidityOfWetBulb(g.Range("dry"), g.Range("wet"), times(g.Range("pressure"), 10)))
		},
	},
}
