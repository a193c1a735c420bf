package coat

import (
	"fmt"

	"mendwright/rules/interval"
)

var (
	share  = quantity{"the share of thinner in the mix", "%", 0, 99}
	volume = quantity{"the volume", "L", 0, 10000}
)

// ThinnedByShare is the volume solids in per cent of a mix of which a share (0 to 99 %) is
// thinner: solids x (1 - share/100). It rises with the solids (0 to 100 %) and falls with the
// share. The error says which input is out of range. A tenth of the mix is not a tenth added to
// the can: see ThinnedByAdding. The formula is that of finishers' rule of thumb.
func ThinnedByShare(volumeSolids, thinner interval.Range) (interval.Range, error) {
	if err := first(solids.holds(volumeSolids), share.holds(thinner)); err != nil {
		return interval.Range{}, err
	}
	thinned := func(s, t float64) float64 { return s * (1 - t/100) }
	return interval.Range{Lo: thinned(volumeSolids.Lo, thinner.Hi), Hi: thinned(volumeSolids.Hi, thinner.Lo)}, nil
}

// ThinnedByAdding is the volume solids in per cent when thinner is added to a coating: solids x
// coating/(coating + thinner). Solids are 0 to 100 %; both volumes are in one unit, the coating
// above 0. It rises with solids and coating and falls with the thinner. The error says which
// input is out of range. The formula is the balance of volumes.
func ThinnedByAdding(volumeSolids, coating, thinner interval.Range) (interval.Range, error) {
	if err := first(solids.holds(volumeSolids), volume.positive(coating), volume.holds(thinner)); err != nil {
		return interval.Range{}, err
	}
	thinned := func(s, c, t float64) float64 { return s / (1 + t/c) }
	return interval.Range{
		Lo: thinned(volumeSolids.Lo, coating.Lo, thinner.Hi),
		Hi: thinned(volumeSolids.Hi, coating.Hi, thinner.Lo),
	}, nil
}

// ThinnerFor is the volume of thinner that brings a coating from its volume solids (0.1 to 100 %)
// down to a target (0.1 % to the solids): coating x (solids/target - 1), in the unit of the
// coating. It rises with coating and solids and falls with the target. The error says which input
// is out of range, or that the target lies above the solids. The formula is that of
// ThinnedByAdding turned round.
func ThinnerFor(coating, volumeSolids, target interval.Range) (interval.Range, error) {
	if err := first(volume.holds(coating), someSolids.holds(volumeSolids), someSolids.holds(target)); err != nil {
		return interval.Range{}, err
	}
	if target.Hi > volumeSolids.Lo {
		return interval.Range{}, fmt.Errorf("the solids read from %g %% and the target to %g %%; thinner only ever lowers them", volumeSolids.Lo, target.Hi)
	}
	thinner := func(c, s, t float64) float64 { return c * (s/t - 1) }
	return interval.Range{
		Lo: thinner(coating.Lo, volumeSolids.Lo, target.Hi),
		Hi: thinner(coating.Hi, volumeSolids.Hi, target.Lo),
	}, nil
}
