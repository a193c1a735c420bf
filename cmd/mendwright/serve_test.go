package main

import (
	"bufio"
	"io"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// served is set in the process that a test starts as the server; its arguments follow.
const served = "MENDWRIGHT_TEST_SERVE"

// startServer starts the program as a process of its own and returns where its page is.
func startServer(t *testing.T, args ...string) (cmd *exec.Cmd, out *bufio.Reader, at string) {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	cmd = exec.Command(self, append([]string{"serve"}, args...)...)
	cmd.Env = append(os.Environ(), served+"=1")
	pipe, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() { cmd.Process.Kill() })
	out = bufio.NewReader(pipe)
	line, err := out.ReadString('\n')
	require.NoError(t, err)
	m := regexp.MustCompile(`http://[\d.:]+`).FindString(line)
	require.NotEmpty(t, m, line)
	return cmd, out, m
}

// TestAKilledServerHasEveryAnswer: what was answered is there after a kill and a new start, and the server
// ends with good manners when it is asked to.
func TestAKilledServerHasEveryAnswer(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "stool.yaml"), []byte("format: 1\nsurfaces:\n  seat: {}\ndefects:\n  - {id: ring, on: seat}\n"), 0o600))
	cmd, _, at := startServer(t, dir, "--listen", "127.0.0.1:0")
	req, err := http.NewRequest(http.MethodPost, at+"/jobs/stool/marks/ring/ask/defect.form", strings.NewReader(url.Values{"answer": {"ring"}}.Encode()))
	require.NoError(t, err)
	req.Header.Set("Origin", at)
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	res, err := http.DefaultTransport.RoundTrip(req)
	require.NoError(t, err)
	res.Body.Close()
	require.Equal(t, http.StatusSeeOther, res.StatusCode)
	require.NoError(t, cmd.Process.Kill())
	require.Error(t, cmd.Wait(), "it was killed")

	cmd, out, at := startServer(t, dir, "--listen", strings.TrimPrefix(at, "http://"))
	res, err = http.Get(at + "/jobs/stool/marks/ring/ask/defect.form")
	require.NoError(t, err)
	page, err := io.ReadAll(res.Body)
	require.NoError(t, err)
	res.Body.Close()
	assert.Contains(t, string(page), "It was: <b>ring</b>")
	res, err = http.Get(at + "/jobs/stool/sheet")
	require.NoError(t, err)
	sheet, err := io.ReadAll(res.Body)
	require.NoError(t, err)
	res.Body.Close()
	assert.Equal(t, http.StatusOK, res.StatusCode)
	assert.Contains(t, string(sheet), "</html>", "print gives the sheet")
	assert.Contains(t, res.Header.Get("Content-Security-Policy"), "default-src 'none'; style-src 'sha256-")
	require.NoError(t, cmd.Process.Signal(syscall.SIGTERM))
	rest, err := io.ReadAll(out)
	require.NoError(t, err)
	assert.Contains(t, string(rest), "Stopped. Every answer is saved.")
	assert.NoError(t, cmd.Wait())
}
