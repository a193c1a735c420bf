package page_test

import (
	"bytes"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/page"
	"mendwright/knowledge"
)

// exposed is a bench page that listens on every address of the machine, and what its terminal shows.
func exposed(t *testing.T) (*bench, *bytes.Buffer) {
	t.Helper()
	k, err := knowledge.Load()
	require.NoError(t, err)
	var out bytes.Buffer
	l, err := net.Listen("tcp4", "0.0.0.0:0")
	require.NoError(t, err)
	h, err := (&page.Server{Dir: folder(t, map[string]string{"stool.yaml": stool}), Knowledge: k, Out: &out}).Handler(l.Addr())
	require.NoError(t, err)
	srv := &httptest.Server{Listener: l, Config: &http.Server{Handler: h}}
	srv.Start()
	t.Cleanup(srv.Close)
	_, port, err := net.SplitHostPort(l.Addr().String())
	require.NoError(t, err)
	srv.URL = "http://127.0.0.1:" + port
	return &bench{t: t, server: srv, client: device(t)}, &out
}

func device(t *testing.T) *http.Client {
	jar, err := cookiejar.New(nil)
	require.NoError(t, err)
	return &http.Client{Jar: jar}
}

var codes = regexp.MustCompile(`Code for the next device: (\d{4} \d{4})`)

func lastCode(t *testing.T, out *bytes.Buffer) string {
	t.Helper()
	all := codes.FindAllStringSubmatch(out.String(), -1)
	require.NotEmpty(t, all, out.String())
	return all[len(all)-1][1]
}

func TestOnAnotherAddressACodeLetsOneDeviceIn(t *testing.T) {
	b, out := exposed(t)
	assert.Contains(t, out.String(), "WARNING: this page is for your own network only.")
	b.get("/jobs/stool")
	assert.Equal(t, "/code", b.at)
	assert.NotContains(t, b.seen, "milking stool")
	code := lastCode(t, out)
	b.post("/code", url.Values{"code": {code}})
	assert.Equal(t, "/", b.at)
	b.shows("milking stool")
	b.get("/jobs/stool")
	assert.Equal(t, http.StatusOK, b.code)

	other := *b
	other.client = device(t)
	other.post("/code", url.Values{"code": {code}})
	assert.Equal(t, http.StatusForbidden, other.code, "a code is good once")
	other.get("/jobs/stool")
	assert.Equal(t, "/code", other.at)
	other.post("/code", url.Values{"code": {lastCode(t, out)}})
	assert.Equal(t, http.StatusOK, other.code, "the next device has the next one")
}

func TestCodesAreNotGuessed(t *testing.T) {
	b, out := exposed(t)
	for range 10 {
		b.post("/code", url.Values{"code": {"no such code"}})
		require.Equal(t, http.StatusForbidden, b.code)
	}
	b.post("/code", url.Values{"code": {lastCode(t, out)}})
	assert.Equal(t, http.StatusForbidden, b.code, "after ten wrong ones not even the right one is taken at once")
	b.shows("Wait a minute")
}

func TestTheCookieIsForThisPageAlone(t *testing.T) {
	b, out := exposed(t)
	req, err := http.NewRequest(http.MethodPost, b.server.URL+"/code", bytes.NewBufferString("code="+url.QueryEscape(lastCode(t, out))))
	require.NoError(t, err)
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	req.Header.Set("Origin", b.server.URL)
	res, err := http.DefaultTransport.RoundTrip(req)
	require.NoError(t, err)
	res.Body.Close()
	cookies := res.Cookies()
	require.Len(t, cookies, 1)
	assert.True(t, cookies[0].HttpOnly)
	assert.Equal(t, http.SameSiteStrictMode, cookies[0].SameSite)
	assert.GreaterOrEqual(t, len(cookies[0].Value), 40)
}

func TestOnTheLoopbackNobodyIsAskedForACode(t *testing.T) {
	b := open(t, t.TempDir())
	b.get("/code")
	assert.Equal(t, http.StatusNotFound, b.code)
}
