package mechanics

import (
	"errors"
	"fmt"
	"math"

	"mendwright/rules/interval"
)

// Fastener is what is driven into wood. The zero Fastener is WoodScrew.
type Fastener int

// The fasteners.
const (
	WoodScrew     Fastener = iota
	TappingScrew           // sheet-metal screw: thread to the head
	LagScrew               // screw with a hexagon head
	Nail                   // bright wire nail, today's handbook
	NailOnOvendry          // the same by the research note of 1965, whose gravity is on the ovendry volume
)

func (f Fastener) String() string {
	return [...]string{"wood screw", "tapping screw", "lag screw", "nail", "nail by ovendry gravity"}[f]
}

// pull is how a fastener holds in the side grain of dry wood: constant times gravity and diameter
// to their powers, for each inch of grip; inches and pounds-force.
type pull struct {
	ultimate, allowable float64
	gravity, diameter   float64
}

// pulls by fastener. Wood screw: Wood Handbook form, quoted by a woodworking page, and design
// figure of a civil engineering handbook. Tapping screw: a tenth more to pull out (an engineering
// site quoting the handbook); its allowable figure stays that of the wood screw, a choice of this
// program. Lag screw: 8100 from memory, 1800 fits the rows of the National Design Specification,
// table 12.2A. Nail: Wood Handbook constant, exponent 5/2 of Research Note FPL-093 (a site prints
// 2, a misprint); allowable a fifth of the older ultimate, 6900.
var pulls = [...]pull{
	WoodScrew:     {15700, 2850, 2, 1},
	TappingScrew:  {15700 * 1.1, 2850, 2, 1},
	LagScrew:      {8100, 1800, 1.5, 0.75},
	Nail:          {7850, 1380, 2.5, 1},
	NailOnOvendry: {6900, 1380, 2.5, 1},
}

// withdrawal is constant G^a D^b L in inches and pounds-force. It rises with all three.
func withdrawal(constant float64, p pull, gravity, diameter, grip interval.Range) interval.Range {
	at := func(g, d, l float64) float64 {
		return constant * math.Pow(g, p.gravity) * math.Pow(d, p.diameter) * l
	}
	return interval.Range{Lo: at(gravity.Lo, diameter.Lo, grip.Lo), Hi: at(gravity.Hi, diameter.Hi, grip.Hi)}
}

func (f Fastener) check() error {
	if f < 0 || int(f) >= len(pulls) {
		return fmt.Errorf("read %d for the fastener; expected one that this package names", int(f))
	}
	return nil
}

func inches(f Fastener, gravity, diameter, grip interval.Range) error {
	return errors.Join(f.check(),
		check("specific gravity", gravity, 0.1, 1.3, ""),
		check("diameter", diameter, 0.02, 1.2, "in"),
		check("grip", grip, 0, 12, "in"))
}

func metric(f Fastener, gravity, diameter, grip interval.Range) error {
	return errors.Join(f.check(),
		check("specific gravity", gravity, 0.1, 1.3, ""),
		check("diameter", diameter, 0.5, 30, "mm"),
		check("grip", grip, 0, 300, "mm"))
}

// UltimateInch is the load in pounds-force that draws a fastener out of the side grain of dry
// wood: gravity is the specific gravity (0.1 to 1.3; ovendry weight, volume at 12 %, for
// NailOnOvendry ovendry volume), diameter that of the shank, or outside the thread (0.02 to 1.2
// in), grip the length of thread or nail in the wood (0 to 12 in), without the tip for a lag
// screw. The Wood Handbook's forms; pulls tells what stands behind each constant. In dense wood the
// screw itself may break first. It rises with all three, so the answer spans exactly the two ends.
// Errors: a range outside these limits, or an unknown fastener.
func UltimateInch(f Fastener, gravity, diameter, grip interval.Range) (interval.Range, error) {
	if err := inches(f, gravity, diameter, grip); err != nil {
		return interval.Range{}, err
	}
	p := pulls[f]
	return withdrawal(p.ultimate, p, gravity, diameter, grip), nil
}

