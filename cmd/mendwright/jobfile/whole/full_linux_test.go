package whole_test

import (
	"bytes"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/jobfile/whole"
)

// A full disk is a small one in memory; only root can make it.
func TestOnAFullDiskTheOldFileStands(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=64k"); err != nil {
		t.Skip("no small disk can be made here: ", err)
	}
	t.Cleanup(func() { assert.NoError(t, syscall.Unmount(dir, 0)) })
	path := filepath.Join(dir, "job.yaml")
	require.NoError(t, os.WriteFile(path, []byte("one\n"), 0o600))
	s := stamp(t, path)

	_, err := whole.Write(path, bytes.Repeat([]byte("x\n"), 100_000), s)
	require.EqualError(t, err, "writing into the folder "+dir+": no space left on device")
	holds(t, path, "one\n")
	assert.Equal(t, []string{"job.yaml"}, names(t, dir), "the half file is gone")

	filler := filepath.Join(dir, "filler")
	require.Error(t, os.WriteFile(filler, make([]byte, 1<<20), 0o600), "the disk is not full")
	_, err = whole.Write(path, []byte("two\n"), s)
	require.ErrorIs(t, err, syscall.ENOSPC)
	holds(t, path, "one\n")

	require.NoError(t, os.Remove(filler))
	_, err = whole.Write(path, []byte("two\n"), s)
	require.NoError(t, err)
	holds(t, path, "two\n")
	holds(t, path+whole.Backup, "one\n")
}
