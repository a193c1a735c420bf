package screen

import (
	"fmt"
	"strings"

	"mendwright/engine"
	"mendwright/engine/reckon"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
)

// ReckonAnswer is what the reckon command found, with the sources behind it.
type ReckonAnswer struct {
	reckon.Answer
	Sources map[string]engine.Cited `json:"sources"`
}

// fieldHeads are what the fields of calculations are called in the list.
var fieldHeads = map[string]string{
	reckon.Moisture: "Water and heat in wood", reckon.Mechanics: "Strength, weight and joints", reckon.Metal: "Hardware and rust",
	reckon.Air: "Air, lungs and hands", reckon.Coat: "Coats", reckon.Plan: "Time, money and what to buy",
}

// nameCol is where the text behind the name of a calculation or input stands.
const nameCol = 21

// Calculations lists what can be reckoned, by field.
func Calculations(p *Page, all []*reckon.Calculation) {
	field := ""
	for _, c := range all {
		if c.Field != field {
			if field != "" {
				p.Blank()
			}
			p.Head(fieldHeads[c.Field])
			field = c.Field
		}
		p.Item(2, c.ID, nameCol+2, c.Ask)
	}
	p.Blank()
	p.Text(0, "What one of them asks for: mendwright reckon NAME")
}

// Calculation says what a calculation asks for, and shows a call that works.
func Calculation(p *Page, c *reckon.Calculation, t *reckon.Tables) {
	p.Head(c.Ask)
	for _, in := range c.Inputs {
		text := in.Means + ": " + in.Allowed(t)
		switch {
		case in.Default != "":
			text += "; left out, it is taken as " + Glue(in.Default)
		case in.Optional:
			text += "; may be left out"
		}
		p.Item(2, in.Name, nameCol, text)
	}
	p.Blank()
	p.Text(0, "For example:")
	p.Text(2, exampleCall(c))
	p.Text(0, `A quantity may be a range: "18 to 22", "20 ± 2".`)
	if c.Holds != "" {
		p.Blank()
		p.Text(0, c.Holds)
	}
}

// exampleCall gives what must be given, or one thing where nothing must.
func exampleCall(c *reckon.Calculation) string {
	call := "mendwright reckon " + c.ID
	given := func(in reckon.Input) string { return " " + in.Name + "=" + quoted(in.Example) }
	must := ""
	for _, in := range c.Inputs {
		if !in.Optional && in.Default == "" {
			must += given(in)
		}
	}
	if must == "" {
		must = given(c.Inputs[0])
	}
	return call + must
}

// quoted puts quotes around what a shell would take apart.
func quoted(s string) string {
	if strings.ContainsAny(s, " %()±") {
		return Glue(`"` + s + `"`)
	}
	return s
}

// Reckon writes the answer of the reckon command; ids are its sources in order.
func Reckon(p *Page, a *ReckonAnswer, ids []string) {
	p.Head(a.Ask)
	for _, f := range a.Figures {
		if f.Range != nil {
			p.Item(2, "", 4, f.Means+": "+amount(*f.Range, f.Unit))
		} else {
			p.Item(2, "", 4, fmt.Sprintf("%s: %s; %s", f.Means, strings.ReplaceAll(f.Word, "-", " "), f.Says))
		}
	}
	p.Blank()
	var given []string
	for _, in := range a.Inputs {
		if !in.LeftOut {
			given = append(given, in.Name+" "+taken(in))
		}
	}
	p.Item(0, "Given", textCol, strings.Join(given, "; "))
	for _, in := range a.Inputs {
		if in.LeftOut {
			p.Item(0, "Without", textCol, in.Name+": taken as "+taken(in))
		}
	}
	if a.Holds != "" {
		p.Item(0, "Holds", textCol, a.Holds)
	}
	label := "Sources"
	for _, id := range ids {
		p.Item(0, label, textCol, fullSources([]string{id}, a.Sources))
		label = ""
	}
	p.Blank()
	p.Text(0, strings.TrimSpace(a.Caution+" "+Deference))
}

// taken writes an input as it was understood.
func taken(in reckon.Taken) string {
	switch {
	case in.Range == nil && len(in.Words) == 1:
		return in.Words[0]
	case in.Range == nil:
		return "any of " + strings.Join(in.Words, ", ")
	case in.LeftOut && in.Range.Lo != in.Range.Hi:
		return "anything from " + amount(*in.Range, in.Unit)
	case in.Range.Lo == in.Range.Hi && in.Unit != "min":
		return Glue(strings.TrimSpace(quantity.Number(in.Range.Lo, 4) + " " + in.Unit)) // one digit more than a figure
	}
	return amount(*in.Range, in.Unit)
}

// amount writes a range with its unit, long times in hours or days.
func amount(r interval.Range, unit string) string {
	if unit == "min" && r.Hi >= 180 {
		r, unit = r.Mul(interval.Exact(1.0/60)), "h"
	}
	if unit == "h" && r.Hi >= 96 {
		r, unit = r.Mul(interval.Exact(1.0/24)), "days"
	}
	return Glue(reckon.Show(r, unit))
}
