package page

import (
	"errors"
	"maps"
	"net/http"
	"slices"
	"strings"

	"mendwright/cmd/mendwright/check"
	"mendwright/cmd/mendwright/drawing"
	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
	"mendwright/knowledge"
	"mendwright/rules"
	"mendwright/rules/condition"
)

// field is one input of a form that is reckoned from.
type field struct {
	Name, Label, Hint string
	Value             string
	Options           []option // a list to choose from; else text
	Suggest           []string // words that text could be
	Wrong             string
}

// sandTexts are the fields of the sanding check in their order: how each is labelled, an example, and what
// it is called where it is missing.
var sandTexts = []struct{ name, label, hint, missing string }{
	{"layer", "What the surface is made of", "", "the layer"},
	{"thickness", "Thickness of that layer, measured", "such as 0.9 ± 0.05 mm, 1/28 in", "the thickness of the layer, measured"},
	{"mark", "Depth of the mark to sand out", "such as 0.2 mm", "the depth of the mark"},
	{"grits", "Grits, from coarse to fine", "such as 120,150,180", ""},
	{"tool", "Tool", "", ""},
	{"stripped", "Is the finish off already?", "", "whether the finish is off"},
	{"film", "Thickness of the finish still on", "such as 60 µm", "the thickness of the finish"},
	{"width", "Width of the mark", "such as 8 mm", "the width of the mark"},
	{"keep", "What must stay of the layer", "such as 0.3 mm", ""},
	{"screwed", "Do screws come up from below?", "", "whether screws come up from below"},
	{"screw", "Depth of the longest screw", "such as 12 mm", "how deep the screws go in"},
	{"age", "When the piece was made", "", "when the piece was made"},
}

// sand is the sanding check as a form: the cut, what it leaves, and the chance of going through.
func (s *Server) sand(r *request) error {
	q := check.Sand{Values: map[string]string{}, Grits: strings.TrimSpace(r.FormValue("grits")), Tool: r.FormValue("tool"), Keep: strings.TrimSpace(r.FormValue("keep"))}
	for _, f := range check.SandFields {
		if v := strings.TrimSpace(r.FormValue(f.Field)); v != "" {
			q.Values[f.Field] = v
		}
	}
	data := map[string]any{"Title": "Sanding check"}
	asked := len(q.Values) > 0 || q.Grits != ""
	var wrong *check.FieldError
	if asked {
		a, _, err := q.Ask(s.Knowledge, check.Bare(), check.TheSurface, "")
		switch {
		case errors.As(err, &wrong):
		case err != nil:
			return sayError(err.Error())
		default:
			nameMissing(a)
			data["Layers"] = drawing.FromSanding(&a.Sanding).Draw("cut")
			data["Verdict"] = verdictOf(screen.Verdict(&a.Sanding))
			// The heading and the verdict stand above the form.
			data["Lines"] = screen.Lines(func(p *screen.Page) { screen.Sand(p, check.TheSurface, a) })[2:]
		}
	}
	var fields []field
	for _, t := range sandTexts {
		f := field{Name: t.name, Label: t.label, Hint: t.hint, Value: r.FormValue(t.name)}
		i := slices.IndexFunc(check.SandFields, func(f struct{ Field, Fact, Usage string }) bool { return f.Field == t.name })
		switch {
		case t.name == "tool":
			f.Options = words(s.Knowledge.Tables.ToolNames(), f.Value)
		case i >= 0:
			f.Options = answersOf(s.Knowledge.Book.Facts[check.SandFields[i].Fact], f.Value)
		}
		fields = append(fields, f)
	}
	data["Fields"] = marked(fields, wrong, data)
	return r.show(status(wrong), "sand", data)
}

// verdict is what a check came to: a few words, and the rest of the sentence.
type verdict struct{ Lead, Text string }

func verdictOf(text string) []verdict {
	lead, rest, _ := strings.Cut(text, ": ")
	return []verdict{{lead, rest}}
}

// nameMissing says which field of the form a fact is.
func nameMissing(a *engine.SandingAnswer) {
	for i, id := range a.Missing {
		for _, f := range check.SandFields {
			for _, t := range sandTexts {
				if f.Fact == id && t.name == f.Field {
					a.Missing[i] = t.missing
				}
			}
		}
	}
}

