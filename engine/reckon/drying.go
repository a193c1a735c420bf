package reckon

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"mendwright/engine/moisture"
)

var (
	onMeter = between(0, 100)    // %
	aYear   = between(0, 525600) // min
)

var dryingCalculations = []*Calculation{
	{
		ID: "drying-wait", Field: Moisture,
		Ask: "How long does wet wood dry before it may be sanded, finished or glued?",
		Inputs: []Input{
			{Name: "after", Means: "what made the wood wet", Words: keys(func(t *Tables) map[string]moisture.Wait { return t.Moisture.Waits }), Example: "steamed-dent"},
			{Name: "elapsed", Means: "time since", Unit: "min", Range: aYear, Optional: true, Example: "30 h"},
		},
		Sources: []string{"memory", "drying-practice", "design-choice"},
		Holds:   "At about 20 °C and 50 % relative humidity; colder or damper air takes longer. Times are habits of the trade, from memory.",
		Reckon:  dryingWait,
	},
	{
		ID: "meter-reading", Field: Moisture,
		Ask: "What moisture does a reading of a pin meter stand for, and can it be trusted?",
		Inputs: []Input{
			{Name: "reading", Means: "what the meter shows", Unit: "%", Range: onMeter, Example: "9 %"},
			{Name: "wood", Means: "temperature of the wood", Unit: "°C", Range: between(-10, 50), Default: "20 °C", Example: "10 °C"},
		},
		Sources: []string{"moisture-meters", "fpl-meters"},
		Holds:   "Salts, glue lines and metal make a meter read high by more than that.",
		Reckon:  meterReading,
	},
	{
		ID: "dry-enough", Field: Moisture,
		Ask: "Do two readings of a meter show that wood has come to rest with its room?",
		Inputs: []Input{
			{Name: "first", Means: "first reading", Unit: "%", Range: onMeter, Example: "9.4 %"},
			{Name: "second", Means: "second reading", Unit: "%", Range: onMeter, Example: "9.2 %"},
			{Name: "between", Means: "time between them", Unit: "min", Range: aYear, Example: "26 h"},
			{Name: "humidity", Means: "relative humidity of the room", Unit: "%", Range: damp, Example: "45 to 50 %"},
			{Name: "air", Means: "temperature of the room", Unit: "°C", Range: roomAir, Default: "20 °C", Example: "20 °C"},
		},
		Sources: []string{"design-choice", "wood-handbook-moisture"},
		Holds:   "A day apart, within half a percent of each other and within two points of what the room holds wood at: this program's choice.",
		Reckon:  dryEnough,
	},
	{
		ID: "rot", Field: Moisture,
		Ask: "Can rot go on in wood of a moisture and temperature?",
		Inputs: []Input{
			{Name: "moisture", Means: "moisture of the wood", Unit: "%", Range: between(0, 300), Example: "18 %"},
			{Name: "wood", Means: "temperature of the wood", Unit: "°C", Range: between(-50, 100), Optional: true, Example: "15 °C"},
		},
		Sources: []string{"wood-protection-navy", "wood-handbook-2010"},
		Holds:   "Rot that stops in the cold or the heat is not dead and goes on when the temperature comes back.",
		Reckon:  rot,
	},
	{
		ID: "kill-insects", Field: Moisture,
		Ask: "Does an exposure meet a published schedule that kills insects in wood without a poison?",
		Inputs: []Input{
			{Name: "method", Means: "anoxia (air without oxygen in a bag), cold or heat", Words: keys(func(*Tables) map[string]moisture.Method { return moisture.Methods }), Example: "cold"},
			{Name: "against", Means: "which insect", Words: pestsOf("any"), Example: "museum-insects"},
			{Name: "core", Means: "temperature in the core of the wood", Unit: "°C", Range: between(-80, 120), Example: "-22 to -20 °C"},
			{Name: "held", Means: "how long the core was held there", Unit: "min", Range: aYear, Example: "15 days"},
			{Name: "oxygen", Means: "oxygen in the bag, for anoxia", Unit: "%", Range: between(0, 21), Default: "20.9 %", Example: "0.3 %"},
		},
		Sources: []string{"cci-pest-treatments", "anoxia-34-species", "anoxia-entry", "insect-cold-limits", "museum-heat", "drywood-termite-heat", "bed-bug-limits", "design-choice", "memory"},
		Holds:   "That the core of the wood is reached, not the air around it. Cold and heat are not for veneer, inlay or gilding; a frozen piece stays bagged until it is warm. The oxygen of open air, 20.9 %, is from memory.",
		Caution: "Nitrogen and carbon dioxide from a bag displace the air of a small room.",
		Reckon:  killInsects,
	},
}

