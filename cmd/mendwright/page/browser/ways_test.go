package browser_test

import (
	"context"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/sitting"
	"mendwright/knowledge"
)

const stool = "format: 1\npiece: {name: milking stool}\nsurfaces:\n  seat: {}\ndefects:\n  - {id: ring, on: seat}\n"

// ring are the answers about the ring of the example job, by fact and as they were typed.
func ring(t *testing.T) map[string]string {
	t.Helper()
	k, err := knowledge.Load()
	require.NoError(t, err)
	file, err := jobfile.ReadFile(filepath.Join("..", "..", "..", "..", "testdata", "jobs", "table-top.yaml"), k.Book, k.Tables)
	require.NoError(t, err)
	out := map[string]string{}
	for _, u := range sitting.InView(file, "ring") {
		out[u.Fact] = u.Typed
	}
	return out
}

// asked is the fact of the question on the page, "" if there is none.
func asked(t *testing.T, ctx context.Context) string {
	t.Helper()
	action := value[string](t, ctx, `document.querySelector("form.question")?.getAttribute("action") ?? ""`)
	return action[strings.LastIndex(action, "/")+1:]
}

// answer answers the question on the page: by a tap, or by typing.
func answer(t *testing.T, ctx context.Context, word string) {
	t.Helper()
	switch {
	case word == "" || word == "cannot tell":
		press(t, ctx, `form.question button[name=cannot]`)
	case value[bool](t, ctx, `document.querySelector("form.question input[name=answer]") !== null`):
		do(t, ctx, chromedp.SetValue("#answer", word, chromedp.ByQuery))
		press(t, ctx, "form.question button.main")
	default:
		press(t, ctx, `form.question button[value="`+word+`"]`)
	}
}

// begun begins a job and a mark from an empty folder.
func begun(t *testing.T, ctx context.Context, b *bench) {
	t.Helper()
	do(t, ctx, chromedp.Navigate(b.url("/")), chromedp.SendKeys("#name", "Gate-leg table", chromedp.ByQuery))
	press(t, ctx, "form button.main")
	do(t, ctx, chromedp.SendKeys("#surface", "top", chromedp.ByQuery), chromedp.SendKeys("#mark", "ring", chromedp.ByQuery))
	press(t, ctx, "form button.main")
	require.Equal(t, "/jobs/gate-leg-table/marks/ring/ask", place(t, ctx))
}

// toReady answers until a repair is ready and returns how many answers it took.
func toReady(t *testing.T, ctx context.Context) int {
	t.Helper()
	known := ring(t)
	for n := range 60 {
		fact := asked(t, ctx)
		if fact == "" || strings.Contains(text(t, ctx), "A repair is READY") {
			return n
		}
		answer(t, ctx, known[fact])
	}
	return 60
}

func TestFromAnEmptyFolderToAPlanOnAPhone(t *testing.T) {
	ctx := tab(t, phone)
	b := serve(t, nil)
	begun(t, ctx, b)
	require.Less(t, toReady(t, ctx), 60)
	require.Contains(t, text(t, ctx), "A repair is READY")
	press(t, ctx, `.said a`)
	assert.Equal(t, "/jobs/gate-leg-table/marks/ring", place(t, ctx))
	assert.Contains(t, text(t, ctx), "READY")
	assert.Less(t, value[float64](t, ctx, `document.querySelector(".best .risk").getBoundingClientRect().bottom`), 640.0, "the answer is above the fold")
	press(t, ctx, `nav a[href$="/plan"]`)
	assert.Contains(t, text(t, ctx), "The order of work")
}

// TestWithoutScript: the same way with every script forbidden.
func TestWithoutScript(t *testing.T) {
	ctx := tab(t, phone)
	b := serve(t, nil)
	do(t, ctx, emulation.SetScriptExecutionDisabled(true))
	begun(t, ctx, b)
	require.Less(t, toReady(t, ctx), 60)
	assert.Contains(t, text(t, ctx), "A repair is READY")
	do(t, ctx, chromedp.Navigate(b.url("/sand")), chromedp.SetValue("#f-layer", "veneer", chromedp.ByQuery), chromedp.SendKeys("#f-grits", "120,150,180", chromedp.ByQuery))
	press(t, ctx, "form button.main")
	assert.Contains(t, text(t, ctx), "NOT CLEARED", "the check has a button")
}

func TestBackAndChange(t *testing.T) {
	ctx := tab(t, phone)
	b := serve(t, map[string]string{"stool.yaml": stool})
	do(t, ctx, chromedp.Navigate(b.url("/jobs/stool/marks/ring/ask")))
	first := asked(t, ctx)
	press(t, ctx, `form.question button[value=spot]`)
	require.NotEqual(t, first, asked(t, ctx))
	press(t, ctx, `nav a[href$="/ask/`+first+`"]`)
	assert.Equal(t, first, asked(t, ctx), "back puts the last question anew")
	assert.Contains(t, text(t, ctx), "It was: spot")
	press(t, ctx, `form.question button[value=ring]`)
	assert.Contains(t, b.file("stool.yaml"), "form: ring")
	do(t, ctx, chromedp.Navigate(b.url("/jobs/stool/marks/ring")))
	press(t, ctx, `nav a[href$="/answers"]`)
	press(t, ctx, `.answers-list a`)
	assert.Contains(t, text(t, ctx), "It was: ring")
	press(t, ctx, `form[action*="take-back"] button`)
	assert.NotContains(t, b.file("stool.yaml"), "form:")
}

