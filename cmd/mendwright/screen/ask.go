package screen

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"mendwright/engine"
	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
)

// Typed shows a line that was read behind the prompt, where no terminal does.
func (p *Page) Typed(text string) {
	fmt.Fprintln(p.W, strings.TrimRight(strings.Join(wrap(clean(text), p.width()-2), "\n  "), " "))
}

// Asked puts a question about one thing (of: a surface's name, a defect's id, piece or shop): what
// looking may harm, how to tell, and the numbered answers, of which the last is that it cannot be
// told. stands is the answer there is, or "".
func Asked(p *Page, of string, f *rules.Fact, q *engine.Question, stands string) {
	p.Blank()
	if harm := MayHarm(q); harm != "" {
		p.Text(0, harm)
	}
	p.Text(0, fmt.Sprintf("%s (%s)", q.Ask, of))
	p.Text(2, q.Tell)
	if f.Kind == condition.Several {
		p.Text(2, "More than one may hold, such as 1 3; none if none does.")
	}
	for i, o := range q.Answers {
		p.Item(2, strconv.Itoa(i+1), 5, Option(o))
	}
	if len(q.Answers) > 0 {
		p.Item(2, strconv.Itoa(len(q.Answers)+1), 5, "cannot tell")
	} else {
		p.Item(2, "-", 5, "cannot tell")
		p.Text(2, Expects(f))
	}
	if stands != "" {
		p.Text(2, "It was: "+stands+". Enter alone keeps that.")
	}
}

// MayHarm says what finding an answer may harm; "" if nothing.
func MayHarm(q *engine.Question) string {
	if q.Harms == "" {
		return ""
	}
	looking := "This"
	switch q.Effort {
	case "spot-test":
		looking = "This spot test"
	case "take-apart":
		looking = "Taking it apart"
	}
	return looking + " MAY HARM: " + q.Harms
}

// Expects says what measurement is asked for, its unit and its bounds, with an example.
func Expects(f *rules.Fact) string {
	return fmt.Sprintf("In %s, from %s to %s, such as %s; name any other unit.", f.Unit,
		quantity.Number(f.Bounds.Lo, 5), quantity.Number(f.Bounds.Hi, 5), Glue(exampleOf(f)))
}

// exampleOf is a measurement as one would type it: a round value that the fact can take, with its
// usual ±.
func exampleOf(f *rules.Fact) string {
	at := f.Bounds.Hi / 20
	if f.Unit == "%" || f.Unit == "°C" {
		at = f.Bounds.Mid() // these do not begin at nothing
	}
	s := quantity.Number(round125(at), 3)
	if f.Spread > 0 {
		s += " ± " + quantity.Number(f.Spread, 3)
	}
	if f.Unit != "" {
		s += " " + f.Unit
	}
	if r := (interval.Range{Lo: round125(at), Hi: round125(at)}); r.Lo < f.Bounds.Lo || r.Hi > f.Bounds.Hi {
		return quantity.Format(interval.Around(f.Bounds.Mid(), f.Spread), f.Unit)
	}
	return s
}

// round125 is the nearest of 1, 2 and 5 times a power of ten.
func round125(v float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(v)))
	best := power
	for _, n := range []float64{2, 5, 10} {
		if math.Abs(n*power-v) < math.Abs(best-v) {
			best = n * power
		}
	}
	return best
}

// Option is an answer as it is listed, with what it means where its word does not say it.
func Option(o engine.Option) string { return o.ID + means(o) }

// means adds what an answer means where its word does not say it.
func means(o engine.Option) string {
	if strings.ReplaceAll(o.ID, "-", " ") == o.Means {
		return ""
	}
	return ": " + o.Means
}

// WhyAsked says how to look and what waits for the answer.
func WhyAsked(p *Page, q *engine.Question) {
	p.Text(2, q.Tell)
	p.Text(2, Decides(q))
}

// Decides says what waits for the answer to a question.
func Decides(q *engine.Question) string {
	if len(q.Decides) == 0 {
		return "It was asked before, and what waits for it depends on the answer."
	}
	return "It decides: " + decides(q.Decides, 6) + "."
}

// decides names the first of what waits for an answer and counts the rest.
func decides(what []string, most int) string {
	if len(what) <= most+1 {
		return strings.Join(what, "; ")
	}
	return fmt.Sprintf("%s; and %d more", strings.Join(what[:most], "; "), len(what)-most)
}

// Contradicted shows an answer and the finding against it, with the two ways to settle it.
func Contradicted(p *Page, f *rules.Fact, c *engine.Conflict) {
	p.Blank()
	p.Text(0, Contradiction)
	said, but := Against(f, c)
	p.Text(2, said)
	p.Text(2, but)
	p.Item(2, "1", 5, "keep mine: "+c.Answered)
	p.Item(2, "2", 5, "take mine back")
}

// Contradiction is the heading over two answers of which one must go.
const Contradiction = "Two answers do not go together."

// Against says what was answered, and what the other answers make of it.
func Against(f *rules.Fact, c *engine.Conflict) (said, but string) {
	return fmt.Sprintf("%s: %s You said: %s.", c.On, f.Ask, inWords(f, c.Answered)),
		fmt.Sprintf("But %s, which makes it: %s.", c.Because, inWords(f, c.Found))
}

// inWords is an answer with what it means.
func inWords(f *rules.Fact, answer string) string {
	return answer + means(engine.Option{ID: answer, Means: f.Means(answer)})
}
