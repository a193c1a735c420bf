package rules

import (
	"fmt"
	"slices"
	"strings"

	"mendwright/rules/condition"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
	"mendwright/rules/strictyaml"
)

var withoutApostrophes = strings.NewReplacer("'", "", "\u2019", "")

// cannotTell reports whether a text says that a question was looked at and not settled.
func cannotTell(text string) bool {
	text = withoutApostrophes.Replace(text)
	return slices.Contains([]string{"cannot-tell", "cant-tell", "dont-know", "unknown", "?"}, plain(text))
}

// ReadAnswer reads texts as an answer to f, as people type it: one text for most facts, any
// number for a several-of fact. known is false for "cannot tell". The error says what was read
// and what was expected.
func (f *Fact) ReadAnswer(texts ...string) (v condition.Value, known bool, err error) {
	if len(texts) == 1 && cannotTell(texts[0]) {
		return condition.Value{}, false, nil
	}
	if f.Kind != condition.Several && len(texts) != 1 {
		return condition.Value{}, false, fmt.Errorf("expected one answer to %s, read a list", f.ID)
	}
	switch f.Kind {
	case condition.YesNo:
		yes, ok := strictyaml.YesNo(texts[0])
		if !ok {
			return condition.Value{}, false, fmt.Errorf("read %q; expected yes, no or cannot tell", texts[0])
		}
		return condition.Yes(yes), true, nil
	case condition.Quantity:
		v, err := f.readQuantity(texts[0])
		return v, err == nil, err
	}
	var ids []string
	for _, t := range texts {
		id := plain(t)
		if !slices.ContainsFunc(f.Answers, func(a Answer) bool { return a.ID == id }) {
			names := f.answerIDs()
			return condition.Value{}, false, fmt.Errorf("read %q; %s takes %s, or cannot tell%s",
				t, f.ID, strings.Join(names, ", "), strictyaml.Nearest(id, names))
		}
		ids = append(ids, id)
	}
	if f.Kind == condition.Several {
		return condition.PickSeveral(ids...), true, nil
	}
	return condition.Pick(ids[0]), true, nil
}

func (f *Fact) readQuantity(text string) (condition.Value, error) {
	q, err := quantity.Parse(text, f.Unit)
	if err != nil {
		return condition.Value{}, err
	}
	r := q.Range
	if !q.Stated {
		r = interval.Around(r.Mid(), f.Spread)
	}
	if q.Mid() < f.Bounds.Lo || q.Mid() > f.Bounds.Hi {
		return condition.Value{}, fmt.Errorf("read %q, which is %s; %s lies between %s", text,
			quantity.Format(q.Range, f.Unit), f.ID, strings.Replace(quantity.Span(f.Bounds, f.Unit), " to ", " and ", 1))
	}
	// The spread must not carry a measured value out of what is possible at all.
	r.Lo, r.Hi = max(r.Lo, f.Bounds.Lo), min(r.Hi, f.Bounds.Hi)
	return condition.Measured(r), nil
}

// Show writes an answer to f as it was understood.
func (f *Fact) Show(v condition.Value) string {
	switch f.Kind {
	case condition.Quantity:
		return quantity.Format(v.Range(), f.Unit)
	case condition.Several:
		if len(v.Set()) == 0 {
			return "none of them"
		}
	}
	return v.String()
}

func (f *Fact) answerIDs() []string {
	ids := make([]string, len(f.Answers))
	for i, a := range f.Answers {
		ids[i] = a.ID
	}
	return ids
}

// plain brings "Cross Draught", "cross_draught" and "cross-draught" to one spelling.
func plain(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return r == ' ' || r == '_' || r == '-' }), "-")
}
