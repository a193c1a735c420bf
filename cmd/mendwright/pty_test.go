//go:build linux || darwin || freebsd || netbsd || openbsd

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/creack/pty"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/interview/typist"
	"mendwright/cmd/mendwright/jobfile"
	"mendwright/knowledge"
	"mendwright/rules/condition"
)

// terminal is a real terminal of 40 columns with the program in it.
type terminal struct {
	t    *testing.T
	cmd  *exec.Cmd
	tty  *os.File
	lock sync.Mutex
	all  strings.Builder
	gone chan struct{} // closed when nothing more is written
	seen int           // how much was read up to the last prompt
}

// openTerminal starts the program bin in dir.
func openTerminal(t *testing.T, bin, dir string, args ...string) *terminal {
	t.Helper()
	var err error
	term := &terminal{t: t, cmd: exec.Command(bin, args...), gone: make(chan struct{})}
	term.cmd.Dir = dir
	term.cmd.Env = append(os.Environ(), "TERM=xterm", "NO_COLOR=", "COLUMNS=200")
	term.tty, err = pty.StartWithSize(term.cmd, &pty.Winsize{Rows: 24, Cols: 40})
	if err != nil {
		t.Skip("no terminal can be had here: ", err)
	}
	go func() {
		defer close(term.gone)
		buf := make([]byte, 4096)
		for {
			n, err := term.tty.Read(buf)
			term.lock.Lock()
			term.all.Write(buf[:n])
			term.lock.Unlock()
			if err != nil {
				return
			}
		}
	}()
	t.Cleanup(func() {
		_ = term.cmd.Process.Kill()
		term.tty.Close()
	})
	return term
}

func (term *terminal) text() string {
	term.lock.Lock()
	defer term.lock.Unlock()
	return strings.ReplaceAll(term.all.String(), "\r\n", "\n")
}

// prompt waits until the program wants a line, and returns what it wrote since the last one.
func (term *terminal) prompt() string {
	term.t.Helper()
	for end := time.Now().Add(60 * time.Second); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		if text := term.text(); len(text) > term.seen && strings.HasSuffix(text, "\n> ") {
			shown := text[term.seen:]
			term.seen = len(text)
			return oneLine(shown)
		}
	}
	require.Fail(term.t, "the program wants no line", "%s", term.text())
	return ""
}

// typed types a line and returns what the program wrote until it wanted the next.
func (term *terminal) typed(line string) string {
	term.t.Helper()
	_, err := term.tty.WriteString(line + "\n")
	require.NoError(term.t, err)
	return term.prompt()
}

// ends waits for the end of the program and returns its exit code.
func (term *terminal) ends() int {
	term.t.Helper()
	select {
	case <-term.gone:
	case <-time.After(60 * time.Second):
		require.Fail(term.t, "the program does not end", "%s", term.text())
	}
	_ = term.cmd.Wait()
	return term.cmd.ProcessState.ExitCode()
}

var emphasis = regexp.MustCompile(`\x1b\[[0-9;]*m`)

// fits holds that every line fits the terminal and that nothing moves the cursor.
func (term *terminal) fits() {
	term.t.Helper()
	plain := emphasis.ReplaceAllString(term.text(), "")
	plain = strings.ReplaceAll(plain, "^C", "") // the terminal's own echo
	for _, line := range strings.Split(plain, "\n") {
		assert.LessOrEqual(term.t, utf8.RuneCountInString(line), 40, "%q", line)
		assert.NotContains(term.t, line, "\x1b")
		assert.NotContains(term.t, line, "\r")
	}
}

// fromTheBeginning types the piece, the surface and the mark, and returns the first question.
func (term *terminal) fromTheBeginning() string {
	term.t.Helper()
	assert.Contains(term.t, term.prompt(), "What is the piece?")
	assert.Contains(term.t, term.typed("Oak table"), "The file is oak-table.yaml.")
	term.typed("top")
	return term.typed("dent")
}

// ofTheTable is what a restorer says of a dent in an oak top.
var ofTheTable = map[string]string{
	"defect.form": "1", "surface.layer": "veneer", "surface.decorated": "no", "defect.fibres": "crushed",
	"defect.level": "below", "surface.stripped": "yes", "surface.finish": "none", "surface.timber": "oak-white",
	"surface.layer_mm": "0.6 mm", "defect.depth_mm": "0.3 mm", "surface.glue": "hide", "defect.film_off": "no",
	"shop.practised": "yes",
}

