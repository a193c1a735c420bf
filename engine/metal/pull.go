package metal

import "mendwright/rules/interval"

// Lengths in mm that a screw enters a pull or knob: Engagement to aim for, a choice of this
// program, and the most by the practice of pull makers, 3/8 in.
const (
	Engagement     = 6.0
	MostEngagement = 9.525
)

var (
	fronts      = interval.Range{Lo: 1, Hi: 100}
	engagements = interval.Range{Lo: 0.5, Hi: 50}
	lengths     = interval.Range{Lo: 1, Hi: 200}
)

// PullScrew is the length in mm of a machine screw for a pull: the thickness of the front with
// any plate between, 1 to 100 mm, and how far it enters the pull, 0.5 to 50 mm. The error names
// what is out of range. Source: woodworking magazine and hardware seller on pull screws, 1 in
// screws for 3/4 in fronts.
func PullScrew(front, engagement interval.Range) (interval.Range, error) {
	if err := need("the front", "mm", front, fronts); err != nil {
		return interval.Range{}, err
	}
	if err := need("the engagement", "mm", engagement, engagements); err != nil {
		return interval.Range{}, err
	}
	return front.Add(engagement), nil
}

// Enters is how far in mm a screw of a length of 1 to 200 mm comes out behind a front of 1 to
// 100 mm; below 0 it does not reach through. It undoes PullScrew. The error names what is out of
// range. Source: as PullScrew.
func Enters(length, front interval.Range) (interval.Range, error) {
	if err := need("the screw", "mm", length, lengths); err != nil {
		return interval.Range{}, err
	}
	if err := need("the front", "mm", front, fronts); err != nil {
		return interval.Range{}, err
	}
	return length.Sub(front), nil
}

// PullFits says whether a screw enters a pull far enough, at least its own diameter of 1 to 9 mm,
// and not so far that it bottoms, at most MostEngagement: Below is too short, Above too long. The
// error names what is out of range. Source: as PullScrew; the least is a choice of this program.
func PullFits(length, front interval.Range, diameter float64) (Place, error) {
	if err := need("the diameter", "mm", interval.Exact(diameter), interval.Range{Lo: 1, Hi: 9}); err != nil {
		return Unsettled, err
	}
	enters, err := Enters(length, front)
	if err != nil {
		return Unsettled, err
	}
	return place(enters, interval.Range{Lo: diameter, Hi: MostEngagement}), nil
}
