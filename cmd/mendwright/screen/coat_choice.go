package screen

import (
	"fmt"
	"strconv"
	"strings"

	"mendwright/engine/finish"
)

// coatChoices writes the ranking: first what may go on, then what may not and why.
func coatChoices(p *Page, a *finish.Answer) {
	title := "Which coat today"
	if a.Over != "" {
		title += ", over " + oldFinish(a.Over)
	}
	may := 0
	for _, c := range a.Choices {
		if c.Verdict.May() {
			may++
		}
	}
	p.Head(fmt.Sprintf("%s: %s OF %d MAY GO ON", title, orNone(may), len(a.Choices)))
	if may > 1 {
		p.Text(0, "Of those alike in the weather and the time, what is hard soonest stands first; how well it wears is another question.")
	}
	for i, c := range a.Choices {
		if c.Verdict.May() {
			p.Item(0, fmt.Sprintf("%3d", i+1), labelCol+2, choiceLine(c))
		}
	}
	// Coats that wait for the same are named together.
	var reasons []string
	waiting := map[string][]string{}
	for _, c := range a.Choices {
		if c.Verdict.May() {
			continue
		}
		why := whyNot(c)
		if waiting[why] == nil {
			reasons = append(reasons, why)
		}
		waiting[why] = append(waiting[why], spoken(c.Coat))
	}
	if len(reasons) > 0 {
		p.Blank()
		p.Head("Not now, and what would change it")
	}
	for _, why := range reasons {
		p.Item(0, "  -", labelCol+2, strings.Join(waiting[why], ", ")+": "+why)
	}
}

func choiceLine(c finish.Choice) string {
	s := spoken(c.Coat)
	if c.Verdict == finish.Care {
		s += ", with care"
	}
	s += fmt.Sprintf(": %s, touched after %s, hard after %s", count(c.Coats, "coat"), hours(c.TouchH), hours(c.CuredH))
	if c.Ready == "yes" {
		s += ", in time"
	}
	for _, step := range append(groundStepsOf(c), weatherSteps(&c.Weather)...) {
		s += "; " + step
	}
	return s
}

func groundStepsOf(c finish.Choice) []string {
	if c.Ground == nil {
		return nil
	}
	return groundSteps(c.Ground)
}

// whyNot says what a coat waits for. What may never go over the old finish waits for nothing.
func whyNot(c finish.Choice) string {
	var parts []string
	if g := c.Ground; g != nil && !g.Verdict.May() {
		parts = append(parts, strings.ToLower(groundWord(g))+", "+g.Why)
		if g.Verdict == finish.No {
			return parts[0]
		}
	}
	if !c.Weather.Verdict.May() {
		for _, u := range airWithWood(c.Weather.Until) {
			part := spokenOf(u.Of) + " " + boundWords(u)
			if u.Dew {
				part += " for the dew point"
			}
			if u.Sprayed {
				part += " if sprayed"
			}
			parts = append(parts, part)
		}
	}
	if late := map[string]string{"no": "not in time", "unknown": "perhaps not in time"}[c.InTime]; late != "" {
		parts = append(parts, fmt.Sprintf("%s: %s can be touched after %s", late, count(c.Coats, "coat"), hours(c.TouchH)))
	}
	return strings.Join(parts, "; ")
}

func orNone(n int) string {
	if n == 0 {
		return "NONE"
	}
	return strconv.Itoa(n)
}
