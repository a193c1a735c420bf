package screen

import (
	"fmt"
	"strings"

	"mendwright/engine"
)

// Asked puts a question about one thing (of: a surface's name, a defect's id, piece or shop) with
// its numbered answers; the last is always that it cannot be told.
func Asked(p *Page, of string, q *engine.Question) {
	p.Blank()
	text := q.Ask
	if q.Closer {
		text += " Measure it more closely."
	}
	p.Text(0, fmt.Sprintf("%s (%s)", text, of))
	if q.Harms != "" {
		p.Text(2, "May harm: "+q.Harms)
	}
	p.Text(2, q.Tell)
	for i, o := range q.Answers {
		p.Item(2, fmt.Sprintf("%d", i+1), 5, o.ID+means(o))
	}
	if len(q.Answers) > 0 {
		p.Item(2, fmt.Sprintf("%d", len(q.Answers)+1), 5, "cannot tell")
		return
	}
	p.Text(2, "In "+q.Unit+", with its ± if you know it, such as 0.6 ± 0.05 mm for a length; - if you cannot tell.")
}

// means adds what an answer means where its word does not say it.
func means(o engine.Option) string {
	if strings.ReplaceAll(o.ID, "-", " ") == o.Means {
		return ""
	}
	return ": " + o.Means
}

// WhyAsked says how to look and which rules wait for the answer.
func WhyAsked(p *Page, q *engine.Question) {
	p.Text(2, q.Tell)
	decides := q.Decides
	more := ""
	if n := len(decides) - 6; n > 1 {
		decides, more = decides[:6], fmt.Sprintf("; and %d more", n)
	}
	p.Text(2, "It decides: "+strings.Join(decides, "; ")+more+".")
}
