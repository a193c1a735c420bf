package drawing

import (
	"fmt"
	"math"
	"strings"
)

// The hand that the pictures are drawn with: a board seen from above, wood and film in section, the
// corner of a board, and a few strokes that many of them need.

// Edges of what a picture shows, in units.
const (
	near, far   = 8.0, 152.0 // left and right
	woodY       = 46.0       // level of the wood in a section
	woodFoot    = 88.0       // where the section ends below
	filmH       = 8.0        // thickness of the finish
	boardTop    = 10.0       // a board from above
	boardBottom = 88.0
)

// depth is how far a surface lies below its level at x, in units; less than nothing is above.
type depth func(x float64) float64

func flat(float64) float64 { return 0 }

// hollow is a smooth hollow of that depth and half-width around the middle x.
func hollow(middle, half, deep float64) depth {
	return func(x float64) float64 { u := (x - middle) / half; return deep * math.Exp(-u*u) }
}

// notch is a V of that depth and half-width around the middle x.
func notch(middle, half, deep float64) depth {
	return func(x float64) float64 { return max(0, deep*(1-math.Abs(x-middle)/half)) }
}

// pit is a hole with steep sides from one x to another and an uneven bottom.
func pit(from, to, deep float64) depth {
	return func(x float64) float64 {
		if x < from || x > to {
			return 0
		}
		return deep * (0.92 + 0.08*math.Sin(math.Floor(x/4)*2.7))
	}
}

// all is the sum of several.
func all(fs ...depth) depth {
	return func(x float64) float64 {
		sum := 0.0
		for _, f := range fs {
			sum += f(x)
		}
		return sum
	}
}

// curve is the line of a surface at a level, from x1 to x2.
func curve(level float64, f depth, x1, x2 float64) string {
	xy := []float64{}
	for x := x1; x < x2; x++ {
		xy = append(xy, x, level+f(x))
	}
	return polyline(append(xy, x2, level+f(x2))...)
}

// band is the area between two lines.
func band(top float64, f depth, bottom float64, g depth, x1, x2 float64) string {
	d := curve(top, f, x1, x2)
	back := ""
	for x := x2; x > x1; x-- {
		back += "L" + num(x) + " " + num(bottom+g(x))
	}
	return d + back + "L" + num(x1) + " " + num(bottom+g(x1)) + "z"
}

// timber is wood in section under a surface, its fibres along. bend moves the fibres: by how much
// at x right under the surface, less and less below.
func (c *canvas) timber(surface, bend depth) { c.timberFrom(near, far, surface, bend) }

func (c *canvas) timberFrom(x1, x2 float64, surface, bend depth) {
	c.clipped(band(woodY, surface, woodFoot, flat, x1, x2), func() {
		var b strings.Builder
		for i, v := 0, woodY+5.0; v < woodFoot-1; i, v = i+1, v+6 {
			fade := math.Pow(0.72, float64(i))
			wobble := func(x float64) float64 { return bend(x)*fade + 0.8*math.Sin(x*0.06+float64(i)*2) }
			b.WriteString(curve(v, wobble, x1, x2))
		}
		c.stroke(0.8, b.String())
	})
	c.stroke(bold, curve(woodY, surface, x1, x2))
	c.stroke(fine, segment(x1, woodY+surface(x1), x1, woodFoot)+segment(x2, woodY+surface(x2), x2, woodFoot)+segment(x1, woodFoot, x2, woodFoot))
}

// film is finish on a surface, from x1 to x2: dotted, top following over, foot following under.
func (c *canvas) film(over, under depth, x1, x2 float64) {
	c.clipped(band(woodY-filmH, over, woodY, under, x1, x2), func() { c.dots(x1, woodY-filmH-16, x2-x1, 60, 4, 0.75) })
	c.stroke(1.4, curve(woodY-filmH, over, x1, x2))
}

// board is wood seen from above with its grain; the area spare is left without any.
func (c *canvas) board(spare string) {
	inside := rect(near, boardTop, far-near, boardBottom-boardTop)
	grain := func() {
		var b strings.Builder
		for i := range 9 {
			v := boardTop + 5 + 8.8*float64(i)
			b.WriteString(curve(v, func(x float64) float64 { return 2.2 * math.Sin(x*0.035+float64(i)*0.5) }, near, far))
		}
		c.stroke(0.6, b.String(), "stroke-opacity", "0.75")
	}
	if spare == "" {
		grain()
	} else {
		c.outside(spare, grain)
	}
	c.stroke(bold, inside)
}

// plain is a surface seen from above whose grain does not matter.
func (c *canvas) plain() { c.stroke(bold, rect(near, boardTop, far-near, boardBottom-boardTop)) }

// outside draws what draw draws, but only outside the path d.
func (c *canvas) outside(d string, draw func()) { c.clipped(rect(0, 0, c.w, c.h)+d, draw) }

