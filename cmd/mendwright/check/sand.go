package check

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"mendwright/engine"
	"mendwright/knowledge"
	"mendwright/rules/condition"
	"mendwright/rules/quantity"
	"mendwright/rules/strictyaml"
)

// SandFields are the facts of a cut that can be given, by field.
var SandFields = []struct{ Field, Fact, Usage string }{
	{"layer", "surface.layer", "what the surface is made of: solid, veneer, plywood"},
	{"thickness", "surface.layer_mm", `measured thickness of that layer, such as "0.9 ± 0.05 mm" or "1/28 in"`},
	{"mark", "defect.depth_mm", `depth of the mark to sand out, such as "0.2 mm"`},
	{"width", "defect.width_mm", "width of the mark"},
	{"film", "surface.film_mm", "thickness of the finish that is still on"},
	{"stripped", "surface.stripped", "yes if the finish is off already"},
	{"screwed", "surface.screwed", "yes if screws come up into a solid board from below"},
	{"screw", "surface.screw_mm", "how deep the longest of them goes into it"},
	{"age", "piece.age", "when the piece was made, such as 1900-1950; only for what such layers usually measure"},
}

// TheSurface is the name of a surface that was given by fields alone.
const TheSurface = "the surface"

// TheMark is the id of a mark that was given by fields alone.
const TheMark = "the mark"

// Sand is a question about a cut. What a field says is laid over what the job says.
type Sand struct {
	Values            map[string]string // by field of SandFields; absent: not given
	Grits, Tool, Keep string            // "": not given
}

// Bare is a job of one surface, TheSurface, of which nothing is known.
func Bare() *engine.Job {
	return &engine.Job{Surfaces: map[string]*engine.Surface{TheSurface: {}}}
}

// Ask checks the cut of a surface of the job, down to a mark if mark is not "", and returns which mark
// it is. It changes the job. The error is a *FieldError, or names the nearest surface or mark.
func (q Sand) Ask(k *knowledge.Loaded, job *engine.Job, surface, mark string) (*engine.SandingAnswer, string, error) {
	if on := job.Surfaces[surface]; on != nil {
		var err error
		if mark, err = q.lay(k, job, on, surface, mark); err != nil {
			return nil, "", err
		}
		if err := q.programme(k, &on.Programme); err != nil {
			return nil, "", err
		}
	}
	s, err := engine.CheckSanding(k.Book, k.Tables, job, surface, mark)
	return s, mark, err
}

// lay lays the facts given over the job and returns the mark to sand to.
func (q Sand) lay(k *knowledge.Loaded, job *engine.Job, on *engine.Surface, surface, defect string) (string, error) {
	mark := &engine.Mark{ID: TheMark, On: surface}
	for _, m := range job.Defects {
		if m.ID == defect {
			mark = m
		}
	}
	given := func(field string) bool { _, ok := q.Values[field]; return ok }
	for _, f := range SandFields {
		if !given(f.Field) {
			continue
		}
		v, known, err := k.Book.Facts[f.Fact].ReadAnswer(q.Values[f.Field])
		if err != nil {
			return "", &FieldError{Field: f.Field, Err: err}
		}
		subject := &on.Subject
		switch prefix, _, _ := strings.Cut(f.Fact, "."); prefix {
		case "piece":
			subject = &job.Piece
		case "defect":
			subject = &mark.Subject
		}
		if subject.Answers == nil {
			subject.Answers = map[string]condition.Value{}
		}
		delete(subject.Answers, f.Fact)
		if known {
			subject.Answers[f.Fact] = v
		}
		if f.Field == "screw" && known {
			if given("screwed") && !subject.Answers["surface.screwed"].IsYes() {
				return "", errScrews
			}
			subject.Answers["surface.screwed"] = condition.Yes(true)
		}
	}
	if defect == "" && (given("mark") || given("width")) {
		job.Defects = append(job.Defects, mark)
		return mark.ID, nil
	}
	return defect, nil
}

var errScrews = &FieldError{Field: "screw", Err: errors.New("it gives the depth of screws that are said not to be there")}

// programme lays the programme given over that of the surface.
func (q Sand) programme(k *knowledge.Loaded, p *engine.Programme) error {
	if q.Grits != "" {
		p.Grits = nil
		for _, g := range strings.Split(q.Grits, ",") {
			if _, err := k.Tables.Depth.Grain(g); err != nil {
				return &FieldError{Field: "grits", Err: fmt.Errorf("%w; separate them by commas", err)}
			}
			p.Grits = append(p.Grits, strings.TrimSpace(g))
		}
	}
	if q.Tool != "" {
		names := k.Tables.ToolNames()
		if !slices.Contains(names, q.Tool) {
			return &FieldError{Field: "tool", Err: fmt.Errorf("read %q; expected %s%s", q.Tool, strings.Join(names, ", "), strictyaml.Nearest(q.Tool, names))}
		}
		p.Tool = q.Tool
	}
	if q.Keep != "" {
		v, err := quantity.Parse(q.Keep, "mm")
		if err != nil {
			return &FieldError{Field: "keep", Err: err}
		}
		if v.Lo < 0 {
			return &FieldError{Field: "keep", Err: fmt.Errorf("read %q; what must stay cannot be less than nothing", q.Keep)}
		}
		p.Keep = &v.Hi
	}
	return nil
}
