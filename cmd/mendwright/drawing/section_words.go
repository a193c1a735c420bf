package drawing

import (
	"strings"

	"mendwright/rules/interval"
)

// materials says what a surface is made of, for a sentence; layerWords is what a label calls it.
var materials = map[string]string{
	"solid": "solid wood", "veneer": "veneer", "plywood": "plywood", "laminate": "plastic laminate",
	"foil": "printed foil", "fibreboard": "fibreboard or chipboard", "metal": "metal",
}

var layerWords = map[string]string{
	"solid": "board", "veneer": "veneer", "plywood": "face ply", "laminate": "laminate",
	"foil": "foil", "fibreboard": "board", "metal": "metal",
}

func (s *section) layerWord() string {
	if w, ok := layerWords[s.Kind]; ok {
		return w
	}
	return "layer"
}

// under is what lies beneath the layer.
func (s *section) under() string {
	switch {
	case s.Kind == "plywood":
		return "next ply"
	case s.thin:
		return "core"
	}
	return "underside"
}

// thickness is what is known of the layer.
func (s *section) thickness() string {
	if s.open {
		return s.layerWord() + ": not measured"
	}
	return s.layerWord() + " " + mm(*s.Layer)
}

// notes are the labels of a section.
func (s *section) notes() []note {
	var out []note
	add := func(y float64, text string) {
		out = append(out, note{at: y, lines: wrap(text, em, layersW-labelX-2, 3)})
	}
	film, least, most := s.edges()
	switch {
	case s.Film != nil:
		add((faceY+film)/2, "finish "+mm(*s.Film))
	case s.FilmOpen:
		add((faceY+film)/2, "finish: not measured")
	}
	if s.Mark != nil {
		add(min(s.y(s.Mark.Hi), s.foot), "mark "+mm(*s.Mark)+" deep")
	}
	if s.Take != nil {
		lo, hi := s.y(s.Take.Lo), min(s.y(s.Take.Hi), s.foot)
		add((lo+hi)/2, "cut takes "+mm(*s.Take))
	}
	if left := s.left(); left != nil && left.Hi > 0 {
		add((min(s.y(s.Take.Hi), least)+least)/2, "leaves "+mm(interval.Range{Lo: max(left.Lo, 0), Hi: left.Hi}))
	}
	if y, ok := s.keepY(); ok {
		add(y, "keep line, "+mm(interval.Exact(s.Keep))+" above the "+s.under())
	} else if s.Keep > 0 {
		add(least-10, "keep line "+mm(interval.Exact(s.Keep))+" above the "+s.under()+": place not known")
	}
	if s.Tips != nil && !s.thin {
		add(s.foot-8, "screw tips "+mm(*s.Tips)+" below the face")
	}
	add((least+most)/2, s.thickness())
	if s.thin && s.foot-most > 12 {
		add((most+s.foot)/2+4, s.under())
	}
	return out
}

func (s *section) title() string {
	what := "a surface"
	if s.Name != "" {
		what = s.Name
	}
	return "Section through " + what
}

// text says in words what the section shows.
func (s *section) text() string {
	var b strings.Builder
	say := func(parts ...string) {
		for _, p := range parts {
			b.WriteString(p)
		}
		b.WriteString(" ")
	}
	what := "A surface"
	if s.Name != "" {
		what = s.Name
	}
	if m, ok := materials[s.Kind]; ok {
		what += ", " + m
	}
	say(what, ", in section.")
	switch {
	case s.open && s.Usual != nil:
		say("How thick the ", s.layerWord(), " is was not measured; such a one is usually ", mm(*s.Usual), ", but only a measurement counts.")
	case s.open:
		say("How thick the ", s.layerWord(), " is was not measured.")
	default:
		say("The ", s.layerWord(), " is ", mm(*s.Layer), " thick.")
	}
	switch {
	case s.Film != nil:
		say("The finish on it is ", mm(*s.Film), ".")
	case s.FilmOpen:
		say("The finish on it was not measured.")
	}
	if s.Mark != nil {
		say("The mark is ", mm(*s.Mark), " deep.")
	}
	left := s.left()
	switch {
	case s.Take == nil:
	case left == nil:
		say("The cut takes ", mm(*s.Take), "; what it leaves is not known.")
	case left.Hi <= 0:
		say("The cut takes ", mm(*s.Take), " and leaves nothing of the ", s.layerWord(), ".")
	default:
		say("The cut takes ", mm(*s.Take), ", leaves ", mm(interval.Range{Lo: max(left.Lo, 0), Hi: left.Hi}), ".")
	}
	if s.Keep > 0 {
		keep := "Keep line at " + mm(interval.Exact(s.Keep)) + " above the " + s.under()
		switch {
		case s.open:
			say(keep, "; where that lies is not known.")
		case left == nil || left.Lo >= s.Keep:
			say(keep, ".")
		case left.Hi < s.Keep:
			say(keep, "; the cut ends below it.")
		default:
			say(keep, "; the deepest cut ends below it.")
		}
	}
	if s.Tips != nil && !s.thin {
		say("Tips of screws come to within ", mm(*s.Tips), " of the face.")
	}
	switch {
	case s.broken:
		say("Depth is drawn to scale down to the break, length is not.")
	case s.perMM > 0:
		say("Depth is drawn to scale, length is not.")
	default:
		say("Not to scale.")
	}
	return strings.TrimSpace(b.String())
}
