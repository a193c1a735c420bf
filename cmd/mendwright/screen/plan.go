package screen

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"mendwright/engine"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
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
func PlanInShort(o *engine.Plan) string {
	n := 0
	for _, m := range o.Marks {
		if m.State == engine.Planned || m.State == engine.LookAgain {
			n++
		}
	}
	if len(o.Steps) == 0 {
		return "Nothing is planned yet."
	}
	s := fmt.Sprintf("%s for %s: %s of work (%s to %s)", howMany(len(o.Steps), "step"), howMany(n, "mark"),
		Duration(o.Time.MeanH), Duration(o.Time.LowH), Duration(o.Time.HighH))
	switch {
	case o.Time.Done != "":
		s += ", done by " + Glue(o.Time.Done) + " if begun on " + Glue(o.Time.Start)
	default:
		s += ", over at least " + Duration(o.Time.ElapsedH) + " with the waits"
	}
	s += "."
	if o.Refused {
		s = "REFUSED in part, see the marks. " + s
	}
	if open := openMarks(o); open > 0 {
		s += fmt.Sprintf(" %s still open.", are(open, "mark"))
	}
	return s
}

func openMarks(o *engine.Plan) int {
	n := 0
	for _, m := range o.Marks {
		if m.State == engine.OpenMark {
			n++
		}
	}
	return n
}

