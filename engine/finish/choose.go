package finish

import (
	"slices"

	"mendwright/engine/coat"
	"mendwright/rules/interval"
)

// Choice is one coat of a ranking.
type Choice struct {
	Coat    string         `json:"coat"`
	Verdict Verdict        `json:"verdict"` // the worst of weather, ground and time
	Weather Weather        `json:"weather"`
	Ground  *Ground        `json:"ground,omitempty"`
	Coats   int            `json:"coats"` // the least usual number
	TouchH  interval.Range `json:"last_touch_h"`
	CuredH  interval.Range `json:"last_hard_h"`
	InTime  string         `json:"touched_in_time,omitempty"` // yes, no or unknown; "" if nobody said how much time there is
	Ready   string         `json:"hard_in_time,omitempty"`
}

// choose ranks all coats: by their verdict, and those alike in the order of the arithmetic.
func (j *judge) choose(a *Answer) error {
	d, _, err := j.day()
	if err != nil {
		return err
	}
	available := interval.Range{Lo: 0, Hi: longest}
	if j.q.Time != nil {
		available = *j.q.Time
	}
	ranked, err := j.t.Choose(d, available)
	if err != nil {
		return err
	}
	a.Choices = []Choice{}
	for _, r := range ranked {
		c, err := j.t.Coat(r.Coat)
		if err != nil {
			return err
		}
		choice, err := j.choice(c, r)
		if err != nil {
			return err
		}
		a.Choices = append(a.Choices, choice)
	}
	slices.SortStableFunc(a.Choices, func(x, y Choice) int { return x.Verdict.rank() - y.Verdict.rank() })
	if len(a.Choices) > 0 {
		a.Verdict = a.Choices[0].Verdict
	}
	return nil
}

func (j *judge) choice(c coat.Coat, r coat.Choice) (Choice, error) {
	w, err := j.weather(c)
	if err != nil {
		return Choice{}, err
	}
	out := Choice{Coat: c.Name, Verdict: w.Verdict, Weather: *w, Coats: r.Coats, TouchH: r.Touch, CuredH: r.Cured}
	if j.q.Over != "" {
		if out.Ground, err = j.ground(c); err != nil {
			return Choice{}, err
		}
		out.Verdict = worst(out.Verdict, out.Ground.Verdict)
	}
	if j.q.Time != nil {
		out.InTime, out.Ready = r.InTime.String(), r.Ready.String()
		out.Verdict = worst(out.Verdict, onTime(r.InTime))
	}
	return out, nil
}
