package air

import (
	"errors"

	"mendwright/rules/interval"
)

// Vapour is one substance in the air of a room.
type Vapour struct {
	Substance string
	PPM, MG   interval.Range // MG in mg/m3
	// OfLimit is the share of the tightest limit that is known, over a day or over minutes; OfIDLH of
	// what is at once dangerous; OfLEL of the lower explosive limit. 0 if there is none.
	OfLimit, OfIDLH, OfLEL interval.Range
}

// Reading is the air of a room judged.
type Reading struct {
	Vapours               []Vapour
	PPM, OfLimit, OfLEL   interval.Range // of all together: sums
	Health, Fire, Overall Level          // at the worst ends; Overall is the worse of the two
	NoLimit               []string       // what has no limit for breathing; Health is then at least Warn
	// NoLEL is what has no known explosive limit. If such a thing has a flash point, Fire is at
	// least Warn.
	NoLEL []string
}

// Judge says what stands in a room when doses have gone into its air evenly over the given minutes (0 or
// more; 0 is all at once), beginning with clean air, at air °C (-20 to 50). No substance exceeds
// what the air can hold. The reading is that of the last minute, the highest: work that is short is
// judged as if it went on all day. It rises with every dose, falls with volume, air changes and
// minutes, and rises with the mixing factor and with air. Masks, and liquid that lies open at
// hand, are not reckoned with. The error names an unknown substance or says what is out of range.
func (t Tables) Judge(doses []Dose, room Room, air, minutes interval.Range) (Reading, error) {
	if len(doses) == 0 {
		return Reading{}, errors.New("there is nothing to judge; expected at least one substance")
	}
	if err := within("the time", "min", minutes, 0, 7*24*60); err != nil {
		return Reading{}, err
	}
	together, order := map[string]interval.Range{}, []string{}
	for _, d := range doses {
		if err := atLeast0("the dose of "+d.Substance, "g", d.Grams); err != nil {
			return Reading{}, err
		}
		if _, ok := together[d.Substance]; !ok {
			order = append(order, d.Substance)
		}
		together[d.Substance] = together[d.Substance].Add(d.Grams)
	}
	r := Reading{Health: Go, Fire: Go}
	for _, name := range order {
		v, err := t.vapour(name, together[name], room, air, minutes)
		if err != nil {
			return Reading{}, err
		}
		r.take(t, v)
	}
	r.Health = max(r.Health, HealthLevel(r.OfLimit))
	r.Fire = max(r.Fire, FireLevel(r.OfLEL))
	r.Overall = max(r.Health, r.Fire)
	return r, nil
}

// take adds a vapour to a reading, with what its own figures ask for.
func (r *Reading) take(t Tables, v Vapour) {
	r.Vapours = append(r.Vapours, v)
	r.PPM, r.OfLimit, r.OfLEL = r.PPM.Add(v.PPM), r.OfLimit.Add(v.OfLimit), r.OfLEL.Add(v.OfLEL)
	if len(t.breathing(v.Substance)) == 0 {
		r.NoLimit = append(r.NoLimit, v.Substance)
		r.Health = max(r.Health, Warn)
	}
	if v.OfIDLH.Hi > 1 {
		r.Health = GetOut
	}
	if s := t.Substances[v.Substance]; s.LEL == (interval.Range{}) {
		r.NoLEL = append(r.NoLEL, v.Substance)
		if s.Flash != nil {
			r.Fire = max(r.Fire, Warn)
		}
	}
}

func (t Tables) vapour(name string, grams interval.Range, room Room, air, minutes interval.Range) (Vapour, error) {
	s, err := t.Substance(name)
	if err != nil {
		return Vapour{}, err
	}
	most, err := t.Saturation(name, air)
	if err != nil {
		return Vapour{}, err
	}
	mg, err := room.after(scaled(grams, 1000), scaled(minutes, 1.0/60))
	if err != nil {
		return Vapour{}, err
	}
	ppm, err := ToPPM(mg, s.Molar)
	if err != nil {
		return Vapour{}, err
	}
	mostMG, err := ToMG(most, s.Molar)
	if err != nil {
		return Vapour{}, err
	}
	v := Vapour{Substance: name, PPM: lesser(ppm, most), MG: lesser(mg, mostMG)}
	for _, kind := range t.breathing(name) {
		share := v.share(t.Limits[name][kind])
		v.OfLimit = interval.Range{Lo: max(v.OfLimit.Lo, share.Lo), Hi: max(v.OfLimit.Hi, share.Hi)}
	}
	if idlh, ok := t.Limits[name]["idlh"]; ok {
		v.OfIDLH = v.share(idlh)
	}
	if s.LEL.Lo > 0 {
		v.OfLEL = over(v.PPM, scaled(s.LEL, ppmPerCent))
	}
	return v, nil
}

// after is what stands in each m3 when an amount has gone in evenly over some hours. It is the Rise
// of a release of amount/hours, and falls with hours: the same amount has had longer to leave.
func (r Room) after(amount, hours interval.Range) (interval.Range, error) {
	a, err := r.Fresh()
	if err != nil {
		return interval.Range{}, err
	}
	left := func(a, t float64) float64 {
		if t == 0 {
			return 1
		}
		return grown(a, t) / t
	}
	return interval.Range{
		Lo: amount.Lo / r.Volume.Hi * left(a.Hi, hours.Hi),
		Hi: amount.Hi / r.Volume.Lo * left(a.Lo, hours.Lo),
	}, nil
}
