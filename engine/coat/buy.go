package coat

import "mendwright/rules/interval"

var (
	area    = quantity{"the area", "m²", 0, 1000}
	rounds  = quantity{"the number of coats", "coats", 0, MostCoats}
	lost    = quantity{"the loss", "%", 0, 95}
	waste   = quantity{"the waste", "%", 0, 500}
	density = quantity{"the density", "g/mL", 0.5, 3}
	litres  = quantity{"the volume", "L", 0, 10000}
	byMass  = quantity{"the spreading rate", "m²/kg", 0.1, 1000}
)

// Purchase is what a job needs of one coating, stripper or wash. Its zero value needs nothing but
// a rate.
type Purchase struct {
	Area  interval.Range // m², 0 to 1000
	Coats interval.Range // 0 to MostCoats
	Rate  interval.Range // m²/L, 0.1 to 1000, of one coat as it lies on the piece
	Loss  interval.Range // share of what is used that never lands on the piece, such as overspray, 0 to 95 %
	Waste interval.Range // what is bought beyond what is used, as a share of that, 0 to 500 %
}

// Litres is how much to buy: area x coats/rate/(1 - loss/100) x (1 + waste/100). Loss is a share
// of what is used, waste comes on top: 15 % of the one is more than 15 % of the other. It rises
// with everything but the rate. The error says which input is out of range. The formula is that
// of coating makers' spreading-rate sheets.
func (p Purchase) Litres() (interval.Range, error) {
	err := first(area.holds(p.Area), rounds.holds(p.Coats), rate.holds(p.Rate), lost.holds(p.Loss), waste.holds(p.Waste))
	if err != nil {
		return interval.Range{}, err
	}
	buy := func(area, coats, rate, loss, waste float64) float64 {
		return area * coats / rate / (1 - loss/100) * (1 + waste/100)
	}
	return interval.Range{
		Lo: buy(p.Area.Lo, p.Coats.Lo, p.Rate.Hi, p.Loss.Lo, p.Waste.Lo),
		Hi: buy(p.Area.Hi, p.Coats.Hi, p.Rate.Lo, p.Loss.Hi, p.Waste.Hi),
	}, nil
}

// Grams is the mass of 0 to 10000 L at a density of 0.5 to 3 g/mL: litres x density x 1000. It
// rises in both. The error says which input is out of range. The formula is the definition of
// density.
func Grams(volume, perMillilitre interval.Range) (interval.Range, error) {
	if err := first(litres.holds(volume), density.holds(perMillilitre)); err != nil {
		return interval.Range{}, err
	}
	mass := func(v, d float64) float64 { return v * d * 1000 }
	return interval.Range{Lo: mass(volume.Lo, perMillilitre.Lo), Hi: mass(volume.Hi, perMillilitre.Hi)}, nil
}

// PasteGrams is the mass of a paste, such as wax, for an area (0 to 1000 m²) and a number of
// coats at a rate of 0.1 to 1000 m²/kg: area x coats/rate x 1000. It rises with area and coats
// and falls with the rate. The error says which input is out of range. The formula is the
// definition of the rate.
func PasteGrams(surface, coats, perKilogram interval.Range) (interval.Range, error) {
	if err := first(area.holds(surface), rounds.holds(coats), byMass.holds(perKilogram)); err != nil {
		return interval.Range{}, err
	}
	mass := func(a, n, r float64) float64 { return a * n / r * 1000 }
	return interval.Range{
		Lo: mass(surface.Lo, coats.Lo, perKilogram.Hi),
		Hi: mass(surface.Hi, coats.Hi, perKilogram.Lo),
	}, nil
}
