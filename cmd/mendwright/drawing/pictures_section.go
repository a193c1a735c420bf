package drawing

// sectionPictures show what happened to the wood and what a fingernail feels, in section: finish
// dotted, wood with its fibres along.
var sectionPictures = []picture{
	{"scratch", "Scratch in the finish", "Only the film is cut. The wood below is whole and no fibre stands up or lies pressed.",
		[]string{"dent-practice", "finish-damage"}, "finish only", func(c *canvas) {
			cut := notch(80, 10, filmH)
			c.timber(flat, flat)
			c.film(cut, flat, near, far)
			c.arrow(80, 14, 80, 32)
		}},
	{"dent", "Dent", "The fibres are pressed down but whole, and the finish often follows them without a break. Water and heat may raise it.",
		[]string{"dent-practice"}, "fibres pressed", func(c *canvas) {
			d := hollow(80, 20, 17)
			c.timber(d, d)
			c.film(d, d, near, far)
		}},
	{"gouge", "Gouge", "The fibres are cut or torn: their ends show in the hollow, clean or ragged. They do not come up again.",
		[]string{"dent-practice"}, "fibres cut", func(c *canvas) {
			d := all(notch(80, 17, 22), func(x float64) float64 {
				if x < 66 || x > 94 {
					return 0
				}
				return float64(int(x)%5) - 2
			})
			c.timber(d, flat)
			c.film(flat, flat, near, 63)
			c.film(flat, flat, 97, far)
		}},
	{"wood-missing", "Wood is gone", "A piece of wood is missing: the hollow has steep broken sides and nothing of it lies pressed at the bottom.",
		[]string{"dent-practice"}, "wood gone", func(c *canvas) {
			c.timber(pit(52, 112, 25), flat)
			c.film(flat, flat, near, 51)
			c.film(flat, flat, 113, far)
		}},
	{"parted", "Fibres parted along the grain", "The wood has opened between its fibres. Both sides are whole and would fit each other.",
		[]string{"practice"}, "split open", func(c *canvas) {
			c.timber(notch(80, 4, 38), flat)
			c.film(flat, flat, near, 76)
			c.film(flat, flat, 84, far)
		}},
	{"leaf-lifted", "A leaf stands off", "A leaf, ply or edge has come off what it was glued to. It gives under the finger and clicks when tapped.",
		[]string{"practice", "veneer-column"}, "hollow below", func(c *canvas) {
			up := func(x float64) float64 { return -max(0, (x-84)/68) * max(0, (x-84)/68) * 26 }
			c.timber(flat, flat)
			c.clipped(band(woodY-10, up, woodY-1, up, near, far), func() { c.rows(near, 4, far-near, 60, 3) })
			c.stroke(bold, band(woodY-10, up, woodY-1, up, near, far))
			c.arrow(146, 74, 146, 32)
		}},
	{"soft-wood", "Soft, crumbling wood", "A blunt point sinks in without resistance; the wood crumbles, or breaks in cubes or strings.",
		[]string{"practice"}, "a point sinks in", func(c *canvas) {
			rotten := blob(84, 66, 46, 19, 5, 0.08)
			c.clipped(rect(near, woodY, far-near, woodFoot-woodY), func() {
				c.outside(rotten, func() { c.rows(near, woodY, far-near, woodFoot-woodY, 6) })
				c.clipped(rotten, func() { c.flecks(30, 42, 110, 50) })
				c.stroke(fine, rotten, "stroke-dasharray", "3 3")
			})
			c.stroke(bold, segment(near, woodY, 74, woodY)+segment(90, woodY, far, woodY))
			c.stroke(fine, polyline(near, woodY, near, woodFoot, far, woodFoot, far, woodY))
			c.stroke(bold, polyline(78, 8, 78, 52, 82, 68, 86, 52, 86, 8))
			c.stroke(1.4, segment(78, 18, 86, 18))
		}},
	{"charred", "Charred wood", "The wood is burned to charcoal: black, cracked across into little blocks, and it comes off on the finger.",
		[]string{"practice"}, "charcoal", func(c *canvas) {
			char := band(woodY, flat, woodY+4, hollow(80, 34, 22), 32, 128)
			c.timber(flat, flat)
			cracks := ""
			for _, x := range []float64{46, 58, 69, 80, 91, 102, 113} {
				cracks += rect(x-0.9, woodY-2, 1.8, 8+hollow(80, 34, 16)(x))
			}
			c.outside(cracks, func() { c.tint(char, 0.85) })
			c.stroke(1.4, "M60 38q-6 -8 0 -14t0 -14M80 38q-6 -8 0 -14t0 -14M100 38q-6 -8 0 -14t0 -14")
		}},
	{"nail-drops", "The nail drops into it", "Drawn across the mark with closed eyes, the nail drops into it: something is pressed, cut or gone.",
		[]string{"finish-damage"}, "drops in", func(c *canvas) {
			d := hollow(72, 15, 15)
			c.timber(d, d)
			c.fingertip(73, woodY+13)
		}},
	{"nail-level", "The nail feels nothing", "Drawn across the mark with closed eyes, the nail feels no edge: the mark is a change of colour or shine.",
		[]string{"finish-damage"}, "feels nothing", func(c *canvas) {
			c.timber(flat, flat)
			c.clipped(rect(40, woodY, 64, 12), func() { c.cross(40, woodY, 64, 12, 5) })
			c.fingertip(76, woodY-1)
		}},
	{"nail-bumps", "The nail bumps over it", "Drawn across the mark with closed eyes, the nail is lifted: something stands up or lies on top.",
		[]string{"finish-damage"}, "bumps over", func(c *canvas) {
			d := hollow(64, 13, -11)
			c.timber(d, d)
			c.fingertip(77, woodY-6)
		}},
	{"film-holds", "The finish holds", "A fingernail pressed sideways at the edge of the mark moves nothing: the film ends where the mark ends.",
		[]string{"flaking-standard"}, "holds all round", func(c *canvas) {
			c.timber(notch(80, 12, 12), flat)
			c.film(flat, flat, near, 67)
			c.film(flat, flat, 93, far)
		}},
	{"film-flakes-near", "The finish lets go near the mark", "At the edge of the mark chips curl up or jump off under the nail; farther away the film holds.",
		[]string{"flaking-standard"}, "loose at the mark", func(c *canvas) {
			c.timber(notch(80, 12, 12), flat)
			left := func(x float64) float64 { u := max(0, (x-44)/22); return -14 * u * u }
			right := func(x float64) float64 { u := max(0, (116-x)/22); return -14 * u * u }
			c.film(left, left, near, 66)
			c.film(right, right, 94, far)
			c.stroke(1.4, curve(woodY, left, 44, 66)+curve(woodY, right, 94, 116))
		}},
	{"film-flakes-wide", "The finish lets go all over", "Over most of the surface the film is cracked into flakes that curl up and jump off.",
		[]string{"flaking-standard"}, "loose all over", func(c *canvas) {
			c.timber(flat, flat)
			for i, x := range []float64{9, 38, 67, 96, 125} {
				curl := func(v float64) float64 { u := (v - x - 13) / 13; return -7*u*u - 1.5 }
				if i == 3 { // one has gone
					continue
				}
				c.film(curl, curl, x, x+26)
				c.stroke(1.4, curve(woodY, curl, x, x+26)+segment(x, woodY-filmH+curl(x), x, woodY+curl(x))+segment(x+26, woodY-filmH+curl(x+26), x+26, woodY+curl(x+26)))
			}
		}},
	{"beads", "Water stands in beads", "The drop stands up round and runs off: the surface is closed, or wax, oil or silicone lies on it.",
		[]string{"practice"}, "drop stands", func(c *canvas) {
			c.timber(flat, flat)
			c.film(flat, flat, near, far)
			c.stroke(bold, "M66 38C54 32 58 14 80 14C102 14 106 32 94 38")
			c.stroke(fine, "M68 26q3 -7 10 -8")
			c.stroke(1.4, "M30 38C26 35 28 29 34 29C40 29 42 35 38 38M122 38C118 35 120 29 126 29C132 29 134 35 130 38")
		}},
	{"soaks", "Water soaks in", "The drop goes flat, darkens the wood and is gone in a minute: there is no closed film any more.",
		[]string{"practice"}, "drop sinks in", func(c *canvas) {
			c.timber(flat, flat)
			wet := band(woodY, flat, woodY+1, hollow(80, 26, 26), 34, 126)
			c.clipped(wet, func() { c.cross(34, woodY, 92, 30, 6) })
			c.stroke(1.4, curve(woodY+1, hollow(80, 26, 26), 34, 126), "stroke-dasharray", "3 3")
			c.stroke(bold, "M42 45C58 38 102 38 118 45")
			c.arrow(80, 16, 80, 36)
		}},
}
