package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/screen"
	"mendwright/engine/audit"
	"mendwright/knowledge"
)

// A script is a file of testdata/scripts, of this form, line by line. Texts are compared with
// all runs of spaces and line ends taken as one space, so that wrapping does not matter.
//
//	# a remark
//	job: NAME            a file that commands call @NAME; its lines follow
//	| a line of it
//	$ mendwright ARGS    a command; "..." and '...' hold an argument together
//	< TEXT               a line that is typed at it; its input ends after the last
//	columns: N           the width of the terminal of that command, 80 if not given
//	unmet: WHY           the program does not meet what follows yet; the test says when it does
//	exit N               its exit code, which every command states
//	out: TEXT            stands in what it prints
//	err: TEXT            stands in what it complains of
//	out line: TEXT       is a whole line of what it prints, spaces and all
//	err line: TEXT       is a whole line of what it complains of
//	not: TEXT            stands in neither
//	not match: PATTERN   a regular expression that neither matches, spaces, line ends and all
//	json: PATH = VALUE   what it prints is JSON with that value; a.b[0].c and a[id=x].b find it, a.# counts
//	no json: PATH        what it prints is JSON without that value
type script struct {
	name  string
	jobs  map[string]string
	calls []*scriptCall
}

// scriptCall is one command of a script and what it is expected to do.
type scriptCall struct {
	where    string // file:line
	text     string
	args     []string
	typed    string
	columns  int
	unmet    string
	exit     int // -1 until it was stated
	expected []expectation
}

// seeHelp ends the complaint of a wrong call: where the command that was called is described.
var seeHelp = regexp.MustCompile(`\nSee 'mendwright( [a-z]+)* --help'\.\n$`)

type expectation struct{ where, kind, text string }

var scriptKinds = []string{"out line", "err line", "out", "err", "not", "not match", "json", "no json"}

// readScript reads a script and refuses every line whose kind it does not know.
func readScript(name, text string) (*script, error) {
	s := &script{name: name, jobs: map[string]string{}}
	var call *scriptCall
	job := ""
	for i, line := range strings.Split(text, "\n") {
		where := fmt.Sprintf("%s:%d", name, i+1)
		fail := func(why string) error { return fmt.Errorf("%s: %s: %q", where, why, line) }
		if rest, ok := strings.CutPrefix(line, "|"); ok && job != "" {
			s.jobs[job] += strings.TrimPrefix(rest, " ") + "\n"
			continue
		}
		job = ""
		if strings.TrimSpace(line) == "" || strings.HasPrefix(line, "#") {
			continue
		}
		if rest, ok := strings.CutPrefix(line, "$ mendwright"); ok {
			if call != nil && call.exit < 0 {
				return nil, fail("the command before states no exit code")
			}
			args, err := splitArgs(rest)
			if err != nil {
				return nil, fail(err.Error())
			}
			call = &scriptCall{where: where, text: "mendwright" + rest, args: args, columns: 80, exit: -1}
			s.calls = append(s.calls, call)
			continue
		}
		if rest, ok := strings.CutPrefix(line, "job: "); ok {
			job = strings.TrimSpace(rest)
			s.jobs[job] = ""
			continue
		}
		if call == nil {
			return nil, fail("no command stands before")
		}
		if rest, ok := strings.CutPrefix(line, "<"); ok {
			if call.exit >= 0 {
				return nil, fail("what is typed comes before what is expected")
			}
			call.typed += strings.TrimPrefix(rest, " ") + "\n"
			continue
		}
		if rest, ok := strings.CutPrefix(line, "exit "); ok {
			n, err := strconv.Atoi(rest)
			if err != nil || call.exit >= 0 || len(call.expected) > 0 {
				return nil, fail("not an exit code, or not the first thing expected")
			}
			call.exit = n
			continue
		}
		kind, rest, ok := strings.Cut(line, ": ")
		switch {
		case !ok || strings.TrimSpace(rest) == "":
			return nil, fail("unknown kind of line")
		case kind == "columns":
			n, err := strconv.Atoi(rest)
			if err != nil {
				return nil, fail("not a width")
			}
			call.columns = n
		case kind == "unmet":
			call.unmet = rest
		case slices.Contains(scriptKinds, kind):
			if call.exit < 0 {
				return nil, fail("the exit code comes first")
			}
			if _, err := regexp.Compile(rest); kind == "not match" && err != nil {
				return nil, fail(err.Error())
			}
			call.expected = append(call.expected, expectation{where, kind, rest})
		default:
			return nil, fail("unknown kind of line")
		}
	}
	for _, c := range s.calls {
		if c.exit < 0 || len(c.expected) == 0 {
			return nil, fmt.Errorf("%s: nothing but an exit code, or not even that, is expected of %q", c.where, c.text)
		}
	}
	return s, nil
}

