package drawing_test

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/drawing"
	"mendwright/rules"
)

// boxes are the rectangles of a drawing of that height, filled or only drawn: where they begin, how
// wide they are, where they lie.
func boxes(t testing.TB, els []element, high string, filled bool) (out [][3]float64) {
	t.Helper()
	box := regexp.MustCompile(`^M([0-9.]+) ([0-9.]+)h([0-9.]+)v` + high + `h-`)
	for i, e := range els {
		if e.name != "path" || (e.attrs["fill"] == "currentColor") != filled || i > 0 && els[i-1].name == "clipPath" {
			continue
		}
		if m := box.FindStringSubmatch(e.attrs["d"]); m != nil {
			var v [3]float64
			for i, s := range []string{m[1], m[3], m[2]} {
				var err error
				v[i], err = strconv.ParseFloat(s, 64)
				require.NoError(t, err)
			}
			out = append(out, v)
		}
	}
	return out
}

func plan(n int) drawing.Timeline {
	t := drawing.Timeline{Title: "Plan for the desk"}
	at := 0.0
	for i := range n {
		t.Rows = append(t.Rows, drawing.Row{Label: fmt.Sprintf("Step %d", i+1), Critical: i%2 == 0,
			Bars: []drawing.Bar{{From: at, To: at + 4}, {From: at + 4, To: at + 16, Wait: true}}})
		at += 16
	}
	return t
}

func TestAPlanOfAnyLengthIsDrawnOnSheetsOfTwentyRows(t *testing.T) {
	for n, pages := range map[int]int{0: 0, 1: 1, 20: 1, 21: 2, 40: 2, 41: 3} {
		ds := plan(n).Draw("p")
		require.Len(t, ds, pages, "%d rows", n)
		rows := 0
		for i, d := range ds {
			els := sound(t, d)
			for _, s := range texts(els) {
				if strings.HasPrefix(s, "Step ") {
					rows++
				}
			}
			if pages > 1 {
				assert.Equal(t, fmt.Sprintf("Plan for the desk, part %d of %d", i+1, pages), d.Title)
			}
		}
		assert.Equal(t, n, rows)
	}
}

// Long names take two lines; twenty such rows still fit a sheet, which sound asserts.
func TestTwentyRowsOfLongNamesFitASheet(t *testing.T) {
	p := plan(20)
	for i := range p.Rows {
		p.Rows[i].Label = "Glue the loose joint of the left back leg and clamp it square with softwood pads"
	}
	ds := p.Draw("p")
	require.Len(t, ds, 1)
	sound(t, ds[0])
}

func TestBarsAreAsLongAsTheyLast(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	for range 200 {
		work, wait := 5+rnd.Float64()*20, 5+rnd.Float64()*40
		p := drawing.Timeline{Rows: []drawing.Row{
			{Label: "a", Bars: []drawing.Bar{{From: 0, To: work}, {From: work, To: work + wait, Wait: true}}},
			{Label: "b", Bars: []drawing.Bar{{From: work + wait, To: work + wait + 5}}},
		}}
		els := sound(t, p.Draw("p")[0])
		solid, open := boxes(t, els, "12", true), boxes(t, els, "10", false)
		require.Len(t, solid, 3, "two of work, one in the key")
		require.Len(t, open, 2, "one wait, one in the key")
		scale := 312 / (work + wait + 5)
		require.InDelta(t, work*scale, solid[0][1], 0.02)
		require.InDelta(t, wait*scale, open[0][1], 0.02)
		require.InDelta(t, solid[0][0]+work*scale, open[0][0], 0.02, "the wait begins where the work ends")
		require.InDelta(t, open[0][0]+wait*scale, solid[1][0], 0.02)
		require.Greater(t, solid[1][2], solid[0][2], "one row below the other")
	}
}

func TestAShortStepOfALongPlanIsStillSeen(t *testing.T) {
	p := drawing.Timeline{Rows: []drawing.Row{
		{Label: "a", Bars: []drawing.Bar{{From: 0, To: 0.1}}},
		{Label: "b", Bars: []drawing.Bar{{From: 700, To: 700.1}}},
	}}
	for _, b := range boxes(t, sound(t, p.Draw("p")[0]), "12", true) {
		assert.GreaterOrEqual(t, b[1], 3.0)
		assert.LessOrEqual(t, b[0]+b[1], 520.0)
	}
}

