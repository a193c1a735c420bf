package screen

import (
	"strings"

	"mendwright/engine"
)

// The functions of this file serve pages that are read and not typed from: they name facts in plain words, not
// by the ids of a job file.

// FactName is what one would call a fact: the layer of surface.layer_mm, the room of shop.room_m3.
func FactName(id string) string {
	_, name, ok := strings.Cut(id, ".")
	if !ok {
		name = id
	}
	for _, unit := range []string{"_mm", "_m2", "_m3", "_c", "_n"} {
		name = strings.TrimSuffix(name, unit)
	}
	return strings.ReplaceAll(name, "_", " ")
}

// ReasonLine is a reason as a sentence, with the answers it rests on and the kinds of source behind it.
func ReasonLine(r *engine.Reason, cited map[string]engine.Cited) string {
	s := strings.TrimSuffix(sentence(r.Because), ".")
	if rests := restsBy(r.RestsOn, FactName); rests != "" {
		s += " (" + rests + ")"
	}
	return s + ". [" + backing(r.Sources, cited) + "]"
}

// BackedLine is a sentence with the kinds of source behind it.
func BackedLine(text string, sources []string, cited map[string]engine.Cited) string {
	if len(sources) == 0 {
		return sentence(text)
	}
	return sentence(text) + " [" + backing(sources, cited) + "]"
}

// HarmLine says what may go wrong, for whom, how grave that is and how likely, the risk first.
func HarmLine(h *engine.Hazard) string {
	return capital(h.Risk) + ": " + h.What + " (to the " + h.To + ", " + h.Severity + ", " + h.Level + ")."
}

// LeaveLine says what happens to a mark if nothing is done.
func LeaveLine(l *engine.LeaveIt, cited map[string]engine.Cited) string {
	return sentence(l.Text) + " " + capital(urgencyWords[l.Urgency]) + "; " + useWords[l.Use] + ". [" + backing(l.Sources, cited) + "]"
}

// Stands says until what is known a warning stands; "" if it does whatever is answered.
func Stands(w *engine.WarningView) string {
	if w.Certain || len(w.Missing) == 0 {
		return ""
	}
	var names []string
	for _, id := range w.Missing {
		names = append(names, FactName(id))
	}
	return "Stands until " + known(names) + "."
}

// FirstSentence is the beginning of a text, up to its first full stop.
func FirstSentence(s string) string { return firstSentence(s) }

// Sentence begins with a capital and ends with a full stop.
func Sentence(s string) string { return sentence(s) }

// Minutes writes a hands-on time: least, most and likely.
func Minutes(m [3]float64) string { return strings.TrimSuffix(minutes(m), ",") }

// Kind is a kind of source in words.
func Kind(kind string) string { return kindWords[kind] }

// Kinds are the kinds of source, strongest first.
func Kinds() []string {
	return []string{"regulation", "standard", "handbook", "paper", "guide", "common-practice", "memory", "design-choice"}
}

// Backing names the kinds of source behind a rule, without repeats.
func Backing(ids []string, cited map[string]engine.Cited) string { return backing(ids, cited) }

// MarkState says what a plan does about a mark, how risky that is and whether the person chose it.
func MarkState(m *engine.PlannedMark) string {
	s := markStates[m.State]
	if m.Name != "" {
		s += ", risk " + m.Risk
	}
	if m.Picked {
		s += ", your choice"
	}
	return s
}

// ConflictLine says which answer and which finding contradict each other, and what to do.
func ConflictLine(c *engine.Conflict, cited map[string]engine.Cited) string {
	return FactName(c.Fact) + " of " + c.On + " was answered " + c.Answered + ", but " + c.Because + " (" + backing(c.Sources, cited) +
		") makes it " + c.Found + ". It counts as unknown: look again."
}