// splitArgs splits a command line at spaces outside quotes.
func splitArgs(line string) ([]string, error) {
	var args []string
	arg, quote, inside := "", rune(0), false
	for _, r := range line {
		switch {
		case quote != 0 && r == quote:
			quote = 0
		case quote == 0 && (r == '"' || r == '\''):
			quote, inside = r, true
		case quote == 0 && r == ' ':
			if inside {
				args = append(args, arg)
			}
			arg, inside = "", false
		default:
			arg, inside = arg+string(r), true
		}
	}
	if quote != 0 {
		return nil, errors.New("a quote is left open")
	}
	if inside {
		args = append(args, arg)
	}
	return args, nil
}

// result is what a command did.
type result struct {
	code        int
	out, errOut string
}

// call runs the program in process, as if from the root of the repository.
func (c *scriptCall) run(t *testing.T, dir string, columns int) result {
	t.Helper()
	args := slices.Clone(c.args)
	for i, a := range args {
		if name, ok := strings.CutPrefix(a, "@"); ok {
			args[i] = filepath.Join(dir, name)
		}
	}
	t.Setenv("COLUMNS", strconv.Itoa(columns))
	var out, errOut bytes.Buffer
	r := result{code: run(args, strings.NewReader(c.typed), &out, &errOut)}
	r.out, r.errOut = out.String(), errOut.String()
	return r
}

// oneLine takes all runs of spaces and line ends as one space.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// problems lists what a result lacks of what is expected of the command.
func (c *scriptCall) problems(r result) []string {
	var out []string
	if r.code != c.exit {
		out = append(out, fmt.Sprintf("%s: exit code %d, expected %d", c.where, r.code, c.exit))
	}
	for _, e := range c.expected {
		ok, note := false, ""
		text := oneLine(e.text)
		switch e.kind {
		case "out":
			ok = strings.Contains(oneLine(r.out), text)
		case "err":
			ok = strings.Contains(oneLine(r.errOut), text)
		case "not":
			ok = !strings.Contains(oneLine(r.out), text) && !strings.Contains(oneLine(r.errOut), text)
		case "not match":
			pattern := regexp.MustCompile(e.text)
			ok = !pattern.MatchString(r.out) && !pattern.MatchString(r.errOut)
		case "out line":
			ok = slices.Contains(strings.Split(r.out, "\n"), e.text)
		case "err line":
			ok = slices.Contains(strings.Split(r.errOut, "\n"), e.text)
		case "json":
			path, want, _ := strings.Cut(e.text, " = ")
			got, err := lookUp(r.out, path)
			ok = err == nil && got == want
			note = fmt.Sprintf(" (got %s, %v)", got, err)
		case "no json":
			var missing missingError
			got, err := lookUp(r.out, e.text)
			ok = errors.As(err, &missing)
			note = fmt.Sprintf(" (got %s, %v)", got, err)
		}
		if !ok {
			out = append(out, fmt.Sprintf("%s: %s: %s%s", e.where, e.kind, e.text, note))
		}
	}
	return out
}

