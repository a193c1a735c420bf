package sheet_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/sheet"
	"mendwright/engine"
	"mendwright/knowledge"
)

const jobs = "../../../testdata/jobs"

var load = sync.OnceValues(knowledge.Load)

// inputOf is the sheet of a job file.
func inputOf(t *testing.T, path string) sheet.Input {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	return inputFrom(t, string(data))
}

func inputFrom(t *testing.T, job string) sheet.Input {
	t.Helper()
	k, err := load()
	require.NoError(t, err)
	in := sheet.Input{Book: k.Book}
	in.File, err = jobfile.Read("job.yaml", []byte(job), k.Book, k.Tables)
	require.NoError(t, err)
	in.Plan, err = engine.PlanOf(k.Book, k.Tables, in.File.Job)
	require.NoError(t, err)
	in.Triage, err = engine.Triage(k.Book, k.Tables, in.File.Job)
	require.NoError(t, err)
	return in
}

func pageOf(t *testing.T, in sheet.Input) (*html.Node, []byte) {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, sheet.Write(&b, in))
	doc, err := html.Parse(bytes.NewReader(b.Bytes()))
	require.NoError(t, err)
	return doc, b.Bytes()
}

// all are the elements of a name below n, in order.
func all(n *html.Node, names ...string) []*html.Node {
	var out []*html.Node
	for d := range n.Descendants() {
		if d.Type == html.ElementNode && slices.Contains(names, d.Data) {
			out = append(out, d)
		}
	}
	return out
}

func attr(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

// words is the text below n with single spaces, without style.
func words(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode && d.Parent.Data != "style" {
			b.WriteString(d.Data + " ")
		}
	}
	return plain(b.String())
}

func plain(s string) string { return strings.Join(strings.Fields(s), " ") }

func within(n *html.Node, name string) *html.Node {
	for p := range n.Ancestors() {
		if p.Type == html.ElementNode && p.Data == name {
			return p
		}
	}
	return nil
}

// sound checks what every sheet must be, whatever stands on it.
func sound(t *testing.T, doc *html.Node) {
	t.Helper()
	require.Len(t, all(doc, "h1"), 1)
	level := 0
	for _, h := range all(doc, "h1", "h2", "h3", "h4", "h5", "h6") {
		now := int(h.Data[1] - '0')
		assert.LessOrEqual(t, now, level+1, "the heading %q skips a level", words(h))
		assert.NotEmpty(t, words(h))
		level = now
	}
	ids := map[string]*html.Node{}
	for d := range doc.Descendants() {
		for _, a := range d.Attr {
			switch {
			case a.Key == "id":
				assert.Nil(t, ids[a.Val], "the id %q stands twice", a.Val)
				ids[a.Val] = d
			case a.Key == "src":
				assert.True(t, strings.HasPrefix(a.Val, "data:image/jpeg;base64,"), "%s has an outside part: %.60s", d.Data, a.Val)
			case strings.HasPrefix(a.Key, "on"), a.Key == "href", a.Key == "srcset", a.Key == "action", a.Key == "background":
				assert.Fail(t, "an attribute that leads out or runs", "%s %s=%q", d.Data, a.Key, a.Val)
			case a.Key != "xmlns" && a.Key != "content":
				assert.NotContains(t, a.Val, "://", "%s %s", d.Data, a.Key)
			}
		}
	}
	assert.Empty(t, all(doc, "script", "link", "iframe", "object", "embed", "form", "base", "audio", "video"))
	for _, s := range all(doc, "style") {
		assert.NotContains(t, words(s)+s.FirstChild.Data, "url(")
		assert.NotContains(t, s.FirstChild.Data, "@import")
	}
	for d := range doc.Descendants() {
		for _, key := range []string{"aria-labelledby", "for"} {
			for id := range strings.FieldsSeq(attr(d, key)) {
				assert.NotNil(t, ids[id], "%s %s names %q, which is not there", d.Data, key, id)
			}
		}
	}
	for _, table := range all(doc, "table") {
		heads := all(table, "th")
		assert.NotEmpty(t, heads)
		for _, th := range heads {
			assert.Contains(t, []string{"col", "row"}, attr(th, "scope"), "%q", words(th))
		}
		require.Len(t, all(table, "thead"), 1, "a head that is printed again on the next page")
		columns := len(all(all(table, "thead")[0], "th"))
		for _, row := range all(all(table, "tbody")[0], "tr") {
			assert.Len(t, all(row, "th", "td"), columns, "%q", words(row))
		}
	}
	for _, svg := range all(doc, "svg") {
		assert.Equal(t, "img", attr(svg, "role"))
		require.Len(t, all(svg, "title"), 1)
		require.Len(t, all(svg, "desc"), 1)
		assert.NotEmpty(t, words(all(svg, "desc")[0]))
		figure := within(svg, "figure")
		require.NotNil(t, figure, "a drawing stands in a figure")
		require.Len(t, all(figure, "figcaption"), 1)
		assert.NotEmpty(t, words(all(figure, "figcaption")[0]), "text stands beside a drawing")
	}
	for _, img := range all(doc, "img") {
		assert.NotEmpty(t, attr(img, "alt"))
	}
	for _, input := range all(doc, "input") {
		label := within(input, "label")
		if label == nil {
			for _, l := range all(doc, "label") {
				if attr(l, "for") == attr(input, "id") && attr(input, "id") != "" {
					label = l
				}
			}
		}
		if assert.NotNil(t, label, "an input without a label") {
			assert.NotEmpty(t, words(label))
		}
	}
	text := words(doc)
	for _, slip := range []string{"%!", "NaN", "<nil>", "Inf ", "[]", "()", " . ", ":.", "ZgotmplZ"} {
		assert.NotContains(t, text, slip)
	}
}

