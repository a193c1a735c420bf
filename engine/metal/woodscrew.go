package metal

import (
	"fmt"
	"slices"

	"mendwright/rules/interval"
)

// Screw is what belongs to one gauge of wood screw. Lengths in mm.
type Screw struct {
	Gauge     int
	Root      float64 // diameter of the core between the threads
	Strength  Pilot   // for the strongest hold: 70 % of the root in softwood, 90 % in hardwood
	Furniture Pilot   // furniture practice, a size larger
	ShankHole float64
}

// Wood is what a pilot is drilled in. The zero Wood is that nobody knows.
type Wood int

// The woods.
const (
	AnyWood Wood = iota
	Softwood
	Hardwood
)

// Pilot is the drill for the threads in soft and in hard wood, in mm.
type Pilot struct{ Soft, Hard float64 }

// In is the drill for a wood; from the soft to the hard one if the wood is not known.
func (p Pilot) In(w Wood) interval.Range {
	switch w {
	case Softwood:
		return interval.Exact(p.Soft)
	case Hardwood:
		return interval.Exact(p.Hard)
	}
	return interval.Range{Lo: p.Soft, Hi: p.Hard}
}

// PilotOfRoot is the pilot in mm for the strongest hold: 70 % of a root diameter of 0.5 to 10 mm
// in softwood, 90 % in hardwood. The error names a root out of range. Source: wood screw pilot
// table with the columns of the American Wood Council.
func PilotOfRoot(root interval.Range, w Wood) (interval.Range, error) {
	if err := need("the root diameter", "mm", root, interval.Range{Lo: 0.5, Hi: 10}); err != nil {
		return interval.Range{}, err
	}
	return root.Mul(Pilot{Soft: 0.7, Hard: 0.9}.In(w)), nil
}

// Screw finds a gauge in the table of wood screws. The error lists the gauges that there are.
// Source: the table, lengths in mm.
func (t Tables) Screw(gauge int) (Screw, error) {
	i := slices.IndexFunc(t.Screws, func(s Screw) bool { return s.Gauge == gauge })
	if i < 0 {
		var have []int
		for _, s := range t.Screws {
			have = append(have, s.Gauge)
		}
		return Screw{}, fmt.Errorf("read wood screw gauge %d; expected one of %v", gauge, have)
	}
	return t.Screws[i], nil
}

// Shank diameters of wood screws: 0.060 in and 0.013 in for every gauge; a shank may be 0.004 in
// over or 0.007 in under.
const (
	gaugeZero  = 0.060 * 25.4
	gaugeStep  = 0.013 * 25.4
	shankOver  = 0.004 * 25.4
	shankUnder = 0.007 * 25.4

	mostGauge = 24
)

// ScrewMM is the nominal shank diameter in mm of a wood screw gauge, 0 to 24. The error names a
// gauge out of range. Source: screw gauge formula of two trade pages, 0.060 + 0.013 N inches.
func ScrewMM(gauge int) (float64, error) {
	if gauge < 0 || gauge > mostGauge {
		return 0, fmt.Errorf("read wood screw gauge %d; expected 0 to %d", gauge, mostGauge)
	}
	return gaugeZero + gaugeStep*float64(gauge), nil
}

// shanks are the diameters that a gauge formula can answer for.
var shanks = interval.Range{Lo: gaugeZero, Hi: gaugeZero + gaugeStep*mostGauge}

// ScrewGauge is the gauge, seldom whole, of a shank of 1.524 to 9.45 mm. It undoes ScrewMM. The
// error names a shank out of range. Source: as ScrewMM.
func ScrewGauge(shank interval.Range) (interval.Range, error) {
	if err := need("the shank", "mm", shank, shanks); err != nil {
		return interval.Range{}, err
	}
	return div(shank.Sub(interval.Exact(gaugeZero)), interval.Exact(gaugeStep)), nil
}

// ScrewGauges lists the gauges, 0 to 24, whose tolerance holds a measured shank of 1 to 10 mm.
// More than one is a question; none is a screw not made to the gauge, such as a metric one. A
// closer measurement never adds one. The error names a shank out of range. Source: as ScrewMM;
// the tolerance is that of a fastener maker's boring chart.
func ScrewGauges(shank interval.Range) ([]int, error) {
	if err := need("the shank", "mm", shank, interval.Range{Lo: 1, Hi: 10}); err != nil {
		return nil, err
	}
	var gauges []int
	for g := range mostGauge + 1 {
		mm := gaugeZero + gaugeStep*float64(g)
		if shank.Hi >= mm-shankUnder && shank.Lo <= mm+shankOver {
			gauges = append(gauges, g)
		}
	}
	return gauges, nil
}
