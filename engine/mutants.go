package engine

import (
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"mendwright/rules"
	"mendwright/rules/strictyaml"
)

// MutantRun is what the cases beside the rules made of the rules' mutants.
type MutantRun struct {
	Rulebook RulebookID `json:"rulebook"`
	Rules    int        `json:"rules"`
	Mutants  int        `json:"mutants"`
	Caught   int        `json:"caught"`        // a case comes out differently
	Of100    int        `json:"caught_of_100"` // of 100 mutants, rounded down
	Same     int        `json:"mean_the_same"` // left out of Mutants: they mean what the rule means
	// Survived are the mutants that no case tells from the rule, in the order of the rules.
	Survived []Survived `json:"survived"`
	// Mistakes are entries under survives for a change that is caught or that there is not.
	Mistakes []Failure `json:"mistakes"`
}

// Survived is a mutant that no case caught. It says where the rule was changed, and what.
type Survived struct {
	Failure
	Because string       `json:"because,omitempty"` // why that is right, as the rule's file says it
	Mutant  rules.Mutant `json:"-"`
}

// RunMutants changes the rules one thing at a time and tries the cases on each change: those of the rule
// itself, and those of other rules that could notice. Only what a case says counts, not that every
// condition has been seen both ways.
func RunMutants(book *rules.Book, tables *Tables, of []rules.Rule) *MutantRun {
	parts := make([]MutantRun, len(of))
	var next atomic.Int64
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			b := newBench(book, tables)
			for i := int(next.Add(1)) - 1; i < len(of); i = int(next.Add(1)) - 1 {
				b.mutants(of[i], &parts[i])
			}
		})
	}
	wg.Wait()
	run := &MutantRun{Rulebook: rulebookID(book), Rules: len(of), Of100: 100, Survived: []Survived{}, Mistakes: []Failure{}}
	for _, p := range parts {
		run.Mutants += p.Mutants
		run.Caught += p.Caught
		run.Same += p.Same
		run.Survived = append(run.Survived, p.Survived...)
		run.Mistakes = append(run.Mistakes, p.Mistakes...)
	}
	if run.Mutants > 0 {
		run.Of100 = 100 * run.Caught / run.Mutants
	}
	return run
}

func (b *bench) mutants(of rules.Rule, run *MutantRun) {
	all, same := b.book.Mutants(of)
	run.Same = same
	explained := map[string]rules.Survivor{}
	for _, s := range of.Survives() {
		explained[s.Change] = s
	}
	for _, m := range all {
		s, said := explained[m.Change]
		run.Mutants++
		switch caught := b.catches(of, m.Rule); {
		case caught && said:
			run.Mistakes = append(run.Mistakes, failure(s.Pos.Error("a case catches this change: it does not survive")))
			fallthrough
		case caught:
			run.Caught++
		default:
			run.Survived = append(run.Survived, Survived{failure(m.Pos.Error("%s%s", m.Change, lacking(m))), s.Because, m})
		}
	}
	for _, s := range of.Survives() {
		if !slices.ContainsFunc(all, func(m rules.Mutant) bool { return m.Change == s.Change }) {
			var changes []string
			for _, m := range all {
				changes = append(changes, m.Change)
			}
			run.Mistakes = append(run.Mistakes, failure(s.Pos.Error("there is no such change of this rule%s", strictyaml.Nearest(s.Change, changes))))
		}
	}
}

// lacking says which case is missing for anybody to notice.
func lacking(m rules.Mutant) string {
	if m.Lacks == "" {
		return ""
	}
	return "; no case " + m.Lacks
}

// catches reports whether some case tells a rule from its mutant.
func (b *bench) catches(of, mutant rules.Rule) bool {
	cases := of.Cases()
	for i := range cases {
		if !b.stage(&cases[i]).try(mutant).As(&cases[i]) {
			return true
		}
	}
	switch {
	case of.Finding != nil:
		return b.othersCatchFinding(of.Finding, mutant.Finding)
	case of.Defect != nil:
		return b.othersCatchDefect(of.Defect, mutant.Defect)
	case of.Method != nil:
		return b.othersCatchMethod(of.Method, mutant.Method)
	}
	return false
}

// othersCatchMethod looks at what the cases of its kinds say comes first and what is never ready.
func (b *bench) othersCatchMethod(of, mutant *rules.Method) bool {
	for _, d := range b.book.Defects {
		if !slices.Contains(of.Treats, d.ID) {
			continue
		}
		for i := range d.Cases {
			k := &d.Cases[i]
			if k.Best == "" && !slices.Contains(k.NeverReady, of.ID) {
				continue
			}
			if t := b.stage(k); t.misranked(t.ranked(t.candidates(), mutant)) {
				return true
			}
		}
	}
	return false
}

// misranked reports whether the case of a defect kind says otherwise of the methods.
func (t *trial) misranked(judged []*verdict) bool {
	return t.of.Best != "" && best(judged) != t.of.Best ||
		slices.ContainsFunc(t.of.NeverReady, func(id string) bool { return ready(judged, id) })
}

// othersCatchDefect looks at the methods for the mark, in the cases of all kinds and of the methods.
func (b *bench) othersCatchDefect(of, mutant *rules.Defect) bool {
	for _, d := range b.book.Defects {
		for i := range d.Cases {
			k := &d.Cases[i]
			if k.Best == "" && len(k.NeverReady) == 0 {
				continue
			}
			t := b.stage(k)
			if t.sees(mutant) && t.misranked(t.ranked(t.withKind(mutant), nil)) {
				return true
			}
		}
	}
	for _, m := range b.book.Treating(of.ID) {
		for i := range m.Cases {
			k := &m.Cases[i]
			t := b.stage(k)
			if t.sees(mutant) && !t.method(m, t.withKind(mutant)).tried().As(k) {
				return true
			}
		}
	}
	return false
}

// sees reports whether a changed kind is another candidate in the case than the kind itself.
func (t *trial) sees(mutant *rules.Defect) bool {
	return t.isKind(t.candidates(), mutant.ID) != t.isKind(t.withKind(mutant), mutant.ID)
}

// othersCatchFinding looks at whatever rests on the fact that is found.
func (b *bench) othersCatchFinding(of, mutant *rules.Finding) bool {
	for _, r := range b.book.Rules() {
		cases := r.Cases()
		for i := range cases {
			t := b.stage(&cases[i])
			then, _ := t.finds(of)
			if changed, _ := t.finds(mutant); changed == then {
				continue
			}
			if b.fails(r, &cases[i], mutant) {
				return true
			}
		}
	}
	return false
}

// fails reports whether a case comes out otherwise with a changed finding.
func (b *bench) fails(r rules.Rule, k *rules.Case, mutant *rules.Finding) bool {
	t := b.stageAnew(k)
	at := t.scene
	if at.wide != nil && !narrow(mutant.Derives) {
		at = at.wide
	}
	derives := b.book.Facts[mutant.Derives]
	f := at.facts.at(derives.Index, b.book.CountFacts())
	*f = at.join(at.answered(derives.ID), mutant)
	f.resolved = true
	return !t.try(r).As(k) || r.Defect != nil && t.misranked(t.ranked(t.candidates(), nil))
}
