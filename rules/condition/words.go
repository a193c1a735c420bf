package condition

import (
	"strconv"
	"strings"
)

// Words says the condition as one would say it: "surface layer is veneer or plywood, and surface bond is
// loose". unit gives the unit of a quantity.
func (c *Condition) Words(unit func(fact string) string) string { return c.Tree().words(unit) }

var thanWords = map[string]string{"<": "less than", "<=": "at most", ">": "more than", ">=": "at least"}

func (t *Tree) words(unit func(string) string) string {
	switch t.Op {
	case And, Or:
		return joined(t.Parts, map[Op]string{And: ", and ", Or: ", or "}[t.Op], unit)
	case Not:
		switch part := t.Parts[0]; part.Op {
		case Is:
			return part.is(true)
		default:
			return "it is not so that " + part.within(unit)
		}
	case Cut:
		n := strconv.FormatFloat(t.Number, 'f', -1, 64)
		return said(t.Fact) + " is " + thanWords[t.Than] + " " + strings.TrimSpace(n+" "+unit(t.Fact))
	}
	return t.is(false)
}

// is says what a fact is, or is not.
func (t *Tree) is(not bool) string {
	answers := t.Answers
	list := strings.Join(answers, ", ")
	if n := len(answers); n > 1 {
		or := " or "
		if not {
			or = " nor "
		}
		list = strings.Join(answers[:n-1], ", ") + or + answers[n-1]
	}
	verb := map[bool]string{false: " is ", true: " is not "}[not]
	if not && len(answers) > 1 {
		verb = " is neither "
	}
	switch {
	case len(answers) == 0:
		return said(t.Fact) + map[bool]string{false: ": yes", true: ": no"}[not]
	case t.several:
		return said(t.Fact) + map[bool]string{false: " include ", true: " do not include "}[not] + list
	}
	return said(t.Fact) + verb + list
}

func joined(parts []*Tree, by string, unit func(string) string) string {
	texts := make([]string, len(parts))
	for i, p := range parts {
		texts[i] = p.within(unit)
	}
	return strings.Join(texts, by)
}

// within says the tree as a part of something wider, in brackets where it has parts itself.
func (t *Tree) within(unit func(string) string) string {
	if t.Op == And || t.Op == Or {
		return "(" + t.words(unit) + ")"
	}
	return t.words(unit)
}

// said is a fact as one would say it: surface.glue_lets_go is "surface glue lets go".
func said(fact string) string { return strings.NewReplacer(".", " ", "_", " ").Replace(fact) }
