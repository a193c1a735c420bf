// Package reckon lets every single calculation of the arithmetic be asked by itself: what it asks
// for, in which units and limits, what it answers, and on which sources it stands. The arithmetic
// is that of the leaves beside it; this package only names it in the words of the trade.
//
// Every quantity travels as a range and every answer spans what its inputs allow, so that a
// narrower input never contradicts a wider one. The package reads no YAML and prints nothing.
package reckon

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"mendwright/engine/air"
	"mendwright/engine/coat"
	"mendwright/engine/mechanics"
	"mendwright/engine/metal"
	"mendwright/engine/moisture"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
)

// The fields, in the order in which calculations are listed.
const (
	Moisture  = "moisture"
	Mechanics = "mechanics"
	Metal     = "metal"
	Air       = "air"
	Coat      = "coat"
	Plan      = "plan"
)

// Tables are the tables the calculations stand on; time and money need none. Only those of the field that is asked need to
// be filled.
type Tables struct {
	Air       air.Tables
	Coat      coat.Tables
	Moisture  moisture.Tables
	Metal     metal.Tables
	Mechanics mechanics.Tables
	// LeastCover is the least wood to leave between the tip of a screw and the face of a solid
	// board, mm.
	LeastCover float64
}

// Calculation is one question that can be asked by itself.
type Calculation struct {
	ID      string   // kebab-case, in trade terms
	Field   string   // one of the constants above
	Ask     string   // the question it answers, with its capital and question mark
	Inputs  []Input  // at least one of them must be given
	Sources []string // ids of the rulebook's sources
	Holds   string   // where the figures hold and where not; may be empty
	Caution string   // what may hurt in the work behind it; may be empty
	Reckon  func(*Tables, Given) ([]Figure, error)
}

// Input is one thing a calculation asks for: a word out of a list, or a quantity.
type Input struct {
	Name     string // kebab-case
	Means    string
	Unit     string                 // a canonical unit of rules/quantity, or empty for a plain number
	Words    func(*Tables) []string // nil for a quantity
	Range    interval.Range         // of a quantity, in its unit; what lies outside is refused
	Default  string                 // as people type it: what is taken when it is left out
	Example  string                 // as people type it
	Optional bool                   // left out, it stands for all it could be
}

// Figure is one thing a calculation answers: a quantity, or a verdict word with what it means.
type Figure struct {
	Name  string          `json:"name"`
	Means string          `json:"means"` // what the text puts in front of the colon
	Unit  string          `json:"unit,omitempty"`
	Range *interval.Range `json:"range,omitempty"`
	Word  string          `json:"word,omitempty"`
	Says  string          `json:"says,omitempty"` // what the word means
}

// NotKnown is the word of a verdict that the inputs leave open: a closer measurement may settle it.
const NotKnown = "not-known"

// Amount is a figure with a number; unit may be any that is printed, or empty.
func Amount(name, means, unit string, r interval.Range) Figure {
	return Figure{Name: name, Means: means, Unit: unit, Range: &r}
}

// Verdict is a figure with a word and what it says.
func Verdict(name, means, word, says string) Figure {
	return Figure{Name: name, Means: means, Word: word, Says: says}
}

// Taken is an input as it was understood.
type Taken struct {
	Name    string          `json:"name"`
	Means   string          `json:"means"`
	Unit    string          `json:"unit,omitempty"`
	Range   *interval.Range `json:"range,omitempty"`
	Words   []string        `json:"words,omitempty"` // one, or all it could be
	LeftOut bool            `json:"left_out,omitempty"`
}

// Given holds the inputs of one call by name.
type Given map[string]Taken

// Range is a quantity that was given, its default, or all it could be. Asking for a name that is
// no quantity of the calculation is a mistake in the program.
func (g Given) Range(name string) interval.Range {
	t, ok := g[name]
	if !ok || t.Range == nil {
		panic("reckon: no quantity " + name)
	}
	return *t.Range
}

// Word is a word that was given or its default; of an optional one use Words.
func (g Given) Word(name string) string {
	t, ok := g[name]
	if !ok || len(t.Words) != 1 {
		panic("reckon: no single word " + name)
	}
	return t.Words[0]
}

// Words is the word that was given, or all it could be.
func (g Given) Words(name string) []string {
	t, ok := g[name]
	if !ok || len(t.Words) == 0 {
		panic("reckon: no word " + name)
	}
	return t.Words
}

// LeftOut reports whether an input was not given.
func (g Given) LeftOut(name string) bool { return g[name].LeftOut }

// Answer is a calculation with what it was given and what came out.
type Answer struct {
	Calculation string   `json:"calculation"`
	Ask         string   `json:"ask"`
	Inputs      []Taken  `json:"inputs"`
	Figures     []Figure `json:"figures"`
	Holds       string   `json:"holds,omitempty"`
	Caution     string   `json:"caution,omitempty"`
}

// Unknown is the error of a name or word that is none of those it must be one of.
type Unknown struct {
	Says  string // what was read, and for what
	Read  string
	Known []string
}

func (u *Unknown) Error() string { return u.Says }

func unknown(known []string, format, what, read string) *Unknown {
	return &Unknown{fmt.Sprintf(format, what, read), read, known}
}

// All lists the calculations by field.
func All() []*Calculation {
	return slices.Concat(moistureCalculations, mechanicsCalculations, metalCalculations, airCalculations, coatCalculations, planCalculations)
}

// Find finds a calculation by its ID. The error is an *Unknown.
func Find(id string) (*Calculation, error) {
	var ids []string
	for _, c := range All() {
		if c.ID == id {
			return c, nil
		}
		ids = append(ids, c.ID)
	}
	return nil, unknown(ids, "there is no %s %q", "calculation", id)
}

