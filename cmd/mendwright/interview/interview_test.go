package interview_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/interview"
	"mendwright/cmd/mendwright/jobfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
	"mendwright/knowledge"
)

// sit types lines at a job file and returns what was shown and the triage at the end.
func sit(t *testing.T, path string, lines ...string) (string, *engine.Answer) {
	t.Helper()
	k, err := knowledge.Load()
	require.NoError(t, err)
	doc, err := jobfile.Open(path, k.Book, k.Tables)
	if errors.Is(err, fs.ErrNotExist) {
		doc, err = jobfile.New(path, k.Book, k.Tables)
	}
	require.NoError(t, err)
	var shown strings.Builder
	sitting := &interview.Interview{Doc: doc, Book: k.Book, Tables: k.Tables, Page: &screen.Page{W: &shown, Width: 80}}
	_, a, err := sitting.Run(strings.NewReader(strings.Join(lines, "\n")))
	require.NoError(t, err)
	return shown.String(), a
}

// fromNothing answers what a dent in stripped, solid oak is asked, in the words of the answers.
var fromNothing = []string{"top", "dent", "spot", "solid"}

func TestAJobBeginsWithASurfaceAndAMark(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "job.yaml")
	shown, a := sit(t, path, append([]string{"", strings.Repeat("x", 200)}, fromNothing...)...)
	assert.Contains(t, shown, "Which surface is the mark on?")
	require.Len(t, a.Defects, 1)
	assert.Equal(t, "dent", a.Defects[0].ID)
	assert.Equal(t, "top", a.Defects[0].On)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Contains(t, string(text), "form: spot")
	assert.Contains(t, string(text), "layer: solid")
}

func TestWhatCannotBeReadIsAskedAgain(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "job.yaml")
	shown, _ := sit(t, path, append(append([]string{}, fromNothing[:2]...), "round", "99", "spot")...)
	assert.Contains(t, shown, `read "round"`)
	assert.Contains(t, shown, `read "99"; expected a number from 1 to 7`)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Contains(t, string(text), "form: spot")
}

func TestBackTakesTheLastAnswerOutOfTheFile(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "job.yaml")
	shown, _ := sit(t, path, append(append([]string{}, fromNothing...), "b", "b", "b", "line")...)
	assert.Contains(t, shown, "nothing to go back to")
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Contains(t, string(text), "form: line")
	assert.NotContains(t, string(text), "layer: solid")
}

func TestASittingGoesOnWhereTheLastOneStopped(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "job.yaml")
	first, _ := sit(t, path, append(append([]string{}, fromNothing...), "s")...)
	second, _ := sit(t, path, "?", "s")
	assert.NotContains(t, second, "Which surface is the mark on?")
	assert.Contains(t, second, "It decides:")
	prompts := strings.Split(first, "> ")
	asked := prompts[len(prompts)-2]
	open := strings.TrimSpace(asked[strings.LastIndex(asked, "\n\n"):])
	require.NotEmpty(t, open)
	before, _, _ := strings.Cut(second, "> ")
	assert.Equal(t, open, strings.TrimSpace(before), "the question that was left open is the first one asked again")
}

func TestCannotTellIsAnAnswerThatIsNotAskedAgain(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "job.yaml")
	sit(t, path, append(append([]string{}, fromNothing[:2]...), "7")...)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Contains(t, string(text), "form: cannot tell")
	shown, _ := sit(t, path, "s")
	assert.NotContains(t, shown, "Which form has the mark?")
}

func TestAnyAnswerCanBeListedAndTakenBack(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "job.yaml")
	shown, _ := sit(t, path, append(append([]string{}, fromNothing...), "l", "c 99", "c 2", "s")...)
	assert.Contains(t, shown, "1   top: surface.layer is solid")
	assert.Contains(t, shown, "2   dent: defect.form is spot")
	assert.Contains(t, shown, `read "99"; expected the number of an answer from 1 to 2`)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.NotContains(t, string(text), "form:")
	assert.Contains(t, string(text), "layer: solid")
}
