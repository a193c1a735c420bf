package drawing_test

import (
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/drawing"
	"mendwright/engine"
	"mendwright/rules/interval"
)

var number = regexp.MustCompile(`^[0-9.]+$`)

// rule reads the rule in mm beside a section: how many units a mm takes, and where the face lies.
// Every mark of it must fit one scale.
func rule(t testing.TB, els []element) (perMM, face float64) {
	t.Helper()
	var mm, y []float64
	for _, e := range els {
		if e.name == "text" && e.attrs["text-anchor"] == "end" && number.MatchString(e.text) {
			v, err := strconv.ParseFloat(e.text, 64)
			require.NoError(t, err)
			mm, y = append(mm, v), append(y, e.number(t, "y")-drawing.Em*0.35)
		}
	}
	require.GreaterOrEqual(t, len(mm), 2, "a rule with at least two marks")
	require.Zero(t, mm[0])
	last := len(mm) - 1
	perMM, face = (y[last]-y[0])/mm[last], y[0]
	for i := range mm {
		require.InDelta(t, face+mm[i]*perMM, y[i], 0.5, "%g mm", mm[i])
	}
	return perMM, face
}

// levels finds the height of the horizontal lines of a section drawn with these attributes.
func levels(t testing.TB, els []element, attrs map[string]string) []float64 {
	t.Helper()
	line := regexp.MustCompile(`^M[0-9.-]+ ([0-9.-]+)L[0-9.-]+ ([0-9.-]+)$`)
	var out []float64
next:
	for _, e := range els {
		for k, v := range attrs {
			if e.attrs[k] != v {
				continue next
			}
		}
		if m := line.FindStringSubmatch(e.attrs["d"]); m != nil && m[1] == m[2] {
			v, err := strconv.ParseFloat(m[1], 64)
			require.NoError(t, err)
			out = append(out, v)
		}
	}
	return out
}

var (
	cutLines = map[string]string{"stroke": "var(--drawing-mark, currentColor)", "stroke-dasharray": "5 4"}
	keepLine = map[string]string{"stroke-dasharray": "12 5 1 5"}
)

func TestASectionIsDrawnToTheScaleOfItsRule(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 8))
	kinds := []string{"veneer", "plywood", "solid", "laminate", ""}
	within := 0
	for range 500 {
		layer := 0.3 + rnd.Float64()*3
		if rnd.IntN(3) == 0 {
			layer = 5 + rnd.Float64()*40
		}
		take := 0.02 + rnd.Float64()*layer*0.6
		l := drawing.Layers{Name: "Top", Kind: kinds[rnd.IntN(len(kinds))], Layer: r(layer, layer*1.1), Take: r(take, take*1.3), Keep: layer * 0.3}
		if rnd.IntN(2) == 0 {
			l.Film, l.Mark = r(take*0.1, take*0.2), r(take*0.5, take*0.7)
		}
		els := sound(t, l.Draw("p"))
		perMM, face := rule(t, els)
		cut := levels(t, els, cutLines)
		require.Len(t, cut, 2)
		require.InDelta(t, take, (cut[0]-face)/perMM, 0.02*take+1/perMM, "where the mildest cut ends")
		require.InDelta(t, take*1.3, (cut[1]-face)/perMM, 0.02*take+1/perMM, "where the deepest cut ends")
		require.InDelta(t, 1.3, (cut[1]-face)/(cut[0]-face), 0.02*1.3+1/(cut[0]-face), "as the one is to the other")
		keep := levels(t, els, keepLine)
		require.Len(t, keep, 1)
		if !strings.Contains(l.Draw("p").Text, "down to the break") {
			within++
			require.InDelta(t, layer*0.7, (keep[0]-face)/perMM, 0.02*layer, "the keep line, from the thinnest there may be")
		}
	}
	require.Greater(t, within, 150)
}

