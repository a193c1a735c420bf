package jobfile_test

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/engine"
	"mendwright/knowledge"
)

// scenarios are invented pieces, answered in full as a truthful person at the bench would. The
// comment beside a mark's id names every kind that it is, and one above a file what in it is
// meant to contradict a finding.
func scenarios(t *testing.T) map[string]string {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join("..", "..", "..", "testdata", "jobs", "scenarios", "*.yaml"))
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(paths), 40)
	out := map[string]string{}
	for _, path := range paths {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		out[filepath.Base(path)] = string(data)
	}
	return out
}

var (
	markedAs = regexp.MustCompile(`(?m)^  - id: (.+) # (.+)$`)
	meant    = regexp.MustCompile(`(?m)^# Meant to contradict: (.+)$`)
)

func TestEveryScenarioIsJudgedAsItWasMade(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	times := map[string]int{}
	answered := map[string]bool{} // facts that any scenario answers; later ones are not asked of it
	asked := map[string][]string{}
	for name, content := range scenarios(t) {
		f, err := read(t, content)
		require.NoError(t, err, name)
		a, err := engine.Triage(k.Book, k.Tables, f.Job)
		require.NoError(t, err, name)
		kinds := map[string][]string{}
		for _, m := range markedAs.FindAllStringSubmatch(content, -1) {
			kinds[m[1]] = strings.Split(m[2], ", ")
		}
		require.Len(t, kinds, len(f.Job.Defects), name)
		assert.True(t, len(kinds) >= 1 && len(kinds) <= 4, name)

		var contradicts []string
		for _, m := range meant.FindAllStringSubmatch(content, -1) {
			contradicts = append(contradicts, m[1])
		}
		var conflicts []string
		for _, c := range a.Conflicts {
			conflicts = append(conflicts, c.Fact+" of "+c.On)
		}
		assert.Equal(t, contradicts, conflicts, name)

		has := map[string]bool{}
		for _, u := range f.Understood {
			has[u.Of+" "+u.Fact], answered[u.Fact] = true, true
		}
		for _, d := range a.Defects {
			var certain, possible []string
			for _, kind := range d.Kinds {
				if possible = append(possible, kind.Kind); kind.Certain {
					certain = append(certain, kind.Kind)
				}
			}
			if len(contradicts) > 0 {
				assert.Subset(t, possible, kinds[d.ID], "%s, %s: what contradicts itself rules nothing out", name, d.ID)
				assert.Empty(t, certain, "%s, %s: and makes nothing certain", name, d.ID)
				continue
			}
			assert.ElementsMatch(t, kinds[d.ID], certain, "%s, %s", name, d.ID)
			assert.ElementsMatch(t, certain, possible, "%s, %s: nothing else is left open", name, d.ID)
			for _, kind := range certain {
				times[kind]++
			}
			for _, q := range d.Questions {
				subject, _, _ := strings.Cut(q.Fact, ".")
				of := map[string]string{"surface": d.On, "defect": d.ID, "piece": "piece", "shop": "shop"}[subject]
				if !has[of+" "+q.Fact] {
					asked[q.Fact] = append(asked[q.Fact], name+", "+of)
				}
			}
		}
	}
	for fact, where := range asked {
		assert.False(t, answered[fact], "the triage would ask for %s, which is left out in %q", fact, where)
	}
	for _, d := range k.Book.Defects {
		assert.GreaterOrEqual(t, times[d.ID], 2, "%s is met too seldom", d.ID)
	}
}

func TestTheScenariosAreOfManySorts(t *testing.T) {
	met := map[string]int{}
	cannotTell := 0
	for name, content := range scenarios(t) {
		f, err := read(t, content)
		require.NoError(t, err, name)
		for _, u := range f.Understood {
			met[u.Fact+" "+u.Answer]++
			if u.Answer == "cannot tell" {
				cannotTell++
			}
		}
		for s := range f.Job.Surfaces {
			if strings.Contains(s, "seat") {
				met["a seat"]++
			}
		}
	}
	for _, want := range []string{
		"surface.layer solid", "surface.layer veneer", "surface.layer plywood", "surface.layer laminate", "surface.layer foil", "surface.layer fibreboard", "surface.layer metal",
		"piece.age before-1805", "piece.age 1805-1850", "piece.age 1850-1900", "piece.age 1900-1950", "piece.age 1950-1978", "piece.age after-1978",
		"surface.lead_test positive", "surface.lead_test kit-negative", "surface.lead_test lab-negative", "surface.lead_test not-tested",
		"shop.place closed-room", "shop.place window-open", "shop.place cross-draught", "shop.place extraction", "shop.place outdoors",
		"defect.fresh_dust yes", "defect.fresh_dust no", "piece.children yes", "piece.food yes", "piece.outdoors yes", "surface.decorated yes", "surface.rinsed no", "a seat",
		"surface.metal plain-steel", "surface.metal zinc-plated", "surface.metal brass-plated", "surface.metal solid-brass",
	} {
		assert.Positive(t, met[want], want)
	}
	assert.Greater(t, cannotTell, 40)
}

// Answer by answer, in any order, each scenario becomes the same job as by hand.
func TestEveryScenarioCanBeWrittenAnswerByAnswer(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(3, 4))
	for name, content := range scenarios(t) {
		byHand, err := read(t, content)
		require.NoError(t, err, name)
		path := filepath.Join(t.TempDir(), name)
		d, err := jobfile.New(path, k.Book, k.Tables)
		require.NoError(t, err)
		require.NoError(t, d.SetName(byHand.Job.Name))
		for s := range byHand.Job.Surfaces {
			require.NoError(t, d.AddSurface(s), name)
		}
		for _, m := range byHand.Job.Defects {
			require.NoError(t, d.AddDefect(m.ID, m.On), name)
		}
		answers := slices.Clone(byHand.Understood)
		r.Shuffle(len(answers), func(i, j int) { answers[i], answers[j] = answers[j], answers[i] })
		for _, u := range answers {
			require.NoError(t, d.Set(u.Of, u.Fact, u.Typed), name)
		}
		for s, surface := range byHand.Job.Surfaces {
			for fact := range surface.Confirmed {
				require.NoError(t, d.Confirm(s, fact), name)
			}
		}
		require.NoError(t, d.Save())
		again, err := jobfile.ReadFile(path, k.Book, k.Tables)
		require.NoError(t, err, name)
		assert.Equal(t, byHand.Job, again.Job, name)
	}
}