// Answer reads the inputs as people typed them, by name, and reckons. The error names the input
// that is missing, unknown (an *Unknown) or not understood, what was read and what is allowed, or
// says why the inputs together have no answer.
func (c *Calculation) Answer(t *Tables, typed map[string]string) (*Answer, error) {
	given, err := c.read(t, typed)
	if err != nil {
		return nil, err
	}
	figures, err := c.Reckon(t, given)
	if err != nil {
		return nil, fmt.Errorf("%s has no answer to that: %w", c.ID, err)
	}
	a := &Answer{Calculation: c.ID, Ask: c.Ask, Figures: figures, Holds: c.Holds, Caution: c.Caution}
	for _, in := range c.Inputs {
		a.Inputs = append(a.Inputs, given[in.Name])
	}
	return a, nil
}

func (c *Calculation) read(t *Tables, typed map[string]string) (Given, error) {
	var names []string
	for _, in := range c.Inputs {
		names = append(names, in.Name)
	}
	for _, name := range slices.Sorted(maps.Keys(typed)) {
		if !slices.Contains(names, name) {
			return nil, unknown(names, "%s takes no %q", c.ID, name)
		}
	}
	given := Given{}
	for _, in := range c.Inputs {
		text, ok := typed[in.Name]
		taken, err := in.take(t, text, !ok)
		if err != nil {
			return nil, err
		}
		given[in.Name] = taken
	}
	return given, nil
}

// take reads one input, or what stands in for one that was left out.
func (in Input) take(t *Tables, text string, leftOut bool) (Taken, error) {
	out := Taken{Name: in.Name, Means: in.Means, Unit: in.Unit, LeftOut: leftOut}
	if leftOut {
		switch {
		case in.Default != "":
			text = in.Default
		case in.Optional && in.Words != nil:
			out.Words = in.Words(t)
			return out, nil
		case in.Optional:
			all := in.Range
			out.Range = &all
			return out, nil
		default:
			return out, fmt.Errorf("%s is missing (%s); give it as %s=%q; allowed is %s", in.Name, in.Means, in.Name, in.Example, in.Allowed(t))
		}
	}
	if in.Words != nil {
		word := strings.ToLower(strings.Join(strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '_' }), "-"))
		i := slices.IndexFunc(in.Words(t), func(w string) bool { return strings.EqualFold(w, word) })
		if i < 0 {
			return out, unknown(in.Words(t), "%s: read %q", in.Name, text)
		}
		out.Words = []string{in.Words(t)[i]}
		return out, nil
	}
	if strings.TrimSpace(text) == "" {
		return out, fmt.Errorf("%s: read %q, which is no value; give it as %s=%q; allowed is %s", in.Name, text, in.Name, in.Example, in.Allowed(t))
	}
	q, err := quantity.Parse(text, in.Unit)
	if err != nil {
		return out, fmt.Errorf("%s: %w; allowed is %s", in.Name, err, in.Allowed(t))
	}
	if !q.Within(in.Range) {
		is := quantity.Span(q.Range, in.Unit)
		if is == strings.TrimSpace(text) {
			return out, fmt.Errorf("%s: read %q; allowed is %s", in.Name, text, in.Allowed(t))
		}
		return out, fmt.Errorf("%s: read %q, which is %s; allowed is %s", in.Name, text, is, in.Allowed(t))
	}
	out.Range = &q.Range
	return out, nil
}

// Allowed writes what an input takes: its words, or the range of its quantity.
func (in Input) Allowed(t *Tables) string {
	if in.Words != nil {
		return "one of " + strings.Join(in.Words(t), ", ")
	}
	if in.Unit == "min" && in.Range.Hi >= 2*24*60 { // nobody counts a year in minutes
		return fmt.Sprintf("%g to %g days", in.Range.Lo/1440, in.Range.Hi/1440)
	}
	end := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	return strings.TrimSpace(end(in.Range.Lo) + " to " + end(in.Range.Hi) + " " + in.Unit)
}

// Show writes a range by its ends with its unit, to three digits, and more only where the width
// supports them and the ends would else look alike.
func Show(r interval.Range, unit string) string {
	text := quantity.Number(r.Lo, 3)
	if r.Half() > 1e-9*max(1, math.Abs(r.Hi)) {
		text = rounded(r.Lo, r) + " to " + rounded(r.Hi, r)
	}
	return strings.TrimSpace(text + " " + unit)
}

// rounded writes one end of a range; its own first two digits always show.
func rounded(v float64, r interval.Range) string {
	if v == 0 {
		return "0"
	}
	digit := func(v float64) int { return int(math.Floor(math.Log10(math.Abs(v)))) }
	last := min(digit(r.Hi-r.Lo), digit(max(math.Abs(r.Lo), math.Abs(r.Hi)))-2, digit(v)-1)
	step := math.Pow10(last)
	return quantity.Number(math.Round(v/step)*step, max(3, digit(v)-last+1))
}

// words is a fixed list of words.
func words(w ...string) func(*Tables) []string { return func(*Tables) []string { return w } }

// keys are the words that stand in a table, sorted.
func keys[V any](table func(*Tables) map[string]V) func(*Tables) []string {
	return func(t *Tables) []string { return slices.Sorted(maps.Keys(table(t))) }
}

// over is the range that holds all of those given: what an input that was left out could lead to.
func over(rs ...interval.Range) interval.Range {
	out := rs[0]
	for _, r := range rs[1:] {
		out = out.Hull(r)
	}
	return out
}

// percent turns shares into percent.
func percent(share interval.Range) interval.Range { return share.Mul(interval.Exact(100)) }
