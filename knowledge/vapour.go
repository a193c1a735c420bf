package knowledge

import (
	"mendwright/engine"
	"mendwright/engine/air"
	"mendwright/rules"
)

// VapourTables types the tables of a rulebook from which the vapour of a repair is reckoned. The
// error names the table, row or column that is missing, or the row that names what no other table
// holds.
func VapourTables(book *rules.Book) (*engine.VapourTables, error) {
	r := airReader{reader{book: book}}
	tables := r.breathing()
	t := &engine.VapourTables{Air: tables, Products: map[string][]engine.Evaporates{}, Box: map[string]float64{},
		// The question asks for a half mask with organic-vapour cartridges.
		Mask: air.Wear{Respirator: "half-mask", Cartridge: "organic-vapour"}}
	for _, row := range r.rows("ventilation") {
		t.Box[row.Key] = r.number(row, "box_m3")
	}
	for _, row := range r.rows("vapours") {
		product, substance := row.Texts["product"], row.Texts["substance"]
		parts := t.Products[product]
		if substance != "none" {
			if _, err := tables.Substance(substance); err != nil {
				r.fail(row, "%s", err)
			}
			parts = append(parts, engine.Evaporates{Substance: substance, MLPerM2: r.rng(row, "ml_m2"), Minutes: r.rng(row, "minutes")})
		}
		t.Products[product] = parts
	}
	return t, r.err
}
