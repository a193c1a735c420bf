package screen

import (
	"fmt"
	"math"

	"mendwright/engine"
	"mendwright/engine/coat"
	"mendwright/engine/finish"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
)

// How a finish is keyed for the next one, and what a barrier is.
const (
	scuffWith   = "scuff the old film with P280 to P320"
	barrierCoat = "one thin coat of dewaxed shellac"
)

func oldFilm(p *Page, g *finish.Ground, cited map[string]engine.Cited) {
	p.Head("Over " + oldFinish(g.Old) + ": " + groundWord(g))
	why := g.Why
	if b := backing(g.Sources, cited); b != "" {
		why += " [" + b + "]"
	}
	p.Item(0, "Why", textCol, why)
	if g.WaitH != nil || g.UnderH != nil {
		s := "the old film must have dried "
		switch {
		case g.Usual:
			s += "as usual, " + hours(*g.WaitH) + " today"
		case g.WaitH != nil && g.UnderH != nil && *g.WaitH != *g.UnderH:
			s += hours(*g.WaitH) + ", under a barrier " + hours(*g.UnderH)
		case g.WaitH != nil:
			s += hours(*g.WaitH)
		default:
			s += hours(*g.UnderH) + " under the barrier"
		}
		if g.DriedH == nil {
			s += "; nobody said how long it has (--since)"
		} else {
			s += "; it has " + hours(*g.DriedH)
		}
		p.Item(0, "Dried", textCol, s)
	}
	if g.Barrier == coat.IfUnknown.String() && !g.Laid {
		p.Item(0, "Barrier", textCol, barrierCoat+" between, if it is not certain what the old finish is")
	}
}

func groundWord(g *finish.Ground) string {
	switch {
	case g.Verdict == finish.Wait && g.Barrier == coat.NeedsBarrier.String() && !g.Laid:
		return "NOT WITHOUT A BARRIER"
	case g.Verdict == finish.Wait:
		return "NOT YET"
	case g.Verdict == finish.Go && g.Scuff && !g.Laid:
		return "YES, AFTER A SCUFF"
	case g.May == coat.MaySpray.String() && g.Verdict == finish.NotKnown:
		return "ONLY SPRAYED"
	case g.DriedH == nil && g.WaitH != nil && g.Verdict == finish.NotKnown:
		return "ONLY ONCE IT IS DRY"
	case g.May == coat.MayMist.String() && g.Verdict.May():
		return "IN MIST COATS ONLY"
	}
	return mayWords[g.Verdict]
}

// groundSteps say what to do to the old film.
func groundSteps(g *finish.Ground) []string {
	switch {
	case g.May == coat.MayNot.String():
		return []string{"take the " + oldFinish(g.Old) + " off, or take another finish"}
	case g.May == "unknown":
		return []string{"try it on a hidden spot"}
	}
	var out []string
	if g.May == coat.MaySpray.String() {
		out = append(out, "spray it: "+g.Why)
	}
	if g.WaitH != nil && !g.Verdict.May() {
		s := "let the old film dry, " + hours(*g.WaitH) + " in all"
		if g.Barrier == coat.BarrierOrWait.String() && !g.Laid {
			s += ", or lay a barrier, " + barrierCoat + ", which shortens the wait (--barrier)"
		}
		out = append(out, s)
	}
	if g.Scuff && !g.Laid {
		out = append(out, scuffWith)
	}
	if !g.Laid && g.Barrier == coat.NeedsBarrier.String() {
		out = append(out, "lay a barrier, "+barrierCoat+", and ask again with --barrier")
	}
	if g.May == coat.MayMist.String() {
		out = append(out, "mist it on in light coats; a full one lifts or wrinkles what is there")
	}
	return out
}