// missingError says which part of a path the JSON does not hold.
type missingError struct{ part string }

func (e missingError) Error() string { return "there is no " + e.part }

var pathPart = regexp.MustCompile(`^([^.\[\]]+)((?:\[[^\]]*\])*)$`)

// lookUp finds the value at a path in JSON: a.b, a[0], a[id=x] and, for how many, a.#.
func lookUp(text, path string) (string, error) {
	dec := json.NewDecoder(strings.NewReader(text))
	dec.UseNumber()
	var v any
	if err := dec.Decode(&v); err != nil {
		return "", err
	}
	depth := 0
	for _, part := range strings.FieldsFunc(strings.ReplaceAll(path, "..", ".?."), func(r rune) bool {
		depth += map[rune]int{'[': 1, ']': -1}[r]
		return r == '.' && depth == 0
	}) {
		if part == "#" {
			list, ok := v.([]any)
			if !ok {
				return "", errors.New("what is to be counted is no list")
			}
			v = len(list)
			continue
		}
		m := pathPart.FindStringSubmatch(part)
		object, ok := v.(map[string]any)
		if m == nil || !ok {
			return "", missingError{part}
		}
		if v, ok = object[m[1]]; !ok {
			return "", missingError{part}
		}
		for _, index := range regexp.MustCompile(`\[([^\]]*)\]`).FindAllStringSubmatch(m[2], -1) {
			if v, ok = element(v, index[1]); !ok {
				return "", missingError{part}
			}
		}
	}
	if s, ok := v.(string); ok {
		return s, nil
	}
	b, err := json.Marshal(v)
	return string(b), err
}

// element finds an element of a list by its place, or by a key and its value.
func element(v any, index string) (any, bool) {
	list, _ := v.([]any)
	key, want, byKey := strings.Cut(index, "=")
	if !byKey {
		i, err := strconv.Atoi(index)
		if err != nil || i < 0 || i >= len(list) {
			return nil, false
		}
		return list[i], true
	}
	for _, e := range list {
		if o, ok := e.(map[string]any); ok && fmt.Sprint(o[key]) == want {
			return e, true
		}
	}
	return nil, false
}

// scripts reads all scripts, goes to the root of the repository and writes the jobs of each
// script into a folder of its own.
func scripts(t *testing.T) (all []*script, dirs map[string]string) {
	t.Helper()
	t.Chdir(filepath.Join("..", ".."))
	paths, err := filepath.Glob(filepath.Join("testdata", "scripts", "*.txt"))
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	dirs = map[string]string{}
	for _, path := range paths {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		s, err := readScript(filepath.Base(path), string(data))
		require.NoError(t, err)
		dirs[s.name] = t.TempDir()
		for name, text := range s.jobs {
			require.NoError(t, os.WriteFile(filepath.Join(dirs[s.name], name), []byte(text), 0o600))
		}
		all = append(all, s)
	}
	return all, dirs
}

func TestScripts(t *testing.T) {
	all, dirs := scripts(t)
	calls, codes := 0, map[int]int{}
	for _, s := range all {
		t.Run(s.name, func(t *testing.T) {
			for _, c := range s.calls {
				r := c.run(t, dirs[s.name], c.columns)
				problems := c.problems(r)
				switch {
				case c.unmet != "" && len(problems) == 0:
					t.Errorf("%s: $ %s\nis met now; take the line \"unmet: %s\" out", c.where, c.text, c.unmet)
				case c.unmet != "":
					t.Logf("%s: not met: %s\n%s", c.where, c.unmet, strings.Join(problems, "\n"))
				case len(problems) > 0:
					t.Errorf("$ %s\n%s\nit printed:\n%.4000s\nit complained:\n%s", c.text, strings.Join(problems, "\n"), r.out, r.errOut)
				default:
					calls++
					codes[r.code]++
				}
			}
		})
	}
	assert.GreaterOrEqual(t, calls, 45)
	for code := range 4 {
		assert.Positive(t, codes[code], "no command ends with exit code %d", code)
	}
}

