package whole_test

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/jobfile/whole"
)

// file is a path in a folder of its own, with content if that is not empty.
func file(t *testing.T, content string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "job.yaml")
	if content != "" {
		require.NoError(t, os.WriteFile(path, []byte(content), 0o640))
	}
	return path
}

func stamp(t *testing.T, path string) whole.Stamp {
	t.Helper()
	_, s, err := whole.Read(path, 1000)
	require.NoError(t, err)
	return s
}

func holds(t *testing.T, path, content string) {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, content, string(data), path)
}

// names lists a folder.
func names(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

func TestTheFileAsItWasStaysBesideTheNewOne(t *testing.T) {
	path := file(t, "one\n")
	s := stamp(t, path)
	for _, step := range [][2]string{{"two\n", "one\n"}, {"three\n", "two\n"}, {"three\n", "two\n"}} {
		var err error
		s, err = whole.Write(path, []byte(step[0]), s)
		require.NoError(t, err)
		holds(t, path, step[0])
		holds(t, path+whole.Backup, step[1])
		assert.Equal(t, stamp(t, path), s)
		assert.Equal(t, []string{"job.yaml", "job.yaml.bak"}, names(t, filepath.Dir(path)), "nothing else is left")
	}
}

// Disks of cameras and the like know no second names; there the old file is copied.
func TestTheFileAsItWasIsCopiedWhereItCannotHaveTwoNames(t *testing.T) {
	t.Cleanup(whole.WithoutLinks())
	path := file(t, "one\n")
	_, err := whole.Write(path, []byte("two\n"), stamp(t, path))
	require.NoError(t, err)
	holds(t, path, "two\n")
	holds(t, path+whole.Backup, "one\n")
	assert.Equal(t, []string{"job.yaml", "job.yaml.bak"}, names(t, filepath.Dir(path)))
	info, err := os.Stat(path + whole.Backup)
	require.NoError(t, err)
	assert.Equal(t, fs.FileMode(0o640), info.Mode().Perm())
}

func TestANewFileHasNoBackup(t *testing.T) {
	path := file(t, "")
	_, err := whole.Write(path, []byte("one\n"), whole.Stamp{})
	require.NoError(t, err)
	holds(t, path, "one\n")
	assert.Equal(t, []string{"job.yaml"}, names(t, filepath.Dir(path)))
}

func TestAFileThatChangedIsNotOverwritten(t *testing.T) {
	for what, meddle := range map[string]func(path string) error{
		"written over": func(path string) error { return os.WriteFile(path, []byte("other\n"), 0o600) },
		"same length":  func(path string) error { return os.WriteFile(path, []byte("One\n"), 0o600) },
		"emptied":      func(path string) error { return os.Truncate(path, 0) },
		"taken away":   os.Remove,
		"another inode": func(path string) error {
			return errors.Join(os.Remove(path), os.WriteFile(path, []byte("other\n"), 0o600))
		},
	} {
		path := file(t, "one\n")
		s := stamp(t, path)
		require.NoError(t, meddle(path))
		before, _ := os.ReadFile(path)
		again, err := whole.Write(path, []byte("two\n"), s)
		require.ErrorIs(t, err, whole.ErrChanged, what)
		assert.Equal(t, s, again)
		after, _ := os.ReadFile(path)
		assert.Equal(t, string(before), string(after), what)
		assert.NoFileExists(t, path+whole.Backup)
	}
	path := file(t, "there already\n")
	_, err := whole.Write(path, []byte("new\n"), whole.Stamp{})
	require.ErrorIs(t, err, whole.ErrChanged, "a file that came in the meantime")
	holds(t, path, "there already\n")
}

// Two who write the same have nothing to lose to each other.
func TestAFileThatHoldsTheNewContentAlreadyIsDone(t *testing.T) {
	path := file(t, "one\n")
	s := stamp(t, path)
	require.NoError(t, os.WriteFile(path, []byte("two\n"), 0o600))
	again, err := whole.Write(path, []byte("two\n"), s)
	require.NoError(t, err)
	assert.Equal(t, stamp(t, path), again)
}

func TestTheModeIsKept(t *testing.T) {
	for _, mode := range []fs.FileMode{0o600, 0o640, 0o664, 0o755} {
		path := file(t, "one\n")
		require.NoError(t, os.Chmod(path, mode))
		_, err := whole.Write(path, []byte("two\n"), stamp(t, path))
		require.NoError(t, err)
		for _, p := range []string{path, path + whole.Backup} {
			info, err := os.Stat(p)
			require.NoError(t, err)
			assert.Equal(t, mode, info.Mode().Perm(), p)
		}
	}
}

func TestALinkIsFollowedToItsFile(t *testing.T) {
	path := file(t, "one\n")
	elsewhere := t.TempDir()
	near, far := filepath.Join(elsewhere, "near.yaml"), filepath.Join(elsewhere, "far.yaml")
	require.NoError(t, os.Symlink(path, near))
	require.NoError(t, os.Symlink("near.yaml", far))
	_, err := whole.Write(far, []byte("two\n"), stamp(t, far))
	require.NoError(t, err)
	holds(t, path, "two\n")
	holds(t, path+whole.Backup, "one\n")
	link, err := os.Readlink(far)
	require.NoError(t, err)
	assert.Equal(t, "near.yaml", link)
	assert.Equal(t, []string{"far.yaml", "near.yaml"}, names(t, elsewhere))

	require.NoError(t, os.Remove(path))
	_, err = whole.Write(far, []byte("three\n"), whole.Stamp{})
	require.ErrorContains(t, err, "far.yaml is a link to near.yaml, which is not there")
	_, err = whole.Write(filepath.Join(elsewhere, "nowhere", "job.yaml"), []byte("x"), whole.Stamp{})
	require.ErrorIs(t, err, fs.ErrNotExist)
}

func TestOnlyFilesAreReadAndWritten(t *testing.T) {
	dir := t.TempDir()
	_, _, err := whole.Read(dir, 10)
	require.EqualError(t, err, dir+" is a folder; expected a file")
	_, err = whole.Write(dir, []byte("x"), whole.Stamp{})
	require.EqualError(t, err, dir+" is a folder; expected a file")
	_, _, err = whole.Read(os.DevNull, 10)
	require.EqualError(t, err, os.DevNull+" is a device or pipe; expected a file")
}

func TestALargeFileIsReadToOneByteBeyondTheLimit(t *testing.T) {
	data, _, err := whole.Read(file(t, strings.Repeat("x", 100)), 10)
	require.NoError(t, err)
	assert.Len(t, data, 11)
}

func TestWhatAnEarlierWriteLeftIsSweptAndBlocksNothing(t *testing.T) {
	path := file(t, "one\n")
	dir := filepath.Dir(path)
	for _, name := range []string{".mendwright-A.tmp", ".mendwright-B.tmp"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("half"), 0o600))
	}
	require.NoError(t, os.Link(path, filepath.Join(dir, ".mendwright-C.tmp")), "cut off while keeping the old file")
	for _, name := range []string{".mendwright-notes.txt", "mendwright-D.tmp"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("a person's"), 0o600))
	}
	_, err := whole.Write(path, []byte("two\n"), stamp(t, path))
	require.NoError(t, err)
	assert.Equal(t, []string{".mendwright-notes.txt", "job.yaml", "job.yaml.bak", "mendwright-D.tmp"}, names(t, dir))
}

