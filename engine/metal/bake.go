package metal

import "mendwright/rules/interval"

// Baking is what a hardened part needs after acid or current has charged it with hydrogen. It
// lowers the danger and does not remove it. Solder, lacquer, zinc and wood do not stand the heat.
type Baking struct {
	Hours   interval.Range // at the least; 0 where no bake is asked for
	Celsius interval.Range
	Within  float64 // hours from the bath to the start of the bake
}

func baking(hours interval.Range) Baking {
	return Baking{Hours: hours, Celsius: interval.Range{Lo: 190, Hi: 220}, Within: 3}
}

// The bake grows by steps; above softMPa, about softHRC, it begins. Neighbours on the Rockwell
// scale share a limit, and the limit belongs to both.
const (
	softMPa = 1000
	softHRC = 31
)

var bakes = [...]struct{ uptoMPa, uptoHRC, hours float64 }{
	{softMPa, softHRC, 0},
	{1100, 33, 8},
	{1200, 36, 10},
	{1300, 39, 12},
	{1400, 43, 14},
	{1500, 45, 16},
	{1600, 47, 18},
	{1700, 49, 20},
	{1800, 51, 22},
}

// BakeTensile is the bake for a tensile strength in MPa, 0 to 1800; a limit belongs to the step
// below it. The error names a strength out of range: above 1800 no hours are printed, and the
// part is replaced. Source: ASTM B850-98(2009), bake table, in a plating shop's copy.
func BakeTensile(mpa interval.Range) (Baking, error) {
	if err := need("the tensile strength", "MPa", mpa, interval.Range{Lo: 0, Hi: 1800}); err != nil {
		return Baking{}, err
	}
	hours := func(v float64) float64 {
		for _, b := range bakes {
			if v <= b.uptoMPa {
				return b.hours
			}
		}
		return bakes[len(bakes)-1].hours
	}
	return baking(interval.Range{Lo: hours(mpa.Lo), Hi: hours(mpa.Hi)}), nil
}

// BakeHRC is the bake for a hardness on the Rockwell C scale, 0 to 51. The equivalents are
// approximate: on a limit between two steps the answer spans both. The error names a hardness out
// of range. Source: as BakeTensile.
func BakeHRC(hrc interval.Range) (Baking, error) {
	if err := need("the hardness", "HRC", hrc, interval.Range{Lo: 0, Hi: 51}); err != nil {
		return Baking{}, err
	}
	var hours interval.Range
	from, first := 0.0, true
	for _, b := range bakes {
		if hrc.Lo <= b.uptoHRC && hrc.Hi >= from {
			if first {
				hours.Lo, first = b.hours, false
			}
			hours.Hi = b.hours
		}
		from = b.uptoHRC
	}
	return baking(hours), nil
}

// EmbrittlesTensile says whether acid and current are refused for a part of a tensile strength in
// MPa, 0 to 4000: Inside if it is soft enough, Above if they are refused, and a range on both
// sides is Unsettled and counts as refused until it is measured. The error names a strength out
// of range. Source: as BakeTensile; that a part to bake is better not pickled at all is a choice
// of this program.
func EmbrittlesTensile(mpa interval.Range) (Place, error) {
	if err := need("the tensile strength", "MPa", mpa, interval.Range{Lo: 0, Hi: 4000}); err != nil {
		return Unsettled, err
	}
	return place(mpa, interval.Range{Lo: 0, Hi: softMPa}), nil
}

// EmbrittlesHRC is the same by hardness on the Rockwell C scale, 0 to 70. The limit of 31 is
// approximate, so a range that touches it is Unsettled.
func EmbrittlesHRC(hrc interval.Range) (Place, error) {
	if err := need("the hardness", "HRC", hrc, interval.Range{Lo: 0, Hi: 70}); err != nil {
		return Unsettled, err
	}
	if hrc.Hi == softHRC {
		return Unsettled, nil
	}
	return place(hrc, interval.Range{Lo: 0, Hi: softHRC}), nil
}
