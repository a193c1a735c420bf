package jobfile

import (
	"fmt"
	"strings"
	"time"

	"mendwright/engine"
	"mendwright/engine/plan"
	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
	"mendwright/rules/strictyaml"
)

// planning reads what the person says about time and money.
func (r *reader) planning(m *strictyaml.Map) engine.Planning {
	var p engine.Planning
	if v, ok := m.Opt("start"); ok {
		p.Start = startOf(v)
	}
	for _, key := range []struct {
		name string
		days []time.Weekday
	}{
		{"weekdays", []time.Weekday{time.Monday, time.Tuesday, time.Wednesday, time.Thursday, time.Friday}},
		{"saturdays", []time.Weekday{time.Saturday}},
		{"sundays", []time.Weekday{time.Sunday}},
	} {
		if v, ok := m.Opt(key.name); ok {
			hours := hoursOf(v)
			for _, d := range key.days {
				p.Hours[d] = hours
			}
		}
	}
	if v, ok := m.Opt("money"); ok {
		p.Money = r.money(v.Map())
	}
	if v, ok := m.Opt("repairs"); ok {
		p.Repairs = map[string]string{}
		picked := v.Map()
		for _, k := range picked.Keys() {
			id, _ := k.Scalar()
			n, _ := picked.Opt(id)
			p.Repairs[id] = r.method(n)
		}
	}
	p.Done = m.OptStrs("done")
	r.done(m)
	return p
}

// startOf reads a day, or a day and a time, on the clock of the shop.
func startOf(v strictyaml.Node) time.Time {
	text := v.Str()
	for _, form := range []string{"2006-01-02 15:04", time.DateOnly} {
		if t, err := time.Parse(form, text); err == nil && t.Year() >= 1900 && t.Year() < 3000 {
			return t
		}
	}
	v.Fail("read %q; expected a day, such as 2026-12-05, or a day and a time, such as 2026-12-05 18:00", text)
	return time.Time{}
}

// hoursOf reads parts of a day, such as 18:00-21:00, or none.
func hoursOf(v strictyaml.Node) []plan.Hours {
	var out []plan.Hours
	for _, n := range v.OneOrMore() {
		text := n.Str()
		if text == "none" {
			continue
		}
		from, to, ok := strings.Cut(text, "-")
		a, errA := clock(from)
		b, errB := clock(to)
		if !ok || errA != nil || errB != nil || a >= b || len(out) > 0 && out[len(out)-1].To > a {
			n.Fail("read %q; expected when the work is done, such as 18:00-21:00, earlier first, or none", text)
			return nil
		}
		out = append(out, plan.Hours{From: a, To: b})
	}
	return out
}

// clock reads a time of day in minutes after midnight; 24:00 is its end.
func clock(text string) (int, error) {
	text = strings.TrimSpace(text)
	if text == "24:00" {
		return 24 * 60, nil
	}
	t, err := time.Parse("15:04", text)
	return t.Hour()*60 + t.Minute(), err
}

func (r *reader) money(m *strictyaml.Map) *engine.Money {
	out := &engine.Money{Currency: m.OptStr("currency"), Prices: map[string]float64{}}
	amount := func(m *strictyaml.Map, key string) interval.Range {
		v, ok := m.Opt(key)
		if !ok {
			return interval.Range{}
		}
		return amountOf(v)
	}
	out.Paid, out.Other, out.Hour = amount(m, "paid").Mid(), amount(m, "other").Mid(), amount(m, "hour").Mid()
	out.Fetches = amount(m, "fetches")
	if v, ok := m.Opt("fee"); ok {
		q, err := quantity.Parse(v.Str(), "%")
		switch {
		case err != nil:
			v.Fail("%s", err)
		case q.Lo < 0 || q.Hi > 95:
			v.Fail("read %q; a fee is a part of the price, such as 10 %%", v.Str())
		}
		out.Fee = q.Mid() / 100
	}
	if v, ok := m.Opt("prices"); ok {
		prices := v.Map()
		for _, k := range prices.Keys() {
			id, _ := k.Scalar()
			if r.book.Order().Good(id) == nil {
				var known []string
				for g := range r.book.Order().Goods {
					known = append(known, g)
				}
				k.Fail("there is nothing to buy called %q%s", id, strictyaml.Nearest(id, known))
			}
			out.Prices[id] = amount(prices, id).Mid()
		}
	}
	r.done(m)
	return out
}

// amountOf reads a sum of money, without its currency, or a range of them.
func amountOf(v strictyaml.Node) interval.Range {
	q, err := quantity.Parse(v.Str(), "")
	if err != nil || q.Lo < 0 || q.Hi > 1e9 {
		v.Fail("read %q; expected a sum, such as 340, or from 300 to 380 in one currency", v.Str())
		return interval.Range{}
	}
	return q.Range
}

