package drawing

import (
	"fmt"
	"math"
	"strings"

	"mendwright/rules/quantity"
)

// Timeline is a plan as bars of time, one row a step. Times are in hours from its start.
type Timeline struct {
	Title string
	Rows  []Row
	// Ticks are the days or hours named along the top; without them the drawing counts hours or days.
	Ticks []Tick
}

// Row is one step of a plan. Critical says that a delay of it delays the end.
type Row struct {
	Label    string
	Critical bool
	Bars     []Bar
}

// Bar is a time of hands-on work, or a wait, in hours from the start of the plan.
type Bar struct {
	From, To float64
	Wait     bool
}

// Tick names an hour of a plan, such as "Tue 3 March".
type Tick struct {
	At    float64
	Label string
}

// RowsAPage is how many rows a drawing of a timeline has at most.
const RowsAPage = 20

// The place of things on a timeline, in units.
const (
	timeW    = 520.0
	signX    = 4.0
	stepX    = 17.0
	barX     = 196.0
	barEnd   = 508.0
	rowsY    = 52.0
	barH     = 12.0
	leastBar = 3.0     // the narrowest bar of work, so that it is seen
	mostTime = 1000000 // hours; nobody plans further
)

// Draw draws the timeline, at most RowsAPage rows to a drawing, all on one scale. Prefix begins the ids. A
// bar that ends before it begins, or begins before the plan, is left out. Without rows there are no
// drawings.
func (t Timeline) Draw(prefix string) []Drawing {
	rows, end := t.sound()
	ticks := t.ticks(end)
	pages := (len(rows) + RowsAPage - 1) / RowsAPage
	var out []Drawing
	for p := range pages {
		title := clean(t.Title, maxLabel)
		if title == "" {
			title = "Plan"
		}
		if pages > 1 {
			title += fmt.Sprintf(", part %d of %d", p+1, pages)
		}
		page := rows[p*len(rows)/pages : (p+1)*len(rows)/pages] // as long as each other: no row stands alone
		out = append(out, drawPage(fmt.Sprintf("%s-%d", prefix, p+1), title, page, ticks, end))
	}
	return out
}

// sound is the rows with words and bars that can be drawn, and the end of the last bar in hours.
func (t Timeline) sound() (rows []Row, end float64) {
	for _, r := range t.Rows {
		row := Row{Label: clean(r.Label, maxLabel), Critical: r.Critical}
		for _, b := range r.Bars {
			if b.From >= 0 && b.From <= b.To && b.To <= mostTime {
				row.Bars = append(row.Bars, b)
				end = max(end, b.To)
			}
		}
		rows = append(rows, row)
	}
	if end == 0 {
		end = 1
	}
	return rows, end
}

// ticks are those of the caller that lie in the plan, or counted ones.
func (t Timeline) ticks(end float64) []Tick {
	var out []Tick
	for _, k := range t.Ticks {
		if k.At >= 0 && k.At <= end {
			out = append(out, Tick{k.At, clean(k.Label, 30)})
		}
	}
	if len(out) > 0 {
		return out
	}
	if end <= 48 {
		step := 0.25
		for _, s := range []float64{0.5, 1, 2, 3, 6, 12} {
			if end/step > 6 {
				step = s
			}
		}
		for i := 0; float64(i)*step <= end; i++ {
			at := float64(i) * step
			out = append(out, Tick{at, quantity.Number(at, 4) + "\u00a0h"})
		}
		return out
	}
	days, step := int(end/24), 1
	for _, s := range []int{2, 5, 7, 14, 28, 91, 182, 364} {
		if days/step > 5 {
			step = s
		}
	}
	for step*6 < days {
		step *= 10
	}
	for d := 0; d <= days; d += step {
		out = append(out, Tick{float64(d) * 24, fmt.Sprintf("day %d", d+1)})
	}
	return out
}

