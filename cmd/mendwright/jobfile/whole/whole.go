// Package whole writes a file whole or not at all, and only over what was read: after a power
// cut, on a full disk, or beside a second program, there is the old file or the new one.
package whole

import (
	"bytes"
	"crypto/rand"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// ErrChanged says that the file is no longer as it was read. Nothing was written.
var ErrChanged = errors.New("another program changed the file since it was read")

// Backup is what the name of a file gets for the file as it was before the last write.
const Backup = ".bak"

// Stamp says how a file was when it was read. The zero Stamp is that of a file not there.
type Stamp struct {
	there bool
	sum   [sha256.Size]byte
}

func stampOf(data []byte) Stamp { return Stamp{true, sha256.Sum256(data)} }

// Read reads the file at path, at most limit bytes and one more, by which the caller sees that it
// is too large. The error is that of the system, or says that path is no file to be read.
func Read(path string, limit int64) ([]byte, Stamp, error) {
	// Opening a pipe would wait for a writer; so look first.
	if info, err := os.Stat(path); err != nil {
		return nil, Stamp{}, err
	} else if !info.Mode().IsRegular() {
		return nil, Stamp{}, fmt.Errorf("%s is a %s; expected a file", path, sort(info))
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, Stamp{}, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, limit+1))
	if err != nil {
		return nil, Stamp{}, err
	}
	return data, stampOf(data), nil
}

func sort(info fs.FileInfo) string {
	if info.IsDir() {
		return "folder"
	}
	return "device or pipe"
}

// Write makes data the content of the file at path and returns its new stamp. was is the stamp
// with which the file was read; if it has changed since, the error is ErrChanged, unless it holds
// data already. The file as it was stays beside it under its name and Backup. A link is followed
// and the mode is kept. An error means that the old file stands, but for one case that says so:
// the new one stands and the disk did not confirm it.
func Write(path string, data []byte, was Stamp) (Stamp, error) {
	target, err := follow(path)
	if err != nil {
		return was, err
	}
	dir := filepath.Dir(target)
	unlock, locked, err := lock(dir)
	if err != nil {
		return was, err
	}
	defer unlock()
	now, info, err := current(target)
	switch {
	case err != nil:
		return was, err
	case now == stampOf(data):
		return now, nil
	case now != was:
		return was, ErrChanged
	}
	sweep(dir, locked)
	temp, err := writeTemp(dir, data, info)
	if err != nil {
		return was, fmt.Errorf("writing into the folder %s: %w", dir, cause(err))
	}
	defer os.Remove(temp) // gone already if all went well
	if now.there {
		if err := keep(target, dir, info); err != nil {
			return was, fmt.Errorf("keeping the file as it was under %s: %w", target+Backup, cause(err))
		}
	}
	if err := os.Rename(temp, target); err != nil {
		return was, fmt.Errorf("replacing %s: %w", target, cause(err))
	}
	if err := syncDir(dir); err != nil {
		return stampOf(data), fmt.Errorf("the file is written, but the disk did not confirm it: %w", err)
	}
	return stampOf(data), nil
}

// cause takes the name of a passing file off an error.
func cause(err error) error {
	var path *fs.PathError
	var names *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &names):
		return names.Err
	}
	return err
}

// follow returns the path of the file itself, behind any links.
func follow(path string) (string, error) {
	target, err := filepath.EvalSymlinks(path)
	if err == nil || !errors.Is(err, fs.ErrNotExist) {
		return target, err
	}
	if to, err := os.Readlink(path); err == nil {
		return "", fmt.Errorf("%s is a link to %s, which is not there", path, to)
	}
	dir, err := filepath.EvalSymlinks(filepath.Dir(path))
	return filepath.Join(dir, filepath.Base(path)), err
}

// current returns how the file is now. A file that may not be written is not replaced either,
// though the folder would allow it.
func current(target string) (Stamp, fs.FileInfo, error) {
	info, err := os.Stat(target)
	if errors.Is(err, fs.ErrNotExist) {
		return Stamp{}, nil, nil
	}
	if err != nil {
		return Stamp{}, nil, err
	}
	if !info.Mode().IsRegular() {
		return Stamp{}, nil, fmt.Errorf("%s is a %s; expected a file", target, sort(info))
	}
	f, err := os.OpenFile(target, os.O_RDWR, 0)
	if err != nil {
		return Stamp{}, nil, err
	}
	defer f.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, f); err != nil {
		return Stamp{}, nil, err
	}
	s := Stamp{there: true}
	copy(s.sum[:], sum.Sum(nil))
	return s, info, nil
}

// tempPrefix begins the name of every file that is not yet in its place.
const tempPrefix = ".mendwright-"

// sweep removes what writes that were cut off left in dir. Under the lock nobody else is writing;
// without it, only what has lain for an hour is surely left over.
func sweep(dir string, locked bool) {
	entries, _ := os.ReadDir(dir) // what cannot be listed cannot be swept, and does no harm
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), tempPrefix) || !strings.HasSuffix(e.Name(), ".tmp") {
			continue
		}
		if info, err := e.Info(); locked || err == nil && time.Since(info.ModTime()) > time.Hour {
			os.Remove(filepath.Join(dir, e.Name()))
		}
	}
}

// writeTemp writes data to a new file in dir, as far as the disk itself, with the mode and the
// owner of the file that it will replace, if there is one.
func writeTemp(dir string, data []byte, like fs.FileInfo) (name string, err error) {
	f, err := createTemp(dir)
	if err != nil {
		return "", err
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	if like != nil {
		keepOwner(f, like)
		if err := f.Chmod(like.Mode().Perm()); err != nil {
			return "", err
		}
	}
	if _, err := io.Copy(f, bytes.NewReader(data)); err != nil {
		return "", err
	}
	if err := f.Sync(); err != nil {
		return "", err
	}
	return f.Name(), f.Close()
}

// createTemp makes a new file with the mode that the user's habits (umask) give it; the
// library's temporary files are the owner's alone.
func createTemp(dir string) (*os.File, error) {
	for try := 0; ; try++ {
		f, err := os.OpenFile(tempName(dir), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if !errors.Is(err, fs.ErrExist) || try == 100 {
			return f, err
		}
	}
}

func tempName(dir string) string {
	return filepath.Join(dir, tempPrefix+rand.Text()+".tmp")
}

// link gives a file a second name; a test takes that away as some disks do.
var link = os.Link

// keep gives the file as it is a second name. Where a disk knows no second names, it is copied.
func keep(target, dir string, info fs.FileInfo) error {
	temp := tempName(dir)
	if err := link(target, temp); err != nil {
		data, err := os.ReadFile(target)
		if err != nil {
			return err
		}
		if temp, err = writeTemp(dir, data, info); err != nil {
			return err
		}
	}
	defer os.Remove(temp) // a rename between two names of one file does nothing
	return os.Rename(temp, target+Backup)
}
