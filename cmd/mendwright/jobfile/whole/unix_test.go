//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package whole_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/jobfile/whole"
)

// child names what this program does when it was started by one of its own tests.
const child = "MENDWRIGHT_TEST_CHILD"

func TestMain(m *testing.M) {
	if what := os.Getenv(child); what != "" {
		fmt.Print(write(what, os.Args[1]))
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// write tries a write of 200,000 bytes under a hindrance and returns its error in words.
func write(hindrance, path string) string {
	_, s, err := whole.Read(path, 1<<20)
	if err == nil {
		switch hindrance {
		case "nobody":
			if os.Getuid() == 0 { // nothing is forbidden to root
				err = syscall.Setgid(65534)
				if err == nil {
					err = syscall.Setuid(65534)
				}
			}
		case "limit":
			signal.Ignore(syscall.SIGXFSZ)
			err = syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: 100_000, Max: 100_000})
		}
	}
	if err == nil {
		_, err = whole.Write(path, bytes.Repeat([]byte("x\n"), 100_000), s)
	}
	return fmt.Sprint(err)
}

// hindered runs write in a process of its own.
func hindered(t *testing.T, hindrance, path string) string {
	t.Helper()
	exe, err := os.Executable()
	require.NoError(t, err)
	cmd := exec.Command(exe, path)
	cmd.Env = append(os.Environ(), child+"="+hindrance)
	out, err := cmd.Output() // a measured run complains beside it that nobody may keep its counts
	require.NoError(t, err, string(out))
	return string(out)
}

// open lets every user into the folder of path.
func open(t *testing.T, path string) string {
	dir := filepath.Dir(path)
	require.NoError(t, os.Chmod(dir, 0o777))
	require.NoError(t, os.Chmod(filepath.Dir(dir), 0o755))
	require.NoError(t, os.Chmod(path, 0o666))
	return dir
}

func TestAFolderThatMayNotBeWrittenIsSaid(t *testing.T) {
	path := file(t, "one\n")
	dir := open(t, path)
	require.NoError(t, os.Chmod(dir, 0o555))
	assert.Equal(t, "writing into the folder "+dir+": permission denied", hindered(t, "nobody", path))
	holds(t, path, "one\n")
	assert.Equal(t, []string{"job.yaml"}, names(t, dir))
	require.NoError(t, os.Chmod(dir, 0o777))
	assert.Equal(t, "<nil>", hindered(t, "nobody", path), "and it is the folder alone that hindered it")
}

func TestAFileThatMayNotBeWrittenIsNotReplaced(t *testing.T) {
	path := file(t, "one\n")
	dir := open(t, path)
	require.NoError(t, os.Chmod(path, 0o444))
	assert.Equal(t, "open "+path+": permission denied", hindered(t, "nobody", path))
	holds(t, path, "one\n")
	assert.Equal(t, []string{"job.yaml"}, names(t, dir))
}

// A folder that may be written but not listed cannot be locked or swept.
func TestAFolderThatMayNotBeListedIsWritten(t *testing.T) {
	path := file(t, "one\n")
	dir := open(t, path)
	require.NoError(t, os.Chmod(dir, 0o333))
	assert.Equal(t, "<nil>", hindered(t, "nobody", path))
	require.NoError(t, os.Chmod(dir, 0o777))
	holds(t, path, strings.Repeat("x\n", 100_000))
	holds(t, path+whole.Backup, "one\n")
}

func TestAWriteThatIsCutShortLeavesTheOldFile(t *testing.T) {
	path := file(t, "one\n")
	assert.Equal(t, "writing into the folder "+filepath.Dir(path)+": file too large", hindered(t, "limit", path))
	holds(t, path, "one\n")
	assert.Equal(t, []string{"job.yaml"}, names(t, filepath.Dir(path)))
}

// Root may give files away, so root gives them back: who mends another's file leaves it theirs.
func TestTheOwnerIsKept(t *testing.T) {
	if os.Getuid() != 0 {
		t.Skip("only root can give a file to another user")
	}
	path := file(t, "one\n")
	require.NoError(t, os.Chown(path, 65534, 65533))
	_, err := whole.Write(path, []byte("two\n"), stamp(t, path))
	require.NoError(t, err)
	info, err := os.Stat(path)
	require.NoError(t, err)
	s := info.Sys().(*syscall.Stat_t)
	assert.Equal(t, []uint32{65534, 65533}, []uint32{s.Uid, s.Gid})
}

func TestAPipeIsNotWaitedFor(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe")
	require.NoError(t, syscall.Mkfifo(path, 0o600))
	_, _, err := whole.Read(path, 10)
	require.EqualError(t, err, path+" is a device or pipe; expected a file")
}

func TestAnotherWriterIsWaitedForAndThenNamed(t *testing.T) {
	path := file(t, "one\n")
	s := stamp(t, path)
	dir, err := os.Open(filepath.Dir(path))
	require.NoError(t, err)
	require.NoError(t, syscall.Flock(int(dir.Fd()), syscall.LOCK_EX))
	t.Cleanup(whole.SetPatience(20 * time.Millisecond))
	_, err = whole.Write(path, []byte("two\n"), s)
	require.EqualError(t, err, "another program has been writing in "+dir.Name()+" for 20ms; end it, or try again")
	holds(t, path, "one\n")

	whole.SetPatience(10 * time.Second)
	time.AfterFunc(50*time.Millisecond, func() { dir.Close() })
	_, err = whole.Write(path, []byte("two\n"), s)
	require.NoError(t, err, "it ended, and the write went on")
	holds(t, path, "two\n")
}
