package screen

import (
	"fmt"
	"strings"

	"mendwright/engine/audit"
)

// Audit writes what an audit of the rulebook found: faults with their line and what shows them,
// then, briefly, what is dead weight.
func Audit(p *Page, r *audit.Report) {
	for _, f := range r.Faults {
		// A line of a file and the caret below it stand as they are.
		fmt.Fprintln(p.W, strings.TrimRight(f.Error(), "\n"))
		p.Blank()
	}
	if len(r.Notes) > 0 {
		p.Head("Dead weight:")
		for _, n := range r.Notes {
			p.Item(2, "-", 4, fmt.Sprintf("%s:%d: %s", n.File, n.Line, n.Says))
		}
		p.Blank()
	}
	p.Text(0, fmt.Sprintf("%s looked at: %s, %s.", count(r.Conditions, "condition"), count(len(r.Faults), "fault"), count(len(r.Notes), "note")))
	if r.Undecided > 0 {
		p.Text(0, fmt.Sprintf("%s took too long and stayed open; nothing is reported of them.", count(r.Undecided, "question")))
	}
}
