// Package depth is the arithmetic of sanding: what a programme of grits takes, what the layer
// can lose, and the chance of going through. All lengths are millimetres unless a name says
// otherwise; every measured input is a range.
//
// It knows no rule and no job; its tables come from outside.
package depth

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"mendwright/rules/interval"
)

// Clearance is what one grit leaves for the next to take.
type Clearance struct {
	Grit string  // "120"
	MM   float64 // what the next grit must take to reach the bottom of this grit's scratches
	U    float64 // standard uncertainty of MM
	Most float64 // the most this grit should take itself
}

// Tool is how hard a tool cuts compared with the machine the clearances were measured on.
type Tool struct {
	Factor interval.Range // multiplies every clearance
	Pass   interval.Range // what one pass with grit 120 takes
}

// Tables are the figures the arithmetic stands on.
type Tables struct {
	Clearances []Clearance        // any order
	Grains     map[string]float64 // grain size in micrometres by grade, such as "P80" and "CAMI 80"
	Tools      map[string]Tool
}

// Layer is what may be sanded.
type Layer struct {
	Thickness interval.Range // measured over the film
	Keep      float64        // what must stay
	// Most bounds what may be taken whatever the thickness; 0 means no such bound.
	Most float64
}

// Allowance is what the layer can lose: thickness less keep, and at most Most.
func (l Layer) Allowance() interval.Range {
	a := l.Thickness.Sub(interval.Exact(l.Keep))
	if l.Most > 0 {
		a = interval.Range{Lo: min(a.Lo, l.Most), Hi: min(a.Hi, l.Most)}
	}
	return a
}

// Cut is a sanding programme on one place.
type Cut struct {
	Film   interval.Range // thickness of film to cut through; 0 if stripped
	Defect interval.Range // depth of the mark that is left to sand out
	Grits  []string       // coarsest first
	Tool   string
}

// Take is what a cut takes off.
type Take struct {
	Film, Defect interval.Range
	Clearances   interval.Range // sum over all grits but the last, times the tool's factor
	Total        interval.Range
	// spread is the root sum of squares of the clearances' uncertainties, times the factor.
	spread interval.Range
}

// Take adds up what c takes: film, defect, and for every grit but the last its clearance times
// the tool's factor (the factor and the figures are the tables'). The error names a grit or tool
// that the tables do not hold, or grits that do not go from coarse to fine.
func (t Tables) Take(c Cut) (Take, error) {
	if err := t.ordered(c.Grits); err != nil {
		return Take{}, err
	}
	tool, ok := t.Tools[c.Tool]
	if !ok {
		return Take{}, fmt.Errorf("the tool %q is not known", c.Tool)
	}
	var sum, squares float64
	for _, g := range c.Grits[:len(c.Grits)-1] {
		cl, err := t.clearance(g)
		if err != nil {
			return Take{}, err
		}
		sum += cl.MM
		squares += cl.U * cl.U
	}
	take := Take{Film: c.Film, Defect: c.Defect}
	take.Clearances = tool.Factor.Mul(interval.Exact(sum))
	take.Total = c.Film.Add(c.Defect).Add(take.Clearances)
	take.spread = tool.Factor.Mul(interval.Exact(math.Sqrt(squares)))
	return take, nil
}

// ordered checks that grits are known and go from coarse to fine.
func (t Tables) ordered(grits []string) error {
	steps, err := t.Steps(grits)
	if err != nil {
		return err
	}
	for _, s := range steps {
		if s.Ratio <= 1 {
			return fmt.Errorf("the grits must go from coarse to fine; %s comes after %s", s.To, s.From)
		}
	}
	return nil
}

// clearance finds the figure for a grit. A grit between two rows, or finer than the last, gets
// the next coarser row, which takes more; one coarser than the first has no figure.
func (t Tables) clearance(grit string) (Clearance, error) {
	size, err := t.Grain(grit)
	if err != nil {
		return Clearance{}, err
	}
	best, found := Clearance{}, false
	bestSize := math.Inf(1)
	for _, c := range t.Clearances {
		// One part in a hundred of play lets P80 find the row for 80 whichever scale is meant.
		if s, err := t.Grain(c.Grit); err == nil && s >= size*0.99 && s < bestSize {
			best, bestSize, found = c, s, true
		}
	}
	if !found {
		return Clearance{}, fmt.Errorf("there is no clearance figure for grit %s; it is coarser than all in the table", grit)
	}
	return best, nil
}

// Grain returns the grain size of a grade in micrometres. "120" is read as P120; a CAMI grade is
// written "CAMI 120".
func (t Tables) Grain(grit string) (float64, error) {
	name := strings.ToUpper(strings.TrimSpace(grit))
	if rest, ok := strings.CutPrefix(name, "CAMI"); ok {
		name = "CAMI " + strings.TrimSpace(rest)
	} else {
		name = "P" + strings.TrimSpace(strings.TrimPrefix(name, "P"))
	}
	size, ok := t.Grains[name]
	if !ok {
		return 0, fmt.Errorf("the grit %q is not known; expected a P grade such as 120 or P120, or CAMI 120", grit)
	}
	return size, nil
}

// Jump is how far apart two grits of a programme are.
type Jump int

// The jumps, by the ratio of grain sizes. The limits are a choice of this program, drawn from
// trade articles on grit sequence: no grade skipped up to 1.35, one skipped up to 1.65.
const (
	Close Jump = iota
	OneSkipped
	TooBig
)

func (j Jump) String() string { return [...]string{"close", "one-skipped", "too-big"}[j] }

// Step is one change of grit.
type Step struct {
	From, To string
	Ratio    float64 // grain size of From over that of To
	Jump     Jump
}

// Steps lists the changes of grit of a programme with at least one grit.
func (t Tables) Steps(grits []string) ([]Step, error) {
	if len(grits) == 0 {
		return nil, errors.New("a sanding programme needs at least one grit")
	}
	var steps []Step
	last := 0.0
	for i, g := range grits {
		size, err := t.Grain(g)
		if err != nil {
			return nil, err
		}
		if i > 0 {
			s := Step{From: grits[i-1], To: g, Ratio: last / size, Jump: TooBig}
			switch {
			case s.Ratio <= 1.35:
				s.Jump = Close
			case s.Ratio <= 1.65:
				s.Jump = OneSkipped
			}
			steps = append(steps, s)
		}
		last = size
	}
	return steps, nil
}

// Widest is the worst jump among steps; Close if there is none.
func Widest(steps []Step) Jump {
	if len(steps) == 0 {
		return Close
	}
	return slices.MaxFunc(steps, func(a, b Step) int { return int(a.Jump - b.Jump) }).Jump
}

// Capacity is the most that a programme can take in one go by the wide-belt rule: the most of
// its first grit and the clearances of all but the last. The first grit must stand in the table.
func (t Tables) Capacity(grits []string) (float64, error) {
	if err := t.ordered(grits); err != nil {
		return 0, err
	}
	first, err := t.clearance(grits[0])
	if err != nil {
		return 0, err
	}
	a, errA := t.Grain(first.Grit)
	b, errB := t.Grain(grits[0])
	if errA != nil || errB != nil || math.Abs(a-b) > 0.01*b {
		return 0, fmt.Errorf("there is no figure for the most that grit %s should take", grits[0])
	}
	total := first.Most
	for _, g := range grits[:len(grits)-1] {
		c, err := t.clearance(g)
		if err != nil {
			return 0, err
		}
		total += c.MM
	}
	return total, nil
}
