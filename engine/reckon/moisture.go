package reckon

import (
	"slices"

	"mendwright/engine/moisture"
	"mendwright/rules/interval"
)

// The limits within which people meet these things; those of the arithmetic are wider or the same.
var (
	roomAir   = between(-10, 60)            // °C
	damp      = between(0, 99.9)            // % relative humidity
	inWood    = between(0, 30)              // % moisture content
	oneBoard  = between(1, 5000)            // mm
	inRoomUse = between(6, 14)              // % moisture, where the movement coefficients hold
	howSawn   = []string{"flat", "quarter"} // as the rings run
	dents     = []string{"fresh", "old", "cut", "pressed-hot"}
)

var moistureCalculations = slices.Concat([]*Calculation{
	{
		ID: "wood-moisture", Field: Moisture,
		Ask: "What moisture does wood come to rest at in the air of a room?",
		Inputs: []Input{
			{Name: "humidity", Means: "relative humidity of the air", Unit: "%", Range: damp, Example: "40 to 50 %"},
			{Name: "air", Means: "temperature of the air", Unit: "°C", Range: roomAir, Default: "20 °C", Example: "18 to 22 °C"},
		},
		Sources: []string{"wood-handbook-moisture", "wood-handbook-2010"},
		Holds:   "Single timbers differ by a point or so; wood takes weeks to follow the air.",
		Reckon:  woodMoisture,
	},
	{
		ID: "air-for-wood", Field: Moisture,
		Ask: "In which air does wood of a known moisture neither take up nor give off water?",
		Inputs: []Input{
			{Name: "moisture", Means: "moisture of the wood", Unit: "%", Range: inWood, Example: "8 to 9 %"},
			{Name: "air", Means: "temperature of the air", Unit: "°C", Range: roomAir, Default: "20 °C", Example: "20 °C"},
		},
		Sources: []string{"wood-handbook-moisture"},
		Holds:   "By another equation of the same handbook than wood-moisture; in the air of rooms they agree to some tenths of a percent of moisture.",
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			r, err := moisture.HumidityAlt(g.Range("air"), g.Range("moisture"))
			return []Figure{Amount("humidity", "relative humidity at which the wood stays as it is", "%", r)}, err
		},
	},
	{
		ID: "board-movement", Field: Moisture,
		Ask: "How much wider or narrower does a board get when its moisture changes?",
		Inputs: []Input{
			{Name: "width", Means: "width of the board across the grain", Unit: "mm", Range: oneBoard, Example: "600 mm"},
			{Name: "timber", Means: "timber", Words: keys(func(t *Tables) map[string]moisture.Timber { return t.Moisture.Timbers }), Example: "cherry"},
			{Name: "from", Means: "moisture before", Unit: "%", Range: inWood, Example: "6 %"},
			{Name: "to", Means: "moisture after", Unit: "%", Range: inWood, Example: "10 %"},
			{Name: "sawn", Means: "flat (rings along the face) or quarter (rings square to it)", Words: words(howSawn...), Optional: true, Example: "flat"},
		},
		Sources: []string{"wood-handbook-moisture", "wood-handbook-2010", "panel-paintings", "memory"},
		Holds:   "A board that is free to move. One held by screws, battens or glue cracks or bends instead. The soft maple is taken to be red maple, from memory.",
		Reckon:  boardMovement,
	},
	{
		ID: "shrinkage", Field: Moisture,
		Ask: "How much of its green size has a timber lost when it has dried?",
		Inputs: []Input{
			{Name: "timber", Means: "timber", Words: keys(func(t *Tables) map[string]moisture.Timber { return t.Moisture.Timbers }), Example: "maple-hard"},
			{Name: "moisture", Means: "moisture it has dried to", Unit: "%", Range: inWood, Example: "8 %"},
			{Name: "sawn", Means: "flat (rings along the face) or quarter (rings square to it)", Words: words(howSawn...), Optional: true, Example: "flat"},
		},
		Sources: []string{"wood-handbook-moisture", "wood-handbook-2010", "panel-paintings", "memory"},
		Holds:   "Across the grain; along it wood hardly shrinks. The soft maple is taken to be red maple, from memory.",
		Reckon: func(t *Tables, g Given) ([]Figure, error) {
			whole, err := t.Moisture.Timbers[g.Word("timber")].Whole(sawnOf(g))
			if err != nil {
				return nil, err
			}
			lost, err := moisture.Shrinkage(whole, g.Range("moisture"))
			return []Figure{Amount("shrinkage", "lost of the green width", "%", lost)}, err
		},
	},
	{
		ID: "dent-left", Field: Moisture,
		Ask: "How deep is a dent still when it has been raised with damp and heat?",
		Inputs: []Input{
			{Name: "depth", Means: "depth of the dent", Unit: "mm", Range: between(0, 20), Example: "0.4 ± 0.05 mm"},
			{Name: "dent", Means: "fresh, old, cut (fibres severed) or pressed-hot", Words: words(dents...), Optional: true, Example: "fresh"},
		},
		Sources: []string{"memory", "dent-practice", "pressed-fir"},
		Holds:   "One treatment. No measurement of ordinary dents under an iron is known; the shares for fresh and old ones are from memory.",
		Caution: "Steam scalds, and heat and water together let go of hide glue under a veneer.",
		Reckon:  dentLeft,
	},
}, heatCalculations, dryingCalculations)

