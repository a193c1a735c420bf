package coat

import (
	"cmp"
	"slices"

	"mendwright/rules/interval"
)

// Choice is a coat judged for a day and for the time there is.
type Choice struct {
	Coat    string
	Weather Weather
	Coats   int            // the least usual number of coats, which the times are reckoned with
	Touch   interval.Range // h from the first coat until the last can be touched
	Cured   interval.Range // h from the first coat until it is hard
	InTime  Truth          // can be touched in the time there is
	Ready   Truth          // is hard in the time there is
}

// Choose judges every coat of the table for a day and for the hours there are (0 to 100000), best
// first: the weather at its worst, then what is dry in time, then what is hard in time, then what
// is hard soonest, then the name. The wait between coats is each coat's own. The error says which
// measurement is out of range.
func (t Tables) Choose(d Day, available interval.Range) ([]Choice, error) {
	if err := hours.holds(available); err != nil {
		return nil, err
	}
	var out []Choice
	for _, c := range t.Coats {
		choice, err := c.choice(d, available)
		if err != nil {
			return nil, err
		}
		out = append(out, choice)
	}
	order := func(t Truth) int { return [...]int{1, 2, 0}[t] } // yes, unknown, no
	slices.SortFunc(out, func(a, b Choice) int {
		return cmp.Or(
			cmp.Compare(a.Weather.Worst, b.Weather.Worst), cmp.Compare(a.Weather.Best, b.Weather.Best),
			order(a.InTime)-order(b.InTime), order(a.Ready)-order(b.Ready),
			cmp.Compare(a.Cured.Hi, b.Cured.Hi), cmp.Compare(a.Coat, b.Coat))
	})
	return out, nil
}

func (c Coat) choice(d Day, available interval.Range) (Choice, error) {
	weather, err := c.Judge(d)
	if err != nil {
		return Choice{}, err
	}
	n := max(1, int(c.Coats.Lo))
	touch, cured, err := c.Schedule(n, d.Air, d.Humidity)
	if err != nil {
		return Choice{}, err
	}
	return Choice{
		Coat: c.Name, Weather: weather, Coats: n, Touch: touch, Cured: cured,
		InTime: Covers(available, touch), Ready: Covers(available, cured),
	}, nil
}

// Covers says whether what there is comes to what is needed, such as the hours of a weekend to
// those of drying, both in one unit. Any range.
func Covers(has, needs interval.Range) Truth {
	switch {
	case needs.Hi <= has.Lo:
		return Yes
	case needs.Lo > has.Hi:
		return No
	}
	return Unknown
}