var airTexts = []struct{ name, label, hint string }{
	{"solvent", "What evaporates", "such as mineral-spirits, or a mixture: acetone=60,toluene=40"},
	{"amount", "How much of it", "such as 30 ml"},
	{"room", "Volume of the room", "such as 40 m³"},
	{"place", "How it is aired", ""},
	{"time", "Over how long", "such as 1 h; all at once if left empty"},
	{"coat", "Which coat", ""},
	{"air", "Temperature of the air", "such as 18 °C; 20 °C if left empty"},
	{"humidity", "Relative humidity", "such as 55 %"},
	{"surface", "Temperature of the wood", "such as 16 °C; up to 4 °C below the air if left empty"},
}

// air is the air check as a form: the vapour in a room, the weather for a coat, or both.
func (s *Server) air(r *request) error {
	t, err := knowledge.AirTables(s.Knowledge.Book)
	if err != nil {
		return err
	}
	get := func(name string) string { return strings.TrimSpace(r.FormValue(name)) }
	q := check.Air{Solvent: get("solvent"), Amount: get("amount"), Room: get("room"), Place: get("place"), Time: get("time"),
		Air: get("air"), Humidity: get("humidity"), Surface: get("surface"), Coat: get("coat")}
	data := map[string]any{"Title": "Air check"}
	var wrong *check.FieldError
	if q != (check.Air{}) {
		a, err := q.Ask(t)
		switch {
		case errors.As(err, &wrong):
		case errors.Is(err, check.ErrNothingAsked):
			wrong = &check.FieldError{Field: "solvent", Err: err}
		case err != nil:
			return sayError(err.Error())
		default:
			lines := screen.Lines(func(p *screen.Page) { screen.Air(p, a) })
			var verdicts []verdict
			for _, l := range lines {
				if l.Head {
					verdicts = append(verdicts, verdict{Lead: l.Text})
				}
			}
			data["Lines"], data["Verdict"] = lines, verdicts
		}
	}
	var fields []field
	for _, x := range airTexts {
		f := field{Name: x.name, Label: x.label, Hint: x.hint, Value: r.FormValue(x.name)}
		switch x.name {
		case "solvent":
			f.Suggest = slices.Sorted(maps.Keys(t.Substances))
		case "place":
			f.Options = words(slices.Sorted(maps.Keys(t.Places)), f.Value)
		case "coat":
			f.Options = words(slices.Sorted(maps.Keys(t.Coats)), f.Value)
		}
		fields = append(fields, f)
	}
	data["Fields"] = marked(fields, wrong, data)
	return r.show(status(wrong), "air", data)
}

func status(wrong *check.FieldError) int {
	if wrong != nil {
		return http.StatusUnprocessableEntity
	}
	return http.StatusOK
}

// marked puts a mistake beside the field that it is in.
func marked(fields []field, wrong *check.FieldError, data map[string]any) []field {
	if wrong == nil {
		return fields
	}
	for i := range fields {
		if fields[i].Name == wrong.Field {
			fields[i].Wrong = mistake(wrong)
			data["Wrong"] = fields[i].Label + ": " + fields[i].Wrong
		}
	}
	return fields
}

// mistake is what is wrong with a field, without its name.
func mistake(wrong *check.FieldError) string {
	if wrong.Err == nil {
		return "this is missing; write it like " + wrong.Example
	}
	return wrong.Err.Error()
}

// words are a list to choose from, none of them first.
func words(ids []string, chosen string) []option {
	out := []option{{Text: "not said", Chosen: chosen == ""}}
	for _, id := range ids {
		out = append(out, option{ID: id, Text: strings.ReplaceAll(id, "-", " "), Chosen: id == chosen})
	}
	return out
}

// answersOf are the answers to a fact to choose from; nil for a measurement.
func answersOf(f *rules.Fact, chosen string) []option {
	switch f.Kind {
	case condition.YesNo:
		return words([]string{"yes", "no"}, chosen)
	case condition.Choice:
		out := words(nil, chosen)
		for _, a := range f.Answers {
			out = append(out, option{ID: a.ID, Text: screen.Option(engine.Option(a)), Chosen: a.ID == chosen})
		}
		return out
	}
	return nil
}
