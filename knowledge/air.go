package knowledge

import (
	"fmt"
	"slices"
	"strings"

	"mendwright/engine/air"
	"mendwright/rules"
	"mendwright/rules/interval"
)

// AirTables types the tables of a rulebook that the arithmetic of the air stands on. The error names the
// table, row or column that is missing, or the row that names what no other table holds.
func AirTables(book *rules.Book) (air.Tables, error) {
	r := airReader{reader{book: book}}
	t := r.breathing()
	t.Letters, t.Releases, t.Guns = map[string]string{}, map[string]air.Release{}, map[string]interval.Range{}
	t.Coats, t.Dust = map[string]air.CoatWeather{}, map[string]float64{}
	t.Noise, t.Fans = map[string]interval.Range{}, map[string]interval.Range{}
	for _, row := range r.rows("glove-letters") {
		t.Letters[row.Key] = row.Texts["chemical"]
	}
	for _, row := range r.rows("fans") {
		t.Fans[row.Key] = r.rng(row, "flow_m3_h")
	}
	for _, row := range r.rows("release") {
		t.Releases[row.Key] = air.Release{Half: r.rng(row, "half_min"), All: r.rng(row, "all_min")}
	}
	for _, row := range r.rows("spray-guns") {
		t.Guns[row.Key] = r.rng(row, "lands")
	}
	for _, row := range r.rows("coat-weather") {
		t.Coats[row.Key] = air.CoatWeather{Air: r.rng(row, "air_c"), Best: r.rng(row, "best_c"),
			Warn: r.number(row, "warn_pc"), Stop: r.number(row, "stop_pc")}
	}
	for _, row := range r.rows("scald-times") {
		t.Scalds = append(t.Scalds, air.Scald{Water: r.number(row, "water_c"), Second: r.number(row, "second_s"), Third: r.number(row, "third_s")})
	}
	for _, row := range r.rows("dust-limits") {
		t.Dust[row.Key] = r.number(row, "mg_m3")
	}
	for _, row := range r.rows("noise") {
		t.Noise[row.Key] = r.rng(row, "db")
	}
	return t, r.err
}

type airReader struct{ reader }

// breathing types the tables that the vapour in a room is judged by.
func (r *airReader) breathing() air.Tables {
	t := air.Tables{Substances: map[string]air.Substance{}, Limits: map[string]map[string]air.Limit{},
		Respirators: map[string]air.Respirator{}, Gloves: map[string]air.Gloves{}, Places: map[string]air.Place{}}
	r.guards(&t)
	r.substances(&t)
	for _, row := range r.rows("ventilation") {
		t.Places[row.Key] = air.Place{Changes: r.rng(row, "changes"), Mixing: r.rng(row, "mixing")}
	}
	return t
}

// guards types what guards lungs and hands.
func (r *airReader) guards(t *air.Tables) {
	for _, row := range r.rows("respirators") {
		t.Respirators[row.Key] = air.Respirator{APF: r.number(row, "apf"),
			Supplied: r.word(row, "air", "cleaned", "supplied") == "supplied",
			DustOnly: r.word(row, "takes", "all", "dust") == "dust"}
	}
	for _, row := range r.rows("gloves") {
		t.Gloves[row.Key] = air.Gloves{Good: strings.Split(row.Texts["good"], ", "), Poor: strings.Split(row.Texts["poor"], ", ")}
	}
}

func (r *airReader) substances(t *air.Tables) {
	constants := map[string]*air.Antoine{}
	for _, row := range r.rows("vapour-pressures") {
		constants[row.Key] = &air.Antoine{A: r.number(row, "a"), B: r.number(row, "b"), C: r.number(row, "c"), Fits: r.rng(row, "fits_c")}
	}
	for _, row := range r.rows("substances") {
		s := air.Substance{Molar: r.rng(row, "molar_g"), Density: r.rng(row, "density_g_ml"), Boils: r.rng(row, "boils_c"), Vapour: r.rng(row, "vapour_mmhg"),
			Cartridge: r.word(row, "cartridge", "organic-vapour", "ammonia", "acid-gas", "formaldehyde", "none"), Gloves: row.Texts["gloves"]}
		if name := row.Texts["constants"]; name != "none" {
			if s.Antoine = constants[name]; s.Antoine == nil {
				r.fail(row, "the table vapour-pressures has no row %q", name)
			}
		}
		if _, ok := t.Gloves[s.Gloves]; !ok {
			r.fail(row, "the table gloves has no row %q", s.Gloves)
		}
		t.Substances[row.Key] = s
	}
	r.each(t, "flash-points", func(row *rules.Row, s *air.Substance) {
		flash := r.rng(row, "flash_c")
		s.Flash = &flash
	})
	r.each(t, "explosive-limits", func(row *rules.Row, s *air.Substance) {
		s.LEL, s.UEL, s.SelfIgnition = r.rng(row, "lel_pc"), r.rng(row, "uel_pc"), r.rng(row, "ignites_c")
	})
	r.each(t, "no-cartridge", func(row *rules.Row, s *air.Substance) { s.Because = row.Texts["because"] })
	for _, row := range r.rows("substances") {
		if s := t.Substances[row.Key]; (s.Cartridge == "none") != (s.Because != "") {
			r.fail(row, "a substance stands in the table no-cartridge if its cartridge is none, and only then")
		}
	}
	for _, row := range r.rows("exposure-limits") {
		l := air.Limit{Amount: r.number(row, "amount")}
		if r.word(row, "unit", "ppm", "mg/m3") == "mg/m3" {
			l.Unit = air.MG
		}
		kind := r.word(row, "kind", "rel", "rel-st", "rel-c", "pel", "pel-st", "pel-c", "epa", "epa-st", "aiha", "action", "idlh")
		name := row.Texts["substance"]
		if t.Limits[name] == nil {
			t.Limits[name] = map[string]air.Limit{}
		}
		t.Limits[name][kind] = l
	}
}

// each calls f for every row of a table whose keys are substances.
func (r *airReader) each(t *air.Tables, table string, f func(*rules.Row, *air.Substance)) {
	for _, row := range r.rows(table) {
		s, ok := t.Substances[row.Key]
		if !ok {
			r.fail(row, "the table substances has no row %q", row.Key)
			continue
		}
		f(row, &s)
		t.Substances[row.Key] = s
	}
}

// word takes a text that must be one of words.
func (r *airReader) word(row *rules.Row, column string, words ...string) string {
	s := row.Texts[column]
	if !slices.Contains(words, s) {
		r.fail(row, "read %q as %s; expected one of %s", s, column, strings.Join(words, ", "))
	}
	return s
}

func (r *airReader) fail(row *rules.Row, format string, args ...any) {
	if r.err == nil {
		r.err = row.Pos.Error("%s", fmt.Sprintf(format, args...))
	}
}
