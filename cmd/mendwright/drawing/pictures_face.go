package drawing

import "strings"

// facePictures show what is seen first: a board from above, or the part itself.
var facePictures = []picture{
	{"form-spot", "A spot", "A spot or a small hollow, about as wide as long.", []string{"finish-damage"}, "", func(c *canvas) {
		spot := blob(80, 49, 15, 12, 3, 0.1)
		c.board(spot)
		c.tint(spot, 0.4)
		c.stroke(1.4, spot)
	}},
	{"form-line", "A line", "A line or a crack, much longer than wide.", []string{"finish-damage"}, "", func(c *canvas) {
		c.board("")
		c.stroke(3, "M34 70C60 62 96 40 128 26")
	}},
	{"form-net", "A net of fine lines", "Many fine lines that cross or meet.", []string{"finish-damage"}, "", func(c *canvas) {
		c.plain()
		c.clipped(rect(near, boardTop, far-near, boardBottom-boardTop), func() { c.net(15, 0.9) })
	}},
	{"form-ring", "A ring", "A ring or part of one, such as a glass leaves.", []string{"finish-damage"}, "", func(c *canvas) {
		c.board("")
		c.stroke(4.5, circle(80, 49, 26))
	}},
	{"form-patch", "A patch", "A patch, or the whole area, without a sharp shape.", []string{"finish-damage"}, "", func(c *canvas) {
		patch := blob(82, 49, 52, 30, 4, 0.1)
		c.board(patch)
		c.tint(patch, 0.18)
		c.stroke(1.2, patch, "stroke-dasharray", "1 4")
	}},
	{"form-lump", "Something stands up", "A drip, a blister or a crumb that stands above the surface.", []string{"finish-damage"}, "", func(c *canvas) {
		c.timber(flat, flat)
		lump := "M46 46C50 42 50 24 68 20C84 16 104 24 106 40C107 44 110 46 114 46"
		c.tint(lump+"z", 0.25)
		c.stroke(bold, lump)
	}},
	{"form-hole", "A hole", "A hole, or many small ones.", []string{"finish-damage"}, "", func(c *canvas) {
		c.board("")
		d := circle(62, 50, 11)
		for _, p := range [][3]float64{{98, 30, 3}, {112, 44, 3}, {104, 62, 3}, {124, 68, 3}, {126, 28, 3}, {88, 74, 3}} {
			d += circle(p[0], p[1], p[2])
		}
		c.solid(d, ink)
	}},
	{"form-gone", "A piece is missing", "A piece is chipped off, broken off or lost.", []string{"finish-damage"}, "", func(c *canvas) {
		edge := "L152 52L140 50L134 58L122 57L116 70L108 72L104 88"
		c.clipped("M8 10L152 10"+edge+"L8 88z", func() { c.rows(near, boardTop, far-near, 80, 8.5) })
		c.stroke(bold, "M104 88L8 88L8 10L152 10"+edge)
		c.stroke(1.2, "M104 88L152 88L152 52", "stroke-dasharray", "3 4")
	}},
	{"form-loose", "Something is loose", "A part wobbles, or sticks where it should slide.", []string{"finish-damage"}, "", func(c *canvas) {
		c.stroke(bold, polyline(40, 14, 120, 14, 120, 28, 40, 28)+"z")
		c.stroke(bold, polyline(48, 28, 48, 90)+polyline(58, 28, 58, 90, 48, 90))
		c.stroke(bold, polyline(103, 32, 110, 92, 119, 90, 112, 31))
		c.stroke(fine, polyline(102, 28, 102, 90, 112, 90, 112, 28), "stroke-dasharray", "3 3")
		c.arrow(86, 70, 100, 68)
		c.arrow(138, 68, 124, 70)
	}},
	{"form-bent", "Bent", "A board is bent, cupped, sagging or swollen.", []string{"finish-damage"}, "", func(c *canvas) {
		c.bentBoard(hollow(80, 44, 26))
		c.stroke(fine, segment(near, 40, far, 40), "stroke-dasharray", "4 4")
	}},
	{"form-mismatch", "Two parts that do not match", "The finish is whole, but two parts differ in colour.", []string{"finish-damage"}, "", func(c *canvas) {
		c.board("")
		c.tint(rect(80, boardTop, 72, boardBottom-boardTop), 0.35)
		c.stroke(bold, segment(80, boardTop, 80, boardBottom))
	}},
	{"form-fitting", "A screw or a fitting", "No mark in the wood: a screw, a hinge, a lock or a handle is the trouble.", []string{"finish-damage"}, "", func(c *canvas) {
		c.stroke(bold, rect(24, 16, 48, 68)+rect(88, 16, 48, 68)+rect(72, 16, 16, 68)+segment(72, 38, 88, 38)+segment(72, 61, 88, 61))
		for _, p := range [][2]float64{{40, 30}, {40, 68}, {120, 30}, {120, 68}} {
			c.stroke(1.4, circle(p[0], p[1], 6)+segment(p[0]-4, p[1]-3, p[0]+4, p[1]+3))
		}
	}},
	{"form-alive", "Insects, or what they leave", "Insects, dust, specks or cast skins.", []string{"finish-damage"}, "", func(c *canvas) {
		c.beetle(80, 46, 1.25)
	}},
	{"form-smell", "A smell", "It smells of cellar, smoke, animals or moth balls.", []string{"finish-damage"}, "", func(c *canvas) {
		c.stroke(bold, polygon(20, 88, 140, 88, 140, 56, 20, 56)+polyline(20, 56, 34, 46, 126, 46, 140, 56)+circle(80, 72, 4))
		c.stroke(1.6, "M52 38q-8 -8 0 -15t0 -15M80 38q-8 -8 0 -15t0 -15M108 38q-8 -8 0 -15t0 -15")
	}},
	{"line-along", "The line runs with the grain", "The mark runs as the fibres run, up to about 15 degrees off.", []string{"practice"}, "with the grain", func(c *canvas) {
		c.board("")
		c.stroke(3.2, "M30 50C60 52 100 46 130 49")
	}},
	{"line-across", "The line runs across the grain", "The mark crosses the fibres.", []string{"practice"}, "across the grain", func(c *canvas) {
		c.board("")
		c.stroke(3.2, "M84 18C80 40 82 60 76 80")
	}},
	{"cup", "Cup", "Curved across the grain: a straight edge laid across the board rocks or bridges.", []string{"lumber-defects"}, "across the grain", func(c *canvas) {
		c.planks(func(across, along float64) float64 { u := across - 0.5; return 70 * (u*u - 0.16) })
	}},
	{"bow", "Bow", "Curved along the grain, with nothing weighing on it: a straight edge laid along shows it.", []string{"lumber-defects"}, "along the grain", func(c *canvas) {
		c.planks(func(across, along float64) float64 { u := along - 0.5; return 68 * (0.25 - u*u) })
	}},
	{"twist", "Twist", "Two opposite corners stand high: two straight sticks laid across the ends do not line up.", []string{"lumber-defects"}, "two corners high", func(c *canvas) {
		c.planks(func(across, along float64) float64 { return -32 * (across - 0.5) * (along - 0.5) })
	}},
	{"sag", "Sag", "It hangs down between its supports, or is swollen thick.", []string{"lumber-defects"}, "hangs down", func(c *canvas) {
		sag := hollow(80, 42, 20)
		c.bentBoard(sag)
		c.solid(polygon(12, 52, 26, 52, 30, 88, 8, 88)+polygon(134, 52, 148, 52, 152, 88, 130, 88), ink, "fill-opacity", "0.25")
		c.stroke(1.4, polygon(12, 52, 26, 52, 30, 88, 8, 88)+polygon(134, 52, 148, 52, 152, 88, 130, 88))
		for _, x := range []float64{66, 82} {
			c.stroke(1.4, rect(x, 30, 12, 28))
		}
	}},
}