// A film of a tenth of a millimetre on a board of 20 mm: the board is broken off, the cut is not.
func TestAThickBoardIsBrokenOffSoThatAThinCutIsSeen(t *testing.T) {
	d := drawing.Layers{Name: "Seat", Kind: "solid", Layer: r(20, 21), Film: r(0.08, 0.1), Take: r(0.3, 0.4), Keep: 6}.Draw("p")
	els := sound(t, d)
	cut := levels(t, els, cutLines)
	require.Len(t, cut, 2)
	_, face := rule(t, els)
	assert.Greater(t, cut[0]-face, 60.0, "units, of some 350")
	assert.Contains(t, texts(els), "Depth to scale down to the break, length not.")
	assert.Contains(t, d.Text, "Depth is drawn to scale down to the break, length is not.")

	d = drawing.Layers{Kind: "veneer", Layer: r(0.9, 1), Take: r(0.3, 0.4), Keep: 0.5}.Draw("p")
	assert.Contains(t, texts(sound(t, d)), "Depth to scale, length not to scale.")
}

func TestASectionSaysInWordsWhatItShows(t *testing.T) {
	nb := strings.NewReplacer("\u00a0", " ")
	for name, c := range map[string]struct {
		l    drawing.Layers
		want string
	}{
		"a cut that may end below the keep line": {
			drawing.Layers{Name: "Top", Kind: "veneer", Layer: r(0.88, 0.94), Film: r(0.05, 0.1), Mark: r(0.2, 0.25), Take: r(0.44, 0.61), Keep: 0.3},
			"Top, veneer, in section. The veneer is 0.88 to 0.94 mm thick. The finish on it is 0.05 to 0.1 mm. The mark is 0.2 to 0.25 mm deep. " +
				"The cut takes 0.44 to 0.61 mm, leaves 0.27 to 0.5 mm. Keep line at 0.3 mm above the core; the deepest cut ends below it. Depth is drawn to scale, length is not."},
		"a cut that stays above it": {
			drawing.Layers{Kind: "solid", Layer: r(7, 7), Take: r(0.5, 0.5), Keep: 6},
			"A surface, solid wood, in section. The board is 7 mm thick. The cut takes 0.5 mm, leaves 6.5 mm. Keep line at 6 mm above the underside. " +
				"Depth is drawn to scale down to the break, length is not."},
		"a cut that ends below it in any case": {
			drawing.Layers{Kind: "plywood", Layer: r(0.5, 0.6), Take: r(0.4, 0.5), Keep: 0.3},
			"A surface, plywood, in section. The face ply is 0.5 to 0.6 mm thick. The cut takes 0.4 to 0.5 mm, leaves 0 to 0.2 mm. Keep line at 0.3 mm above the next ply; the cut ends below it. " +
				"Depth is drawn to scale, length is not."},
		"a cut right through": {
			drawing.Layers{Kind: "veneer", Layer: r(0.5, 0.6), Take: r(0.7, 0.8)},
			"A surface, veneer, in section. The veneer is 0.5 to 0.6 mm thick. The cut takes 0.7 to 0.8 mm and leaves nothing of the veneer. Depth is drawn to scale, length is not."},
		"nothing measured": {
			drawing.Layers{Name: "Lid", Kind: "veneer", FilmOpen: true, Usual: r(0.79, 0.91), Keep: 0.5},
			"Lid, veneer, in section. How thick the veneer is was not measured; such a one is usually 0.79 to 0.91 mm, but only a measurement counts. The finish on it was not measured. " +
				"Keep line at 0.5 mm above the core; where that lies is not known. Not to scale."},
		"the cut alone": {
			drawing.Layers{Take: r(0.1, 0.2)},
			"A surface, in section. How thick the layer is was not measured. The cut takes 0.1 to 0.2 mm; what it leaves is not known. Depth is drawn to scale, length is not."},
		"screws from below": {
			drawing.Layers{Kind: "solid", Layer: r(18, 18), Take: r(0.5, 0.6), Tips: r(7, 8), Keep: 6},
			"A surface, solid wood, in section. The board is 18 mm thick. The cut takes 0.5 to 0.6 mm, leaves 17.4 to 17.5 mm. Keep line at 6 mm above the underside. " +
				"Tips of screws come to within 7 to 8 mm of the face. Depth is drawn to scale down to the break, length is not."},
	} {
		d := c.l.Draw("p")
		sound(t, d)
		assert.Equal(t, c.want, nb.Replace(d.Text), name)
	}
}

