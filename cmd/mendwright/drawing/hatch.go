package drawing

import (
	"math"
	"strings"
)

// Hatches tell materials apart without colour. Each fills the rectangle x, y, w, h and is clipped
// by whoever calls it.

// hatch draws the hatch of a material by its answer to surface.layer; "core" is what lies under a
// leaf, "finish" the film on top; "ends" are fibres cut across, "along" fibres that lie
// in the plane, "skin" something printed or moulded, "none" is left white; "" is wood of which nothing is known.
func (c *canvas) hatch(kind string, x, y, w, h float64) {
	if w <= 0 || h <= 0 {
		return
	}
	switch kind {
	case "finish":
		c.dots(x, y, w, h, 4.5, 0.75)
	case "veneer":
		c.rows(x, y, w, h, 5)
	case "plywood", "plies":
		c.plies(x, y, w, h)
	case "solid":
		c.rings(x, y, w, h)
	case "laminate", "foil":
		c.slant(x, y, w, h, 3.5, fine)
	case "fibreboard":
		c.flecks(x, y, w, h)
	case "ends":
		c.dots(x, y, w, h, 5, 0.8)
	case "along":
		c.rows(x, y, w, h, 4)
	case "skin":
		c.tint(rect(x, y, w, h), 0.85)
	case "core":
		c.slant(x, y, w, h, 11, 0.8)
	case "maybe":
		c.cross(x, y, w, h, 6)
	case "none":
	default:
		c.rows(x, y, w, h, 12)
	}
}

// dots are those of a finish, every other row moved by half.
func (c *canvas) dots(x, y, w, h, step, r float64) {
	var b strings.Builder
	odd := false
	for v := y + step*0.55; v < y+h; v += step * 0.8 {
		at := x + step/2
		if odd {
			at += step / 2
		}
		for u := at; u < x+w; u += step {
			b.WriteString("M" + num(u) + " " + num(v) + "h.01")
		}
		odd = !odd
	}
	if b.Len() > 0 { // the round ends of a stroke of next to no length
		c.stroke(2*r, b.String())
	}
}

// rows are the fine lines of a leaf of wood seen along its edge.
func (c *canvas) rows(x, y, w, h, step float64) {
	var b strings.Builder
	for v := y + step*0.6; v < y+h; v += step {
		b.WriteString(segment(x, v, x+w, v))
	}
	c.stroke(0.7, b.String())
}

// plies are crossed layers: lines along, dots for the ends of fibres, in turn.
func (c *canvas) plies(x, y, w, h float64) {
	ply := 16.0
	n := max(int(h/ply), 1)
	ply = h / float64(n)
	for i := range n {
		top := y + float64(i)*ply
		if i%2 == 0 {
			c.rows(x, top, w, ply, 4)
		} else {
			c.dots(x, top, w, ply, 7, 0.8)
		}
		if i > 0 {
			c.stroke(fine, segment(x, top, x+w, top))
		}
	}
}

// rings are the growth rings of a board seen at its end.
func (c *canvas) rings(x, y, w, h float64) {
	var b strings.Builder
	step := 9.0
	for v := y - w*0.25; v < y+h+w*0.25; v += step {
		b.WriteString("M" + num(x) + " " + num(v+w*0.16) + "Q" + num(x+w*0.45) + " " + num(v-w*0.16) + " " + num(x+w) + " " + num(v+w*0.1))
	}
	c.stroke(0.8, b.String())
}

// slant are lines falling to the left.
func (c *canvas) slant(x, y, w, h, step, width float64) {
	var b strings.Builder
	for u := x + step/2; u < x+w+h; u += step {
		// From the top or the right edge down to the bottom or the left edge.
		x1, y1 := u, y
		if u > x+w {
			x1, y1 = x+w, y+(u-x-w)
		}
		x2, y2 := u-h, y+h
		if x2 < x {
			x2, y2 = x, y+(u-x)
		}
		b.WriteString(segment(x1, y1, x2, y2))
	}
	c.stroke(width, b.String())
}

// cross are lines both ways.
func (c *canvas) cross(x, y, w, h, step float64) {
	var b strings.Builder
	for u := x + step/2; u < x+w+h; u += step {
		x1, y1, x2, y2 := u, y, u-h, y+h
		if u > x+w {
			x1, y1 = x+w, y+(u-x-w)
		}
		if x2 < x {
			x2, y2 = x, y+(u-x)
		}
		b.WriteString(segment(x1, y1, x2, y2))
		mirror := 2*x + w
		b.WriteString(segment(mirror-x1, y1, mirror-x2, y2))
	}
	c.stroke(0.8, b.String())
}

// flecks are the chips and fibres of a made board, strewn the same way every time.
func (c *canvas) flecks(x, y, w, h float64) {
	var b strings.Builder
	i := 0
	for v := y + 3; v < y+h-1; v += 6 {
		for u := x + 4; u < x+w-2; u += 10 {
			i++
			a := float64(i*i%17) / 17 * math.Pi
			du, dv := 3*math.Cos(a), 2*math.Sin(a)
			b.WriteString(segment(u-du+float64(i*5%7)-3, v-dv, u+du+float64(i*5%7)-3, v+dv))
		}
	}
	c.stroke(0.9, b.String())
}

// zigzag is the line along which something is broken off in a drawing, from x1 to x2 at y.
func zigzag(x1, x2, y float64) string {
	xy := []float64{x1, y}
	w := (x2 - x1) / 2
	for i := range 2 {
		m := x1 + w*(float64(i)+0.5)
		xy = append(xy, m-6, y, m-2, y-7, m+2, y+7, m+6, y)
	}
	return polyline(append(xy, x2, y)...)
}

// wave is a torn edge from x1 to x2 at y: what lies there is not known.
func wave(x1, x2, y float64) string {
	var b strings.Builder
	b.WriteString("M" + num(x1) + " " + num(y))
	n := max(int((x2-x1)/14), 1)
	step := (x2 - x1) / float64(n)
	for i := range n {
		b.WriteString("q" + num(step/2) + " " + num(map[bool]float64{true: -7, false: 7}[i%2 == 0]) + " " + num(step) + " 0")
	}
	return b.String()
}
