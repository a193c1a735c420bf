package page_test

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/page"
	"mendwright/knowledge"
)

// send sends a request with these headers; the header Host names the machine.
func (b *bench) send(method, path, body string, headers map[string]string) {
	b.t.Helper()
	req, err := http.NewRequest(method, b.server.URL+path, strings.NewReader(body))
	require.NoError(b.t, err)
	for k, v := range headers {
		if k == "Host" {
			req.Host = v
			continue
		}
		req.Header.Set(k, v)
	}
	b.do(req)
}

// TestAnotherNameForThisMachineGetsNothing: a site whose name is pointed at the loopback reads along otherwise.
func TestAnotherNameForThisMachineGetsNothing(t *testing.T) {
	b := open(t, folder(t, map[string]string{"stool.yaml": stool}))
	_, port, err := net.SplitHostPort(b.server.Listener.Addr().String())
	require.NoError(t, err)
	for _, host := range []string{"evil.example", "evil.example:" + port, "localhost.evil.example:" + port, "127.0.0.1", "127.0.0.1:1", "0.0.0.0:" + port, "127.0.0.1:" + port + ".evil.example"} {
		for _, path := range []string{"/", "/jobs/stool", "/script.js"} {
			b.send("GET", path, "", map[string]string{"Host": host})
			assert.Equal(t, http.StatusMisdirectedRequest, b.code, "%s of %s", path, host)
			assert.NotContains(t, b.seen, "milking stool", host)
		}
	}
	for _, host := range []string{"127.0.0.1:" + port, "localhost:" + port, "LOCALHOST:" + port, "[::1]:" + port} {
		b.send("GET", "/", "", map[string]string{"Host": host})
		assert.Equal(t, http.StatusOK, b.code, host)
	}
}

// TestAnotherSiteChangesNothing: whatever a page of another site posts from the same browser.
func TestAnotherSiteChangesNothing(t *testing.T) {
	b := open(t, folder(t, map[string]string{"stool.yaml": stool}))
	const path = "/jobs/stool/marks/ring/ask/defect.form"
	form := map[string]string{"Content-Type": "application/x-www-form-urlencoded"}
	for name, headers := range map[string]map[string]string{
		"another origin":             {"Origin": "http://evil.example"},
		"another port":               {"Origin": "http://127.0.0.1:1"},
		"another scheme":             {"Origin": strings.Replace(b.server.URL, "http:", "https:", 1)},
		"an origin that hides":       {"Origin": "null"},
		"no origin at all":           {},
		"cross-site":                 {"Sec-Fetch-Site": "cross-site"},
		"same site, another machine": {"Sec-Fetch-Site": "same-site", "Origin": "http://other.localhost"},
		"cross-site that lies":       {"Sec-Fetch-Site": "cross-site", "Origin": b.server.URL},
	} {
		for k, v := range form {
			headers[k] = v
		}
		b.send("POST", path, "answer=ring", headers)
		assert.Equal(t, http.StatusForbidden, b.code, name)
		assert.Equal(t, stool, b.file("stool.yaml"), name)
	}
	b.send("GET", "/jobs/stool", "", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors", "Sec-Fetch-Dest": "image"})
	assert.Equal(t, http.StatusForbidden, b.code, "nor does it embed a page")
	b.send("GET", "/jobs/stool", "", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "document"})
	assert.Equal(t, http.StatusOK, b.code, "but a link from elsewhere may be followed")
	b.send("POST", path, "answer=ring", map[string]string{"Content-Type": form["Content-Type"], "Origin": b.server.URL})
	assert.Contains(t, b.file("stool.yaml"), "form: ring", "what this page posts is done")
}

