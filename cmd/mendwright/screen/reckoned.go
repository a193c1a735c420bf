package screen

import (
	"fmt"
	"strings"

	"mendwright/engine"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
)

// reckoned writes what was reckoned for a repair: the vapour it puts into the air, and its coat in
// today's weather and over what is there.
func reckoned(p *Page, r *engine.Repair) {
	label := "Figures"
	item := func(text string) {
		p.Item(labelCol, label, textCol, text)
		label = ""
	}
	if r.Vapour != nil {
		if s := vapourOf(r.Vapour); s != "" {
			item(s)
		}
	}
	if r.CoatDay != nil {
		if s := coatDay(r.CoatDay); s != "" {
			item(s)
		}
	}
	if r.Pairing != nil && r.Pairing.Why != "" {
		item(pairing(r.Pairing))
	}
}

func vapourOf(v *engine.Vapour) string {
	if v.OfLimit == nil {
		return ""
	}
	s := fmt.Sprintf("Vapour at its highest %s times the limit for a working day, %s of what can explode (%s%s, %s)",
		times(*v.OfLimit), times(v.OfLEL.Mul(interval.Exact(100)))+" %", strings.ReplaceAll(v.Place, "-", " "), roomOf(v), quantity.Format(*v.AreaM2, "m²"))
	switch {
	case v.AboveMask == "yes":
		s += "; more than the mask at hand is made for"
	case v.AboveMask == "unknown":
		s += "; perhaps more than the mask at hand is made for"
	case v.AboveLimit != "no":
		s += "; wear the mask"
	}
	return s + "."
}

func roomOf(v *engine.Vapour) string {
	if v.RoomM3 == nil {
		return ""
	}
	return " of " + quantity.Format(*v.RoomM3, "m³")
}

// times writes a multiple in two figures.
func times(r interval.Range) string {
	lo, hi := quantity.Number(r.Lo, 2), quantity.Number(r.Hi, 2)
	if lo == hi {
		return lo
	}
	return lo + " to " + hi
}

func coatDay(c *engine.CoatDay) string {
	if c.RecoatH == nil {
		return ""
	}
	s := fmt.Sprintf("%s today: touch dry after %s, next coat from %s", capital(c.Coat), hours(*c.TouchH), hours(*c.RecoatH))
	if c.ClosesH != nil {
		s += fmt.Sprintf(" and up to %s, after that only with a scuff", hours(*c.ClosesH))
	} else if c.Scuff {
		s += ", scuffed"
	}
	s += ", hard after " + hours(*c.CureH)
	if c.AboveDewC != nil {
		s += fmt.Sprintf("; the wood is %s warmer than the dew point", quantity.Span(*c.AboveDewC, "°C"))
	}
	if len(c.Why) > 0 {
		s += "; " + strings.Join(c.Why, "; ")
	}
	return s + "."
}

func pairing(p *engine.Pairing) string {
	s := "Over what is there: " + p.Why
	if p.Scuff {
		s += "; scuff first"
	}
	if p.Barrier != "" {
		s += "; barrier coat: " + p.Barrier
	}
	return s + "."
}

// short is what was reckoned for a repair in a few words.
func short(r *engine.Repair) string {
	s := ""
	if v := r.Vapour; v != nil && v.OfLimit != nil {
		s += fmt.Sprintf("; vapour %s times the limit for a working day, %s of what can explode", times(*v.OfLimit), times(v.OfLEL.Mul(interval.Exact(100)))+" %")
	}
	if c := r.CoatDay; c != nil && c.RecoatH != nil {
		s += "; next coat from " + hours(*c.RecoatH)
		if c.ClosesH != nil {
			s += " up to " + hours(*c.ClosesH)
		}
	}
	return s
}
