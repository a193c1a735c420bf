package reckon

import (
	"errors"
	"slices"

	"mendwright/engine/mechanics"
	"mendwright/rules/interval"
)

var (
	fasteners = map[string]mechanics.Fastener{"wood-screw": mechanics.WoodScrew, "tapping-screw": mechanics.TappingScrew, "lag-screw": mechanics.LagScrew, "nail": mechanics.Nail}
	holding   = map[string]mechanics.Ends{"resting": mechanics.Resting, "fixed": mechanics.Fixed}
	duties    = map[string]mechanics.Duty{"in-use": mechanics.InUse, "stood-on": mechanics.StoodOn, "unsound": mechanics.Unsound}
)

// shelfInputs describe a board that carries across its span.
func shelfInputs(more ...Input) []Input {
	return append([]Input{
		{Name: "depth", Means: "depth of the shelf from front to back", Unit: "mm", Range: between(1, 3000), Example: "250 mm"},
		{Name: "thickness", Means: "thickness of the board", Unit: "mm", Range: between(1, 300), Example: "19 ± 0.5 mm"},
		{Name: "timber", Means: "timber or kind of board", Words: timbersWith(func(t mechanics.Timber) interval.Range { return t.Stiffness }), Example: "cherry"},
	}, more...)
}

var endsInput = Input{Name: "ends", Means: "resting (lies on supports) or fixed (housed and glued, or screwed through)", Words: words("resting", "fixed"), Optional: true, Example: "resting"}

var mechanicsCalculations = slices.Concat([]*Calculation{
	{
		ID: "shelf-sag", Field: Mechanics,
		Ask: "How far does a shelf, rail or top sag under a load, now and after years?",
		Inputs: append([]Input{
			{Name: "span", Means: "length between its supports", Unit: "mm", Range: between(10, 6000), Example: "900 mm"},
			{Name: "load", Means: "load spread along it", Unit: "N/m", Range: between(0, 100000), Example: "30 kg/m"},
		}, shelfInputs(
			Input{Name: "middle", Means: "load in the middle besides", Unit: "N", Range: between(0, 100000), Default: "0 N", Example: "100 N"},
			endsInput,
			Input{Name: "seasoned", Means: "whether the wood was dry when it was loaded", Words: words("yes", "no"), Optional: true, Example: "yes"},
			Input{Name: "duty", Means: "in-use, stood-on (a person may stand on it) or unsound (rot, insects, a big knot, steep grain)", Words: words("in-use", "stood-on", "unsound"), Default: "in-use", Example: "in-use"},
		)...),
		Sources: []string{"beam-theory", "wood-handbook-2021", "creep", "shelf-sag", "design-choice", "memory"},
		Holds:   "A board of one thickness without its own weight. Boards and the timbers of Europe are from memory; fibreboard is taken to creep like particleboard, this program's choice.",
		Reckon:  shelfSag,
	},
	{
		ID: "shelf-span", Field: Mechanics,
		Ask: "How long may a shelf be before its sag is seen?",
		Inputs: append([]Input{
			{Name: "load", Means: "load spread along it", Unit: "N/m", Range: between(0.001, 100000), Example: "20 lb/ft"},
		}, shelfInputs(
			Input{Name: "limit", Means: "whose limit for the sag", Words: keys(func(t *Tables) map[string]float64 { return t.Mechanics.SagLimits }), Default: "aim", Example: "aim"},
			endsInput,
		)...),
		Sources: []string{"beam-theory", "wood-handbook-2021", "shelf-sag", "shelf-trade", "memory"},
		Holds:   "The sag when the load comes on; after years it is one and a half times as much or more. Boards and the timbers of Europe are from memory.",
		Reckon:  shelfSpan,
	},
	{
		ID: "stiffness-kept", Field: Mechanics,
		Ask: "How much stiffness and strength are left when a board is made thinner?",
		Inputs: []Input{
			{Name: "before", Means: "thickness before", Unit: "mm", Range: between(0.1, 300), Example: "19 mm"},
			{Name: "after", Means: "thickness after", Unit: "mm", Range: between(0.1, 300), Example: "17.5 ± 0.2 mm"},
		},
		Sources: []string{"beam-theory"},
		Holds:   "A board of one thickness, bent across it.",
		Reckon:  stiffnessKept,
	},
}, fasteningCalculations, gluingCalculations, liftingCalculations)

// timbersWith lists the timbers for which a figure is known.
func timbersWith(figure func(mechanics.Timber) interval.Range) func(*Tables) []string {
	return func(t *Tables) []string {
		known := map[string]mechanics.Timber{}
		for name, timber := range t.Mechanics.Timbers {
			if figure(timber).Lo > 0 {
				known[name] = timber
			}
		}
		return keys(func(*Tables) map[string]mechanics.Timber { return known })(t)
	}
}

func beam(t *Tables, g Given) mechanics.Beam {
	return mechanics.Beam{Width: g.Range("depth"), Thickness: g.Range("thickness"), Stiffness: t.Mechanics.Timbers[g.Word("timber")].Stiffness}
}

