package jobfile_test

import (
	"maps"
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
	seed(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := jobfile.Read("job.yaml", data, k.Book, k.Tables)
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
		if _, err := engine.PlanOf(k.Book, k.Tables, file.Job); err != nil && !strings.Contains(err.Error(), "more than one plan holds") {
			t.Errorf("a job that was read cannot be planned: %v", err)
		}
	})
}

// seed adds the example jobs, whole and halved, and texts that are wrong in a small way.
func seed(f *testing.F) {
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
		kneeholeDesk, planned, "", "format: 1\n", "format: 2\n", "format: 1\n---\nformat: 1\n", "format: 1\nformat: 1\n", "- a\n", "~",
		"format: 1\npiece: &p {age: 1900-1950}\nshop: *p\n", "format: 1\npiece: {age: !!str 1900-1950}\n", "format: 1\npiece: {name: caf\xe9}\n",
		onTop("layer: veneere", "layer_mm: 20 °C", "damp: [yes, no]", "thin_layer: yes"),
		onTop("layer: veneer", "layer_mm: 0.9 ± 0.05 mm", "stripped: yes", "sanding: {grits: [80, 120], tool: belt, keep: 1 mm}") +
			"defects:\n  - {id: dent, on: top, depth_mm: 0.1 mm, level: below, form: spot, fibres: cut}\n",
		onTop("layer: solid", "screwed: yes", "screw_mm: 5 mm", "confirmed: [layer]") + "defects:\n  - {id: dent, on: tpo}\n  - {id: dent, on: top}\n",
		"format: 1\nsurfaces: {~: {}, \"\": [], a: ~}\ndefects: [~, 1, {id: ~}]\n", "format: 1\rpiece:\r  agee: x\r", "format: 1\npiece: [[[[{{{{\n",
	} {
		f.Add([]byte(text))
	}
}

// FuzzEdit opens any bytes as a job file, edits and saves them: what the edit did not concern is
// as it was, and what was read before is read after.
func FuzzEdit(f *testing.F) {
	k, err := knowledge.Load()
	if err != nil {
		f.Fatal(err)
	}
	seed(f)
	for _, text := range byHand {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		path := filepath.Join(t.TempDir(), "job.yaml")
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		d, err := jobfile.Open(path, k.Book, k.Tables)
		if err != nil {
			if _, err := jobfile.Read("job.yaml", data, k.Book, k.Tables); err == nil {
				t.Error("a job that can be read cannot be opened")
			}
			return
		}
		before, broken := d.Read()
		model := map[string]string{}
		if broken == nil {
			model = answersOf(before)
		}
		// Only a value behind a lone "!", which the library takes for a tag without saying so, may be
		// refused in a sound job.
		done := func(err error, key, value string) {
			if err == nil {
				model[key] = value
			} else if tagged := strings.Contains(string(data), "!"); broken == nil && !tagged && !strings.Contains(err.Error(), "no surface") && !strings.Contains(err.Error(), "no defect") {
				t.Errorf("an edit of a sound job is refused: %v", err)
			}
		}
		done(d.Set("shop", "shop.place", "outdoors"), "shop shop.place", "outdoors")
		done(d.CannotTell("piece", "piece.age"), "piece piece.age", "cannot tell")
		done(d.Set("top", "surface.layer_mm", "0.9 mm"), "top surface.layer_mm", "0.9 mm")
		if d.AddSurface("new: one") == nil {
			done(d.Set("new: one", "surface.layer", "metal"), "new: one surface.layer", "metal")
			if d.AddDefect("new", "new: one") == nil {
				done(d.Set("new", "defect.form", "fitting"), "new defect.form", "fitting")
			}
		}
		if d.Clear("piece", "piece.worth") == nil {
			delete(model, "piece piece.worth")
		}
		if d.Clear("dent", "defect.form") == nil {
			delete(model, "dent defect.form")
		}
		if err := d.Save(); err != nil {
			t.Fatal(err)
		}
		again, err := jobfile.Open(path, k.Book, k.Tables)
		if err != nil {
			t.Fatalf("what was saved cannot be opened: %v\n%s", err, d.Text())
		}
		after, err := again.Read()
		if broken != nil {
			return
		}
		if err != nil {
			t.Fatalf("what was saved cannot be read: %v\n%s", err, d.Text())
		}
		if got := answersOf(after); !maps.Equal(got, model) {
			t.Errorf("the answers are %v, expected %v\n%s\nwas\n%s", got, model, d.Text(), data)
		}
		if len(after.Unread) != len(before.Unread) || !maps.Equal(after.Notes, before.Notes) || after.Job.Name != before.Job.Name {
			t.Errorf("something else was changed:\n%s\nwas\n%s", d.Text(), data)
		}
	})
}