func nextCoat(p *Page, n *finish.Next) {
	p.Head("Next coat: " + nextWord(n))
	p.Item(0, "Since", textCol, hours(n.SinceH)+" since the last; the next may follow from "+hours(n.FromH)+" on")
	if n.UntilH != nil {
		s := "without a scuff up to " + hours(*n.UntilH)
		if n.SandH != nil {
			s += "; after that it must first be hard enough to scuff, from " + hours(*n.SandH) + " on"
		}
		p.Item(0, "Window", textCol, s)
	}
}

func nextWord(n *finish.Next) string {
	switch {
	case n.Window == coat.TooSoon.String():
		return "TOO SOON"
	case !n.Verdict.May():
		return "NOT KNOWN"
	case n.Window == coat.WindowUnknown.String():
		return "YES, AFTER A SCUFF TO BE SURE"
	case n.Scuff == coat.Yes.String():
		return "YES, AFTER A SCUFF"
	}
	return "YES"
}

func nextSteps(n *finish.Next) []string {
	var out []string
	if n.LeftH != nil {
		s := "wait another " + hours(*n.LeftH)
		if n.LeftH.Lo == 0 {
			s = "wait up to another " + hours(interval.Exact(n.LeftH.Hi)) + ", or until the label's time is over"
		}
		out = append(out, s)
	}
	switch n.Scuff {
	case "yes":
		out = append(out, "scuff the last coat with P280 to P320")
	case "unknown":
		out = append(out, "scuff the last coat with P280 to P320, since the window may have closed")
	}
	return out
}

var timeWords = map[string]string{"touch": "Touch", "recoat": "Next coat", "closes": "Window", "sand": "Sand", "cure": "Hard"}

func dryingTimes(p *Page, t *finish.Times) {
	p.Head("Drying")
	rated := Glue(quantity.Number(coat.RatedAir, 3)+" °C") + " and " + Glue(quantity.Number(coat.RatedHumidity, 3)+" %")
	if t.Slower != nil {
		p.Item(0, "Today", textCol, slower(*t.Slower)+" as long as printed for "+rated)
	} else {
		p.Item(0, "Printed", textCol, "for "+rated+"; cold makes it longer (--air)")
	}
	for _, r := range t.Rows {
		s := hours(r.PrintedH)
		if r.TodayH != nil {
			s = hours(*r.TodayH) + " today (" + s + " printed)"
		}
		if r.Of == "closes" {
			s = "up to " + s + "; later the next coat needs a scuff"
		} else {
			s = "after " + s
		}
		p.Item(0, timeWords[r.Of], textCol, s)
	}
	if t.TouchH == nil {
		return
	}
	s := coatsWord(t.Coats)
	if t.CoatsFrom == "usual" {
		s += ", the least usual number"
	}
	p.Item(0, "In all", textCol, fmt.Sprintf("%s: the last can be touched %s after the first goes on, and is hard after %s", s, hours(*t.TouchH), hours(*t.CuredH)))
	if t.TimeH != nil {
		p.Item(0, "Time", textCol, hours(*t.TimeH)+inTime(t.InTime, t.Ready))
	}
}

func inTime(touched, hard string) string {
	s := map[string]string{"yes": " will do to touch it", "no": " will not do", "unknown": " may or may not do to touch it"}[touched]
	if touched == "no" {
		return s
	}
	return s + map[string]string{"yes": " and until it is hard", "no": "; hard it will not be", "unknown": "; whether it is hard by then is open"}[hard]
}

// slower writes a factor, such as 1.2 to 1.6 times.
func slower(r interval.Range) string {
	lo, hi := quantity.Number(r.Lo, 2), quantity.Number(r.Hi, 2)
	if lo != hi {
		lo += " to " + hi
	}
	return Glue(lo + " times")
}

func coatsWord(s coat.Span) string {
	if s.Exact() {
		return count(s.Lo, "coat")
	}
	return Glue(s.String() + " coats")
}

