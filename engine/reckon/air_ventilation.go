package reckon

import (
	"mendwright/engine/air"
	"mendwright/rules/interval"
)

var openingInput = Input{Name: "opening", Means: "area of the opening", Unit: "m²", Range: between(0, 100), Example: "4 m²"}

var ventilationCalculations = []*Calculation{
	{
		ID: "air-changes-door", Field: Air,
		Ask:     "How often does a door or window on one side change the air of a room?",
		Inputs:  []Input{openingInput, windInput, roomInput},
		Sources: []string{"memory"},
		Holds:   "A still day gives 0 here; in truth warmth and people move some air.",
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			return changed(g)(air.DoorFlow(g.Range("opening"), g.Range("wind")))
		},
	},
	{
		ID: "air-changes-draught", Field: Air,
		Ask: "How often do openings on two sides change the air of a room?",
		Inputs: []Input{
			{Name: "opening", Means: "area of the smaller opening", Unit: "m²", Range: between(0, 100), Example: "1 m²"}, windInput,
			{Name: "from", Means: "how the wind meets it", Words: words("head-on", "slanting"), Optional: true, Example: "slanting"}, roomInput,
		},
		Sources: []string{"memory"},
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			wind := air.AnyWind
			if !g.LeftOut("from") {
				wind = map[string]air.Wind{"head-on": air.HeadWind, "slanting": air.SlantWind}[g.Word("from")]
			}
			return changed(g)(air.CrossFlow(g.Range("opening"), g.Range("wind"), wind))
		},
	},
	{
		ID: "air-changes-fan", Field: Air,
		Ask: "How often does a fan change the air of a room?",
		Inputs: []Input{
			{Name: "fan", Means: "kind of fan, blowing out or in", Words: keys(func(t *Tables) map[string]interval.Range { return t.Air.Fans }), Example: "box-fan-in-window"}, roomInput,
		},
		Sources: []string{"box-fan", "garage-air", "memory"},
		Holds:   "A filter takes no vapour away, and a household fan is itself a spark: with burning vapour it blows clean air in from behind.",
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			return changed(g)(t.Air.Fans[g.Word("fan")], nil)
		},
	},
	{
		ID: "fresh-air-needed", Field: Air,
		Ask: "How much fresh air keeps an even release of vapour below a level?",
		Inputs: []Input{substanceInput,
			{Name: "amount", Means: "how much of it evaporates", Unit: "L", Range: between(0, 100), Example: "100 ml"},
			{Name: "time", Means: "over how long", Unit: "min", Range: between(1, 1440), Example: "2 h"},
			{Name: "keep-below", Means: "level to stay below", Unit: "ppm", Range: between(0.001, 1e6), Example: "50 ppm"},
			{Name: "mixing", Means: "by what factor fresh air counts for less, since it does not reach every corner", Range: between(1, 100), Default: "3 to 10", Example: "3 to 10"},
		},
		Sources: sources(molarSources, []string{"ventilation-formulas"}),
		Caution: vapourCaution,
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			doses, err := t.Air.FromLitres(g.Range("amount"), []air.Share{{Substance: g.Word("substance"), Of: interval.Exact(1)}})
			if err != nil {
				return nil, err
			}
			litres, err := air.VapourLitres(doses[0].Grams, t.Air.Substances[g.Word("substance")].Molar)
			if err != nil {
				return nil, err
			}
			lasts := hours(g.Range("time"))
			an := between(litres.Lo/lasts.Hi, litres.Hi/lasts.Lo)
			return only("flow", "fresh air", "m³/h")(air.FlowFor(an, g.Range("keep-below"), g.Range("mixing")))
		},
	},
	{
		ID: "clear-the-air", Field: Air,
		Ask: "How long until fresh air has brought a vapour or dust down?",
		Inputs: []Input{
			{Name: "from", Means: "how much there is, in ppm or mg/m³", Range: between(0.001, 1e7), Example: "200"},
			{Name: "to", Means: "how much there may be, in the same unit", Range: between(0.001, 1e7), Example: "20"}, placeInput,
		},
		Sources: []string{"design-choice", "garage-guide", "memory", "ventilation-formulas"},
		Holds:   "Once nothing more comes into the air: a wet coat goes on giving off.",
		Caution: vapourCaution,
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			var waits []interval.Range
			for _, name := range g.Words("place") {
				place := t.Air.Places[name]
				room := air.Room{Volume: interval.Exact(1), Changes: place.Changes, Mixing: place.Mixing} // the time does not hang on the volume
				wait, err := room.HoursToFall(g.Range("from"), g.Range("to"))
				if err != nil {
					return nil, err
				}
				waits = append(waits, wait)
			}
			return only("wait", "wait", "h")(over(waits...), nil)
		},
	},
	{
		ID: "face-of-a-booth", Field: Air,
		Ask: "How fast does air move through the face of a spray booth or hood?",
		Inputs: []Input{
			{Name: "flow", Means: "air drawn through it", Unit: "m³/h", Range: between(0, 100000), Example: "1250 to 1750 m³/h"},
			{Name: "face", Means: "area of its open face", Unit: "m²", Range: between(0.01, 100), Example: "0.8 m²"},
		},
		Sources: []string{"osha-spray"},
		Holds:   "0.51 m/s is a rule against fire, for booths with dry filters; it does not prove that limits for breathing are met.",
		Caution: vapourCaution,
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			speed, err := air.FaceVelocity(g.Range("flow"), g.Range("face"))
			return []Figure{
				Amount("speed", "average speed of the air", "m/s", speed),
				settled("enough", "as fast as a booth asks", yesNo(speed.Hi >= air.BoothVelocity), yesNo(speed.Lo >= air.BoothVelocity), map[string]string{
					"yes": "0.51 m/s or more", "no": "less than 0.51 m/s",
				}),
			}, err
		},
	},
}

// changed is a flow of fresh air and how often it changes the room of the call.
func changed(g Given) func(interval.Range, error) ([]Figure, error) {
	return func(flow interval.Range, err error) ([]Figure, error) {
		if err != nil {
			return nil, err
		}
		changes, err := air.Changes(flow, g.Range("room"))
		return []Figure{
			Amount("flow", "fresh air", "m³/h", flow),
			Amount("changes", "air changes an hour, before what bad mixing takes off", "", changes),
		}, err
	}
}
