package reckon

import (
	"fmt"
	"slices"
	"strings"

	"mendwright/engine/air"
	"mendwright/rules/interval"
)

// settled is a verdict at the best and at the worst of what the inputs allow, with what each word
// says. Where the two differ the word is NotKnown, and it says to act as at the worst: a closer
// measurement may settle it, and never turns it into something worse.
func settled(name, means, best, worst string, says map[string]string) Figure {
	if best == worst {
		return Verdict(name, means, worst, says[worst])
	}
	return Verdict(name, means, NotKnown, fmt.Sprintf("what was given allows %s and %s; until it is known better, %s: %s", best, worst, worst, says[worst]))
}

// judged is a verdict whose arithmetic says by itself that the inputs leave it open.
func judged(name, means string, word fmt.Stringer, says map[string]string) Figure {
	w := word.String()
	if w == "unsettled" || w == "unknown" {
		w = NotKnown
	}
	return Verdict(name, means, w, says[w])
}

// yesNo is the word of a plain truth.
func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}

// levelOf is a share of a limit read by level, at the best and at the worst end.
func levelOf(name, means string, share interval.Range, level func(interval.Range) air.Level, says map[string]string) Figure {
	return settled(name, means, level(interval.Exact(share.Lo)).String(), level(interval.Exact(share.Hi)).String(), says)
}

// only is the answer of a calculation with one figure.
func only(name, means, unit string) func(interval.Range, error) ([]Figure, error) {
	return func(r interval.Range, err error) ([]Figure, error) {
		if err != nil {
			return nil, err
		}
		return []Figure{Amount(name, means, unit, r)}, nil
	}
}

// listed is how many rows of a table fit, and which: the word is that of a row only where it alone
// fits whatever the inputs turn out to be, which is at each of their corners.
func listed[T comparable](name, means string, could []T, corners [][]T, word, says func(T) string, none string) []Figure {
	certain, written := 0, []string{}
	for _, c := range could {
		if !slices.ContainsFunc(corners, func(corner []T) bool { return !slices.Contains(corner, c) }) {
			certain++
		}
		written = append(written, says(c))
	}
	which := Verdict(name, means, NotKnown, "it may be "+strings.Join(written, "; or "))
	switch {
	case len(could) == 0:
		which = Verdict(name, means, "none", none)
	case len(could) == 1 && certain == 1:
		which = Verdict(name, means, word(could[0]), says(could[0]))
	}
	return []Figure{which, Amount(name+"-count", "how many of the table fit", "", between(float64(certain), float64(len(could))))}
}

// ends are the ends of a range, each by itself.
func ends(r interval.Range) [2]interval.Range {
	return [2]interval.Range{interval.Exact(r.Lo), interval.Exact(r.Hi)}
}

// whole is the whole numbers that a count allows; the error says that there is none.
func whole(name string, r interval.Range) (lo, hi int, err error) {
	lo, hi = int(r.Lo), int(r.Hi)
	if float64(lo) < r.Lo {
		lo++
	}
	if lo > hi {
		return 0, 0, fmt.Errorf("%s reads %s; expected a whole number", name, Show(r, ""))
	}
	return lo, hi, nil
}

func between(lo, hi float64) interval.Range { return interval.Range{Lo: lo, Hi: hi} }

func times(r interval.Range, k float64) interval.Range { return r.Mul(interval.Exact(k)) }

// Quantities are asked for in the canonical units and reckoned in those of the trade.
func grams(kg interval.Range) interval.Range       { return times(kg, 1000) }
func millilitres(l interval.Range) interval.Range  { return times(l, 1000) }
func hours(minutes interval.Range) interval.Range  { return times(minutes, 1.0/60) }
func micrometres(mm interval.Range) interval.Range { return times(mm, 1000) }
