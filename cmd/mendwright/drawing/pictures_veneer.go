package drawing

// veneerPictures show where a leaf has come loose and how a crack runs.
var veneerPictures = []picture{
	{"veneer-blister", "Blister in the veneer", "A bubble closed all round; it clicks under the nail and gives when pressed.",
		[]string{"veneer-column"}, "closed bubble", func(c *canvas) { c.leaf(hollow(80, 20, -20), near, far) }},
	{"veneer-edge", "Lifted edge", "The leaf is open at an edge, a corner or a joint: a knife or paper slips under it.",
		[]string{"veneer-column"}, "open at the edge", func(c *canvas) {
			c.leaf(func(x float64) float64 { u := max(0, (x-92)/60); return -24 * u * u }, near, far)
		}},
	{"veneer-leaf", "Most of the leaf is loose", "Most of the leaf or sheet stands off, in waves.",
		[]string{"veneer-column"}, "nearly all loose", func(c *canvas) {
			c.leaf(func(x float64) float64 {
				return -2 - 8*(hollow(34, 16, 1)(x)+hollow(78, 15, 1.2)(x)+hollow(126, 20, 1.5)(x))
			}, near, far)
		}},
	{"board-parted", "Parted inside the board", "Plies or layers inside the board have let go of each other; the face may look whole.",
		[]string{"practice"}, "parted inside", func(c *canvas) {
			up, down := hollow(152, 46, -9), hollow(152, 46, 9)
			for i := range 4 {
				f := up
				if i > 1 {
					f = down
				}
				y := 26 + 15*float64(i)
				d := band(y, f, y+14, f, near, far)
				c.clipped(d, func() {
					if i%2 == 0 {
						c.rows(near, 8, far-near, 92, 3.5)
					} else {
						c.dots(near, 8, far-near, 92, 6, 0.8)
					}
				})
				c.stroke(1.4, d)
			}
			c.stroke(bold, curve(26, up, near, far)+curve(85, down, near, far))
		}},
	{"inlay-loose", "Loose inlay", "A strip or piece of inlay stands out of its bed.",
		[]string{"practice"}, "stands out", func(c *canvas) {
			c.timber(pit(60, 100, 14), flat)
			piece := polygon(62, 40, 98, 30, 101, 43, 65, 53)
			c.tint(piece, 0.35)
			c.stroke(bold, piece)
			c.arrow(80, 28, 80, 12)
		}},
	{"band-loose", "Loose edge band", "The strip on the edge of a board comes away.",
		[]string{"edge-banding"}, "edge strip off", func(c *canvas) {
			c.stroke(bold, rect(near, 32, 116, 48))
			c.clipped(rect(near, 32, 116, 48), func() { c.flecks(near, 32, 116, 48) })
			strip := "M126 80L126 56C126 40 134 28 146 18L151 21C140 31 131 42 131 56L131 80z"
			c.tint(strip, 0.5)
			c.stroke(1.8, strip)
		}},
	{"check", "Seasoning check", "It starts at an end or stays in one face: the outside dried faster than the inside. The board still holds together.",
		[]string{"lumber-defects"}, "in one face only", func(c *canvas) {
			c.crackedBoard("M66 20L70 32L67 42L69 52")
		}},
	{"split", "Split", "It goes through to the other face: the board is in two parts there.",
		[]string{"lumber-defects"}, "right through", func(c *canvas) {
			c.crackedBoard("M66 20L70 34L65 48L69 62L66 84")
		}},
	{"glue-line-open", "Open glue line", "It follows the joint of two boards, straight as a ruler; the grain picture changes across it.",
		[]string{"lumber-defects"}, "along a glue line", func(c *canvas) {
			for _, p := range [][2]float64{{near, 77}, {83, far}} {
				x1, x2 := p[0], p[1]
				box := rect(x1, 22, x2-x1, 62)
				mx := map[bool]float64{true: 40, false: 120}[x1 == near]
				my := map[bool]float64{true: 110, false: -14}[x1 == near]
				c.clipped(box, func() {
					d := ""
					for r := 16.0; r < 130; r += 9 {
						d += circle(mx, my, r)
					}
					c.stroke(0.9, d)
				})
				c.stroke(bold, box)
			}
		}},
	{"checks-fine", "Fine checks in veneer", "Many fine cracks side by side, all with the grain.",
		[]string{"veneer-checking"}, "many, with the grain", func(c *canvas) {
			c.plain()
			d := ""
			for i := range 15 {
				y := 15 + 5*float64(i)
				x := 14 + float64(i*37%60)
				d += segment(x, y, x+30+float64(i*23%36), y+0.8)
			}
			c.stroke(1.4, d)
		}},
	{"crack-single", "Single cracks", "One or a few cracks, each its own way.",
		[]string{"veneer-checking"}, "one or a few", func(c *canvas) {
			c.board("")
			c.stroke(bold, "M20 40C50 36 80 46 112 41M70 70C90 66 110 72 136 68")
		}},
	{"line-over-joint", "A line over a joint", "Dead straight, over a joint or an edge in the wood below, whatever way the grain runs.",
		[]string{"telegraphing"}, "dead straight", func(c *canvas) {
			c.board("")
			c.stroke(bold, segment(104, boardTop, 104, boardBottom))
			c.stroke(1.2, segment(104, 88, 104, 96), "stroke-dasharray", "2 3")
		}},
}

// leaf is a leaf on its core in section, standing off by f.
func (c *canvas) leaf(f depth, x1, x2 float64) {
	c.clipped(rect(near, woodY, far-near, woodFoot-woodY), func() { c.hatch("core", near, woodY, far-near, woodFoot-woodY) })
	c.stroke(1.6, rect(near, woodY, far-near, woodFoot-woodY))
	d := band(woodY-9, f, woodY, f, x1, x2)
	c.clipped(d, func() {
		lines := ""
		for i := range 3 {
			lines += curve(woodY-7+2.6*float64(i), f, x1, x2)
		}
		c.stroke(0.7, lines)
	})
	c.stroke(bold, d)
}

// crackedBoard is a board seen at its end, rings and all, with a crack.
func (c *canvas) crackedBoard(crack string) {
	box := rect(near, 20, far-near, 64)
	c.clipped(box, func() {
		d := ""
		for r := 12.0; r < 150; r += 9 {
			d += circle(66, 116, r)
		}
		c.stroke(0.8, d)
	})
	c.stroke(bold, box)
	c.stroke(4.2, crack)
}