// Whatever the command: an answer goes to the standard output and a complaint to the other, never
// both; an answer is JSON if JSON was asked for, and ends with the deference if it is a text.
func TestAnswersAndComplaintsGoTheirOwnWays(t *testing.T) {
	all, dirs := scripts(t)
	for _, s := range all {
		for _, c := range s.calls {
			r := c.run(t, dirs[s.name], c.columns)
			switch r.code {
			case exitDone, exitRefused:
				assert.Empty(t, r.errOut, c.text)
				assert.NotEmpty(t, r.out, c.text)
				if slices.Contains(c.args, "--json") {
					assert.True(t, json.Valid([]byte(r.out)), c.text)
				} else if c.answers() {
					assert.True(t, strings.HasSuffix(oneLine(r.out), screen.Deference), "%s ends without the deference:\n%s", c.text, r.out)
				}
			case exitFailed, exitWrongCall:
				assert.Empty(t, r.out, c.text)
				assert.True(t, strings.HasPrefix(r.errOut, "mendwright: "), "%s: %s", c.text, r.errOut)
				assert.True(t, strings.HasSuffix(r.errOut, "\n"), c.text)
				assert.Equal(t, r.code == exitWrongCall, seeHelp.MatchString(r.errOut), "%s: %s", c.text, r.errOut)
				assert.LessOrEqual(t, strings.Count(r.errOut, "\n"), 30, "a complaint fits a screen: %s", c.text)
			default:
				assert.Fail(t, "unknown exit code", "%d of %s", r.code, c.text)
			}
		}
	}
}

// answers reports whether a command asks for an answer, not for help.
func (c *scriptCall) answers() bool {
	if slices.Contains(c.args, "--help") || slices.Contains(c.args, "-h") || len(c.args) == 0 {
		return false
	}
	asked := c.args[0] == "reckon" && slices.ContainsFunc(c.args, func(a string) bool { return strings.Contains(a, "=") })
	return asked || slices.Contains([]string{"triage", "sand", "why", "air", "coat"}, c.args[0])
}

// talks reports whether a command asks a person.
func (c *scriptCall) talks() bool {
	return len(c.args) == 2 && c.args[0] == "ask" && c.args[1] != "--help"
}

func TestAnswersFitTheTerminal(t *testing.T) {
	if raced {
		t.Skip("the same calls as in TestScripts, and each takes ten times as long")
	}
	all, dirs := scripts(t)
	fitted := 0
	for _, s := range all {
		for _, c := range s.calls {
			if !c.answers() && !c.talks() || slices.Contains(c.args, "--json") {
				continue
			}
			code := c.run(t, dirs[s.name], 80).code
			widths := map[int]int{1: 40, 40: 40, 49: 49, 63: 63, 80: 80, 100: 100, 300: 100}
			if c.args[0] == "rules" { // not every width need see the whole rulebook
				widths = map[int]int{40: 40, 300: 100}
			}
			for columns, width := range widths {
				if c.args[0] == "why" && columns < 49 {
					continue // unmet.txt
				}
				r := c.run(t, dirs[s.name], columns)
				assert.Equal(t, code, r.code, "the width of a terminal decides nothing: %s", c.text)
				for line := range strings.SplitSeq(r.out, "\n") {
					assert.LessOrEqual(t, utf8.RuneCountInString(line), width, "%s at %d: %q", c.text, columns, line)
				}
				fitted++
			}
		}
	}
	assert.Greater(t, fitted, 100)
}

// promised lists the words of a text that this program never uses.
var promised = audit.Promised

func TestNoAnswerPromisesSafety(t *testing.T) {
	if raced {
		t.Skip("the same calls as in TestScripts, and each takes ten times as long")
	}
	all, dirs := scripts(t)
	for _, s := range all {
		for _, c := range s.calls {
			r := c.run(t, dirs[s.name], c.columns)
			assert.Empty(t, promised(r.out), c.text)
			assert.Empty(t, promised(r.errOut), c.text)
		}
	}
}

