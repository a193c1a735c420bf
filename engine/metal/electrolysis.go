package metal

import "mendwright/rules/interval"

// faraday is the charge of a mole of electrons in ampere hours.
const faraday = 96485.0 / 3600

// Cell is what a current does in a bath of washing soda with the part at the negative pole.
type Cell struct {
	Hydrogen interval.Range // litres at 20 °C, at the part
	Anode    interval.Range // g of iron that a steel anode loses
	Oxygen   interval.Range // litres at 20 °C, if the anode does not dissolve
}

var (
	currents = interval.Range{Lo: 0, Hi: 100}
	times    = interval.Range{Lo: 0, Hi: 1000}
)

// Electrolyse is what a current of 0 to 100 A does in 0 to 1000 h, all of it making gas at the
// part and taking iron at the anode: both are the most there can be. Two electrons make one
// molecule of hydrogen or take one atom of iron, four make one molecule of oxygen. The error
// names what is out of range. Source: Faraday's law, 96485 C/mol; molar volume at 20 °C and one
// atmosphere.
func Electrolyse(amps, hours interval.Range) (Cell, error) {
	if err := need("the current", "A", amps, currents); err != nil {
		return Cell{}, err
	}
	if err := need("the time", "h", hours, times); err != nil {
		return Cell{}, err
	}
	charge := amps.Mul(hours)
	return Cell{
		Hydrogen: scale(charge, litresPerMole/(2*faraday)),
		Anode:    scale(charge, iron/(2*faraday)),
		Oxygen:   scale(charge, litresPerMole/(4*faraday)),
	}, nil
}

// HoursToFlammable is how long a current runs until its hydrogen, all kept in a closed space of
// 0.1 to 1e7 litres, makes up FlammableFrom percent of it. The current is 0.001 to 100 A. The
// error names what is out of range. Source: as Electrolyse and GasShare.
func HoursToFlammable(amps, space interval.Range) (interval.Range, error) {
	if err := need("the current", "A", amps, interval.Range{Lo: 0.001, Hi: currents.Hi}); err != nil {
		return interval.Range{}, err
	}
	if err := need("the space", "L", space, interval.Range{Lo: 0.1, Hi: 1e7}); err != nil {
		return interval.Range{}, err
	}
	return div(scale(space, FlammableFrom/100.0*2*faraday/litresPerMole), amps), nil
}
