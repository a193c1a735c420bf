package engine

import (
	"cmp"
	"slices"

	"mendwright/engine/coat"
	"mendwright/engine/plan"
	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

// buy adds up what the steps use up.
func (p *planner) buy(out *Plan, steps []*work) {
	out.Buy = []Purchase{}
	at := map[string]int{}
	for _, w := range steps {
		var list []rules.Material
		switch {
		case w.method != nil:
			list = w.method.Materials
		case w.chore != nil:
			list = w.chore.Materials
		}
		for _, m := range list {
			good := p.good(w, m)
			if good == nil {
				out.AtHand = append(out.AtHand, m.Text)
				continue
			}
			i, ok := at[good.ID]
			if !ok {
				i = len(out.Buy)
				at[good.ID] = i
				out.Buy = append(out.Buy, Purchase{Good: good.ID, Name: good.Name, Unit: good.Unit, Amount: &interval.Range{}, Steps: []string{},
					Keep: good.Keep, Discard: good.Discard, Sources: good.Sources, Price: p.price(good.ID)})
			}
			b := &out.Buy[i]
			if !slices.Contains(b.Steps, w.id) {
				b.Steps = append(b.Steps, w.id)
			}
			amount, needs := p.amount(w, m, good)
			b.Needs = append(b.Needs, needs...)
			if b.Amount != nil && amount != nil {
				sum := b.Amount.Add(*amount)
				b.Amount = &sum
			} else {
				b.Amount = nil
			}
		}
	}
	for i := range out.Buy {
		slices.Sort(out.Buy[i].Needs)
		out.Buy[i].Needs = slices.Compact(out.Buy[i].Needs)
	}
	slices.SortFunc(out.Buy, func(a, b Purchase) int { return cmp.Compare(a.Name, b.Name) })
}

func (p *planner) price(good string) float64 {
	if m := p.job.Planning.Money; m != nil {
		return m.Prices[good]
	}
	return 0
}

// good is what a material is to be bought as, nil if it is words only or nobody has said which.
func (p *planner) good(w *work, m rules.Material) *rules.Good {
	id := m.Good
	if m.By != "" {
		if f := w.scene().resolve(m.By); f.known && f.value.Kind() == condition.Choice {
			id = f.value.Choice()
		}
	}
	if id == "" {
		return nil
	}
	return p.book.Order().Good(id)
}

func (w *work) scene() *scene { return w.marks[0].pick.scene }

// amount is how much a step needs of a good, in its unit; nil with the facts that are missing if it cannot be
// reckoned, nil with none if nobody has a figure.
func (p *planner) amount(w *work, m rules.Material, g *rules.Good) (*interval.Range, []string) {
	if m.Each > 0 {
		n := float64(len(w.marks))
		if w.method == nil || w.method.Covers != "mark" {
			n = 1
		}
		r := interval.Exact(m.Each * n * (1 + g.Waste))
		return &r, nil
	}
	if m.Coats == 0 || g.Covers.Hi == 0 {
		return nil, nil
	}
	const area = "surface.area_m2"
	f := w.scene().resolve(area)
	if !f.known {
		return nil, []string{area}
	}
	r, err := coat.Purchase{Area: f.value.Range(), Coats: interval.Exact(m.Coats), Rate: g.Covers, Waste: interval.Exact(100 * g.Waste)}.Litres()
	if err != nil {
		return nil, nil
	}
	return &r, nil
}

// worth weighs hours and materials against what the piece may fetch.
func (p *planner) worth(out *Plan) {
	m := p.job.Planning.Money
	if m == nil || m.Fetches.Hi == 0 {
		return
	}
	w := &Worth{Currency: m.Currency, Drives: []string{}}
	for _, b := range out.Buy {
		if b.Amount == nil || b.Price == 0 {
			w.Unpriced = append(w.Unpriced, b.Name)
			continue
		}
		w.Materials = w.Materials.Add(b.Amount.Mul(interval.Exact(b.Price)))
	}
	hours := interval.Range{Lo: out.Time.LowH, Hi: out.Time.HighH}
	d := plan.Deal{Price: m.Fetches, Fee: interval.Exact(100 * m.Fee), Bought: interval.Exact(m.Paid), Materials: w.Materials,
		Fixed: interval.Exact(m.Other), Rate: interval.Exact(m.Hour), Hours: hours}
	fail := func(err error) bool {
		if err != nil {
			w.Because = "it cannot be reckoned: " + err.Error()
		}
		return err != nil
	}
	out.Worth = w
	var err error
	if w.Profit, err = d.Profit(); fail(err) {
		return
	}
	if w.BreakEven, err = d.BreakEven(); fail(err) {
		return
	}
	if w.HighestBid, err = d.HighestBid(interval.Range{}); fail(err) {
		return
	}
	if hours.Hi > 0 {
		if w.HourEarns, err = d.HourEarns(); fail(err) {
			return
		}
	}
	mid := d
	mid.Price, mid.Materials, mid.Hours = interval.Exact(d.Price.Mid()), interval.Exact(d.Materials.Mid()), interval.Exact(out.Time.MeanH)
	outlook, err := mid.Outlook(interval.Exact(d.Price.Std()), interval.Exact(out.Time.StdH))
	if fail(err) {
		return
	}
	w.MeanProfit, w.StdProfit, w.Chance = outlook.Profit.Mid(), outlook.Std.Mid(), outlook.Chance.Mid()
	p.verdict(out, w, m, d)
}

// verdict says whether to repair, simplify or leave. The limits, an even chance and no loss even if one's own
// hours count for nothing, are a choice of this program.
func (p *planner) verdict(out *Plan, w *Worth, m *Money, d plan.Deal) {
	unpaid := d
	unpaid.Rate = interval.Range{}
	without, err := unpaid.Profit()
	switch {
	case err != nil:
		w.Because = "it cannot be reckoned: " + err.Error()
		return
	case w.Chance >= 0.5:
		w.Verdict, w.Because = "repair", "it is likelier than not to pay, your hours counted"
	case without.Hi > 0:
		w.Verdict, w.Because = "simplify", "it brings something only if your hours count for less; look for what can be left out"
	default:
		w.Verdict, w.Because = "leave", "it costs more than it may fetch even if your hours count for nothing"
	}
	type drive struct {
		what string
		wide float64
	}
	drives := []drive{
		{"what it fetches", (m.Fetches.Hi - m.Fetches.Lo) * (1 - m.Fee)},
		{"the hours", (d.Hours.Hi - d.Hours.Lo) * m.Hour},
		{"the materials", w.Materials.Hi - w.Materials.Lo},
	}
	slices.SortStableFunc(drives, func(a, b drive) int { return cmp.Compare(b.wide, a.wide) })
	for _, d := range drives {
		if d.wide > 0 {
			w.Drives = append(w.Drives, d.what)
		}
	}
	longest, at := 0.0, ""
	for _, s := range out.Steps {
		if s.Minutes[1] > longest {
			longest, at = s.Minutes[1], s.Name
		}
	}
	if w.Verdict == "simplify" && at != "" {
		w.Because += "; the longest step is " + at
	}
}
