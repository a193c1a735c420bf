package jobfile_test

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/knowledge"
)

// saver is set to the number of the state on the disk where this program was started by its own
// test to save without end.
const saver = "MENDWRIGHT_TEST_SAVER"

func TestMain(m *testing.M) {
	if n, err := strconv.Atoi(os.Getenv(saver)); err == nil {
		fmt.Println(saveWithoutEnd(os.Args[1], n))
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// state is the name of the piece in the n-th state of the file, longer from state to state.
func state(n int) string { return fmt.Sprintf("state %d %s", n, strings.Repeat("x", 40*n)) }

// saveWithoutEnd saves one state after the other and writes the number of each once it is saved.
// Names need no rulebook, and a process that loads none is sooner at its saving.
func saveWithoutEnd(path string, n int) error {
	d, err := jobfile.Open(path, nil, nil)
	if err != nil {
		return err
	}
	for fmt.Println(n); ; fmt.Println(n) {
		n++
		if err := d.SetName(state(n)); err != nil {
			return err
		}
		if err := d.Save(); err != nil {
			return err
		}
	}
}

// stateOf reads a file that was saved by saveWithoutEnd.
func stateOf(t *testing.T, path string) int {
	t.Helper()
	k, err := knowledge.Load()
	require.NoError(t, err)
	f, err := jobfile.ReadFile(path, k.Book, k.Tables)
	require.NoError(t, err)
	n := 0
	_, err = fmt.Sscanf(f.Job.Name, "state %d", &n)
	require.NoError(t, err)
	require.Equal(t, strings.TrimSpace(state(n)), f.Job.Name)
	require.Equal(t, "shellac", f.Job.Surfaces["top"].Answers["surface.finish"].Choice())
	return n
}

// A process that saves is killed three hundred times, at any instant: the file is what was saved
// last, or what was just being saved, and the next process goes on from there.
func TestWhateverInstantASaveIsCutOffTheLastAnswersAreThere(t *testing.T) {
	const kills = 300
	dir := t.TempDir()
	path := filepath.Join(dir, "job.yaml")
	require.NoError(t, os.WriteFile(path, []byte("format: 1 # kept\npiece:\n  name: state 0\nsurfaces:\n  top: {finish: shellac}\n"), 0o600))
	exe, err := os.Executable()
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(1, 2))
	n, midway, saves := 0, 0, 0
	for range kills {
		cmd := exec.Command(exe, path)
		cmd.Env = append(os.Environ(), fmt.Sprintf("%s=%d", saver, n))
		out, err := cmd.StdoutPipe()
		require.NoError(t, err)
		require.NoError(t, cmd.Start())
		lines := bufio.NewScanner(out)
		require.True(t, lines.Scan(), "the process ended before it had begun")
		acknowledged := lines.Text()
		time.Sleep(time.Duration(r.IntN(12_000)) * time.Microsecond)
		require.NoError(t, cmd.Process.Kill())
		for lines.Scan() {
			acknowledged = lines.Text()
			saves++
		}
		require.Error(t, cmd.Wait(), "it was killed")

		last := 0
		_, err = fmt.Sscan(acknowledged, &last)
		require.NoError(t, err, "it failed by itself: %s", acknowledged)
		n = stateOf(t, path)
		require.Contains(t, []int{last, last + 1}, n)
		if n > 0 {
			require.Contains(t, []int{n - 1, n}, stateOf(t, path+".bak"))
		}
		entries, err := os.ReadDir(dir)
		require.NoError(t, err)
		require.LessOrEqual(t, len(entries), 4, "the file, its backup, and at most what one write leaves")
		if strings.HasPrefix(entries[0].Name(), ".mendwright-") {
			midway++
		}
	}
	t.Logf("%d saves were acknowledged; %d of %d kills left a file half written", saves, midway, kills)
	assert.Positive(t, saves)
	assert.Positive(t, midway, "no kill came in the middle of a save, and the test shows nothing")

	d := open(t, path)
	require.NoError(t, d.Set("top", "surface.damp", "no"))
	require.NoError(t, d.Save())
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 2, "nothing is left over after the next save")
	assert.True(t, strings.HasPrefix(d.Text(), "format: 1 # kept\n"))
}
