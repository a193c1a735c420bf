package audit_test

import (
	"flag"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/audit"
	"mendwright/rules"
)

const brokenDir = "../../testdata/broken-sense"

var update = flag.Bool("update", false, "write want.txt of the rulebooks that make no sense anew")

// overlay is the base below testdata/broken-sense with the files of dir laid over it.
func overlay(t testing.TB, dir string) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	for _, dir := range []string{"base", dir} {
		from := os.DirFS(filepath.Join(brokenDir, dir))
		require.NoError(t, fs.WalkDir(from, ".", func(name string, entry fs.DirEntry, err error) error {
			if err != nil || entry.IsDir() {
				return err
			}
			data, err := fs.ReadFile(from, name)
			out[name] = &fstest.MapFile{Data: data}
			return err
		}))
	}
	return out
}

func check(t testing.TB, dir string) *audit.Report {
	t.Helper()
	files := overlay(t, dir)
	book, err := rules.Load(files)
	require.NoError(t, err, dir)
	r, err := audit.Check(book, files, nil)
	require.NoError(t, err, dir)
	assert.Zero(t, r.Undecided, dir)
	return r
}

// shown is a report as the tests compare it, with the sort of each fault.
func shown(r *audit.Report) string {
	var b strings.Builder
	for _, f := range r.Faults {
		b.WriteString("fault " + f.Fault + ": " + f.Error() + "\n")
	}
	for _, n := range r.Notes {
		b.WriteString("note " + n.Fault + ": " + n.Error() + "\n")
	}
	return b.String()
}

func TestTheBaseMakesSense(t *testing.T) {
	assert.Empty(t, shown(check(t, "base")))
}

// TestEachFaultIsFound spoils the base in one place at a time. The want.txt beside the spoilt file
// holds all that is reported; a folder called near-… holds what only looks like a fault.
func TestEachFaultIsFound(t *testing.T) {
	dirs, err := os.ReadDir(brokenDir)
	require.NoError(t, err)
	faults, near := 0, 0
	for _, dir := range dirs {
		if dir.Name() == "base" {
			continue
		}
		t.Run(dir.Name(), func(t *testing.T) {
			got := shown(check(t, dir.Name()))
			if strings.HasPrefix(dir.Name(), "near-") {
				near++
				assert.Empty(t, got)
				return
			}
			faults++
			want := filepath.Join(brokenDir, dir.Name(), "want.txt")
			if *update {
				require.NoError(t, os.WriteFile(want, []byte(got), 0o644))
			}
			text, err := os.ReadFile(want)
			require.NoError(t, err)
			assert.Equal(t, string(text), got)
			sort, _, _ := strings.Cut(dir.Name(), "-")
			assert.Contains(t, got, sort, "the folder is called after the fault in it")
		})
	}
	assert.GreaterOrEqual(t, faults, 40)
	assert.GreaterOrEqual(t, near, 30)
}