// A backup that is the file itself under a second name must not be lost or keep anything back.
func TestABackupThatIsASecondNameOfTheFile(t *testing.T) {
	path := file(t, "one\n")
	require.NoError(t, os.Link(path, path+whole.Backup))
	_, err := whole.Write(path, []byte("two\n"), stamp(t, path))
	require.NoError(t, err)
	holds(t, path+whole.Backup, "one\n")
	assert.Equal(t, []string{"job.yaml", "job.yaml.bak"}, names(t, filepath.Dir(path)))
}

func TestAFolderInTheWayOfTheBackupIsSaid(t *testing.T) {
	path := file(t, "one\n")
	require.NoError(t, os.MkdirAll(filepath.Join(path+whole.Backup, "in it"), 0o700))
	_, err := whole.Write(path, []byte("two\n"), stamp(t, path))
	require.ErrorContains(t, err, "keeping the file as it was under "+path+".bak: ")
	holds(t, path, "one\n")
	assert.Equal(t, []string{"job.yaml", "job.yaml.bak"}, names(t, filepath.Dir(path)))
}

// Many writers add a line each, reading anew whenever another was quicker: no line is lost.
func TestManyWritersLoseNothing(t *testing.T) {
	const writers, lines = 8, 12
	path := file(t, "begin\n")
	beaten := make([]int, writers)
	var wg sync.WaitGroup
	for w := range writers {
		wg.Go(func() {
			for i := range lines {
				for {
					data, s, err := whole.Read(path, 1<<20)
					if !assert.NoError(t, err) {
						return
					}
					_, err = whole.Write(path, fmt.Appendf(data, "writer %d line %d\n", w, i), s)
					if err == nil {
						break
					}
					beaten[w]++
					if !assert.ErrorIs(t, err, whole.ErrChanged) {
						return
					}
					time.Sleep(time.Duration(w) * time.Millisecond)
				}
			}
		})
	}
	wg.Wait()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	got := map[string]int{}
	for line := range strings.Lines(string(data)) {
		got[line]++
	}
	assert.Len(t, got, writers*lines+1)
	for line, n := range got {
		assert.Equal(t, 1, n, line)
	}
	total := 0
	for _, n := range beaten {
		total += n
	}
	assert.Positive(t, total, "the writers never met, and the test shows nothing")
}