// complete checks that all of a plan stands on its sheet.
func complete(t *testing.T, doc *html.Node, in sheet.Input) {
	t.Helper()
	text := words(doc)
	holds := func(s string) {
		assert.Contains(t, text, plain(s))
	}
	for _, m := range in.Plan.Marks {
		holds(m.ID)
		holds(m.Name)
		if m.State == engine.Refusal {
			assert.Contains(t, text, "REFUSED")
		}
	}
	for i, s := range in.Plan.Steps {
		holds(fmt.Sprintf("%d %s", i+1, s.Name))
		for _, do := range s.Do {
			holds(do.Do)
			holds(do.Stop)
		}
		for _, w := range s.Wear {
			assert.Contains(t, strings.ToLower(text), strings.ToLower(w))
		}
		for _, c := range s.Compare {
			holds(c)
		}
	}
	for _, w := range in.Plan.Warnings {
		first, _, _ := strings.Cut(w.Text, ". ")
		first = strings.TrimSuffix(first, ".")
		if w.Certain {
			holds(strings.ToUpper(w.Signal) + " " + first)
		} else {
			assert.Regexp(t, strings.ToUpper(w.Signal)+` \((stands until [^)]* known|not settled)\) `+regexp.QuoteMeta(plain(first)), text)
		}
		if len(w.Wear) > 0 {
			holds("Wear: " + strings.Join(w.Wear, ", "))
		}
	}
	for _, b := range in.Plan.Buy {
		holds(b.Name)
		holds(b.Keep)
		holds(b.Discard)
	}
	for _, c := range in.Plan.Clashes {
		holds(c.Because)
	}
	for _, c := range in.Plan.Sources {
		holds(c.Title)
	}
	holds("Rulebook version " + in.Plan.Rulebook.Version + ", digest " + in.Plan.Rulebook.Digest.String()[:12])
	holds("The label and safety data sheet of the product, local codes and licensed practice come first.")
}

// numbered is the number of a step of a plan.
func numbered(t *testing.T, in sheet.Input, name string) int {
	t.Helper()
	i := slices.IndexFunc(in.Plan.Steps, func(s engine.PlanStep) bool { return s.Name == name })
	require.GreaterOrEqual(t, i, 0, name)
	return i + 1
}

func everyJob(t *testing.T) []string {
	t.Helper()
	var out []string
	for _, p := range []string{"*.yaml", "scenarios/*.yaml"} {
		list, err := filepath.Glob(filepath.Join(jobs, p))
		require.NoError(t, err)
		out = append(out, list...)
	}
	require.Greater(t, len(out), 100)
	if testing.Short() {
		return out[:12]
	}
	return out
}

func TestEverySheetIsSoundAndHoldsAllOfItsPlan(t *testing.T) {
	for _, path := range everyJob(t) {
		t.Run(filepath.Base(path), func(t *testing.T) {
			in := inputOf(t, path)
			doc, _ := pageOf(t, in)
			sound(t, doc)
			complete(t, doc, in)
		})
	}
}

func TestTheSameJobGivesTheSameSheet(t *testing.T) {
	path := filepath.Join(jobs, "plan-writing-desk.yaml")
	_, first := pageOf(t, inputOf(t, path))
	for range 3 {
		_, next := pageOf(t, inputOf(t, path))
		require.Equal(t, string(first), string(next))
	}
}

func TestAnEmptyJobSaysThatThereIsNothingToDo(t *testing.T) {
	in := inputFrom(t, "format: 1\n")
	doc, _ := pageOf(t, in)
	sound(t, doc)
	assert.Contains(t, words(doc), "Nothing is planned yet.")
	assert.Contains(t, words(doc), "The job lists no marks")
}

