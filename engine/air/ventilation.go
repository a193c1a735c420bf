package air

import (
	"cmp"
	"math"

	"mendwright/rules/interval"
)

// CFM is how many m3 an hour a cubic foot a minute is.
const CFM = 1.699

// BoothVelocity is the average speed of air in m/s through the face of a spray booth with dry filters that
// 29 CFR 1910.107 asks for as a fire rule: 100 ft/min. It does not prove that limits for breathing are met.
const BoothVelocity = 0.51

// FlowFor returns the fresh air in m3/h that keeps an even release of vapour (litres an hour, 0 or more)
// at a target in ppm (above 0), given the mixing factor (1 or more): K G/C, as handbooks of
// industrial ventilation have it. It rises with release and mixing, falls with the target.
func FlowFor(litres, ppm, mixing interval.Range) (interval.Range, error) {
	if err := cmp.Or(atLeast0("the release", "L/h", litres), above0("the target", "ppm", ppm),
		within("the mixing factor", "", mixing, 1, 100)); err != nil {
		return interval.Range{}, err
	}
	return scaled(over(litres.Mul(mixing), ppm), 1000), nil
}

// HandbookFlow returns the fresh air in cubic feet a minute by the formula that ventilation handbooks
// print for 70 °F: 403e6 SG ER K/(M C), with specific gravity, pints evaporated a minute, mixing
// factor (1 or more), molar mass in g/mol and target in ppm, all above 0.
func HandbookFlow(gravity, pints, mixing, molar, ppm interval.Range) (interval.Range, error) {
	if err := cmp.Or(above0("the specific gravity", "", gravity), above0("the release", "pints/min", pints),
		within("the mixing factor", "", mixing, 1, 100), above0("the molar mass", "g/mol", molar), above0("the target", "ppm", ppm)); err != nil {
		return interval.Range{}, err
	}
	return scaled(over(gravity.Mul(pints).Mul(mixing), molar.Mul(ppm)), 403e6), nil
}

// FlowOfHalfLife returns the fresh air in m3/h of a room of volume m3 in which half of a vapour is gone
// after the given hours (both above 0): ln 2 V/t.
func FlowOfHalfLife(volume, hours interval.Range) (interval.Range, error) {
	if err := cmp.Or(above0("the room", "m3", volume), above0("the half-life", "h", hours)); err != nil {
		return interval.Range{}, err
	}
	return scaled(over(volume, hours), math.Ln2), nil
}

// Changes returns the air changes per hour that a flow in m3/h (0 or more) makes in volume m3 (above 0).
func Changes(flow, volume interval.Range) (interval.Range, error) {
	if err := cmp.Or(atLeast0("the flow", "m3/h", flow), above0("the room", "m3", volume)); err != nil {
		return interval.Range{}, err
	}
	return over(flow, volume), nil
}

// Wind is how the wind meets an opening. The zero Wind is not known.
type Wind int

// The winds.
const (
	AnyWind Wind = iota
	HeadWind
	SlantWind
)

// share is how much of the wind goes through openings opposite each other. From memory of building
// handbooks, not verified.
func (w Wind) share() interval.Range {
	switch w {
	case HeadWind:
		return interval.Exact(0.5)
	case SlantWind:
		return interval.Range{Lo: 0.25, Hi: 0.35}
	}
	return interval.Range{Lo: 0.25, Hi: 0.5}
}

// DoorFlow returns the fresh air in m3/h through an opening on one side of a room only: 0.025 A v, with
// area in m2 (0 or more) and wind in m/s (0 to 30). From memory of building handbooks, not verified.
// A still day gives 0 here and is better taken from a Place.
func DoorFlow(area, wind interval.Range) (interval.Range, error) {
	return blown(area, wind, interval.Exact(0.025))
}

// CrossFlow returns the fresh air in m3/h through openings on opposite sides of a room: the area in m2 of
// the smaller (0 or more) times the wind in m/s (0 to 30), times 0.5, or 0.25 to 0.35 if it slants.
// From memory of building handbooks, not verified.
func CrossFlow(area, wind interval.Range, from Wind) (interval.Range, error) {
	return blown(area, wind, from.share())
}

func blown(area, wind, share interval.Range) (interval.Range, error) {
	if err := cmp.Or(atLeast0("the opening", "m2", area), within("the wind", "m/s", wind, 0, 30)); err != nil {
		return interval.Range{}, err
	}
	return scaled(area.Mul(wind).Mul(share), 3600), nil
}

// FaceVelocity returns the average speed of air in m/s when a flow in m3/h (0 or more) is drawn through an
// opening of area m2 (above 0).
func FaceVelocity(flow, area interval.Range) (interval.Range, error) {
	if err := cmp.Or(atLeast0("the flow", "m3/h", flow), above0("the opening", "m2", area)); err != nil {
		return interval.Range{}, err
	}
	return scaled(over(flow, area), 1.0/3600), nil
}
