package screen

import (
	"fmt"

	"mendwright/engine"
)

// Cases writes what came of the cases beside rules.
func Cases(p *Page, run *engine.CaseRun) {
	failures(p, run.Failures)
	p.Text(0, fmt.Sprintf("%s of %s: %s.", count(run.Cases, "case"), count(run.Rules, "rule"),
		map[bool]string{true: "all come out as they say", false: count(len(run.Failures), "fault")}[len(run.Failures) == 0]))
}

// failures writes mistakes as they stand: a caret must keep its column.
func failures(p *Page, list []engine.Failure) {
	for _, f := range list {
		fmt.Fprintln(p.W, clean(f.Error()))
	}
	if len(list) > 0 {
		p.Blank()
	}
}

// Mutants writes which changes of the rules no case notices.
func Mutants(p *Page, run *engine.MutantRun) {
	failures(p, run.Mistakes)
	explained := 0
	var open []engine.Failure
	for _, s := range run.Survived {
		if s.Because != "" {
			explained++
			continue
		}
		open = append(open, s.Failure)
	}
	failures(p, open)
	text := fmt.Sprintf("%s of %s: %d caught (%d of 100), %d not", count(run.Mutants, "change"), count(run.Rules, "rule"), run.Caught, run.Of100, len(run.Survived))
	if explained > 0 {
		text += fmt.Sprintf(", of which %d make no difference, as the rule's file says", explained)
	}
	p.Text(0, text+fmt.Sprintf(". Left out: %s that mean the same by themselves.", count(run.Same, "change")))
}
