package coat

import (
	"fmt"
	"slices"

	"mendwright/rules/interval"
)

// Remover is a class of stripper.
type Remover struct {
	Name     string
	Takes    []string       // finishes it is for, in the words of Over
	Water    bool           // holds much water: lifts veneer, opens hide-glue joints
	Blackens bool           // darkens timbers with tannin
	Dwell    interval.Range // minutes it is left on
	Dries    interval.Range // h until the wood may be coated, after its wash
	Rate     interval.Range // m²/L of one application; zero if there is no figure
	WashWith string         // what takes its residue off
}

// Surface is what a remover must spare. The zero Surface may hold anything: it is taken to be
// veneered and to have tannin.
type Surface struct {
	WaterHarms  Truth // veneer, or joints of hide glue; Unknown counts as yes
	TanninHarms Truth // oak, chestnut, walnut, mahogany, cherry; Unknown counts as yes
}

// RemoversFor lists the removers for a finish that spare a surface, in the order of the table,
// which is the order in which to try. The error says that none of the table's is for the finish,
// or that all that are would harm the surface.
func (t Tables) RemoversFor(finish string, s Surface) ([]Remover, error) {
	var out []Remover
	known := false
	for _, r := range t.Removers {
		if !slices.Contains(r.Takes, finish) {
			continue
		}
		known = true
		if r.Water && s.WaterHarms != No || r.Blackens && s.TanninHarms != No {
			continue
		}
		out = append(out, r)
	}
	switch {
	case !known:
		return nil, fmt.Errorf("no remover of the table is for the finish %q", finish)
	case len(out) == 0:
		return nil, fmt.Errorf("every remover of the table for the finish %q would harm the surface; expected one that spares it", finish)
	}
	return out, nil
}

// SlowBelow is the temperature in degrees Celsius below which paint removers do little: 50 °F, as
// paint makers print it.
const SlowBelow = 10.0

// RemoverSlow says whether removers do little in air of -20 to 60 °C. The error says that the
// temperature is out of range.
func RemoverSlow(air interval.Range) (Truth, error) {
	if err := temperature.holds(air); err != nil {
		return Unknown, err
	}
	return from(air, SlowBelow).not(), nil
}
