package reckon

import (
	"mendwright/engine/mechanics"
	"mendwright/rules/interval"
)

// centi turns millimetres into the centimetres of the lifting equation.
const centi = 0.1

var (
	spells = map[string]mechanics.Spell{"one-hour": mechanics.UpToOneHour, "two-hours": mechanics.UpToTwoHours, "eight-hours": mechanics.UpToEightHours}
	grips  = map[string]mechanics.Grip{"poor": mechanics.Poor, "fair": mechanics.Fair, "good": mechanics.Good}
)

var liftingCalculations = []*Calculation{
	{
		ID: "board-mass", Field: Mechanics,
		Ask: "How heavy is a board or top?",
		Inputs: []Input{
			{Name: "length", Means: "length", Unit: "mm", Range: between(1, 10000), Example: "1800 mm"},
			{Name: "width", Means: "width", Unit: "mm", Range: between(1, 10000), Example: "900 mm"},
			{Name: "thickness", Means: "thickness", Unit: "mm", Range: someBoard, Example: "25 mm"},
			{Name: "timber", Means: "timber or kind of board", Words: timbersWith(func(t mechanics.Timber) interval.Range { return t.Gravity }), Example: "oak-white"},
			{Name: "moisture", Means: "moisture of the wood", Unit: "%", Range: inWood, Optional: true, Example: "8 to 12 %"},
		},
		Sources: []string{"geometry", "wood-handbook-2021", "wood-handbook-moisture", "memory"},
		Holds:   "By the gravity at 12 % moisture; the gravity of boards such as plywood is from memory.",
		Reckon:  boardMass,
	},
	{
		ID: "lift-reach", Field: Mechanics,
		Ask: "How far from the body are the hands, for a load that sticks out?",
		Inputs: []Input{
			{Name: "depth", Means: "how far the load sticks out from the body", Unit: "mm", Range: between(0, 2000), Example: "400 mm"},
			{Name: "height", Means: "height of the hands above the floor", Unit: "mm", Range: between(0, 2500), Example: "400 mm"},
		},
		Sources: []string{"niosh-lifting"},
		Holds:   "For where it cannot be measured.",
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			cm, err := mechanics.Reach(times(g.Range("depth"), centi), times(g.Range("height"), centi))
			return []Figure{Amount("reach", "reach from between the ankles to the hands", "mm", times(cm, 10))}, err
		},
	},
	{
		ID: "lift-a-top", Field: Mechanics,
		Ask: "Is a top or carcase too heavy to lift like that?",
		Inputs: []Input{
			{Name: "mass", Means: "how heavy it is", Unit: "kg", Range: between(0, 1000), Example: "30 to 35 kg"},
			{Name: "reach", Means: "from between the ankles to the hands", Unit: "mm", Range: between(10, 1500), Example: "400 mm"},
			{Name: "height", Means: "height of the hands where the lift begins", Unit: "mm", Range: between(0, 2500), Example: "400 mm"},
			{Name: "travel", Means: "how far the hands go up or down", Unit: "mm", Range: between(0, 2500), Example: "600 mm"},
			{Name: "turn", Means: "how far to the side it stands", Unit: "°", Range: between(0, 180), Default: "0 °", Example: "30 °"},
			{Name: "per-minute", Means: "lifts in a minute", Range: between(0, 60), Default: "0.2", Example: "0.2"},
			{Name: "spell", Means: "for how long people go on: up to one-hour, two-hours or eight-hours", Words: words("one-hour", "two-hours", "eight-hours"), Default: "one-hour", Example: "one-hour"},
			{Name: "grip", Means: "poor (a top nearly always), fair or good", Words: words("poor", "fair", "good"), Default: "poor", Example: "poor"},
			{Name: "people", Means: "how many lift together: 1, 2 or 3", Words: words("1", "2", "3"), Default: "1", Example: "2"},
		},
		Sources: []string{"niosh-lifting", "team-lifting"},
		Holds:   "With both hands, standing, on a floor that is not slippery, at 19 to 26 °C, with a load that does not shift, carried two steps at most.",
		Caution: "The limit is for healthy grown workers; a bad back, stairs or a slipping grip lower it. Take it apart, slide it or get more hands.",
		Reckon:  liftATop,
	},
	{
		ID: "tips-forward", Field: Mechanics,
		Ask: "Does a chest tip forward with its drawers out or a child on it, and what would hold it?",
		Inputs: []Input{
			{Name: "mass", Means: "of the piece without what is named below", Unit: "kg", Range: between(0, 1000), Example: "35 kg"},
			{Name: "behind", Means: "how far its middle lies behind the front feet", Unit: "mm", Range: between(-2000, 2000), Example: "220 mm"},
			{Name: "drawers", Means: "mass of the open drawers with what is in them", Unit: "kg", Range: between(0, 1000), Default: "0 kg", Example: "36.5 kg"},
			{Name: "drawers-out", Means: "how far their middle stands out in front of the feet", Unit: "mm", Range: between(-2000, 2000), Default: "0 mm", Example: "100 mm"},
			{Name: "hanging", Means: "mass that hangs on it, such as a child", Unit: "kg", Range: between(0, 300), Default: "0 kg", Example: "27.2 kg"},
			{Name: "hanging-out", Means: "how far that hangs in front of the feet", Unit: "mm", Range: between(-2000, 2000), Default: "0 mm", Example: "300 mm"},
			{Name: "lean", Means: "how far the piece leans forward, as on a carpet", Unit: "°", Range: between(0, 45), Default: "0 °", Example: "1.5 °"},
			{Name: "height", Means: "height of those masses, for a piece that leans", Unit: "mm", Range: between(0, 2500), Optional: true, Example: "400 to 900 mm"},
			{Name: "anchor", Means: "height of an anchor on the wall", Unit: "mm", Range: between(100, 2500), Optional: true, Example: "900 mm"},
		},
		Sources: []string{"statics"},
		Holds:   "Standing still on hard feet; a jerk wants several times the force.",
		Caution: "A chest that tips can kill a child. Whatever the figures say, anchor it to the wall.",
		Reckon:  tipsForward,
	},
}

