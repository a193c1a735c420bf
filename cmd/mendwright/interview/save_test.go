package interview_test

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/knowledge"
)

// script types lines and does something before each that has something to do.
type script struct {
	lines  []string
	before map[int]func()
	n      int
}

func (s *script) Read(p []byte) (int, error) {
	if do := s.before[s.n]; do != nil {
		do()
	}
	if s.n == len(s.lines) {
		return 0, io.EOF
	}
	s.n++
	return copy(p, s.lines[s.n-1]+"\n"), nil
}

// meanwhile answers, as another program, what the piece is for.
func meanwhile(t *testing.T, path string) func() {
	return func() {
		k, err := knowledge.Load()
		require.NoError(t, err)
		doc, err := jobfile.Open(path, k.Book, k.Tables)
		require.NoError(t, err)
		require.NoError(t, doc.Set("piece", "piece.aim", "presentable"))
		require.NoError(t, doc.Save())
	}
}

func TestWhatAnotherProgramWroteMeanwhileIsReadAndTheAnswerPutThere(t *testing.T) {
	t.Parallel()
	path := job(t, dented)
	v, shown := sitting(t, path)
	_, err := v.Run(t.Context(), &script{lines: []string{"c 5", "cut", "3", "1", "s"}, before: map[int]func(){1: meanwhile(t, path)}})
	require.NoError(t, err)
	assert.Contains(t, oneLine(shown.String()), "Another program changed")
	assert.Contains(t, shown.String(), `read "3"; expected 1 or 2`)
	assert.Contains(t, written(t, path), "aim: presentable")
	assert.Contains(t, written(t, path), "fibres: cut")
	assert.NoFileExists(t, filepath.Join(filepath.Dir(path), "job-2.yaml"))
}

func TestWhatAnotherProgramWroteMeanwhileCanBeLeftAlone(t *testing.T) {
	t.Parallel()
	for _, after := range [][]string{{"2", "s"}, {"s"}, {}, {"piped", "1", "s"}} {
		path := job(t, dented)
		beside := filepath.Join(filepath.Dir(path), "job-2.yaml")
		v, shown := sitting(t, path)
		if v.Piped = len(after) == 3; v.Piped {
			after = after[1:] // 1 is the answer to the next question
		}
		_, err := v.Run(t.Context(), &script{lines: append([]string{"c 5", "cut"}, after...), before: map[int]func(){1: meanwhile(t, path)}})
		require.NoError(t, err)
		assert.Contains(t, written(t, path), "aim: presentable")
		assert.Contains(t, written(t, path), "fibres: crushed", "theirs stands")
		assert.Contains(t, written(t, beside), "fibres: cut", "and so does mine")
		assert.Contains(t, shown.String(), "mendwright ask "+beside)
	}
}

func TestWhereTheAnswerFitsNoMoreItIsKeptBeside(t *testing.T) {
	t.Parallel()
	path := job(t, dented)
	v, shown := sitting(t, path)
	gone := func() { require.NoError(t, os.WriteFile(path, []byte("format: 1\n"), 0o600)) }
	_, err := v.Run(t.Context(), &script{lines: []string{"c 5", "cut", "1", "2", "s"}, before: map[int]func(){1: gone}})
	require.NoError(t, err)
	assert.Contains(t, shown.String(), "That leaves 2.")
	assert.Contains(t, written(t, filepath.Join(filepath.Dir(path), "job-2.yaml")), "fibres: cut")
	assert.Equal(t, "format: 1\n", written(t, path))
}

// A folder that is taken away stands for every disk that refuses a file.
func TestAnAnswerThatCannotBeSavedWaitsAndIsTriedAgain(t *testing.T) {
	t.Parallel()
	path := job(t, dented)
	dir := filepath.Dir(path)
	away := dir + "-away"
	elsewhere := filepath.Join(t.TempDir(), "elsewhere.yaml")
	move := func(from, to string) func() { return func() { require.NoError(t, os.Rename(from, to)) } }

	v, shown := sitting(t, path)
	_, err := v.Run(t.Context(), &script{lines: []string{"c 5", "cut", "", "", "s"}, before: map[int]func(){1: move(dir, away), 3: move(away, dir)}})
	require.NoError(t, err)
	assert.Contains(t, oneLine(shown.String()), "is not saved, what was saved last stands")
	assert.Contains(t, oneLine(shown.String()), "The answer is still here. Enter tries again")
	assert.Contains(t, written(t, path), "fibres: cut")

	v, _ = sitting(t, path)
	_, err = v.Run(t.Context(), &script{lines: []string{"c 5", "missing", filepath.Join(dir, "no", "such.yaml"), elsewhere, "s"}, before: map[int]func(){1: move(dir, away), 4: move(away, dir)}})
	require.NoError(t, err)
	assert.Contains(t, written(t, path), "fibres: cut", "the last save stands")
	assert.Contains(t, written(t, elsewhere), "fibres: missing")

	for _, piped := range []bool{false, true} {
		v, _ = sitting(t, path)
		v.Piped = piped
		away := dir + "-again"
		_, err = v.Run(t.Context(), &script{lines: []string{"c 5", "missing", "spot", "s"}, before: map[int]func(){1: move(dir, away)}})
		require.ErrorContains(t, err, "is not saved, what was saved last stands")
		require.NoFileExists(t, "spot", "an answer is no file name")
		move(away, dir)()
	}

	v, _ = sitting(t, path)
	_, err = v.Run(t.Context(), &script{lines: []string{"c 5", "missing"}, before: map[int]func(){1: move(dir, away), 2: move(away, dir)}})
	require.ErrorContains(t, err, "is not saved, what was saved last stands", "who leaves is told so once more")
	assert.Contains(t, written(t, path), "fibres: cut")
}

func TestWhoBreaksOffFindsEveryAnswerSaved(t *testing.T) {
	t.Parallel()
	path := job(t, dented)
	stopped := errors.New("stopped")
	ctx, cancel := context.WithCancelCause(t.Context())
	v, shown := sitting(t, path)
	block := make(chan struct{})
	defer close(block)
	stop := func() { cancel(stopped); <-block }
	a, err := v.Run(ctx, &script{lines: []string{"c 5", "cut", "never typed"}, before: map[int]func(){2: stop}})
	require.ErrorIs(t, err, stopped)
	assert.Nil(t, a)
	assert.Contains(t, oneLine(shown.String()), "Stopped. Every answer is saved. To go on: mendwright ask "+path)
	assert.Contains(t, written(t, path), "fibres: cut")
}

func TestWhoBreaksOffBeforeAnAnswerLeavesNothing(t *testing.T) {
	t.Parallel()
	path := jobPath(t)
	stopped := errors.New("stopped")
	ctx, cancel := context.WithCancelCause(t.Context())
	cancel(stopped)
	v, shown := sitting(t, path)
	_, err := v.Run(ctx, strings.NewReader(""))
	require.ErrorIs(t, err, stopped)
	assert.Contains(t, shown.String(), "no file was written")
	assert.NoFileExists(t, path)
}

func TestWhatThisProgramDoesNotKnowIsSaidAndKept(t *testing.T) {
	t.Parallel()
	path := job(t, "format: 1\ntomorrow: rain\n"+strings.TrimPrefix(dented, "format: 1\n"))
	shown, _ := sit(t, path, "c 5", "cut", "s")
	assert.Contains(t, shown, "does not know 1 field of that file")
	assert.Contains(t, written(t, path), "tomorrow: rain")
	assert.Contains(t, written(t, path), "fibres: cut")
}
