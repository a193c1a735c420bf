package drawing

import (
	"math"
	"strings"
)

// finishPictures show marks and faults in the finish that look alike, mostly from above.
var finishPictures = []picture{
	{"bloom", "White ring or bloom", "White or milky and level: damp or a little heat has clouded the film. The wood below keeps its colour.",
		[]string{"white-ring", "white-ring-cause"}, "white, in the film", func(c *canvas) {
			ring := circle(80, 49, 31) + circle(80, 49, 19)
			c.board(ring)
			c.clipped(ring, func() { c.dots(40, 10, 80, 80, 4.5, 0.8) })
			c.stroke(fine, ring, "stroke-dasharray", "1 3")
		}},
	{"black-ring", "Black ring", "Black or grey-black, in the wood: water came through the film and iron and tannin have stained it. It stays dark when wet.",
		[]string{"iron-tannate"}, "black, in the wood", func(c *canvas) {
			ring := blob(80, 49, 31, 31, 5, 0.04) + blob(80, 49, 21, 21, 4, 0.06)
			c.board("")
			c.solid(ring, ink, "fill-rule", "evenodd")
			c.solid(circle(112, 68, 3)+circle(50, 72, 2), ink)
		}},
	{"heat-mark", "Heat mark", "A white patch in the shape of what stood there, soft at its rim. Heat goes deeper into the film than a wet glass.",
		[]string{"white-ring", "finish-damage"}, "white patch", func(c *canvas) {
			patch := circle(76, 49, 33)
			c.board(patch)
			c.clipped(patch, func() { c.dots(40, 10, 80, 80, 4.5, 0.8) })
			c.stroke(1.2, patch, "stroke-dasharray", "1 4")
			c.stroke(1.4, "M118 66q-6 -8 0 -16t0 -16M134 66q-6 -8 0 -16t0 -16")
		}},
	{"scorch", "Scorch", "Brown to black where something hot lay: darkest in the middle, paler at the rim.",
		[]string{"finish-damage"}, "brown, from burning", func(c *canvas) {
			c.board(blob(80, 49, 36, 27, 3, 0.05))
			c.tint(blob(80, 49, 36, 27, 3, 0.05), 0.2)
			c.tint(blob(80, 49, 26, 18, 3, 0.06), 0.35)
			c.tint(blob(80, 49, 15, 9, 3, 0.08), 0.8)
		}},
	{"wiped-off", "It comes off on the cloth", "A cloth damp with mineral spirits takes it up: it lies on the finish, not in it.",
		[]string{"finish-damage"}, "comes off", func(c *canvas) {
			smear := "M26 30C50 22 90 26 104 40C110 54 80 66 50 62C28 58 16 40 26 30z"
			c.board(smear)
			c.tint(smear, 0.3)
			c.wipe()
		}},
	{"flaking", "Flaking", "Pieces of the film have come off or lift at their edges; the place between them is bare.",
		[]string{"flaking-standard"}, "film comes off", func(c *canvas) {
			left := blob(48, 40, 27, 19, 5, 0.17)
			right := blob(112, 60, 26, 18, 6, 0.17)
			c.clipped(rect(near, boardTop, far-near, boardBottom-boardTop), func() {
				c.clipped(left+right, func() { c.rows(near, boardTop, far-near, 80, 5) })
				c.outside(left+right, func() { c.dots(near, boardTop, far-near, 80, 6, 0.7) })
			})
			c.stroke(1.6, left+right)
			for _, x := range []float64{36, 104} { // flakes that still hang on
				c.stroke(1.4, polygon(x, 44, x+12, 38, x+20, 48, x+8, 54))
				c.tint(polygon(x, 44, x+12, 38, x+20, 48, x+8, 54), 0.35)
			}
			c.plain()
		}},
	{"crazing", "Crazing", "Hair lines in all directions; the film between them lies flat and holds.",
		[]string{"paint-manual-army"}, "hair lines", func(c *canvas) {
			c.clipped(rect(near, boardTop, far-near, boardBottom-boardTop), func() { c.net(11, 0.7) })
			c.plain()
		}},
	{"crazing-squares", "A grid of straight cracks", "Straight lines across each other, with the grain and across it.",
		[]string{"paint-manual-army"}, "a grid", func(c *canvas) {
			c.clipped(rect(near, boardTop, far-near, boardBottom-boardTop), func() {
				var b strings.Builder
				for i := range 9 {
					x := 18 + 16*float64(i)
					b.WriteString(segment(x, boardTop, x+float64(i%3)-1, boardBottom))
				}
				for i := range 5 {
					y := 20 + 15*float64(i)
					b.WriteString(segment(near, y, far, y+float64(i%3)-1))
				}
				c.stroke(1.1, b.String())
			})
			c.plain()
		}},
	{"alligatoring", "Alligatoring", "Wide open cracks round islands, like the hide of a reptile; the coat below shows between them.",
		[]string{"paint-manual-army"}, "wide cracks", func(c *canvas) {
			var b strings.Builder
			for j := range 4 {
				for i := range 6 {
					x := 4 + 28*float64(i) - 14*float64(j%2)
					y := 18 + 20.5*float64(j)
					b.WriteString(blob(x+8+float64(i*j%3), y, 12.4, 8.6, 4, 0.1))
				}
			}
			board := rect(near, boardTop, far-near, boardBottom-boardTop)
			c.clipped(board, func() {
				c.outside(b.String(), func() { c.tint(board, 0.55) })
				c.stroke(1.2, b.String())
			})
			c.plain()
		}},
	{"film-blister", "A blister of the film", "The film itself stands up, hollow under the nail; the wood below is level.",
		[]string{"finish-damage"}, "hollow film", func(c *canvas) {
			c.timber(flat, flat)
			c.film(hollow(80, 17, -22), func(x float64) float64 { return min(0, hollow(80, 17, -22)(x)+1) }, near, far)
			c.stroke(1.2, curve(woodY, hollow(80, 17, -21), 44, 116))
		}},
	{"printed", "A print in the film", "The weave of a cloth or the print of a thing is pressed into the film, which was soft.",
		[]string{"finish-damage"}, "weave pressed in", func(c *canvas) {
			patch := blob(80, 49, 50, 30, 4, 0.06)
			c.board(patch)
			c.clipped(patch, func() {
				var b strings.Builder
				for j := range 12 {
					for i := range 20 {
						x, y := 26+float64(i)*6, 16+float64(j)*6
						if (i+j)%2 == 0 {
							b.WriteString(segment(x, y, x+4, y))
						} else {
							b.WriteString(segment(x+2, y-2, x+2, y+2))
						}
					}
				}
				c.stroke(1.1, b.String())
			})
		}},
	{"run", "A run", "A drip, a curtain or a thick rim that ran down while the coat was wet.",
		[]string{"paint-faults"}, "drip or curtain", func(c *canvas) {
			c.board("")
			for _, r := range [][3]float64{{40, 58, 5}, {84, 74, 6}, {120, 48, 5}} {
				x, y, w := r[0], r[1], r[2]
				d := "M" + num(x-w*0.5) + " 12L" + num(x-w) + " " + num(y) + "A" + num(w) + " " + num(w) + " 0 0 0 " + num(x+w) + " " + num(y) + "L" + num(x+w*0.5) + " 12z"
				c.tint(d, 0.3)
				c.stroke(1.6, d)
			}
		}},
	{"nibs", "Nibs", "Grit, hairs or bubbles stuck in the coat: it feels like sandpaper.",
		[]string{"paint-faults"}, "grit in the coat", func(c *canvas) {
			c.timber(flat, flat)
			bumps := func(x float64) float64 {
				sum := 0.0
				for _, m := range []float64{26, 54, 80, 112, 136} {
					sum += hollow(m, 5, -10)(x)
				}
				return sum
			}
			c.film(bumps, flat, near, far)
			for _, m := range []float64{26, 54, 80, 112, 136} {
				c.solid(circle(m, woodY-10, 4), ink)
			}
		}},
	{"pebbled", "Pebbled", "Dimples all over, like the skin of an orange.",
		[]string{"paint-faults"}, "dimples all over", func(c *canvas) {
			c.timber(flat, flat)
			c.film(func(x float64) float64 { return 2.6 * math.Sin(x*0.42) }, flat, near, far)
			c.stroke(bold, curve(woodY-filmH, func(x float64) float64 { return 2.6 * math.Sin(x*0.42) }, near, far))
		}},
	{"laps", "Lap marks", "Bands where one stroke lies over another.",
		[]string{"paint-faults"}, "strokes overlap", func(c *canvas) {
			c.board("")
			for i := range 3 {
				x := 42 + 34*float64(i)
				c.tint(rect(x, boardTop, 12, boardBottom-boardTop), 0.35)
				c.stroke(0.9, segment(x, boardTop, x, boardBottom)+segment(x+12, boardTop, x+12, boardBottom))
			}
		}},
	{"craters", "Craters", "Round craters that the coat drew back from, bare or thin in the middle.",
		[]string{"paint-faults"}, "coat drew back", func(c *canvas) {
			var b, rims strings.Builder
			for _, p := range [][3]float64{{36, 34, 9}, {74, 60, 11}, {104, 30, 7}, {126, 64, 9}, {48, 72, 6}} {
				b.WriteString(circle(p[0], p[1], p[2]))
				rims.WriteString(circle(p[0], p[1], p[2]+3))
			}
			c.clipped(rect(near, boardTop, far-near, boardBottom-boardTop), func() {
				c.outside(rims.String(), func() { c.dots(near, boardTop, far-near, 80, 6, 0.7) })
			})
			c.stroke(1.8, b.String())
			c.stroke(0.8, rims.String())
			c.plain()
		}},
	{"swirls", "Swirls", "Curls and lines of sanding scratches under the coat.",
		[]string{"paint-faults"}, "sanding curls", func(c *canvas) {
			c.board("")
			var b strings.Builder
			for i := range 8 {
				x := 16 + 15*float64(i)
				y := 34 + 26*float64(i%2)
				b.WriteString("M" + num(x) + " " + num(y) + "c0 -14 18 -14 18 0s-14 12 -12 2")
			}
			c.stroke(1.3, b.String())
		}},
	{"cloudy", "Cloudy stain", "Dark and light clouds, as the figure of the wood runs.",
		[]string{"paint-faults"}, "dark and light", func(c *canvas) {
			c.board("")
			c.clipped(rect(near, boardTop, far-near, boardBottom-boardTop), func() {
				c.tint(blob(40, 34, 26, 13, 4, 0.2), 0.35)
				c.tint(blob(108, 40, 30, 16, 5, 0.18), 0.3)
				c.tint(blob(66, 72, 34, 11, 4, 0.2), 0.4)
			})
		}},
	{"glue-spot", "Glue under the coat", "A sharp-edged place that took no stain: glue has closed the wood.",
		[]string{"paint-faults"}, "took no stain", func(c *canvas) {
			spot := blob(76, 52, 24, 15, 5, 0.16)
			c.board("")
			c.outside(spot, func() { c.tint(rect(near, boardTop, far-near, boardBottom-boardTop), 0.32) })
			c.stroke(1.6, spot)
		}},
}

// wipe is a cloth that wipes to the right.
func (c *canvas) wipe() {
	c.stroke(bold, "M104 44C112 34 134 34 142 44C148 54 142 72 128 74C112 76 98 62 104 44z")
	c.stroke(1.2, "M112 50q8 -6 18 0M110 60q10 -6 24 0M118 68q8 -4 14 0")
	c.arrow(70, 78, 98, 74)
}