func howMany(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func are(n int, what string) string {
	if n == 1 {
		return "1 " + what + " is"
	}
	return fmt.Sprintf("%d %ss are", n, what)
}

// Duration writes hours as a person would say them.
func Duration(h float64) string {
	switch {
	case h < 1:
		return Glue(fmt.Sprintf("%.0f min", h*60))
	case h < 48:
		return Glue(quantity.Number(math.Round(h*10)/10, 3) + " h")
	}
	return Glue(quantity.Number(math.Round(h/24*10)/10, 3) + " days")
}

var markStates = map[engine.MarkState]string{
	engine.Planned: "planned", engine.LookAgain: "planned, LOOK AGAIN first", engine.Gone: "goes with the work before it",
	engine.OpenMark: "OPEN", engine.Refusal: "REFUSED", engine.Finished: "done",
}

// MarkHead says in a line what the plan does about a mark.
func MarkHead(m *engine.PlannedMark) string {
	head := m.ID
	if m.On != "" && !m.Arises {
		head += " on " + m.On
	}
	if len(m.Is) > 0 {
		head += ": " + someOf(m.Is, 3)
	}
	switch {
	case m.State == engine.Finished:
		return head + ". Done: " + m.Name + "."
	case m.Name != "":
		return head + ". " + m.Name + " (" + MarkState(m) + ")."
	}
	return head + ". " + strings.ToUpper(markStates[m.State][:1]) + markStates[m.State][1:] + "."
}

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
		r := m.Reasons[0]
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
func sentence(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	s = strings.ToUpper(string(r[0])) + string(r[1:])
	if !strings.ContainsAny(s[len(s)-1:], ".!?") {
		s += "."
	}
	return s
}

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

func sentenceStart(s string) string { return strings.TrimSuffix(sentence(s), ".") }

// Numbers gives the steps their numbers, from 1, by id.
func Numbers(o *engine.Plan) map[string]int {
	out := map[string]int{}
	for i, s := range o.Steps {
		out[s.ID] = i + 1
	}
	return out
}

// StepHead says what a step is, where and how long it takes.
func StepHead(s *engine.PlanStep, o *engine.Plan) string {
	head := s.Name
	if s.On != "" {
		head += ","
	}
	if where := StepWhere(s); where != "" {
		head += " " + where
	}
	if s.Minutes[2] > 0 {
		head += ": " + strings.TrimSuffix(minutes(s.Minutes), ",")
	}
	if s.Critical && s.WaitH+s.Minutes[1]/60 > 0 && len(o.Steps) > 1 {
		head += " *"
	}
	return head
}

// StepWhere says on what a step is done, and to which marks where that is not all of them; "" for the whole piece.
func StepWhere(s *engine.PlanStep) string {
	where := s.On
	if forMarks := s.Kind == "repair" || s.On != "" && !strings.HasSuffix(s.ID, "@"+s.On); forMarks && len(s.Marks) > 0 {
		where = strings.TrimSpace(where + " (" + strings.Join(s.Marks, ", ") + ")")
	}
	return where
}

// StepAfter says after which steps a step comes, and why. Steps that come before for the same reason share a line.
func StepAfter(s *engine.PlanStep, number map[string]int, o *engine.Plan) []string {
	var order []string
	by := map[string][]int{}
	backed := map[string]string{}
	for _, a := range s.After {
		key := a.Because
		if by[key] == nil {
			order = append(order, key)
			if a.Rule != "" {
				backed[key] = " [" + backing(a.Sources, o.Sources) + "]"
			}
		}
		by[key] = append(by[key], number[a.Step])
	}
	var out []string
	for _, key := range order {
		slices.Sort(by[key])
		out = append(out, "step "+numbers(by[key])+": "+key+backed[key])
	}
	return out
}

func numbers(list []int) string {
	var out []string
	for _, n := range list {
		out = append(out, fmt.Sprint(n))
	}
	return strings.Join(out, ", ")
}

// WaitLine says how long to wait and why.
func WaitLine(w engine.WaitView, o *engine.Plan) string {
	s := hours(w.Hours) + " for " + w.For + ": " + w.Because
	if w.SettlesPC != nil {
		s += "; the wood settles at " + Glue(engine.Multiple(*w.SettlesPC)+" %") + " in this air"
	}
	if len(w.Sources) > 0 {
		s += " [" + backing(w.Sources, o.Sources) + "]"
	}
	return s
}

// StepWhen says when a step is done, if the plan has dates.
func StepWhen(s *engine.PlanStep) string {
	var out []string
	for _, w := range s.Work {
		to := w.To
		if len(to) > 11 && to[:10] == w.From[:10] {
			to = to[11:]
		}
		out = append(out, Glue(w.From)+" to "+Glue(to))
	}
	when := strings.Join(out, "; ")
	if when != "" && s.WaitH > 0 {
		when += "; ready " + Glue(s.Ready)
	}
	return when
}

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
func ClashLine(c *engine.Clash, o *engine.Plan) string {
	s := c.First + " and " + c.Next
	if c.On != "" {
		s += " on " + c.On
	}
	s += " (" + strings.Join(c.Marks, ", ") + "): " + c.Because
	if len(c.Sources) > 0 {
		s += " [" + backing(c.Sources, o.Sources) + "]"
	}
	switch c.Saved {
	case "swap":
		return s + ". Another repair was taken. " + c.Text
	case "order":
		return s + ". The order saves both. " + c.Text
	}
	return s + ". " + c.Text
}

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
func CutsLine(s *engine.SurfacePlan) string {
	var cuts []string
	for _, c := range s.Cuts {
		where := "at " + strings.Join(c.Marks, ", ")
		if c.Across {
			where = "all over, for " + strings.Join(c.Marks, ", ")
		}
		step, _, _ := strings.Cut(c.Step, "@")
		cuts = append(cuts, step+" "+mm(c.TakeMM)+" "+where)
	}
	text := s.Surface + ": " + strings.Join(cuts, "; ")
	if len(cuts) == 0 {
		text = s.Surface + ": no cut is planned"
	}
	if s.BeforeMM != nil && s.LeftMM != nil {
		text += fmt.Sprintf(". Of %s that leaves %s at the worst place; keep %s", mm(*s.BeforeMM), mm(*s.LeftMM), mm(interval.Exact(s.KeepMM)))
	} else if len(cuts) > 0 {
		text += ". The layer was not measured"
	}
	if s.Refused {
		text += ". A further cut was REFUSED: together they would go through the keep line"
	}
	return text + "."
}

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
func TimeLines(o *engine.Plan) []string {
	number := Numbers(o)
	out := []string{fmt.Sprintf("Hands-on %s, give or take %s (three-point estimate); %s one after the other, at least %s with what can wait side by side. [%s]",
		Duration(o.Time.MeanH), Duration(o.Time.StdH), Duration(o.Time.InARowH), Duration(o.Time.ElapsedH), backing(o.Time.Sources, o.Sources))}
	var path []string
	for _, id := range o.Time.Path {
		path = append(path, fmt.Sprint(number[id]))
	}
	if len(path) > 1 {
		out = append(out, "What sets the length (*): steps "+strings.Join(path, ", ")+". A delay there delays all.")
	}
	for _, m := range o.Time.Missed {
		out = append(out, fmt.Sprintf("MISSED: step %d should begin by %s, within the window of step %d, and begins %s. Begin step %d later, or scuff before step %d.",
			number[m.Step], Glue(m.Latest), number[m.After], Glue(m.Begins), number[m.After], number[m.Step]))
	}
	for _, id := range o.Time.Over {
		out = append(out, fmt.Sprintf("Step %d is not to be left half done and fits into none of your hours: keep a longer stretch free for it.", number[id]))
	}
	if o.Time.Problem != "" {
		out = append(out, "No dates: "+o.Time.Problem+".")
	}
	return out
}

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
func BuyLine(b *engine.Purchase) string { return b.Name + ": " + BuyAmount(b) }

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
func toBuy(r interval.Range, unit string) string {
	if unit == "pieces" || unit == "sheets" {
		r = interval.Range{Lo: math.Ceil(r.Lo - 1e-9), Hi: math.Ceil(r.Hi - 1e-9)}
		if r.Hi == 1 {
			unit = strings.TrimSuffix(unit, "s")
		}
	}
	lo, hi := quantity.Number(r.Lo, 2), quantity.Number(r.Hi, 2)
	if lo == hi {
		return Glue(hi + " " + unit)
	}
	return Glue(lo + " to " + hi + " " + unit)
}

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
func WorthLines(w *engine.Worth) []string {
	if w.Verdict == "" {
		return []string{sentence(w.Because)}
	}
	money := func(r interval.Range) string {
		lo, hi := fmt.Sprintf("%.0f", r.Lo), fmt.Sprintf("%.0f", r.Hi)
		s := lo
		if lo != hi {
			s += " to " + hi
		}
		return Glue(strings.TrimSpace(s + " " + w.Currency))
	}
	out := []string{strings.ToUpper(w.Verdict) + ": " + w.Because + ".",
		fmt.Sprintf("What is left when everything is paid, your hours too: %s; likely %s, give or take %s; chance of any profit %s.",
			money(w.Profit), money(interval.Exact(w.MeanProfit)), money(interval.Exact(w.StdProfit)), chance(w.Chance)),
		fmt.Sprintf("An hour of work earns %s. Nothing is lost from a price of %s on; the most to pay for the piece is %s.", money(w.HourEarns), money(w.BreakEven), money(w.HighestBid))}
	if len(w.Unpriced) > 0 {
		out = append(out, "Materials counted "+money(w.Materials)+"; without a price: "+strings.Join(w.Unpriced, ", ")+".")
	}
	if len(w.Drives) > 0 {
		out = append(out, "What widens it most: "+strings.Join(w.Drives, ", then ")+". All prices are yours.")
	}
	return out
}

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
