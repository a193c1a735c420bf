package drawing

import (
	"fmt"
	"slices"

	"mendwright/rules"
)

// Matrix is the risk matrix of MIL-STD-882E with one cell marked, that of a harm of this severity
// and level. The words are those of rules.Severities and rules.Levels; with others no cell is marked.
func Matrix(prefix, severity, level string) Drawing {
	const (
		left, top     = 88.0, 56.0
		cellW, cellH  = 87.0, 28.0
		w, h          = left + 4*cellW + 4, top + 6*cellH + 8
		leftmost, gap = 4.0, 3.0
	)
	c := newCanvas(prefix, w, h)
	col, row := slices.Index(rules.Severities, severity), slices.Index(rules.Levels, level)
	c.words("middle", left+2*cellW, 16, "how bad it would be")
	c.words("start", leftmost, 40, "how likely")
	for i, s := range rules.Severities {
		weight := "normal"
		if i == col {
			weight = "bold"
		}
		c.words("middle", left+(float64(i)+0.5)*cellW, 40, s, "font-weight", weight)
	}
	for j, l := range rules.Levels {
		y := top + float64(j)*cellH
		weight := "normal"
		if j == row {
			weight = "bold"
		}
		c.words("start", leftmost, y+cellH*0.5+em*0.35, l, "font-weight", weight)
		for i := range rules.Severities {
			x := left + float64(i)*cellW
			risk := rules.RiskOf(i, j)
			c.tint(rect(x, y, cellW, cellH), [...]float64{0.34, 0.22, 0.12, 0.05, 0}[risk])
			c.stroke(0.8, rect(x, y, cellW, cellH))
			c.words("middle", x+cellW/2, y+cellH*0.5+em*0.35, risk.String())
		}
	}
	text := "The risk matrix of MIL-STD-882E: from frequent and catastrophic, a high risk, to improbable and negligible, a low one."
	title := "Risk matrix"
	if col >= 0 && row >= 0 {
		x, y := left+float64(col)*cellW, top+float64(row)*cellH
		c.stroke(3.4, rect(x+gap-1, y+gap-1, cellW-2*gap+2, cellH-2*gap+2), "stroke", point)
		c.solid(polygon(x-5, y+cellH/2-6, x+7, y+cellH/2, x-5, y+cellH/2+6), point)
		risk := rules.RiskOf(col, row)
		title = fmt.Sprintf("Risk matrix: %s and %s, risk %s", severity, level, risk)
		text = fmt.Sprintf("The harm would be %s and is %s: by the risk matrix of MIL-STD-882E the risk is %s.", severity, level, risk)
	}
	d := c.done(title, text)
	d.Sources = []string{"mil-std-882e"}
	return d
}
