package reckon

import (
	"strings"

	"mendwright/engine/air"
	"mendwright/rules/interval"
)

// release is what goes into the air of a room.
type release struct {
	doses        []air.Dose
	room         air.Room
	air, minutes interval.Range
}

// best is the release at the end of each input that leaves the least in the air. What is not known
// of the substances themselves stays: no measurement of the call narrows it.
func (r release) best() release {
	b := release{
		room: air.Room{Volume: interval.Exact(r.room.Volume.Hi), Changes: interval.Exact(r.room.Changes.Hi), Mixing: interval.Exact(r.room.Mixing.Lo)},
		air:  interval.Exact(r.air.Lo), minutes: interval.Exact(r.minutes.Hi),
	}
	for _, d := range r.doses {
		b.doses = append(b.doses, air.Dose{Substance: d.Substance, Grams: interval.Exact(d.Grams.Lo)})
	}
	return b
}

// inRoom is what doses leave in a room by all the places that it could be, with the levels at their
// best and worst.
func inRoom(t *Tables, g Given, doses []air.Dose) ([]Figure, error) {
	var ppm, mg, limit, lel []interval.Range
	var known air.Reading
	health, fire := [2]air.Level{air.GetOut, air.Go}, [2]air.Level{air.GetOut, air.Go}
	for _, name := range g.Words("place") {
		place := t.Air.Places[name]
		at := release{doses, air.Room{Volume: g.Range("room"), Changes: place.Changes, Mixing: place.Mixing}, g.Range("air"), g.Range("time")}
		worst, err := t.Air.Judge(at.doses, at.room, at.air, at.minutes)
		if err != nil {
			return nil, err
		}
		b := at.best()
		best, err := t.Air.Judge(b.doses, b.room, b.air, b.minutes)
		if err != nil {
			return nil, err
		}
		known = worst
		var all interval.Range
		for _, v := range worst.Vapours {
			all = all.Add(v.MG)
		}
		ppm, mg, limit, lel = append(ppm, worst.PPM), append(mg, all), append(limit, worst.OfLimit), append(lel, worst.OfLEL)
		health[0], health[1] = min(health[0], best.Health), max(health[1], worst.Health)
		fire[0], fire[1] = min(fire[0], best.Fire), max(fire[1], worst.Fire)
	}
	figures := []Figure{
		Amount("ppm", "vapour in the air at the end, when it is highest", "ppm", over(ppm...)),
		Amount("mg", "the same by weight", "mg/m³", over(mg...)),
	}
	if len(known.NoLimit) < len(known.Vapours) {
		figures = append(figures, Amount("of-limit", "share of the tightest limit for breathing"+without(known.NoLimit), "%", percent(over(limit...))))
	}
	burning := settled("fire", "fire", fire[0].String(), fire[1].String(), fireSays)
	if len(known.NoLEL) < len(known.Vapours) {
		figures = append(figures, Amount("of-lel", "share of the lower explosive limit"+without(known.NoLEL), "%", percent(over(lel...))))
	} else if fire[1] == air.Go {
		burning = Verdict("fire", "fire", NotKnown, "neither a flash point nor an explosive limit of it is known here")
	}
	return append(figures, settled("health", "breathing it", health[0].String(), health[1].String(), healthSays), burning), nil
}

// without names what a share leaves out.
func without(unknown []string) string {
	if len(unknown) == 0 {
		return ""
	}
	return " (without " + strings.Join(unknown, ", ") + ", of which none is known)"
}
