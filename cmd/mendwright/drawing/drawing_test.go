package drawing_test

import (
	"encoding/xml"
	"errors"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/drawing"
	"mendwright/rules/interval"
)

// element is one element of a drawing as a reader of XML sees it.
type element struct {
	name  string
	attrs map[string]string
	text  string
	depth int
}

func (e element) number(t testing.TB, attr string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(e.attrs[attr], 64)
	require.NoError(t, err, "%s of %v", attr, e)
	return v
}

// parsed reads a drawing strictly and returns its elements in order.
func parsed(t testing.TB, d drawing.Drawing) []element {
	t.Helper()
	dec := xml.NewDecoder(strings.NewReader(string(d.SVG)))
	dec.Strict = true
	var out []element
	var open []int
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err, "%s: %s", d.Title, d.SVG)
		switch tok := tok.(type) {
		case xml.StartElement:
			e := element{name: tok.Name.Local, attrs: map[string]string{}, depth: len(open)}
			for _, a := range tok.Attr {
				_, twice := e.attrs[a.Name.Local]
				require.False(t, twice, "%s stands twice in %s", a.Name.Local, e.name)
				e.attrs[a.Name.Local] = a.Value
			}
			open = append(open, len(out))
			out = append(out, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				out[open[len(open)-1]].text += string(tok)
			}
		}
	}
	require.NotEmpty(t, out)
	return out
}

var (
	reference = regexp.MustCompile(`^url\(#([A-Za-z0-9_-]+)\)$`)
	forbidden = regexp.MustCompile(`(?i)^(on|style$|href$|class$)`)
	plainID   = regexp.MustCompile(`^dr-[A-Za-z0-9_-]*$`)
	colours   = []string{"", "none", "currentColor", "var(--drawing-mark, currentColor)", "var(--drawing-ink, currentColor)",
		"var(--picture-ink, #000)", "var(--picture-paper, #fff)"}
)

// sound asserts of a drawing what holds of every one, and returns its elements.
func sound(t testing.TB, d drawing.Drawing) []element {
	t.Helper()
	require.True(t, utf8.ValidString(string(d.SVG)))
	els := parsed(t, d)
	root := els[0]
	require.Equal(t, "svg", root.name)
	require.Equal(t, "img", root.attrs["role"])
	require.NotContains(t, root.attrs, "width", "no size of its own")
	box := strings.Fields(root.attrs["viewBox"])
	require.Len(t, box, 4)
	w, errW := strconv.ParseFloat(box[2], 64)
	h, errH := strconv.ParseFloat(box[3], 64)
	require.NoError(t, errors.Join(errW, errH))
	require.Positive(t, min(w, h))
	require.Less(t, h/w*d.WidthMM, 250.0, "%s: it fits a sheet", d.Title)

	ids, refs := map[string]bool{}, []string{}
	var title, desc string
	for _, e := range els {
		require.True(t, slices.Contains([]string{"svg", "title", "desc", "g", "path", "text", "clipPath"}, e.name), e.name)
		for k, v := range e.attrs {
			if forbidden.MatchString(k) || strings.Contains(v, "NaN") || strings.Contains(v, "Inf") {
				require.Fail(t, "an attribute that may not be", "%s=%s of %s", k, v, e.name)
			}
			if k == "fill" || k == "stroke" || k == "color" {
				require.True(t, slices.Contains(colours, v), v)
			}
			if m := reference.FindStringSubmatch(v); m != nil {
				refs = append(refs, m[1])
			} else if strings.Contains(v, "url(") {
				require.Fail(t, "an address", v)
			}
		}
		if id, ok := e.attrs["id"]; ok {
			require.True(t, plainID.MatchString(id), id)
			require.False(t, ids[id], "the id %s stands twice", id)
			ids[id] = true
		}
		switch e.name {
		case "title":
			title = e.text
			refs = append(refs, strings.Fields(root.attrs["aria-labelledby"])[0])
		case "desc":
			desc = e.text
			refs = append(refs, strings.Fields(root.attrs["aria-labelledby"])[1])
		case "text":
			size := drawing.Em
			if s, ok := e.attrs["font-size"]; ok {
				size, _ = strconv.ParseFloat(s, 64)
			}
			require.GreaterOrEqual(t, size/w*d.WidthMM/25.4*72, 9.0, "%q is nine points high in print", e.text)
			wide := drawing.Width(e.text, size)
			if e.attrs["font-weight"] == "bold" {
				wide *= 1.1
			}
			x, y := e.number(t, "x"), e.number(t, "y")
			switch e.attrs["text-anchor"] {
			case "middle":
				x -= wide / 2
			case "end":
				x -= wide
			}
			require.GreaterOrEqual(t, x, 0.0, "%s: %q", d.Title, e.text)
			require.LessOrEqual(t, x+wide, w+0.01, "%s: %q", d.Title, e.text)
			require.GreaterOrEqual(t, y, size*0.75, "%s: %q", d.Title, e.text)
			require.LessOrEqual(t, y+size*0.25, h, "%s: %q", d.Title, e.text)
		}
	}
	for _, r := range refs {
		require.True(t, ids[r], "%s is not there", r)
	}
	require.NotEmpty(t, title)
	require.NotEmpty(t, desc)
	require.Equal(t, d.Title, title)
	require.Equal(t, d.Text, desc)
	return els
}

