package metal

import (
	"math"

	"mendwright/rules/interval"
)

// Weighing is a density measured by mass and displaced water.
type Weighing struct {
	Density interval.Range // g/cm³, all that the measurements allow
	Value   float64        // g/cm³, from the middles
	// Std is the standard uncertainty of Value: mass and volume count as rectangular (JCGM
	// 100:2008, 4.3.7), and their relative uncertainties add in squares (5.1.6).
	Std float64
}

// Weigh is the density of a part of 0.1 to 1e5 g that displaces 0.1 to 1e5 mL. The error names
// what is out of range. Source: the definition of density; JCGM 100:2008 for Std.
func Weigh(mass, volume interval.Range) (Weighing, error) {
	valid := interval.Range{Lo: 0.1, Hi: 1e5}
	if err := need("the mass", "g", mass, valid); err != nil {
		return Weighing{}, err
	}
	if err := need("the displaced volume", "mL", volume, valid); err != nil {
		return Weighing{}, err
	}
	w := Weighing{Density: div(mass, volume), Value: mass.Mid() / volume.Mid()}
	w.Std = w.Value * math.Hypot(mass.Std()/mass.Mid(), volume.Std()/volume.Mid())
	return w, nil
}

// Away is how many standard uncertainties the weighing lies from a density in g/cm³, whichever
// side; infinite if both were exact and differ.
func (w Weighing) Away(density float64) float64 {
	off := math.Abs(w.Value - density)
	if off == 0 {
		return 0
	}
	return off / w.Std
}

// FromOuncesPerCubicInch turns a density in avoirdupois ounces per cubic inch, 0.01 to 20, into
// g/cm³. The error names a density out of range. Source: the definition of the units.
func FromOuncesPerCubicInch(d interval.Range) (interval.Range, error) {
	if err := need("the density", "oz/in³", d, interval.Range{Lo: 0.01, Hi: 20}); err != nil {
		return interval.Range{}, err
	}
	return scale(d, 28.349523125/16.387064), nil
}

// Pull is how a magnet pulls. The zero Pull is that nobody tried, or that a metal may do either.
type Pull int

// The pulls. A weak one comes from plate, some stainless steel, or a screw inside, and rules out
// nothing.
const (
	AnyPull Pull = iota
	NoPull
	WeakPull
	StrongPull
)

// Metal is a metal that a part may be made of, beneath any plate.
type Metal struct {
	Name    string
	Density interval.Range // g/cm³
	Pull    Pull
}

// CouldBe lists the metals that a measured density, 0.5 to 25 g/cm³, and the pull of a magnet
// leave, in the order of the table; the zero Range means that nothing was weighed. More than one
// is a question and not an answer: copper alloys overlap, and no pull means no more than that
// there is no iron. A closer weighing never adds a metal. The error names a density out of range.
// Source: the table of metals.
func (t Tables) CouldBe(density interval.Range, pull Pull) ([]Metal, error) {
	weighed := density != interval.Range{}
	if weighed {
		if err := need("the density", "g/cm³", density, interval.Range{Lo: 0.5, Hi: 25}); err != nil {
			return nil, err
		}
	}
	var could []Metal
	for _, m := range t.Metals {
		if weighed && (density.Hi < m.Density.Lo || density.Lo > m.Density.Hi) {
			continue
		}
		if pull == StrongPull && m.Pull == NoPull || pull == NoPull && m.Pull == StrongPull {
			continue
		}
		could = append(could, m)
	}
	return could, nil
}