func boardMass(t *Tables, g Given) ([]Figure, error) {
	density, err := mechanics.Density(t.Mechanics.Timbers[g.Word("timber")].Gravity, g.Range("moisture"))
	if err != nil {
		return nil, err
	}
	mass, err := mechanics.Mass(g.Range("length"), g.Range("width"), g.Range("thickness"), density)
	return []Figure{
		Amount("density", "density", "kg/m³", density),
		Amount("mass", "mass", "kg", mass),
	}, err
}

func liftATop(t *Tables, g Given) ([]Figure, error) {
	limit, err := t.Mechanics.Limit(mechanics.Lift{
		Reach: times(g.Range("reach"), centi), Height: times(g.Range("height"), centi), Travel: times(g.Range("travel"), centi),
		Turn: g.Range("turn"), PerMinute: g.Range("per-minute"), Spell: spells[g.Word("spell")], Grip: grips[g.Word("grip")],
	})
	if err != nil {
		return nil, err
	}
	each := []interval.Range{limit.Mass, limit.Mass, limit.Mass}[:map[string]int{"1": 1, "2": 2, "3": 3}[g.Word("people")]]
	together, err := mechanics.Team(each...)
	if err != nil {
		return nil, err
	}
	figures := []Figure{
		Amount("one", "most for one person to lift like that", "kg", limit.Mass),
		Amount("together", "most for those who lift together", "kg", together),
	}
	mass := g.Range("mass")
	if together.Lo > 0 {
		index, err := (mechanics.Limit{Mass: together}).Index(mass)
		if err != nil {
			return nil, err
		}
		figures = append(figures, Amount("index", "the load over that limit", "", index))
	}
	word, says := NotKnown, "take it as too much"
	switch {
	case mass.Hi <= together.Lo:
		word, says = "within", "no more than is advised"
	case mass.Lo > 3*together.Hi:
		word, says = "far-above", "more than three times what is advised: too much for many people"
	case mass.Lo > together.Hi && mass.Hi <= 3*together.Lo:
		word, says = "above", "more than is advised: too much for some people"
	case mass.Lo > together.Hi:
		says = "more than is advised, and perhaps far more"
	}
	return append(figures, Verdict("verdict", "the load", word, says)), nil
}

func tipsForward(_ *Tables, g Given) ([]Figure, error) {
	front := func(name string) interval.Range { return interval.Exact(0).Sub(g.Range(name)) }
	height := g.Range("height")
	balance, err := mechanics.Balance([]mechanics.Part{
		{Mass: g.Range("mass"), Behind: g.Range("behind"), Height: height},
		{Mass: g.Range("drawers"), Behind: front("drawers-out"), Height: height},
		{Mass: g.Range("hanging"), Behind: front("hanging-out"), Height: height},
	}, g.Range("lean"))
	if err != nil {
		return nil, err
	}
	stance, err := mechanics.StanceOf(balance)
	if err != nil {
		return nil, err
	}
	word, says := NotKnown, "the measurements leave it open: take it as tipping"
	switch stance {
	case mechanics.Stands:
		word, says = "stands", "with nothing to spare for a jerk but that balance"
	case mechanics.Tips:
		word, says = "tips", "it goes over on its own"
	}
	figures := []Figure{
		Amount("balance", "balance over the front feet (it tips below 0)", "kg mm", balance),
		Verdict("stance", "the piece", word, says),
	}
	if g.LeftOut("anchor") {
		return figures, nil
	}
	force, err := mechanics.Restraint(balance, g.Range("anchor"))
	return append(figures, Amount("anchor", "force at the anchor that just holds it", "N", force)), err
}
