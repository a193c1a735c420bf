package finish

import (
	"mendwright/engine/coat"
	"mendwright/rules/interval"
)

// Times are a coat's drying times, as printed and in today's weather.
type Times struct {
	Verdict Verdict         `json:"verdict,omitempty"` // whether the time there is will do; "" if nobody said how much
	Rows    []Time          `json:"rows"`
	Slower  *interval.Range `json:"slower,omitempty"` // by what the printed hours, but for closes, are multiplied today
	// Coats are those that the hours from the first to the last are reckoned with.
	Coats     coat.Span       `json:"coats"`
	CoatsFrom string          `json:"coats_from"` // given, film or usual
	TouchH    *interval.Range `json:"last_touch_h,omitempty"`
	CuredH    *interval.Range `json:"last_hard_h,omitempty"`
	TimeH     *interval.Range `json:"time_h,omitempty"`
	InTime    string          `json:"touched_in_time,omitempty"` // yes, no or unknown
	Ready     string          `json:"hard_in_time,omitempty"`
	Sources   []string        `json:"sources"`
}

// Time is the hours after which, or for closes up to which, something may be done.
type Time struct {
	Of       string          `json:"of"` // touch, recoat, closes, sand or cure
	PrintedH interval.Range  `json:"printed_h"`
	TodayH   *interval.Range `json:"today_h,omitempty"`
}

// times reckons drying. The number of coats is that of the amount, where one is asked for.
func (j *judge) times(c coat.Coat, amount *Amount) (*Times, error) {
	t := &Times{Rows: []Time{}, Sources: j.cite("coats", c.Name, "design-choice")}
	t.Coats, t.CoatsFrom = coatsFor(c, j.q)
	if amount != nil {
		t.Coats, t.CoatsFrom = amount.Coats, amount.CoatsFrom
	}
	var today coat.Times
	if j.q.Air != nil {
		d, _, err := j.day()
		if err != nil {
			return nil, err
		}
		if today, err = c.Times(d.Air, d.Humidity); err != nil {
			return nil, err
		}
		t.Slower = &today.Slower
		if err := j.schedule(c, d, t); err != nil {
			return nil, err
		}
	}
	for _, r := range []struct {
		of             string
		printed, today interval.Range
	}{
		{"touch", c.Touch, today.Touch}, {"recoat", c.Recoat, today.Recoat}, {"closes", c.Closes, today.Closes},
		{"sand", c.Sand, today.Sand}, {"cure", c.Cure, today.Cure},
	} {
		if r.printed == (interval.Range{}) {
			continue
		}
		row := Time{Of: r.of, PrintedH: r.printed}
		if j.q.Air != nil {
			row.TodayH = &r.today
		}
		t.Rows = append(t.Rows, row)
	}
	return t, nil
}

// schedule reckons from the first coat to the last, and holds it against the time there is.
func (j *judge) schedule(c coat.Coat, d coat.Day, t *Times) error {
	touch, cured, err := c.Schedule(t.Coats.Lo, d.Air, d.Humidity)
	if err != nil {
		return err
	}
	mostTouch, mostCured, err := c.Schedule(t.Coats.Hi, d.Air, d.Humidity)
	if err != nil {
		return err
	}
	t.TouchH = &interval.Range{Lo: touch.Lo, Hi: mostTouch.Hi}
	t.CuredH = &interval.Range{Lo: cured.Lo, Hi: mostCured.Hi}
	if j.q.Time == nil {
		return nil
	}
	inTime, ready := coat.Covers(*j.q.Time, *t.TouchH), coat.Covers(*j.q.Time, *t.CuredH)
	t.TimeH, t.InTime, t.Ready = j.q.Time, inTime.String(), ready.String()
	t.Verdict = onTime(inTime)
	return nil
}

// onTime is the verdict on whether a coat can be touched in the time there is.
func onTime(t coat.Truth) Verdict {
	return map[coat.Truth]Verdict{coat.Yes: Go, coat.Unknown: NotKnown, coat.No: Wait}[t]
}

// coatsFor is the number of coats where no film is asked for: those given, or the least usual.
func coatsFor(c coat.Coat, q Question) (coat.Span, string) {
	if q.Coats != nil {
		return *q.Coats, "given"
	}
	n := max(1, int(c.Coats.Lo))
	return coat.Span{Lo: n, Hi: n}, "usual"
}

// Next is whether the next coat of the same finish may follow.
type Next struct {
	Verdict Verdict         `json:"verdict"`
	SinceH  interval.Range  `json:"since_h"`
	Window  string          `json:"window"` // too-soon, open, closed or unknown
	Scuff   string          `json:"scuff"`  // yes, no or unknown
	FromH   interval.Range  `json:"from_h"`
	UntilH  *interval.Range `json:"until_h,omitempty"`
	SandH   *interval.Range `json:"sand_from_h,omitempty"`
	// LeftH is how many hours are still to wait.
	LeftH   *interval.Range `json:"left_h,omitempty"`
	Sources []string        `json:"sources"`
}

func (j *judge) next(c coat.Coat) (*Next, error) {
	d, _, err := j.day()
	if err != nil {
		return nil, err
	}
	r, err := c.Recoating(*j.q.Since, d.Air, d.Humidity)
	if err != nil {
		return nil, err
	}
	n := &Next{Verdict: unless(r.Soon), SinceH: *j.q.Since, Window: r.Window.String(), Scuff: r.Scuff.String(), FromH: r.From,
		Sources: j.cite("coats", c.Name, "design-choice")}
	if r.Until != (interval.Range{}) {
		n.UntilH = &r.Until
	}
	if r.Sand != (interval.Range{}) {
		n.SandH = &r.Sand
	}
	if r.Soon != coat.No {
		ready := r.From
		if n.UntilH != nil && n.SinceH.Hi > r.Until.Lo && n.SandH != nil {
			ready = interval.Range{Lo: max(r.From.Lo, r.Sand.Lo), Hi: max(r.From.Hi, r.Sand.Hi)}
		}
		left := ready.Sub(n.SinceH)
		n.LeftH = &interval.Range{Lo: max(left.Lo, 0), Hi: left.Hi}
	}
	return n, nil
}
