package screen

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"mendwright/engine"
	"mendwright/rules"
)

// StillOpen lists, mark by mark, what a job leaves open: the questions and what each could change,
// the measurements that a closer one could settle, and what could not be told with what waits for it.
func StillOpen(p *Page, book *rules.Book, job *engine.Job, a *engine.Answer) {
	p.Head("Still open")
	type group struct{ marks, open []string }
	var groups []group // marks that leave the same open are told together
	for i := range a.Defects {
		d := &a.Defects[i]
		mark, open := d.ID+" on "+d.On, openOf(book, job, d)
		j := slices.IndexFunc(groups, func(g group) bool { return slices.Equal(g.open, open) })
		switch {
		case len(open) == 0:
		case j >= 0:
			groups[j].marks = append(groups[j].marks, mark)
		default:
			groups = append(groups, group{[]string{mark}, open})
		}
	}
	for _, g := range groups {
		p.Text(0, strings.Join(g.marks, ", "))
		for _, text := range g.open {
			p.Item(2, "-", 4, text)
		}
	}
	if len(groups) == 0 {
		p.Text(2, "Nothing.")
	}
}

// openOf is what a mark leaves open, line by line.
func openOf(book *rules.Book, job *engine.Job, d *engine.DefectAnswer) []string {
	var out []string
	for _, q := range d.Questions {
		if q.Closer {
			out = append(out, fmt.Sprintf("Measure more closely: %s It could settle: %s.", q.Ask, decides(q.Decides, 2)))
		} else {
			out = append(out, fmt.Sprintf("%s It decides: %s.", q.Ask, decides(q.Decides, 2)))
		}
	}
	// What most waits for comes first; what no condition waits for by name is one line.
	untold := cannotTell(job, d)
	slices.SortStableFunc(untold, func(a, b string) int { return cmp.Compare(len(waiting(d, b)), len(waiting(d, a))) })
	var rest []string
	for _, id := range untold {
		if names := waiting(d, id); len(names) > 0 {
			out = append(out, fmt.Sprintf("You could not tell: %s For it waits: %s.", book.Facts[id].Ask, decides(names, 2)))
		} else {
			rest = append(rest, book.Facts[id].Ask)
		}
	}
	if len(rest) > 0 {
		out = append(out, "You could not tell either: "+strings.Join(rest, " "))
	}
	return out
}

// cannotTell lists the facts that were looked at and not settled about a mark and its surface, the
// piece and the shop.
func cannotTell(job *engine.Job, d *engine.DefectAnswer) []string {
	subjects := []engine.Subject{job.Piece, job.Shop}
	if on := job.Surfaces[d.On]; on != nil {
		subjects = append(subjects, on.Subject)
	}
	for _, m := range job.Defects {
		if m.ID == d.ID {
			subjects = append(subjects, m.Subject)
		}
	}
	var out []string
	for _, s := range subjects {
		for id := range s.CannotTell {
			out = append(out, id)
		}
	}
	slices.Sort(out)
	return out
}

// waiting names the kinds and repairs whose open conditions read a fact.
func waiting(d *engine.DefectAnswer, fact string) []string {
	reads := regexp.MustCompile(`(^|[^\w.])` + regexp.QuoteMeta(fact) + `($|[^\w.])`)
	open := func(r engine.Reason) bool { return r.Outcome == "unknown" && reads.MatchString(r.Rule) }
	var out []string
	for _, k := range d.Kinds {
		if !k.Certain && slices.ContainsFunc(k.Signs, open) {
			out = append(out, "whether it is: "+k.Name)
		}
	}
	for _, r := range d.Repairs {
		if slices.ContainsFunc(r.Open, open) {
			out = append(out, strings.TrimSpace(r.Name))
		}
	}
	return out
}
