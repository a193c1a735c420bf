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
	for _, text := range figuresOf(r) {
		p.Item(labelCol, label, textCol, text)
		label = ""
	}
}

// figuresOf are the sentences of what was reckoned for a repair.
func figuresOf(r *engine.Repair) []string {
	var out []string
	add := func(s string) {
		if s != "" {
			out = append(out, s)
		}
	}
	if r.Vapour != nil {
		add(vapourOf(r.Vapour))
	}
	if r.CoatDay != nil {
		add(coatDay(r.CoatDay))
	}
	if r.Pairing != nil && r.Pairing.Why != "" {
		add(pairing(r.Pairing))
	}
	return out
}

func vapourOf(v *engine.Vapour) string {
	if v.OfLimit == nil {
		return ""
	}
	s := fmt.Sprintf("Vapour of %s of work, %s%s: %s", Glue(quantity.Format(*v.AreaM2, "m²")), placeWords[v.Place], roomOf(v), levels(v))
	switch {
	case v.AboveMask == "yes":
		s += "; more than the mask at hand is made for"
	case v.AboveMask == "unknown":
		s += "; perhaps more than the mask at hand is made for"
	case v.AboveLimit != "no":
		s += "; within what the mask at hand is made for, so wear it"
	}
	return s + "."
}

func roomOf(v *engine.Vapour) string {
	if v.RoomM3 == nil {
		return ""
	}
	return " of " + Glue(quantity.Format(*v.RoomM3, "m³"))
}

// placeWords say where the work is done, the size of a room to follow.
var placeWords = map[string]string{
	"closed-room": "in a closed room", "window-open": "with one window or door open in a room", "cross-draught": "with a draught through a room",
	"extraction": "with a fan drawing from a room", "outdoors": "outdoors",
}

// levels writes how high a vapour stands, against breathing and against fire.
func levels(v *engine.Vapour) string {
	return fmt.Sprintf("at its highest %s times the limit for a working day and %s of the least that can explode", Glue(engine.Multiple(*v.OfLimit)), percent(*v.OfLEL))
}

// percent writes a share of the explosive limit; below a hundredth the digits say nothing.
func percent(share interval.Range) string {
	lo, hi := share.Lo*100, share.Hi*100
	switch {
	case hi < 1:
		return Glue("below 1 %")
	case lo < 1:
		return Glue("up to " + quantity.Number(hi, 2) + " %")
	}
	return Glue(engine.Multiple(interval.Range{Lo: lo, Hi: hi}) + " %")
}

func coatDay(c *engine.CoatDay) string {
	if c.RecoatH == nil {
		return ""
	}
	s := fmt.Sprintf("%s today: touch dry after %s, next coat after %s", capital(c.Coat), hours(*c.TouchH), hours(*c.RecoatH))
	if c.ClosesH != nil {
		s += fmt.Sprintf(" and before %s, later only over a scuff", hours(*c.ClosesH))
	} else if c.Scuff {
		s += " over a scuff"
	}
	s += ", hard after " + hours(*c.CureH)
	if c.AboveDewC != nil {
		s += "; the wood is " + degrees(engine.AboveDew(*c.AboveDewC))
	}
	if len(c.Why) > 0 {
		s += "; " + degrees(strings.Join(c.Why, "; "))
	}
	return s + "."
}

// barrierWords say when dewaxed shellac goes between.
var barrierWords = map[string]string{
	"or-wait": "; a thin coat of dewaxed shellac between, or the whole wait", "yes": "; a thin coat of dewaxed shellac between",
	"if-unknown": "; a thin coat of dewaxed shellac between unless you know what is there",
}

// degrees keeps numbers and their degrees or percents on one line.
func degrees(s string) string {
	return strings.NewReplacer(" °C", "\u00a0°C", " %", "\u00a0%").Replace(s)
}

func pairing(p *engine.Pairing) string {
	s := "Over what is there: " + p.Why
	if p.Scuff {
		s += "; scuff first"
	}
	s += barrierWords[p.Barrier]
	return s + "."
}

// short is what was reckoned for a repair in a few words.
func short(r *engine.Repair) string {
	s := ""
	if v := r.Vapour; v != nil && v.OfLimit != nil {
		s += "; vapour " + levels(v)
	}
	if c := r.CoatDay; c != nil && c.RecoatH != nil {
		s += "; next coat after " + hours(*c.RecoatH)
		if c.ClosesH != nil {
			s += " and before " + hours(*c.ClosesH)
		}
	}
	return s
}
