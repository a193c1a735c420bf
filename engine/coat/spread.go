package coat

import (
	"fmt"

	"mendwright/rules/interval"
)

// Rate is the spreading rate in square metres per litre, without loss, at which a coating dries
// to a film: 10 x solids/dry. Solids are 0 to 100 % by volume, the dry film is above 0 to 5000 µm.
// It rises with the solids and falls with the film. The error says which input is out of range.
// Makers print no such rate for wood that drinks. The formula stands in coating makers' notes on
// volume solids; in US units it reads 1604 x solids/100/mils (see PerGallon and FromMils).
func Rate(volumeSolids, dry interval.Range) (interval.Range, error) {
	if err := first(solids.holds(volumeSolids), dryFilm.positive(dry)); err != nil {
		return interval.Range{}, err
	}
	spread := func(s, d float64) float64 { return 10 * s / d }
	return interval.Range{Lo: spread(volumeSolids.Lo, dry.Hi), Hi: spread(volumeSolids.Hi, dry.Lo)}, nil
}

// WetAt is the wet film in micrometres of a coat laid at a spreading rate of 0.1 to 1000 m²/L:
// 1000/rate. It falls with the rate. The error says that the rate is out of range. The formula is
// geometry: a litre over a square metre stands a millimetre deep.
func WetAt(spreading interval.Range) (interval.Range, error) {
	if err := rate.holds(spreading); err != nil {
		return interval.Range{}, err
	}
	return falling(spreading, func(r float64) float64 { return 1000 / r }), nil
}

// SolidsAt is the volume solids in per cent that a printed rate (0.1 to 1000 m²/L) and dry film
// (0 to 5000 µm) imply: rate x dry/10. It rises in both. The error says which input is out of
// range, or that more than 100 % would be needed. The formula is that of Rate turned round.
func SolidsAt(spreading, dry interval.Range) (interval.Range, error) {
	if err := first(rate.holds(spreading), dryFilm.holds(dry)); err != nil {
		return interval.Range{}, err
	}
	needs := interval.Range{Lo: spreading.Lo * dry.Lo / 10, Hi: spreading.Hi * dry.Hi / 10}
	if needs.Lo > 100 {
		return interval.Range{}, fmt.Errorf("the rate reads from %g m²/L and the dry film from %g µm; that needs %.0f %% of solids, and expected is at most 100", spreading.Lo, dry.Lo, needs.Lo)
	}
	needs.Hi = min(needs.Hi, 100)
	return needs, nil
}
