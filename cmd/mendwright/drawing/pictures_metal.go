package drawing

// metalPictures show metals by the magnet and by their worn places, and rust in section.
var metalPictures = []picture{
	{"magnet-strong", "The magnet pulls hard", "Held through a thin cloth, it jumps on and has to be torn off: iron or steel, whatever lies on top.",
		[]string{"metal-id"}, "jumps on", func(c *canvas) {
			c.magnet(2)
			c.stroke(1.4, "M52 64C40 58 40 44 48 36M44 65C26 58 26 38 40 28M108 64C120 58 120 44 112 36M116 65C134 58 134 38 120 28")
		}},
	{"magnet-weak", "The magnet pulls a little", "It is felt, but the magnet slides off: a thin plating over other metal, or a nickel layer.",
		[]string{"metal-id", "memory"}, "pulls a little", func(c *canvas) {
			c.magnet(10)
			c.stroke(1.4, "M50 60C43 55 43 47 48 42M110 60C117 55 117 47 112 42", "stroke-dasharray", "3 3")
		}},
	{"magnet-none", "The magnet does not pull", "Nothing is felt: brass, bronze, aluminium or zinc.",
		[]string{"metal-id"}, "no pull", func(c *canvas) {
			c.magnet(17)
			c.arrow(128, 58, 128, 34)
		}},
	{"worn-same", "The same right through", "At worn edges and screw holes the same metal shows: solid.",
		[]string{"metal-id"}, "solid", func(c *canvas) { c.wornMetal("", "none") }},
	{"worn-grey", "Grey steel or rust shows", "Where the skin is rubbed away, at edges and holes, grey steel or rust shows: plated steel.",
		[]string{"metal-id"}, "skin on grey steel", func(c *canvas) { c.wornMetal("skin", "slant") }},
	{"worn-white-grey", "Soft white-grey shows", "A soft, powdery white-grey metal lies under the skin: a zinc casting.",
		[]string{"metal-id"}, "skin on soft zinc", func(c *canvas) { c.wornMetal("skin", "dots") }},
	{"worn-yellow", "Yellow shows", "Yellow metal lies under a silvery skin: plated brass.",
		[]string{"metal-id"}, "skin on yellow", func(c *canvas) { c.wornMetal("skin", "rows") }},
	{"worn-pink", "Pink shows", "A pink, coppery metal lies under the skin, or in patches of yellow brass.",
		[]string{"metal-id"}, "skin on pink", func(c *canvas) { c.wornMetal("skin", "cross") }},
	{"rust-none", "No rust", "Bare or plated metal without orange.", []string{"rust-grades"}, "clean", func(c *canvas) { c.steel(flat) }},
	{"rust-bloom", "Light bloom", "A light orange breath that a dry rag takes off; the metal below is smooth.",
		[]string{"rust-grades"}, "thin, wipes off", func(c *canvas) {
			c.steel(flat)
			c.dots(near, 38, far-near, 7, 7, 1)
		}},
	{"rust-freckles", "Freckles", "Dots of rust come through pores of a plating that still holds between them.",
		[]string{"rust-grades"}, "dots through plate", func(c *canvas) {
			c.steel(flat)
			c.tint(rect(near, woodY-5, far-near, 5), 0.3)
			c.stroke(1.2, segment(near, woodY-5, far, woodY-5))
			for _, x := range []float64{26, 58, 76, 104, 136} {
				c.solid(ellipse(x, woodY-5, 6, 6), ink)
				c.stroke(1.4, segment(x, woodY-4, x, woodY))
			}
		}},
	{"rust-powder", "Even powder", "An even, powdery coat of rust; the metal beneath is sound.",
		[]string{"rust-grades"}, "even, sound below", func(c *canvas) {
			c.steel(flat)
			c.clipped(band(woodY-14, func(x float64) float64 { return float64(int(x)*7%5) * 0.6 }, woodY, flat, near, far), func() { c.dots(near, 30, far-near, 18, 3.2, 1) })
		}},
	{"rust-pits", "Pits", "Craters are eaten into the metal; a nail catches in them after the rust is off.",
		[]string{"rust-grades"}, "craters", func(c *canvas) {
			d := all(hollow(34, 8, 16), hollow(64, 6, 11), hollow(96, 10, 19), hollow(130, 7, 12))
			c.steel(d)
			c.clipped(band(woodY-1, flat, woodY, d, near, far), func() { c.dots(near, woodY-2, far-near, 26, 4, 1) })
		}},
	{"rust-scale", "Scale", "Rust in flakes and layers that lift; metal has gone and the part is thinner.",
		[]string{"rust-grades"}, "flakes and layers", func(c *canvas) {
			d := func(x float64) float64 { return 5 + hollow(60, 20, 6)(x) + hollow(120, 16, 5)(x) }
			c.steel(d)
			for i, x := range []float64{10, 42, 74, 106} {
				y := 44 - float64(i%2)*3
				c.tint(polygon(x, y, x+34, y-5, x+36, y, x+3, y+5), 0.55)
				c.stroke(1.4, polygon(x, y, x+34, y-5, x+36, y, x+3, y+5)+polyline(x+4, y-7, x+38, y-14)+polyline(x+2, y-3, x+38, y-10, x+38, y-14))
			}
		}},
	{"plate-worn", "Plating worn through", "The plate is rubbed through or curls, and another metal shows.",
		[]string{"cci-brass"}, "plate rubbed off", func(c *canvas) { c.wornMetal("skin", "slant") }},
	{"metal-spotted", "Spots under lacquer", "Dark spots or streaks under a clear lacquer, where it has let air in.",
		[]string{"cci-brass"}, "under clear lacquer", func(c *canvas) {
			c.steel(flat)
			c.film(flat, flat, near, far)
			for _, x := range []float64{34, 70, 118} {
				c.solid(ellipse(x, woodY, 11, 3), ink)
				c.stroke(1.2, segment(x, woodY-filmH, x, woodY))
			}
		}},
	{"metal-crust", "A green crust", "A green or blue-green crust, waxy or hard, mostly in hollows and at wax and leather.",
		[]string{"cci-brass"}, "crust on top", func(c *canvas) {
			c.steel(flat)
			crust := band(woodY-9, func(x float64) float64 { return 3*float64(int(x*0.7)%4)/2 + hollow(80, 60, -5)(x) }, woodY, flat, 26, 134)
			c.tint(crust, 0.35)
			c.stroke(1.6, crust)
		}},
	{"metal-powder-pits", "Pale powder in little pits", "Pale green powder sits in little pits and comes back after brushing.",
		[]string{"cci-brass"}, "powder in pits", func(c *canvas) {
			d := all(hollow(36, 6, 12), hollow(80, 7, 14), hollow(122, 6, 12))
			c.steel(d)
			for _, x := range []float64{36, 80, 122} {
				c.clipped(band(woodY, hollow(x, 7, -9), woodY, d, x-16, x+16), func() { c.dots(x-16, woodY-12, 32, 30, 3.2, 0.9) })
			}
		}},
	{"metal-tarnish", "Tarnish", "An even brown to black film, smooth to the nail.",
		[]string{"cci-brass"}, "even dark film", func(c *canvas) {
			c.steel(flat)
			c.tint(rect(near, woodY-5, far-near, 5), 0.8)
		}},
}

