// Package browser_test drives the bench page in a real browser, as a restorer with a phone would.
package browser_test

import (
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/page"
	"mendwright/cmd/mendwright/sheet"
	"mendwright/knowledge"
)

// Where the browser is, whether it must be there, and where the accessibility checker is.
const (
	envBrowser  = "MENDWRIGHT_BROWSER"
	envRequired = "MENDWRIGHT_BROWSER_REQUIRED"
	envAxe      = "MENDWRIGHT_AXE"   // the file axe.min.js of the npm package axe-core
	envShots    = "MENDWRIGHT_SHOTS" // a folder for pictures of every page, to be looked at
)

// program finds the browser, or skips the test; where a browser is required, it fails.
func program(t *testing.T) string {
	t.Helper()
	if path := os.Getenv(envBrowser); path != "" {
		return path
	}
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	absent(t, "no browser is found; install chromium, or name one in "+envBrowser)
	return ""
}

// absent skips the test for want of something, or fails it where a browser is required.
func absent(t *testing.T, what string) {
	t.Helper()
	if os.Getenv(envRequired) != "" {
		t.Fatal(what)
	}
	t.Skip(what)
}

var (
	once    sync.Once
	browser context.Context
	closing []func()
)

func TestMain(m *testing.M) {
	code := m.Run()
	for _, f := range closing {
		f()
	}
	os.Exit(code)
}

// screen is the size of a window, in CSS pixels.
type screen struct {
	width, height int64
	dark          bool
}

var phone = screen{width: 360, height: 640}

// tab opens a tab of the one browser.
func tab(t *testing.T, s screen) context.Context {
	t.Helper()
	path := program(t)
	once.Do(func() {
		alloc, end := chromedp.NewExecAllocator(context.Background(), append(chromedp.DefaultExecAllocatorOptions[:],
			chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU)...)
		var stop context.CancelFunc
		browser, stop = chromedp.NewContext(alloc)
		closing = append(closing, stop, end)
		if err := chromedp.Run(browser); err != nil {
			t.Fatal("the browser does not start: ", err)
		}
	})
	ctx, close := chromedp.NewContext(browser)
	t.Cleanup(close)
	ctx, cancel := context.WithTimeout(ctx, time.Minute)
	t.Cleanup(cancel)
	do(t, ctx, size(s))
	return ctx
}

// size gives a tab the size and the shade of a screen.
func size(s screen) chromedp.Action {
	shade := "light"
	if s.dark {
		shade = "dark"
	}
	return chromedp.Tasks{
		emulation.SetDeviceMetricsOverride(s.width, s.height, 1, s.width < 600),
		emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: shade}}),
	}
}

func do(t *testing.T, ctx context.Context, actions ...chromedp.Action) {
	t.Helper()
	require.NoError(t, chromedp.Run(ctx, actions...))
}

// text is what a person reads in the main part of the page.
func text(t *testing.T, ctx context.Context) string {
	t.Helper()
	var s string
	do(t, ctx, chromedp.Text("main", &s, chromedp.ByQuery))
	return strings.ReplaceAll(s, "\u00a0", " ")
}

func value[T any](t *testing.T, ctx context.Context, js string) T {
	t.Helper()
	var v T
	do(t, ctx, chromedp.Evaluate(js, &v))
	return v
}

func place(t *testing.T, ctx context.Context) string {
	t.Helper()
	return value[string](t, ctx, "location.pathname")
}

// press clicks what is found and waits until another page, or the same one anew, is there.
func press(t *testing.T, ctx context.Context, selector string) {
	t.Helper()
	do(t, ctx, chromedp.Evaluate("window.old = true", nil), chromedp.Click(selector, chromedp.ByQuery))
	fresh(t, ctx)
}

// fresh waits until the page that stood there is gone and the next one is read.
func fresh(t *testing.T, ctx context.Context) {
	t.Helper()
	require.Eventually(t, func() bool {
		var ready bool
		err := chromedp.Run(ctx, chromedp.Evaluate(`!window.old && document.readyState === "complete"`, &ready))
		return err == nil && ready
	}, 20*time.Second, 10*time.Millisecond, "no page came")
}

// bench is a bench page that can be stopped and started anew at the same address.
type bench struct {
	t    *testing.T
	dir  string
	addr string
	srv  *http.Server
	s    page.Server
}

func serve(t *testing.T, files map[string]string) *bench {
	t.Helper()
	b := &bench{t: t, dir: t.TempDir(), addr: "127.0.0.1:0"}
	for name, text := range files {
		require.NoError(t, os.WriteFile(filepath.Join(b.dir, name), []byte(text), 0o600))
	}
	b.start()
	t.Cleanup(b.stop)
	return b
}

func (b *bench) start() {
	b.t.Helper()
	k, err := knowledge.Load()
	require.NoError(b.t, err)
	l, err := net.Listen("tcp", b.addr)
	require.NoError(b.t, err)
	b.addr = l.Addr().String()
	b.s = page.Server{Dir: b.dir, Knowledge: k, Sheet: func(w io.Writer, file *jobfile.File) error {
		in, err := sheet.Of(k.Book, k.Tables, file)
		if err != nil {
			return err
		}
		return sheet.Write(w, in)
	}}
	h, err := b.s.Handler(l.Addr())
	require.NoError(b.t, err)
	b.srv = &http.Server{Handler: h}
	go b.srv.Serve(l)
}

// stop ends the server at once, as a power cut does.
func (b *bench) stop() { b.srv.Close() }

func (b *bench) url(path string) string { return "http://" + b.addr + path }

func (b *bench) file(name string) string {
	b.t.Helper()
	data, err := os.ReadFile(filepath.Join(b.dir, name))
	require.NoError(b.t, err)
	return string(data)
}

// example is an example job of the project.
func example(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "..", "..", "testdata", "jobs", name))
	require.NoError(t, err)
	return string(data)
}

// shot writes a picture of the whole page where one is wanted.
func shot(t *testing.T, ctx context.Context, name string, s screen) {
	t.Helper()
	dir := os.Getenv(envShots)
	if dir == "" {
		return
	}
	shade := "light"
	if s.dark {
		shade = "dark"
	}
	var png []byte
	do(t, ctx, chromedp.FullScreenshot(&png, 100))
	require.NoError(t, os.WriteFile(filepath.Join(dir, fmt.Sprintf("%s-%d-%s.png", name, s.width, shade)), png, 0o600))
}

// await is what a promise comes to.
func await[T any](t *testing.T, ctx context.Context, js string) T {
	t.Helper()
	var v T
	do(t, ctx, chromedp.Evaluate(js, &v, func(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }))
	return v
}
