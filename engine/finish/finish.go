// Package finish answers what a restorer asks before a coat goes on: how much of it, how long it
// takes, what it may go over, whether today's weather suits it, and which coat suits the day. It
// joins the arithmetic of engine/coat to the dew point of engine/air; its tables come from outside.
//
// Every input that nobody gave stands for all it could be or for the coat's own printed range, and
// the answer says which it was, so that a closer measurement gives an answer inside the wider one.
package finish

import (
	"errors"
	"slices"

	"mendwright/engine"
	"mendwright/engine/coat"
	"mendwright/rules"
	"mendwright/rules/interval"
)

// Question is what is asked. Nil is "nobody said".
type Question struct {
	Coat    string // name of a coat; "" asks which
	Over    string // the old finish, in the words of the table of pairs; "" if nobody said
	Way     string // how it is put on, in the words of the table of losses; "" if nobody said
	Barrier bool   // a barrier lies between

	Area    *interval.Range // m²
	Coats   *coat.Span
	Film    *interval.Range // µm of dry film that is wanted in all
	Solids  *interval.Range // % by volume
	Density *interval.Range // g/mL
	Waste   *interval.Range // % of what is used

	Air      *interval.Range // °C
	Humidity *interval.Range // %
	Surface  *interval.Range // °C
	Since    *interval.Range // h since the last coat, or since the old finish went on
	Time     *interval.Range // h that there are
}

// Answer holds the parts that were asked for.
type Answer struct {
	Coat    string                  `json:"coat,omitempty"`
	Over    string                  `json:"over,omitempty"`
	Way     string                  `json:"way,omitempty"`
	Verdict Verdict                 `json:"verdict,omitempty"` // the worst of the parts; "" if nothing was judged
	Weather *Weather                `json:"weather,omitempty"`
	Ground  *Ground                 `json:"ground,omitempty"`
	Next    *Next                   `json:"next_coat,omitempty"`
	Times   *Times                  `json:"times,omitempty"`
	Amount  *Amount                 `json:"amount,omitempty"`
	Choices []Choice                `json:"choices,omitempty"`
	Sources map[string]engine.Cited `json:"sources"`
}

// Verdict says whether a coat may go on.
type Verdict string

// The verdicts.
const (
	Go       Verdict = "go"
	Care     Verdict = "care"      // it may, with what the reasons say
	NotKnown Verdict = "not-known" // what was given allows more than one
	Wait     Verdict = "wait"      // not now
	No       Verdict = "no"        // never like this
)

var worsening = []Verdict{"", Go, Care, NotKnown, Wait, No}

func (v Verdict) rank() int { return slices.Index(worsening, v) }

// May reports whether the coat may go on for certain.
func (v Verdict) May() bool { return v == Go || v == Care }

func worst(vs ...Verdict) Verdict {
	return slices.MaxFunc(append(vs, ""), func(a, b Verdict) int { return a.rank() - b.rank() })
}

// unless is the verdict on a question whose answer yes speaks against the coat.
func unless(against coat.Truth) Verdict {
	return map[coat.Truth]Verdict{coat.No: Go, coat.Unknown: NotKnown, coat.Yes: Wait}[against]
}

// Judge answers a question from the tables of a rulebook. Its errors name what was asked that the
// tables do not hold, or what is out of range.
func Judge(book *rules.Book, t coat.Tables, q Question) (*Answer, error) {
	if q.Air == nil && (q.Coat == "" || q.Humidity != nil || q.Surface != nil || q.Since != nil || q.Time != nil) {
		return nil, errors.New("the temperature of the air is not given; expected it with anything about the weather or the time")
	}
	j := &judge{rows: map[string][]*rules.Row{}, t: t, q: q}
	for _, id := range []string{"coats", "over", "losses"} {
		table, err := book.Table(id)
		if err != nil {
			return nil, err
		}
		j.rows[id] = table.Rows
	}
	a := &Answer{Coat: q.Coat, Over: q.Over, Way: q.Way}
	if q.Coat == "" {
		if err := j.choose(a); err != nil {
			return nil, err
		}
	} else if err := j.one(a); err != nil {
		return nil, err
	}
	a.Sources = engine.CitedBy(book, j.cited)
	return a, nil
}

// judge is a question being answered.
type judge struct {
	rows  map[string][]*rules.Row // by table, for their sources
	t     coat.Tables
	q     Question
	cited []string
}

// one answers about one coat: all that was asked, and of a coat alone what its label would say.
func (j *judge) one(a *Answer) error {
	c, err := j.t.Coat(j.q.Coat)
	if err != nil {
		return err
	}
	if j.q.Air != nil {
		if a.Weather, err = j.weather(c); err != nil {
			return err
		}
		a.Verdict = worst(a.Verdict, a.Weather.Verdict)
	}
	if j.q.Over != "" {
		if a.Ground, err = j.ground(c); err != nil {
			return err
		}
		a.Verdict = worst(a.Verdict, a.Ground.Verdict)
	}
	if j.q.recoats(c) {
		if a.Next, err = j.next(c); err != nil {
			return err
		}
		a.Verdict = worst(a.Verdict, a.Next.Verdict)
	}
	asked := a.Verdict != "" || j.q.amounts()
	if j.q.amounts() || !asked {
		if a.Amount, err = j.amount(c); err != nil {
			return err
		}
		if a.Amount.TooThick == coat.Yes.String() {
			a.Verdict = worst(a.Verdict, No)
		}
	}
	if j.q.Air != nil || !asked {
		if a.Times, err = j.times(c, a.Amount); err != nil {
			return err
		}
		a.Verdict = worst(a.Verdict, a.Times.Verdict)
	}
	return nil
}

// recoats reports whether the time since the last coat of the same finish is asked about.
func (q Question) recoats(c coat.Coat) bool {
	return q.Since != nil && (q.Over == "" || q.Over == c.Finish)
}

// amounts reports whether films or litres are asked about.
func (q Question) amounts() bool {
	return q.Area != nil || q.Coats != nil || q.Film != nil || q.Solids != nil
}

// cite notes the sources of a row, found by its key, and returns them.
func (j *judge) cite(table, key string, also ...string) []string {
	ids := slices.Clone(also)
	for _, row := range j.rows[table] {
		if row.Key == key {
			ids = append(ids, row.Sources...)
		}
	}
	return j.note(ids)
}

// note keeps sources for the list at the end.
func (j *judge) note(ids []string) []string {
	slices.Sort(ids)
	ids = slices.Compact(ids)
	j.cited = append(j.cited, ids...)
	return ids
}
