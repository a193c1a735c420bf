package main

import (
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"strings"
	"syscall"
	"testing"
)

// measured, in the environment, makes a fresh process of this test run the program named by its
// arguments and print that program's largest resident size. A process started from a large one
// is charged with the size of its parent, so the parent has to be small.
const measured = "MENDWRIGHT_TEST_MEASURE"

func TestMain(m *testing.M) {
	if os.Getenv(served) != "" {
		os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
	}
	if os.Getenv(measured) != "" {
		cmd := exec.Command(os.Args[1], os.Args[2:]...)
		if err := cmd.Run(); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		fmt.Println(maxRSS(cmd.ProcessState))
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// peak is the largest resident size in bytes of a program run with args.
func peak(b *testing.B, bin string, args ...string) int64 {
	b.Helper()
	self, err := os.Executable()
	if err != nil {
		b.Fatal(err)
	}
	cmd := exec.Command(self, append([]string{bin}, args...)...)
	cmd.Env = append(os.Environ(), measured+"=1")
	out, err := cmd.Output()
	if err != nil {
		b.Fatal(err)
	}
	n, err := strconv.ParseInt(strings.TrimSpace(string(out)), 10, 64)
	if err != nil {
		b.Fatal(err)
	}
	return n
}

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