// TestAnAddressNeverLeadsOutOfTheFolder, whether it names a job or a mark.
func TestAnAddressNeverLeadsOutOfTheFolder(t *testing.T) {
	dir := t.TempDir()
	inside := filepath.Join(dir, "jobs")
	require.NoError(t, os.MkdirAll(filepath.Join(inside, "deep"), 0o700))
	secret := strings.Replace(stool, "milking stool", "secret piece", 1)
	for _, path := range []string{filepath.Join(dir, "secret.yaml"), filepath.Join(inside, "deep", "secret.yaml"), filepath.Join(inside, ".secret.yaml"), filepath.Join(inside, "a$b.yaml")} {
		require.NoError(t, os.WriteFile(path, []byte(secret), 0o600))
	}
	require.NoError(t, os.Symlink(filepath.Join(dir, "secret.yaml"), filepath.Join(inside, "link.yaml")))
	require.NoError(t, os.WriteFile(filepath.Join(inside, "stool.yaml"), []byte(stool), 0o600))
	b := open(t, inside)
	for _, name := range []string{"..%2fsecret", "%2e%2e%2fsecret", "..%5csecret", "deep%2fsecret", ".secret", "link", "a$b", "secret", "%2e", "~..", "stool.yaml", "stool%00", "stool.yaml%00", url.PathEscape(filepath.Join(dir, "secret"))} {
		for _, rest := range []string{"", "/mark", "/marks/ring", "/marks/ring/ask"} {
			b.get("/jobs/" + name + rest)
			assert.Equal(t, http.StatusNotFound, b.code, name+rest)
			assert.NotContains(t, b.main(), "secret piece", name)
		}
		b.post("/jobs/"+name+"/marks/ring/ask/defect.form", url.Values{"answer": {"ring"}})
		assert.Equal(t, http.StatusNotFound, b.code, name)
	}
	for _, mark := range []string{"..%2f..%2fsecret", "%2e%2e", "~..", "ring%00", "nothing"} {
		b.get("/jobs/stool/marks/" + mark)
		assert.Equal(t, http.StatusNotFound, b.code, mark)
	}
	b.get("/")
	assert.NotContains(t, b.main(), "secret piece")
	b.shows("1 more file in this folder cannot be opened here")

	b.post("/jobs", url.Values{"name": {"../../etc/passwd"}})
	require.Equal(t, http.StatusOK, b.code)
	assert.FileExists(t, filepath.Join(inside, "etc-passwd.yaml"), "a piece's name becomes a plain name in the folder")
}

// raw sends bytes over a connection of its own and returns what comes back.
func raw(t *testing.T, addr string, write func(net.Conn)) string {
	t.Helper()
	c, err := net.Dial("tcp", addr)
	require.NoError(t, err)
	defer c.Close()
	require.NoError(t, c.SetDeadline(time.Now().Add(20*time.Second)))
	go write(c)
	answer, _ := io.ReadAll(c) // a reset is an answer too
	return string(answer)
}

// running is a whole server on the loopback, as the command starts it.
func running(t *testing.T, dir string) (addr string) {
	t.Helper()
	k, err := knowledge.Load()
	require.NoError(t, err)
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- (&page.Server{Dir: dir, Knowledge: k}).Serve(ctx, l) }()
	t.Cleanup(func() {
		cancel()
		assert.NoError(t, <-done)
	})
	return l.Addr().String()
}

func head(addr, length string) string {
	return "POST /jobs/stool/marks/ring/ask/defect.form HTTP/1.1\r\nHost: " + addr + "\r\nOrigin: http://" + addr +
		"\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: " + length + "\r\n\r\nanswer="
}

func TestABodyOfAGigabyteIsNotRead(t *testing.T) {
	addr := running(t, folder(t, map[string]string{"stool.yaml": stool}))
	var sent atomic.Int64
	answer := raw(t, addr, func(c net.Conn) {
		fmt.Fprint(c, head(addr, "1000000000"))
		chunk := bytes.Repeat([]byte("x"), 1<<16)
		for sent.Load() < 1e9 {
			n, err := c.Write(chunk)
			sent.Add(int64(n))
			if err != nil {
				return
			}
		}
	})
	assert.Contains(t, answer, "413 Request Entity Too Large")
	assert.Less(t, sent.Load(), int64(50_000_000), "the server closed long before the end")
}

func TestASlowBodyIsNotWaitedFor(t *testing.T) {
	defer page.SetFormTime(300 * time.Millisecond)()
	addr := running(t, folder(t, map[string]string{"stool.yaml": stool}))
	begun := time.Now()
	raw(t, addr, func(c net.Conn) {
		fmt.Fprint(c, head(addr, "1000"))
		for {
			if _, err := c.Write([]byte("x")); err != nil {
				return
			}
			time.Sleep(50 * time.Millisecond)
		}
	})
	assert.Less(t, time.Since(begun), 5*time.Second)
}

func TestHeadersHaveBounds(t *testing.T) {
	addr := running(t, t.TempDir())
	answer := raw(t, addr, func(c net.Conn) {
		fmt.Fprintf(c, "GET / HTTP/1.1\r\nHost: %s\r\nX: %s\r\n\r\n", addr, strings.Repeat("x", 100_000))
	})
	assert.Contains(t, answer, "431 ")
}

