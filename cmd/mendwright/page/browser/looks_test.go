package browser_test

import (
	"cmp"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// allPages are the pages that a person can come to, by a name for each.
var allPages = []struct{ name, path string }{
	{"home", "/"},
	{"job", "/jobs/table-top"},
	{"newmark", "/jobs/table-top/mark"},
	{"question", "/jobs/stool/marks/ring/ask"},
	{"choices", "/jobs/stool/marks/ring/ask/surface.layer"},
	{"fibres", "/jobs/table-top/marks/dent/ask/defect.fibres"},
	{"measure", "/jobs/table-top/marks/dent/ask/defect.depth_mm"},
	{"change", "/jobs/table-top/marks/ring/ask/defect.colour"},
	{"changed", "/jobs/table-top/marks/dent/ask?after=surface.glue&was=epoxy"},
	{"conflict", "/jobs/lid/marks/dent/ask"},
	{"nomore", "/jobs/table-top/marks/dent/ask"},
	{"answers", "/jobs/table-top/marks/dent/answers"},
	{"result", "/jobs/table-top/marks/dent"},
	{"result-ring", "/jobs/table-top/marks/ring"},
	{"why", "/jobs/table-top/marks/dent/why/fill-with-wax-stick"},
	{"plan", "/jobs/table-top/plan"},
	{"sand", "/sand?layer=veneer&thickness=0.9+mm&mark=0.1+mm&stripped=yes&grits=120,150,180"},
	{"sand-wrong", "/sand?layer=veneer&grits=glass"},
	{"air", "/air?solvent=mineral-spirits&amount=30+ml&room=40+m3&place=closed-room&coat=oil&humidity=60+%25"},
	{"why-not", "/jobs/table-top/marks/dent/why/raise-with-steam"},
	{"sorry", "/jobs/none"},
}

// sheets are pages too, made to be printed: nobody taps on them.
var sheets = []struct{ name, path string }{{"sheet", "/jobs/table-top/sheet"}, {"sheet-desk", "/jobs/plan-writing-desk/sheet"}}

func allJobs(t *testing.T) map[string]string {
	t.Helper()
	return map[string]string{
		"table-top.yaml": example(t, "table-top.yaml"), "brackets.yaml": example(t, "brackets.yaml"), "plan-writing-desk.yaml": example(t, "plan-writing-desk.yaml"), "stool.yaml": stool,
		"lid.yaml": "format: 1\nsurfaces:\n  lid: {layer: solid, end_grain: stops, picture_repeats: no}\ndefects:\n  - {id: dent, on: lid, form: spot}\n",
		"bad.yaml": "format: 1\npiece: {age: someday}\n",
	}
}

var screens = []screen{{360, 640, false}, {360, 640, true}, {768, 1024, false}, {768, 1024, true}, {1280, 800, false}, {1280, 800, true}}

// small lists what can be tapped and is smaller than a finger: less than 44 pixels high. A link within
// a sentence is as high as its line.
const small = `[...document.querySelectorAll("main button, main a, main input:not([type=hidden]), main select, main summary, header a")]
	.filter(e => e.offsetParent !== null && !(e.tagName === "A" && e.closest(".said")) && !e.closest("details:not([open]) > :not(summary)"))
	.map(e => [e.closest("label.pick") ?? e, e])
	.filter(([box]) => box.getBoundingClientRect().height < 43.5)
	.map(([, e]) => e.outerHTML.slice(0, 120))`

// over lists what stands over the right edge.
const over = `[...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > document.documentElement.clientWidth + 0.5 && e.offsetParent !== null && !e.closest("svg"))
	.map(e => e.outerHTML.slice(0, 120))`

// aboveFold names what must be seen of a page without scrolling.
var aboveFold = map[string]string{
	"question": ".answer", "choices": ".answer", "change": ".answer", "fibres": ".answer", "conflict": ".answer", "measure": "form.question button.main",
	"sand": ".verdict", "air": ".verdict", "result": ".best .risk", "result-ring": ".best .risk",
}

// TestEveryPageFitsItsScreen: nothing needs sideways scrolling, what is tapped is large enough, and what
// one came for is above the fold.
func TestEveryPageFitsItsScreen(t *testing.T) {
	if raced {
		t.Skip("one request after another; the race detector learns nothing from it")
	}
	ctx := tab(t, phone)
	b := serve(t, allJobs(t))
	for _, p := range allPages {
		do(t, ctx, chromedp.Navigate(b.url(p.path)))
		for _, s := range screens {
			if s.dark && os.Getenv(envShots) == "" {
				continue // the shade moves nothing
			}
			do(t, ctx, size(s))
			look := value[struct {
				Title         string
				Width, Bottom float64
				Over, Small   []string
			}](t, ctx, fmt.Sprintf(`({Title: document.title, Width: document.documentElement.scrollWidth, Over: %s, Small: %s, Bottom: document.querySelector(%q)?.getBoundingClientRect().bottom ?? -1})`, over, small, cmp.Or(aboveFold[p.name], "h1")))
			assert.Equal(t, p.name == "sorry", strings.HasPrefix(look.Title, "Sorry"), "%s is %q", p.name, look.Title)
			assert.LessOrEqual(t, look.Width, float64(s.width), "%s at %d", p.name, s.width)
			assert.Empty(t, look.Over, "%s at %d stands over the edge", p.name, s.width)
			assert.Empty(t, look.Small, "%s at %d is too small for a finger", p.name, s.width)
			assert.Greater(t, look.Bottom, 0.0, "%s lacks what one came for", p.name)
			assert.LessOrEqual(t, look.Bottom, float64(s.height), "%s at %d has what one came for below the fold", p.name, s.width)
			shot(t, ctx, p.name, s)
		}
	}
	for _, p := range sheets {
		do(t, ctx, chromedp.Navigate(b.url(p.path)))
		for _, s := range screens {
			do(t, ctx, size(s))
			assert.LessOrEqual(t, value[float64](t, ctx, "document.documentElement.scrollWidth"), float64(s.width), "%s at %d", p.name, s.width)
			shot(t, ctx, p.name, s)
		}
	}
}

// TestTheCheckerFindsNothing: no page has what a checker of accessibility calls a violation.
func TestTheCheckerFindsNothing(t *testing.T) {
	if raced {
		t.Skip("one request after another; the race detector learns nothing from it")
	}
	ctx := tab(t, phone)
	path := os.Getenv(envAxe)
	if path == "" {
		absent(t, "no accessibility checker is named; put the path of axe.min.js into "+envAxe)
	}
	axe, err := os.ReadFile(path)
	require.NoError(t, err)
	b := serve(t, allJobs(t))
	for _, p := range append(slices.Clone(allPages), sheets...) {
		do(t, ctx, chromedp.Navigate(b.url(p.path)), chromedp.Evaluate(`for (const d of document.querySelectorAll("details")) d.open = true`, nil),
			chromedp.Evaluate(string(axe)+";0", nil))
		for _, s := range screens {
			if s.width == 768 {
				continue // no rule is told apart by it
			}
			do(t, ctx, size(s))
			found := await[[]string](t, ctx, `axe.run(document, {resultTypes: ["violations"]}).then(r => r.violations.map(v => v.id + ": " + v.help + ": " + v.nodes.slice(0, 3).map(n => n.html.slice(0, 150) + " " + n.any.map(a => a.message).join(" ")).join(" | ")))`)
			assert.Empty(t, found, "%s at %d, dark %t: %s", p.name, s.width, s.dark, strings.Join(found, "\n"))
		}
	}
}
