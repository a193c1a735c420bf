package drawing

import (
	"math"
	"strings"
)

// insectPictures show holes and what comes out of them.
var insectPictures = []picture{
	{"frass-fresh", "Fresh dust", "Pale clean dust lies in a little heap under the hole, and the rim of the hole is sharp and pale: something may be at work.",
		[]string{"conservation-of-furniture", "practice"}, "pale heap of dust", func(c *canvas) {
			c.holed(false)
			c.heap(func(x, y float64) string { return circle(x, y, 0.9) }, 3.4)
		}},
	{"frass-old", "Old hole", "No dust comes; the rim is rounded, and dirt, polish or paint has gone into the hole.",
		[]string{"conservation-of-furniture", "practice"}, "dirty, no dust", func(c *canvas) { c.holed(true) }},
	{"hole-tool", "Hole of a tool", "One straight clean hole, alone or in a row, of a nail, a screw or a drill.",
		[]string{"conservation-of-furniture"}, "straight and clean", func(c *canvas) {
			c.timber(func(x float64) float64 { return map[bool]float64{true: 32}[x >= 75 && x <= 85] }, flat)
			c.stroke(bold, polyline(76, 30, 76, 12, 70, 12, 70, 7, 90, 7, 90, 12, 84, 12, 84, 30, 80, 36, 76, 30))
		}},
	{"hole-borer", "Holes of wood-boring insects", "Round or oval holes of one size, scattered, with tunnels behind them that wind through the wood.",
		[]string{"conservation-of-furniture"}, "winding tunnels", func(c *canvas) {
			c.timber(flat, flat)
			for _, d := range []string{"M34 46C36 60 22 64 30 76", "M70 46C66 58 84 62 74 80", "M96 46C98 56 112 58 120 70C124 78 110 82 104 78", "M134 46C130 56 140 64 132 72"} {
				c.stroke(6, d)
			}
		}},
	{"bed-bugs", "Bed bugs", "Flat brown oval insects of a few millimetres, dark specks and cast skins, in joints and screw holes.",
		[]string{"bed-bug-guide", "conservation-of-furniture"}, "flat, with specks", func(c *canvas) {
			c.stroke(bold, segment(near, 16, far, 16)+segment(near, 22, far, 22))
			c.bug(62, 58, 1.1)
			c.bug(122, 70, 0.6)
			d := ""
			for _, p := range [][2]float64{{18, 34}, {26, 40}, {24, 30}, {98, 34}, {106, 40}, {112, 32}, {140, 44}, {146, 36}, {22, 74}} {
				d += circle(p[0], p[1], 2)
			}
			c.solid(d, ink)
		}},
	{"dust-gritty", "Gritty dust", "Between the fingers like fine sugar; under a lens little lemon-shaped pellets.",
		[]string{"powder-post-bulletin"}, "lemon-shaped", func(c *canvas) {
			c.lens(func() {
				for _, p := range grains {
					c.turned(p[0], p[1], p[2], func() { c.stroke(1.5, "M-10 0Q0 -9 10 0Q0 9 -10 0z") })
				}
			})
		}},
	{"dust-flour", "Dust like flour", "As fine as flour or talc; under a lens still a powder.",
		[]string{"powder-post-bulletin"}, "fine as flour", func(c *canvas) {
			c.lens(func() { c.dots(36, 4, 92, 90, 4.2, 0.8) })
		}},
	{"dust-pellets", "Hard grains", "Hard six-sided grains of about 1 mm, like sand, often in heaps.",
		[]string{"powder-post-bulletin"}, "six-sided, 1 mm", func(c *canvas) {
			c.lens(func() {
				for _, p := range grains {
					c.turned(p[0], p[1], p[2], func() {
						c.stroke(1.6, polygon(-11, 0, -8, -6, 8, -6, 11, 0, 8, 6, -8, 6)+segment(-10, -1.5, 10, -1.5)+segment(-9, 2.5, 9, 2.5))
					})
				}
			})
		}},
}

// grains are places and turns of grains under a lens.
var grains = [][3]float64{{62, 26, 20}, {92, 24, -30}, {50, 50, 75}, {78, 48, 5}, {106, 46, 50}, {64, 74, -15}, {92, 72, 35}}

// lens is what a lens shows.
func (c *canvas) lens(draw func()) {
	glass := circle(80, 49, 42)
	c.clipped(glass, draw)
	c.stroke(bold, glass)
	c.stroke(5, segment(111, 80, 120, 88))
}

// holed is a rail with a hole seen from the front, an old one with a dirty rim.
func (c *canvas) holed(old bool) {
	c.clipped(rect(near, 10, far-near, 46), func() {
		var b strings.Builder
		for i := range 6 {
			b.WriteString(curve(14+8*float64(i), func(x float64) float64 { return 1.5 * math.Sin(x*0.05+float64(i)) }, near, far))
		}
		c.outside(circle(80, 33, 13), func() { c.stroke(0.6, b.String()) })
	})
	c.stroke(bold, rect(near, 10, far-near, 46))
	c.stroke(fine, segment(near, 92, far, 92))
	if !old {
		c.solid(circle(80, 33, 8), ink)
		c.stroke(1, circle(80, 33, 10.5))
		return
	}
	c.tint(blob(80, 33, 13, 12, 5, 0.1), 0.35)
	c.tint(circle(80, 33, 8), 0.6)
	c.stroke(1.2, blob(80, 33, 9, 8, 4, 0.1))
	c.stroke(1.4, "M74 30l6 5M80 28l5 6M76 37l7 -2")
}

// heap is a heap of dust below a hole, of grains that grain draws.
func (c *canvas) heap(grain func(x, y float64) string, step float64) {
	var b strings.Builder
	row := 0
	for y := 90.0; y > 66; y -= step * 0.8 {
		half := (y - 62) * 1.5
		for x := 80 - half + step*0.5*float64(row%2); x <= 80+half; x += step {
			b.WriteString(grain(x, y))
		}
		row++
	}
	for _, p := range [][2]float64{{79, 46}, {82, 54}, {78, 61}} { // trickling
		b.WriteString(grain(p[0], p[1]))
	}
	c.solid(b.String(), ink)
}

// bug is a flat insect with rings across its back.
func (c *canvas) bug(x, y, k float64) {
	c.turned(x, y, 0, func() {
		c.tint(ellipse(4*k, 0, 22*k, 17*k), 0.25)
		c.stroke(bold, ellipse(4*k, 0, 22*k, 17*k)+ellipse(-22*k, 0, 6*k, 6*k))
		c.stroke(1.2, segment(-8*k, -14*k, -8*k, 14*k)+segment(2*k, -17*k, 2*k, 17*k)+segment(12*k, -15*k, 12*k, 15*k))
		d := ""
		for _, u := range []float64{-12, -2, 8} {
			d += polyline(u*k, 14*k, (u-4)*k, 24*k) + polyline(u*k, -14*k, (u-4)*k, -24*k)
		}
		c.stroke(1.4, d+polyline(-27*k, -3*k, -36*k, -8*k)+polyline(-27*k, 3*k, -36*k, 8*k))
	})
}
