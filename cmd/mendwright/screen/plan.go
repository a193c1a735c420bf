package screen

import (
	"fmt"
	"slices"
	"strings"

	"mendwright/engine"
)

// Plan writes one order of work for a whole piece: what each mark gets, the steps with their reasons, what

// clashes, how long it takes, what to buy and whether it is worth it.

func Plan(p *Page, o *engine.Plan) {
	title := "Plan"
	if o.Job != "" {
		title += ": " + o.Job
	}
	p.Head(title)
	p.Text(0, PlanInShort(o))
	p.Blank()
	p.Head("The marks")
	for i := range o.Marks {
		plannedMark(p, o, &o.Marks[i])
	}
	if len(o.Marks) == 0 {
		p.Text(0, "The job lists no marks, so there is nothing to plan. `mendwright ask` adds them by questions.")
	}
	planSteps(p, o)
	planClashes(p, o)
	planCuts(p, o)
	planTime(p, o)
	planBuy(p, o)
	planWorth(p, o)
	warningList(p, o.Warnings, o.Sources)
	p.Blank()
	p.Text(0, Deference)
}

// PlanInShort says in a sentence or two what the plan comes to.

// Duration writes hours as a person would say them.

// MarkHead says in a line what the plan does about a mark.

func plannedMark(p *Page, o *engine.Plan, m *engine.PlannedMark) {
	p.Item(0, "-", 2, MarkHead(m))
	if m.Because != "" {
		s := sentence(m.Because)
		if len(m.Missing) > 0 {
			s += " Still to answer: " + strings.Join(m.Missing, ", ") + "."
		}
		p.Item(2, "Note", textCol-4, s)
	}
	switch {
	case m.State == engine.Refusal:
		for _, r := range m.Reasons {
			p.Item(2, "Against", textCol-2, fmt.Sprintf("%s (%s) [%s]", r.Because, restsOn(r.RestsOn), backing(r.Sources, o.Sources)))
		}
	case len(m.Reasons) > 0 && m.Name != "":
		r := m.Reasons[len(m.Reasons)-1] // the more telling stand later
		p.Item(2, "Why", textCol-4, sentence(r.Because)+" ["+backing(r.Sources, o.Sources)+"]")
	}
	if len(m.IfNot) > 0 {
		var names []string
		for _, r := range m.IfNot {
			names = append(names, r.Name)
		}
		p.Item(2, "If not enough", textCol-4, strings.Join(names, ", then ")+".")
	}
}

// sentence begins with a capital and ends with a full stop.

func planSteps(p *Page, o *engine.Plan) {
	if len(o.Steps) == 0 {
		return
	}
	p.Blank()
	p.Head("The order of work")
	number := Numbers(o)
	for i := range o.Steps {
		s := &o.Steps[i]
		no := fmt.Sprint(i + 1)
		p.Item(0, no, 4, StepHead(s, o))
		for _, line := range StepAfter(s, number, o) {
			p.Item(4, "After", 11, line)
		}
		if s.Because != "" && s.Kind == "chore" {
			p.Item(4, "Why", 11, sentence(s.Because)+" ["+backing(s.Sources, o.Sources)+"]")
		}
		if len(s.Compare) > 0 {
			p.Item(4, "Compare", 12, strings.Join(s.Compare, " | "))
		}
		if s.Kind == "repair" && len(s.Harms) > 0 {
			h := s.Harms[0]
			p.Item(4, "Danger", 11, fmt.Sprintf("%s: %s (to the %s, %s, %s).", sentenceStart(s.Risk), h.What, h.To, h.Severity, h.Level))
		}
		if len(s.Wear) > 0 {
			p.Item(4, "Wear", 11, strings.Join(s.Wear, ", ")+".")
		}
		for _, w := range s.Waits {
			p.Item(4, "Wait", 11, WaitLine(w, o))
		}
		if len(s.Meanwhile) > 0 && s.WaitH >= 1 {
			var do []string
			for _, id := range s.Meanwhile {
				do = append(do, fmt.Sprint(number[id]))
			}
			p.Item(4, "Meanwhile", 15, "step "+strings.Join(do, ", "))
		}
		if when := StepWhen(s); when != "" {
			p.Item(4, "When", 11, when)
		}
	}
}

// Numbers gives the steps their numbers, from 1, by id.

// StepHead says what a step is, where and how long it takes.

// StepWhere says on what a step is done, and to which marks where that is not all of them; "" for the whole piece.

