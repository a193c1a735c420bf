package main

import (
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/engine"
	"mendwright/knowledge"
	"mendwright/rules"
)

// sixDefects is an example job with its defects made up to six.
func sixDefects(b *testing.B) (*knowledge.Loaded, *engine.Job) {
	b.Helper()
	k, err := knowledge.Load()
	if err != nil {
		b.Fatal(err)
	}
	f, err := jobfile.ReadFile("../../testdata/jobs/table-top.yaml", k.Book, k.Tables)
	if err != nil {
		b.Fatal(err)
	}
	for _, m := range f.Job.Defects[:3] {
		twin := *m
		twin.ID += "-2"
		f.Job.Defects = append(f.Job.Defects, &twin)
	}
	return k, f.Job
}

func BenchmarkLoadAsProgramsDo(b *testing.B) {
	for b.Loop() {
		if _, err := rules.LoadTrusted(knowledge.Files()); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLoadVerified(b *testing.B) {
	for b.Loop() {
		if _, err := rules.Load(knowledge.Files()); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTriageSixDefects(b *testing.B) {
	k, job := sixDefects(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := engine.Triage(k.Book, k.Tables, job); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkProcess compares whole processes within one run: --version against triage.
func BenchmarkProcess(b *testing.B) {
	bin := filepath.Join(b.TempDir(), "mendwright")
	if out, err := exec.Command("go", "build", "-o", bin, ".").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	for _, c := range []struct {
		name string
		args []string
	}{
		{"version", []string{"--version"}},
		{"triage", []string{"triage", "../../testdata/jobs/table-top.yaml"}},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				cmd := exec.Command(bin, c.args...)
				cmd.Stdout, cmd.Stderr = io.Discard, os.Stderr
				if err := cmd.Run(); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(peak(b, bin, c.args...))/(1<<20), "MB-peak")
		})
	}
}