// turned draws what draw draws around 0, 0, moved to x, y and turned by an angle in degrees.
func (c *canvas) turned(x, y, angle float64, draw func()) {
	fmt.Fprintf(&c.b, "<g transform=\"translate(%s %s) rotate(%s)\">\n", num(x), num(y), num(angle))
	draw()
	c.b.WriteString("</g>\n")
}

// arrow is a thick arrow from one place to another.
func (c *canvas) arrow(x1, y1, x2, y2 float64) {
	l := math.Hypot(x2-x1, y2-y1)
	u, v := (x2-x1)/l, (y2-y1)/l
	c.stroke(bold, segment(x1, y1, x2-u*5, y2-v*5))
	c.solid(polygon(x2, y2, x2-u*9-v*4.5, y2-v*9+u*4.5, x2-u*9+v*4.5, y2-v*9-u*4.5), ink)
}

// blob is a round area with an uneven edge: about lobes waves of that share of its size.
func blob(x, y, rx, ry float64, lobes int, waver float64) string {
	var xy []float64
	for i := range 40 {
		a := float64(i) / 40 * 2 * math.Pi
		k := 1 + waver*(0.7*math.Sin(a*float64(lobes)+x)+0.6*math.Sin(a*float64(lobes+2)+y))
		xy = append(xy, x+rx*k*math.Cos(a), y+ry*k*math.Sin(a))
	}
	return polygon(xy...)
}

// fingertip is a finger from above right whose nail touches x, y.
func (c *canvas) fingertip(x, y float64) {
	c.turned(x, y, 34, func() {
		c.stroke(1.8, "M0 -1C12 -2 16 -10 16 -20V-44M-8 -22V-44M0 -26q6 -3 14 -1")
		c.tint("M0 0C-6 -3 -9 -10 -8 -22C-4 -22 -1 -21 2 -20C2 -12 2 -5 0 0z", 0.25)
		c.stroke(bold, "M0 0C-6 -3 -9 -10 -8 -22C-4 -22 -1 -21 2 -20C2 -12 2 -5 0 0z")
	})
}

// block is the corner of a board, its end to the front: top with grain lines that start at the
// given places of the front edge, the end in bands from the top down.
type layer struct {
	high  float64
	hatch string // as in canvas.hatch; "rings" for growth rings that run over from the top
}

// Corner of the block: the front is endX1 to endX2 and frontY to frontFoot, the back lies a step
// to the right and up.
const (
	endX1, endX2      = 10.0, 108.0
	frontY, frontFoot = 44.0, 88.0
	stepRight, stepUp = 38.0, 32.0
)

func (c *canvas) block(layers []layer, grain []float64) {
	top := polygon(endX1, frontY, endX1+stepRight, frontY-stepUp, endX2+stepRight, frontY-stepUp, endX2, frontY)
	var b strings.Builder
	for _, x := range grain {
		b.WriteString(segment(x, frontY, x+stepRight, frontY-stepUp))
	}
	c.clipped(top, func() { c.stroke(0.8, b.String()) })
	y := frontY
	for i, l := range layers {
		if i > 0 {
			c.stroke(1.4, polyline(endX1, y, endX2, y, endX2+stepRight, y-stepUp))
		}
		front := rect(endX1, y, endX2-endX1, l.high)
		c.clipped(front, func() { c.hatch(l.hatch, endX1, y, endX2-endX1, l.high) })
		side := polygon(endX2, y, endX2+stepRight, y-stepUp, endX2+stepRight, y-stepUp+l.high, endX2, y+l.high)
		c.clipped(side, func() { c.sideOf(l.hatch, y, l.high) })
		y += l.high
	}
	c.stroke(bold, rect(endX1, frontY, endX2-endX1, frontFoot-frontY)+top+
		polyline(endX2, frontFoot, endX2+stepRight, frontFoot-stepUp, endX2+stepRight, frontY-stepUp))
}

// sideOf hatches the side of a block: fibres along it, chips as on the end.
func (c *canvas) sideOf(hatch string, y, high float64) {
	switch hatch {
	case "fibreboard":
		c.flecks(endX2, y-stepUp, stepRight, high+stepUp)
	case "ends", "solid", "core", "veneer":
		step := map[bool]float64{true: 3, false: 7}[hatch == "veneer" || hatch == "ends"]
		d := ""
		for v := y + step*0.7; v < y+high; v += step {
			d += segment(endX2, v, endX2+stepRight, v-stepUp)
		}
		c.stroke(0.7, d)
	case "along":
		c.dots(endX2, y-stepUp, stepRight, high+stepUp, 5, 0.8)
	case "skin":
		c.tint(rect(endX2, y-stepUp, stepRight, high+stepUp), 0.85)
	}
}

// grainAt are places for lines of grain on a block that have nothing to do with its end.
var grainAt = []float64{-22, -12, -1, 8, 19, 27, 38, 46, 57, 66, 74, 85, 93, 102}