func coatAmount(p *Page, a *finish.Amount, way string) {
	p.Head("How much")
	solids := "typical"
	if a.SolidsSet {
		solids = "as given"
	}
	p.Item(0, "One coat", textCol, fmt.Sprintf("%s wet, %s dry (solids %s, %s)", span(a.WetUM, "µm"), span(microns(a.DryUM), "µm"), span(a.Solids, "%"), solids))
	coats := Glue(a.Coats.String())
	switch a.CoatsFrom {
	case "film":
		coats += " for " + span(*a.WantedUM, "µm") + " of dry film in all"
	case "usual":
		coats += ", the least usual number"
	}
	if a.FilmUM != nil {
		coats += "; dry film in all " + span(microns(*a.FilmUM), "µm")
		if a.WantedUM != nil {
			coats += map[string]string{"yes": ", enough for ", "no": ", too little for ", "unknown": ", perhaps too little for "}[a.Enough] + span(*a.WantedUM, "µm")
		}
	}
	p.Item(0, "Coats", textCol, coats)
	if a.Uncounted != "" {
		p.Item(0, "Film", textCol, "not reckoned: "+a.Uncounted)
	}
	if a.TooThick == "yes" || a.TooThick == "unknown" {
		p.Item(0, "Cracks", textCol, map[string]string{"yes": "too thick: ", "unknown": "perhaps too thick: "}[a.TooThick]+"it stands no more than "+span(*a.MostUM, "µm")+" dry in all")
	}
	if a.Buy != nil {
		coatBuy(p, a, way)
	}
}

func coatBuy(p *Page, a *finish.Amount, way string) {
	b := a.Buy
	s := boughtLitres(b.Litres)
	if b.Grams != nil {
		s += ", " + boughtGrams(*b.Grams)
	}
	p.Item(0, "Buy", textCol, s+" for "+coatsWord(a.Coats)+" on "+span(b.AreaM2, "m²"))
	loss := "by " + spoken(way) + " " + span(b.Loss, "%") + " of it never lands"
	if b.AnyWay {
		loss = "nobody said how it is put on (--way), so " + span(b.Loss, "%") + " of it may never land"
	}
	p.Item(0, "Of which", textCol, fmt.Sprintf("%s a coat; a litre covers %s; %s; %s is added for what stays in can and tool", boughtLitres(b.PerCoatL), span(b.Rate, "m²"), loss, span(b.Waste, "%")))
}

// boughtLitres writes what to buy, rounded outwards to two digits.
func boughtLitres(litres interval.Range) string {
	if litres.Hi < 1 {
		return span(outwards(interval.Range{Lo: litres.Lo * 1000, Hi: litres.Hi * 1000}), "ml")
	}
	return span(outwards(litres), "L")
}

// boughtGrams writes what to weigh out, rounded outwards to two digits.
func boughtGrams(grams interval.Range) string {
	if grams.Hi < 1000 {
		return span(outwards(grams), "g")
	}
	return span(outwards(interval.Range{Lo: grams.Lo / 1000, Hi: grams.Hi / 1000}), "kg")
}

// outwards rounds to two digits, down at the lower end and up at the upper one: who buys by the
// upper one does not run short.
func outwards(r interval.Range) interval.Range {
	to := func(v float64, round func(float64) float64, shift float64) float64 {
		if v <= 0 {
			return 0
		}
		step := math.Pow(10, math.Floor(math.Log10(v))-1)
		return round(v/step+shift) * step
	}
	return interval.Range{Lo: to(r.Lo, math.Floor, 1e-9), Hi: to(r.Hi, math.Ceil, -1e-9)}
}

// microns rounds a film to whole micrometres from 10 µm on.
func microns(r interval.Range) interval.Range {
	at := func(v float64) float64 {
		if math.Abs(v) < 10 {
			return math.Round(v*10) / 10
		}
		return math.Round(v)
	}
	return interval.Range{Lo: at(r.Lo), Hi: at(r.Hi)}
}
