package drawing

import (
	"fmt"
	"math"

	"mendwright/rules/interval"
	"mendwright/rules/quantity"
)

// The two lines of a break, in units.
const (
	breakY = faceY + scaledH
	breakH = 10.0
)

// filmOpenH is how high a finish of unknown thickness is drawn, in units.
const filmOpenH = 14.0

// edges are the heights between what lies on what: the end of the film, the least and the most
// depth of the layer.
func (s *section) edges() (film, least, most float64) {
	film = faceY
	switch {
	case s.Film != nil:
		film = s.y(s.Film.Hi)
	case s.FilmOpen:
		film = faceY + filmOpenH
	}
	switch {
	case s.open && s.thin:
		least = faceY + scaledH - 34
		most = least
	case s.open:
		least, most = s.foot, s.foot
	case s.broken && s.thin:
		least, most = s.foot-22, s.foot-22
	case s.broken:
		least, most = s.foot, s.foot
	default:
		least, most = s.y(s.Layer.Lo), s.y(s.Layer.Hi)
	}
	return min(film, least), least, most
}

// keepY is the height of the keep line, reckoned from the thinnest that the layer may be. ok is
// false where nobody can say where it lies.
func (s *section) keepY() (y float64, ok bool) {
	if s.Keep == 0 || s.open {
		return 0, false
	}
	depth := max(s.Layer.Lo-s.Keep, 0)
	if y := s.y(depth); !s.broken || y < breakY-8 {
		return y, true
	}
	_, least, _ := s.edges()
	return least - 18, true
}

// outline is the edge of what is there: the face, the mark in it, and the step down to depth, the
// height of the surface after the cut.
func (s *section) outline(depth float64) string {
	d := s.profile(depth)
	return d + "L" + num(endX) + " " + num(s.foot) + "L" + num(axisX) + " " + num(s.foot) + "z"
}

// profile is the upper edge alone.
func (s *section) profile(depth float64) string {
	d := "M" + num(axisX) + " " + num(faceY)
	if s.Mark != nil {
		a, b, y := markX+6, afterX-8, s.y(s.Mark.Hi)
		m := (a + b) / 2
		d += fmt.Sprintf("L%s %sC%s %s %s %s %s %sC%s %s %s %s %s %s", num(a), num(faceY),
			num(a+10), num(faceY), num(m-8), num(y), num(m), num(y),
			num(m+8), num(y), num(b-10), num(faceY), num(b), num(faceY))
	}
	d += "L" + num(afterX) + " " + num(faceY)
	if s.Take != nil {
		d += "L" + num(afterX) + " " + num(depth)
		return d + "L" + num(endX) + " " + num(depth)
	}
	return d + "L" + num(endX) + " " + num(faceY)
}

// material hatches what the section goes through.
func (s *section) material(c *canvas) {
	film, least, most := s.edges()
	cut := faceY
	if s.Take != nil {
		cut = min(s.y(s.Take.Hi), s.foot)
	}
	w := endX - axisX
	leaf, core := s.Kind, "core"
	if s.Kind == "plywood" { // one ply is a leaf like another
		leaf, core = "veneer", "plies"
	}
	there := s.outline(cut)
	if s.broken {
		there = s.profile(cut) + "L" + num(endX) + " " + num(breakY) + "L" + num(axisX) + " " + num(breakY) + "z" +
			rect(axisX, breakY+breakH, w, s.foot-breakY-breakH)
	}
	c.clipped(there, func() {
		c.hatch("finish", axisX, faceY, w, film-faceY)
		c.hatch(leaf, axisX, film, w, least-film)
		if s.thin {
			c.hatch(core, axisX, most, w, s.foot-most)
		}
	})
	if s.Take == nil {
		return
	}
	if lo := s.y(s.Take.Lo); cut > lo { // what goes with a hard cut and stays with a mild one
		band := rect(afterX, lo, endX-afterX, cut-lo)
		c.clipped(band, func() { c.hatch("maybe", afterX, lo, endX-afterX, cut-lo) })
	}
}