// bentBoard is a board on edge, bent by f.
func (c *canvas) bentBoard(f depth) {
	d := band(40, f, 51, f, near, far)
	c.clipped(d, func() {
		var b strings.Builder
		for i := range 3 {
			b.WriteString(curve(43+float64(i)*3, f, near, far))
		}
		c.stroke(0.7, b.String())
	})
	c.stroke(bold, d)
}

// planks is a board seen from above at a slant, raised by up(across, along), each from 0 to 1.
func (c *canvas) planks(up func(across, along float64) float64) {
	at := func(across, along float64) (float64, float64) {
		return 10 + 88*along + 52*across, 72 - 36*across - up(across, along)
	}
	line := func(fixed float64, acrossFixed bool) string {
		var xy []float64
		for i := range 25 {
			t := float64(i) / 24
			x, y := at(fixed, t)
			if !acrossFixed {
				x, y = at(t, fixed)
			}
			xy = append(xy, x, y)
		}
		return polyline(xy...)
	}
	grain := ""
	for i := 1; i < 6; i++ {
		grain += line(float64(i)/6, true)
	}
	c.stroke(0.7, grain)
	c.stroke(bold, line(0, true)+line(1, true)+line(0, false)+line(1, false))
	// The edge towards whoever looks.
	var xy []float64
	for i := range 25 {
		x, y := at(0, float64(i)/24)
		xy = append(xy, x, y+8)
	}
	x0, y0 := at(0, 0)
	x1, y1 := at(0, 1)
	x2, y2 := at(1, 1)
	c.stroke(1.4, polyline(xy...)+segment(x0, y0, x0, y0+8)+segment(x1, y1, x1, y1+8)+polyline(x1, y1+8, x2, y2+8, x2, y2))
}

