package main

import (
	"os"
	"runtime"
	"syscall"
)

// maxRSS is the largest resident size of a finished process in bytes, or 0 where the system does
// not say.
func maxRSS(p *os.ProcessState) int64 {
	u, ok := p.SysUsage().(*syscall.Rusage)
	if !ok {
		return 0
	}
	if runtime.GOOS == "darwin" {
		return u.Maxrss
	}
	return u.Maxrss * 1024
}
