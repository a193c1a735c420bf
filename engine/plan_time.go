package engine

import (
	"fmt"
	"time"

	"mendwright/engine/plan"
)

// clock is how a moment is written: by the clock of the shop.
const clock = "2006-01-02 15:04"

// time works out when each step can and must happen, and with working hours when it does.
func (p *planner) time(out *Plan, steps []*work, arcs []before) error {
	tasks := make([]plan.Task, len(steps))
	t := &out.Time
	t.Path, t.Sources = []string{}, p.tables.Plan
	var works []plan.Estimate
	for i, w := range steps {
		tasks[i] = plan.Task{Name: w.id, Stage: w.stage, Work: w.minutes[1] / 60, Wait: w.waitH, Whole: p.book.Terms.Stages[w.stage].Whole}
		works = append(works, plan.Estimate{Low: w.minutes[0] / 60, Likely: w.minutes[1] / 60, High: w.minutes[2] / 60})
		t.LowH, t.LikelyH, t.HighH = t.LowH+w.minutes[0]/60, t.LikelyH+w.minutes[1]/60, t.HighH+w.minutes[2]/60
	}
	total := plan.Total(works...)
	t.MeanH, t.StdH = total.Mean, total.Std()
	for _, a := range arcs {
		task := &tasks[a.b]
		if len(task.After) == 0 || task.After[len(task.After)-1] != a.a { // arcs come by their second step, then by their first
			task.After = append(task.After, a.a)
		}
		first := steps[a.a]
		if next := steps[a.b]; first.closesH > 0 && next.coat != "" && next.on == first.on {
			task.Windows = append(task.Windows, plan.Window{After: a.a, Within: first.closesH})
		}
	}
	net, err := plan.Critical(tasks)
	if err != nil {
		return err
	}
	t.ElapsedH, t.InARowH = net.AtLeast(), net.InARow
	for _, i := range net.Path {
		t.Path = append(t.Path, steps[i].id)
	}
	for i := range steps {
		s := &out.Steps[i]
		s.EarlyH, s.SlackH, s.Critical = net.Tasks[i].EarlyStart, net.Tasks[i].Slack, net.Tasks[i].Critical
	}
	if hours := &p.job.Planning; hours.Works() && !hours.Start.IsZero() {
		p.calendar(out, tasks, hours)
	}
	p.meanwhile(out, steps, arcs)
	return nil
}

// calendar lays the steps into the hours that the person works.
func (p *planner) calendar(out *Plan, tasks []plan.Task, hours *Planning) {
	laid, err := plan.Lay(tasks, hours.Hours, hours.Start)
	if err != nil {
		out.Time.Problem = err.Error()
		return
	}
	t := &out.Time
	t.Start, t.Done = hours.Start.Format(clock), laid.Done.Format(clock)
	for i, placed := range laid.Tasks {
		s := &out.Steps[i]
		for _, span := range placed.Work {
			s.Work = append(s.Work, Session{span.From.Format(clock), span.To.Format(clock)})
		}
		s.Ready = placed.Done.Format(clock)
	}
	p.begin = laid.Order
	for _, m := range laid.Missed {
		t.Missed = append(t.Missed, MissedStep{out.Steps[m.Task].ID, out.Steps[m.After].ID, m.Latest.Format(clock), begins(laid.Tasks[m.Task])})
	}
	for _, i := range laid.Over {
		t.Over = append(t.Over, out.Steps[i].ID)
	}
}

func begins(t plan.Placed) string {
	if len(t.Work) == 0 {
		return t.Worked.Format(clock)
	}
	return t.Work[0].From.Format(clock)
}

// meanwhile says for each step with a wait what may be done while it waits: where there are dates, what is
// laid there, else what neither waits for it nor it for that.
func (p *planner) meanwhile(out *Plan, steps []*work, arcs []before) {
	ahead := make([][]bool, len(steps)) // ahead[b][a]: a comes before b
	for i := range steps {
		ahead[i] = make([]bool, len(steps))
	}
	for _, a := range arcs { // by their second step, so that what is before a.a is known
		ahead[a.b][a.a] = true
		for i, r := range ahead[a.a] {
			ahead[a.b][i] = ahead[a.b][i] || r
		}
	}
	for i := range out.Steps {
		s := &out.Steps[i]
		if s.WaitH < 1 {
			continue
		}
		for j := range out.Steps {
			o := &out.Steps[j]
			if i == j || o.Minutes[1] == 0 || ahead[i][j] || ahead[j][i] || len(s.Meanwhile) >= 5 {
				continue
			}
			if len(s.Work) > 0 && !within(o.Work, s.Work[len(s.Work)-1].To, s.Ready) {
				continue
			}
			s.Meanwhile = append(s.Meanwhile, o.ID)
		}
	}
}

// within reports whether a session begins between two moments.
func within(work []Session, from, to string) bool {
	for _, w := range work {
		if w.From >= from && w.From < to { // they sort as they are written
			return true
		}
	}
	return false
}

// Moment reads a moment of a plan as one in a zone.
func Moment(text string, zone *time.Location) (time.Time, error) {
	t, err := time.ParseInLocation(clock, text, zone)
	if err != nil {
		return t, fmt.Errorf("read %q; a moment of a plan is written like %s", text, clock)
	}
	return t, nil
}