func dryingWait(t *Tables, g Given) ([]Figure, error) {
	w, err := t.Moisture.Wait(g.Word("after"))
	if err != nil {
		return nil, err
	}
	figures := []Figure{Amount("wait", "wait", "h", w.Hours)}
	if w.Meter {
		figures = append(figures, Verdict("meter", "a moisture meter", "needed", "the water went deeper than the surface, and the clock alone never shows it gone"))
	} else {
		figures = append(figures, Verdict("meter", "a moisture meter", "not-needed", "only the surface was wet"))
	}
	if g.LeftOut("elapsed") {
		return figures, nil
	}
	over, err := w.Over(hours(g.Range("elapsed")))
	open := "some pieces are dry by now and some are not: wait to the long end"
	if w.Meter {
		open = "the clock cannot say: measure"
	}
	return append(figures, truth("over", "the wait is over", over, "the long end has passed", "the short end has not passed yet", open)), err
}

func meterReading(_ *Tables, g Given) ([]Figure, error) {
	content, err := moisture.Content(g.Range("reading"), g.Range("wood"))
	if err != nil {
		return nil, err
	}
	good, err := moisture.Reliable(g.Range("reading"))
	return []Figure{
		Amount("moisture", "moisture of the wood", "%", content),
		truth("reliable", "a pin meter is good there", good, "between 7 and 25 %", "below 6 or above 30 % it only says very dry or very wet", "near the end of its scale, where the sources differ"),
	}, err
}

func dryEnough(_ *Tables, g Given) ([]Figure, error) {
	rest, err := moisture.Equilibrium(g.Range("air"), g.Range("humidity"))
	if err != nil {
		return nil, err
	}
	dry, err := moisture.Dry(g.Range("first"), g.Range("second"), hours(g.Range("between")), rest)
	return []Figure{
		Amount("room", "moisture the room holds wood at", "%", rest),
		truth("dry", "the wood is at rest", dry, "the readings agree with each other and with the room",
			"the readings do not show it: too near in time, too far apart, or too far from the room", "the measurements leave it open: read again later"),
	}, err
}

// paces says what each word of a pace means.
var paces = map[moisture.Pace]string{
	moisture.Stops: "stops", moisture.Slow: "slow", moisture.Active: "active", moisture.PaceUnknown: NotKnown,
}

func rot(_ *Tables, g Given) ([]Figure, error) {
	goes, err := moisture.Decays(g.Range("moisture"), g.Range("wood"))
	if err != nil {
		return nil, err
	}
	pace, err := moisture.DecayPace(g.Range("wood"))
	says := map[moisture.Pace]string{
		moisture.Stops:  "at 2 °C and below and at 38 °C and above rot stands still, without dying",
		moisture.Slow:   "under 10 °C and above 35 °C it creeps",
		moisture.Active: "between 10 and 35 °C wet wood rots at full pace", moisture.PaceUnknown: "the temperature leaves it open",
	}[pace]
	return []Figure{
		truth("goes-on", "rot goes on", goes, "wet enough and at a temperature it thrives at: dry it",
			"too dry (up to 20 %), too cold or too hot", "the measurements or the sources leave it open: dry it below 20 %"),
		Verdict("pace", "pace at that temperature, if the wood is wet", paces[pace], says),
	}, err
}

// pestsOf are the insects that the table of treatments names, for a method or for any.
func pestsOf(method string) func(*Tables) []string {
	return func(t *Tables) []string {
		named := map[string]bool{}
		for _, s := range t.Moisture.Treatments {
			if m, one := moisture.Methods[method]; !one || m == s.Method {
				named[s.Against] = true
			}
		}
		return slices.Sorted(maps.Keys(named))
	}
}

func killInsects(t *Tables, g Given) ([]Figure, error) {
	method, against := g.Word("method"), g.Word("against")
	met, err := t.Moisture.Treated(moisture.Methods[method], against, g.Range("oxygen"), g.Range("core"), hours(g.Range("held")))
	if err != nil {
		return nil, fmt.Errorf("no schedule of %s against %s is known; expected one of %s", method, against, strings.Join(pestsOf(method)(t), ", "))
	}
	return []Figure{truth("killed", "the exposure meets a published schedule", met,
		"it was cold or hot enough for long enough", "no published schedule shows it to be enough", "the measurements leave it open: hold it longer")}, nil
}
