package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/interview/typist"
	"mendwright/cmd/mendwright/jobfile"
	"mendwright/knowledge"
)

// restorer has a whole answered piece before them and tells of it what is asked, mark by mark.
type restorer struct {
	full  *jobfile.File
	typed map[string]string // the answers by thing and fact
	marks int               // how many were named
}

func newRestorer(t *testing.T, k *knowledge.Loaded, path string) *restorer {
	t.Helper()
	full, err := jobfile.ReadFile(path, k.Book, k.Tables)
	require.NoError(t, err)
	r := &restorer{full: full, typed: map[string]string{}}
	for _, u := range full.Understood {
		r.typed[u.Of+" "+u.Fact] = u.Typed
		if u.Answer == "cannot tell" {
			r.typed[u.Of+" "+u.Fact] = u.Answer // a file may say "?", which asks ask why
		}
	}
	return r
}

// say answers everything that is no question about a fact.
func (r *restorer) say(shown string) (string, bool) {
	marks := r.full.Job.Defects
	switch {
	case strings.HasSuffix(shown, "Enter alone leaves it out. >"):
		return r.full.Job.Name, true
	case strings.HasSuffix(shown, "such as dent or ring. >"):
		r.marks++
		return marks[r.marks-1].ID, true
	case strings.Contains(shown, "Which surface is the mark on?"):
		return marks[r.marks].On, true
	case strings.Contains(shown, "What now?") && r.marks < len(marks):
		return "1", true
	case strings.Contains(shown, "What now?"):
		return "s", true
	case strings.Contains(shown, "Two answers do not go together"):
		for of, s := range r.full.Job.Surfaces {
			if len(s.Confirmed) > 0 && strings.Contains(shown, of+": ") {
				return "1", true
			}
		}
		return "2", true
	}
	return "", false
}

func (r *restorer) answer(of, fact string) string { return r.typed[of+" "+fact] }

// byHand writes the answers of a job file as a person would who never saw the program ask: other
// order, other style.
func byHand(file *jobfile.File) string {
	of := map[string][]string{}
	for _, u := range slices.Backward(file.Understood) {
		_, name, _ := strings.Cut(u.Fact, ".")
		of[u.Of] = append(of[u.Of], fmt.Sprintf("%s: %q # as seen", name, u.Typed))
	}
	confirmed := func(ids map[string]bool) string {
		var names []string
		for id := range ids {
			_, name, _ := strings.Cut(id, ".")
			names = append(names, name)
		}
		if len(names) == 0 {
			return ""
		}
		return "confirmed: [" + strings.Join(names, ", ") + "]"
	}
	var b strings.Builder
	block := func(indent string, lines []string) {
		for _, l := range lines {
			if l != "" {
				fmt.Fprintf(&b, "%s%s\n", indent, l)
			}
		}
	}
	b.WriteString("format: \"1\"\ndefects:\n")
	for _, m := range slices.Backward(file.Job.Defects) {
		fmt.Fprintf(&b, "  -\n    on: %q\n    id: %q\n", m.On, m.ID)
		block("    ", append(of[m.ID], confirmed(m.Confirmed)))
	}
	b.WriteString("surfaces:\n")
	for name, s := range file.Job.Surfaces {
		fmt.Fprintf(&b, "  %q:\n    note: by hand\n", name)
		block("    ", append(of[name], confirmed(s.Confirmed)))
	}
	b.WriteString("shop:\n  note: by hand\n")
	block("  ", of["shop"])
	b.WriteString("piece:\n  note: by hand\n")
	if file.Job.Name != "" {
		fmt.Fprintf(&b, "  name: %q\n", file.Job.Name)
	}
	block("  ", of["piece"])
	return b.String()
}

