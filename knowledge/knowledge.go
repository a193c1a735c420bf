// Package knowledge holds what the trade knows: the rulebook's YAML files, and the tables that
// the arithmetic stands on, typed.
package knowledge

import (
	"embed"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"sync"

	"mendwright/engine"
	"mendwright/engine/coat"
	"mendwright/engine/depth"
	"mendwright/rules"
	"mendwright/rules/interval"
)

//go:embed *.yaml facts findings defects methods warnings tables goods pairs chores aftermaths
var files embed.FS

// Files is the built-in rulebook as it was written.
func Files() fs.FS { return files }

// Load returns the built-in rulebook and its tables. They are read once; nobody may change them.
// A test of this package verifies them whole.
var Load = sync.OnceValues(func() (*Loaded, error) {
	book, err := rules.LoadTrusted(files)
	if err != nil {
		return nil, fmt.Errorf("the built-in rulebook: %w", err)
	}
	tables, err := Tables(book)
	if err != nil {
		return nil, fmt.Errorf("the built-in rulebook: %w", err)
	}
	return &Loaded{book, tables}, nil
})

// Over returns the built-in rulebook with a shop's own rules from the folder dir laid over it (see
// rules.LoadOver). Both are verified whole.
func Over(dir string) (*Loaded, error) {
	info, err := os.Stat(dir)
	if err != nil {
		return nil, fmt.Errorf("the shop's rules: %w", err)
	}
	if !info.IsDir() {
		return nil, fmt.Errorf("the shop's rules: %s is no folder; name the one that holds methods, warnings and the like", dir)
	}
	return whole(rules.LoadOver(files, os.DirFS(dir), dir))
}

// Verified returns the built-in rulebook with the cases beside its rules.
func Verified() (*Loaded, error) { return whole(rules.Load(files)) }

func whole(book *rules.Book, err error) (*Loaded, error) {
	if err != nil {
		return nil, err
	}
	tables, err := Tables(book)
	if err != nil {
		return nil, err
	}
	return &Loaded{book, tables}, nil
}

// Loaded is a rulebook with its typed tables.
type Loaded struct {
	Book   *rules.Book
	Tables *engine.Tables
}

// Tables types the tables of a rulebook for the arithmetic. The error names the table, row or
// column that is missing.
func Tables(book *rules.Book) (*engine.Tables, error) {
	r := reader{book: book}
	t := &engine.Tables{
		Depth:   depth.Tables{Grains: map[string]float64{}, Tools: map[string]depth.Tool{}},
		Keeps:   map[string]engine.Keep{},
		Layers:  map[[2]string]interval.Range{},
		Feather: map[string]float64{}, TooRough: map[string]bool{},
		Tool:  "hand",
		Grits: []string{"120", "150", "180"},
		Bare:  "none",
		Plan:  planned,
	}
	t.Vapour = sync.OnceValues(func() (*engine.VapourTables, error) { return VapourTables(book) })
	t.Coat = sync.OnceValues(func() (*coat.Tables, error) {
		r := reader{book: book}
		tables := r.coats()
		return &tables, r.err
	})
	for _, row := range r.rows("clearance") {
		t.Depth.Clearances = append(t.Depth.Clearances, depth.Clearance{
			Grit: row.Key, MM: r.number(row, "clears_mm"), U: r.number(row, "u_mm"), Most: r.number(row, "most_mm")})
	}
	for _, row := range r.rows("grains-p") {
		t.Depth.Grains[row.Key] = r.number(row, "size_um")
	}
	for _, row := range r.rows("grains-cami") {
		t.Depth.Grains["CAMI "+strings.TrimPrefix(row.Key, "CAMI ")] = r.number(row, "size_um")
	}
	for _, row := range r.rows("clearance") {
		if _, err := t.Depth.Grain(row.Key); err != nil && r.err == nil {
			r.err = row.Pos.Error("%s", err)
		}
	}
	for _, row := range r.rows("tools") {
		t.Depth.Tools[row.Key] = depth.Tool{Factor: r.rng(row, "factor"), Pass: r.rng(row, "pass_mm")}
		t.TooRough[row.Key] = row.Texts["thin_layer"] == "no"
	}
	for _, row := range r.rows("keeps") {
		t.Keeps[row.Key] = engine.Keep{Line: r.number(row, "keep_mm"), Warn: r.number(row, "warn_mm"),
			Cover: r.number(row, "cover_mm"), Most: r.number(row, "most_mm")}
	}
	for _, row := range r.rows("layers") {
		t.Layers[[2]string{row.Texts["layer"], row.Texts["age"]}] = r.rng(row, "thickness_mm")
	}
	for _, row := range r.rows("feather") {
		t.Feather[row.Key] = r.number(row, "ratio")
	}
	return t, r.err
}

// reader keeps the first thing it did not find.
type reader struct {
	book *rules.Book
	err  error
}

func (r *reader) rows(table string) []*rules.Row {
	t, err := r.book.Table(table)
	if err != nil {
		if r.err == nil {
			r.err = err
		}
		return nil
	}
	return t.Rows
}

func (r *reader) rng(row *rules.Row, column string) interval.Range {
	v, ok := row.Ranges[column]
	if !ok && r.err == nil {
		r.err = row.Pos.Error("the row lacks the figure %q", column)
	}
	return v
}

func (r *reader) number(row *rules.Row, column string) float64 { return r.rng(row, column).Mid() }

// planned are the sources of the arithmetic of a plan: three-point estimates and the longest path.
var planned = []string{"critical-path", "three-point"}