// Ultimate is UltimateInch in newtons, from a diameter (0.5 to 30 mm) and grip (0 to 300 mm): the
// same forms, turned to millimetres exactly, and the same errors.
func Ultimate(f Fastener, gravity, diameter, grip interval.Range) (interval.Range, error) {
	if err := metric(f, gravity, diameter, grip); err != nil {
		return interval.Range{}, err
	}
	p := pulls[f]
	return scaled(withdrawal(p.ultimate, p, gravity, scaled(diameter, 1/Inch), scaled(grip, 1/Inch)), PoundForce), nil
}

// AllowableInch is the load in pounds-force that American design practice lets a fastener in side
// grain carry for long, from the same inputs and with the same errors as UltimateInch. The
// ultimate load is 4.5 (lag screw) to 6 times as much (tapping screw).
func AllowableInch(f Fastener, gravity, diameter, grip interval.Range) (interval.Range, error) {
	if err := inches(f, gravity, diameter, grip); err != nil {
		return interval.Range{}, err
	}
	p := pulls[f]
	return withdrawal(p.allowable, p, gravity, diameter, grip), nil
}

// Allowable is AllowableInch in newtons, from a diameter (0.5 to 30 mm) and grip (0 to 300 mm),
// with the same errors.
func Allowable(f Fastener, gravity, diameter, grip interval.Range) (interval.Range, error) {
	if err := metric(f, gravity, diameter, grip); err != nil {
		return interval.Range{}, err
	}
	p := pulls[f]
	return scaled(withdrawal(p.allowable, p, gravity, scaled(diameter, 1/Inch), scaled(grip, 1/Inch)), PoundForce), nil
}

// mostForce bounds any one force in newtons that a piece of furniture sees.
const mostForce = 1e6

// EndGrain is what a fastener holds in end grain, from what it holds in side grain (N, 0 to 1e6).
// A lag screw holds three quarters (Wood Handbook FPL-GTR-190, p. 8-13). For screws the sources
// give from 60 % to 75 % at most; the low end of half is a choice of this program. Design practice
// allows no screw to be drawn out of end grain at all, so this is for judging what is there, not
// for planning. Errors: a range outside these limits, or a nail, for which there is no figure.
func EndGrain(f Fastener, side interval.Range) (interval.Range, error) {
	if err := errors.Join(f.check(), check("hold in side grain", side, 0, mostForce, "N")); err != nil {
		return interval.Range{}, err
	}
	switch f {
	case LagScrew:
		return scaled(side, 0.75), nil
	case WoodScrew, TappingScrew:
		return interval.Range{Lo: side.Lo * 0.5, Hi: side.Hi * 0.75}, nil
	}
	return interval.Range{}, fmt.Errorf("read %s; expected a screw, for there is no figure for nails in end grain", f)
}

// PanelEdge is what a screw holds in the edge of a panel (particleboard, fibreboard), from what it
// holds in its face (N, 0 to 1e6): 75 to 80 %. Review of screw holding in panel products, Forest
// Products Laboratory. Errors: a range outside these limits.
func PanelEdge(face interval.Range) (interval.Range, error) {
	if err := check("hold in the face", face, 0, mostForce, "N"); err != nil {
		return interval.Range{}, err
	}
	return interval.Range{Lo: face.Lo * 0.75, Hi: face.Hi * 0.8}, nil
}

// Working is the load in newtons to plan with for a knob, handle or hinge, from the ultimate one
// (N, 0 to 1e6): a part of 5.5, and half of that in a hole that was used before. Both are choices
// of this program, the first near the ratio of design practice. Errors: a range outside these
// limits.
func Working(ultimate interval.Range, usedHole bool) (interval.Range, error) {
	if err := check("ultimate load", ultimate, 0, mostForce, "N"); err != nil {
		return interval.Range{}, err
	}
	if usedHole {
		return scaled(ultimate, 1/5.5/2), nil
	}
	return scaled(ultimate, 1/5.5), nil
}
