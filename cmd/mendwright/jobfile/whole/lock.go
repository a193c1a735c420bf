//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package whole

import (
	"errors"
	"fmt"
	"os"
	"syscall"
	"time"
)

// patience is how long a write waits for another one in the same folder.
var patience = 10 * time.Second

// lock keeps other writers of this program out of dir until unlock is called. The lock is on the
// folder itself, so that no file of its own is left over. locked is false where the disk has no
// locks or the folder may not be listed: the file is compared with what was read all the same,
// only the instant between comparing and replacing is unguarded.
func lock(dir string) (unlock func(), locked bool, err error) {
	none := func() {}
	f, err := os.Open(dir)
	if errors.Is(err, os.ErrPermission) {
		return none, false, nil
	}
	if err != nil {
		return none, false, err
	}
	for end := time.Now().Add(patience); ; time.Sleep(5 * time.Millisecond) {
		switch err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); {
		case err == nil:
			return func() { f.Close() }, true, nil // closing lets go
		case !errors.Is(err, syscall.EWOULDBLOCK) && !errors.Is(err, syscall.EINTR):
			f.Close()
			return none, false, nil
		case time.Now().After(end):
			f.Close()
			return none, false, fmt.Errorf("another program has been writing in %s for %v; end it, or try again", dir, patience)
		}
	}
}

// keepOwner gives f the owner of the file it will replace, where that is allowed: who repairs a
// file as another user must not take it away from its owner.
func keepOwner(f *os.File, like os.FileInfo) {
	if s, ok := like.Sys().(*syscall.Stat_t); ok {
		_ = f.Chown(int(s.Uid), int(s.Gid))
	}
}

// syncDir makes the names in dir last. A disk that cannot do so for a folder is not at fault.
func syncDir(dir string) error {
	f, err := os.Open(dir)
	if errors.Is(err, os.ErrPermission) {
		return nil
	}
	if err != nil {
		return err
	}
	defer f.Close()
	if err := f.Sync(); err != nil && !errors.Is(err, syscall.EINVAL) && !errors.Is(err, syscall.ENOTSUP) {
		return err
	}
	return nil
}
