package screen

import (
	"fmt"
	"math"
	"strings"

	"mendwright/engine/air"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
)

// AirAnswer is what the air command found: vapour, weather for a coat, or both.
type AirAnswer struct {
	Vapour  *VapourAnswer  `json:"vapour,omitempty"`
	Weather *WeatherAnswer `json:"weather,omitempty"`
}

// VapourAnswer is the air of a room with vapour in it, at the end of the time, when it stands highest.
type VapourAnswer struct {
	Place    string         `json:"place"`
	LitreIn  interval.Range `json:"litres"`
	RoomM3   interval.Range `json:"room_m3"`
	Minutes  interval.Range `json:"minutes"`
	Changes  interval.Range `json:"air_changes_per_hour"`
	Mixing   interval.Range `json:"mixing_factor"`
	Vapours  []VapourLine   `json:"vapours"`
	OfLimit  interval.Range `json:"of_breathing_limit"`
	OfLEL    interval.Range `json:"of_lower_explosive_limit"`
	Health   string         `json:"health"` // go, warn, stop or get-out
	Fire     string         `json:"fire"`
	Overall  string         `json:"overall"`
	NoLimit  []string       `json:"no_breathing_limit_known,omitempty"`
	NoFigure []string       `json:"no_explosive_limit_known,omitempty"`
}

// VapourLine is one substance of it.
type VapourLine struct {
	Substance string         `json:"substance"`
	PPM       interval.Range `json:"ppm"`
	MGM3      interval.Range `json:"mg_m3"`
	OfLimit   interval.Range `json:"of_breathing_limit"`
	OfLEL     interval.Range `json:"of_lower_explosive_limit"`
}

// WeatherAnswer is today's weather judged for a coat.
type WeatherAnswer struct {
	Coat     string         `json:"coat"`
	AirC     interval.Range `json:"air_c"`
	SurfaceC interval.Range `json:"surface_c"`
	Humidity interval.Range `json:"humidity"`
	DewC     interval.Range `json:"dew_point_c"`
	MarginC  interval.Range `json:"surface_above_dew_point_c"`
	WorksC   interval.Range `json:"coat_works_c"`
	StopPC   float64        `json:"coat_waits_above_humidity"`
	Dew      string         `json:"dew"`
	Humid    string         `json:"humid"`
	Warmth   string         `json:"warmth"`
	Overall  string         `json:"overall"`
}

// NewVapour writes a reading out.
func NewVapour(place string, litres, room, minutes interval.Range, p air.Place, r air.Reading) *VapourAnswer {
	a := &VapourAnswer{Place: place, LitreIn: litres, RoomM3: room, Minutes: minutes, Changes: p.Changes, Mixing: p.Mixing,
		OfLimit: r.OfLimit, OfLEL: r.OfLEL, Health: r.Health.String(), Fire: r.Fire.String(), Overall: r.Overall.String(),
		NoLimit: r.NoLimit, NoFigure: r.NoLEL, Vapours: []VapourLine{}}
	for _, v := range r.Vapours {
		a.Vapours = append(a.Vapours, VapourLine{v.Substance, v.PPM, v.MG, v.OfLimit, v.OfLEL})
	}
	return a
}

// NewWeather writes an outlook out.
func NewWeather(coat string, w air.Weather, c air.CoatWeather, o air.Outlook) *WeatherAnswer {
	return &WeatherAnswer{Coat: coat, AirC: w.Air, SurfaceC: w.Surface, Humidity: w.Humidity, DewC: o.DewPoint, MarginC: o.Margin,
		WorksC: c.Air, StopPC: c.Stop, Dew: o.Dew.String(), Humid: o.Humid.String(), Warmth: o.Warmth.String(), Overall: o.Overall.String()}
}

var levelWords = map[string]string{"go": "GO", "warn": "CAREFUL", "stop": "STOP", "get-out": "GET OUT", "unknown": "NOT KNOWN"}

// Air writes the answer of the air command.
func Air(p *Page, a *AirAnswer) {
	if v := a.Vapour; v != nil {
		vapour(p, v)
	}
	if w := a.Weather; w != nil {
		if a.Vapour != nil {
			p.Blank()
		}
		weather(p, w)
	}
	p.Blank()
	p.Text(0, Deference)
}

