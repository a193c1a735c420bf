package finish

import (
	"fmt"

	"mendwright/engine/coat"
	"mendwright/rules/interval"
)

// Amount is how thick a coat lies, how many make a film, and what to buy.
type Amount struct {
	WetUM     interval.Range  `json:"wet_um"` // of one coat
	DryUM     interval.Range  `json:"dry_um"` // of one coat
	Solids    interval.Range  `json:"solids"` // % by volume
	SolidsSet bool            `json:"solids_given,omitempty"`
	Coats     coat.Span       `json:"coats"`
	CoatsFrom string          `json:"coats_from"`          // given, film or usual
	WantedUM  *interval.Range `json:"wanted_um,omitempty"` // dry film in all
	FilmUM    *interval.Range `json:"film_um,omitempty"`   // dry film of the coats
	Enough    string          `json:"enough,omitempty"`    // yes, no or unknown: the film reaches what is wanted
	MostUM    *interval.Range `json:"most_um,omitempty"`   // beyond which it cracks
	TooThick  string          `json:"too_thick,omitempty"`
	// Uncounted says why the film of several coats is not reckoned.
	Uncounted string   `json:"film_not_counted,omitempty"`
	Buy       *Buy     `json:"buy,omitempty"`
	Sources   []string `json:"sources"`
}

// Buy is what an area takes.
type Buy struct {
	AreaM2   interval.Range  `json:"area_m2"`
	Rate     interval.Range  `json:"rate_m2_per_l"` // of one coat, without loss
	Loss     interval.Range  `json:"loss"`          // % of what is used
	AnyWay   bool            `json:"way_not_said,omitempty"`
	Waste    interval.Range  `json:"waste"` // % on top of what is used
	Litres   interval.Range  `json:"litres"`
	PerCoatL interval.Range  `json:"litres_per_coat"` // with loss, without waste
	Density  *interval.Range `json:"density_g_per_ml,omitempty"`
	Grams    *interval.Range `json:"grams,omitempty"`
}

// usualWaste is what stays in the can, the brush and the strainer, as a share of what is used: a
// choice of this program.
var usualWaste = interval.Exact(10)

func (j *judge) amount(c coat.Coat) (*Amount, error) {
	a := &Amount{WetUM: c.Wet, DryUM: c.Dry, Solids: c.Solids, Sources: j.cite("coats", c.Name, "design-choice")}
	if j.q.Solids != nil {
		dry, err := coat.Dry(c.Wet, *j.q.Solids)
		if err != nil {
			return nil, err
		}
		a.DryUM, a.Solids, a.SolidsSet = dry, *j.q.Solids, true
	}
	if c.Most != (interval.Range{}) {
		a.MostUM = &c.Most
	}
	a.Coats, a.CoatsFrom = coatsFor(c, j.q)
	if err := j.film(c, a); err != nil {
		return nil, err
	}
	if j.q.Area != nil {
		var err error
		if a.Buy, err = j.buy(c, a); err != nil {
			return nil, err
		}
	}
	return a, nil
}

// film reckons the film of the coats, or the coats for a film.
func (j *judge) film(c coat.Coat, a *Amount) error {
	b := coat.Build{Coat: a.DryUM}
	a.WantedUM = j.q.Film
	switch c.Bonds {
	case coat.ByWiping:
		a.Uncounted = "wiped on and off again it builds no film to count"
		return nil
	case coat.ByScuff:
		b.Scuff = coat.LightScuff
	case coat.InWindow:
		b.Scuff = interval.Range{Lo: 0, Hi: coat.LightScuff.Hi} // none while the window is open
	}
	switch j.drinks() {
	case coat.Yes:
		b.Sinks = coat.BareWood
	case coat.Unknown:
		b.Sinks = interval.Range{Lo: 0, Hi: coat.BareWood.Hi}
	}
	if b.Scuff.Hi >= b.Coat.Lo {
		a.Uncounted = fmt.Sprintf("a light scuff between coats takes up to %g µm, as much as a thin coat leaves", b.Scuff.Hi)
		return nil
	}
	if j.q.Film != nil && j.q.Coats == nil {
		n, err := b.Coats(*j.q.Film)
		if err != nil {
			return err
		}
		a.Coats, a.CoatsFrom = n, "film"
		return a.thickness(*j.q.Film, c)
	}
	least, err := b.Total(a.Coats.Lo)
	if err != nil {
		return err
	}
	most, err := b.Total(a.Coats.Hi)
	if err != nil {
		return err
	}
	a.FilmUM = &interval.Range{Lo: least.Lo, Hi: most.Hi}
	if j.q.Film != nil {
		a.Enough = coat.Covers(*a.FilmUM, *j.q.Film).String()
	}
	return a.thickness(*a.FilmUM, c)
}

// thickness says whether a film is more than the coat stands.
func (a *Amount) thickness(film interval.Range, c coat.Coat) error {
	thick, err := coat.TooThick(film, c.Most)
	a.TooThick = thick.String()
	return err
}

// drinks says whether the first coat sinks into the wood: on bare wood it does, on a film it does
// not, on a stain or a dye it may.
func (j *judge) drinks() coat.Truth {
	if j.q.Over == "" {
		return coat.Unknown
	}
	if j.q.Over == Bare {
		return coat.Yes
	}
	for _, c := range j.t.Coats {
		if c.Finish == j.q.Over {
			return coat.No
		}
	}
	return coat.Unknown
}

// Bare is the old finish of bare wood.
const Bare = "none"

func (j *judge) buy(c coat.Coat, a *Amount) (*Buy, error) {
	b := &Buy{AreaM2: *j.q.Area, Rate: c.Rate, Waste: usualWaste, Density: j.q.Density}
	if j.q.Waste != nil {
		b.Waste = *j.q.Waste
	}
	if j.q.Way != "" {
		loss, err := j.t.Loss(j.q.Way)
		if err != nil {
			return nil, err
		}
		b.Loss = loss
		a.Sources = j.cite("losses", j.q.Way, a.Sources...)
	} else {
		b.Loss, b.AnyWay = j.anyLoss(), true
		for way := range j.t.Losses {
			a.Sources = j.cite("losses", way, a.Sources...)
		}
	}
	p := coat.Purchase{Area: b.AreaM2, Coats: interval.Range{Lo: float64(a.Coats.Lo), Hi: float64(a.Coats.Hi)}, Rate: b.Rate, Loss: b.Loss, Waste: b.Waste}
	var err error
	if b.Litres, err = p.Litres(); err != nil {
		return nil, err
	}
	p.Coats, p.Waste = interval.Exact(1), interval.Range{}
	if b.PerCoatL, err = p.Litres(); err != nil {
		return nil, err
	}
	if j.q.Density != nil {
		g, err := coat.Grams(b.Litres, *j.q.Density)
		if err != nil {
			return nil, err
		}
		b.Grams = &g
	}
	return b, nil
}

// anyLoss spans what all ways of putting on lose.
func (j *judge) anyLoss() interval.Range {
	out := interval.Range{Lo: 100, Hi: 0}
	for _, r := range j.t.Losses {
		out = out.Hull(r)
	}
	return out
}