func TestEveryFigureOfASectionStandsBesideIt(t *testing.T) {
	els := sound(t, drawing.Layers{Name: "Top", Kind: "veneer", Layer: r(0.88, 0.94), Film: r(0.05, 0.1), Mark: r(0.2, 0.25), Take: r(0.44, 0.61), Keep: 0.3}.Draw("p"))
	all := strings.ReplaceAll(strings.Join(texts(els), " "), "\u00a0", " ")
	for _, want := range []string{"finish 0.05 to 0.1 mm", "mark 0.2 to 0.25 mm deep", "cut takes 0.44 to 0.61 mm", "leaves 0.27 to 0.5 mm", "keep line, 0.3 mm above the core", "veneer 0.88 to 0.94 mm", "now", "after", "mm"} {
		assert.Contains(t, all, want)
	}
	els = sound(t, drawing.Layers{Kind: "veneer", FilmOpen: true, Keep: 0.5}.Draw("p"))
	all = strings.Join(texts(els), " ")
	for _, want := range []string{"veneer: not measured", "finish: not measured", "place not known", "Nothing measured: not to scale."} {
		assert.Contains(t, all, want)
	}
}

// Labels of a section must not lie over each other, however close together what they point at is.
func TestLabelsOfASectionKeepApart(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for range 500 {
		v := func() *interval.Range {
			if rnd.IntN(4) == 0 {
				return nil
			}
			a := rnd.Float64() * 2
			return r(a, a+rnd.Float64()*0.2)
		}
		l := drawing.Layers{Kind: []string{"veneer", "solid", "plywood"}[rnd.IntN(3)], Layer: v(), Film: v(), Mark: v(), Take: v(), Keep: rnd.Float64(), Tips: v(), FilmOpen: true}
		var ys []float64
		for _, e := range sound(t, l.Draw("p")) {
			if e.name == "text" && e.attrs["x"] == "258" {
				ys = append(ys, e.number(t, "y"))
			}
		}
		for i := 1; i < len(ys); i++ {
			require.GreaterOrEqual(t, ys[i]-ys[i-1], 14.9, "%v", l)
		}
	}
}

func TestASectionFollowsASandingCheck(t *testing.T) {
	s := &engine.Sanding{KeepMM: 0.5, ThicknessMM: r(0.9, 1), FilmMM: r(0.05, 0.1), MarkMM: r(0.2, 0.3), TakeMM: r(0.4, 0.6), LeftMM: r(0.3, 0.6)}
	l := drawing.FromSanding(s)
	l.Kind = "veneer"
	assert.Contains(t, strings.ReplaceAll(l.Draw("p").Text, "\u00a0", " "), "The cut takes 0.4 to 0.6 mm, leaves 0.3 to 0.6 mm. Keep line at 0.5 mm above the core; the deepest cut ends below it.")

	open := drawing.FromSanding(&engine.Sanding{KeepMM: 0.5, Missing: []string{"surface.film_mm", "surface.layer_mm"}, Estimate: r(0.6, 0.8)})
	assert.True(t, open.FilmOpen)
	assert.Nil(t, open.Layer)
	assert.False(t, drawing.FromSanding(&engine.Sanding{Missing: []string{"surface.layer_mm"}}).FilmOpen)

	// A board of 20 mm with screws 12 to 13 mm into it from below: their tips lie 7 to 8 mm under the face.
	board := drawing.FromSanding(&engine.Sanding{ThicknessMM: r(20, 20), TakeMM: r(0.5, 0.7), Cover: r(6.3, 7.5)})
	require.NotNil(t, board.Tips)
	assert.InDelta(t, 7, board.Tips.Lo, 1e-9)
	assert.InDelta(t, 8, board.Tips.Hi, 1e-9)
}

func TestRangesThatMakeNoSenseAreLeftOut(t *testing.T) {
	bad := r(2, 1)
	d := drawing.Layers{Kind: "veneer", Layer: bad, Film: bad, Mark: r(-3, -1), Take: bad, Keep: -1}.Draw("p")
	sound(t, d)
	assert.NotContains(t, d.Text, "mm")
}
