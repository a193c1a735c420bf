package screen

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"mendwright/engine"
	"mendwright/engine/coat"
	"mendwright/engine/finish"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
)

// LabelWins stands under every answer about a coat.
const LabelWins = "These are typical figures; where the label and data sheet of the product say otherwise, they win."

var mayWords = map[finish.Verdict]string{finish.Go: "YES", finish.Care: "YES, WITH CARE", finish.NotKnown: "NOT KNOWN", finish.No: "NO"}

// Coat writes the answer of the coat command: the verdict and what to do first, then what it comes
// from.
func Coat(p *Page, a *finish.Answer) {
	if a.Choices != nil {
		coatChoices(p, a)
	} else {
		oneCoat(p, a)
	}
	p.Blank()
	label := "Sources"
	for _, kind := range coatSources(a.Sources) {
		p.Item(0, label, textCol, kind)
		label = ""
	}
	p.Item(0, "Label", textCol, LabelWins)
	p.Blank()
	p.Text(0, Deference)
}

func oneCoat(p *Page, a *finish.Answer) {
	title := capital(spoken(a.Coat))
	if a.Way != "" {
		title += ", by " + spoken(a.Way)
	}
	if a.Over != "" {
		title += ", over " + oldFinish(a.Over)
	}
	if a.Verdict != "" {
		title += ": " + verdictWord(a)
	}
	p.Head(title)
	label := "First"
	for _, step := range coatSteps(a) {
		p.Item(0, label, textCol, step)
		label = "Then"
	}
	if a.Weather == nil && a.Verdict.May() {
		p.Item(0, "Not asked", textCol, "today's weather, which may still speak against it (--air, --humidity, --surface)")
	}
	if a.Weather != nil {
		p.Blank()
		coatWeather(p, a.Weather)
	}
	if a.Ground != nil {
		p.Blank()
		oldFilm(p, a.Ground, a.Sources)
	}
	if a.Next != nil {
		p.Blank()
		nextCoat(p, a.Next)
	}
	if a.Amount != nil {
		p.Blank()
		coatAmount(p, a.Amount, a.Way)
	}
	if a.Times != nil {
		p.Blank()
		dryingTimes(p, a.Times)
	}
}

// verdictWord is the word for the worst part; what can wait says what it waits for.
func verdictWord(a *finish.Answer) string {
	if a.Weather != nil && a.Weather.Verdict == a.Verdict && a.Verdict != finish.Go {
		return weatherWord(a.Verdict)
	}
	if a.Next != nil && a.Next.Verdict == a.Verdict && a.Verdict != finish.Go {
		return nextWord(a.Next)
	}
	switch g := a.Ground; {
	case g != nil && g.Verdict == a.Verdict && (a.Verdict != finish.Go || g.Scuff && !g.Laid):
		return groundWord(g)
	case a.Verdict == finish.No:
		return "TOO THICK"
	case a.Verdict == finish.Wait:
		return "NOT IN THAT TIME"
	case a.Next != nil && a.Verdict == finish.Go:
		return nextWord(a.Next)
	}
	return mayWords[a.Verdict]
}

// spoken writes the name of a coat or a way as it is said.
func spoken(name string) string { return strings.ReplaceAll(name, "-", " ") }

func oldFinish(name string) string {
	if name == finish.Bare {
		return "bare wood"
	}
	return spoken(name)
}

// coatSteps are what must be done before the coat goes on, in the order of doing.
func coatSteps(a *finish.Answer) []string {
	var out []string
	if w := a.Weather; w != nil {
		out = append(out, weatherSteps(w)...)
	}
	if g := a.Ground; g != nil && g.Verdict == finish.No {
		out = groundSteps(g) // no weather mends that
	} else if g != nil {
		out = append(out, groundSteps(g)...)
	}
	if n := a.Next; n != nil {
		out = append(out, nextSteps(n)...)
	}
	if m := a.Amount; m != nil && m.TooThick == coat.Yes.String() {
		out = append(out, "lay fewer or thinner coats: beyond "+span(*m.MostUM, "µm")+" dry it cracks")
	}
	if t := a.Times; t != nil && t.Verdict != "" && !t.Verdict.May() {
		out = append(out, fmt.Sprintf("find %s for %s, or take a finish that dries faster", hours(*t.TouchH), coatsWord(t.Coats)))
	}
	return out
}

// coatSources names what the figures come from, by kind of source, strongest first.
func coatSources(cited map[string]engine.Cited) []string {
	var parts []string
	ids := slices.Sorted(maps.Keys(cited))
	for _, kind := range []string{"regulation", "standard", "handbook", "paper", "guide", "common-practice", "memory", "design-choice"} {
		var titles []string
		for _, id := range ids {
			if cited[id].Kind == kind {
				titles = append(titles, cited[id].Title)
			}
		}
		switch {
		case len(titles) == 0:
		case kind == "memory" || kind == "design-choice":
			parts = append(parts, capital(kindWords[kind])+": some figures")
		default:
			parts = append(parts, capital(kindWords[kind])+": "+strings.Join(titles, "; "))
		}
	}
	return parts
}

// upTo writes the room that a coat leaves to humidity, whose upper end is already too much.
func upTo(r interval.Range) string {
	hi := Glue(quantity.Number(r.Hi, 3) + " %")
	if r.Lo == 0 {
		return "below " + hi
	}
	return "from " + Glue(quantity.Number(r.Lo, 3)+" %") + " to below " + hi
}

// bounded rounds a bound to whole units on the side on which it still holds.
func bounded(side string, v float64) string {
	if side == "at least" {
		return quantity.Number(math.Ceil(v-1e-9), 4)
	}
	return quantity.Number(math.Floor(v+1e-9), 4)
}
