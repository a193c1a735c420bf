package sheet

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
	"mendwright/rules"
	"mendwright/rules/condition"
)

// step is one step of the work.
type step struct {
	ID       string // for the page
	No       string
	Name     string
	Where    string
	Long     bool  // too long to stand on one page in any case
	Before   []row // to read before it begins
	Warnings []warning
	Do       []engine.WorkStep
	After    []row
	Found    []found
}

// warning is a warning at the step where it arises.
type warning struct {
	Signal, Text, IfWrong string
	Stands                string // until what is known; "" if it is certain
	More                  string // where it stands in full
	Backing               string
	For                   string // the marks that it is for, if it belongs to no step
}

// found is room for how a repair came out at a mark, and what was measured.
type found struct {
	ID, Mark string
	Outcomes []string
	Measured []measured
}

// measured is room for one measurement.
type measured struct{ Label, Unit string }

// trial is a table to fill in, of a step that tries something out.
type trial struct {
	Caption string
	Columns []string
	Rows    []string
	Blank   []struct{}
}

// longStep is how many letters make a step too long for a column of a page; such a one may be broken.
const longStep = 2400

// trialRows is how many lines a table to fill in has.
const trialRows = 4

// mostHarms bounds the harms to the piece that are told at one step; those to a person are all told.
const mostHarms = 2

func stepNumber(i int) string { return strconv.Itoa(i + 1) }

// steps are the steps of the plan, and the warnings that belong to none of them.
func (m *maker) steps() (out []step, always []warning) {
	views := map[string]*engine.WarningView{}
	shown := map[string]int{}
	for i := range m.Plan.Warnings {
		w := &m.Plan.Warnings[i]
		views[w.Warning] = w
	}
	for i := range m.Plan.Steps {
		s := &m.Plan.Steps[i]
		st := m.step(i, s)
		for _, id := range s.Warnings {
			w := views[id]
			if w == nil {
				continue
			}
			if at, ok := shown[id]; ok {
				st.Warnings = append(st.Warnings, again(w, at))
				continue
			}
			shown[id] = i + 1
			st.Warnings = append(st.Warnings, m.warning(w))
		}
		st.Long = st.letters() > longStep
		out = append(out, st)
	}
	for i := range m.Plan.Warnings {
		if w := &m.Plan.Warnings[i]; shown[w.Warning] == 0 {
			a := m.warning(w)
			a.For = strings.Join(w.Defects, ", ")
			always = append(always, a)
		}
	}
	return out, always
}

// letters is about how much is written at a step.
func (s *step) letters() int {
	n := 0
	for _, r := range slices.Concat(s.Before, s.After) {
		for _, t := range r.Texts {
			n += len(t.Lead) + len(t.Rest)
		}
	}
	for _, w := range s.Warnings {
		n += len(w.Text) + len(w.IfWrong)
	}
	for _, d := range s.Do {
		n += len(d.Do) + len(d.Stop)
	}
	return n
}

// wear says what to wear against a danger.
func wear(w *engine.WarningView) string {
	if len(w.Wear) == 0 {
		return ""
	}
	return " Wear: " + strings.Join(w.Wear, ", ") + "."
}

// warning is a warning in full; what an answer may still lift, and would not hurt anybody badly, in short.
func (m *maker) warning(w *engine.WarningView) warning {
	out := warning{Signal: strings.ToUpper(w.Signal), Stands: stands(w), Text: screen.Named(w.Text, w.Own) + wear(w), IfWrong: w.IfWrong, Backing: screen.Backing(w.Sources, m.Plan.Sources)}
	if light := w.Signal == "caution" || w.Signal == "notice"; light && !w.Certain {
		out.Text, out.IfWrong = screen.FirstSentence(w.Text)+wear(w), ""
	}
	return out
}

// stands says, before anything else, until what is known a warning stands: its text speaks as if it were so.
func stands(w *engine.WarningView) string {
	s := strings.TrimSuffix(lower(screen.Stands(w)), ".")
	switch {
	case w.Certain:
		return ""
	case s == "":
		return "(not settled)"
	}
	return "(" + s + ")"
}

// again is a warning that stands in full at an earlier step.
func again(w *engine.WarningView, at int) warning {
	return warning{Signal: strings.ToUpper(w.Signal), Stands: stands(w), Text: screen.FirstSentence(w.Text) + wear(w), More: fmt.Sprintf("More at step\u00a0%d.", at)}
}