func drawPage(prefix, title string, rows []Row, ticks []Tick, end float64) Drawing {
	type laid struct {
		Row
		lines  []string
		y, mid float64
	}
	var lay []laid
	y := rowsY
	for _, r := range rows {
		lines := wrap(r.Label, em, barX-stepX-10, 2)
		h := max(lead*float64(len(lines)), barH) + 9
		lay = append(lay, laid{r, lines, y, y + h/2})
		y += h
	}
	foot := y
	c := newCanvas(prefix, timeW, foot+34)
	at := func(hour float64) float64 { return barX + (barEnd-barX)*hour/end }
	c.words("start", signX, 16, shorten(title, em*1.15, timeW-10), "font-weight", "bold")
	free := 0.0
	for _, k := range ticks {
		x := at(k.At)
		c.stroke(0.6, segment(x, rowsY-10, x, foot), "stroke-dasharray", "1 3")
		w := width(k.Label, em)
		left := min(x-3, timeW-2-w)
		if left < free {
			continue
		}
		c.words("start", left, rowsY-14, k.Label)
		free = left + w + 8
	}
	c.stroke(fine, segment(signX, rowsY-6, barEnd, rowsY-6)+segment(signX, foot, barEnd, foot))
	for i, r := range lay {
		if i > 0 {
			c.stroke(0.4, segment(signX, r.y, barEnd, r.y), "stroke-opacity", "0.5")
		}
		if r.Critical {
			critical(c, signX, r.mid)
		}
		top := r.mid - lead*float64(len(r.lines))/2
		for n, line := range r.lines {
			c.words("start", stepX, top+lead*float64(n)+em*0.85, line)
		}
		for _, b := range r.Bars {
			bar(c, at(b.From), at(b.To), r.mid, b.Wait)
		}
	}
	key := foot + 22
	bar(c, signX, signX+26, key-5, false)
	c.words("start", signX+32, key, "hands-on work")
	bar(c, 150, 176, key-5, true)
	c.words("start", 182, key, "wait")
	critical(c, 236, key-5)
	c.words("start", 249, key, "a delay here delays the end")
	return c.done(title, timeText(title, rows))
}

// critical is the sign of a row that decides the end.
func critical(c *canvas, x, y float64) { c.solid(polygon(x, y-5.5, x+9, y, x, y+5.5), ink) }

func bar(c *canvas, from, to, mid float64, wait bool) {
	y := mid - barH/2
	if !wait {
		w := max(to-from, leastBar)
		c.solid(rect(min(from, barEnd-w), y, w, barH), ink)
		return
	}
	if to-from < 0.5 {
		return
	}
	box := rect(from, y+1, to-from, barH-2)
	c.clipped(box, func() { c.slant(from, y+1, to-from, barH-2, 5, 0.8) })
	c.stroke(0.8, box)
}

// timeText tells the rows one by one.
func timeText(title string, rows []Row) string {
	var b strings.Builder
	b.WriteString(title + ".")
	for i, r := range rows {
		fmt.Fprintf(&b, " %d. %s:", i+1, r.Label)
		for j, s := range r.Bars {
			what := "work"
			if s.Wait {
				what = "wait"
			}
			if j > 0 {
				b.WriteString(",")
			}
			fmt.Fprintf(&b, " %s from %s to %s", what, clock(s.From), clock(s.To))
		}
		if len(r.Bars) == 0 {
			b.WriteString(" no time")
		}
		if r.Critical {
			b.WriteString("; a delay here delays the end")
		}
		b.WriteString(".")
	}
	return b.String()
}

// clock says how long after the start of a plan something is.
func clock(hours float64) string {
	minutes := int(math.Round(hours * 60))
	days, h, m := minutes/1440, minutes/60%24, minutes%60
	var parts []string
	add := func(n int, unit string) {
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d\u00a0%s", n, unit))
		}
	}
	switch days {
	case 0:
	case 1:
		add(1, "day")
	default:
		add(days, "days")
	}
	add(h, "h")
	add(m, "min")
	if parts == nil {
		return "0\u00a0h"
	}
	return strings.Join(parts, " ")
}
