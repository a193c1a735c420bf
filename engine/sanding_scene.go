package engine

import (
	"slices"
	"strings"

	"mendwright/engine/depth"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

// cutOf is what tells the cuts of a mark apart.
type cutOf struct {
	toMark bool
	grits  string
}

// sanding checks the cut of the scene's method; in a scene without one, that of sanding the mark
// out with the surface's own programme. Each cut is checked once for all methods that make it.
func (s *scene) sanding() *Sanding {
	calc := s.calculator("sanding")
	if calc == nil || s.tables == nil {
		return &Sanding{Verdict: "unknown", Problem: "the rulebook declares no sanding calculator"}
	}
	if s.base != nil && s.base.before != nil && !s.feeds("sanding") {
		return s.base.before.forMethod(s.method).sanding()
	}
	c := Cut{ToMark: true}
	if s.on != nil {
		c.Programme = s.on.Programme
	}
	if s.method != nil && s.method.Sanding != nil {
		c.ToMark = s.method.Sanding.ToDefect
		if len(c.Programme.Grits) == 0 {
			c.Programme.Grits = s.method.Sanding.Grits
		}
	}
	at, key := s, cutOf{c.ToMark, strings.Join(c.Programme.Grits, " ")}
	if s.base != nil {
		at = s.base
	}
	if cut := at.cuts[key]; cut != nil {
		return cut
	}
	in := func(role string) *fact { return s.resolve(calc.Inputs[role]) }
	measure := func(role string) Measure {
		f := in(role)
		return Measure{f.value.Range(), f.known}
	}
	yesNo := func(role string) condition.Outcome {
		switch f := in(role); {
		case !f.known:
			return condition.Unknown
		case f.value.IsYes():
			return condition.True
		}
		return condition.False
	}
	c.Layer, c.Age = in("layer").value.Choice(), in("age").value.Choice()
	if !in("layer").known {
		c.Layer = ""
	}
	c.Thin, c.Stripped, c.Screwed = yesNo("thin-layer"), yesNo("stripped"), yesNo("screwed")
	c.Thickness, c.Mark, c.Film, c.Screw, c.Width = measure("thickness"), measure("defect-depth"), measure("film"), measure("screw-depth"), measure("width")
	cut := s.tables.Sand(c)
	for i, role := range cut.Missing {
		if id, ok := calc.Inputs[role]; ok {
			cut.Missing[i] = id
		}
	}
	slices.Sort(cut.Missing)
	if at.cuts == nil {
		at.cuts = map[cutOf]*Sanding{}
	}
	at.cuts[key] = &cut
	return &cut
}

// output gives one output of the check.
func (c *Sanding) output(name string) (condition.Value, bool) {
	switch name {
	case "verdict":
		return condition.Pick(c.Verdict), c.Verdict != depth.Unknown.String()
	case "jump":
		return condition.Pick(c.Jump), c.Jump != ""
	}
	if !c.known {
		return condition.Value{}, false
	}
	switch name {
	case "chance":
		return condition.Measured(c.Chances.Mul(interval.Exact(100))), true
	case "take":
		return condition.Measured(*c.TakeMM), true
	case "left":
		if c.LeftMM != nil {
			return condition.Measured(*c.LeftMM), true
		}
	}
	return condition.Value{}, false
}

func (c *Sanding) lacks() []string { return c.Missing }

func (c *Sanding) because() string {
	return "the sanding check with grits " + strings.Join(c.Grits, "-") + " gives it"
}
