// Package engine is the reasoning over one job: which kinds of defect a mark may be, which
// repairs are ready, need an answer or are ruled out, what they risk, in which order they come,
// what to warn of and what to ask next.
//
// It is pure: no clock, no files, no randomness, and no map order in its results. It knows no
// timber and no tool by name; all of that comes in the rulebook and the tables.
package engine

import (
	"slices"

	"mendwright/rules/condition"
)

// Subject is what was answered about one thing: the piece, the shop, a surface or a defect.
// The zero Subject is one that nothing was asked about.
type Subject struct {
	// Answers holds the known answers by fact id.
	Answers map[string]condition.Value
	// CannotTell holds the facts that were looked at and not settled. They are unknown to
	// rules and not asked again.
	CannotTell map[string]bool
	// Confirmed holds the facts whose direct answer stands against a finding that says otherwise.
	Confirmed map[string]bool
}

// Programme is a sanding programme that the person chose for a surface.
type Programme struct {
	Grits []string // nil: the method's own
	Tool  string   // "": the tables' default
	// Keep is what must stay, in mm; nil is the tables' figure for the layer. A thin layer cannot
	// be given a lower one, a solid board can: some panels are thinner than most.
	Keep *float64
}

// Surface is one face or part; hardware is a surface too.
type Surface struct {
	Subject
	Programme Programme
}

// Mark is one defect on a surface.
type Mark struct {
	ID string
	On string // name of the surface; "" if none was named
	Subject
	Repair string // the method that the person picked; "" if none
	Done   []Done // what was done to it so far, in this order
}

// Outcomes of what was done to a mark.
const (
	Enough    = "enough"     // nothing is left to do
	NotEnough = "not-enough" // it helped, and something is left
	Failed    = "failed"     // it did not help
)

// CameOut are the outcomes of what was done, best first.
var CameOut = []string{Enough, NotEnough, Failed}

// Done is a repair that was done to a mark.
type Done struct {
	Method  string
	On      string // the day, as YYYY-MM-DD; "" if nobody wrote it down
	CameOut string // one of CameOut
	// Found is what was seen and measured afterwards, by fact: of the mark, its surface, the piece or the shop.
	Found Subject
}

// Mended is what was done to the mark that was enough, nil if something is left to do.
func (m *Mark) Mended() *Done {
	for i := range m.Done {
		if m.Done[i].CameOut == Enough {
			return &m.Done[i]
		}
	}
	return nil
}

// Tried reports whether the method was done to the mark and was not enough.
func (m *Mark) Tried(method string) bool {
	return slices.ContainsFunc(m.Done, func(d Done) bool { return d.Method == method && d.CameOut != Enough })
}

// Job is all that is known of a piece.
type Job struct {
	Name     string
	Piece    Subject
	Shop     Subject
	Surfaces map[string]*Surface
	Defects  []*Mark
	Planning Planning
}
