// Package audit looks for nonsense in a rulebook that reads and verifies well: conditions that can
// never be true, repairs that are never ready or never the best, rules that say the same or the
// opposite, marks that are left with nothing, facts that nobody reads.
//
// It decides and does not sample. A condition tells apart only finitely many answers to each fact:
// the words of a choice, yes and no, the numbers that a quantity is compared with and the gaps
// between them. So each question is whether some answers make a formula over such cells true, and
// those answers are shown as the witness. What a finding derives and a table gives is put in its
// place. Three things are taken as they may be: a fact that is asked and found may have either
// answer, since a person may insist on what they see; a fact that some repair leaves in another
// state may have any; and what is reckoned of a repair may come out in any way or, where a report
// would rest on it, in none. So what is reported is so; now and then something is not reported
// because only the arithmetic knows it.
package audit

import (
	"io/fs"
	"slices"

	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/strictyaml"
)

// Report is what an audit found. Faults are rules that cannot judge as they were meant to; notes
// are dead weight, which judges nothing and hurts nobody.
type Report struct {
	Digest string  `json:"digest"` // of the rulebook
	Faults []Fault `json:"faults"`
	Notes  []Fault `json:"notes"`
	// Conditions is how many were looked at.
	Conditions int `json:"conditions"`
	// Undecided counts questions that were given up as too long; none is reported as a fault.
	Undecided int `json:"undecided"`
}

// Check audits a rulebook that was read whole, cases and all, from files. cited are sources that
// something outside the rulebook rests on.
func Check(book *rules.Book, files fs.FS, cited []string) (*Report, error) {
	a := newAudit(book)
	for _, look := range []func(){a.conditions, a.branches, a.bans, a.repairs, a.best, a.sameClauses, a.sameRules, a.opposites,
		a.gaps, a.unpicked, a.unheard, a.unread, a.undistinguished, a.withoutCase} {
		look()
	}
	a.uncited(cited)
	if err := a.promises(files); err != nil {
		return nil, err
	}
	return &Report{Digest: book.Digest(), Faults: inOrder(a.faults), Notes: inOrder(a.notes), Conditions: len(a.places), Undecided: a.undecided}, nil
}

// audit is one audit under way.
type audit struct {
	book          *rules.Book
	faults, notes []Fault

	vars   []*variable
	byKey  map[string]*variable
	cuts   map[string][]float64 // the numbers that each quantity is compared with
	left   map[string]bool      // the facts that some repair leaves in another state
	trees  map[*rules.Cond]*condition.Tree
	truths map[truthKey]*formula
	gating map[string]bool
	risks  map[*rules.Method]*weighed
	rivals map[[2]*rules.Method]*formula

	places    []place
	dead      map[*rules.Cond]bool // conditions already reported
	deadFor   map[*rules.Method]bool
	undecided int
}

// place is a condition with what it is there for.
type place struct {
	cond *rules.Cond
	m    *rules.Method // whose it is, if it is a method's
	what string        // "sign", "never"
}

func newAudit(book *rules.Book) *audit {
	a := &audit{book: book, byKey: map[string]*variable{}, cuts: map[string][]float64{}, left: map[string]bool{}, trees: map[*rules.Cond]*condition.Tree{},
		truths: map[truthKey]*formula{}, gating: map[string]bool{}, risks: map[*rules.Method]*weighed{}, rivals: map[[2]*rules.Method]*formula{},
		dead: map[*rules.Cond]bool{}, deadFor: map[*rules.Method]bool{}}
	a.places = places(book)
	for _, p := range a.places {
		if comp, err := p.cond.Compile(); err == nil {
			for fact, cuts := range comp.Cuts {
				a.cuts[fact] = append(a.cuts[fact], cuts...)
			}
		}
	}
	for _, m := range book.Methods() {
		for _, l := range m.Leaves {
			a.left[l.Fact] = true
		}
	}
	return a
}

// places lists every condition of a rulebook.
func places(book *rules.Book) []place {
	var out []place
	add := func(c *rules.Cond, m *rules.Method, what string) {
		if c != nil {
			out = append(out, place{c, m, what})
		}
	}
	for _, id := range factIDs(book) {
		add(book.Facts[id].Applies, nil, "applies")
	}
	for _, f := range book.Findings {
		for _, b := range f.Branches {
			add(b.When, nil, "branch")
		}
	}
	for _, d := range book.Defects {
		for _, c := range d.Signs {
			add(c.When, nil, "sign")
		}
	}
	for _, m := range book.Methods() {
		for _, c := range m.Suits {
			add(c.When, m, "suits")
		}
		for _, c := range m.Never {
			add(c.When, m, "never")
		}
		for _, h := range m.Harms {
			for _, s := range h.Raised {
				add(s.When, m, "raised")
			}
			for _, s := range h.Lowered {
				add(s.When, m, "lowered")
			}
		}
	}
	for _, w := range book.Warnings {
		add(w.When, nil, "warning")
	}
	o := book.Order()
	for _, p := range o.Pairs {
		add(p.When, nil, "pair")
	}
	for _, c := range o.Chores {
		add(c.When, nil, "chore")
	}
	for _, m := range o.Aftermaths {
		add(m.When, nil, "aftermath")
	}
	return out
}

func factIDs(book *rules.Book) []string {
	ids := make([]string, 0, len(book.Facts))
	for id := range book.Facts {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
}

// reporting is either of fault and note.
type reporting func(sort string, at strictyaml.Pos, w Witness, format string, args ...any)

func (a *audit) fault(sort string, at strictyaml.Pos, w Witness, format string, args ...any) {
	a.faults = append(a.faults, newFault(sort, at.Error(format, args...), w))
}

func (a *audit) note(sort string, at strictyaml.Pos, w Witness, format string, args ...any) {
	a.notes = append(a.notes, newFault(sort, at.Error(format, args...), w))
}