// surfacesByHand is a scenario of which only the surfaces were written, and nothing confirmed.
func surfacesByHand(t *testing.T, k *knowledge.Loaded, path string) string {
	t.Helper()
	file, err := jobfile.ReadFile(path, k.Book, k.Tables)
	require.NoError(t, err)
	var b strings.Builder
	b.WriteString("format: 1\nsurfaces:\n")
	last := ""
	for _, u := range file.Understood {
		name, of := strings.CutPrefix(u.Fact, "surface.")
		if !of {
			continue
		}
		if u.Of != last {
			fmt.Fprintf(&b, "  %q:\n", u.Of)
			last = u.Of
		}
		fmt.Fprintf(&b, "    %s: %q\n", name, u.Typed)
	}
	return b.String()
}

func TestTheSameAnswersGiveTheSameTriageWhateverTheWay(t *testing.T) {
	t.Setenv("COLUMNS", "100")
	k, err := knowledge.Load()
	require.NoError(t, err)
	paths, err := filepath.Glob(filepath.Join("..", "..", "testdata", "jobs", "scenarios", "*.yaml"))
	require.NoError(t, err)
	chosen := slices.DeleteFunc(slices.Clone(paths), func(p string) bool {
		return !strings.HasSuffix(p, "mislabelled-veneer.yaml") && !strings.HasSuffix(p, "confirmed-shellac.yaml")
	})
	require.Len(t, chosen, 2)
	for i := 0; i < len(paths); i += len(paths) / 13 {
		if !slices.Contains(chosen, paths[i]) {
			chosen = append(chosen, paths[i])
		}
	}
	require.GreaterOrEqual(t, len(chosen), 12)
	if raced {
		chosen = chosen[:3] // races show in few talks, and each takes ten times as long
	}
	for i, path := range chosen {
		t.Run(filepath.Base(path), func(t *testing.T) {
			dir := t.TempDir()
			in := func(name string) string { return filepath.Join(dir, name) }
			triage := func(name string) string {
				var out, errOut bytes.Buffer
				require.Equal(t, exitDone, run([]string{"triage", "--json", in(name)}, strings.NewReader(""), &out, &errOut), errOut.String())
				return out.String()
			}
			if i < 2 {
				// What is answered is not asked a second time in other words, so a contradiction comes
				// from what was written by hand before.
				for _, name := range []string{"asked.yaml", "piped.yaml"} {
					require.NoError(t, os.WriteFile(in(name), []byte(surfacesByHand(t, k, path)), 0o600))
				}
			}
			var shown, errOut strings.Builder
			r := newRestorer(t, k, path)
			hand := &typist.Typist{Book: k.Book, Shown: &shown, Say: r.say, Answer: r.answer}
			require.Equal(t, exitDone, run([]string{"ask", in("asked.yaml")}, hand, &shown, &errOut), errOut.String())
			require.Equal(t, len(r.full.Job.Defects), r.marks, "every mark was told of: %.3000s", shown.String())
			require.Greater(t, len(hand.Typed), 5*r.marks)
			if i < 2 {
				require.Contains(t, shown.String(), "Two answers do not go together")
			}

			var again strings.Builder
			require.Equal(t, exitDone, run([]string{"ask", in("piped.yaml")}, strings.NewReader(strings.Join(hand.Typed, "\n")), &again, &errOut), errOut.String())
			asked, err := os.ReadFile(in("asked.yaml"))
			require.NoError(t, err)
			piped, err := os.ReadFile(in("piped.yaml"))
			require.NoError(t, err)
			assert.Equal(t, string(asked), string(piped))
			assert.Equal(t, triage("asked.yaml"), triage("piped.yaml"))

			file, err := jobfile.ReadFile(in("asked.yaml"), k.Book, k.Tables)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(in("by-hand.yaml"), []byte(byHand(file)), 0o600))
			assert.Equal(t, triage("asked.yaml"), triage("by-hand.yaml"))
			for _, u := range file.Understood {
				if told, ok := r.typed[u.Of+" "+u.Fact]; ok {
					assert.Equal(t, told, u.Typed, "%s of %s", u.Fact, u.Of)
				} else {
					assert.Equal(t, "cannot tell", u.Answer, "%s of %s", u.Fact, u.Of)
				}
			}
		})
	}
}