func readAnswers(t *testing.T, k *knowledge.Loaded, path string) map[string]string {
	t.Helper()
	file, err := jobfile.ReadFile(path, k.Book, k.Tables)
	require.NoError(t, err)
	got := map[string]string{}
	for _, u := range file.Understood {
		got[u.Fact] = u.Typed
	}
	return got
}

func TestInATerminal(t *testing.T) {
	bin := filepath.Join(t.TempDir(), "mendwright")
	out, err := exec.Command("go", "build", "-o", bin, ".").CombinedOutput()
	require.NoError(t, err, "%s", out)
	t.Run("from nothing to a triage", func(t *testing.T) { fromNothingToATriage(t, bin) })
	t.Run("whatever ends it the answers are there", func(t *testing.T) { whateverEndsIt(t, bin) })
}

func fromNothingToATriage(t *testing.T, bin string) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	dir := t.TempDir()
	term := openTerminal(t, bin, dir, "ask")
	shown := term.fromTheBeginning()
	assert.Contains(t, term.typed("?"), "It decides:")

	_, first, ok := typist.Question(k.Book, shown)
	require.True(t, ok, shown)
	term.typed("-")
	shown = term.typed("b")
	_, again, _ := typist.Question(k.Book, shown)
	assert.Equal(t, first, again, "back asks the same once more")

	told := map[string]string{}
	measured := false
	for range 40 {
		_, fact, ok := typist.Question(k.Book, shown)
		if !ok {
			break
		}
		if k.Book.Facts[fact].Kind == condition.Quantity && !measured {
			measured = true
			assert.Contains(t, term.typed("5 gallons of it"), "read")
		}
		told[fact] = "cannot tell"
		line := "-"
		if a := ofTheTable[fact]; a != "" {
			told[fact], line = a, a
		}
		shown = term.typed(line)
	}
	require.Greater(t, len(told), 5)
	require.True(t, measured, "a measurement was asked for")
	assert.Contains(t, shown, "What now?")
	_, err = term.tty.Write([]byte{3}) // Ctrl-C
	require.NoError(t, err)
	assert.Equal(t, 130, term.ends())
	assert.Contains(t, oneLine(term.text()), "Stopped. Every answer is saved. To go on: mendwright ask oak-table.yaml")
	term.fits()

	got := readAnswers(t, k, filepath.Join(dir, "oak-table.yaml"))
	assert.Len(t, got, len(told))
	for fact, want := range told {
		if fact == "defect.form" {
			want = "spot"
		}
		assert.Equal(t, want, got[fact], fact)
	}

	term = openTerminal(t, bin, dir, "ask", "oak-table.yaml")
	shown = term.prompt()
	assert.Contains(t, shown, "oak-table.yaml: 1 surface, 1 mark, ")
	assert.NotContains(t, shown, "What is the piece?")
	_, err = term.tty.WriteString("s\n")
	require.NoError(t, err)
	assert.Equal(t, 0, term.ends())
	assert.Contains(t, term.text(), "Triage: Oak table")
	assert.Contains(t, term.text(), "Still open")
	assert.Regexp(t, emphasis, term.text(), "headings are set off on a terminal")
	term.fits()
}

func whateverEndsIt(t *testing.T, bin string) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	for name, end := range map[string]struct {
		signal syscall.Signal
		key    string
		code   int
	}{
		"killed outright":      {signal: syscall.SIGKILL, code: -1},
		"told to end":          {signal: syscall.SIGTERM, code: 143},
		"the line is cut":      {signal: syscall.SIGHUP, code: 129},
		"Ctrl-C":               {key: "\x03", code: 130},
		"Ctrl-D":               {key: "\x04", code: 0},
		"Ctrl-C in mid-answer": {key: "spo\x03", code: 130},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			term := openTerminal(t, bin, dir, "ask")
			_, fact, ok := typist.Question(k.Book, term.fromTheBeginning())
			require.True(t, ok)
			term.typed("-")
			if end.signal != 0 {
				require.NoError(t, term.cmd.Process.Signal(end.signal))
			} else {
				_, err := term.tty.WriteString(end.key)
				require.NoError(t, err)
			}
			assert.Equal(t, end.code, term.ends())
			assert.Equal(t, map[string]string{fact: "cannot tell"}, readAnswers(t, k, filepath.Join(dir, "oak-table.yaml")))
		})
	}
}
