package coat

import (
	"fmt"
	"slices"
)

// Excluding is how much moisture a film keeps out, in per cent of what bare wood takes up in 14
// days at 90 % humidity and 27 °C.
type Excluding struct {
	Film    string
	Percent float64
}

// Ranking lists the films of the table by how much moisture they keep out, best first; films that
// do as well as each other stand in the order of the table.
func (t Tables) Ranking() []Excluding {
	out := slices.Clone(t.Excludes)
	slices.SortStableFunc(out, func(a, b Excluding) int {
		switch {
		case a.Percent > b.Percent:
			return -1
		case a.Percent < b.Percent:
			return 1
		}
		return 0
	})
	return out
}

// Excluding finds how much moisture a film keeps out. The error says which film was read.
func (t Tables) Excluding(film string) (Excluding, error) {
	for _, e := range t.Excludes {
		if e.Film == film {
			return e, nil
		}
	}
	return Excluding{}, fmt.Errorf("there is no figure for the moisture that %q keeps out", film)
}
