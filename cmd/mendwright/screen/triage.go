package screen

import (
	"fmt"
	"slices"
	"strings"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/engine"
)

// Columns of an entry: where labels and texts begin.
const (
	labelCol = 3
	textCol  = 13
)

// Triage writes the triage of a job: for each mark the best repair, why, its danger and what to
// answer next come first.
func Triage(p *Page, file *jobfile.File, a *engine.Answer) {
	title := "Triage"
	if a.Job != "" {
		title += ": " + a.Job
	}
	p.Head(title)
	understood(p, file)
	conflicts(p, a)
	for _, d := range a.Defects {
		p.Blank()
		defect(p, a, &d, file.Notes[d.ID])
	}
	for _, m := range a.Mended {
		p.Blank()
		p.Head(MendedLine(m))
	}
	if len(a.Defects)+len(a.Mended) == 0 {
		p.Text(0, "The job lists no defects, so there is nothing to judge. Add them under \"defects:\" with an id, the surface they are on and what you see.")
	}
	warnings(p, a)
	p.Blank()
	p.Text(0, Deference)
}

// MendedLine says what a mark was mended with.
func MendedLine(m engine.Mended) string {
	line := m.ID + " on " + m.On + ": done, " + m.Name
	if m.Day != "" {
		line += " on " + Glue(m.Day)
	}
	return line + "."
}

// understood echoes every answer as it was read, so that a slip in a unit is seen.
func understood(p *Page, file *jobfile.File) {
	var of []string
	by := map[string][]string{}
	for _, u := range file.Understood {
		if by[u.Of] == nil {
			of = append(of, u.Of)
		}
		_, name, _ := strings.Cut(u.Fact, ".")
		s := name + "\u00a0" + Glue(u.Answer)
		if u.Spread {
			s += "\u00a0(±\u00a0taken)"
		}
		by[u.Of] = append(by[u.Of], s)
	}
	for i, name := range of {
		label := ""
		if i == 0 {
			label = "Understood"
		}
		p.Item(0, label, textCol, name+": "+strings.Join(by[name], ", "))
	}
}

func conflicts(p *Page, a *engine.Answer) {
	for _, c := range a.Conflicts {
		p.Blank()
		p.Item(0, "CONFLICT", textCol, fmt.Sprintf("%s of %s was answered %s, but %s (%s) makes it %s. It counts as unknown. Look again and correct one answer, or list it under \"confirmed:\" to keep yours.",
			c.Fact, c.On, c.Answered, c.Because, backing(c.Sources, a.Sources), c.Found))
	}
}

func defect(p *Page, a *engine.Answer, d *engine.DefectAnswer, note string) {
	head := d.ID + " on " + d.On
	if note != "" {
		head += " (" + note + ")"
	}
	p.Head(head + ": " + kindNames(d))
	if len(d.Kinds) == 0 {
		p.Text(labelCol, noKind)
		return
	}
	leave(p, d)
	if len(d.Repairs) == 0 || d.Repairs[0].State == engine.RuledOut {
		nothingReady(p, a, d)
	} else {
		best(p, a, d, &d.Repairs[0])
	}
	next(p, d)
	others(p, d)
	ladder(p, d)
	if d.Sanding != nil {
		p.Item(labelCol, "Sanding", textCol, Verdict(d.Sanding))
	}
	ruledOut(p, a, d)
}

const noKind = "The answers fit no kind of defect that the rulebook knows. Look at them again; if they stand, ask somebody who repairs such pieces for a living."

func kindNames(d *engine.DefectAnswer) string {
	var sure, maybe []string
	for _, k := range d.Kinds {
		if k.Certain {
			sure = append(sure, Named(k.Name, k.Own))
		} else {
			maybe = append(maybe, Named(k.Name, k.Own))
		}
	}
	switch {
	case len(sure) > 0 && len(maybe) > 0:
		return strings.Join(sure, " and ") + "; perhaps also " + someOf(maybe, 3)
	case len(sure) > 0:
		return strings.Join(sure, " and ")
	case len(maybe) > 0:
		return "not settled; may be " + someOf(maybe, 4)
	}
	return "no known kind"
}

// against writes every reason that rules a repair out, with the answers it rests on.
func against(r *engine.Repair, a *engine.Answer) string {
	var why []string
	for _, b := range r.Because {
		s := fmt.Sprintf("%s (%s) [%s]", b.Because, restsOn(b.RestsOn), backing(b.Sources, a.Sources))
		if len(b.WouldDo) > 0 {
			s += "; " + wouldDo(b.WouldDo)
		}
		why = append(why, s)
	}
	return strings.Join(why, "; ")
}

// wouldDo writes what would lift a ban or a doubt, each by itself, as it would be answered.
func wouldDo(changes []string) string {
	s := strings.ReplaceAll(strings.Join(changes, ", or "), ": ", "\u00a0")
	if len(changes) > 1 {
		return "any one of these would do: " + s
	}
	return "would do: " + s
}

