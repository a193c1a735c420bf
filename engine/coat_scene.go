package engine

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"mendwright/engine/air"
	"mendwright/engine/coat"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
)

// CoatDay is the coat of a repair in today's weather.
type CoatDay struct {
	Coat string `json:"coat,omitempty"` // "" where it is not known which
	// Whether it must wait, and whether it wants care or must wait: yes, no or unknown.
	Wait string `json:"wait"`
	Care string `json:"care"`
	// Why is what stands against it, or may.
	Why []string `json:"why,omitempty"`
	// The rest is there only if the coat and what it is reckoned from are known. Hours are those of
	// this room; ClosesH is when the next coat needs a scuff, absent where that never comes.
	DewPointC *interval.Range `json:"dew_point_c,omitempty"`
	AboveDewC *interval.Range `json:"wood_above_dew_point_c,omitempty"`
	TouchH    *interval.Range `json:"touch_h,omitempty"`
	RecoatH   *interval.Range `json:"recoat_from_h,omitempty"`
	ClosesH   *interval.Range `json:"recoat_until_h,omitempty"`
	CureH     *interval.Range `json:"cure_h,omitempty"`
	Scuff     bool            `json:"scuff_between,omitempty"`
	Missing   []string        `json:"missing,omitempty"`
}

// weather judges today for the coat that the scene's repair lays. What is not known stands for all
// it could be.
func (s *scene) weather() *CoatDay {
	t, err := s.tables.Coat()
	if err != nil {
		s.fail(err)
		return &CoatDay{Wait: "unknown", Care: "unknown"}
	}
	in := s.inputs("weather")
	names := in.rows(s.method.Coat.Choice)
	day := coat.Day{Air: in.quantity("air"), Humidity: in.quantity("humidity"), Surface: in.quantity("wood"), Spray: coat.No}
	if s.method.Coat.Sprayed {
		day.Spray = coat.Yes
	}
	c := &CoatDay{Wait: "unknown", Care: "unknown"}
	dew, err := air.DewPoint(day.Air, day.Humidity)
	if err == nil {
		day.DewMargin, err = coat.DewMargin(day.Surface, dew)
	}
	if err != nil {
		s.fail(err)
		return c
	}
	var verdicts worsening
	var reasons []string
	for _, name := range names {
		row, err := t.Coat(name)
		if err != nil {
			s.fail(err)
			return c
		}
		w, err := row.Judge(day)
		if err != nil {
			s.fail(err)
			return c
		}
		verdicts.add(int(w.Best-coat.Go), int(w.Worst-coat.Go))
		for _, r := range w.Reasons {
			if w.Verdict() == coat.Wait && r.Verdict != coat.Wait {
				continue // what only wants care does not matter today
			}
			reasons = append(reasons, reasonOf[r.Of]+r.Why)
		}
	}
	c.Wait, c.Care = yesNo[verdicts.reaches(int(coat.Wait-coat.Go))], yesNo[verdicts.reaches(int(coat.Care-coat.Go))]
	if c.Wait == "unknown" || c.Care == "unknown" {
		c.Missing = in.lacks()
	}
	if len(names) > 1 {
		return c
	}
	c.Coat, c.Why = names[0], reasons
	known := func(role string) bool { return !slices.Contains(in.absent, in.calc.Inputs[role]) }
	if !known("air") || !known("humidity") {
		return c
	}
	c.DewPointC = &dew
	if known("wood") {
		c.AboveDewC = &day.DewMargin
	}
	row, _ := t.Coat(names[0])
	times, err := row.Times(day.Air, day.Humidity)
	if err != nil {
		s.fail(err)
		return c
	}
	c.TouchH, c.RecoatH, c.CureH = &times.Touch, &times.Recoat, &times.Cure
	c.Scuff = row.Bonds == coat.ByScuff
	if times.Closes.Hi > 0 {
		c.ClosesH = &times.Closes
	}
	return c
}

// reasonOf puts in front of what speaks against a coat the thing it speaks of, where that does not
// name it.
var reasonOf = map[string]string{"air": "air ", "surface": "wood "}