// magnet is a horseshoe magnet over a plate under a cloth, that gap between them.
func (c *canvas) magnet(gap float64) {
	plate := 68.0
	c.stroke(bold, rect(16, plate, 128, 16))
	c.clipped(rect(16, plate, 128, 16), func() { c.slant(16, plate, 128, 16, 8, 0.8) })
	foot := plate - gap
	dy := foot - 52
	m := "M58 " + num(52+dy) + "V" + num(30+dy) + "C58 " + num(0+dy) + " 102 " + num(0+dy) + " 102 " + num(30+dy) + "V" + num(52+dy) +
		"H88V" + num(30+dy) + "C88 " + num(17+dy) + " 72 " + num(17+dy) + " 72 " + num(30+dy) + "V" + num(52+dy) + "z"
	c.stroke(bold, m)
	c.solid(rect(58, 42+dy, 14, 10)+rect(88, 42+dy, 14, 10), ink)
	c.stroke(1.2, segment(24, plate-1.5, 136, plate-1.5), "stroke-dasharray", "3 2") // the cloth
}

// steel is metal in section under a surface.
func (c *canvas) steel(surface depth) {
	d := band(woodY, surface, woodFoot, flat, near, far)
	c.clipped(d, func() { c.slant(near, woodY, far-near, woodFoot-woodY, 8, 0.9) })
	c.stroke(bold, d)
}

// wornMetal is an edge in section, rounded by wear: a skin that is gone there, over a metal with
// another hatch; without a skin it is one metal through and through.
func (c *canvas) wornMetal(skin, hatch string) {
	body := "M8 36H96C126 36 140 48 146 88H8z"
	c.clipped(body, func() {
		switch hatch {
		case "slant":
			c.slant(8, 30, 144, 60, 8, 0.9)
		case "dots":
			c.dots(8, 30, 144, 60, 5, 0.9)
		case "rows":
			c.rows(8, 30, 144, 60, 6)
		case "cross":
			c.cross(8, 30, 144, 60, 9)
		default:
			c.tint(rect(8, 30, 144, 60), 0.3)
		}
	})
	c.stroke(bold, body)
	if skin == "" {
		c.arrow(140, 22, 126, 42)
		return
	}
	edge := "M8 36H96C126 36 140 48 146 88"
	c.outside(body, func() {
		c.outside(rect(92, 20, 60, 40), func() { c.stroke(13, edge, "stroke-linecap", "butt") })
	})
	c.arrow(146, 18, 128, 38)
}
