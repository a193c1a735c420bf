package knowledge

import (
	"fmt"

	"mendwright/engine/reckon"
	"mendwright/rules"
)

// ReckonTables types the tables that the single calculations of a field stand on, and no others.
// The error names the table, row or column that is missing.
func ReckonTables(book *rules.Book, field string) (t *reckon.Tables, err error) {
	t = &reckon.Tables{}
	switch field {
	case reckon.Moisture:
		t.Moisture, err = MoistureTables(book)
	case reckon.Mechanics:
		r := reader{book: book}
		for _, row := range r.rows("keeps") {
			if row.Key == "solid" {
				t.LeastCover = r.number(row, "cover_mm")
			}
		}
		if r.err != nil {
			return nil, r.err
		}
		t.Mechanics, err = MechanicsTables(book)
	case reckon.Metal:
		t.Metal, err = MetalTables(book)
	case reckon.Air:
		t.Air, err = AirTables(book)
	case reckon.Coat:
		t.Coat, err = CoatTables(book)
	case reckon.Plan: // stands on no table
	default:
		err = fmt.Errorf("read %q; expected a field of calculations", field)
	}
	return t, err
}
