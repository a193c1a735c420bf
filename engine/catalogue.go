package engine

import (
	"maps"
	"slices"

	"mendwright/rules"
)

// Parts are the parts of a rulebook that List lists.
var Parts = []string{"kinds", "methods", "warnings", "facts", "findings", "pairs", "chores", "aftermaths", "goods", "sources"}

// Catalogue lists what a rulebook holds.
type Catalogue struct {
	Rulebook RulebookID     `json:"rulebook"`
	Counts   map[string]int `json:"counts"` // by part
	Entries  []Entry        `json:"entries"`
}

// Entry is one thing of a rulebook.
type Entry struct {
	ID   string    `json:"id"`
	Name string    `json:"name,omitempty"`
	Line string    `json:"line"` // what it is
	Own  rules.Own `json:"own,omitempty"`
}

// List counts what the book holds and lists one of Parts, by id; with "" it only counts. It is nil if there
// is no such part.
func List(book *rules.Book, part string) *Catalogue {
	if part != "" && !slices.Contains(Parts, part) {
		return nil
	}
	c := &Catalogue{Rulebook: rulebookID(book), Counts: map[string]int{}, Entries: []Entry{}}
	for _, p := range Parts {
		entries := entriesOf(book, p)
		c.Counts[p] = len(entries)
		if p == part {
			c.Entries = append(c.Entries, entries...)
		}
	}
	return c
}

// IDs are the ids of everything in the book.
func IDs(book *rules.Book) []string {
	var out []string
	for _, p := range Parts {
		for _, e := range entriesOf(book, p) {
			out = append(out, e.ID)
		}
	}
	return out
}

func entriesOf(book *rules.Book, part string) []Entry {
	var out []Entry
	switch part {
	case "kinds":
		for _, d := range book.Defects {
			out = append(out, Entry{d.ID, d.Name, d.What, d.Own})
		}
	case "methods":
		for _, m := range book.Methods() {
			out = append(out, Entry{m.ID, m.Name, m.What, m.Own})
		}
	case "warnings":
		for _, w := range book.Warnings {
			out = append(out, Entry{w.ID, w.Signal, w.Text, w.Own})
		}
	case "facts":
		for _, id := range slices.Sorted(maps.Keys(book.Facts)) {
			f := book.Facts[id]
			out = append(out, Entry{id, f.Kind.String(), asked(f), f.Own})
		}
	case "findings":
		for _, f := range book.Findings {
			out = append(out, Entry{f.ID, "", "derives " + f.Derives, f.Own})
		}
	case "pairs":
		for _, p := range book.Order().Pairs {
			out = append(out, Entry{p.ID, "", p.Because, p.Own})
		}
	case "chores":
		for _, c := range book.Order().Chores {
			out = append(out, Entry{c.ID, c.Name, c.Because, c.Own})
		}
	case "aftermaths":
		for _, a := range book.Order().Aftermaths {
			out = append(out, Entry{a.ID, "", a.Because, a.Own})
		}
	case "goods":
		for _, id := range slices.Sorted(maps.Keys(book.Order().Goods)) {
			g := book.Order().Good(id)
			out = append(out, Entry{id, g.Name, "bought by " + g.Unit, g.Own})
		}
	case "sources":
		for _, id := range slices.Sorted(maps.Keys(book.Sources)) {
			s := book.Sources[id]
			out = append(out, Entry{id, s.Kind, s.Title, ""})
		}
	}
	return out
}

// asked says how a fact becomes known.
func asked(f *rules.Fact) string {
	switch {
	case f.Asked():
		return f.Ask
	case f.Computed != "":
		return "computed: " + f.Computed
	case f.Lookup != nil:
		return "looked up in " + f.Lookup.Table + " by " + f.Lookup.By
	}
	return "found from other facts"
}
