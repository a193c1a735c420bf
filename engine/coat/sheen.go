package coat

import (
	"fmt"
	"math"

	"mendwright/rules/interval"
)

var gloss = quantity{"the gloss", "GU", 0, 100}

// AnyGloss stands for an angle at which nobody measured.
var AnyGloss = interval.Range{Lo: 0, Hi: 100}

// Sheen is one name for a gloss in one convention. The same reading has other names elsewhere:
// keep the number.
type Sheen struct {
	Convention string
	Level      string // such as G3; the name again where a convention has no levels
	Name       string
	At60, At85 interval.Range // gloss units at 60 and 85 degrees, both ends included
}

// SheensOf lists the names of a convention that a gloss at 60 and at 85 degrees (0 to 100 GU) may
// bear, in the order of the table: those whose ranges the readings meet. At an end that two rows
// share both are named; a pair of readings that fits no row has no name. AnyGloss stands for an
// angle that was not measured. The error says which reading is out of range, or that the
// convention is not known. The classes are those of the table.
func (t Tables) SheensOf(convention string, at60, at85 interval.Range) ([]Sheen, error) {
	if err := first(gloss.holds(at60), gloss.holds(at85)); err != nil {
		return nil, err
	}
	var out []Sheen
	known := false
	for _, s := range t.Sheens {
		if s.Convention != convention {
			continue
		}
		known = true
		if meet(s.At60, at60) && meet(s.At85, at85) {
			out = append(out, s)
		}
	}
	if !known {
		return nil, fmt.Errorf("there is no convention %q of naming sheens in the table", convention)
	}
	return out, nil
}

func meet(a, b interval.Range) bool { return a.Lo <= b.Hi && b.Lo <= a.Hi }

// How far a sheen may differ from its neighbour before it shows, in gloss units at 60 degrees: a
// choice of this program.
const (
	MatchBelow40 = 5.0
	MatchFrom40  = 10.0
)

// SheenMatches says whether a gloss at 60 degrees (0 to 100 GU) comes close enough to the one it
// must match: within MatchBelow40 of a target below 40, within MatchFrom40 of one from there on.
// The error says which reading is out of range.
func SheenMatches(got, target interval.Range) (Truth, error) {
	if err := first(gloss.holds(got), gloss.holds(target)); err != nil {
		return Unknown, err
	}
	if target.Hi < 40 {
		return within(got, target, MatchBelow40), nil
	}
	if target.Lo >= 40 {
		return within(got, target, MatchFrom40), nil
	}
	dull := within(got, interval.Range{Lo: target.Lo, Hi: math.Nextafter(40, 0)}, MatchBelow40)
	shiny := within(got, interval.Range{Lo: 40, Hi: target.Hi}, MatchFrom40)
	if dull == shiny {
		return dull, nil
	}
	return Unknown, nil
}

// within says whether a and b lie at most d apart.
func within(a, b interval.Range, d float64) Truth {
	least := max(0, a.Lo-b.Hi, b.Lo-a.Hi)
	most := max(a.Hi-b.Lo, b.Hi-a.Lo)
	switch {
	case most <= d*(1+play):
		return Yes
	case least > d*(1+play):
		return No
	}
	return Unknown
}