func (m *maker) step(i int, s *engine.PlanStep) step {
	out := step{ID: "step-" + stepNumber(i), No: stepNumber(i), Name: s.Name, Where: screen.StepWhere(s), Do: s.Do}
	takes := ""
	if s.Minutes[2] > 0 {
		takes = screen.Minutes(s.Minutes)
		if s.Critical && len(m.Plan.Steps) > 1 {
			takes += " *"
		}
	}
	ordered := *s
	ordered.After = slices.DeleteFunc(slices.Clone(s.After), func(a engine.StepAfter) bool { return a.Rule == "" }) // the numbers say the usual order
	var harms, waits, after []string
	piece := 0
	for i := range s.Harms {
		h := &s.Harms[i]
		if h.To == "piece" {
			piece++
		}
		if h.Risk != rules.None.String() && (h.To != "piece" || piece <= mostHarms) {
			harms = append(harms, screen.HarmLine(h))
		}
	}
	for _, line := range screen.StepAfter(&ordered, m.number, m.Plan) {
		after = append(after, screen.Sentence(line))
	}
	for _, w := range s.Waits {
		waits = append(waits, screen.Sentence(screen.WaitLine(w, m.Plan)))
	}
	why := ""
	if s.Because != "" {
		why = screen.BackedLine(s.Because, s.Sources, m.Plan.Sources)
	}
	how := ""
	if s.Kind == "chore" {
		for j := range m.Plan.Steps[:i] {
			if m.Plan.Steps[j].Rule == s.Rule { // what a chore asks for is said once
				how, out.Do = fmt.Sprintf("As at step\u00a0%d.", j+1), nil
				break
			}
		}
	}
	out.Before = rows(
		said("Takes", takes),
		said("When", m.when(s)),
		said("After", after...),
		said("Why", why),
		led("Risk", harms...),
		said("Wear", listed(s.Wear)),
		said("Take", listed(slices.Concat(s.Materials, s.Tools))),
		said("How", how),
	)
	out.After = rows(led("Wait", waits...), said("Meanwhile", m.meanwhile(s)))
	if s.Kind == "repair" {
		out.Found = m.found(out.ID, s)
	}
	return out
}

// trials are the tables to fill in.
func (m *maker) trials() []trial {
	var out []trial
	for i := range m.Plan.Steps {
		s := &m.Plan.Steps[i]
		if len(s.Compare) == 0 {
			continue
		}
		t := trial{Caption: stepNumber(i) + " " + s.Name, Columns: s.Compare, Blank: make([]struct{}, len(s.Compare)-1)}
		if where := screen.StepWhere(s); where != "" {
			t.Caption += ", " + where
		}
		for n := range trialRows {
			t.Rows = append(t.Rows, stepNumber(n))
		}
		out = append(out, t)
	}
	return out
}

// day is how a sheet names a moment; the year stands at its head.
const day = "Mon 2 Jan 15:04"

// when says when a step is done and when its wait is over; "" without dates.
func (m *maker) when(s *engine.PlanStep) string {
	var out []string
	for _, w := range s.Work {
		from, to := m.moment(w.From), m.moment(w.To)
		end := day
		if from.YearDay() == to.YearDay() {
			end = "15:04"
		}
		out = append(out, screen.Glue(from.Format(day)+" to "+to.Format(end)))
	}
	if len(out) > 0 && s.WaitH > 0 {
		out = append(out, screen.Glue("ready "+m.moment(s.Ready).Format(day)))
	}
	return strings.Join(out, "; ")
}

func listed(list []string) string {
	if len(list) == 0 {
		return ""
	}
	return screen.Sentence(strings.Join(list, ", "))
}

// meanwhile names what may be done while a step waits.
func (m *maker) meanwhile(s *engine.PlanStep) string {
	var out []string
	for _, id := range s.Meanwhile {
		n := m.number[id]
		out = append(out, fmt.Sprintf("step\u00a0%d, %s", n, lower(m.Plan.Steps[n-1].Name)))
	}
	return listed(out)
}

// found makes room to note how a repair came out, mark by mark, in the words that the command done takes.
func (m *maker) found(id string, s *engine.PlanStep) []found {
	var measure []measured
	if method := m.Book.Method(s.Rule); method != nil {
		for _, l := range method.Leaves {
			if f := m.Book.Facts[l.Fact]; f != nil && f.Kind == condition.Quantity && f.Subject == "defect" {
				measure = append(measure, measured{screen.FactName(f.ID) + " left", f.Unit})
			}
		}
	}
	for _, p := range m.Plan.Surfaces {
		if slices.ContainsFunc(p.Cuts, func(c engine.PlanCut) bool { return c.Step == s.ID }) {
			measure = append(measure, measured{"thinnest layer left", "mm"})
		}
	}
	var outcomes []string
	for _, o := range engine.CameOut {
		outcomes = append(outcomes, strings.ReplaceAll(o, "-", " "))
	}
	var out []found
	for i, mark := range s.Marks {
		out = append(out, found{ID: fmt.Sprintf("%s-%d", id, i+1), Mark: mark, Outcomes: outcomes, Measured: measure})
	}
	return out
}

// clashes are the repairs that would spoil each other.
func (m *maker) clashes() []string {
	var out []string
	for i := range m.Plan.Clashes {
		out = append(out, screen.ClashLine(&m.Plan.Clashes[i], m.Plan))
	}
	return out
}

// good is something to buy.
type good struct {
	Name, Amount, Steps string
	Keep, Discard       string
}

// shopping is what to buy, and what else has to be ready.
func (m *maker) shopping() (buy []good, ready []row) {
	for i := range m.Plan.Buy {
		b := m.Plan.Buy[i]
		b.Needs = plain(b.Needs)
		var steps []string
		for _, id := range b.Steps {
			steps = append(steps, strconv.Itoa(m.number[id]))
		}
		buy = append(buy, good{Name: b.Name, Amount: screen.BuyAmount(&b), Steps: strings.Join(steps, ", "), Keep: b.Keep, Discard: b.Discard})
	}
	return buy, rows(said("At hand", listed(m.Plan.AtHand)), said("Tools", listed(m.Plan.Tools)), said("To wear", listed(m.Plan.Wear)))
}

// plain names facts as one says them.
func plain(ids []string) []string {
	var out []string
	for _, id := range ids {
		out = append(out, screen.FactName(id))
	}
	return out
}
