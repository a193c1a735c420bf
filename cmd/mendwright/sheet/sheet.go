// Package sheet writes the sheet for the wall: one HTML file without outside parts that holds a piece, its marks,
// the plan with boxes to tick, the drawings and what everything rests on, to be printed in black ink on A4 or
// Letter. It decides nothing; its words are those of the terminal.
package sheet

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"maps"
	"slices"
	"strings"
	"sync"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
	"mendwright/rules"
)

// Input is what a sheet is made of.
type Input struct {
	Book   *rules.Book
	File   *jobfile.File
	Plan   *engine.Plan
	Triage *engine.Answer // of the same job; it says what the marks are and what happens if they are left
	Photos Photos
}

//go:embed sheet.html
var page string

//go:embed sheet.css
var style string

// filled is the template, read when the first sheet is written: most runs write none.
var filled = sync.OnceValue(func() *template.Template { return template.Must(template.New("sheet").Parse(page)) })

// Write writes the sheet. The same Input gives the same bytes. The error is that of w.
func Write(w io.Writer, in Input) error {
	if err := filled().Execute(w, newView(&in)); err != nil {
		return fmt.Errorf("writing the sheet: %w", err)
	}
	return nil
}

// view is the sheet from top to bottom.
type view struct {
	Style    template.CSS
	Title    string
	Photos   []picture
	Refused  []string
	Glance   []row
	Known    []row
	Faces    []picture // of the surfaces
	Always   []warning // that hold whatever is done
	Marks    []mark
	Risks    *matrix
	Sections []figure
	Clashes  []string
	Steps    []step
	Trials   []trial
	Times    []string
	Timeline []figure
	Buy      []good
	Ready    []row
	Worth    []string
	Open     []question
	Conflict []string
	Sources  []row
	Rulebook string
	Closing  string
}

// row is a text, or several, behind a label.
type row struct {
	Label string
	Texts []text
}

// text is a line of words; Lead, its first words, stands out.
type text struct{ Lead, Rest string }

// rows are the rows that have a text.
func rows(list ...row) []row {
	return slices.DeleteFunc(list, func(r row) bool { return len(r.Texts) == 0 })
}

// said is a row of texts, without those that say nothing.
func said(label string, lines ...string) row {
	r := row{Label: label}
	for _, l := range lines {
		if l != "" {
			r.Texts = append(r.Texts, text{Rest: l})
		}
	}
	return r
}

// led is a row of texts that stand out down to their first colon.
func led(label string, lines ...string) row {
	r := row{Label: label}
	for _, l := range lines {
		lead, rest, ok := strings.Cut(l, ": ")
		if !ok {
			lead, rest = "", l
		} else {
			lead += ":"
		}
		r.Texts = append(r.Texts, text{lead, rest})
	}
	return r
}

// maker makes a view of an input.
type maker struct {
	*Input
	number map[string]int          // of the steps, from 1, by id
	cited  map[string]engine.Cited // what the sheet rests on
}

func newView(in *Input) *view {
	m := &maker{in, screen.Numbers(in.Plan), maps.Clone(in.Plan.Sources)}
	v := &view{Style: template.CSS(style), Title: in.Plan.Job, Photos: in.Photos.pictures("piece", "piece", "the piece"), Rulebook: rulebook(in.Plan.Rulebook), Closing: screen.Deference}
	if v.Title == "" {
		v.Title = "A piece without a name"
	}
	v.Refused, v.Glance, v.Known = m.refused(), m.glance(), m.known()
	for _, name := range slices.Sorted(maps.Keys(in.File.Job.Surfaces)) {
		v.Faces = append(v.Faces, in.Photos.pictures("surface", name, "the surface "+name)...)
	}
	for i := range in.Plan.Marks {
		v.Marks = append(v.Marks, m.mark(&in.Plan.Marks[i]))
	}
	v.Risks, v.Sections, v.Clashes = m.risks(), m.sections(), m.clashes()
	v.Steps, v.Always = m.steps()
	v.Trials = m.trials()
	if len(in.Plan.Steps) > 0 {
		v.Times, v.Timeline = screen.TimeLines(in.Plan), m.timeline()
	}
	v.Buy, v.Ready = m.shopping()
	if in.Plan.Worth != nil {
		v.Worth = screen.WorthLines(in.Plan.Worth)
	}
	v.Open, v.Conflict = m.open()
	v.Sources = m.sources() // last: the others add to it
	return v
}

// rulebook says which rules stand behind a sheet: the first digits of a digest tell two apart.
func rulebook(id engine.RulebookID) string {
	digest := id.Digest.String()
	s := "version " + id.Version + ", digest " + digest[:min(12, len(digest))]
	for i, o := range id.Overrides {
		if i == 0 {
			s += "; the shop's own in the place of "
		} else {
			s += ", "
		}
		s += o
	}
	return s
}

// Of is all that the sheet of a job is written from, but its photographs.
func Of(book *rules.Book, tables *engine.Tables, file *jobfile.File) (in Input, err error) {
	in = Input{Book: book, File: file}
	if in.Plan, err = engine.PlanOf(book, tables, file.Job); err == nil {
		in.Triage, err = engine.Triage(book, tables, file.Job)
	}
	return in, err
}