func StepWhere(s *engine.PlanStep) string {
	where := s.On
	if forMarks := s.Kind == "repair" || s.On != "" && !strings.HasSuffix(s.ID, "@"+s.On); forMarks && len(s.Marks) > 0 {
		where = strings.TrimSpace(where + " (" + strings.Join(s.Marks, ", ") + ")")
	}
	return where
}

// StepAfter says after which steps a step comes, and why. Steps that come before for the same reason share a line.

// WaitLine says how long to wait and why.

// StepWhen says when a step is done, if the plan has dates.

func planClashes(p *Page, o *engine.Plan) {
	if len(o.Clashes) == 0 {
		return
	}
	p.Blank()
	p.Head("What would spoil each other")
	for _, c := range o.Clashes {
		p.Item(0, "-", 2, ClashLine(&c, o))
	}
}

// ClashLine says which repairs spoil each other and what saves them.

func planCuts(p *Page, o *engine.Plan) {
	if len(o.Surfaces) == 0 {
		return
	}
	p.Blank()
	p.Head("What the cuts take together")
	for i := range o.Surfaces {
		p.Item(0, "-", 2, CutsLine(&o.Surfaces[i]))
	}
}

// CutsLine says what all cuts into a surface take and leave.

func planTime(p *Page, o *engine.Plan) {
	if len(o.Steps) < 2 {
		return
	}
	p.Blank()
	p.Head("Time")
	for _, line := range TimeLines(o) {
		p.Item(0, "-", 2, line)
	}
	if o.Time.Problem == "" && o.Time.Start == "" {
		p.Item(0, "-", 2, "For dates, write when you begin and when you work into the job file: plan: {start: 2026-12-05, weekdays: 18:00-21:00, saturdays: 9:00-17:00}.")
	}
}

// TimeLines says how long a plan takes, which steps set that, and which fit badly into the hours of work.

func planBuy(p *Page, o *engine.Plan) {
	if len(o.Buy)+len(o.AtHand) == 0 {
		return
	}
	number := Numbers(o)
	p.Blank()
	p.Head("To buy or have at hand")
	for i := range o.Buy {
		b := &o.Buy[i]
		s := BuyLine(b)
		var steps []string
		for _, id := range b.Steps {
			steps = append(steps, fmt.Sprint(number[id]))
		}
		s += " (step " + strings.Join(steps, ", ") + ")"
		p.Item(0, "-", 2, s)
		if b.Keep != "" {
			p.Item(4, "Keeping", 14, b.Keep)
		}
		if b.Discard != "" {
			p.Item(4, "Discarding", 16, b.Discard)
		}
	}
	if len(o.AtHand) > 0 {
		p.Item(0, "-", 2, "At hand: "+strings.Join(o.AtHand, ", ")+".")
	}
	if len(o.Tools) > 0 {
		p.Item(0, "-", 2, "Tools: "+strings.Join(o.Tools, ", ")+".")
	}
}

// BuyLine says what to buy and how much.

// BuyAmount says how much to buy, or what that waits for.

func BuyAmount(b *engine.Purchase) string {
	switch {
	case b.Amount != nil && b.Amount.Hi > 0:
		return toBuy(*b.Amount, b.Unit)
	case len(b.Needs) > 0:
		return "how much waits for " + strings.Join(b.Needs, ", ")
	}
	return "as the work asks for"
}

// toBuy writes how much to buy, rounded up to what can be measured out.

func planWorth(p *Page, o *engine.Plan) {
	w := o.Worth
	if w == nil {
		return
	}
	p.Blank()
	p.Head("Worth it?")
	for _, line := range WorthLines(w) {
		p.Item(0, "-", 2, line)
	}
}

// WorthLines says whether the work pays, and what that rests on.

// Noted says what was written down of a step and what comes next.

func Noted(p *Page, step *engine.PlanStep, after *engine.Plan) {
	p.Text(0, "Noted: "+step.Name+".")
	for i := range after.Marks {
		m := &after.Marks[i]
		if step.Kind == "repair" && slices.Contains(step.Marks, m.ID) {
			p.Item(0, "-", 2, MarkHead(m))
			if m.Because != "" {
				p.Item(2, "Note", textCol-4, sentence(m.Because))
			}
		}
	}
	if len(after.Steps) == 0 {
		s := "Nothing is left to do in the plan."
		if open := openMarks(after); open > 0 {
			s = "Nothing can be planned until more is known: " + are(open, "mark") + " still open. `mendwright ask` goes on with the questions."
		}
		p.Text(0, s)
		return
	}
	p.Text(0, "Next: "+StepHead(&after.Steps[0], after)+". "+PlanInShort(after))
}
