package screen

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"mendwright/engine/coat"
	"mendwright/engine/finish"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
)

func weatherWord(v finish.Verdict) string {
	if v == finish.Wait {
		return "NOT TODAY"
	}
	return mayWords[v]
}

func coatWeather(p *Page, w *finish.Weather) {
	p.Head("Weather: " + weatherWord(w.Verdict))
	p.Item(0, "Air", textCol, span(w.AirC, "°C")+"; it goes on from "+span(w.StandsC, "°C")+speaksAgainst(w, "air"))
	p.Item(0, "Wood", textCol, span(w.SurfaceC, "°C")+map[bool]string{true: ", not measured: the air less up to 4 °C"}[w.NoSurface]+speaksAgainst(w, "surface"))
	damp := span(w.Humidity, "%")
	if w.NoHumidity {
		damp = "not measured, so it may be anything"
	}
	p.Item(0, "Damp", textCol, damp+"; it goes on "+upTo(w.StandsDamp)+speaksAgainst(w, "humidity"))
	if w.NoHumidity {
		p.Item(0, "Dew", textCol, "not known without the humidity (--humidity); the wood must be at least "+Glue(quantity.Number(coat.LeastDewMargin, 3)+" °C")+" warmer than the dew point"+speaksAgainst(w, "dew-margin"))
	} else {
		p.Item(0, "Dew", textCol, fmt.Sprintf("the air drops its water at %s; the wood is %s, and must be at least %s above%s",
			span(tenths(w.DewC), "°C"), aboveDew(tenths(w.MarginC)), Glue(quantity.Number(coat.LeastDewMargin, 3)+" °C"), speaksAgainst(w, "dew-margin")))
	}
	if slices.ContainsFunc(w.Until, func(u finish.Until) bool { return u.Sprayed }) {
		p.Item(0, "Way", textCol, "nobody said how it is put on (--way), so it may be sprayed")
	}
}

// aboveDew writes how far a surface stands above the dew point.
func aboveDew(margin interval.Range) string {
	below := Glue(quantity.Number(-margin.Lo, 3) + " °C")
	switch {
	case margin.Hi < 0:
		return span(interval.Range{Lo: -margin.Hi, Hi: -margin.Lo}, "°C") + " below that, and so is wet"
	case margin.Lo < 0:
		return "between " + below + " below and " + Glue(quantity.Number(margin.Hi, 3)+" °C") + " above that"
	}
	return span(margin, "°C") + " above that"
}

// tenths rounds a range to tenths, which is more than a thermometer in a garage tells.
func tenths(r interval.Range) interval.Range {
	at := func(v float64) float64 { return math.Round(v*10) / 10 }
	return interval.Range{Lo: at(r.Lo), Hi: at(r.Hi)}
}

// speaksAgainst writes what speaks against the coat in one quantity: where it must wait, why; else what
// asks for care.
func speaksAgainst(w *finish.Weather, of string) string {
	var waits, cares []string
	for _, r := range w.Reasons {
		why := r.Why
		if !r.Certain {
			why = "perhaps " + why
		}
		switch {
		case r.Of != of:
		case r.Verdict == finish.Wait:
			waits = append(waits, why)
		default:
			cares = append(cares, why)
		}
	}
	if len(waits) == 0 {
		waits = cares
	}
	if len(waits) == 0 {
		return ""
	}
	return ": " + strings.Join(waits, "; ")
}

// weatherSteps say what would make the weather right.
func weatherSteps(w *finish.Weather) []string {
	if w.Verdict == finish.Go {
		return nil
	}
	var out []string
	for _, u := range airWithWood(w.Until) {
		s := untilWords(u)
		if w.Verdict == finish.Care {
			s = "better: " + s
		}
		out = append(out, s)
	}
	return out
}

// both is the quantity of air and wood that must come to the same temperature.
const both = "air and wood"

// airWithWood takes air and wood together where the same is asked of both.
func airWithWood(list []finish.Until) []finish.Until {
	out := slices.Clone(list)
	for i, a := range out {
		for k, s := range out {
			if a.Of == "air" && s.Of == "surface" && a.Side == s.Side && a.At == s.At && !s.Dew {
				out[i].Of, out[i].Certain = both, a.Certain || s.Certain
				return slices.Delete(out, k, k+1)
			}
		}
	}
	return out
}

// boundWords writes what a quantity must come to.
func boundWords(u finish.Until) string {
	unit := " °C"
	if u.Of == "humidity" {
		unit = " %"
	}
	return u.Side + " " + Glue(bounded(u.Side, u.At)+unit)
}

func untilWords(u finish.Until) string {
	bound, low := boundWords(u), u.Side == coat.AtLeast.String()
	thing := spokenOf(u.Of)
	var s string
	switch {
	case !u.Certain && u.Of == both:
		s = "make sure that " + thing + " are " + bound
	case !u.Certain:
		s = "make sure that the " + thing + " is " + bound
	case u.Of == "humidity" && u.Dew:
		s = "dry the air until the humidity is " + bound
	case u.Of == "humidity":
		s = "wait until the humidity is " + bound
	case low && u.Of == both:
		s = "warm " + thing + " to " + bound
	case low:
		s = "warm the " + thing + " to " + bound
	case u.Of == both:
		s = "let " + thing + " cool to " + bound
	default:
		s = "let the " + thing + " cool to " + bound
	}
	switch {
	case u.Dew && u.Of == "humidity":
		s += ", or the wood is too close to the dew point"
	case u.Dew:
		s += ", " + Glue(quantity.Number(coat.LeastDewMargin, 3)+" °C") + " above the dew point"
	case u.Of == "humidity" && low:
		s += ", or it dries before it flows out"
	}
	if u.OrHumidity != nil {
		s += ", or dry the air until the humidity is at most " + Glue(bounded("at most", *u.OrHumidity)+" %")
	}
	if u.Sprayed {
		s += ", or brush it"
	}
	return s
}

func spokenOf(of string) string {
	if of == "surface" {
		return "wood"
	}
	return of
}
