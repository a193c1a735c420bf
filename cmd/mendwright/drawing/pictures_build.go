package drawing

// buildPictures show joints, runners and drawers.
var buildPictures = []picture{
	{"joint-loose", "Loose tenon", "The gap opens and shuts when the joint is racked; tenon and mortise are whole.",
		[]string{"joint-practice"}, "whole, but loose", func(c *canvas) {
			c.mortise()
			c.rail(76, "M76 34H48V66H76")
			c.stroke(1.2, segment(42, 31, 74, 31)+segment(42, 69, 74, 69)+segment(43, 34, 43, 66), "stroke-dasharray", "2 3")
			c.arrow(112, 22, 134, 22)
			c.arrow(134, 80, 112, 80)
		}},
	{"joint-stub", "Broken tenon", "One part turns or comes away and a stub stays behind in the mortise.",
		[]string{"joint-practice"}, "a stub stays", func(c *canvas) {
			c.mortise()
			c.tint("M42 32H64L60 40L67 47L61 56L66 68H42z", 0.3)
			c.stroke(bold, "M42 32H64L60 40L67 47L61 56L66 68H42z")
			c.rail(96, "M96 34H86L82 42L89 49L83 58L88 66H96")
			c.arrow(112, 80, 134, 80)
		}},
	{"joint-metal", "Nails or a plate", "Nails, screws or a plate were added to hold the joint.",
		[]string{"joint-practice"}, "held by metal", func(c *canvas) {
			c.mortise()
			c.rail(72, "M72 34H42V66H72")
			plate := "M20 44H120V56H76V90H60V56H20z"
			c.tint(plate, 0.35)
			c.stroke(bold, plate)
			for _, p := range [][2]float64{{30, 50}, {52, 50}, {90, 50}, {110, 50}, {68, 80}} {
				c.stroke(1.4, circle(p[0], p[1], 3.4)+segment(p[0]-2, p[1]-2, p[0]+2, p[1]+2))
			}
		}},
	{"joint-overglued", "Thick glue of an earlier repair", "The joint moves in thick glue; beads and runs of it stand at the shoulder.",
		[]string{"joint-practice"}, "thick old glue", func(c *canvas) {
			c.mortise()
			glue := "M42 30H76V34H50V66H76V70H42z"
			c.solid(glue, ink, "fill-opacity", "0.75")
			c.rail(76, "M76 34H50V66H76")
			c.solid(circle(74, 26, 4.5)+circle(75, 74, 5)+circle(70, 82, 3.4)+ellipse(72, 91, 2.6, 4), ink, "fill-opacity", "0.75")
		}},
	{"joint-tenon", "Tenon in a mortise", "A square shadow in the gap: a square tongue sits in a square hole.",
		[]string{"practice"}, "square tongue", func(c *canvas) {
			c.mortise()
			c.rail(92, "M92 36H62V64H92")
		}},
	{"joint-dowel", "Dowel or turned end", "A round shadow in the gap: a round peg sits in a round hole.",
		[]string{"practice"}, "round peg", func(c *canvas) {
			c.stroke(bold, "M16 10H62V92H16z")
			c.clipped(rect(16, 10, 46, 82), func() {
				c.outside(ellipse(62, 50, 9, 12), func() {
					c.stroke(0.7, segment(24, 10, 24, 92)+segment(33, 10, 32, 92)+segment(42, 10, 43, 92)+segment(52, 10, 51, 92))
				})
			})
			c.tint("M62 38A9 12 0 0 0 62 62z", 0.6)
			c.stroke(1.6, "M62 38A9 12 0 0 0 62 62")
			c.rail(104, "M104 39H82A7 11 0 0 0 82 61H104")
			c.stroke(1.4, "M82 39A7 11 0 0 1 82 61")
			c.stroke(bold, segment(104, 34, 104, 39)+segment(104, 61, 104, 66))
		}},
	{"runner-worn", "Worn runner", "A groove or a step is worn into runner and drawer side; the drawer drops in front and drags.",
		[]string{"drawer-practice"}, "groove worn in", func(c *canvas) {
			c.stroke(fine, polyline(8, 64, 42, 64, 46, 74, 118, 74, 152, 66), "stroke-dasharray", "3 3")
			worn := "M8 88V64H36C44 64 46 75 58 76C90 78 120 74 152 70V88z"
			c.clipped(worn, func() { c.rows(8, 60, 144, 30, 5) })
			c.stroke(bold, worn)
			side := "M8 14H152V66C120 70 90 74 58 72C46 71 44 60 36 60H8z"
			c.clipped(side, func() { c.rows(8, 14, 144, 64, 11) })
			c.stroke(1.6, side)
			c.words("middle", 80, 44, "drawer side")
		}},
	{"drawer-sticks", "The drawer sticks", "It drags or jams on its sides or its top edge; rubbed places are bright.",
		[]string{"drawer-practice"}, "drags, jams", func(c *canvas) {
			c.drawer(0)
			c.solid(rect(24, 27, 40, 4)+rect(134, 40, 3, 22), ink)
			c.stroke(bold, "M18 16l7 7M34 12l2 9M50 14l-3 8")
		}},
	{"drawer-drops", "The drawer drops", "It tilts or drops in front and must be lifted to shut: runners are worn.",
		[]string{"drawer-practice"}, "drops in front", func(c *canvas) {
			c.drawer(7)
			c.arrow(80, 44, 80, 76)
		}},
}

// mortise is a post with a mortise open to the right, in section.
func (c *canvas) mortise() {
	post := "M16 10H72V30H42V70H72V92H16z"
	c.clipped(post, func() {
		c.stroke(0.7, segment(24, 10, 24, 92)+segment(33, 10, 33, 92)+segment(44, 10, 44, 92)+segment(54, 10, 55, 92)+segment(64, 10, 63, 92))
	})
	c.stroke(bold, post)
}

// rail is a rail from the right whose end is the path end, from its upper to its lower shoulder at x.
func (c *canvas) rail(x float64, end string) {
	c.stroke(bold, end+"M"+num(x)+" 34V22H150M"+num(x)+" 66V78H150")
	c.clipped(rect(x, 22, 150-x, 56), func() { c.rows(x, 22, 150-x, 56, 8) })
	c.stroke(1.4, "M150 22q-4 14 0 28t0 28")
}

// drawer is a drawer front in its case, dropped by that much at the right.
func (c *canvas) drawer(drop float64) {
	c.stroke(bold, rect(8, 10, 144, 82)+rect(20, 24, 120, 58))
	y := 28 + drop
	front := polygon(24, y-drop*0.3, 136, y, 136, y+50-drop*0.4, 24, y+50-drop*0.7)
	c.clipped(front, func() { c.rows(20, 20, 120, 66, 8) })
	c.stroke(bold, front)
	c.stroke(1.8, circle(80, y+24, 5))
}