// history reads what was picked for a mark and what was done to it.
func (r *reader) history(m *strictyaml.Map, d *engine.Mark) {
	if v, ok := m.Opt("repair"); ok {
		d.Repair = r.method(v)
	}
	m.OptEach("done", func(m *strictyaml.Map) {
		done := engine.Done{Found: engine.Subject{Answers: map[string]condition.Value{}, CannotTell: map[string]bool{}}}
		if v, ok := m.Need("repair"); ok {
			done.Method = r.method(v)
		}
		if v, ok := m.Opt("on"); ok {
			done.On = v.Str()
			if _, err := time.Parse(time.DateOnly, done.On); err != nil {
				v.Fail("read %q; expected the day, such as 2026-12-05", done.On)
			}
		}
		if v, ok := m.Need("came_out"); ok {
			done.CameOut = oneOf(v, engine.CameOut)
		}
		if v, ok := m.Opt("found"); ok {
			found := v.Map()
			for _, k := range found.Keys() {
				id, _ := k.Scalar()
				f := r.found(k, id)
				if f == nil {
					continue
				}
				n, _ := found.Opt(id)
				r.answer(&done.Found, f, n, d.ID)
			}
		}
		r.done(m)
		d.Done = append(d.Done, done)
	})
}

// found finds a fact that was seen after a repair: about the mark by its name, about the rest by its whole id.
func (r *reader) found(n strictyaml.Node, id string) *rules.Fact {
	subject, name, ok := strings.Cut(id, ".")
	if !ok {
		subject, name = "defect", id
	}
	f, err := asked(r.book, subject, name)
	if err != nil {
		n.Fail("%s", err)
	}
	return f
}

func (r *reader) method(v strictyaml.Node) string {
	id := v.Str()
	if r.book.Method(id) == nil && id != "" {
		var known []string
		for _, m := range r.book.Methods() {
			known = append(known, m.ID)
		}
		v.Fail("there is no repair called %q%s", id, strictyaml.Nearest(id, known))
	}
	return id
}

func oneOf(v strictyaml.Node, words []string) string {
	text := v.Str()
	for _, w := range words {
		if w == text {
			return w
		}
	}
	v.Fail("read %q; expected %s%s", text, strings.Join(words, ", "), strictyaml.Nearest(text, words))
	return words[0]
}

// Has reports whether the file has a defect of that id.
func (d *Doc) Has(mark string) bool { _, err := d.markAt(mark); return err == nil }

// Pick writes which repair the person wants for a mark; "" takes the wish away.
func (d *Doc) Pick(mark, method string) error {
	at, err := d.markAt(mark)
	if err != nil {
		return err
	}
	if method == "" {
		return d.text.Remove(append(at, "repair"))
	}
	if d.book.Method(method) == nil {
		return fmt.Errorf("there is no repair called %q", method)
	}
	return d.text.Put(append(at, "repair"), strictyaml.Scalar(method))
}

// AddDone writes that a repair was done to a mark, on a day (YYYY-MM-DD, or "") and how it came out, with what
// was found afterwards.
func (d *Doc) AddDone(mark, method, day, cameOut string, found ...Answer) error {
	at, err := d.markAt(mark)
	if err != nil {
		return err
	}
	pairs := []strictyaml.Pair{{Key: "repair", Value: strictyaml.Scalar(method)}}
	if day != "" {
		pairs = append(pairs, strictyaml.Pair{Key: "on", Value: strictyaml.Scalar(day)})
	}
	pairs = append(pairs, strictyaml.Pair{Key: "came_out", Value: strictyaml.Scalar(cameOut)})
	var facts []strictyaml.Pair
	for _, a := range found {
		subject, name, _ := strings.Cut(a.Fact, ".")
		f, err := asked(d.book, subject, name)
		if err != nil {
			return err
		}
		v, err := answerValue(f, a.Texts)
		if err != nil {
			return err
		}
		key := a.Fact
		if subject == "defect" {
			key = name
		}
		facts = append(facts, strictyaml.Pair{Key: key, Value: v})
	}
	if len(facts) > 0 {
		pairs = append(pairs, strictyaml.Pair{Key: "found", Value: strictyaml.Mapping(facts...)})
	}
	return d.edit(func() error {
		if err := d.text.Append(append(at, "done"), strictyaml.Mapping(pairs...)); err != nil {
			return err
		}
		_, err := d.Read()
		return err
	})
}

// AddChoreDone writes that a chore of the plan is done.
func (d *Doc) AddChoreDone(step string) error {
	return d.text.Append(strictyaml.Path{"plan", "done"}, strictyaml.Scalar(step))
}

// markAt is where a mark stands.
func (d *Doc) markAt(mark string) (strictyaml.Path, error) {
	for i, id := range d.defects() {
		if id == mark && id != "" {
			return strictyaml.Path{"defects", i}, nil
		}
	}
	return nil, fmt.Errorf("there is no defect %q in the file%s", mark, strictyaml.Nearest(mark, d.defects()))
}