func TestNothingWrittenPromisesSafety(t *testing.T) {
	read := 0
	require.NoError(t, fs.WalkDir(knowledge.Files(), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(knowledge.Files(), path)
		for i, line := range strings.Split(string(data), "\n") {
			assert.Empty(t, promised(line), "knowledge/%s:%d: %s", path, i+1, line)
		}
		read++
		return err
	}))
	assert.Greater(t, read, 100)
	readme, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if !errors.Is(err, fs.ErrNotExist) {
		require.NoError(t, err)
		assert.Empty(t, promised(string(readme)), "README.md")
	}
}

func TestScriptsOfAnotherFormAreRefused(t *testing.T) {
	good := "$ mendwright --version\nexit 0\nout: version\n"
	s, err := readScript("good.txt", "# a remark\n\njob: a.yaml\n| format: 1\n|\n|   b\n"+good+"$ mendwright sand --mark '1/28\"' \"a b\"  c\n< one\n<\ncolumns: 50\nexit 2\nnot: a\n")
	require.NoError(t, err)
	assert.Equal(t, map[string]string{"a.yaml": "format: 1\n\n  b\n"}, s.jobs)
	require.Len(t, s.calls, 2)
	assert.Equal(t, []string{"sand", "--mark", `1/28"`, "a b", "c"}, s.calls[1].args)
	assert.Equal(t, 50, s.calls[1].columns)
	assert.Equal(t, "one\n\n", s.calls[1].typed)
	for text, why := range map[string]string{
		good + "stdout: x\n":                            "unknown kind of line",
		good + "out:\n":                                 "unknown kind of line",
		good + "out: \n":                                "unknown kind of line",
		good + "anything\n":                             "unknown kind of line",
		good + "| a line of no job\n":                   "unknown kind of line",
		"out: x\n" + good:                               "no command stands before",
		"$ mendwright --version\nout: version\n":        "the exit code comes first",
		"$ mendwright --version\nexit 0\n":              "nothing but an exit code",
		"$ mendwright --version\n" + good:               "states no exit code",
		"$ mendwright \"--version\nexit 0\nout: x\n":    "a quote is left open",
		"$ mendwright --version\nexit none\nout: x\n":   "not an exit code",
		good + "not match: (\n":                         "missing closing )",
		good + "exit 1\n":                               "not an exit code",
		good + "< typed\n":                              "comes before what is expected",
		"< typed\n" + good:                              "no command stands before",
		"$ mendwright --version\ncolumns: wide\nexit 0": "not a width",
	} {
		_, err := readScript("bad.txt", text)
		require.ErrorContains(t, err, why, "%q", text)
		assert.Contains(t, err.Error(), "bad.txt:", "%q", text)
	}
}

func TestPathsAreFoundInJSON(t *testing.T) {
	text := `{"a": {"b": [{"id": "x", "n": 0.50}, {"id": "y", "list": [1, "two", null]}]}, "yes": true}`
	for path, want := range map[string]string{
		"yes": "true", "a.b.#": "2", "a.b[0].id": "x", "a.b[id=x].n": "0.50", "a.b[id=y].list": `[1,"two",null]`,
		"a.b[1].list.#": "3", "a.b[id=y].list[1]": "two",
	} {
		got, err := lookUp(text, path)
		require.NoError(t, err, path)
		assert.Equal(t, want, got, path)
	}
	for _, path := range []string{"no", "a.no", "a.b[2]", "a.b[-1]", "a.b[id=z]", "a.b[id=x].n.m", "a..b", "yes[0]"} {
		_, err := lookUp(text, path)
		var missing missingError
		require.ErrorAs(t, err, &missing, path)
	}
	_, err := lookUp("no JSON", "a")
	require.Error(t, err)
}