func TestTwoTabsOnOneJob(t *testing.T) {
	one, two := tab(t, phone), tab(t, phone)
	b := serve(t, map[string]string{"stool.yaml": stool})
	do(t, one, chromedp.Navigate(b.url("/jobs/stool/marks/ring/ask/defect.form")))
	do(t, two, chromedp.Navigate(b.url("/jobs/stool/marks/ring/ask/defect.form")))
	press(t, one, `form.question button[value=ring]`)
	press(t, two, `form.question button[value=spot]`)
	assert.Contains(t, text(t, two), "Nothing is overwritten yet")
	assert.Contains(t, b.file("stool.yaml"), "form: ring")
	press(t, two, `form button`)
	assert.Contains(t, b.file("stool.yaml"), "form: spot")
	do(t, one, chromedp.Navigate(b.url("/jobs/stool/marks/ring/ask/defect.colour")))
	do(t, two, chromedp.Navigate(b.url("/jobs/stool/marks/ring/ask/defect.age")))
	press(t, one, `form.question button[name=cannot]`)
	press(t, two, `form.question button[name=cannot]`)
	assert.Contains(t, b.file("stool.yaml"), "colour: cannot tell")
	assert.Contains(t, b.file("stool.yaml"), "age: cannot tell", "two answers to two questions both stand")
}

// TestTheServerStopsInBetween: what was typed waits, what was answered is there.
func TestTheServerStopsInBetween(t *testing.T) {
	ctx := tab(t, phone)
	b := serve(t, map[string]string{"stool.yaml": stool})
	do(t, ctx, chromedp.Navigate(b.url("/jobs/stool/marks/ring/ask/defect.depth_mm")), chromedp.SendKeys("#answer", "0.4 mm", chromedp.ByQuery))
	b.stop()
	do(t, ctx, chromedp.Click("form.question button.main", chromedp.ByQuery), chromedp.WaitVisible(".gone", chromedp.ByQuery))
	assert.Contains(t, text(t, ctx), "The server does not answer. What you typed is still here")
	assert.Equal(t, "0.4 mm", value[string](t, ctx, `document.querySelector("#answer").value`))
	b.start()
	press(t, ctx, "form.question button.main")
	assert.Contains(t, b.file("stool.yaml"), "depth_mm: 0.4 mm")
	assert.Contains(t, text(t, ctx), "Read as")
}

// TestTheCheckAnswersWhileOneTypes, and says the same as its button does.
func TestTheCheckAnswersWhileOneTypes(t *testing.T) {
	ctx := tab(t, phone)
	b := serve(t, nil)
	do(t, ctx, chromedp.Navigate(b.url("/sand")), chromedp.SendKeys("#f-grits", "120,150,180", chromedp.ByQuery), chromedp.WaitVisible("#figures section", chromedp.ByQuery))
	live := value[string](t, ctx, `document.querySelector("#verdict").innerText`)
	assert.Contains(t, live, "NOT CLEARED")
	press(t, ctx, "form button.main")
	assert.Equal(t, live, value[string](t, ctx, `document.querySelector("#verdict").innerText`))
}

// TestByKeyboard: a question is answered with Tab and Enter, and one sees where one is.
func TestByKeyboard(t *testing.T) {
	ctx := tab(t, screen{width: 1280, height: 800})
	b := serve(t, map[string]string{"stool.yaml": stool})
	do(t, ctx, chromedp.Navigate(b.url("/jobs/stool/marks/ring/ask/defect.form")))
	const focused = `document.activeElement.value ?? ""`
	for range 20 {
		do(t, ctx, chromedp.KeyEvent(kb.Tab))
		if value[string](t, ctx, focused) == "ring" {
			break
		}
		assert.True(t, value[bool](t, ctx, `document.activeElement.getBoundingClientRect().width > 0`), "what has the focus is seen")
	}
	require.Equal(t, "ring", value[string](t, ctx, focused))
	assert.NotEqual(t, "none", value[string](t, ctx, `getComputedStyle(document.activeElement).outlineStyle`))
	do(t, ctx, chromedp.Evaluate("window.old = true", nil), chromedp.KeyEvent(kb.Enter))
	fresh(t, ctx)
	assert.Contains(t, b.file("stool.yaml"), "form: ring")
	do(t, ctx, chromedp.Navigate(b.url("/")), chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent(kb.Enter), chromedp.Sleep(50*time.Millisecond))
	assert.Equal(t, "main", value[string](t, ctx, `document.activeElement.id`), "the first stop leads past the head of the page")
}

func TestAPhotographFromThePhone(t *testing.T) {
	ctx := tab(t, phone)
	b := serve(t, map[string]string{"stool.yaml": stool})
	path := filepath.Join(t.TempDir(), "IMG 1.jpg")
	f, err := os.Create(path)
	require.NoError(t, err)
	require.NoError(t, jpeg.Encode(f, image.NewGray(image.Rect(0, 0, 3000, 2000)), nil))
	require.NoError(t, f.Close())
	do(t, ctx, chromedp.Navigate(b.url("/jobs/stool/marks/ring")), chromedp.SetUploadFiles("#photo", []string{path}, chromedp.ByQuery))
	press(t, ctx, "#photos button")
	do(t, ctx, chromedp.ScrollIntoView(".photos img", chromedp.ByQuery))
	require.Eventually(t, func() bool {
		return value[float64](t, ctx, `document.querySelector(".photos img").naturalWidth`) == 1600
	}, 5*time.Second, 20*time.Millisecond)
	assert.Equal(t, "Photograph 1 of ring", value[string](t, ctx, `document.querySelector(".photos img").alt`))
}
