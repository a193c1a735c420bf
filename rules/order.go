package rules

import (
	"cmp"
	"slices"

	"mendwright/rules/condition"
	"mendwright/rules/interval"
	"mendwright/rules/strictyaml"
)

// Order is what puts the repairs of a piece into one order of work: which spoils which, what has to be
// done around them, what they leave to be done, and what has to be bought. All lists are sorted by id.
type Order struct {
	Pairs      []*Pair
	Chores     []*Chore
	Aftermaths []*Aftermath
	Goods      map[string]*Good
}

// Good returns what can be bought under an id, nil if there is no such thing.
func (o *Order) Good(id string) *Good { return o.Goods[id] }

// Selector picks methods: those that fit every part that is set, except But. The zero Selector picks all.
type Selector struct {
	Stages, GivesOff, Methods, Coats, But []string
}

// Picks reports whether the selector picks a method which lays the coat named; "" if it lays none.
func (s Selector) Picks(m *Method, coat string) bool {
	switch {
	case slices.Contains(s.But, m.ID):
		return false
	case len(s.Stages) > 0 && !slices.Contains(s.Stages, m.Stage):
		return false
	case len(s.Methods) > 0 && !slices.Contains(s.Methods, m.ID):
		return false
	case len(s.Coats) > 0 && !slices.Contains(s.Coats, coat):
		return false
	}
	return len(s.GivesOff) == 0 || slices.ContainsFunc(s.GivesOff, func(e string) bool { return slices.Contains(m.GivesOff, e) })
}

// Wheres say how far a rule of order reaches, nearest first: the same mark, the same surface, the whole piece.
var Wheres = []string{"mark", "surface", "piece"}

// Pair is two repairs of which one spoils the other.
type Pair struct {
	ID          string
	First, Next Selector
	Where       string // one of Wheres
	When        *Cond  // of where Next is done; nil: always; acts unless it is false
	// Hard is false for what is better in this order and not spoilt in the other.
	Hard bool
	// Between is what has to be done after First and before Next; nil: nothing.
	Between *Between
	// Instead is what saves both where no order does; "" where the order does. Swap names the methods of which
	// one may stand in for First.
	Instead string
	Swap    []string
	Because string
	Sources []string
	Cases   []PairCase
	Pos     strictyaml.Pos
	Own     Own
}

// Between is what has to be done between two steps, and how long it takes until the next may begin.
type Between struct {
	Do    string
	Hours interval.Range
}

// PairCase states whether a pair holds two methods under some answers.
type PairCase struct {
	That        string
	First, Next string
	Given       map[string]condition.Value
	Holds       bool
	Pos         strictyaml.Pos
}

// Chore is a step that mends no mark: what a careful hand does around the repairs.
type Chore struct {
	ID, Name  string
	With      Selector // it is done if a repair of the plan is picked
	Where     string   // once for each of these; one of Wheres
	When      *Cond    // nil: always; acts unless it is false
	Stage     string
	Minutes   [3]float64
	Waits     []Wait
	Materials []Material
	Steps     []Step
	// Compare are the columns of a table to fill in, of a chore that is a trial; nil otherwise.
	Compare []string
	Because string
	Sources []string
	Pos     strictyaml.Pos
	Own     Own
}

// Aftermath is a mark that repairs leave behind, such as bare wood where a film was taken off.
type Aftermath struct {
	ID   string
	When *Cond // of the surface as the repairs leave it; acts only if it is true, and was not before
	// Unless picks the repairs that already see to it.
	Unless Selector
	// Mark are the facts of the mark that is left, by id.
	Mark    map[string]condition.Value
	Because string
	Sources []string
	Pos     strictyaml.Pos
	Own     Own
}

// Good is something to buy.
type Good struct {
	ID, Name string
	Unit     string // as it is measured: L, ml, kg, g, m, sheets, pieces
	// Covers is how many m² one unit covers once; the zero Range: nobody says.
	Covers interval.Range
	Waste  float64 // what is lost, as a share of what is used
	// Keep and Discard are what is dangerous in keeping it and in throwing it away; "" if nothing.
	Keep, Discard string
	Sources       []string
	Pos           strictyaml.Pos
	Own           Own
}

// Material is what a method uses up: words, or a Good with how much of it.
type Material struct {
	Text string
	Good string // "" if it is words only, or the answer of the fact By names it
	By   string
	// Coats is how often it goes over the whole area, Each how much a mark takes in the good's unit.
	Coats, Each float64
}

// Order is what puts the repairs of a piece into one order of work. A trusted book reads it when it is first
// asked for.
func (b *Book) Order() *Order {
	if b.lateOrder != nil {
		b.lateOrder()
	}
	if b.order == nil { // of a book that was not loaded
		return &Order{}
	}
	return b.order
}

func (o *Order) sort() {
	slices.SortFunc(o.Pairs, func(x, y *Pair) int { return cmp.Compare(x.ID, y.ID) })
	slices.SortFunc(o.Chores, func(x, y *Chore) int { return cmp.Compare(x.ID, y.ID) })
	slices.SortFunc(o.Aftermaths, func(x, y *Aftermath) int { return cmp.Compare(x.ID, y.ID) })
}
