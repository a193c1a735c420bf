package jobfile

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/strictyaml"
)

// MaxName is the longest name of a surface or a defect that is written, in characters.
const MaxName = 100

// Answer is what a person typed for one fact, by its whole id.
type Answer struct {
	Fact  string
	Texts []string
}

// SetName names the piece; "" takes its name away.
func (d *Doc) SetName(name string) error {
	if name = strings.TrimSpace(name); name == "" {
		return d.text.Remove(strictyaml.Path{"piece", "name"})
	}
	return d.text.Put(strictyaml.Path{"piece", "name"}, strictyaml.Scalar(name))
}

// AddSurface adds a surface of which nothing is known yet. The error says that its name is
// missing, too long or taken, or that there are MaxMarks already.
func (d *Doc) AddSurface(name string) error {
	name, err := newName("surface", name, d.surfaces())
	if err != nil {
		return err
	}
	return d.text.Put(strictyaml.Path{"surfaces", name}, strictyaml.Mapping())
}

// AddDefect adds a defect on a surface of the file, with answers. The error says that its id is
// missing, too long or taken, that there is no such surface, or what is wrong with an answer.
func (d *Doc) AddDefect(id, on string, answers ...Answer) error {
	id, err := newName("defect", id, d.defects())
	if err != nil {
		return err
	}
	if surfaces := d.surfaces(); !slices.Contains(surfaces, on) {
		return fmt.Errorf("there is no surface %q in the file%s", on, strictyaml.Nearest(on, surfaces))
	}
	pairs := []strictyaml.Pair{{Key: "id", Value: strictyaml.Scalar(id)}, {Key: "on", Value: strictyaml.Scalar(on)}}
	for _, a := range answers {
		subject, name, _ := strings.Cut(a.Fact, ".")
		if subject != "defect" {
			return fmt.Errorf("%s is not about a defect", a.Fact)
		}
		f, err := asked(d.book, subject, name)
		if err != nil {
			return err
		}
		v, err := answerValue(f, a.Texts)
		if err != nil {
			return err
		}
		pairs = append(pairs, strictyaml.Pair{Key: name, Value: v})
	}
	return d.text.Append(strictyaml.Path{"defects"}, strictyaml.Mapping(pairs...))
}

// AddDefectLike adds a defect that looks like another: what was seen and felt of that one holds
// for it too. What was measured or tested on one mark says nothing of the next, and is left to be
// asked.
func (d *Doc) AddDefectLike(like, id, on string) error {
	i := slices.Index(d.defects(), like)
	if i < 0 || like == "" {
		return fmt.Errorf("there is no defect %q in the file%s", like, strictyaml.Nearest(like, d.defects()))
	}
	v, _ := d.text.At(strictyaml.Path{"defects", i})
	var answers []Answer
	for _, k := range v.Map().Keys() {
		name, _ := k.Scalar()
		f, err := asked(d.book, "defect", name)
		if err != nil || !shared(f) {
			continue
		}
		texts := d.texts(strictyaml.Path{"defects", i, name})
		if _, _, err := f.ReadAnswer(texts...); err == nil {
			answers = append(answers, Answer{f.ID, texts})
		}
	}
	return d.AddDefect(id, on, answers...)
}

// shared reports whether an answer holds for marks that look alike.
func shared(f *rules.Fact) bool {
	return f.Kind != condition.Quantity && (f.Effort == "look" || f.Effort == "touch")
}

// AddPhoto adds a photograph of a thing: subject is piece, surface or defect, and of is as in Understood.
// The error says that there is no such thing, or that it has MaxPhotos already.
func (d *Doc) AddPhoto(subject, of, name string) error {
	var at strictyaml.Path
	switch subject {
	case "piece":
		at = strictyaml.Path{"piece"}
	case "surface":
		at = strictyaml.Path{"surfaces", of}
		if surfaces := d.surfaces(); !slices.Contains(surfaces, of) {
			return fmt.Errorf("there is no surface %q in the file%s", of, strictyaml.Nearest(of, surfaces))
		}
	case "defect":
		i := slices.Index(d.defects(), of)
		if i < 0 || of == "" {
			return fmt.Errorf("there is no defect %q in the file%s", of, strictyaml.Nearest(of, d.defects()))
		}
		at = strictyaml.Path{"defects", i}
	default:
		return fmt.Errorf("nobody keeps photographs of %q; expected piece, surface or defect", subject)
	}
	list := append(at, "photos")
	if n := len(d.texts(list)); n >= MaxPhotos {
		return fmt.Errorf("there are %d photographs of it already, and no more are kept", n)
	}
	return d.text.Append(list, strictyaml.Scalar(name))
}

func newName(what, name string, taken []string) (string, error) {
	name = strings.TrimSpace(name)
	switch n := utf8.RuneCountInString(name); {
	case n == 0:
		return "", fmt.Errorf("a %s needs a name", what)
	case n > MaxName:
		return "", fmt.Errorf("read a name of %d characters for a %s; at most %d are written", n, what, MaxName)
	case slices.Contains(taken, name):
		return "", fmt.Errorf("there is a %s %q already; choose another name", what, name)
	case len(taken) >= MaxMarks:
		return "", fmt.Errorf("the file has %d of its kind already, and no more are read; begin another file for the %s %q", len(taken), what, name)
	}
	return name, nil
}

// surfaces are the names of the surfaces in the file, in its order.
func (d *Doc) surfaces() []string {
	var out []string
	if v, ok := d.text.At(strictyaml.Path{"surfaces"}); ok {
		for _, k := range v.Map().Keys() {
			name, _ := k.Scalar()
			out = append(out, name)
		}
	}
	return out
}

// defects are the ids of the defects in the file by their places; "" where one has none.
func (d *Doc) defects() []string {
	v, ok := d.text.At(strictyaml.Path{"defects"})
	if !ok || !v.IsList() {
		return nil
	}
	out := make([]string, len(v.List()))
	for i := range out {
		if id, ok := d.text.At(strictyaml.Path{"defects", i, "id"}); ok {
			out[i], _ = id.Scalar()
		}
	}
	return out
}
