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
	s := fmt.Sprintf("%s for %s: %s of work (%s to %s)", count(len(o.Steps), "step"), count(n, "mark"),
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

func are(n int, what string) string {
	if n == 1 {
		return "1 " + what + " is"
	}
	return fmt.Sprintf("%d %ss are", n, what)
}

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

func sentenceStart(s string) string { return strings.TrimSuffix(sentence(s), ".") }

func Numbers(o *engine.Plan) map[string]int {
	out := map[string]int{}
	for i, s := range o.Steps {
		out[s.ID] = i + 1
	}
	return out
}

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
	}
	return s + ". " + c.Text
}

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

func BuyLine(b *engine.Purchase) string { return b.Name + ": " + BuyAmount(b) }

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
