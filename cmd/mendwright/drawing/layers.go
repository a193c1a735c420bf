package drawing

import (
	"cmp"
	"slices"
	"strings"

	"mendwright/engine"
	"mendwright/rules/interval"
)

// Layers is a surface in section, with what a cut would take of it. All lengths are in mm; nil and
// 0 mean that it is not known, or not there.
type Layers struct {
	Name string // what the surface is called, such as "Top"
	Kind string // what it is made of: an answer of surface.layer
	// Layer is the thickness of what may be sanded: of the leaf with its finish, or of the board.
	Layer *interval.Range
	// Usual is what such a layer usually measures. It is told, never drawn.
	Usual *interval.Range
	// Film is the finish on top. FilmOpen says that there may be some that nobody measured.
	Film     *interval.Range
	FilmOpen bool
	Mark     *interval.Range // depth of the mark below the face
	Take     *interval.Range // what the cut takes
	Keep     float64         // what must stay above the core, or of a board
	Tips     *interval.Range // wood from the face down to the tips of screws
}

// FromSanding takes over what a sanding check knows. What the surface is called and made of, the
// check does not say; the caller sets Name and Kind.
func FromSanding(s *engine.Sanding) Layers {
	l := Layers{Layer: s.ThicknessMM, Usual: s.Estimate, Film: s.FilmMM, Mark: s.MarkMM, Take: s.TakeMM, Keep: s.KeepMM}
	l.FilmOpen = s.FilmMM == nil && slices.ContainsFunc(s.Missing, func(id string) bool {
		return id == "film" || strings.HasSuffix(id, ".film_mm")
	})
	if s.Cover != nil && s.TakeMM != nil && s.Cover.Hi > 0 {
		tips := s.Cover.Add(interval.Range{Lo: s.TakeMM.Hi, Hi: s.TakeMM.Lo})
		l.Tips = &tips
	}
	return l
}

// The place of things on a section, in units.
const (
	layersW  = 440.0
	axisX    = 54.0  // left edge of the section, right of the scale
	markX    = 110.0 // the mark is drawn from here
	afterX   = 172.0 // and from here the surface after the cut
	endX     = 238.0
	labelX   = 258.0
	faceY    = 34.0  // the face as it is
	scaledH  = 236.0 // height of what is drawn to scale
	stubH    = 70.0  // height of what is drawn below a break
	tightest = 6.0   // how often the cut goes into the section before it is broken off
)

// section is a Layers made sense of, and its scale.
type section struct {
	Layers
	thin   bool    // a layer on a core
	perMM  float64 // units to the mm of depth; 0 if there is nothing to go by
	shown  float64 // depth drawn to scale, mm
	broken bool    // the rest stands below a break
	open   bool    // nobody knows how thick the layer is
	foot   float64 // where the drawing ends below, in units
}

// y is the place of a depth.
func (s *section) y(mm float64) float64 { return faceY + mm*s.perMM }

// usable drops a range that makes no sense and cuts it at nothing.
func usable(r *interval.Range) *interval.Range {
	if r == nil || !r.Valid() || r.Hi < 0 || r.Hi > 1e4 {
		return nil
	}
	return &interval.Range{Lo: max(r.Lo, 0), Hi: r.Hi}
}

// some is usable, and nil also for exactly nothing.
func some(r *interval.Range) *interval.Range {
	if r = usable(r); r != nil && r.Hi == 0 {
		return nil
	}
	return r
}

func plan(l Layers) *section {
	l.Layer, l.Film, l.Mark, l.Take, l.Tips, l.Usual = some(l.Layer), some(l.Film), some(l.Mark), some(l.Take), some(l.Tips), some(l.Usual)
	if !(l.Keep > 0 && l.Keep < 1e4) {
		l.Keep = 0
	}
	l.FilmOpen = l.FilmOpen && l.Film == nil
	s := &section{Layers: l, open: l.Layer == nil}
	s.thin = l.Kind != "solid" && l.Kind != "fibreboard" && l.Kind != "metal"
	deep := 0.0
	for _, r := range []*interval.Range{l.Film, l.Mark, l.Take} {
		if r != nil {
			deep = max(deep, r.Hi)
		}
	}
	switch {
	case s.open && deep == 0:
		s.shown = 1
		return s
	case s.open:
		s.shown = 1.6 * deep
	default:
		full := l.Layer.Hi
		if s.thin {
			full *= 1.2
		}
		s.shown = max(full, 1.15*deep)
		if deep > 0 && full > tightest*deep {
			s.broken = true
			s.shown = 2 * deep
			for _, line := range []float64{l.Layer.Lo - l.Keep, tipsLo(l.Tips)} {
				if line > 0 && line < 3*deep {
					s.shown = max(s.shown, 1.2*line)
				}
			}
		}
	}
	s.perMM = scaledH / s.shown
	return s
}

func tipsLo(r *interval.Range) float64 {
	if r == nil {
		return 0
	}
	return r.Lo
}

// Draw draws the surface in section, its depth to scale beside a rule in mm, its length not.
// Prefix begins the ids of the drawing.
func (l Layers) Draw(prefix string) Drawing {
	l.Name = clean(l.Name, maxLabel)
	s := plan(l)
	s.foot = faceY + scaledH
	if s.broken {
		s.foot += stubH
	}
	c := newCanvas(prefix, layersW, s.foot+40)
	s.material(c)
	s.face(c)
	s.lines(c)
	s.captions(c)
	notes := s.notes()
	place(notes, faceY-14, s.foot+12)
	for _, n := range notes {
		c.stroke(0.7, polyline(endX+3, n.at, labelX-10, n.mid(), labelX-4, n.mid()))
		for i, line := range n.lines {
			c.words("start", labelX, n.top+lead*float64(i)+em*0.85, line)
		}
	}
	return c.done(s.title(), s.text())
}

// note is a label at the right of a section, and the height that it points at.
type note struct {
	at, top float64
	lines   []string
}

func (n note) high() float64 { return lead * float64(len(n.lines)) }
func (n note) mid() float64  { return n.top + n.high()/2 }

// place sets the tops of the notes, in order of what they point at, so that none covers another;
// they start at top and, if there is room, end at foot.
func place(notes []note, top, foot float64) {
	const gap = 5
	slices.SortStableFunc(notes, func(a, b note) int { return cmp.Compare(a.at, b.at) })
	for i := range notes {
		notes[i].top = max(notes[i].at-notes[i].high()/2, top)
		top = notes[i].top + notes[i].high() + gap
	}
	for i := len(notes) - 1; i >= 0; i-- {
		notes[i].top = min(notes[i].top, foot-notes[i].high())
		foot = notes[i].top - gap
	}
}
