package screen

import (
	"strings"

	"mendwright/engine"
)

// Mark is what the triage says of a mark, sentence by sentence, for who lays it out otherwise than
// Triage does. A field is "" or empty where there is nothing to say.
type Mark struct {
	ID, On string
	Note   string // the free words about it
	Kinds  string // what it is or may be
	NoKind string // that it fits no kind; then nothing else is said
	Leave  string
	// Best are the repair that ranks first, or those that a change of the shop would open; NoRepair says
	// that there is none.
	Best     []Repair
	NoRepair string
	Others   []Repair // in order; the likely ones only
	Unlikely int      // how many more there are for what it may be as well
	Ladder   string
	Sanding  string
	RuledOut []Repair
	Next     []string // what is worth answering now
}

// Repair is what the triage says of one repair of a mark.
type Repair struct {
	Method, Name string
	Ready        bool
	State        string // READY, NEEDS AN ANSWER or RULED OUT
	Risk         string // high, serious, medium, low, eliminated; "" if ruled out
	Rank         int    // 0 if ruled out
	Aim          string // that it falls short of the aim
	Why          string
	Needs        string // what it waits for
	Against      string // every reason that rules it out
	Takes        string
	Figures      []string
	Dangers      []Danger
}

// Danger is what a repair may do wrong, with its place in the risk matrix.
type Danger struct {
	Risk, Severity, Level string
	Text                  string // with whom it hits, how gravely and how likely
}

// MarkOf puts into words what the triage a says of a mark; note are the free words about it.
func MarkOf(a *engine.Answer, d *engine.DefectAnswer, note string) *Mark {
	m := &Mark{ID: d.ID, On: d.On, Note: note, Kinds: kindNames(d)}
	if len(d.Kinds) == 0 {
		m.NoKind = noKind
		return m
	}
	m.Leave = leaving(&d.Leave[0])
	m.Ladder = rungs(d)
	if d.Sanding != nil {
		m.Sanding = Verdict(d.Sanding)
	}
	for _, q := range d.Questions {
		m.Next = append(m.Next, question(q))
	}
	none := len(d.Repairs) == 0 || d.Repairs[0].State == engine.RuledOut
	for i := range d.Repairs {
		r := &d.Repairs[i]
		switch {
		case i == 0 && !none:
			m.Best = append(m.Best, repairOf(a, d, r))
		case !likely(d, r):
			if r.State != engine.RuledOut {
				m.Unlikely++
			}
		case none && r.ShopOnly:
			w := repairOf(a, d, r)
			w.Why, w.Against = r.What, shopFirst(a, r)
			m.Best = append(m.Best, w)
		case r.State == engine.RuledOut:
			m.RuledOut = append(m.RuledOut, repairOf(a, d, r))
		default:
			m.Others = append(m.Others, repairOf(a, d, r))
		}
	}
	if len(m.Best) == 0 {
		m.NoRepair = noRepair
	}
	return m
}

func repairOf(a *engine.Answer, d *engine.DefectAnswer, r *engine.Repair) Repair {
	w := Repair{Method: r.Method, Name: Named(r.Name, r.Own), Ready: r.State == engine.Ready, State: stateWords[r.State], Risk: r.Risk, Rank: r.Rank,
		Aim: strings.TrimPrefix(aim(r), "; "), Figures: figuresOf(r), Dangers: dangersOf(r)}
	switch r.State {
	case engine.RuledOut:
		w.Against = against(r, a)
		return w
	case engine.NeedsAnswer:
		w.Needs = strings.TrimPrefix(openFacts(d, r), "first know ")
	}
	w.Why, w.Takes = whyReady(a, r), takes(r)
	return w
}

// RepairOf puts into words what an explanation says of its repair. A repair that waits says under Needs
// what for.
func RepairOf(e *engine.Explanation) Repair {
	a, d := &engine.Answer{Sources: e.Sources}, &engine.DefectAnswer{ID: e.Defect, On: e.On}
	w := repairOf(a, d, &e.Repair)
	if !e.Offered {
		w.Ready, w.State = false, "NOT OFFERED"
	}
	return w
}

func dangersOf(r *engine.Repair) []Danger {
	var out []Danger
	for _, h := range r.Harms {
		if h.Risk != "eliminated" {
			out = append(out, Danger{h.Risk, h.Severity, h.Level, harm(&h)})
		}
	}
	return out
}

// Warning is a warning in words.
type Warning struct {
	Signal string // danger, warning, caution or notice
	Text   string
}

// Warnings puts the warnings of an answer into words: in full those of the marks and of the repairs that
// one would do now, and by their first sentence those that answers still missing would bring or lift.
func Warnings(a *engine.Answer) (full, later []Warning) {
	now, open := weighed(a)
	for _, w := range open {
		later = append(later, Warning{w.Signal, Named(firstSentence(w.Text), w.Own) + " [for " + strings.Join(orMark(w), ", ") + "]"})
	}
	return InFull(now, a.Sources), later
}

// InFull writes warnings in full: what to wear, what to do if it goes wrong, and what they are for.
func InFull(list []engine.WarningView, cited map[string]engine.Cited) []Warning {
	var out []Warning
	for _, w := range list {
		out = append(out, Warning{w.Signal, warningText(&w, cited)})
	}
	return out
}
