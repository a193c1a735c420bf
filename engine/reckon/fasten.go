package reckon

import (
	"fmt"

	"mendwright/engine/depth"
	"mendwright/engine/mechanics"
	"mendwright/rules/interval"
)

// someBoard is a thickness or length of wood that furniture has, mm.
var someBoard = between(0.1, 300)

var fasteningCalculations = []*Calculation{
	{
		ID: "screw-withdrawal", Field: Mechanics,
		Ask: "What load draws a screw or nail out of wood, and what may it carry?",
		Inputs: []Input{
			{Name: "fastener", Means: "wood-screw, tapping-screw (thread to the head), lag-screw (hexagon head) or nail", Words: words("wood-screw", "tapping-screw", "lag-screw", "nail"), Example: "wood-screw"},
			{Name: "timber", Means: "timber it sits in", Words: timbersWith(func(t mechanics.Timber) interval.Range { return t.Gravity }), Example: "walnut-black"},
			{Name: "diameter", Means: "diameter outside the thread, or of the nail", Unit: "mm", Range: between(0.5, 30), Example: "4.2 mm"},
			{Name: "grip", Means: "length of thread or nail in the wood", Unit: "mm", Range: between(0, 300), Example: "25 mm"},
			{Name: "grain", Means: "side (across the grain) or end (along it)", Words: words("side", "end"), Optional: true, Example: "side"},
			{Name: "hole", Means: "new, or used before", Words: words("new", "used"), Optional: true, Example: "new"},
		},
		Sources: []string{"screw-equation", "screw-and-nail-equations", "nail-note", "screw-design", "lag-screw-design", "nail-design", "wood-handbook-2010", "wood-handbook-2021", "memory", "design-choice"},
		Holds:   "Dry, sound wood and a right pilot hole. In dense wood the screw may break first. The lag screw's constant and the gravity of boards are from memory. The load to plan with is this program's choice. Design practice hangs no load on a screw in end grain.",
		Reckon:  screwWithdrawal,
	},
	{
		ID: "screw-in-panel-edge", Field: Mechanics,
		Ask: "What does a screw hold in the edge of a panel, from what it holds in its face?",
		Inputs: []Input{
			{Name: "face", Means: "what it holds in the face", Unit: "N", Range: between(0, 1e6), Example: "1000 N"},
		},
		Sources: []string{"panel-screws"},
		Holds:   "Particleboard and fibreboard that were not wet.",
		Reckon: func(_ *Tables, g Given) ([]Figure, error) {
			edge, err := mechanics.PanelEdge(g.Range("face"))
			return []Figure{Amount("edge", "what it holds in the edge", "N", edge)}, err
		},
	},
	{
		ID: "screw-cover", Field: Mechanics,
		Ask: "How much wood is left between the tip of a screw and the face of a board?",
		Inputs: []Input{
			{Name: "thickness", Means: "thickness of the board", Unit: "mm", Range: someBoard, Example: "19 ± 0.5 mm"},
			{Name: "screw", Means: "how deep the screw goes into it", Unit: "mm", Range: between(0, 300), Example: "13 mm"},
			{Name: "take", Means: "what sanding or planing takes off the face", Unit: "mm", Range: between(0, 50), Default: "0 mm", Example: "0.5 mm"},
		},
		Sources: []string{"geometry", "memory", "design-choice"},
		Holds:   "A solid board and a screw that goes in square.",
		Reckon:  screwCover,
	},
}

func screwWithdrawal(t *Tables, g Given) ([]Figure, error) {
	f := fasteners[g.Word("fastener")]
	gravity, diameter, grip := t.Mechanics.Timbers[g.Word("timber")].Gravity, g.Range("diameter"), g.Range("grip")
	side, err := mechanics.Ultimate(f, gravity, diameter, grip)
	if err != nil {
		return nil, err
	}
	design, err := mechanics.Allowable(f, gravity, diameter, grip)
	if err != nil {
		return nil, err
	}
	var pulls, designs, plans []interval.Range
	for _, grain := range g.Words("grain") {
		pull, allowed := side, design
		if grain == "end" {
			if pull, err = mechanics.EndGrain(f, side); err != nil {
				return nil, fmt.Errorf("the grain may be end: %w", err)
			}
			allowed = interval.Range{}
		}
		pulls, designs = append(pulls, pull), append(designs, allowed)
		for _, hole := range g.Words("hole") {
			plan, err := mechanics.Working(pull, hole == "used")
			if err != nil {
				return nil, err
			}
			plans = append(plans, plan)
		}
	}
	plan := over(plans...)
	return []Figure{
		Amount("pulls-out", "load that draws it out", "N", over(pulls...)),
		Amount("design", "load that design practice allows for long in new side grain, and none in end grain", "N", over(designs...)),
		Amount("plan", "load to plan with for a knob, handle or hinge", "N", plan),
		Amount("plan-weight", "which is the weight of", "kg", times(plan, 1/mechanics.StandardGravity)),
	}, nil
}

func screwCover(t *Tables, g Given) ([]Figure, error) {
	cover := depth.Cover(g.Range("thickness"), g.Range("take"), g.Range("screw"))
	least := interval.Exact(t.LeastCover)
	word, says := NotKnown, "the measurements leave it open: take a shorter screw"
	switch {
	case cover.Lo >= least.Hi:
		word, says = "enough", "at least what is to stay"
	case cover.Hi <= 0:
		word, says = "through", "the tip comes out of the face"
	case cover.Lo > 0 && cover.Hi < least.Lo:
		word, says = "too-little", "the tip may show or bulge: take a shorter screw"
	}
	return []Figure{
		Amount("cover", "wood over the tip (negative: it stands out)", "mm", cover),
		Amount("least", "what is to stay", "mm", least),
		Verdict("verdict", "the cover", word, says),
	}, nil
}
