package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func written(args ...string) (code int, complaint string) {
	var out, errOut bytes.Buffer
	code = run(append([]string{"sheet"}, args...), nil, &out, &errOut)
	return code, errOut.String()
}

func TestASheetIsWrittenWholeAndTheOneBeforeStays(t *testing.T) {
	path := filepath.Join(t.TempDir(), "desk.html")
	code, said := written("../../testdata/jobs/table-top.yaml", "-o", path)
	require.Zero(t, code, said)
	first, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.True(t, bytes.HasSuffix(bytes.TrimSpace(first), []byte("</html>")))

	code, said = written("../../testdata/jobs/twice-sanded.yaml", "-o", path)
	assert.Equal(t, exitRefused, code, said)
	second, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Contains(t, string(second), "Tarrow auction")
	before, err := os.ReadFile(path + ".bak")
	require.NoError(t, err)
	assert.Equal(t, first, before)

	code, said = written("../../testdata/jobs/table-top.yaml", "-o", filepath.Join(path, "no", "folder.html"))
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, said, "the sheet")
}

func TestAPhotographThatIsNoneStopsTheSheet(t *testing.T) {
	dir := t.TempDir()
	job := filepath.Join(dir, "desk.yaml")
	require.NoError(t, os.WriteFile(job, []byte("format: 1\npiece: {name: desk, photos: [desk.jpg]}\n"), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "desk.jpg"), []byte("a note"), 0o600))
	code, said := written(job, "-o", filepath.Join(dir, "desk.html"))
	assert.Equal(t, exitFailed, code)
	assert.Contains(t, said, `the photograph "desk.jpg": the file is no picture that can be read`)
	_, err := os.Stat(filepath.Join(dir, "desk.html"))
	assert.ErrorIs(t, err, os.ErrNotExist, "nothing is written")
}
