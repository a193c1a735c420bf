package engine

import (
	"maps"
	"slices"
	"strings"

	"mendwright/rules"
	"mendwright/rules/condition"
)

// reason writes out how a clause came out and what that rests on.
func (s *scene) reason(c rules.Clause) Reason {
	return s.reasonAs(c, s.eval(c.When))
}

// reasonAs is reason of a clause that was judged.
func (s *scene) reasonAs(c rules.Clause, o condition.Outcome) Reason {
	r := Reason{Rule: c.When.Text, Outcome: o.String(), Because: c.Because, Sources: c.Sources}
	if o == condition.Unknown {
		r.Missing = s.ids(s.asks(s.lacks(c.When, nil)))
	}
	comp, err := c.When.Compile()
	if err != nil {
		return r
	}
	r.RestsOn = s.restsOn(comp.Places)
	return r
}

// rest writes out a fact with, where it was not answered, what gave it.
func (s *scene) rest(decl *rules.Fact, f *fact) Rest {
	rest := Rest{Fact: decl.ID, Answer: decl.Show(f.value), How: f.how}
	var why Reason
	switch f.how {
	case Found:
		why = s.reason(f.finding.Branches[f.branch].Clause)
	case LookedUp:
		row := s.row(decl.Lookup.Table, s.resolve(decl.Lookup.By).value.Choice())
		why = Reason{Rule: decl.Lookup.Table + "." + decl.Lookup.Column, Outcome: condition.True.String(),
			Because: "the table " + decl.Lookup.Table + " says so", RestsOn: s.restsOnNamed([]string{decl.Lookup.By}), Sources: row.Sources}
	case Computed:
		id, _, _ := strings.Cut(decl.Computed, ".")
		why = Reason{Rule: decl.Computed, Outcome: condition.True.String(), Because: s.reckon(id).because(),
			RestsOn: s.restsOnNamed(slices.Collect(maps.Values(s.calculator(id).Inputs))), Sources: decl.Sources}
	default:
		return rest
	}
	rest.Why = &why
	return rest
}

// restsOn lists those of the facts, by index, that are known. Each is written out once: what a fact rests on is
// never about less than the fact itself, and so it is the same whoever asks.
func (s *scene) restsOn(facts []int) []Rest {
	out := make([]Rest, 0, len(facts))
	for _, at := range facts {
		decl := s.book.FactAt(at)
		f := s.resolved(decl)
		if !f.known {
			continue
		}
		if f.rest == nil {
			rest := s.rest(decl, f)
			f.rest = &rest
		}
		out = append(out, *f.rest)
	}
	return out
}

func (s *scene) restsOnNamed(ids []string) []Rest {
	var at []int
	for _, id := range ids {
		if f := s.book.Facts[id]; f != nil {
			at = append(at, f.Index)
		}
	}
	slices.Sort(at)
	return s.restsOn(at)
}