func woodMoisture(_ *Tables, g Given) ([]Figure, error) {
	r, err := moisture.Equilibrium(g.Range("air"), g.Range("humidity"))
	return []Figure{Amount("moisture", "moisture the wood comes to rest at", "%", r)}, err
}

func sawnOf(g Given) moisture.Sawn {
	if g.LeftOut("sawn") {
		return moisture.Unseen
	}
	return map[string]moisture.Sawn{"flat": moisture.Flat, "quarter": moisture.Quarter}[g.Word("sawn")]
}

// boardMovement spans both ways of the handbook: by the whole shrinkage, and where the moisture
// lies in the range of rooms also by the coefficient for that range.
func boardMovement(t *Tables, g Given) ([]Figure, error) {
	timber, sawn := t.Moisture.Timbers[g.Word("timber")], sawnOf(g)
	width, from, to := g.Range("width"), g.Range("from"), g.Range("to")
	whole, err := timber.Whole(sawn)
	if err != nil {
		return nil, err
	}
	wider, err := moisture.MovementByShrinkage(width, whole, from, to)
	if err != nil {
		return nil, err
	}
	from, fromInside := meet(from, inRoomUse)
	to, toInside := meet(to, inRoomUse)
	if perPoint, err := timber.PerPoint(sawn); err == nil && fromInside && toInside {
		byCoefficient, err := moisture.Movement(width, perPoint, from, to)
		if err != nil {
			return nil, err
		}
		wider = over(wider, byCoefficient)
	}
	return []Figure{Amount("wider", "wider by (narrower if negative)", "mm", wider)}, nil
}

// meet is what two ranges share.
func meet(a, b interval.Range) (interval.Range, bool) {
	r := interval.Range{Lo: max(a.Lo, b.Lo), Hi: min(a.Hi, b.Hi)}
	return r, r.Lo <= r.Hi
}

func dentLeft(t *Tables, g Given) ([]Figure, error) {
	var shares []interval.Range
	for _, dent := range g.Words("dent") {
		share, err := t.Moisture.Recovery(dent)
		if err != nil {
			return nil, err
		}
		shares = append(shares, share)
	}
	share := over(shares...)
	left, err := moisture.DentLeft(g.Range("depth"), share)
	return []Figure{
		Amount("comes-back", "share of the depth that comes back", "%", percent(share)),
		Amount("left", "depth that is left", "mm", left),
	}, err
}

// agreed is the truth that all of truths agree on.
func agreed(truths ...moisture.Truth) moisture.Truth {
	for _, t := range truths {
		if t != truths[0] {
			return moisture.Unknown
		}
	}
	return truths[0]
}

// truth writes a truth out, with what each of its words says.
func truth(name, means string, t moisture.Truth, yes, no, open string) Figure {
	switch t {
	case moisture.Yes:
		return Verdict(name, means, "yes", yes)
	case moisture.No:
		return Verdict(name, means, "no", no)
	}
	return Verdict(name, means, NotKnown, open)
}