func vapour(p *Page, v *VapourAnswer) {
	p.Head("Vapour: " + levelWords[v.Overall])
	p.Item(0, "Room", textCol, fmt.Sprintf("%s, %s: %s air changes an hour; air mixes badly, so a share counts (one part in %s)",
		span(v.RoomM3, "m³"), strings.ReplaceAll(v.Place, "-", " "), bare(v.Changes), bare(v.Mixing)))
	p.Item(0, "Goes in", textCol, volume(v.LitreIn)+over(v.Minutes))
	for _, l := range v.Vapours {
		p.Item(0, "In the air", textCol, fmt.Sprintf("%s: %s (%s) at the end, when it is highest", strings.ReplaceAll(l.Substance, "-", " "), span(l.PPM, "ppm"), span(l.MGM3, "mg/m³")))
	}
	p.Item(0, "Breathing", textCol, fmt.Sprintf("%s: %s of the tightest limit known for healthy grown workers", levelWords[v.Health], percents(v.OfLimit)))
	p.Item(0, "Fire", textCol, fmt.Sprintf("%s: %s of the lower explosive limit; from 10 %% be careful, above 25 %% stop. Right over the liquid it can always be more.", levelWords[v.Fire], percents(v.OfLEL)))
	if len(v.NoLimit) > 0 {
		p.Item(0, "Not known", textCol, "a limit for breathing "+strings.Join(v.NoLimit, ", ")+"; keep it low")
	}
	if len(v.NoFigure) > 0 {
		p.Item(0, "Not known", textCol, "an explosive limit of "+strings.Join(v.NoFigure, ", "))
	}
	if v.Overall != "go" {
		p.Item(0, "Would help", textCol, "less of it at a time, a longer time, more air through the room, or working outdoors; a mask is the last resort")
	}
}

func weather(p *Page, w *WeatherAnswer) {
	p.Head("Weather for a coat of " + strings.ReplaceAll(w.Coat, "-", " ") + ": " + levelWords[w.Overall])
	p.Item(0, "Air", textCol, fmt.Sprintf("%s: %s; this coat works from %s", levelWords[w.Warmth], span(w.AirC, "°C"), span(w.WorksC, "°C")))
	p.Item(0, "Damp", textCol, fmt.Sprintf("%s: %s; this coat waits above %s", levelWords[w.Humid], span(w.Humidity, "%"), Glue(quantity.Number(w.StopPC, 3)+" %")))
	p.Item(0, "Dew", textCol, fmt.Sprintf("%s: the air drops its water at %s; the wood, at %s, stands %s above that, and 3 °C are needed",
		levelWords[w.Dew], span(w.DewC, "°C"), span(w.SurfaceC, "°C"), span(w.MarginC, "°C")))
}

// span writes a range with its unit, to three digits.
func span(r interval.Range, unit string) string { return bare(r) + "\u00a0" + unit }

// bare writes a range without a unit.
func bare(r interval.Range) string {
	lo, hi := quantity.Number(threeDigits(r.Lo), 3), quantity.Number(threeDigits(r.Hi), 3)
	if lo == hi {
		return lo
	}
	return lo + "\u00a0to\u00a0" + hi
}

// threeDigits rounds what is large to three digits: 244,000 ppm is known no closer.
func threeDigits(v float64) float64 {
	if math.Abs(v) < 1000 {
		return v
	}
	step := math.Pow10(int(math.Log10(math.Abs(v))) - 2)
	return math.Round(v/step) * step
}

// volume writes litres, and less than one in millilitres.
func volume(litres interval.Range) string {
	if litres.Hi < 1 {
		return span(litres.Mul(interval.Exact(1000)), "ml")
	}
	return span(litres, "L")
}

func percents(r interval.Range) string {
	return span(interval.Range{Lo: r.Lo * 100, Hi: r.Hi * 100}, "%")
}

func over(minutes interval.Range) string {
	if minutes.Hi == 0 {
		return ", all at once"
	}
	return " over " + span(minutes, "min")
}
