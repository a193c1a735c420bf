package coat

import "mendwright/rules/interval"

// Units of labels and old recipes, exact by definition.
const (
	Mil           = 25.4         // micrometres in a thousandth of an inch
	USGallon      = 3.785411784  // litres
	USQuart       = USGallon / 4 // litres
	USPint        = USGallon / 8 // litres
	USFluidOunce  = USPint / 16  // litres
	Pound         = 453.59237    // grams
	Ounce         = Pound / 16   // grams
	SquareFoot    = 0.09290304   // square metres
	perSquareFoot = SquareFoot / USGallon
)

// FromPerGallon turns a rate in square feet per US gallon into square metres per litre. Any
// number; 1 ft²/gal is 0.024542 m²/L, exact by definition of the units.
func FromPerGallon(r interval.Range) interval.Range { return r.Mul(interval.Exact(perSquareFoot)) }

// PerGallon turns a rate in square metres per litre into square feet per US gallon. Any number;
// exact by definition of the units.
func PerGallon(r interval.Range) interval.Range { return r.Mul(interval.Exact(1 / perSquareFoot)) }

// FromMils turns thousandths of an inch into micrometres. Any number; exact by definition.
func FromMils(r interval.Range) interval.Range { return r.Mul(interval.Exact(Mil)) }

// Mils turns micrometres into thousandths of an inch. Any number; exact by definition.
func Mils(r interval.Range) interval.Range { return r.Mul(interval.Exact(1 / Mil)) }
