package audit

import (
	"slices"

	"mendwright/rules"
)

// gaps finds kinds of defect that cannot be left as they are, because the piece must not be used or
// time runs, and that under some answers are left with nothing: every repair is ruled out by what no
// shop can change. Other kinds always have the answer that is theirs if left.
//
// It is exact for all that people answer. What only the arithmetic could rule out counts as open,
// and what the shop forbids too, since the room, the weather and the gear can be changed.
func (a *audit) gaps() {
	for _, d := range a.book.Defects {
		if d.Use != "stop" && d.Urgency != "now" {
			continue
		}
		fs := formulas(a.signs(d, surely))
		for _, m := range a.book.Treating(d.ID) {
			fs = append(fs, a.ruledOut(m))
		}
		w, found, _ := a.solve(fs...)
		if !found {
			continue
		}
		why := "the piece must not be used"
		if d.Use != "stop" {
			why = "it does not wait"
		}
		a.fault("gap", d.Pos, a.example(w, fs...), "%s, and for this %s every repair is ruled out; let one remain, if only a licensed person", why, d.ID)
	}
}

// ruledOut is true where a method is ruled out by what no shop can change.
func (a *audit) ruledOut(m *rules.Method) *formula {
	var ways []*formula
	for _, c := range m.Suits {
		if !a.shopOnly(c.When) {
			ways = append(ways, a.unless(c.When, m, surely))
		}
	}
	for _, c := range m.Never {
		if !a.shopOnly(c.When) {
			ways = append(ways, a.when(c.When, m, surely))
		}
	}
	return some(ways...)
}

// shopOnly reports whether a condition reads nothing but the shop.
func (a *audit) shopOnly(c *rules.Cond) bool {
	return !slices.ContainsFunc(c.Names(), func(id string) bool { return a.book.Facts[id].Subject != "shop" })
}