func TestWhatDecidesTheEndCarriesASignAndWords(t *testing.T) {
	signs := func(p drawing.Timeline) int {
		n := 0
		for _, e := range sound(t, p.Draw("p")[0]) {
			if e.name == "path" && regexp.MustCompile(`^M[0-9. ]+L[0-9. ]+L[0-9. ]+z$`).MatchString(e.attrs["d"]) {
				n++
			}
		}
		return n
	}
	p := plan(4)
	assert.Equal(t, 3, signs(p), "two rows and the key")
	p.Rows[1].Critical = true
	assert.Equal(t, 4, signs(p))
	assert.Equal(t, "Plan for the desk. 1. Step 1: work from 0 h to 4 h, wait from 4 h to 16 h; a delay here delays the end. "+
		"2. Step 2: work from 16 h to 20 h, wait from 20 h to 1 day 8 h; a delay here delays the end. "+
		"3. Step 3: work from 1 day 8 h to 1 day 12 h, wait from 1 day 12 h to 2 days; a delay here delays the end. "+
		"4. Step 4: work from 2 days to 2 days 4 h, wait from 2 days 4 h to 2 days 16 h.",
		strings.ReplaceAll(p.Draw("p")[0].Text, "\u00a0", " "))
}

func TestTheTopNamesHoursDaysOrWhatTheCallerSays(t *testing.T) {
	top := func(p drawing.Timeline) []string {
		var out []string
		for _, e := range sound(t, p.Draw("p")[0]) {
			if e.name == "text" && e.attrs["y"] == "38" {
				out = append(out, strings.ReplaceAll(e.text, "\u00a0", " "))
			}
		}
		return out
	}
	assert.Equal(t, []string{"0 h", "3 h", "6 h", "9 h", "12 h", "15 h"}, top(plan(1)))
	assert.Equal(t, []string{"day 1", "day 2", "day 3"}, top(plan(4)))
	assert.Equal(t, []string{"day 1", "day 6", "day 11", "day 16", "day 21"}, top(plan(40)), "the last has no room")
	p := plan(4)
	p.Ticks = []drawing.Tick{{At: 0, Label: "Tue 3 March"}, {At: 24, Label: "Wed 4 March"}, {At: 48, Label: "Thu 5 March"}, {At: 900, Label: "never"}}
	assert.Equal(t, []string{"Tue 3 March", "Wed 4 March", "Thu 5 March"}, top(p))
	// A hundred days do not run into each other.
	p = plan(200)
	for d := range 130 {
		p.Ticks = append(p.Ticks, drawing.Tick{At: float64(d) * 24, Label: fmt.Sprintf("%d March", d)})
	}
	assert.Less(t, len(top(p)), 8)
}

func TestBarsThatMakeNoSenseAreLeftOut(t *testing.T) {
	p := drawing.Timeline{Rows: []drawing.Row{{Label: "a", Bars: []drawing.Bar{{From: 3, To: 1}, {From: -1, To: 2}, {From: 0, To: 1e12}}}}}
	d := p.Draw("p")[0]
	assert.Len(t, boxes(t, sound(t, d), "12", true), 1, "the key alone")
	assert.Equal(t, "Plan. 1. a: no time.", d.Text)
}

func TestTheMatrixIsThatOfTheRulesWithOneCellMarked(t *testing.T) {
	for i, s := range rules.Severities {
		for j, l := range rules.Levels {
			d := drawing.Matrix("p", s, l)
			els := sound(t, d)
			risk := rules.RiskOf(i, j).String()
			assert.Equal(t, fmt.Sprintf("Risk matrix: %s and %s, risk %s", s, l, risk), d.Title)
			var marked []element
			for _, e := range els {
				if e.attrs["stroke-width"] == "3.4" {
					marked = append(marked, e)
				}
			}
			require.Len(t, marked, 1)
			at := boxes(t, marked, "24", false)
			require.Len(t, at, 1)
			// The word in the marked cell is the risk.
			var in []string
			for _, e := range els {
				if e.name != "text" {
					continue
				}
				x, y := e.number(t, "x"), e.number(t, "y")
				if x > at[0][0] && x < at[0][0]+at[0][1] && y > at[0][2] && y < at[0][2]+24 {
					in = append(in, e.text)
				}
			}
			assert.Equal(t, []string{risk}, in, "%s %s", s, l)
		}
	}
	d := drawing.Matrix("p", "bad", "often")
	for _, e := range sound(t, d) {
		assert.NotEqual(t, "3.4", e.attrs["stroke-width"])
	}
	assert.Equal(t, "Risk matrix", d.Title)
	words := strings.Join(texts(parsed(t, d)), " ")
	for risk, n := range map[string]int{"high": 5, "serious": 4, "medium": 8, "low": 3} { // MIL-STD-882E, table III
		assert.Equal(t, n, strings.Count(words, risk), risk)
	}
}
