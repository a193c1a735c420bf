package coat

import (
	"fmt"
	"math"

	"mendwright/rules/interval"
)

// Verdict says whether the weather is right for a coat. The zero Verdict is Undecided: what was
// measured allows more than one.
type Verdict int

// The verdicts, from good to bad.
const (
	Undecided Verdict = iota
	Go
	Care // it will do, with what the reasons say
	Wait // not today
)

func (v Verdict) String() string { return [...]string{"undecided", "go", "care", "wait"}[v] }

// Day is the weather where the work is done. The zero Day is freezing and dry.
type Day struct {
	Air       interval.Range // °C, -20 to 60
	Surface   interval.Range // °C, -20 to 60; often a few degrees below the air when it came from the cold
	Humidity  interval.Range // %, 0 to 100
	DewMargin interval.Range // °C by which the surface is warmer than the dew point, -80 to 140
	Spray     Truth          // the coat is sprayed
}

// Reason is one thing that stands against a coat today.
type Reason struct {
	Of      string // air, surface, humidity or dew-margin
	Verdict Verdict
	Certain bool // whatever the true value within what was measured
	Sprayed bool // it stands only if the coat is sprayed, which nobody said
	Why     string
	Until   Bound // where it would no longer stand
}

// Bound is one end of what a quantity may be, in the unit of the quantity.
type Bound struct {
	Side Side
	At   float64
}

// Side says on which side of a Bound a quantity must lie. The zero Side is AtLeast.
type Side int

// The sides.
const (
	AtLeast Side = iota
	AtMost
	Below
)

func (s Side) String() string { return [...]string{"at least", "at most", "below"}[s] }

// Weather is the weather judged for one coat: the verdict at the best and at the worst of what
// was measured, each quantity on its own, and Undecided in between if they differ.
type Weather struct {
	Best, Worst Verdict
	Reasons     []Reason
}

// Verdict is the verdict if best and worst agree on it, otherwise Undecided.
func (w Weather) Verdict() Verdict {
	if w.Best == w.Worst {
		return w.Best
	}
	return Undecided
}

// Limits that hold for every coat or for all that dry alike. The dew margin and the humidity at
// which lacquer and shellac blush stand in coating makers' notes and finishers' advice; between
// BlushCare and BlushFrom a retarder is the usual answer, a choice of this program, since the
// advice contradicts itself there.
const (
	LeastDewMargin = 3.0  // °C
	BlushCare      = 50.0 // % from above which a sprayed coat that blushes needs care
	BlushFrom      = 65.0 // % from above which it must wait
	OxygenSlow     = 10.0 // °C below which a film that takes up oxygen takes two or three times as long
	WaterSlow      = 15.6 // °C below which a waterborne film is slow
)

// limit is a stretch of one quantity, from the lower end up to but without the upper one, that
// calls for a verdict.
type limit struct {
	from, to float64
	verdict  Verdict
	why      string
	until    Bound
	doubtful bool // it holds only if the coat is sprayed, which nobody said
}

var (
	least = math.Inf(-1)
	most  = math.Inf(1)
)

func tooLow(below float64, v Verdict, why string) limit {
	return limit{from: least, to: below, verdict: v, why: why, until: Bound{AtLeast, below}}
}

// tooHigh speaks against more than above: it begins with the next number.
func tooHigh(above float64, v Verdict, why string) limit {
	return limit{from: math.Nextafter(above, most), to: most, verdict: v, why: why, until: Bound{AtMost, above}}
}

// tooHighFrom speaks against a number and all above it.
func tooHighFrom(at float64, v Verdict, why string) limit {
	return limit{from: at, to: most, verdict: v, why: why, until: Bound{Below, at}}
}

