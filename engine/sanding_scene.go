package engine

import (
	"slices"

	"mendwright/engine/depth"
	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

// calculator is the sanding calculator's declaration, or nil if the rulebook has none.
func (s *scene) calculator() *rules.Calculator {
	for _, c := range s.book.Calculators {
		if c.ID == "sanding" {
			return c
		}
	}
	return nil
}

// sanding checks the cut of the scene's method; in a scene without one, that of sanding the mark
// out with the surface's own programme.
func (s *scene) sanding() *Sanding {
	if s.cut != nil {
		return s.cut
	}
	calc := s.calculator()
	if calc == nil || s.tables == nil {
		s.cut = &Sanding{Verdict: "unknown", Problem: "the rulebook declares no sanding calculator"}
		return s.cut
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
	in := func(role string) fact { return s.resolve(calc.Inputs[role]) }
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
	s.cut = &cut
	return s.cut
}

// computed gives one output of the sanding calculator. Outside a sanding method there is none.
func (s *scene) computed(decl *rules.Fact) (condition.Value, bool) {
	if s.method == nil {
		return condition.Value{}, false
	}
	cut := s.sanding()
	switch decl.Computed {
	case "sanding.verdict":
		if cut.Verdict == depth.Unknown.String() {
			return condition.Value{}, false
		}
		return condition.Pick(cut.Verdict), true
	case "sanding.jump":
		if cut.Jump == "" {
			return condition.Value{}, false
		}
		return condition.Pick(cut.Jump), true
	}
	if !cut.known {
		return condition.Value{}, false
	}
	var r interval.Range
	switch decl.Computed {
	case "sanding.chance":
		r = cut.Chances.Mul(interval.Exact(100))
	case "sanding.take":
		r = *cut.TakeMM
	case "sanding.left":
		if cut.LeftMM == nil {
			return condition.Value{}, false
		}
		r = *cut.LeftMM
	default:
		return condition.Value{}, false
	}
	return condition.Measured(r), true
}
