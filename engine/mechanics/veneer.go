package mechanics

import (
	"errors"
	"math"

	"mendwright/rules/interval"
)

// The rule for measuring a veneer: at least five places, and with fewer the error of a single one.
// A choice of this program; what a single reading errs by is from memory.
const (
	enoughPlaces = 5
	oneByTool    = 0.2 // mm, by calliper or loupe
	oneByEye     = 0.3 // mm, by eye or from a photograph
)

// Uncertainty is the standard uncertainty of a thickness in mm, and twice that, which holds it with
// about 95 %: the root of the sum of squares (JCGM 100:2008, 5.1.2) of the standard uncertainties
// of the tool, of the reading and from place to place (mm, 0 to 5 each). Errors: a figure outside
// these limits.
func Uncertainty(tool, reading, place float64) (standard, expanded float64, err error) {
	if err := errors.Join(
		check("uncertainty of the tool", interval.Exact(tool), 0, 5, "mm"),
		check("uncertainty of the reading", interval.Exact(reading), 0, 5, "mm"),
		check("uncertainty from place to place", interval.Exact(place), 0, 5, "mm"),
	); err != nil {
		return 0, 0, err
	}
	standard = math.Sqrt(tool*tool + reading*reading + place*place)
	return standard, 2 * standard, nil
}

// Usable is the thickness of veneer in mm to reckon with, from readings at several places (mm, 0.05
// to 20), the film of finish on it (mm, 0 to 1) and the expanded uncertainty (mm, 0 to 10): the
// thinnest place less film and uncertainty, and not below 0. With fewer than five places the
// uncertainty is at least that of a single reading: 0.2 mm, by eye 0.3 mm. The rule is a choice of
// this program. It rises with each reading and falls with the film, so the answer spans exactly
// the two ends. Errors: no place, or a range outside these limits.
func Usable(places []interval.Range, film interval.Range, expanded float64, byEye bool) (interval.Range, error) {
	if len(places) == 0 {
		return interval.Range{}, errors.New("read no place; expected at least one reading of the veneer")
	}
	errs := []error{
		check("film of finish", film, 0, 1, "mm"),
		check("expanded uncertainty", interval.Exact(expanded), 0, 10, "mm"),
	}
	thinnest := places[0]
	for _, p := range places {
		errs = append(errs, check("reading of the veneer", p, 0.05, 20, "mm"))
		thinnest = interval.Range{Lo: min(thinnest.Lo, p.Lo), Hi: min(thinnest.Hi, p.Hi)}
	}
	if err := errors.Join(errs...); err != nil {
		return interval.Range{}, err
	}
	if len(places) < enoughPlaces {
		expanded = max(expanded, oneByTool)
		if byEye {
			expanded = max(expanded, oneByEye)
		}
	}
	left := thinnest.Sub(film).Sub(interval.Exact(expanded))
	return interval.Range{Lo: max(0, left.Lo), Hi: max(0, left.Hi)}, nil
}
