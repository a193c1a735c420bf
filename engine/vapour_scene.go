package engine

import (
	"fmt"
	"math"
	"slices"

	"mendwright/engine/air"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
)

// VapourTables are what the vapour of a repair is reckoned from.
type VapourTables struct {
	Air air.Tables
	// Products are what evaporates from each m2 of work, by product. A product of which nothing
	// evaporates has an empty list; one that is not listed could be anything.
	Products map[string][]Evaporates
	// Box is the volume in m3 that stands for the room where there is none, by place.
	Box map[string]float64
	// Mask is the mask that the yes-or-no question about one means.
	Mask air.Wear
}

// Evaporates is one substance of what a product gives to the air.
type Evaporates struct {
	Substance string
	MLPerM2   interval.Range // of liquid, from the whole work
	Minutes   interval.Range // over which it goes
}

// Vapour is what a repair puts into the air of the shop, at its highest.
type Vapour struct {
	// Whether it may stand above the limit for breathing, above what the mask at hand is made for
	// or can hold, and above a quarter of what can explode: yes, no or unknown.
	AboveLimit    string `json:"above_breathing_limit"`
	AboveMask     string `json:"above_mask"`
	NearExploding string `json:"near_exploding"`
	// Of the limit for a working day, and of the lower explosive limit: shares, 1 being all of it.
	// They are there only if product, place, room and area are known, and the limits of all that
	// evaporates.
	OfLimit *interval.Range `json:"of_breathing_limit,omitempty"`
	OfLEL   *interval.Range `json:"of_lower_explosive_limit,omitempty"`
	AreaM2  *interval.Range `json:"area_m2,omitempty"`
	RoomM3  *interval.Range `json:"room_m3,omitempty"`
	Place   string          `json:"place,omitempty"`
	// Missing are the facts that the verdicts wait for.
	Missing []string `json:"missing,omitempty"`
}

// How the air may be breathed, and whether it may burn, from good to bad.
const (
	free = iota
	withMask
	overMask
)
const (
	farFromExploding = iota
	warnOfExploding
	nearExploding
)

// worsening is the stretch of an ordered list of verdicts that is still possible.
type worsening struct {
	lo, hi int
	any    bool
}

func (w *worsening) add(lo, hi int) {
	if !w.any {
		w.lo, w.hi, w.any = lo, hi, true
	}
	w.lo, w.hi = min(w.lo, lo), max(w.hi, hi)
}

// reaches says whether the verdict is at least as bad as level.
func (w *worsening) reaches(level int) condition.Outcome {
	switch {
	case w.any && w.lo >= level:
		return condition.True
	case w.any && w.hi < level:
		return condition.False
	}
	return condition.Unknown
}

// yesNo are the words of an outcome in an answer.
var yesNo = map[condition.Outcome]string{condition.True: "yes", condition.False: "no", condition.Unknown: "unknown"}

// yes turns such a word into a value; false where it is not known.
func yes(word string) (condition.Value, bool) {
	return condition.Yes(word == "yes"), word == "yes" || word == "no"
}

// vapour reckons what the scene's repair puts into the air. What is not known stands for all it
// could be, so a verdict is given only when no answer could change it.
func (s *scene) vapour() *Vapour {
	unknown := Vapour{AboveLimit: "unknown", AboveMask: "unknown", NearExploding: "unknown"}
	t, err := s.tables.Vapour()
	if err != nil {
		s.fail(err)
		return &unknown
	}
	in := s.inputs("vapour")
	products := in.rows(*s.method.Vapour)
	places := in.choices(in.calc.Inputs["place"])
	area, warm := in.quantity("area"), in.quantity("air")
	mask := in.truth("mask")
	var room interval.Range
	if len(places) > 1 || t.Box[places[0]] == 0 {
		room = in.quantity("room")
	}
	rooms := make([]vapourRoom, len(places))
	for i, place := range places {
		rooms[i] = vapourRoom{place, room}
		if box := t.Box[place]; box > 0 {
			rooms[i].volume = interval.Exact(box)
		}
	}
	breathe, fire, r, err := t.verdicts(products, rooms, area, warm, mask)
	if err != nil {
		s.fail(fmt.Errorf("the vapour of %s: %w", s.method.ID, err))
		return &unknown
	}
	v := &Vapour{AboveLimit: yesNo[breathe.reaches(withMask)], AboveMask: yesNo[breathe.reaches(overMask)], NearExploding: yesNo[fire.reaches(nearExploding)]}
	if v.AboveLimit == "unknown" || v.AboveMask == "unknown" || v.NearExploding == "unknown" {
		v.Missing = in.lacks()
		if len(in.absent) == 0 {
			// A closer measurement helps only if the middle of what was measured would settle it.
			for i := range rooms {
				rooms[i].volume = interval.Exact(rooms[i].volume.Mid())
			}
			b, f, _, err := t.verdicts(products, rooms, interval.Exact(area.Mid()), interval.Exact(warm.Mid()), mask)
			if err != nil || b.lo != b.hi || f.lo != f.hi {
				v.Missing = nil
			}
		}
	}
	_, listed := t.Products[products[0]]
	lacks := func(role string) bool { return slices.Contains(in.absent, in.calc.Inputs[role]) }
	// A sum without what has no limit would be a figure for the rest of the vapour alone.
	whole := listed && len(r.NoLimit) == 0 && !t.mayBurn(r)
	if whole && len(products) == 1 && len(places) == 1 && !lacks("area") && !lacks("room") {
		v.OfLimit, v.OfLEL, v.AreaM2, v.RoomM3, v.Place = &r.OfLimit, &r.OfLEL, &area, &room, places[0]
		if t.Box[v.Place] > 0 {
			v.RoomM3 = nil
		}
	}
	return v
}

