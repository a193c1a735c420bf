package finish

import (
	"slices"

	"mendwright/engine/coat"
	"mendwright/rules"
	"mendwright/rules/interval"
)

// Ground is what is known of a coat over the finish that is there.
type Ground struct {
	Verdict Verdict `json:"verdict"`
	Old     string  `json:"old"`
	New     string  `json:"new"`
	May     string  `json:"may"` // yes, spray, mist, no, or unknown where the table has no such pair
	Scuff   bool    `json:"scuff"`
	Barrier string  `json:"barrier"` // no, yes, or-wait or if-unknown
	Laid    bool    `json:"barrier_laid"`
	// WaitH is how long in hours the old film must have dried, UnderH the same under a barrier.
	WaitH   *interval.Range `json:"wait_h,omitempty"`
	UnderH  *interval.Range `json:"wait_under_barrier_h,omitempty"`
	Usual   bool            `json:"wait_is_usual_drying,omitempty"`
	DriedH  *interval.Range `json:"dried_h,omitempty"`
	Why     string          `json:"why"`
	Sources []string        `json:"sources"`
}

// longest is longer, in hours, than any old film has to dry: eleven years.
const longest = 100000.0

// untried is what is said of a pair that no row holds.
const untried = "not in the table of pairs: try it on a hidden spot and see that it holds"

// ground judges a coat over the finish that is there. Drying that nobody dated may be any.
func (j *judge) ground(c coat.Coat) (*Ground, error) {
	g := &Ground{Old: j.q.Over, New: c.Finish, Laid: j.q.Barrier, DriedH: j.q.Since}
	row := j.pair(c.Finish)
	if row == nil {
		g.Verdict, g.May, g.Barrier, g.Why, g.Sources = NotKnown, "unknown", "unknown", untried, []string{}
		return g, nil
	}
	o, err := j.t.Pair(c.Finish, j.q.Over)
	if err != nil {
		return nil, err
	}
	dried := interval.Range{Lo: 0, Hi: longest}
	if j.q.Since != nil {
		dried = *j.q.Since
	}
	now, err := o.Now(dried, j.q.Barrier)
	if err != nil {
		return nil, err
	}
	g.May, g.Scuff, g.Barrier, g.Why = o.May.String(), o.Scuff, o.Barrier.String(), o.Why
	if o.Wait.Hi > 0 {
		g.WaitH = &o.Wait
	}
	if o.Under.Hi > 0 {
		g.UnderH = &o.Under
	}
	g.Verdict = j.onTop(o, now)
	usual, err := j.usualDrying(o)
	if err != nil {
		return nil, err
	}
	if usual != nil {
		g.WaitH, g.Usual = usual, true
		g.Verdict = worst(g.Verdict, onTime(coat.Covers(dried, *usual)))
	}
	g.Sources = j.note(slices.Clone(row.Sources))
	return g, nil
}

// usualDrying is how long in hours a fresh old film takes until the next coat may follow, and can be
// scuffed where it must be, in today's air: for a pair that asks for nothing more, and a film that
// somebody dated. It spans all coats that dry to that finish. Nil is "nothing to wait for", and
// a coat over its own kind, which Next judges.
func (j *judge) usualDrying(o coat.Over) (*interval.Range, error) {
	if o.May == coat.MayNot || o.Wait.Hi > 0 || o.Under.Hi > 0 || o.Old == o.New || j.q.Since == nil {
		return nil, nil
	}
	d, _, err := j.day()
	if err != nil {
		return nil, err
	}
	var out *interval.Range
	for _, c := range j.t.Coats {
		if c.Finish != o.Old {
			continue
		}
		t, err := c.Times(d.Air, d.Humidity)
		if err != nil {
			return nil, err
		}
		ready := t.Recoat
		if o.Scuff {
			ready = interval.Range{Lo: max(ready.Lo, t.Sand.Lo), Hi: max(ready.Hi, t.Sand.Hi)}
		}
		if out == nil {
			out = &ready
		} else {
			*out = out.Hull(ready)
		}
	}
	return out, nil
}

// onTop is the verdict on a pair, given whether it may be coated now.
func (j *judge) onTop(o coat.Over, now coat.Truth) Verdict {
	v := map[coat.Truth]Verdict{coat.Yes: Go, coat.Unknown: NotKnown, coat.No: Wait}[now]
	switch {
	case o.May == coat.MayNot:
		return No
	case o.May == coat.MaySpray && j.q.Way == "":
		return worst(v, NotKnown)
	case o.May == coat.MaySpray && !j.t.Sprays[j.q.Way]:
		return No
	case o.May == coat.MayMist:
		return worst(v, Care)
	}
	return v
}

// pair finds the row of a new finish over the old one, or nil.
func (j *judge) pair(newFinish string) *rules.Row {
	for _, row := range j.rows["over"] {
		if row.Texts["new"] == newFinish && row.Texts["old"] == j.q.Over {
			return row
		}
	}
	return nil
}
