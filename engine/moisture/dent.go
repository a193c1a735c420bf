package moisture

import (
	"fmt"

	"mendwright/rules/interval"
)

// Recovery is the share of its depth, 0 to 1, that a kind of dent gives back when it is raised
// with damp and heat. The figures are the table's. The error names a kind that it does not hold.
func (t Tables) Recovery(kind string) (interval.Range, error) {
	r, ok := t.Recoveries[kind]
	if !ok {
		return r, fmt.Errorf("read %q for the kind of dent; expected one that the table of recoveries holds", kind)
	}
	return r, nil
}

// DentLeft is how deep, in mm, a dent of a depth (mm, 0 to 20) still is when a share of it (0 to
// 1) has come back up: depth (1 - share). It rises with the depth and falls with the share, so the
// answer spans exactly those two ends. Errors: a range outside these limits.
func DentLeft(depth, share interval.Range) (interval.Range, error) {
	if err := check("depth of the dent", depth, 0, 20, "mm"); err != nil {
		return interval.Range{}, err
	}
	if err := check("share that comes back", share, 0, 1, "of the depth"); err != nil {
		return interval.Range{}, err
	}
	return depth.Mul(interval.Exact(1).Sub(share)), nil
}