// net is a net of fine cracks over a whole board, cells of about that size.
func (c *canvas) net(cell, width float64) {
	// Corners of the cells, moved about, always in the same way.
	at := func(i, j int) (float64, float64) {
		h := float64((i*7919+j*104729+i*j*31)%97) / 97
		k := float64((i*1543+j*6151+i*j*17)%89) / 89
		return near - cell + cell*float64(i) + (h-0.5)*cell*0.75, boardTop - cell + cell*float64(j) + (k-0.5)*cell*0.75
	}
	var b strings.Builder
	for j := range int(78/cell) + 4 {
		for i := range int(144/cell) + 4 {
			x, y := at(i, j)
			x1, y1 := at(i+1, j)
			x2, y2 := at(i, j+1)
			if (i+j)%5 != 0 {
				b.WriteString(segment(x, y, x1, y1))
			}
			if (i*2+j)%5 != 1 {
				b.WriteString(segment(x, y, x2, y2))
			}
		}
	}
	c.stroke(width, b.String())
}

// beetle is a small beetle seen from above.
func (c *canvas) beetle(x, y, k float64) {
	c.turned(x, y, 0, func() {
		c.tint(ellipse(6*k, 0, 22*k, 13*k), 0.3)
		c.stroke(bold, ellipse(6*k, 0, 22*k, 13*k)+ellipse(-22*k, 0, 8*k, 9*k))
		c.stroke(1.4, segment(-16*k, 0, 28*k, 0))
		legs := ""
		for _, u := range []float64{-10, 4, 18} {
			legs += polyline(u*k, 12*k, (u+2)*k, 20*k, (u+8)*k, 26*k) + polyline(u*k, -12*k, (u+2)*k, -20*k, (u+8)*k, -26*k)
		}
		c.stroke(1.4, legs+polyline(-28*k, -5*k, -38*k, -11*k)+polyline(-28*k, 5*k, -38*k, 11*k))
	})
}
