package metal

import (
	"fmt"

	"mendwright/rules/interval"
)

// Grades are the rust grades that a measured area can have, 10 (none) to 0.
type Grades struct{ Worst, Best int }

// rustedUpTo is the most area in percent of the grades 10 down to 1; a limit belongs to its grade.
var rustedUpTo = [...]float64{0.01, 0.03, 0.1, 0.3, 1, 3, 10, 16, 33, 50}

// RustGrade is the rust grade of a coated steel surface by the share of its area that has rusted,
// 0 to 100 %. More area never gives a higher grade. The error names a share out of range.
// Source: ASTM D610-08(2012), table 1, whose limits also serve for other damage to a coat, such as
// flaking.
func RustGrade(area interval.Range) (Grades, error) {
	if err := need("the rusted area", "%", area, interval.Range{Lo: 0, Hi: 100}); err != nil {
		return Grades{}, err
	}
	grade := func(v float64) int {
		for i, most := range rustedUpTo {
			if v <= most {
				return 10 - i
			}
		}
		return 0
	}
	return Grades{Worst: grade(area.Hi), Best: grade(area.Lo)}, nil
}

// RustArea is the share of area in percent that a rust grade from 10 to 0 stands for; its lower
// end belongs to the next grade, except for 10. It undoes RustGrade. The error names an unknown
// grade. Source: as RustGrade.
func RustArea(grade int) (interval.Range, error) {
	if grade < 0 || grade > 10 {
		return interval.Range{}, fmt.Errorf("read rust grade %d; expected 10 to 0", grade)
	}
	r := interval.Range{Lo: 0, Hi: 100}
	if i := 10 - grade; i < len(rustedUpTo) {
		r.Hi = rustedUpTo[i]
	}
	if i := 10 - grade - 1; i >= 0 {
		r.Lo = rustedUpTo[i]
	}
	return r, nil
}

// RiArea is the share of area in percent on the picture of an ISO 4628-3 degree of rusting, Ri 0
// to Ri 5. Sources do not agree which D610 grade goes with which Ri; the area decides. The error
// names an unknown degree. Source: a coatings-inspection page that tabulates ISO 4628-3.
func RiArea(ri int) (interval.Range, error) {
	areas := [...]interval.Range{interval.Exact(0), interval.Exact(0.05), interval.Exact(0.5), interval.Exact(1), interval.Exact(8), {Lo: 40, Hi: 50}}
	if ri < 0 || ri >= len(areas) {
		return interval.Range{}, fmt.Errorf("read degree of rusting Ri %d; expected 0 to 5", ri)
	}
	return areas[ri], nil
}

// Extent is how far a rusted part is worked on, least first.
type Extent int

// The extents.
const (
	CleanAndWax Extent = iota
	TouchIn            // rust off where it is, and touch in
	Recoat             // all rust off, the whole part coated anew
	Replace            // replace it, or have it welded
)

func (e Extent) String() string {
	return [...]string{"clean-and-wax", "touch-in", "recoat", "replace"}[e]
}

// RustExtent is how far a part of a rust grade is worked on: grades 10 to 8, 7 to 5, 4 to 2, and
// 1 to 0; a part that flakes and carries load is replaced whatever the grade. The error names an
// unknown grade. Source: a choice of this program.
func RustExtent(grade int, flakesUnderLoad bool) (Extent, error) {
	switch {
	case grade < 0 || grade > 10:
		return Replace, fmt.Errorf("read rust grade %d; expected 10 to 0", grade)
	case flakesUnderLoad || grade <= 1:
		return Replace, nil
	case grade <= 4:
		return Recoat, nil
	case grade <= 7:
		return TouchIn, nil
	}
	return CleanAndWax, nil
}
