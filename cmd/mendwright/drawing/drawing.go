// Package drawing draws what people would rather see than read: a surface in section with a cut in
// it, the days of a plan, a harm in the risk matrix, and marks that look alike. Every drawing is
// an SVG of lines in the colour of the text around it, so it prints in black and turns with a dark
// page; hatching and words carry the meaning, and everything it shows stands in its text too.
//
// A page may set variables of style: --drawing-ink, the colour of the lines, and --drawing-mark, the
// colour of what a drawing points at; without them both are the colour of the text. Pictures of
// marks are ink on paper on every page, since a black ring must stay black: --picture-ink is black
// and --picture-paper white unless the page says otherwise. A drawing has no size of its own: it
// takes the width that it is given.
package drawing

import (
	"fmt"
	"hash/fnv"
	"html/template"
	"strconv"
	"strings"
)

// Drawing is one finished drawing.
type Drawing struct {
	Title string        // what it shows, in a few words
	Text  string        // the same as the drawing, in words; stands in it as its description
	SVG   template.HTML // the drawing, escaped, to stand in a page
	// WidthMM is how wide it should be printed, in mm: then its smallest words are 9 points high.
	WidthMM float64
	// Sources are what the text rests on, ids of knowledge/sources.yaml.
	Sources []string
}

// Units of a drawing: four to the millimetre of paper at the width meant, so that 13 units are
// 9 points and a line of one unit a quarter of a millimetre.
const (
	perMM = 4.0
	em    = 13.0 // height of words
	lead  = 15.0 // from one line of words to the next
	fine  = 1.0  // the thin stroke
	bold  = 2.2  // the thick one
)

// ink is the colour of lines, point that of what a drawing points at; a picture points in ink.
const (
	ink   = "currentColor"
	point = "var(--drawing-mark, currentColor)"
)

// onPage is the ink of a drawing that stands on the page, onPaper of one that brings its paper.
const (
	onPage  = "var(--drawing-ink, currentColor)"
	onPaper = "var(--picture-ink, #000)"
	paper   = "var(--picture-paper, #fff)"
)

// canvas gathers one drawing. Its zero value is not ready; see newCanvas.
type canvas struct {
	id    string
	w, h  float64
	color string // of currentColor within
	clips int
	b     strings.Builder
}

// newCanvas begins a drawing of w by h units. Prefix begins every id in it; two drawings of one
// page need two prefixes.
func newCanvas(prefix string, w, h float64) *canvas {
	return &canvas{id: safeID(prefix), w: w, h: h, color: onPage}
}

// longID is the longest prefix that is taken as it is; it stands in a drawing many times.
const longID = 60

// safeID keeps of s what may stand in an id of a page and an address of style alike, and makes
// something short of what is long.
func safeID(s string) string {
	if len(s) > longID {
		h := fnv.New64a()
		h.Write([]byte(s))
		s = fmt.Sprintf("%s-%x", s[:10], h.Sum64())
	}
	var b strings.Builder
	b.WriteString("dr-")
	for _, r := range s {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '_':
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, "_%x_", r)
		}
	}
	return b.String()
}

// num writes a length in units, to a hundredth.
func num(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// shape writes a path; attrs are pairs of names and values of this package's own making.
func (c *canvas) shape(d string, attrs ...string) {
	c.b.WriteString(`<path d="` + d + `"`)
	for i := 0; i+1 < len(attrs); i += 2 {
		c.b.WriteString(` ` + attrs[i] + `="` + attrs[i+1] + `"`)
	}
	c.b.WriteString("/>\n")
}

// stroke draws the path d with a stroke of the given width.
func (c *canvas) stroke(width float64, d string, attrs ...string) {
	c.shape(d, append([]string{"stroke-width", num(width)}, attrs...)...)
}

// solid fills the path d with a colour.
func (c *canvas) solid(d, colour string, attrs ...string) {
	c.shape(d, append([]string{"fill", colour, "stroke", "none"}, attrs...)...)
}

// tint fills the path d with a light shade of the ink.
func (c *canvas) tint(d string, opacity float64) {
	c.solid(d, ink, "fill-opacity", num(opacity))
}

// clipped draws what draw draws, but only inside the path d; an area within an area is out again.
func (c *canvas) clipped(d string, draw func()) {
	c.clips++
	id := fmt.Sprintf("%s-c%d", c.id, c.clips)
	fmt.Fprintf(&c.b, "<clipPath id=\"%s\"><path clip-rule=\"evenodd\" d=\"%s\"/></clipPath>\n<g clip-path=\"url(#%s)\">\n", id, d, id)
	draw()
	c.b.WriteString("</g>\n")
}

// done closes the drawing.
func (c *canvas) done(title, text string) Drawing {
	title, text = clean(title, maxTitle), clean(text, maxText)
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" role="img" aria-labelledby="%s-t %s-d"`, num(c.w), num(c.h), c.id, c.id)
	b.WriteString(` fill="none" stroke="currentColor" stroke-width="1" stroke-linecap="round" stroke-linejoin="round"`)
	b.WriteString(` color="` + c.color + `" font-family="sans-serif" font-size="` + num(em) + "\">\n")
	fmt.Fprintf(&b, "<title id=\"%s-t\">%s</title>\n<desc id=\"%s-d\">%s</desc>\n", c.id, escape(title), c.id, escape(text))
	b.WriteString(c.b.String())
	b.WriteString("</svg>")
	return Drawing{Title: title, Text: text, SVG: template.HTML(b.String()), WidthMM: c.w / perMM}
}

// Paths.

func rect(x, y, w, h float64) string {
	return "M" + num(x) + " " + num(y) + "h" + num(w) + "v" + num(h) + "h" + num(-w) + "z"
}

func segment(x1, y1, x2, y2 float64) string {
	return "M" + num(x1) + " " + num(y1) + "L" + num(x2) + " " + num(y2)
}

// polygon joins points given as x, y, x, y.
func polygon(xy ...float64) string { return polyline(xy...) + "z" }

func polyline(xy ...float64) string {
	var b strings.Builder
	for i := 0; i+1 < len(xy); i += 2 {
		b.WriteString(map[bool]string{true: "M", false: "L"}[i == 0] + num(xy[i]) + " " + num(xy[i+1]))
	}
	return b.String()
}

func circle(x, y, r float64) string {
	return fmt.Sprintf("M%s %sa%s %s 0 1 0 %s 0a%s %s 0 1 0 %s 0z", num(x-r), num(y), num(r), num(r), num(2*r), num(r), num(r), num(-2*r))
}

func ellipse(x, y, rx, ry float64) string {
	return fmt.Sprintf("M%s %sa%s %s 0 1 0 %s 0a%s %s 0 1 0 %s 0z", num(x-rx), num(y), num(rx), num(ry), num(2*rx), num(rx), num(ry), num(-2*rx))
}
