package screen

import (
	"fmt"
	"math"
	"strings"

	"mendwright/engine"
	"mendwright/rules"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
)

// Deference closes every answer.
const Deference = "A second opinion, not a promise. The label and safety data sheet of the product, local codes and licensed practice come first."

var stateWords = map[engine.State]string{
	engine.Ready: "READY", engine.NeedsAnswer: "NEEDS AN ANSWER", engine.RuledOut: "RULED OUT",
}

var useWords = map[string]string{"as-usual": "use it as usual", "careful": "use it with care", "stop": "do not use it"}

var urgencyWords = map[string]string{"none": "no hurry", "soon": "treat it soon", "now": "treat it now"}

var undoWords = map[string]string{"yes": "can be undone", "partly": "can be undone in part", "no": "cannot be undone"}

var outcomeWords = map[string]string{"restores": "restores it", "reduces": "makes it less", "hides": "hides it", "holds": "keeps it from getting worse"}

var kindWords = map[string]string{
	"regulation": "regulation", "standard": "standard", "handbook": "handbook", "paper": "research paper", "guide": "guide",
	"common-practice": "common practice", "memory": "from memory, unverified", "design-choice": "this program's choice",
}

// mm writes a range in millimetres.
func mm(r interval.Range) string {
	r = rounded(r)
	lo, hi := quantity.Number(r.Lo, 4), quantity.Number(r.Hi, 4)
	if lo == hi {
		return Glue(lo + " mm")
	}
	return Glue(lo + " to " + hi + " mm")
}

// Span writes a measured range by its two ends, so that a slip in a ± is seen.
func Span(r interval.Range, unit string) string {
	s, hi := quantity.Number(r.Lo, 5), quantity.Number(r.Hi, 5)
	if s != hi {
		s += " to " + hi
	}
	return Glue(strings.TrimSpace(s + " " + unit))
}

// rounded drops digits that no gauge in a workshop shows.
func rounded(r interval.Range) interval.Range {
	round := func(v float64) float64 {
		if v < 0 {
			return -float64(int(-v*1000+0.5)) / 1000
		}
		return float64(int(v*1000+0.5)) / 1000
	}
	return interval.Range{Lo: round(r.Lo), Hi: round(r.Hi)}
}

// Glue keeps a number and its unit on one line.
func Glue(s string) string { return strings.ReplaceAll(s, " ", "\u00a0") }

// chance writes a probability so that nobody reads more into it than is there.
func chance(p float64) string {
	switch {
	case p >= 0.995:
		return "nearly certain"
	case p >= 0.01:
		return Glue(fmt.Sprintf("%.0f %%", p*100))
	case p >= 0.001:
		return Glue(fmt.Sprintf("%.1f %%", p*100))
	}
	return "below\u00a00.1\u00a0%"
}

// minutes writes a hands-on time.
func minutes(m [3]float64) string {
	if m[2] >= 120 {
		return Glue(fmt.Sprintf("%s to %s h, likely %s h,", quantity.Number(m[0]/60, 2), quantity.Number(m[2]/60, 2), quantity.Number(m[1]/60, 2)))
	}
	return fmt.Sprintf("%s\u00a0to\u00a0%s\u00a0min, likely\u00a0%s\u00a0min,", quantity.Number(m[0], 3), quantity.Number(m[2], 3), quantity.Number(m[1], 3))
}

// hours writes a wait, each end in the unit a person would say it in.
func hours(r interval.Range) string {
	lo, hi := "h", "h"
	switch {
	case r.Lo >= 48:
		lo, hi = "days", "days"
	case r.Hi < 2:
		lo, hi = "min", "min"
	default:
		if 0 < r.Lo && r.Lo < 1 {
			lo = "min"
		}
		if r.Hi > 72 {
			hi = "days"
		}
	}
	to := func(h float64, unit string) string {
		v := h * map[string]float64{"min": 60, "h": 1, "days": 1.0 / 24}[unit]
		if unit == "min" && v >= 1 {
			v = math.Round(v)
		}
		return quantity.Number(v, 2)
	}
	from, until := to(r.Lo, lo), to(r.Hi, hi)
	switch {
	case lo == hi && from == until:
		return Glue(from + " " + lo)
	case lo == hi || r.Lo == 0:
		return Glue(from + " to " + until + " " + hi)
	}
	return Glue(from + " " + lo + " to " + until + " " + hi)
}

// Named adds to a name whose rule it is, if it is a shop's own.
func Named(name string, own rules.Own) string {
	if own == "" {
		return name
	}
	return name + " [" + string(own) + "]"
}

// backing names the kinds of source behind a rule, strongest first, without repeats.
func backing(ids []string, cited map[string]engine.Cited) string {
	var words []string
	seen := map[string]bool{}
	for _, id := range ids {
		w := kindWords[cited[id].Kind]
		if w == "" {
			w = id
		}
		if !seen[w] {
			seen[w] = true
			words = append(words, w)
		}
	}
	return strings.Join(words, ", ")
}

// fullSources writes the sources out, for who wants to look them up.
func fullSources(ids []string, cited map[string]engine.Cited) string {
	var parts []string
	for _, id := range ids {
		c := cited[id]
		s := c.Title + " (" + kindWords[c.Kind] + ")"
		if c.Kind == "common-practice" || c.Kind == "memory" || c.Kind == "design-choice" {
			s = c.Title
			if !strings.Contains(strings.ToLower(s), kindWords[c.Kind]) && c.Kind != "design-choice" {
				s += " (" + kindWords[c.Kind] + ")"
			}
		}
		if c.Where != "" {
			s += " " + c.Where
		}
		parts = append(parts, s)
	}
	return strings.Join(parts, "; ")
}

// restsOn writes the answers a reason rests on, with facts by the ids that one types.
func restsOn(rests []engine.Rest) string { return restsBy(rests, func(id string) string { return id }) }

// restsBy writes the answers a reason rests on, with facts as name calls them.
func restsBy(rests []engine.Rest, name func(id string) string) string {
	var parts []string
	for _, r := range rests {
		s := name(r.Fact) + " is " + r.Answer
		if r.How == engine.Computed && r.Why != nil && !strings.HasPrefix(r.Fact, "sand.") { // a cut has a line of its own
			s = degrees(r.Why.Because) // nobody answered it, so its id says nothing
		}
		if r.How == engine.LookedUp && r.Why != nil {
			s += ", as " + restsBy(r.Why.RestsOn, name)
		}
		parts = append(parts, s)
	}
	return strings.Join(parts, ", ")
}

func capital(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[0])) + string(r[1:])
}
