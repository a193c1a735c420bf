package coat

import (
	"math"

	"mendwright/rules/interval"
)

// Limits on taking a film down, in micrometres: what must be there before it is levelled or
// rubbed out, what must be left of it, and the film that sandpaper of P320 or coarser may not
// touch at all. All are choices of this program.
const (
	LevelFrom  = 100.0
	LevelLeave = 50.0
	SandFrom   = 40.0
)

var taken = quantity{"what levelling takes", "µm", 0, 5000}

// Levelling is what levelling does to a film.
type Levelling struct {
	Left    interval.Range // µm; below 0 it is through
	Allowed Truth          // enough film before, and enough left
}

// Level says what taking off (0 to 5000 µm) leaves of a film (0 to 5000 µm) and whether that is
// enough: at least LevelFrom before and LevelLeave after. One coat never is. What is left rises
// with the film and falls with what is taken. The error says which input is out of range.
func Level(film, off interval.Range) (Levelling, error) {
	if err := first(dryFilm.holds(film), taken.holds(off)); err != nil {
		return Levelling{}, err
	}
	left := film.Sub(off)
	return Levelling{Left: left, Allowed: from(film, LevelFrom).and(from(left, LevelLeave))}, nil
}

// MostOff is the most in micrometres that levelling may take off a film of 0 to 5000 µm: what lies
// above LevelLeave, or nothing from a film below LevelFrom. It rises with the film. The error says
// that the film is out of range.
func MostOff(film interval.Range) (interval.Range, error) {
	if err := dryFilm.holds(film); err != nil {
		return interval.Range{}, err
	}
	return rising(film, func(f float64) float64 {
		if f < LevelFrom*(1-play) {
			return 0
		}
		return f - LevelLeave
	}), nil
}

// MaySand says whether sandpaper of P320 or coarser may touch a film of 0 to 5000 µm at all: from
// SandFrom on. The error says that the film is out of range.
func MaySand(film interval.Range) (Truth, error) {
	if err := dryFilm.holds(film); err != nil {
		return Unknown, err
	}
	return from(film, SandFrom), nil
}

// Rings says whether taking off (0 to 5000 µm) goes through the last coat (0 to 5000 µm) into the
// one before, which shows as rings in a finish whose coats do not melt together. The error says
// which input is out of range.
func (c Coat) Rings(lastCoat, off interval.Range) (Truth, error) {
	if err := first(dryFilm.holds(lastCoat), taken.holds(off)); err != nil {
		return Unknown, err
	}
	switch {
	case c.Bonds == ByMelting || off.Hi < lastCoat.Lo-play*math.Abs(lastCoat.Lo):
		return No, nil
	case off.Lo >= lastCoat.Hi-play*math.Abs(lastCoat.Hi):
		return Yes, nil
	}
	return Unknown, nil
}
