package audit

import (
	"maps"
	"slices"
)

// uncited notes sources that nothing rests on: no rule, no row of a table, nothing among cited.
func (a *audit) uncited(cited []string) {
	seen := a.book.Cites()
	for _, id := range cited {
		seen[id] = true
	}
	for _, id := range slices.Sorted(maps.Keys(a.book.Sources)) {
		if !seen[id] {
			a.note("uncited", a.book.Sources[id].Pos, Witness{}, "nothing cites the source %s", id)
		}
	}
}
