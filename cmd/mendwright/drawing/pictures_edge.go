package drawing

import (
	"math"
	"strings"
)

// edgePictures show the corner of a board, its end to the front: what it is made of.
var edgePictures = []picture{
	{"edge-solid", "Solid wood", "The lines of the face run on over the end: the growth rings are the same on face and end.",
		[]string{"structure-id"}, "lines run on", func(c *canvas) {
			// Rings round a middle below the board; each comes out at the top and goes on along it.
			const mx, my = 52.0, 116.0
			var rings strings.Builder
			var grain []float64
			for r := 30.0; r < 140; r += 9 {
				rings.WriteString(circle(mx, my, r))
				if high := my - frontY; r > high {
					half := math.Sqrt(r*r - high*high)
					grain = append(grain, mx-half, mx+half)
				}
			}
			c.block([]layer{{frontFoot - frontY, "none"}}, grain)
			c.clipped(rect(endX1, frontY, endX2-endX1, frontFoot-frontY), func() { c.stroke(0.9, rings.String()) })
			side := ""
			for r := 64.0; r < 100; r += 9 {
				if r > endX2-mx {
					y := my - math.Sqrt(r*r-(endX2-mx)*(endX2-mx))
					side += segment(endX2, y, endX2+stepRight, y-stepUp)
				}
			}
			c.clipped(polygon(endX2, frontY, endX2+stepRight, frontY-stepUp, endX2+stepRight, frontFoot-stepUp, endX2, frontFoot), func() { c.stroke(0.8, side) })
		}},
	{"edge-sawn-veneer", "Sawn veneer", "A thick stiff leaf on a core, a seam near the face all round; its glue side shows marks of a saw or a toothing plane.",
		[]string{"structure-id", "veneer-thickness"}, "thick leaf on core", func(c *canvas) {
			c.block([]layer{{10, "veneer"}, {34, "core"}}, grainAt)
			c.stroke(1.1, sawTeeth(endX1, endX2, frontY+10))
		}},
	{"edge-sliced-veneer", "Sliced veneer", "A thin leaf on a core: the lines of the face stop at a fine seam close under it.",
		[]string{"structure-id", "veneer-thickness"}, "thin leaf on core", func(c *canvas) {
			c.block([]layer{{3.5, "skin"}, {40.5, "core"}}, grainAt)
		}},
	{"edge-plywood", "Plywood", "The edge shows several layers whose grain runs across each other.",
		[]string{"structure-id"}, "crossed layers", func(c *canvas) {
			c.block([]layer{{8, "ends"}, {9, "along"}, {10, "ends"}, {9, "along"}, {8, "ends"}}, grainAt)
		}},
	{"edge-foil", "Printed foil", "A skin as thin as paper on made board; the printed grain repeats itself and has no pores to feel. At a worn edge the board shows.",
		[]string{"structure-id"}, "paper-thin, printed", func(c *canvas) {
			c.block([]layer{{1.6, "skin"}, {42.4, "fibreboard"}}, nil)
			var b strings.Builder
			for i := range 3 { // one picture, printed three times over
				x := 10 + 33*float64(i)
				b.WriteString("M" + num(x+6) + " 43L" + num(x+40) + " 13M" + num(x+14) + " 43L" + num(x+48) + " 13")
				b.WriteString("M" + num(x+24) + " 40C" + num(x+26) + " 32 " + num(x+40) + " 20 " + num(x+46) + " 18C" + num(x+46) + " 24 " + num(x+34) + " 36 " + num(x+24) + " 40z")
			}
			c.stroke(0.9, b.String())
		}},
	{"edge-laminate", "Plastic laminate", "A hard skin of about a millimetre with a brown or black line at its edge, on made board; it feels cold and has no pores.",
		[]string{"structure-id", "memory"}, "hard plastic skin", func(c *canvas) {
			c.block([]layer{{3, "none"}, {3.5, "skin"}, {37.5, "fibreboard"}}, nil)
			c.stroke(1.2, "M48 36L62 24M58 38L82 18M104 34L116 24")
		}},
	{"edge-fibreboard", "Fibreboard or chipboard", "No grain anywhere: chips or felted fibres, coarse in the middle and fine at the faces. Wet edges swell.",
		[]string{"structure-id"}, "chips, no grain", func(c *canvas) {
			c.block([]layer{{frontFoot - frontY, "fibreboard"}}, nil)
			c.clipped(polygon(endX1, frontY, endX1+stepRight, frontY-stepUp, endX2+stepRight, frontY-stepUp, endX2, frontY), func() {
				c.dots(endX1, frontY-stepUp, 140, stepUp, 6, 0.6)
			})
		}},
	{"edge-metal", "Metal", "Hardware: cold, heavy, bright where it is rubbed or filed.",
		[]string{"practice"}, "metal part", func(c *canvas) {
			c.clipped(rect(20, 20, 120, 62)+circle(44, 51, 10)+circle(116, 51, 10), func() { c.slant(20, 20, 120, 62, 7, 0.9) })
			c.stroke(bold, "M28 20H132A8 8 0 0 1 140 28V74A8 8 0 0 1 132 82H28A8 8 0 0 1 20 74V28A8 8 0 0 1 28 20z"+circle(44, 51, 10)+circle(116, 51, 10))
			c.stroke(1.4, circle(44, 51, 5.5)+circle(116, 51, 5.5)+segment(40, 48, 48, 54)+segment(112, 48, 120, 54))
		}},
	{"edge-hidden", "An edging hides the end", "A strip, a moulding or a lipping covers the end: look at the underside, a screw hole or the back.",
		[]string{"structure-id"}, "end is covered", func(c *canvas) {
			c.block([]layer{{frontFoot - frontY, "none"}}, grainAt)
			c.clipped(rect(endX1, frontY, endX2-endX1, frontFoot-frontY), func() { c.rows(endX1, frontY, endX2-endX1, 44, 7) })
			c.stroke(bold, polyline(endX1+7, frontY-6, endX2+7, frontY-6))
			c.words("middle", 59, 72, "?", "font-weight", "bold", "font-size", "24")
		}},
	{"glue-side-sawn", "Saw marks on the glue side", "Even or wild marks of a saw, or the grooves of a toothing plane: the leaf was sawn and is thick.",
		[]string{"veneer-thickness"}, "saw marks", func(c *canvas) {
			c.peeled(func() {
				var b strings.Builder
				for i := range 12 {
					x := 20 + 10*float64(i)
					b.WriteString("M" + num(x) + " 12q8 20 2 50")
				}
				c.stroke(1.2, b.String())
			})
		}},
	{"glue-side-smooth", "A smooth glue side", "Smooth from the knife: the leaf was sliced or peeled and is thin.",
		[]string{"veneer-thickness"}, "smooth", func(c *canvas) {
			c.peeled(func() { c.rows(12, 12, 140, 52, 7) })
		}},
}

// sawTeeth are the marks of a saw along a seam.
func sawTeeth(x1, x2, y float64) string {
	var b strings.Builder
	for x := x1 + 4; x < x2; x += 6 {
		b.WriteString(segment(x, y-3.2, x-2, y))
	}
	return b.String()
}

// peeled is a leaf turned over beside its ground, its glue side hatched by draw.
func (c *canvas) peeled(draw func()) {
	leaf := "M14 22C50 8 110 8 146 22L138 62C106 50 54 50 22 62z"
	c.clipped(leaf, draw)
	c.stroke(bold, leaf)
	c.stroke(1.4, "M22 62C54 50 106 50 138 62L138 65C106 53 54 53 22 65z")
	c.stroke(fine, polyline(8, 90, 152, 90)+polyline(8, 82, 152, 82)+polyline(8, 82, 8, 90)+polyline(152, 82, 152, 90))
	c.clipped(rect(8, 82, 144, 8), func() { c.hatch("core", 8, 82, 144, 8) })
}
