// Package rules is the rule language: what a rulebook of facts, findings, defect kinds,
// methods and warnings consists of, and how its files are read and verified.
//
// A rulebook is data. Nothing here knows a timber, a tool or a finish by name.
package rules

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"mendwright/rules/condition"
	"mendwright/rules/interval"
	"mendwright/rules/strictyaml"
)

// Book is a loaded rulebook. All lists are sorted by id; a Book is not changed after loading.
type Book struct {
	// Overrides are the built-in kinds and methods, by id, that a shop's own stand in the place of.
	Overrides []string

	Sources     map[string]*Source
	Terms       Terms
	Facts       map[string]*Fact
	Calculators []*Calculator
	Findings    []*Finding
	Defects     []*Defect
	Warnings    []*Warning

	facts      []*Fact             // in order of id
	findingOf  map[string]*Finding // by the fact it derives
	every      []*Method           // see Methods
	methods    map[string]*Method
	late       map[*Method]func() // reads a method that was not read with the rest
	defects    map[string]*Defect
	treating   map[string][]*Method  // by defect id
	warningsOn map[string][]*Warning // by emission; "" those that hold whatever is done
	tables     map[string]*Table
	order      *Order
	lateOrder  func() // reads order, of a book that did not read it with the rest
	tableMu    sync.Mutex
	lateTable  func(id string) (*Table, error) // reads a table that was not read with the rest
	digest     func() string
	env        *condition.Env
	compiled   sync.Map // text to *condition.Condition; rules often ask the same

	signsOnce   sync.Once
	signs       signs // of the kinds; see Kinds
	readersOnce sync.Once
	readers     map[string]*readers // by fact
	reach       sync.Map            // fact to *Reach
	readBys     sync.Map            // *Method to the facts that it reads
}

func (b *Book) compile(text string) (*condition.Condition, *condition.Error) {
	if c, ok := b.compiled.Load(text); ok {
		return c.(*condition.Condition), nil
	}
	c, err := b.env.Compile(text)
	if err != nil {
		return nil, err
	}
	shared, _ := b.compiled.LoadOrStore(text, c)
	return shared.(*condition.Condition), nil
}

// Digest is the SHA-256 of the files, in hexadecimal.
func (b *Book) Digest() string { return b.digest() }

// Table returns the table called id. A book that was read with LoadTrusted reads a table when it
// is first asked for: most answers need few of them. The error says that there is no such table,
// or every mistake in it.
func (b *Book) Table(id string) (*Table, error) {
	b.tableMu.Lock()
	defer b.tableMu.Unlock()
	if t, ok := b.tables[id]; ok {
		return t, nil
	}
	if b.lateTable == nil {
		return nil, fmt.Errorf("there is no table %q", id)
	}
	t, err := b.lateTable(id)
	if err == nil {
		b.tables[id] = t
	}
	return t, err
}

// FactAt returns the fact with an Index.
func (b *Book) FactAt(index int) *Fact { return b.facts[index] }

// CountFacts is how many facts there are.
func (b *Book) CountFacts() int { return len(b.facts) }

// FindingFor returns the finding that derives fact, or nil.
func (b *Book) FindingFor(fact string) *Finding { return b.findingOf[fact] }

// Defect returns the defect kind called id, or nil.
func (b *Book) Defect(id string) *Defect { return b.defects[id] }

// WarningsOn lists the warnings that hang on an emission; with "", those that hold for a mark whatever is done.
func (b *Book) WarningsOn(emission string) []*Warning { return b.warningsOn[emission] }

// Source says what stands behind a rule or a row.
type Source struct {
	ID    string
	Kind  string // one of SourceKinds
	Title string
	Where string // address, or ""
	Pos   strictyaml.Pos
}

// SourceKinds are the kinds of source, strongest first.
var SourceKinds = []string{"regulation", "standard", "handbook", "paper", "guide", "common-practice", "memory", "design-choice"}

// Term is a word of a closed list.
type Term struct{ ID, Means string }

// Aim says which outcomes meet one answer to the aim question.
type Aim struct {
	Aim      string
	Outcomes []string
}

// Stage is a stage of the work on a piece.
type Stage struct {
	ID, Means string
	// Across is how far it keeps its place: one of Wheres. Later stages of the same surface wait for it, or of the whole piece.
	Across string
	// Whole says that its steps are not left half done, Once that a surface goes through it once, whatever
	// the number of its marks.
	Whole, Once bool
}

// StageIDs are the ids of the stages, in working order.
func (t *Terms) StageIDs() []string {
	ids := make([]string, len(t.Stages))
	for i, s := range t.Stages {
		ids[i] = s.ID
	}
	return ids
}

// Terms are the closed lists that rule files draw on.
type Terms struct {
	Emissions []Term   // what a method gives off or uses
	Sanding   []string // the emissions of sanding itself, whatever it is part of
	Stages    []Stage  // in working order
	AimFact   string   // the choice fact that holds the aim
	Aims      []Aim
}

// Subjects are what facts are about, from the widest to the narrowest, and then what is computed
// of one repair: of its cut, of what it puts into the air, of the coat it lays.
var Subjects = []string{"shop", "piece", "surface", "defect", "sand", "air", "coat"}

// ofMark is the place of the marks among Subjects; those after it exist only in the scene of a repair.
const ofMark = 3

// OfRepair reports whether a fact, by its id, is computed of one repair.
func OfRepair(id string) bool {
	subject, _, _ := strings.Cut(id, ".")
	return slices.Contains(Subjects[ofMark+1:], subject)
}

// Answer is one answer of a choice or several-of fact.
type Answer struct{ ID, Means string }

