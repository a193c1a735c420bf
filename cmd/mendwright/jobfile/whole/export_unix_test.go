//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package whole

import "time"

// SetPatience shortens the wait for a lock and returns how to undo it.
func SetPatience(d time.Duration) (undo func()) {
	old := patience
	patience = d
	return func() { patience = old }
}