func (c *CoatDay) output(name string) (condition.Value, bool) {
	if name == "care" {
		return yes(c.Care)
	}
	return yes(c.Wait)
}

func (c *CoatDay) lacks() []string { return c.Missing }

func (c *CoatDay) because() string {
	s := "as reckoned for today"
	if len(c.Why) > 0 {
		s += ": " + strings.Join(c.Why, "; ")
	}
	if c.AboveDewC != nil {
		s += fmt.Sprintf("; the air drops its water at %.3g to %.3g °C; the wood is %s", c.DewPointC.Lo, c.DewPointC.Hi, AboveDew(*c.AboveDewC))
	}
	return s
}

// AboveDew says how much warmer than the dew point wood is, to tenths of a degree; margin is in °C.
func AboveDew(margin interval.Range) string {
	tenth := func(v float64) string { return quantity.Number(math.Round(v*10)/10, 3) }
	span := func(lo, hi float64) string {
		if tenth(lo) == tenth(hi) {
			return tenth(lo) + " °C"
		}
		return tenth(lo) + " to " + tenth(hi) + " °C"
	}
	switch {
	case margin.Hi < 0:
		return span(-margin.Hi, -margin.Lo) + " colder than the dew point"
	case margin.Lo < 0:
		return "between " + tenth(-margin.Lo) + " °C colder and " + tenth(margin.Hi) + " °C warmer than the dew point"
	}
	return span(margin.Lo, margin.Hi) + " warmer than the dew point"
}

// Pairing is the new coat over what is there.
type Pairing struct {
	May string `json:"may"` // yes, no or unknown, put on the way the repair does
	// The rest is there only if one pair is meant.
	Why      string   `json:"why,omitempty"`
	Scuff    bool     `json:"scuff,omitempty"`
	Barrier  string   `json:"barrier,omitempty"`
	Untested bool     `json:"untested,omitempty"` // nothing is known of the pair: a test patch decides
	Missing  []string `json:"missing,omitempty"`
}

// pairing looks up the coat of the scene's repair over the old finish, or over bare wood if that
// has been stripped.
func (s *scene) pairing() *Pairing {
	t, err := s.tables.Coat()
	if err != nil {
		s.fail(err)
		return &Pairing{May: "unknown"}
	}
	in := s.inputs("pairing")
	var olds []string
	stripped := in.truth("stripped")
	if stripped != condition.True {
		olds = in.choices(in.calc.Inputs["old"])
	}
	if stripped != condition.False {
		olds = append(olds, s.tables.Bare)
	}
	p := &Pairing{}
	var against worsening
	names := in.rows(s.method.Coat.Choice)
	for _, name := range names {
		row, err := t.Coat(name)
		if err != nil {
			s.fail(err)
			return &Pairing{May: "unknown"}
		}
		for _, old := range olds {
			pair, err := t.Pair(row.Finish, old)
			one := len(names) == 1 && len(olds) == 1
			if err != nil { // not in the table
				against.add(0, 0)
				p.Untested = one
				continue
			}
			no := 0
			if pair.May == coat.MayNot || pair.May == coat.MayMist || pair.May == coat.MaySpray && !s.method.Coat.Sprayed {
				no = 1
			}
			against.add(no, no)
			if one {
				p.Why, p.Scuff = pair.Why, pair.Scuff
				if pair.Barrier != coat.NoBarrier {
					p.Barrier = pair.Barrier.String()
				}
			}
		}
	}
	switch against.reaches(1) {
	case condition.True:
		p.May = "no"
	case condition.False:
		p.May = "yes"
	default:
		p.May, p.Missing = "unknown", in.lacks()
	}
	return p
}

func (p *Pairing) output(string) (condition.Value, bool) { return yes(p.May) }

func (p *Pairing) lacks() []string { return p.Missing }

func (p *Pairing) because() string {
	if p.Why == "" {
		return "by the table of finishes over each other"
	}
	return "by the table of finishes over each other, " + p.Why
}