// face draws the edges of the section.
func (s *section) face(c *canvas) {
	film, least, most := s.edges()
	depth := faceY
	if s.Take != nil {
		depth = min(s.y(s.Take.Lo), s.foot)
		// Where the face was, and a hand's breadth of the film that is gone.
		c.stroke(fine, segment(afterX, faceY, endX, faceY), "stroke-dasharray", "2 4")
	}
	c.stroke(bold, s.profile(depth))
	right := endX
	if s.Take != nil && film < s.y(s.Take.Hi) {
		right = afterX
	}
	switch {
	case s.FilmOpen:
		c.stroke(fine, wave(axisX, right, film))
	case s.Film != nil:
		c.stroke(fine, segment(axisX, film, right, film))
	}
	if s.thin {
		right = endX
		if s.Take != nil && least < s.y(s.Take.Hi) {
			right = afterX
		}
		if s.open {
			c.stroke(1.4, wave(axisX, endX, least))
		} else {
			c.stroke(bold, segment(axisX, least, right, least))
			if most > least+1 {
				c.stroke(fine, segment(axisX, most, endX, most), "stroke-dasharray", "5 4")
			}
		}
	}
	c.stroke(fine, segment(axisX, faceY, axisX, s.foot)+segment(endX, depth, endX, s.foot))
	switch {
	case s.thin: // the core goes on below
	case s.open:
		c.stroke(1.4, wave(axisX, endX, s.foot))
	default:
		c.stroke(bold, segment(axisX, least, endX, least))
		if most > least+1 {
			c.stroke(fine, segment(axisX, most, endX, most), "stroke-dasharray", "5 4")
		}
	}
	if s.broken {
		c.stroke(1.4, zigzag(axisX-5, endX+5, breakY)+zigzag(axisX-5, endX+5, breakY+breakH))
	}
}

// lines draws the cut, the keep line and the screws over the section.
func (s *section) lines(c *canvas) {
	if s.Take != nil {
		lo, hi := s.y(s.Take.Lo), min(s.y(s.Take.Hi), s.foot)
		c.stroke(1.4, segment(axisX, lo, afterX, lo), "stroke", point, "stroke-dasharray", "5 4")
		if hi > lo+1 {
			c.stroke(1.4, segment(axisX, hi, endX, hi), "stroke", point, "stroke-dasharray", "5 4")
		}
		if x := (afterX + endX) / 2; lo > faceY+22 {
			c.stroke(1.4, segment(x, faceY+5, x, lo-5), "stroke", point)
			c.solid(polygon(x-5, lo-12, x+5, lo-12, x, lo-3), point)
		}
	}
	if y, ok := s.keepY(); ok {
		c.stroke(2.6, segment(axisX-3, y, endX+3, y), "stroke-dasharray", "12 5 1 5")
	}
	if s.Tips != nil && !s.thin {
		tip := s.foot - 42
		if y := s.y(s.Tips.Lo); !s.broken || y < breakY-8 {
			tip = min(y, s.foot-12)
		}
		s.screw(c, axisX+24, tip)
	}
}

// screw draws a screw from below with its tip at y.
func (s *section) screw(c *canvas, x, y float64) {
	c.stroke(1.4, polyline(x-5, s.foot, x-5, y+12, x, y, x+5, y+12, x+5, s.foot))
	d := ""
	for v := y + 14; v < s.foot-2; v += 6 {
		d += segment(x-8, v+3, x+8, v-1)
	}
	c.stroke(1.2, d)
}

// captions writes the rule in mm on the left and what each third shows.
func (s *section) captions(c *canvas) {
	third := func(from, to float64, word string) { c.words("middle", (from+to)/2, faceY-9, word) }
	third(axisX, markX, "now")
	if s.Mark != nil {
		third(markX, afterX, "mark")
	}
	if s.Take != nil {
		third(afterX, endX, "after")
	}
	foot := "Nothing measured: not to scale."
	switch {
	case s.broken:
		foot = "Depth to scale down to the break, length not."
	case s.perMM > 0:
		foot = "Depth to scale, length not to scale."
	}
	c.words("start", 4, s.foot+32, foot)
	if s.perMM == 0 {
		return
	}
	c.words("start", 4, faceY-9, "mm")
	step := niceStep(s.shown / 5)
	x, last := axisX-7, 0.0
	d := ""
	for i := 0; float64(i)*step <= s.shown+1e-9; i++ {
		mm := float64(i) * step
		last = s.y(mm)
		d += segment(x-4, last, x, last)
		c.words("end", x-7, last+em*0.35, quantity.Number(mm, 3))
	}
	c.stroke(fine, d+segment(x, faceY, x, last))
}

// niceStep is the next of 1, 2 and 5 times a power of ten that is not below v.
func niceStep(v float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{1, 2, 5} {
		if m*p >= v*(1-1e-9) {
			return m * p
		}
	}
	return 10 * p
}

// left is what a cut leaves of the layer.
func (s *section) left() *interval.Range {
	if s.Layer == nil || s.Take == nil {
		return nil
	}
	r := s.Layer.Sub(*s.Take)
	return &r
}
