package interview_test

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/interview"
	"mendwright/cmd/mendwright/interview/typist"
	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
	"mendwright/knowledge"
)

// sitting readies a talk over the job file at path, and what it will show.
func sitting(t *testing.T, path string) (*interview.Interview, *strings.Builder) {
	t.Helper()
	k, err := knowledge.Load()
	require.NoError(t, err)
	doc, err := jobfile.Open(path, k.Book, k.Tables)
	if errors.Is(err, fs.ErrNotExist) {
		doc, err = jobfile.New(path, k.Book, k.Tables)
	}
	require.NoError(t, err)
	var shown strings.Builder
	return &interview.Interview{Doc: doc, Book: k.Book, Tables: k.Tables, Page: &screen.Page{W: &shown, Width: 100}}, &shown
}

// sit types lines at a job file and returns what was shown, on one line, and the triage at the end.
func sit(t *testing.T, path string, lines ...string) (string, *engine.Answer) {
	t.Helper()
	v, shown := sitting(t, path)
	a, err := v.Run(t.Context(), strings.NewReader(strings.Join(lines, "\n")))
	require.NoError(t, err)
	return oneLine(shown.String()), a
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// person is a restorer before a dent in stripped, solid oak who says at a question, by its fact,
// first what stands under extra, a line at a time, and then the answer. What is not known of the
// dent cannot be told.
type person struct {
	extra map[string][]string
	names []string // of the piece, the surface and the mark
	most  int      // questions to answer before the input ends; 0: all
}

var dent = map[string]string{"defect.form": "spot", "surface.layer": "solid", "surface.decorated": "no",
	"defect.fibres": "crushed", "defect.level": "below", "surface.stripped": "yes", "surface.finish": "none",
	"surface.layer_mm": "20 mm", "surface.timber": "oak-white", "defect.depth_mm": "0.6 ± 0.02 mm"}

// sit lets the person talk to the program and returns what was shown, on one line.
func (p *person) sit(t *testing.T, path string) (string, *engine.Answer) {
	t.Helper()
	v, shown := sitting(t, path)
	answered := 0
	hand := &typist.Typist{Book: v.Book, Shown: shown}
	hand.Say = func(text string) (string, bool) {
		_, fact, _ := typist.Question(v.Book, shown.String())
		if i := strings.LastIndex(shown.String(), "What now?"); i >= 0 && strings.Contains(text, "What now?") {
			fact = "menu"
		}
		if q := p.extra[fact]; len(q) > 0 {
			p.extra[fact] = q[1:]
			return q[0], true
		}
		if len(p.names) > 0 && !strings.Contains(text, "(top)") {
			name := p.names[0]
			p.names = p.names[1:]
			return name, true
		}
		return "", false
	}
	hand.Answer = func(_, fact string) string {
		answered++
		if p.most > 0 && answered > p.most {
			return "s"
		}
		return dent[fact]
	}
	a, err := v.Run(t.Context(), hand)
	require.NoError(t, err)
	return oneLine(shown.String()), a
}

func jobPath(t *testing.T) string {
	t.Helper()
	return filepath.Join(t.TempDir(), "job.yaml")
}

func written(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	return string(text)
}

// job writes a job file.
func job(t *testing.T, text string) string {
	t.Helper()
	path := jobPath(t)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	return path
}

// dented is the job of one dent, answered as far as its kind.
const dented = `format: 1
surfaces:
  top:
    layer: solid
    decorated: no
    layer_mm: 20 mm
defects:
  - id: dent
    on: top
    form: spot
    fibres: crushed
    level: below
    depth_mm: 0.6 mm
`

func TestAJobBeginsWithThePieceASurfaceAndAMark(t *testing.T) {
	t.Parallel()
	path := jobPath(t)
	shown, a := sit(t, path, "Chest, Ivelow", strings.Repeat("x", 200), "7", "top", "dent", "s")
	assert.Contains(t, shown, "What is the piece?")
	assert.Contains(t, shown, "at most 100 are written")
	assert.Contains(t, shown, `read "7"; expected the number of a surface`)
	require.Len(t, a.Defects, 1)
	assert.Equal(t, "Chest, Ivelow", a.Job)
	assert.Equal(t, "dent", a.Defects[0].ID)
	assert.Equal(t, "top", a.Defects[0].On)
}

func TestEnterAloneLeavesThePieceWithoutAName(t *testing.T) {
	t.Parallel()
	path := jobPath(t)
	sit(t, path, "", "top", "dent", "s")
	assert.NotContains(t, written(t, path), "piece")
}

func TestWhoSaysNothingLeavesNoFile(t *testing.T) {
	t.Parallel()
	path := jobPath(t)
	shown, a := sit(t, path, "", "h", "s")
	assert.Nil(t, a)
	assert.Contains(t, shown, "no file was written")
	assert.NoFileExists(t, path)
}

// It stays in the working folder of the test, so it runs alone.
func TestWithoutAFileOneIsNamedAfterThePiece(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, want := range []string{"chest-of-drawers-é-no-7.yaml", "chest-of-drawers-é-no-7-2.yaml"} {
		v, shown := sitting(t, "unused.yaml")
		v.Doc = nil
		_, err := v.Run(t.Context(), strings.NewReader("\n Chest of drawers, \"É\" no. 7/\ntop\ndent\ns\n"))
		require.NoError(t, err)
		assert.Contains(t, shown.String(), "the file needs a name")
		assert.Contains(t, shown.String(), "The file is "+want)
		assert.Contains(t, written(t, want), "Chest of drawers")
	}
	v, shown := sitting(t, "unused.yaml")
	v.Doc = nil
	_, err := v.Run(t.Context(), strings.NewReader("..\n"))
	require.NoError(t, err)
	assert.Contains(t, shown.String(), "The file is job.yaml")
}

func TestTheTalkEndsWhereNothingOpenMatters(t *testing.T) {
	t.Parallel()
	path := jobPath(t)
	p := &person{names: []string{"", "top", "dent"}}
	shown, a := p.sit(t, path)
	assert.Contains(t, shown, "It is: Dent")
	assert.Contains(t, shown, "A repair is READY: ")
	assert.Equal(t, 1, strings.Count(shown, "A repair is READY: "), "it is said once")
	assert.Contains(t, shown, "dent: nothing more to ask")
	assert.Contains(t, shown, "What now?")
	assert.Regexp(t, "You could not tell: [^>]*For it waits: ", shown)
	assert.Contains(t, shown, "mendwright ask ")
	assert.Equal(t, engine.Ready, a.Defects[0].Repairs[0].State)
}

func TestWhatCannotBeReadIsAskedAgain(t *testing.T) {
	t.Parallel()
	path := jobPath(t)
	p := &person{names: []string{"", "top", "dent"}, extra: map[string][]string{"defect.form": {"", "spott", "99", "\x1b[A", strings.Repeat("x", 9000)}}}
	shown, _ := p.sit(t, path)
	assert.Contains(t, shown, `read "spott"; expected a number from 1 to 15, or the word of an answer (did you mean "spot"?)`)
	assert.Contains(t, shown, `read "99"; expected a number from 1 to 15`)
	assert.Contains(t, shown, "Type an answer; - if you cannot tell")
	assert.Contains(t, shown, "Keys that write no letter")
	assert.Contains(t, shown, "more than 4096 characters was left out")
	assert.Contains(t, written(t, path), "form: spot")
}

func TestBackTakesTheLastAnswerOutAndAsksItAgain(t *testing.T) {
	t.Parallel()
	path := job(t, dented)
	var last string
	v, shown := sitting(t, path)
	hand := &typist.Typist{Book: v.Book, Shown: shown}
	said := 0
	hand.Say = func(text string) (string, bool) {
		of, fact, ok := typist.Question(v.Book, text)
		said++
		switch said {
		case 1:
			return "b", true
		case 2:
			_, last, _ = typist.Question(v.Book, shown.String())
			return "-", true
		case 3:
			assert.NotEqual(t, last, fact)
			_, name, _ := strings.Cut(last, ".")
			assert.Contains(t, written(t, path), name+": cannot tell")
			return "b", true
		}
		assert.True(t, ok)
		assert.Equal(t, last, fact, "asked of %s", of)
		return "", false
	}
	hand.Answer = func(string, string) string { return "s" }
	_, err := v.Run(t.Context(), hand)
	require.NoError(t, err)
	assert.Equal(t, 4, said)
	assert.Contains(t, oneLine(shown.String()), "There is nothing to go back to")
	assert.NotContains(t, written(t, path), "cannot tell", "the file says what it said")
}

func TestASittingGoesOnWhereTheLastOneStopped(t *testing.T) {
	t.Parallel()
	path := jobPath(t)
	(&person{names: []string{"", "top", "dent"}, most: 4}).sit(t, path)
	first := written(t, path)
	shown, _ := sit(t, path, "?", "h", "s")
	assert.NotContains(t, shown, "Which surface")
	assert.Contains(t, shown, "1 surface, 1 mark, 4 answers; ")
	assert.Contains(t, shown, "It decides:")
	assert.Contains(t, shown, "takes the last answer back")
	assert.Equal(t, first, written(t, path))
}

func TestCannotTellIsAnAnswerThatIsNotAskedAgain(t *testing.T) {
	t.Parallel()
	path := jobPath(t)
	sit(t, path, "", "top", "dent", "-", "s")
	require.Contains(t, written(t, path), "cannot tell")
	v, shown := sitting(t, path)
	_, err := v.Run(t.Context(), strings.NewReader("s"))
	require.NoError(t, err)
	_, fact, ok := typist.Question(v.Book, oneLine(strings.Split(shown.String(), "> ")[0]))
	require.True(t, ok)
	_, name, _ := strings.Cut(fact, ".")
	assert.NotContains(t, written(t, path), name+":")
}

func TestNIsNeverTakenForNo(t *testing.T) {
	t.Parallel()
	path := jobPath(t)
	p := &person{names: []string{"", "top", "dent"}, extra: map[string][]string{"surface.decorated": {"n"}}}
	shown, _ := p.sit(t, path)
	assert.Contains(t, shown, "type no (or 2) for no, next for the next mark")
	assert.Contains(t, written(t, path), "decorated: no")
}

func TestNoAnswerIsSpelledLikeACommand(t *testing.T) {
	t.Parallel()
	k, err := knowledge.Load()
	require.NoError(t, err)
	commands := []string{"h", "help", "l", "list", "n", "next", "b", "back", "c", "change", "s", "save", "?", "why", "-"}
	asks := map[string]string{}
	for id, f := range k.Book.Facts {
		for _, a := range f.Answers {
			assert.False(t, slices.Contains(commands, a.ID), "%s: %s", id, a.ID)
		}
		if f.Asked() {
			assert.Empty(t, asks[f.Ask], "%s asks what %s asks", id, asks[f.Ask])
			asks[f.Ask] = id
		}
	}
	assert.NotEmpty(t, asks)
}

// endless types one byte for ever, without a line end.
type endless struct{ n int }

func (e *endless) Read(p []byte) (int, error) {
	if e.n++; e.n > 50 {
		return 0, io.EOF
	}
	for i := range p {
		p[i] = 'x'
	}
	return len(p), nil
}

func TestALineWithoutAnEndIsRefused(t *testing.T) {
	t.Parallel()
	path := jobPath(t)
	v, shown := sitting(t, path)
	_, err := v.Run(t.Context(), &endless{})
	require.NoError(t, err)
	assert.Contains(t, shown.String(), "was left out")
	assert.NoFileExists(t, path)
}
