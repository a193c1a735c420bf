package knowledge

import (
	"strconv"

	"mendwright/engine/metal"
	"mendwright/rules"
)

// MetalTables types the tables that the arithmetic of hardware stands on. The error names the
// table, row or column that is missing or not understood.
func MetalTables(book *rules.Book) (metal.Tables, error) {
	r := reader{book: book}
	fail := func(row *rules.Row, format string, args ...any) {
		if r.err == nil {
			r.err = row.Pos.Error(format, args...)
		}
	}
	var t metal.Tables
	for _, row := range r.rows("baths") {
		verdict, err := metal.VerdictNamed(row.Texts["verdict"])
		if err != nil {
			fail(row, "%s", err)
		}
		t.Baths = append(t.Baths, metal.BathRule{
			Bath: row.Texts["bath"], Part: row.Texts["part"], Verdict: verdict, Why: row.Texts["why"]})
	}
	pulls := map[string]metal.Pull{"strong": metal.StrongPull, "none": metal.NoPull, "either": metal.AnyPull}
	for _, row := range r.rows("metals") {
		pull, ok := pulls[row.Texts["magnet"]]
		if !ok {
			fail(row, "read %q for the magnet; expected strong, none or either", row.Texts["magnet"])
		}
		t.Metals = append(t.Metals, metal.Metal{Name: row.Key, Density: r.rng(row, "density"), Pull: pull})
	}
	for _, row := range r.rows("galvanic") {
		t.Potentials = append(t.Potentials, metal.Potential{
			Series: row.Texts["series"], Metal: row.Texts["metal"], MV: r.rng(row, "mv"), Spread: r.number(row, "spread_mv")})
	}
	for _, row := range r.rows("threads") {
		pitch := r.number(row, "pitch")
		switch row.Texts["pitch_in"] {
		case "mm":
		case "tpi":
			pitch = 25.4 / pitch
		default:
			fail(row, "read %q for the unit of the pitch; expected mm or tpi", row.Texts["pitch_in"])
		}
		t.Threads = append(t.Threads, metal.Thread{
			Name: row.Key, Series: row.Texts["series"], Major: r.number(row, "major_mm"), Pitch: pitch})
	}
	for _, row := range r.rows("wood-screws") {
		gauge, err := strconv.Atoi(row.Key)
		if err != nil {
			fail(row, "read %q for the gauge; expected a whole number", row.Key)
		}
		drill := func(column string) float64 { return r.number(row, column) * 25.4 / 64 }
		t.Screws = append(t.Screws, metal.Screw{
			Gauge:     gauge,
			Root:      r.number(row, "root_in") * 25.4,
			Strength:  metal.Pilot{Soft: drill("strong_soft_64"), Hard: drill("strong_hard_64")},
			Furniture: metal.Pilot{Soft: drill("shop_soft_64"), Hard: drill("shop_hard_64")},
			ShankHole: drill("shank_64"),
		})
	}
	return t, r.err
}
