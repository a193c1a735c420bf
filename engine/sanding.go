package engine

import (
	"fmt"
	"maps"
	"slices"

	"mendwright/engine/coat"
	"mendwright/engine/depth"
	"mendwright/engine/mechanics"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

// Tables are the typed tables that the calculators stand on; their content comes from outside.
type Tables struct {
	Depth depth.Tables
	// Keeps says by layer what must stay.
	Keeps map[string]Keep
	// Layers are thickness ranges by layer and age, for a layer that nobody measured. They are
	// shown, and never clear anything.
	Layers map[[2]string]interval.Range
	// Feather is the blend ratio by sheen.
	Feather map[string]float64
	// TooRough holds the tools that have no place on a thin layer.
	TooRough map[string]bool
	// Tool is the tool taken when none is named, Grits the programme.
	Tool  string
	Grits []string
	// Vapour and Coat give the tables of what evaporates and of coats; most jobs ask for neither.
	Vapour func() (*VapourTables, error)
	Coat   func() (*coat.Tables, error)
	// Bare is what the coat tables call bare wood.
	Bare string
	// Plan are the sources of the arithmetic of a plan.
	Plan []string
}

// ToolNames lists the tools, sorted.
func (t *Tables) ToolNames() []string { return slices.Sorted(maps.Keys(t.Depth.Tools)) }

// Keep is what must stay of a layer, in mm.
type Keep struct {
	Line  float64 // least that must be left
	Warn  float64 // below this it is worth saying
	Cover float64 // least wood over a screw tip
	Most  float64 // most that sanding may take in all
}

// Measure is a range that may be unknown; then it stands for all that is possible.
type Measure struct {
	interval.Range
	Known bool
}

// Cut is what a sanding check is asked about. The zero values mean "not known".
type Cut struct {
	Layer     string // key of Tables.Keeps
	Age       string
	Thin      condition.Outcome // is it a thin layer on a core?
	Thickness Measure
	Mark      Measure // depth of the mark
	ToMark    bool    // sand down to the bottom of the mark
	Film      Measure
	Stripped  condition.Outcome
	Screwed   condition.Outcome
	Screw     Measure
	Programme Programme
	Width     Measure // of the mark, for the blend
}

// Sanding is a sanding check: what the cut takes, what it leaves, and whether the layer
// stands it.
type Sanding struct {
	Verdict string   `json:"verdict"` // clear, tight, through or unknown
	Grits   []string `json:"grits"`
	Tool    string   `json:"tool"`
	KeepMM  float64  `json:"keep_mm"`
	WarnMM  float64  `json:"warn_mm,omitempty"`
	// The ranges are present only when everything they need is known.
	ThicknessMM *interval.Range `json:"thickness_mm,omitempty"`
	FilmMM      *interval.Range `json:"film_mm,omitempty"`
	MarkMM      *interval.Range `json:"mark_mm,omitempty"`
	ScratchesMM *interval.Range `json:"scratches_mm,omitempty"`
	TakeMM      *interval.Range `json:"take_mm,omitempty"`
	LeftMM      *interval.Range `json:"left_mm,omitempty"`
	StdMM       float64         `json:"std_mm,omitempty"`
	Chance      *float64        `json:"chance,omitempty"`
	Chances     *interval.Range `json:"chances,omitempty"`
	DeepestMM   *float64        `json:"deepest_mm,omitempty"`
	Passes      *int            `json:"passes_to_measure,omitempty"`
	// Estimate is the usual thickness of such a layer; it clears nothing.
	Estimate *interval.Range    `json:"usual_thickness_mm,omitempty"`
	Cover    *interval.Range    `json:"screw_cover_mm,omitempty"`
	Stiff    *interval.Range    `json:"stiffness_kept,omitempty"`
	Feather  map[string]float64 `json:"feather_width_mm,omitempty"`
	// Slope is the steepest slope of the hollow if no more than the mark itself were sanded.
	Slope *float64   `json:"hollow_slope,omitempty"`
	Steps []GritStep `json:"grit_steps"`
	Jump  string     `json:"grit_jump"`
	// Missing are the inputs, as fact ids in a job, that the verdict waits for.
	Missing []string `json:"missing,omitempty"`
	// Problem says why there is no check at all: an unknown grit, a keep line too low.
	Problem string `json:"problem,omitempty"`

	result depth.Result
	known  bool
}

// GritStep is one change of grit.
type GritStep struct {
	From  string  `json:"from"`
	To    string  `json:"to"`
	Ratio float64 `json:"size_ratio"` // grain size of From over that of To
	Jump  string  `json:"jump"`       // close, one-skipped or too-big
}

// possible is the range of a measure in mm: what it is, or all it could be.
func (m Measure) possible(hi float64) interval.Range {
	if m.Known {
		return m.Range
	}
	return interval.Range{Lo: 0, Hi: hi}
}

// Bounds of what an unmeasured input could be, in mm. They need only be wider than anything met.
const (
	mostThickness = 200
	mostMark      = 60
	mostFilm      = 2
	mostScrew     = 150
)

// Sand checks a cut. Where an input is missing it stands for all it could be, so that the verdict
// is known only when no answer could change it; a thin layer of unmeasured thickness is therefore
// never clear.
func (t *Tables) Sand(c Cut) Sanding {
	s := Sanding{Verdict: depth.Unknown.String(), Grits: c.Programme.Grits, Tool: c.Programme.Tool, Steps: []GritStep{}}
	if len(s.Grits) == 0 {
		s.Grits = t.Grits
	}
	if s.Tool == "" {
		s.Tool = t.Tool
	}
	steps, err := t.Depth.Steps(s.Grits)
	if err != nil {
		s.Problem = err.Error()
		return s
	}
	s.Jump = depth.Widest(steps).String()
	for _, st := range steps {
		s.Steps = append(s.Steps, GritStep{st.From, st.To, st.Ratio, st.Jump.String()})
	}
	if est, ok := t.Layers[[2]string{c.Layer, c.Age}]; ok && !c.Thickness.Known {
		s.Estimate = &est
	}
	keep, ok := t.Keeps[c.Layer]
	if c.Layer == "" || c.Thin == condition.Unknown {
		s.Missing = append(s.Missing, "layer")
		return s
	}
	if !ok {
		s.Problem = fmt.Sprintf("a layer of %s is not sanded", c.Layer)
		s.Verdict = depth.Through.String()
		return s
	}
	if c.Thin == condition.True && t.TooRough[s.Tool] {
		s.Problem = fmt.Sprintf("the tool %q goes through a thin layer in seconds", s.Tool)
		s.Verdict = depth.Through.String()
		return s
	}
	s.KeepMM, s.WarnMM = keep.Line, keep.Warn
	if own := c.Programme.Keep; own != nil {
		if *own < keep.Line && c.Thin == condition.True {
			s.Problem = fmt.Sprintf("a keep line of %g mm is below the %g mm that hides the core", *own, keep.Line)
			s.Missing = append(s.Missing, "keep")
			return s
		}
		s.KeepMM = *own
	}
	layer, missing := s.layer(c, keep)
	s.Missing = append(s.Missing, missing...)
	cut, missing := s.programme(c)
	s.Missing = append(s.Missing, missing...)
	take, err := t.Depth.Take(cut)
	if err != nil {
		s.Problem = err.Error()
		return s
	}
	s.result = depth.Check(layer, take)
	s.Verdict = s.result.Verdict.String()
	if len(s.Missing) > 0 {
		if s.result.Verdict == depth.Clear { // no guess clears anything
			s.Verdict = depth.Unknown.String()
		}
		if s.Verdict != depth.Unknown.String() {
			s.Missing = nil
		}
		return s
	}
	s.known = true
	s.report(c, t, layer, take)
	if s.result.Verdict == depth.Unknown {
		s.Missing = wide(c)
	}
	return s
}

// wide lists the measured inputs whose spread keeps the verdict open.
func wide(c Cut) []string {
	inputs := map[string]Measure{"thickness": c.Thickness}
	if c.ToMark {
		inputs["defect-depth"] = c.Mark
	}
	if c.Thin == condition.False && c.Screwed == condition.True {
		inputs["screw-depth"] = c.Screw
	}
	var out []string
	if c.Thin == condition.True && c.Stripped != condition.True {
		inputs["film"] = c.Film
		if c.Stripped == condition.Unknown {
			out = append(out, "stripped")
		}
	}
	for role, m := range inputs {
		if m.Known && m.Half() > 0 {
			out = append(out, role)
		}
	}
	slices.Sort(out)
	return out
}

// layer works out what may be sanded, and which inputs that lacks.
func (s *Sanding) layer(c Cut, keep Keep) (depth.Layer, []string) {
	thickness := c.Thickness.possible(mostThickness)
	if c.Thin == condition.True {
		l := depth.Layer{Thickness: thickness, Keep: s.KeepMM}
		if !c.Thickness.Known {
			return l, []string{"thickness"}
		}
		return l, nil
	}
	// A solid board loses its depth to the tips of its screws, and never more than usual
	// refinishing takes. A board without screws is one whose screws go nowhere.
	sunk := c.Screw.possible(mostScrew)
	var missing []string
	switch c.Screwed {
	case condition.False:
		sunk = interval.Exact(0)
	case condition.Unknown:
		sunk.Lo, sunk.Hi = 0, mostScrew
		missing = append(missing, "screwed")
	default:
		if !c.Screw.Known {
			missing = append(missing, "screw-depth")
		}
	}
	if !c.Thickness.Known {
		missing = append(missing, "thickness")
	}
	least := max(s.KeepMM-keep.Cover, 0)
	sunk = interval.Range{Lo: max(sunk.Lo, least), Hi: max(sunk.Hi, least)}
	return depth.Layer{Thickness: thickness.Sub(sunk), Keep: keep.Cover, Most: keep.Most}, missing
}

// programme works out the cut, and which inputs it lacks. The film counts on a thin layer only:
// there its thickness is measured over the film.
func (s *Sanding) programme(c Cut) (depth.Cut, []string) {
	cut := depth.Cut{Grits: s.Grits, Tool: s.Tool}
	var missing []string
	if c.Thin == condition.True && c.Stripped != condition.True {
		cut.Film = c.Film.possible(mostFilm)
		if c.Stripped == condition.Unknown {
			cut.Film.Lo = 0
		}
		if !c.Film.Known {
			missing = append(missing, "film", "stripped")
			if c.Stripped == condition.False {
				missing = missing[:1]
			}
		}
	}
	if c.ToMark {
		cut.Defect = c.Mark.possible(mostMark)
		if !c.Mark.Known {
			missing = append(missing, "defect-depth")
		}
	}
	return cut, missing
}

// report fills in the figures of a check whose inputs are all known.
func (s *Sanding) report(c Cut, t *Tables, layer depth.Layer, take depth.Take) {
	r := s.result
	s.TakeMM, s.MarkMM, s.ScratchesMM = &take.Total, &take.Defect, &take.Clearances
	s.Chance, s.Chances, s.StdMM = &r.Chance, &r.Chances, r.Std
	if c.Thin == condition.True {
		s.FilmMM = &take.Film
	}
	if c.Thickness.Known {
		left := c.Thickness.Sub(take.Total)
		s.ThicknessMM, s.LeftMM = &c.Thickness.Range, &left
		if c.Thin == condition.False {
			s.Stiff = stiffnessKept(c.Thickness.Range, take.Total)
		}
		if c.Screw.Known && c.Screwed == condition.True {
			cover := depth.Cover(c.Thickness.Range, take.Total, c.Screw.Range)
			s.Cover = &cover
		}
	}
	deepest := depth.Deepest(layer, take, depth.ClearBelow)
	s.DeepestMM = &deepest
	if n, err := t.Depth.PassesToMeasure(r, s.Tool, s.Grits[0]); err == nil {
		s.Passes = &n
	}
	if c.Mark.Known && c.ToMark && c.Width.Known && c.Width.Lo > 0 {
		slope := depth.DishSlope(c.Mark.Hi, c.Width.Lo)
		s.Slope = &slope
	}
	if c.Mark.Known && c.ToMark {
		s.Feather = map[string]float64{}
		for sheen, ratio := range t.Feather {
			s.Feather[sheen] = depth.FeatherWidth(c.Width.Range.Hi, c.Mark.Hi, ratio)
		}
	}
}

// stiffnessKept is the share of its stiffness that a board keeps. What is left hangs on what was
// there, so the ends are those of the thinnest board with the deepest cut and the other way round.
// A board that is cut away, or is out of the arithmetic's range, has no such figure.
func stiffnessKept(thickness, take interval.Range) *interval.Range {
	after := func(board, cut float64) (interval.Range, error) {
		return mechanics.StiffnessKept(interval.Exact(board), interval.Exact(board-cut))
	}
	least, err := after(thickness.Lo, take.Hi)
	if err != nil {
		return nil
	}
	most, err := after(thickness.Hi, take.Lo)
	if err != nil {
		return nil
	}
	return &interval.Range{Lo: least.Lo, Hi: most.Hi}
}