// Efforts are what a question costs, least first.
var Efforts = []string{"look", "touch", "measure", "spot-test", "take-apart"}

// Fact is one thing that can be known.
type Fact struct {
	ID      string
	Subject string
	Ask     string // the question; "" if it is never asked
	Tell    string // how to tell
	Kind    condition.Kind
	Answers []Answer
	Unit    string         // of a quantity
	Bounds  interval.Range // of a quantity
	// Spread is the ± taken for a quantity that was typed without one, in Unit.
	Spread     float64
	Effort     string
	Harms      string // what a spot test or taking apart may harm
	Applies    *Cond  // nil: always
	Protective bool   // protects the person: lowers a probability by one level at most
	Index      int    // its place among the facts of the book, in order of id; conditions call it by that
	Computed   string // "calculator.output", or ""
	Lookup     *Lookup
	Sources    []string
	Pos        strictyaml.Pos
	Own        Own

	breadth int // of Subject, among Subjects
}

// Asked reports whether the fact is put to a person.
func (f *Fact) Asked() bool { return f.Ask != "" }

// OfRepair reports whether the fact is computed of one repair.
func (f *Fact) OfRepair() bool { return f.breadth > ofMark }

// OfMark reports whether the fact is about one mark, or computed of one repair of it.
func (f *Fact) OfMark() bool { return f.breadth >= ofMark }

// Means returns the meaning of an answer, or the answer itself.
func (f *Fact) Means(answer string) string {
	for _, a := range f.Answers {
		if a.ID == answer {
			return a.Means
		}
	}
	return answer
}

// Lookup takes a fact from a table row chosen by another fact.
type Lookup struct{ Table, Column, By string }

// Calculator names the facts that feed an arithmetic package.
type Calculator struct {
	ID     string
	Inputs map[string]string // role to fact id
	Pos    strictyaml.Pos
}

// Cond is a condition of the rulebook, at its place.
type Cond struct {
	Text string
	Pos  strictyaml.Pos
	book *Book
	once sync.Once
	comp *condition.Condition
	err  error
	// shares are what Share has worked out: for each fact that the condition reads the part of the answers
	// under which it does not come out unknown, false or true.
	sharesOnce sync.Once
	shares     [][3]float64
}

// Compile returns the compiled condition, compiling it when first needed: most conditions of a
// rulebook are not needed for a given job. The error points at the place in the file.
func (c *Cond) Compile() (*condition.Condition, error) {
	c.once.Do(func() {
		comp, err := c.book.compile(c.Text)
		if err != nil {
			c.err = c.Pos.ErrorAt(err.Offset, "%s", err.Msg)
			return
		}
		c.comp = comp
	})
	return c.comp, c.err
}

// Clause is a condition with the reason it stands for.
type Clause struct {
	When    *Cond
	Because string
	Sources []string
}

// Finding derives a fact from facts, first match in order.
type Finding struct {
	ID       string
	Derives  string
	Branches []Branch
	Cases    []Case
	Survives []Survivor
	Pos      strictyaml.Pos
	Own      Own
}

// Branch is one line of a finding.
type Branch struct {
	Clause
	Is condition.Value
}

// Defect is a kind of defect.
type Defect struct {
	ID, Name, What string
	Signs          []Clause // all of them
	Tell           []TellApart
	IfLeft         string
	Urgency        string // one of Urgencies
	Use            string // one of Uses
	Sources        []string
	Cases          []Case
	Survives       []Survivor
	Pos            strictyaml.Pos
	Own            Own
	Index          int // its place among the kinds of the book, in order of id
}

// Urgencies say how soon a defect wants treating, least first.
var Urgencies = []string{"none", "soon", "now"}

// Uses say whether a piece with the defect may be used, least restricted first.
var Uses = []string{"as-usual", "careful", "stop"}

// TellApart tells a defect kind from one that looks like it.
type TellApart struct{ From, By string }

// Warning is a danger to point out.
type Warning struct {
	ID      string
	Signal  string   // one of Signals
	On      []string // emissions; empty: holds for a mark whatever is done
	When    *Cond    // nil: always
	Text    string
	Wear    []string
	IfWrong string
	Sources []string
	Cases   []Case
	// Survives are changes of the warning that make no difference.
	Survives []Survivor
	Pos      strictyaml.Pos
	Own      Own
}

// Signals are the signal words, gravest first.
var Signals = []string{"danger", "warning", "caution", "notice"}

// Case states how a rule behaves.
type Case struct {
	That       string
	Given      map[string]condition.Value
	Method     string // of a warning's case
	Then       string
	Harms      map[string]Weight // expected, by harm id
	NeverReady []string
	Best       string
	Pos        strictyaml.Pos
}

// Weight is how grave and how likely a case expects a harm to be. Severity is -1 where it does not say.
type Weight struct{ Severity, Level int }

// Survivor is a change of a rule (see Mutant) that no case needs to catch, and why.
type Survivor struct {
	Change, Because string
	Pos             strictyaml.Pos
}

// Table is rows of values by a key.
type Table struct {
	ID      string
	Key     string
	Columns []Column
	Rows    []*Row // in file order
	Pos     strictyaml.Pos
	byKey   map[string]*Row
}

// Row returns the row called key, or nil.
func (t *Table) Row(key string) *Row { return t.byKey[key] }

// Column describes one column of a table.
type Column struct {
	ID    string
	Kind  string // number, range or text
	Means string
}

// Row is one row of a table.
type Row struct {
	Key     string
	Texts   map[string]string
	Ranges  map[string]interval.Range // numbers are exact ranges
	Sources []string
	Pos     strictyaml.Pos
}