func TestConnectionsAreLimited(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	few := page.Limit(l, 2)
	srv := &http.Server{Handler: http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { io.WriteString(w, "here") })}
	go srv.Serve(few)
	defer srv.Close()
	dial := func() net.Conn {
		c, err := net.Dial("tcp", l.Addr().String())
		require.NoError(t, err)
		return c
	}
	one, two, three := dial(), dial(), dial()
	defer two.Close()
	defer three.Close()
	ask := func(c net.Conn, patience time.Duration) error {
		fmt.Fprint(c, "GET / HTTP/1.1\r\nHost: x\r\n\r\n")
		require.NoError(t, c.SetReadDeadline(time.Now().Add(patience)))
		_, err := bufio.NewReader(c).ReadByte()
		return err
	}
	require.NoError(t, ask(one, 5*time.Second))
	require.NoError(t, ask(two, 5*time.Second))
	require.Error(t, ask(three, 200*time.Millisecond), "the third waits")
	one.Close()
	require.NoError(t, ask(three, 5*time.Second), "until one has gone")
}

// TestTextOfAJobNeverBecomesScript: a mark of the page in every text that a job file can hold.
func TestTextOfAJobNeverBecomesScript(t *testing.T) {
	if raced {
		t.Skip("one request after another; the race detector learns nothing from it")
	}
	evils := []string{`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `'onmouseover='alert(1)`, `javascript:alert(1)`, `</title><script>alert(1)</script>`,
		`{{.}}`, `..`, `.`, `~`, `~..`, `a/b`, `a%2fb`, `a?b#c`, "a\u202eb", `\`, ` `}
	open1 := regexp.MustCompile(`(?i)<script(?: src="/script.js" defer)?>`)
	links := regexp.MustCompile(`(?:href|action|src)="([^"]*)"`)
	for _, evil := range evils {
		quoted := fmt.Sprintf("%q", evil)
		if strings.TrimSpace(evil) == "" {
			quoted = `"x"`
		}
		job := "format: 1\npiece: {name: " + quoted + ", note: " + quoted + "}\nshop: {note: " + quoted + "}\nsurfaces:\n  ? " + quoted + "\n  : {note: " + quoted + ", unheard: " + quoted + "}\n" +
			"defects:\n  - {id: " + quoted + ", on: " + quoted + ", note: " + quoted + "}\n"
		b := open(t, folder(t, map[string]string{"evil.yaml": job, "bad.yaml": "format: 1\n" + quoted + ": 1\n"}))
		seen := map[string]bool{}
		todo := []string{"/", "/jobs/bad", "/sand?layer=" + url.QueryEscape(evil) + "&grits=" + url.QueryEscape(evil), "/air?solvent=" + url.QueryEscape(evil) + "&amount=" + url.QueryEscape(evil)}
		for len(todo) > 0 {
			at := todo[0]
			todo = todo[1:]
			if seen[at] || at == "/script.js" || len(seen) > 24 {
				continue
			}
			seen[at] = true
			b.get(at)
			assert.NotEqual(t, http.StatusInternalServerError, b.code, "%s with %s", at, evil)
			for _, s := range open1.FindAllString(b.seen, -1) {
				assert.Equal(t, `<script src="/script.js" defer>`, s, "%s with %s", at, evil)
			}
			assert.NotContains(t, strings.ReplaceAll(b.main(), "&#", ""), "<img", "%s with %s", at, evil)
			for _, m := range links.FindAllStringSubmatch(b.seen, -1) {
				link := m[1]
				assert.True(t, strings.HasPrefix(link, "/") || strings.HasPrefix(link, "#"), "%s leads to %s", at, link)
				link = strings.NewReplacer("&amp;", "&", "&#43;", "+").Replace(link)
				if strings.Contains(b.seen, `href="`+m[1]+`"`) && strings.HasPrefix(link, "/") {
					todo = append(todo, link)
				}
			}
			if strings.Contains(at, "/marks/") {
				assert.Equal(t, http.StatusOK, b.code, "%s is found, whatever the mark is called: %q", at, evil)
			}
		}
		assert.Greater(t, len(seen), 8, "the pages of %s were reached", evil)
	}
}

// TestAnswersOfAJobNeverBecomeScript: the same in the place of every answer, wish and note that a job file can hold, most
// of which are mistakes then and are shown with the line they stand in.
func TestAnswersOfAJobNeverBecomeScript(t *testing.T) {
	const evil = `"<script>alert(1)</script><img src=x onerror=alert(1)>"`
	head := "format: 1\nsurfaces:\n  top: {layer: solid}\ndefects:\n  - {id: dent, on: top, level: below, form: spot, fibres: crushed}\n"
	jobs := map[string]string{
		"choice": strings.Replace(head, "layer: solid", "layer: "+evil, 1), "length": strings.Replace(head, "layer: solid", "layer_mm: "+evil, 1),
		"fact": strings.Replace(head, "layer: solid", evil+": 1", 1), "confirmed": strings.Replace(head, "layer: solid", "confirmed: ["+evil+"]", 1),
		"grits": strings.Replace(head, "layer: solid", "sanding: {grits: ["+evil+"], tool: "+evil+", keep: "+evil+"}", 1),
		"on":    strings.Replace(head, "on: top", "on: "+evil, 1), "repair": strings.Replace(head, "form: spot", "repair: "+evil, 1),
		"photos": strings.Replace(head, "form: spot", "photos: ["+evil+"]", 1),
		"done":   strings.Replace(head, "form: spot", "done: [{repair: "+evil+", on: "+evil+", came_out: "+evil+", found: {"+evil+": "+evil+"}}]", 1),
		"format": strings.Replace(head, "format: 1", "format: "+evil, 1), "start": head + "plan: {start: " + evil + ", weekdays: " + evil + "}\n",
		"money":    head + "plan: {money: {currency: " + evil + ", paid: 40, fetches: 300 to 380, hour: 18, prices: {" + evil + ": 1}}}\n",
		"currency": head + "plan: {money: {currency: " + evil + ", paid: 40, fetches: 300 to 380, hour: 18}}\n",
		"notes":    head + "plan: {done: [" + evil + "], repairs: {" + evil + ": raise-with-steam}}\n", "yaml": head + evil + "\n",
	}
	files := map[string]string{}
	for name, text := range jobs {
		files[name+".yaml"] = text
	}
	b := open(t, folder(t, files))
	told := 0
	for name := range jobs {
		for _, at := range []string{"", "/plan", "/marks/dent", "/marks/dent/ask", "/marks/dent/answers", "/marks/dent/why/raise-with-steam"} {
			b.get("/jobs/" + name + at)
			assert.NotEqual(t, http.StatusInternalServerError, b.code, name+at)
			assert.NotContains(t, b.seen, "<script>alert", name+at)
			assert.NotContains(t, b.seen, "<img src=x", name+at)
			if strings.Contains(b.seen, "&lt;script&gt;alert(1)") {
				told++
			}
		}
	}
	assert.Greater(t, told, 2*len(jobs), "most are shown as the text they are")
}

func TestPathsKeepTheirSegments(t *testing.T) {
	for _, name := range []string{"", ".", "..", "...", "~", "~~", "~..", "a/b", "a b", "ä", "%", "?", "#"} {
		path := page.PathOf("jobs", "x", "marks", name)
		u, err := url.Parse("http://h" + path)
		require.NoError(t, err, name)
		parts := strings.Split(u.EscapedPath(), "/")
		require.Len(t, parts, 5, name)
		last, err := url.PathUnescape(parts[4])
		require.NoError(t, err)
		assert.NotContains(t, []string{"", ".", ".."}, last, name)
		assert.Equal(t, name, page.Named(last))
	}
}

func TestEveryPageForbidsWhatItDoesNotNeed(t *testing.T) {
	b := open(t, folder(t, map[string]string{"stool.yaml": stool}))
	for _, path := range []string{"/", "/jobs/stool", "/jobs/none", "/script.js", "/sand"} {
		res, err := http.Get(b.server.URL + path)
		require.NoError(t, err)
		res.Body.Close()
		csp := res.Header.Get("Content-Security-Policy")
		assert.Contains(t, csp, "default-src 'none'", path)
		assert.NotContains(t, csp, "unsafe", path)
		assert.NotContains(t, csp, "http", path)
		assert.Equal(t, "nosniff", res.Header.Get("X-Content-Type-Options"), path)
		assert.Equal(t, "no-store", res.Header.Get("Cache-Control"), path)
		assert.Equal(t, "same-origin", res.Header.Get("Referrer-Policy"), path)
	}
}

// TestTheFirstPageIsSmall: all of it comes with one request, the script aside, and weighs little.
func TestTheFirstPageIsSmall(t *testing.T) {
	b := open(t, folder(t, map[string]string{"stool.yaml": stool}))
	b.get("/")
	all := len(b.seen)
	assert.NotContains(t, b.seen, "stylesheet", "the style comes with it")
	b.get("/script.js")
	assert.Less(t, all+len(b.seen), 60_000)
}
