package knowledge

import (
	"mendwright/engine/moisture"
	"mendwright/rules"
	"mendwright/rules/interval"
)

// MoistureTables types the tables of a rulebook for the arithmetic of moisture. The error names
// the table, row or column that is missing.
func MoistureTables(book *rules.Book) (moisture.Tables, error) {
	r := reader{book: book}
	t := moisture.Tables{
		Timbers:    map[string]moisture.Timber{},
		Recoveries: map[string]interval.Range{},
		Waits:      map[string]moisture.Wait{},
		Glues:      map[string]interval.Range{},
	}
	for _, row := range r.rows("movement") {
		t.Timbers[row.Key] = moisture.Timber{
			Radial: r.rng(row, "radial"), Tangential: r.rng(row, "tangential"), Volumetric: r.rng(row, "volumetric"),
			PerPointRadial: r.rng(row, "radial_per_point"), PerPointTangential: r.rng(row, "tangential_per_point"),
		}
	}
	for _, row := range r.rows("recoveries") {
		t.Recoveries[row.Key] = r.rng(row, "share")
	}
	for _, row := range r.rows("drying") {
		t.Waits[row.Key] = moisture.Wait{Hours: r.rng(row, "hours"), Meter: row.Texts["meter"] == "yes"}
	}
	for _, row := range r.rows("glues") {
		t.Glues[row.Key] = r.rng(row, "softens_c")
	}
	for _, row := range r.rows("treatments") {
		method, ok := moisture.Methods[row.Texts["method"]]
		if !ok && r.err == nil {
			r.err = row.Pos.Error("the method is none of anoxia, cold and heat")
		}
		t.Treatments = append(t.Treatments, moisture.Treatment{
			Method: method, Against: row.Texts["against"],
			Oxygen: r.number(row, "oxygen_percent"), Celsius: r.number(row, "core_c"), Hours: r.number(row, "hours"),
		})
	}
	return t, r.err
}
