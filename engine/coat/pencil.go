package coat

import (
	"fmt"
	"slices"
	"strings"
)

// Pencil is a grade of pencil as a measure of hardness, softest first. The zero Pencil is 6B, the
// softest.
type Pencil int

// pencils are the grades from soft to hard (ISO 15184 and instrument makers' manuals).
var pencils = []string{"6B", "5B", "4B", "3B", "2B", "B", "HB", "F", "H", "2H", "3H", "4H", "5H", "6H"}

func (p Pencil) String() string {
	if p < 0 || int(p) >= len(pencils) {
		return fmt.Sprintf("Pencil(%d)", int(p))
	}
	return pencils[p]
}

// ParsePencil reads a grade from 6B to 6H. The error says what was read and what is expected.
func ParsePencil(grade string) (Pencil, error) {
	if i := slices.Index(pencils, strings.ToUpper(strings.TrimSpace(grade))); i >= 0 {
		return Pencil(i), nil
	}
	return 0, fmt.Errorf("the pencil reads %q; expected one of %s", grade, strings.Join(pencils, " "))
}

// Trial is one stroke of a pencil over a film.
type Trial struct {
	Pencil Pencil
	Marks  bool // it left a scratch, or a cut, whichever is being rated
}

// Hardness is the hardness of a film from strokes with several pencils: the hardest that left no
// mark (ISO 15184). It compares a film with itself over time, not two films, and only on smooth
// surfaces. The error says that there is no stroke without a mark, that a pencil marked where
// it or a harder one did not, or that grades between the two were not tried.
func Hardness(trials []Trial) (Pencil, error) {
	none, marks := Pencil(-1), Pencil(len(pencils))
	for _, t := range trials {
		if t.Pencil < 0 || int(t.Pencil) >= len(pencils) {
			return 0, fmt.Errorf("the pencil reads %v; expected one of %s", t.Pencil, strings.Join(pencils, " "))
		}
		if t.Marks {
			marks = min(marks, t.Pencil)
		} else {
			none = max(none, t.Pencil)
		}
	}
	switch {
	case none < 0:
		return 0, fmt.Errorf("no pencil is said to leave the film unmarked; expected at least one of the %d strokes to", len(trials))
	case marks <= none:
		return 0, fmt.Errorf("%v is said to mark and %v not to; expected every pencil from the first that marks on to mark: try again", marks, none)
	case int(marks) == len(pencils) && int(none) < len(pencils)-1:
		return 0, fmt.Errorf("the hardest pencil tried, %v, leaves no mark; expected harder ones to be tried", none)
	case marks > none+1:
		return 0, fmt.Errorf("%v leaves no mark and %v does; expected the grades between to be tried", none, marks)
	}
	return none, nil
}
