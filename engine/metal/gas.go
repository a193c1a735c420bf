package metal

import "mendwright/rules/interval"

// FlammableFrom is the least share in percent of hydrogen in air that burns (university
// page on hydrogen gas); up to 75 to 77 % it goes on burning.
const FlammableFrom = 4

// masses of metal that can be reckoned with, in g.
var masses = interval.Range{Lo: 0, Hi: 1e5}

// HydrogenFromIron is the hydrogen in litres at 20 °C that iron gives off as acid dissolves it,
// 0 to 1e5 g: one mole of gas to a mole of metal. The error names a mass out of range.
// Source: stoichiometry; molar volume at 20 °C and one atmosphere.
func HydrogenFromIron(grams interval.Range) (interval.Range, error) {
	if err := need("the iron", "g", grams, masses); err != nil {
		return interval.Range{}, err
	}
	return scale(grams, litresPerMole/iron), nil
}

// HydrogenFromZinc is the same for zinc, plate or casting: range, error and source as
// HydrogenFromIron.
func HydrogenFromZinc(grams interval.Range) (interval.Range, error) {
	if err := need("the zinc", "g", grams, masses); err != nil {
		return interval.Range{}, err
	}
	return scale(grams, litresPerMole/zinc), nil
}

// GasShare is the share in percent that a gas can make up in a closed space when none of it gets
// out: its volume over that of the space, at most 100. gas is 0 to 1e6 litres, space 0.1 to 1e7
// litres. The error names what is out of range. Source: the definition of a share of volume; it
// takes the gas to push out its own volume of air.
func GasShare(gas, space interval.Range) (interval.Range, error) {
	if err := need("the gas", "L", gas, interval.Range{Lo: 0, Hi: 1e6}); err != nil {
		return interval.Range{}, err
	}
	if err := need("the space", "L", space, interval.Range{Lo: 0.1, Hi: 1e7}); err != nil {
		return interval.Range{}, err
	}
	share := div(scale(gas, 100), space)
	return interval.Range{Lo: min(share.Lo, 100), Hi: min(share.Hi, 100)}, nil
}

// Flammable says whether hydrogen reaches the share at which it burns: Below if not, Inside from
// FlammableFrom on. share is 0 to 100 %; the error names a share out of range. Too much to burn
// is no comfort, since it burns on its way there and out: nothing is Above.
func Flammable(share interval.Range) (Place, error) {
	if err := need("the share of hydrogen", "%", share, interval.Range{Lo: 0, Hi: 100}); err != nil {
		return Unsettled, err
	}
	return place(share, interval.Range{Lo: FlammableFrom, Hi: 100}), nil
}