// someOf lists the first of many names and counts the rest.
func someOf(names []string, n int) string {
	if len(names) <= n {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s or %d more", strings.Join(names[:n], ", "), len(names)-n)
}

func leave(p *Page, d *engine.DefectAnswer) {
	p.Item(labelCol, "Leave it", textCol, leaving(&d.Leave[0]))
}

func leaving(l *engine.LeaveIt) string {
	return fmt.Sprintf("%s (%s; %s)", l.Text, urgencyWords[l.Urgency], useWords[l.Use])
}

// best writes the head of the ranking in full.
func best(p *Page, a *engine.Answer, d *engine.DefectAnswer, r *engine.Repair) {
	p.Item(labelCol, "Best", textCol, fmt.Sprintf("%s: %s, risk %s%s", Named(r.Name, r.Own), stateWords[r.State], r.Risk, aim(r)))
	p.Item(labelCol, "Why", textCol, whyReady(a, r))
	if r.State == engine.NeedsAnswer {
		p.Item(labelCol, "Needs", textCol, strings.TrimPrefix(openFacts(d, r), "first know "))
	}
	harms(p, r, 3)
	gravest(p, a, r.Method, 2)
	reckoned(p, r)
	p.Item(labelCol, "Takes", textCol, takes(r))
}

// whyReady says what a repair is and why it may be done.
func whyReady(a *engine.Answer, r *engine.Repair) string {
	var why []string
	for _, b := range r.Because {
		why = append(why, fmt.Sprintf("%s [%s]", b.Because, backing(b.Sources, a.Sources)))
	}
	text := r.What
	if len(why) > 0 {
		text += " " + capital(strings.Join(why, "; ")) + "."
	}
	return text
}

// openFacts says what a repair waits for, or which measurement is too rough.
func openFacts(d *engine.DefectAnswer, r *engine.Repair) string {
	if r.Sanding != nil && r.Sanding.Problem != "" && len(r.Missing) == 0 {
		return "another sanding programme: " + r.Sanding.Problem
	}
	var unknown, rough []string
	for _, id := range r.Missing {
		if slices.ContainsFunc(d.Questions, func(q engine.Question) bool { return q.Closer && q.Fact == id }) {
			rough = append(rough, id)
		} else {
			unknown = append(unknown, id)
		}
	}
	var first []string
	if len(unknown) > 0 {
		first = append(first, "first know "+someOf(unknown, 4))
	}
	if len(rough) > 0 {
		first = append(first, "measure more closely "+someOf(rough, 4))
	}
	if len(first) > 0 {
		return strings.Join(first, "; ")
	}
	var open []string
	for _, o := range r.Open {
		if len(o.Missing) == 0 && len(o.WouldDo) > 0 {
			open = append(open, fmt.Sprintf("no closer measurement settles whether %s; %s", o.Because, wouldDo(o.WouldDo)))
		}
	}
	if len(open) > 0 {
		return strings.Join(open, "; ")
	}
	return "what was looked at and could not be told; without it this stays open"
}

// nothingReady says what is left when every repair is ruled out: those that a change of the shop
// would open, or to leave it.
func nothingReady(p *Page, a *engine.Answer, d *engine.DefectAnswer) {
	label := "Best"
	for i := range d.Repairs {
		r := &d.Repairs[i]
		if !r.ShopOnly || !likely(d, r) {
			continue
		}
		p.Item(labelCol, label, textCol, fmt.Sprintf("%s: %s", Named(r.Name, r.Own), shopFirst(a, r)))
		label = ""
	}
	if label != "" {
		p.Item(labelCol, label, textCol, noRepair)
	}
}

const noRepair = "No repair is left that the answers allow. Leave it, or ask a conservator or licensed trade."

// shopFirst says of a repair that only the shop stands against what to change there.
func shopFirst(a *engine.Answer, r *engine.Repair) string {
	return fmt.Sprintf("RULED OUT as the shop stands, and by nothing else; otherwise risk %s. Change this first: %s.", r.Risk, against(r, a))
}

func aim(r *engine.Repair) string {
	s := ""
	if r.Tried {
		s = "; tried here, and not enough"
	}
	if r.MeetsAim == "no" {
		s += "; falls short of the aim"
	}
	return s
}

func harms(p *Page, r *engine.Repair, n int) {
	label := "Danger"
	shown := 0
	for _, h := range r.Harms {
		if h.Risk == "eliminated" {
			continue
		}
		if shown == n {
			break
		}
		p.Item(labelCol, label, textCol, capital(h.Risk)+": "+harm(&h))
		label = ""
		shown++
	}
}

// harm says what may go wrong, for whom, how gravely and how likely.
func harm(h *engine.Hazard) string {
	return fmt.Sprintf("%s (to the %s, %s, %s)", h.What, h.To, h.Severity, h.Level)
}

// gravest writes the gravest warnings that a method brings; the rest stand below with all others.
func gravest(p *Page, a *engine.Answer, method string, n int) {
	shown := 0
	for _, w := range a.Warnings {
		if !slices.Contains(w.Methods, method) || w.Signal == "notice" || shown == n {
			continue
		}
		p.Item(labelCol, "", textCol, strings.ToUpper(w.Signal)+": "+firstSentence(w.Text))
		shown++
	}
}

func takes(r *engine.Repair) string {
	s := fmt.Sprintf("%s hands-on; %s; %s", minutes(r.Minutes), outcomeWords[r.Achieves], undoWords[r.Undo])
	switch {
	case r.RemovesMM == nil:
		s += "; wood removed not known yet"
	case r.RemovesMM.Hi > 0:
		s += "; removes " + mm(*r.RemovesMM)
	}
	for _, w := range r.Waits {
		s += fmt.Sprintf("; then %s for %s", hours(w.Hours), w.For)
		if w.SettlesPC != nil {
			s += fmt.Sprintf(" (in this air wood comes to rest at %s moisture and the meter has to read within 2 points of that; cold or damp air makes it longer)", Glue(engine.Multiple(*w.SettlesPC)+" %"))
		}
	}
	return s
}

// next writes the questions worth answering now.
func next(p *Page, d *engine.DefectAnswer) {
	for i, q := range d.Questions {
		if i == 2 {
			break
		}
		label := ""
		if i == 0 {
			label = "Ask next"
		}
		p.Item(labelCol, label, textCol, question(q))
	}
}

func question(q engine.Question) string {
	name := q.Fact
	s := q.Ask
	if q.Closer {
		s += " Measure it more closely."
	}
	var ids []string
	for _, o := range q.Answers {
		ids = append(ids, o.ID)
	}
	switch {
	case len(ids) > 0 && len(ids) <= 6:
		s += " (" + name + ": " + strings.Join(ids, ", ") + ")"
	case q.Unit != "":
		s += " (" + name + ", in " + q.Unit + ")"
	default:
		s += " (" + name + ")"
	}
	if q.Harms != "" {
		s += " May harm: " + q.Harms
	}
	return s
}

// likely reports whether a repair is for a kind that the mark certainly is, or for any kind
// while none is certain.
func likely(d *engine.DefectAnswer, r *engine.Repair) bool {
	settled := false
	for _, k := range d.Kinds {
		if k.Certain && slices.Contains(r.For, k.Kind) {
			return true
		}
		settled = settled || k.Certain
	}
	return !settled
}

func others(p *Page, d *engine.DefectAnswer) {
	unlikely := 0
	heading := false
	for i := range d.Repairs {
		r := &d.Repairs[i]
		switch {
		case i == 0 || r.State == engine.RuledOut:
			continue
		case !likely(d, r):
			unlikely++
			continue
		}
		if !heading {
			p.Text(labelCol, "Also possible, in order:")
			heading = true
		}
		s := fmt.Sprintf("%s: %s, risk %s%s", Named(r.Name, r.Own), stateWords[r.State], r.Risk, aim(r))
		if r.State == engine.NeedsAnswer {
			s += "; " + openFacts(d, r)
		}
		s += short(r)
		p.Item(labelCol, fmt.Sprintf("%3d", r.Rank), textCol-5, s)
	}
	if unlikely > 0 {
		p.Text(labelCol, fmt.Sprintf("%s for what it may be as well; --json lists them.", count(unlikely, "more repair")))
	}
}

// count writes a number with its noun.
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

func ladder(p *Page, d *engine.DefectAnswer) {
	if s := rungs(d); s != "" {
		p.Item(labelCol, "Ladder", textCol, s)
	}
}

// rungs says which repairs follow each other, the mildest first; "" if there is one at most.
func rungs(d *engine.DefectAnswer) string {
	if len(d.Ladder) < 2 {
		return ""
	}
	var steps []string
	for _, r := range d.Ladder {
		s := r.Name
		var left []string
		for _, l := range r.Leaves {
			if strings.HasSuffix(l.Fact, "_mm") {
				if l.Answer == "look again" {
					left = append(left, "then "+l.Answer)
				} else {
					left = append(left, "leaves "+Glue(l.Answer))
				}
			}
		}
		if len(left) > 0 {
			s += " (" + strings.Join(left, ", ") + ")"
		}
		steps = append(steps, s)
	}
	return strings.Join(steps, "; if not enough: ")
}

func ruledOut(p *Page, a *engine.Answer, d *engine.DefectAnswer) {
	heading := false
	for i := range d.Repairs {
		r := &d.Repairs[i]
		if r.State != engine.RuledOut || !likely(d, r) || r.ShopOnly && d.Repairs[0].State == engine.RuledOut {
			continue // the last are shown as the best there is
		}
		if !heading {
			p.Text(labelCol, "Ruled out:")
			heading = true
		}
		p.Item(labelCol, "  -", textCol-5, Named(r.Name, r.Own)+": "+against(r, a))
	}
}