// texts are the words of a drawing.
func texts(els []element) []string {
	var out []string
	for _, e := range els {
		if e.name == "text" {
			out = append(out, e.text)
		}
	}
	return out
}

func r(lo, hi float64) *interval.Range { return &interval.Range{Lo: lo, Hi: hi} }

// hostile are words that somebody may have typed.
var hostile = []string{
	`<script>alert(1)</script>`, `"><svg onload=alert(1)>`, `' onclick='x`, `]]><!-- `, "a\x00b\x1bc\nd\te", "&amp;&#0;&lt;",
	"\u202egnp.exe", "\xff\xfe broken", strings.Repeat("W", 500), strings.Repeat("word ", 200), strings.Repeat("漢", 200),
	"e" + strings.Repeat("\u0301", 300), "", "   ", "\ufffe\uffff", "url(#x)",
}

func TestWordsFromOutsideStayWords(t *testing.T) {
	for _, w := range hostile {
		els := sound(t, drawing.Layers{Name: w, Kind: w, Layer: r(0.9, 1), Take: r(0.3, 0.4), Keep: 0.5}.Draw(w))
		for _, s := range texts(els) {
			assert.NotContains(t, s, "\u202e")
		}
		row := drawing.Row{Label: w, Critical: true, Bars: []drawing.Bar{{From: 0, To: 3}, {From: 3, To: 30, Wait: true}}}
		for _, d := range (drawing.Timeline{Title: w, Rows: []drawing.Row{row, row}, Ticks: []drawing.Tick{{At: 0, Label: w}, {At: 25, Label: w}}}).Draw(w) {
			sound(t, d)
			assert.NotContains(t, string(d.SVG), "<script")
		}
		sound(t, drawing.Matrix(w, w, w))
		d, ok := drawing.Picture(w, "dent")
		require.True(t, ok)
		sound(t, d)
	}
}

func FuzzWords(f *testing.F) {
	for _, w := range hostile {
		f.Add(w, 1.5, 0.2)
	}
	f.Fuzz(func(t *testing.T, w string, a, b float64) {
		sound(t, drawing.Layers{Name: w, Kind: "veneer", Layer: r(a, a+b), Film: r(b, a), Take: r(a*b, a), Mark: r(0, b), Keep: b, FilmOpen: true}.Draw(w))
		for _, d := range (drawing.Timeline{Title: w, Rows: []drawing.Row{{Label: w, Bars: []drawing.Bar{{From: a, To: b}, {From: b, To: a, Wait: true}}}},
			Ticks: []drawing.Tick{{At: a, Label: w}}}).Draw(w) {
			sound(t, d)
		}
	})
}

func TestTwoPrefixesGiveTwoSetsOfIDs(t *testing.T) {
	ids := func(prefix string) []string {
		d, _ := drawing.Picture(prefix, "dent")
		var out []string
		for _, e := range parsed(t, d) {
			if id, ok := e.attrs["id"]; ok {
				out = append(out, id)
			}
		}
		return out
	}
	for _, pair := range [][2]string{{"a", "b"}, {"a.b", "a b"}, {"1", "1-"}, {"é", "e"}, {"", "x"}} {
		for _, id := range ids(pair[0]) {
			assert.NotContains(t, ids(pair[1]), id, pair)
		}
	}
}

func TestTheSameIsDrawnTheSameWayEveryTime(t *testing.T) {
	for _, id := range drawing.Pictures() {
		a, _ := drawing.Picture("p", id)
		b, _ := drawing.Picture("p", id)
		require.Equal(t, a, b)
	}
}

// The estimate of how wide words are must not fall below what a wide typeface needs: these widths
// were measured in one, in hundredths of the height.
func TestWordsAreNotTakenForNarrower(t *testing.T) {
	for s, want := range map[string]float64{"keep line, 0.3 mm above": 1240.8, "catastrophic": 617.8, "WWWW": 395.5, "hands-on work": 739.9} {
		assert.GreaterOrEqual(t, drawing.Width(s, 100), want*0.98, s)
		assert.Less(t, drawing.Width(s, 100), want*1.25, s)
	}
}
