package rules

import (
	"mendwright/rules/condition"
	"mendwright/rules/interval"
	"mendwright/rules/strictyaml"
)

// Outcomes are what a method can achieve, best first.
var Outcomes = []string{"restores", "reduces", "hides", Holds}

// Holds is the outcome of what only keeps a mark from getting worse, or hands it to somebody else.
const Holds = "holds"

// Undos say whether a method can be undone, best first.
var Undos = []string{"yes", "partly", "no"}

// Method is a way to treat defects.
type Method struct {
	ID, Name, What string
	Treats         []string
	Stage          string
	Covers         string   // one of Wheres: what one doing of it covers
	Suits          []Clause // all must be true
	Never          []Clause // each must be false
	Achieves       string
	Undo           string
	GivesOff       []string
	Sanding        *Sanding       // nil: no grit programme
	Vapour         *Choice        // what evaporates; nil: nothing to reckon
	Coat           *NewCoat       // the coat it lays; nil: none
	TakesWood      interval.Range // mm, of a cut not made by grits
	Harms          []Harm
	Leaves         []Leave
	Materials      []Material
	Tools          []string
	Protection     []string
	Minutes        [3]float64 // low, likely, high; hands-on
	Waits          []Wait
	Steps          []Step
	// Beside says why the method stands although another always ranks before it; nil: it can be the best.
	Beside   *Beside
	Cases    []Case
	Survives []Survivor
	Pos      strictyaml.Pos
	Own      Own
}

// Beside names a method that always ranks before this one, and why this one stands all the same.
type Beside struct {
	Method, Because string
	Pos             strictyaml.Pos
}

// Has reports whether the method has what the calculator of that name computes with.
func (m *Method) Has(calculator string) bool {
	switch calculator {
	case "sanding":
		return m.Sanding != nil
	case "vapour":
		return m.Vapour != nil
	case "weather", "pairing":
		return m.Coat != nil
	}
	return false
}

// Choice names a row of a table: Of itself, or the answer of the fact By.
type Choice struct{ Of, By string }

// NewCoat is the coat that a method lays.
type NewCoat struct {
	Choice
	Sprayed bool
}

// Sanding is the grit programme of a method.
type Sanding struct {
	ToDefect bool // down to the bottom of the mark, not only a fresh surface
	Grits    []string
}

// Harm is what a method may do wrong. Severity counts from 0, catastrophic; levels count from
// 0, frequent, to 5, eliminated.
type Harm struct {
	ID, What    string
	ToPerson    bool
	Severity    int
	Probability int
	// From is a quantity in percent whose upper end, once known, replaces Probability; "" if none.
	From    string
	Raised  []Shift
	Lowered []Shift
	Sources []string
	Pos     strictyaml.Pos
}

// Shift moves a harm's probability.
type Shift struct {
	When    *Cond
	To      int
	Because string
}

// Leave is a fact as a method leaves it for the next one.
type Leave struct {
	Fact    string
	To      *condition.Value // nil with Times nil: becomes unknown
	Times   *interval.Range  // the quantity is multiplied
	Because string
	Sources []string
	Pos     strictyaml.Pos
}

// Wait is a time to let pass after a method, in hours.
type Wait struct {
	For   string
	Hours interval.Range
	// Wood says that it is wood that dries: it is done when it has settled to the air it stands in.
	Wood    bool
	Because string
	Sources []string
}

// Step is one step of a method, with the sign to stop.
type Step struct{ Do, Stop string }
