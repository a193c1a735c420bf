package metal

import (
	"errors"
	"math"
	"slices"

	"mendwright/rules/interval"
)

// Thread is a machine thread.
type Thread struct {
	Name   string // "M4", "8-32"
	Series string // "metric-coarse", "unc"
	Major  float64
	Pitch  float64 // both in mm
}

// The match rule, a choice of this program: an outside thread measures under its nominal
// diameter and hardly ever over it, and a counted pitch is within three parts in a hundred.
const (
	underMajor = 0.30
	overMajor  = 0.05
	pitchShare = 0.03
)

// Candidate is a thread that fits what was measured. Off says how badly: the diameter's error
// over the allowance of 0.30 mm plus the pitch's over 3 %, at the middles.
type Candidate struct {
	Thread
	Off float64
}

// ThreadsLike lists the threads that a measured outside diameter, 1 to 30 mm, and pitch, 0.2 to
// 6 mm, can be, best first: diameter from 0.30 mm below to 0.05 mm above nominal, pitch within
// 3 %. More than one is a question (try a gauge nut, never force); none is a thread that the
// table lacks, such as a Whitworth size of old British furniture. A closer measurement never adds
// one. The error names what is out of range. Source: the table of threads; the rule is a choice
// of this program.
func (t Tables) ThreadsLike(diameter, pitch interval.Range) ([]Candidate, error) {
	if err := need("the diameter", "mm", diameter, interval.Range{Lo: 1, Hi: 30}); err != nil {
		return nil, err
	}
	if err := need("the pitch", "mm", pitch, interval.Range{Lo: 0.2, Hi: 6}); err != nil {
		return nil, err
	}
	var like []Candidate
	for _, th := range t.Threads {
		if diameter.Hi < th.Major-underMajor || diameter.Lo > th.Major+overMajor ||
			pitch.Hi < th.Pitch*(1-pitchShare) || pitch.Lo > th.Pitch*(1+pitchShare) {
			continue
		}
		off := math.Abs(diameter.Mid()-th.Major)/underMajor + math.Abs(pitch.Mid()/th.Pitch-1)/pitchShare
		like = append(like, Candidate{th, off})
	}
	slices.SortStableFunc(like, func(a, b Candidate) int {
		switch {
		case a.Off < b.Off:
			return -1
		case a.Off > b.Off:
			return 1
		}
		return 0
	})
	return like, nil
}

// PitchOfTPI turns threads per inch, 4 to 130, into a pitch in mm. The error names a count out of
// range. Source: 25.4 mm to the inch.
func PitchOfTPI(tpi interval.Range) (interval.Range, error) {
	if err := need("the threads per inch", "", tpi, interval.Range{Lo: 4, Hi: 130}); err != nil {
		return interval.Range{}, err
	}
	return div(interval.Exact(25.4), tpi), nil
}

// PitchOver is the pitch in mm of a thread that makes so many turns, at least 1, over a length of
// 0.2 to 200 mm: count the crests after the one at which the length begins. The error names what
// is out of range. Source: the definition of pitch.
func PitchOver(length interval.Range, turns int) (interval.Range, error) {
	if turns < 1 {
		return interval.Range{}, errors.New("read no turn of the thread; expected at least 1")
	}
	if err := need("the length", "mm", length, interval.Range{Lo: 0.2, Hi: 200}); err != nil {
		return interval.Range{}, err
	}
	return div(length, interval.Exact(float64(turns))), nil
}