func shelfSag(t *Tables, g Given) ([]Figure, error) {
	load := mechanics.Load{PerMetre: g.Range("load"), Centre: g.Range("middle")}
	var sags, bends, stiffs []interval.Range
	for _, how := range g.Words("ends") {
		b := beam(t, g)
		b.Span, b.Ends = g.Range("span"), holding[how]
		sag, err := b.Sag(load)
		if err != nil {
			return nil, err
		}
		bend, err := b.Stress(load)
		if err != nil {
			return nil, err
		}
		sags, bends = append(sags, sag), append(bends, bend)
		if load.PerMetre.Lo+load.Centre.Lo > 0 {
			ratio, err := b.SpanOverSag(load)
			if err != nil {
				return nil, err
			}
			stiffs = append(stiffs, ratio)
		}
	}
	sag := over(sags...)
	if sag.Hi > 1000 {
		return nil, errors.New("by these figures the board would sag by more than 1000 mm, and it breaks first")
	}
	usual, bounds, err := crept(t, g, sag)
	if err != nil {
		return nil, err
	}
	figures := []Figure{
		Amount("sag", "sag when it is loaded", "mm", sag),
		Amount("sag-later", "sag after years, usually", "mm", usual),
		Amount("sag-bounds", "sag after years, at the extremes", "mm", bounds),
	}
	if len(stiffs) > 0 {
		figures = append(figures, seen(t, over(stiffs...)))
	}
	figures = append(figures, Amount("stress", "greatest stress in the wood", "MPa", over(bends...)))
	return bears(t, g, over(bends...), figures)
}

// crept is what a sag grows to, usually and at the extremes.
func crept(t *Tables, g Given, sag interval.Range) (usual, bounds interval.Range, err error) {
	boards := []mechanics.Board{}
	switch timber := g.Word("timber"); {
	case timber == "particleboard" || timber == "mdf":
		boards = append(boards, mechanics.Particleboard)
	default:
		for _, yes := range g.Words("seasoned") {
			boards = append(boards, map[string]mechanics.Board{"yes": mechanics.Seasoned, "no": mechanics.Unseasoned}[yes])
		}
	}
	var usuals, all []interval.Range
	for _, board := range boards {
		c, err := mechanics.Creep(sag, board)
		if err != nil {
			return usual, bounds, err
		}
		usuals, all = append(usuals, c.Usual), append(all, c.Bounds)
	}
	return over(usuals...), over(all...), nil
}

// seen judges a first sag by the limits of a blog: the one to aim at and the one just seen.
func seen(t *Tables, spanOverSag interval.Range) Figure {
	aim, just := t.Mechanics.SagLimits["aim"], t.Mechanics.SagLimits["just-seen"]
	const means = "the sag when it is loaded"
	switch {
	case spanOverSag.Lo >= aim:
		return Verdict("seen", means, "unseen", "less than one aims at")
	case spanOverSag.Hi < just:
		return Verdict("seen", means, "seen", "more than the eye forgives")
	case spanOverSag.Lo >= just && spanOverSag.Hi < aim:
		return Verdict("seen", means, "hardly-seen", "more than one aims at and less than is just seen")
	}
	return Verdict("seen", means, NotKnown, "the measurements leave open whether it is seen")
}

// bears adds whether the timber bears the stress, where its strength is known.
func bears(t *Tables, g Given, stress interval.Range, figures []Figure) ([]Figure, error) {
	rupture := t.Mechanics.Timbers[g.Word("timber")].Rupture
	if rupture.Lo <= 0 {
		return figures, nil
	}
	plan, err := mechanics.WorkingStress(rupture, duties[g.Word("duty")])
	figures = append(figures, Amount("plan-stress", "stress to plan with in this timber", "MPa", plan))
	word, says := NotKnown, "near the stress to plan with: take it as too much"
	switch {
	case stress.Hi <= plan.Lo:
		word, says = "below", "the load stays below the stress to plan with"
	case stress.Lo > plan.Hi:
		word, says = "above", "too much for this board"
	}
	return append(figures, Verdict("strength", "the stress", word, says)), err
}

func shelfSpan(t *Tables, g Given) ([]Figure, error) {
	var spans []interval.Range
	for _, how := range g.Words("ends") {
		b := beam(t, g)
		b.Ends = holding[how]
		span, err := b.LongestSpan(g.Range("load"), t.Mechanics.SagLimits[g.Word("limit")])
		if err != nil {
			return nil, err
		}
		spans = append(spans, span)
	}
	return []Figure{Amount("span", "longest span", "mm", over(spans...))}, nil
}

func stiffnessKept(_ *Tables, g Given) ([]Figure, error) {
	stiff, err := mechanics.StiffnessKept(g.Range("before"), g.Range("after"))
	if err != nil {
		return nil, err
	}
	strong, err := mechanics.StrengthKept(g.Range("before"), g.Range("after"))
	return []Figure{
		Amount("stiffness", "stiffness that is left", "%", percent(stiff)),
		Amount("strength", "bending strength that is left", "%", percent(strong)),
	}, err
}