// Judge says whether the weather is right for the coat: air and surface within its temperatures,
// both ends included; humidity below its upper end; the surface at least LeastDewMargin above the
// dew point; and whatever its way of drying adds. Below the coat's lower humidity it needs care,
// since it dries too fast to flow. Where nobody knows whether the coat is sprayed, what speaks
// against spraying counts for the worst alone. The error says which measurement is out of range, or that the
// coat has no such ranges.
func (c Coat) Judge(d Day) (Weather, error) {
	none := interval.Range{}
	if c.Air == none || c.Humidity == none {
		return Weather{}, fmt.Errorf("the coat %q has no range of temperature or humidity; expected both", c.Name)
	}
	err := first(airTemperature.holds(d.Air), surfaceTemperature.holds(d.Surface), humidity.holds(d.Humidity), dewMargin.holds(d.DewMargin))
	if err != nil {
		return Weather{}, err
	}
	w := Weather{Best: Go, Worst: Go}
	w.weigh("air", d.Air, append(c.temperatures(), c.slowness()...))
	w.weigh("surface", d.Surface, c.temperatures())
	w.weigh("humidity", d.Humidity, c.humidities(d.Spray))
	w.weigh("dew-margin", d.DewMargin, []limit{
		{from: least, to: LeastDewMargin * (1 - play), verdict: Wait, until: Bound{AtLeast, LeastDewMargin},
			why: "too close to the dew point: water may settle under or in the film"},
	})
	return w, nil
}

var (
	airTemperature     = quantity{"the air", "°C", -20, 60}
	surfaceTemperature = quantity{"the surface", "°C", -20, 60}
	dewMargin          = quantity{"the margin over the dew point", "°C", -80, 140}
	dewPoints          = quantity{"the dew point", "°C", -80, 60}
)

func (c Coat) temperatures() []limit {
	return []limit{
		tooLow(c.Air.Lo, Wait, fmt.Sprintf("colder than the %g °C it needs", c.Air.Lo)),
		tooHigh(c.Air.Hi, Wait, fmt.Sprintf("warmer than the %g °C it stands", c.Air.Hi)),
	}
}

func (c Coat) slowness() []limit {
	switch c.Dries {
	case ByOxygen:
		return []limit{tooLow(OxygenSlow, Care, "takes two or three times as long, and days where it is damp")}
	case ByWater:
		return []limit{tooLow(WaterSlow, Care, "dries and flows together slowly")}
	}
	return nil
}

func (c Coat) humidities(spray Truth) []limit {
	limits := []limit{
		tooLow(c.Humidity.Lo, Care, fmt.Sprintf("drier than %g %%: it dries too fast to flow out", c.Humidity.Lo)),
		tooHighFrom(c.Humidity.Hi, Wait, fmt.Sprintf("damper than it stands, from %g %% on", c.Humidity.Hi)),
	}
	if c.Blushes && spray != No {
		white := []limit{
			tooHigh(BlushCare, Care, "may turn white when sprayed; a slow solvent holds it open"),
			tooHigh(BlushFrom, Wait, "turns white when sprayed"),
		}
		for _, l := range white {
			l.doubtful = spray == Unknown
			limits = append(limits, l)
		}
	}
	if c.Dries == ByWater {
		limits = append(limits, tooHigh(DampFrom, Care, "takes twice as long to dry"))
	}
	return limits
}

// weigh judges one quantity: its verdict at a point is the worst of the limits that hold there,
// and it changes only where a limit begins or ends. A doubtful limit counts for the worst alone.
func (w *Weather) weigh(of string, r interval.Range, limits []limit) {
	points := []float64{r.Lo}
	for _, l := range limits {
		for _, v := range []float64{l.from, l.to} {
			if r.Lo < v && v <= r.Hi {
				points = append(points, v)
			}
		}
	}
	best, worst := Wait, Go
	for _, p := range points {
		certain, all := Go, Go
		for _, l := range limits {
			if l.from <= p && p < l.to {
				all = max(all, l.verdict)
				if !l.doubtful {
					certain = max(certain, l.verdict)
				}
			}
		}
		best, worst = min(best, certain), max(worst, all)
	}
	for _, l := range limits {
		if l.from <= r.Hi && r.Lo < l.to {
			w.Reasons = append(w.Reasons, Reason{Of: of, Verdict: l.verdict, Certain: !l.doubtful && l.from <= r.Lo && r.Hi < l.to,
				Sprayed: l.doubtful, Why: l.why, Until: l.until})
		}
	}
	w.Best, w.Worst = max(w.Best, best), max(w.Worst, worst)
}

// DewMargin is by how many degrees a surface (-20 to 60 °C) is warmer than the dew point of the
// air (-80 to 60 °C). It rises with the surface and falls with the dew point. The error says which
// input is out of range. The formula is the difference.
func DewMargin(surface, dewPoint interval.Range) (interval.Range, error) {
	if err := first(surfaceTemperature.holds(surface), dewPoints.holds(dewPoint)); err != nil {
		return interval.Range{}, err
	}
	return surface.Sub(dewPoint), nil
}
