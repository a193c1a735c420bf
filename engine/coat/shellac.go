package coat

import (
	"fmt"

	"mendwright/rules/interval"
)

// What shellac is made up from, in grams per litre. Resin runs from about 1140 to 1210; water in
// the alcohol makes it a little heavier.
const (
	ResinDensity   = 1150.0
	AlcoholDensity = 789.0
)

// gramsPerPoundCut is what each pound of a cut puts into a litre of alcohol.
const gramsPerPoundCut = Pound / USGallon

var (
	cut        = quantity{"the cut", "lb", 0, 20}
	someCut    = quantity{"the cut", "lb", 0.05, 20}
	flakes     = quantity{"the mass of flakes", "g", 0, 100000}
	alcohol    = quantity{"the volume of alcohol", "mL", 0, 1000000}
	dissolved  = quantity{"the volume of shellac", "mL", 0, 1000000}
	resinLitre = gramsPerPoundCut / ResinDensity
)

// FlakesPerLitre is the flakes in grams for each litre of alcohol at a cut of 0 to 20 lb: pounds
// in a US gallon of alcohol, 119.83 g/L for each. It rises with the cut. The error says that the
// cut is out of range. The formula is the trade's definition of a cut.
func FlakesPerLitre(poundCut interval.Range) (interval.Range, error) {
	if err := cut.holds(poundCut); err != nil {
		return interval.Range{}, err
	}
	return rising(poundCut, func(c float64) float64 { return c * gramsPerPoundCut }), nil
}

// Flakes is the flakes in grams for a volume of alcohol (0 to 1000000 mL) at a cut of 0 to 20 lb.
// It rises in both. The error says which input is out of range. The formula is that of
// FlakesPerLitre.
func Flakes(alcoholML, poundCut interval.Range) (interval.Range, error) {
	if err := first(alcohol.holds(alcoholML), cut.holds(poundCut)); err != nil {
		return interval.Range{}, err
	}
	mass := func(v, c float64) float64 { return c * gramsPerPoundCut * v / 1000 }
	return interval.Range{Lo: mass(alcoholML.Lo, poundCut.Lo), Hi: mass(alcoholML.Hi, poundCut.Hi)}, nil
}

// CutOf is the cut in pounds of flakes (0 to 100000 g) in alcohol (above 0 to 1000000 mL). It
// rises with the flakes and falls with the alcohol. The error says which input is out of range.
// The formula is that of Flakes turned round.
func CutOf(flakesG, alcoholML interval.Range) (interval.Range, error) {
	if err := first(flakes.holds(flakesG), alcohol.positive(alcoholML)); err != nil {
		return interval.Range{}, err
	}
	strength := func(g, v float64) float64 { return g * 1000 / v / gramsPerPoundCut }
	return interval.Range{Lo: strength(flakesG.Lo, alcoholML.Hi), Hi: strength(flakesG.Hi, alcoholML.Lo)}, nil
}

// CutByVolume is the volume solids in per cent of a cut of 0 to 20 lb: resin over resin and
// alcohol, at ResinDensity. It rises with the cut. The error says that the cut is out of range.
// The formula is the balance of volumes.
func CutByVolume(poundCut interval.Range) (interval.Range, error) {
	if err := cut.holds(poundCut); err != nil {
		return interval.Range{}, err
	}
	return rising(poundCut, func(c float64) float64 { return 100 / (1 + 1/(c*resinLitre)) }), nil
}

// CutByMass is the solids in per cent by mass of a cut of 0 to 20 lb: resin over resin and
// alcohol, at AlcoholDensity. It rises with the cut. The error says that the cut is out of range.
// The formula is the balance of masses. A film is reckoned from CutByVolume.
func CutByMass(poundCut interval.Range) (interval.Range, error) {
	if err := cut.holds(poundCut); err != nil {
		return interval.Range{}, err
	}
	return rising(poundCut, func(c float64) float64 { return 100 / (1 + AlcoholDensity/(c*gramsPerPoundCut)) }), nil
}

// AlcoholToAdd is the alcohol in millilitres that brings made-up shellac (0 to 1000000 mL, 0.05 to
// 20 lb cut) down to a lower cut (0.05 lb to the cut it has): the alcohol that is in it, times
// one less than the ratio of the cuts. It rises with volume and cut and falls with the target.
// The error says which input is out of range, or that the target lies above the cut. The formula
// is the definition of a cut and the balance of volumes.
func AlcoholToAdd(shellacML, poundCut, target interval.Range) (interval.Range, error) {
	if err := first(dissolved.holds(shellacML), someCut.holds(poundCut), someCut.holds(target)); err != nil {
		return interval.Range{}, err
	}
	if target.Hi > poundCut.Lo {
		return interval.Range{}, fmt.Errorf("the cut reads from %g lb and the target to %g lb; alcohol only ever lowers it", poundCut.Lo, target.Hi)
	}
	add := func(v, c, t float64) float64 { return v / (1 + c*resinLitre) * (c/t - 1) }
	return interval.Range{
		Lo: add(shellacML.Lo, poundCut.Lo, target.Hi),
		Hi: add(shellacML.Hi, poundCut.Hi, target.Lo),
	}, nil
}
