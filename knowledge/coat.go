package knowledge

import (
	"fmt"
	"strings"

	"mendwright/engine/coat"
	"mendwright/rules"
	"mendwright/rules/interval"
	"mendwright/rules/strictyaml"
)

// CoatTables types the tables of a rulebook on finishing. The error names the table, row or
// column that is missing, or the word that is none of those expected.
func CoatTables(book *rules.Book) (coat.Tables, error) {
	r := reader{book: book}
	t := r.coats()
	t.Losses, t.Sprays = map[string]interval.Range{}, map[string]bool{}
	for _, row := range r.rows("removers") {
		t.Removers = append(t.Removers, coat.Remover{
			Name: row.Key, Takes: strings.Fields(row.Texts["takes"]),
			Water: coatWord(&r, row, "water", coatYesNo), Blackens: coatWord(&r, row, "blackens", coatYesNo),
			Dwell: r.rng(row, "dwell_min"), Dries: r.rng(row, "dries_h"), Rate: r.rng(row, "rate_m2_l"), WashWith: row.Texts["wash_with"],
		})
	}
	for _, row := range r.rows("washes") {
		bleach := row.Texts["bleach"]
		if bleach == "none" {
			bleach = ""
		}
		t.Washes = append(t.Washes, coat.Washing{
			Name: row.Key, Bleach: bleach, Lifts: row.Texts["lifts"], Strength: r.rng(row, "strength_g_l"),
			Minutes: r.rng(row, "minutes"), Dries: r.rng(row, "dries_h"), Dissolve: r.number(row, "dissolves_g_l"), Then: row.Texts["then"],
		})
	}
	for _, row := range r.rows("sheens") {
		t.Sheens = append(t.Sheens, coat.Sheen{
			Convention: row.Texts["convention"], Level: row.Texts["level"], Name: row.Texts["name"],
			At60: r.rng(row, "at60_gu"), At85: r.rng(row, "at85_gu"),
		})
	}
	for _, row := range r.rows("exclusion") {
		t.Excludes = append(t.Excludes, coat.Excluding{Film: row.Key, Percent: r.number(row, "keeps_out_pct")})
	}
	for _, row := range r.rows("losses") {
		t.Losses[row.Key] = r.rng(row, "loss_pct")
		t.Sprays[row.Key] = coatWord(&r, row, "sprays", coatYesNo)
	}
	return t, r.err
}

// coats types the coats themselves and what may go over what: all that the rules ask.
func (r *reader) coats() coat.Tables {
	var t coat.Tables
	for _, row := range r.rows("coats") {
		t.Coats = append(t.Coats, coat.Coat{
			Name: row.Key, Finish: row.Texts["finish"],
			Dries: coatWord(r, row, "dries", coat.ParseDrying), Bonds: coatWord(r, row, "bonds", coat.ParseBonding),
			Blushes: coatWord(r, row, "blushes", coatYesNo),
			Solids:  r.rng(row, "solids_pct"), Wet: r.rng(row, "wet_um"), Dry: r.rng(row, "dry_um"), Rate: r.rng(row, "rate_m2_l"),
			Air: r.rng(row, "air_c"), Humidity: r.rng(row, "humidity_pct"),
			Touch: r.rng(row, "touch_h"), Recoat: r.rng(row, "recoat_h"), Closes: r.rng(row, "closes_h"),
			Sand: r.rng(row, "sand_h"), Cure: r.rng(row, "cure_h"),
			Coats: r.rng(row, "coats"), Most: r.rng(row, "most_um"),
		})
	}
	for _, row := range r.rows("over") {
		t.Over = append(t.Over, coat.Over{
			Old: row.Texts["old"], New: row.Texts["new"], May: coatWord(r, row, "may", coat.ParseMay),
			Scuff: coatWord(r, row, "scuff", coatYesNo), Barrier: coatWord(r, row, "barrier", coat.ParseBarrier),
			Wait: r.rng(row, "wait_h"), Under: r.rng(row, "under_h"), Why: row.Texts["why"],
		})
	}
	return t
}

// coatWord reads a text of a row as one of the words that parse knows.
func coatWord[T any](r *reader, row *rules.Row, column string, parse func(string) (T, error)) T {
	v, err := parse(row.Texts[column])
	if err != nil && r.err == nil {
		r.err = row.Pos.Error("%s: %s", column, err)
	}
	return v
}

func coatYesNo(s string) (bool, error) {
	yes, ok := strictyaml.YesNo(s)
	if !ok {
		return false, fmt.Errorf("the text reads %q; expected yes or no", s)
	}
	return yes, nil
}
