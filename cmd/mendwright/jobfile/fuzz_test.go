package jobfile_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/engine"
	"mendwright/knowledge"
)

// FuzzRead tries any bytes as a job file: they are a job that can be triaged, or mistakes that
// fit a screen or two.
func FuzzRead(f *testing.F) {
	k, err := knowledge.Load()
	if err != nil {
		f.Fatal(err)
	}
	tools := k.Tables
	paths, err := filepath.Glob(filepath.Join("..", "..", "..", "testdata", "jobs", "*.yaml"))
	if err != nil || len(paths) == 0 {
		f.Fatal("no example jobs: ", err)
	}
	for _, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
		f.Add(data[:len(data)/2])
	}
	for _, text := range []string{
		kneeholeDesk, "", "format: 1\n", "format: 2\n", "format: 1\n---\nformat: 1\n", "format: 1\nformat: 1\n", "- a\n", "~",
		"format: 1\npiece: &p {age: 1900-1950}\nshop: *p\n", "format: 1\npiece: {age: !!str 1900-1950}\n", "format: 1\npiece: {name: caf\xe9}\n",
		onTop("layer: veneere", "layer_mm: 20 °C", "damp: [yes, no]", "thin_layer: yes"),
		onTop("layer: veneer", "layer_mm: 0.9 ± 0.05 mm", "stripped: yes", "sanding: {grits: [80, 120], tool: belt, keep: 1 mm}") +
			"defects:\n  - {id: dent, on: top, depth_mm: 0.1 mm, level: below, form: spot, fibres: cut}\n",
		onTop("layer: solid", "screwed: yes", "screw_mm: 5 mm", "confirmed: [layer]") + "defects:\n  - {id: dent, on: tpo}\n  - {id: dent, on: top}\n",
		"format: 1\nsurfaces: {~: {}, \"\": [], a: ~}\ndefects: [~, 1, {id: ~}]\n", "format: 1\rpiece:\r  agee: x\r", "format: 1\npiece: [[[[{{{{\n",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := jobfile.Read("job.yaml", data, k.Book, tools)
		if err != nil {
			if file != nil {
				t.Error("a refused file is half read")
			}
			if text := err.Error(); strings.TrimSpace(text) == "" || strings.Count(text, "\n") >= 60 {
				t.Errorf("an error of %d lines:\n%s", strings.Count(text, "\n")+1, text)
			}
			return
		}
		for _, u := range file.Understood {
			if u.Answer == "" || k.Book.Facts[u.Fact] == nil {
				t.Errorf("the answer %+v is not echoed", u)
			}
		}
		if _, err := engine.Triage(k.Book, k.Tables, file.Job); err != nil {
			t.Errorf("a job that was read cannot be triaged: %v", err)
		}
	})
}
