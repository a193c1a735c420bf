package metal

import (
	"cmp"
	"fmt"
	"slices"

	"mendwright/rules/interval"
)

// GapLimit is how far apart in mV two metals may lie before they need keeping apart (galvanic
// series in sea water).
const GapLimit = 200

// Potential is where a metal stands in one galvanic series; more negative corrodes. Figures of
// different series do not compare.
type Potential struct {
	Series, Metal string
	MV            interval.Range // as printed
	Spread        float64        // give or take, mV
}

// Gap is the difference between two metals that touch in the damp. Indoors and dry it does nothing.
type Gap struct {
	Printed  interval.Range // mV, between the printed figures
	MV       interval.Range // with the spread of both
	Corrodes string         // the one that suffers; empty if the figures do not settle it
	Limit    Place          // of MV: Inside up to GapLimit, Above when they need keeping apart
}

// Gap compares two metals in a series, or over all series that hold both if series is empty; then
// the ranges span all of them. The error names a pair that no such series holds.
// Source: the table of galvanic potentials, and the 200 mV rule beside the first of them.
func (t Tables) Gap(series, a, b string) (Gap, error) {
	var gap Gap
	found := false
	for _, pa := range t.Potentials {
		if pa.Metal != a || series != "" && pa.Series != series {
			continue
		}
		i := slices.IndexFunc(t.Potentials, func(p Potential) bool { return p.Series == pa.Series && p.Metal == b })
		if i < 0 {
			continue
		}
		pb := t.Potentials[i]
		aWide, bWide := pa.wide(), pb.wide()
		one := Gap{Printed: apart(pa.MV, pb.MV), MV: apart(aWide, bWide)}
		switch {
		case aWide.Hi < bWide.Lo:
			one.Corrodes = a
		case bWide.Hi < aWide.Lo:
			one.Corrodes = b
		}
		if !found {
			gap, found = one, true
			continue
		}
		gap.Printed, gap.MV = gap.Printed.Hull(one.Printed), gap.MV.Hull(one.MV)
		if gap.Corrodes != one.Corrodes {
			gap.Corrodes = ""
		}
	}
	if !found {
		return Gap{}, fmt.Errorf("read %q and %q in the galvanic series %q; expected two metals of one series of the table", a, b, series)
	}
	gap.Limit = place(gap.MV, interval.Range{Lo: 0, Hi: GapLimit})
	return gap, nil
}

// ActiveFirst puts metals of one series in order, the one that corrodes first in front, by the
// middle of what is printed. The error names a metal that the series does not hold. Source: as Gap.
func (t Tables) ActiveFirst(series string, metals ...string) ([]string, error) {
	mv := map[string]float64{}
	for _, m := range metals {
		i := slices.IndexFunc(t.Potentials, func(p Potential) bool { return p.Series == series && p.Metal == m })
		if i < 0 {
			return nil, fmt.Errorf("read %q in the galvanic series %q; expected a metal of that series of the table", m, series)
		}
		mv[m] = t.Potentials[i].MV.Mid()
	}
	sorted := slices.Clone(metals)
	slices.SortStableFunc(sorted, func(a, b string) int { return cmp.Compare(mv[a], mv[b]) })
	return sorted, nil
}

func (p Potential) wide() interval.Range { return p.MV.Add(interval.Around(0, p.Spread)) }

// apart is the range of distances between a value from a and one from b.
func apart(a, b interval.Range) interval.Range {
	d := a.Sub(b)
	switch {
	case d.Lo >= 0:
		return d
	case d.Hi <= 0:
		return interval.Range{Lo: -d.Hi, Hi: -d.Lo}
	}
	return interval.Range{Lo: 0, Hi: max(-d.Lo, d.Hi)}
}