// vapourRoom is where the vapour goes.
type vapourRoom struct {
	place  string
	volume interval.Range
}

// verdicts are what products and places may come to, and the reading if there is but one of each. What may
// come to anything already is reckoned no further.
func (t *VapourTables) verdicts(products []string, rooms []vapourRoom, area, warm interval.Range, mask condition.Outcome) (breathe, fire worsening, r air.Reading, err error) {
	for _, product := range products {
		parts, known := t.Products[product]
		switch {
		case !known:
			breathe.add(free, overMask)
			fire.add(farFromExploding, nearExploding)
			continue
		case len(parts) == 0:
			breathe.add(free, free)
			fire.add(farFromExploding, farFromExploding)
			continue
		}
		for _, room := range rooms {
			if r, err = t.judge(parts, area, room.volume, warm, room.place); err != nil {
				return breathe, fire, r, err
			}
			breathe.add(t.breathing(r, false, mask), t.breathing(r, true, mask))
			worst := burning(r.OfLEL.Hi)
			if t.mayBurn(r) {
				worst = nearExploding
			}
			fire.add(burning(r.OfLEL.Lo), worst)
			if breathe == (worsening{free, overMask, true}) && fire == (worsening{farFromExploding, nearExploding, true}) {
				return breathe, fire, r, nil
			}
		}
	}
	return breathe, fire, r, nil
}

// judge is the air when the work on an area is done.
func (t *VapourTables) judge(parts []Evaporates, area, volume, warm interval.Range, place string) (air.Reading, error) {
	p, ok := t.Air.Places[place]
	if !ok {
		return air.Reading{}, fmt.Errorf("no table says how the air of %q changes", place)
	}
	var doses []air.Dose
	var minutes interval.Range
	for i, part := range parts {
		sub, err := t.Air.Substance(part.Substance)
		if err != nil {
			return air.Reading{}, err
		}
		grams := area.Mul(part.MLPerM2).Mul(sub.Density)
		doses = append(doses, air.Dose{Substance: part.Substance, Grams: grams})
		if i == 0 {
			minutes = part.Minutes
		}
		minutes = minutes.Hull(part.Minutes)
	}
	return t.Air.Judge(doses, air.Room{Volume: volume, Changes: p.Changes, Mixing: p.Mixing}, warm, minutes)
}

// breathing is the verdict at the better or the worse end of a reading. A mask that may or may not be at
// hand is there at the better end only; what has no limit may be anything.
func (t *VapourTables) breathing(r air.Reading, worse bool, mask condition.Outcome) int {
	if len(r.NoLimit) > 0 {
		if worse {
			return overMask
		}
		return free
	}
	end := func(v interval.Range) float64 {
		if worse {
			return v.Hi
		}
		return v.Lo
	}
	if end(r.OfLimit) <= air.HealthStopAbove {
		return free
	}
	if mask == condition.False || worse && mask == condition.Unknown || end(r.OfLimit) > t.Air.Respirators[t.Mask.Respirator].APF {
		return overMask
	}
	for _, v := range r.Vapours {
		if ppm := end(v.PPM); ppm > 0 {
			if fit, err := t.Air.Mask(t.Mask, v.Substance, interval.Exact(ppm)); err != nil || len(fit.Refused) > 0 {
				return overMask
			}
		}
	}
	return withMask
}

// mayBurn reports whether a reading holds what has a flash point and no known explosive limit.
func (t *VapourTables) mayBurn(r air.Reading) bool {
	return slices.ContainsFunc(r.NoLEL, func(id string) bool { return t.Air.Substances[id].Flash != nil })
}

func burning(share float64) int {
	switch {
	case share > air.FireStopAbove:
		return nearExploding
	case share >= air.FireWarnFrom:
		return warnOfExploding
	}
	return farFromExploding
}

func (v *Vapour) output(name string) (condition.Value, bool) {
	switch name {
	case "above-limit":
		return yes(v.AboveLimit)
	case "above-mask":
		return yes(v.AboveMask)
	case "near-exploding":
		return yes(v.NearExploding)
	}
	return condition.Value{}, false
}

func (v *Vapour) lacks() []string { return v.Missing }

func (v *Vapour) because() string {
	if v.OfLimit == nil {
		return "as reckoned for this shop"
	}
	return fmt.Sprintf("as reckoned for this shop, at its highest %s times the limit for a working day", Multiple(*v.OfLimit))
}

// Multiple writes a range of at least 0 to two figures, more than the making of a vapour is known to.
func Multiple(r interval.Range) string {
	two := func(v float64) string {
		if v >= 100 {
			step := math.Pow10(int(math.Log10(v)) - 1)
			v = math.Round(v/step) * step
		}
		return quantity.Number(v, 2)
	}
	lo, hi := two(r.Lo), two(r.Hi)
	if lo == hi {
		return lo
	}
	return lo + " to " + hi
}