func TestARefusedPlanSaysSoBeforeAnythingElse(t *testing.T) {
	in := inputOf(t, filepath.Join(jobs, "twice-sanded.yaml"))
	require.True(t, in.Plan.Refused)
	doc, _ := pageOf(t, in)
	first := all(doc, "h2")[0]
	assert.Equal(t, "REFUSED", words(first))
	block := words(within(first, "section"))
	assert.Contains(t, block, "scratch: Sand out cannot follow the work before it")
	assert.Contains(t, block, "together they would go through the keep line")
}

func TestAtAStepStandsWhatHurtsWhatToWearAndWhereToStop(t *testing.T) {
	in := inputOf(t, filepath.Join(jobs, "plan-writing-desk.yaml"))
	doc, _ := pageOf(t, in)
	step := func(name string) string {
		for _, a := range all(doc, "article") {
			if s := words(a); strings.HasPrefix(attr(a, "class"), "step") && strings.Contains(s, name) {
				return s
			}
		}
		require.Fail(t, "there is no step "+name)
		return ""
	}
	sand := step("Sand the finish off")
	for _, s := range []string{"Wear Fine-dust mask", "WARNING Fine sanding dust burns", "If it goes wrong: Smoke from a bag", "STOP when: You cannot measure the layer anywhere.",
		"thinnest layer left", "came out: enough not enough failed", "(to the person, "} {
		assert.Contains(t, sand, s)
	}
	again := step("Make a new foot")
	assert.Contains(t, again, fmt.Sprintf("WARNING Fine sanding dust burns, and a millimetre of it thrown up in a room can explode. More at step %d.", numbered(t, in, "Sand the finish off")))
	assert.NotContains(t, again, "Smoke from a bag", "in full it stands once")
	assert.Contains(t, again, "Wait 24 to 48 h for the glue to cure")
	assert.Contains(t, step("Raise with steam"), "depth left")
}

func TestASurfaceThatIsCutIsDrawnWithItsKeepLine(t *testing.T) {
	in := inputOf(t, filepath.Join(jobs, "plan-writing-desk.yaml"))
	doc, _ := pageOf(t, in)
	var captions []string
	for _, f := range all(doc, "figcaption") {
		captions = append(captions, words(f))
	}
	all := strings.Join(captions, "\n")
	assert.Contains(t, all, fmt.Sprintf("step %d takes 0.146 to 0.217 mm all over, for flakes; step %d takes 0.256 to 0.347 mm all over, for long scratch",
		numbered(t, in, "Sand the finish off"), numbered(t, in, "Sand out")))
	assert.Contains(t, all, "The cut takes 0.402 to 0.564 mm, leaves 0.916 to 1.118 mm. Keep line at 0.5 mm above the core.")

	doc, _ = pageOf(t, inputOf(t, filepath.Join(jobs, "table-top.yaml")))
	assert.Contains(t, words(doc), "Why top is not sanded for dent REFUSED: 150-180-220 with a hand block goes through the keep line")
}

func TestWhatPeopleTypeStaysText(t *testing.T) {
	const evil = `<script>alert(1)</script><img src=x onerror=alert(2)>"'--></style>]]>{{.}}`
	quoted := `'` + strings.ReplaceAll(evil, `'`, `''`) + `'`
	data, err := os.ReadFile(filepath.Join(jobs, "plan-writing-desk.yaml"))
	require.NoError(t, err)
	job := string(data)
	for old, now := range map[string]string{
		"name: writing desk from Marrow Lane": "name: " + quoted,
		"note: worst towards the window":      "note: " + quoted,
		"currency: crowns":                    "currency: " + quoted,
		"  top:\n":                            "  " + quoted + ":\n",
		"on: top\n":                           "on: " + quoted + "\n",
		"id: flakes":                          "id: " + quoted,
	} {
		require.Contains(t, job, old)
		job = strings.ReplaceAll(job, old, now)
	}
	in := inputFrom(t, job)
	require.NotEmpty(t, in.Plan.Surfaces, "the surface with the evil name is drawn")
	doc, raw := pageOf(t, in)
	sound(t, doc)
	assert.Empty(t, all(doc, "img"))
	assert.NotContains(t, string(raw), "<script")
	assert.NotContains(t, string(raw), "<img")
	assert.Contains(t, words(all(doc, "h1")[0]), evil)
	assert.Contains(t, words(all(doc, "title")[0]), evil)
	text := words(doc)
	for _, s := range []string{evil + " on " + evil + ": Flaking finish", "Note " + evil, "Sand out " + evil + " (long scratch)"} {
		assert.Contains(t, text, s)
	}
}
