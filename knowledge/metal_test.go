package knowledge_test

import (
	"io/fs"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/metal"
	"mendwright/knowledge"
	"mendwright/rules"
	"mendwright/rules/interval"
)

// TestEveryBathHasAVerdictOnEveryPart: a pair without a row would be an error at the bench.
func TestEveryBathHasAVerdictOnEveryPart(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	tables, err := knowledge.MetalTables(k.Book)
	require.NoError(t, err)
	baths, parts := map[string]bool{}, map[string]bool{}
	for _, r := range tables.Baths {
		baths[r.Bath], parts[r.Part] = true, true
	}
	for _, answer := range k.Book.Facts["surface.metal"].Answers {
		parts[answer.ID] = true
	}
	for bath := range baths {
		for part := range parts {
			_, err := tables.Judge(bath, part)
			assert.NoError(t, err)
		}
		// Gold and hardness outweigh whatever lies beneath.
		for part := range parts {
			j, err := tables.Judge(bath, part, "gilt")
			require.NoError(t, err)
			assert.Equal(t, metal.Never, j.Verdict, "%s on gilt %s", bath, part)
		}
	}
}

// TestTheBathsAgreeWithTheMethods: a metal that a method of the rulebook never treats has the
// verdict never in its bath.
func TestTheBathsAgreeWithTheMethods(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	tables, err := knowledge.MetalTables(k.Book)
	require.NoError(t, err)
	names := map[string]string{"vinegar-bath": "vinegar", "citric-bath": "citric", "chelator-bath": "chelator", "electrolysis": "electrolysis"}
	one := regexp.MustCompile(`^surface\.metal == "([a-z-]+)"$`)
	agreed := 0
	for _, m := range k.Book.Methods() {
		bath, ok := names[m.ID]
		if !ok {
			continue
		}
		for _, c := range m.Never {
			part := ""
			switch match := one.FindStringSubmatch(c.When.Text); {
			case match != nil:
				part = match[1]
			case c.When.Text == "surface.spring":
				part = "hardened-spring"
			case c.When.Text == "surface.gilded":
				part = "gilt"
			default:
				continue
			}
			j, err := tables.Judge(bath, part)
			require.NoError(t, err, m.ID)
			assert.Equal(t, metal.Never, j.Verdict, "%s on %s", bath, part)
			agreed++
		}
	}
	assert.GreaterOrEqual(t, agreed, 10)
}

// TestTheDrillsAreTheNearestToTheirRule: pilots for the strongest hold lie within a hundredth of
// an inch of 70 and 90 % of the root; furniture practice drills larger, and never past the shank.
func TestTheDrillsAreTheNearestToTheirRule(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	tables, err := knowledge.MetalTables(k.Book)
	require.NoError(t, err)
	for _, s := range tables.Screws {
		shank, err := metal.ScrewMM(s.Gauge)
		require.NoError(t, err)
		for _, wood := range []metal.Wood{metal.Softwood, metal.Hardwood} {
			rule, err := metal.PilotOfRoot(interval.Exact(s.Root), wood)
			require.NoError(t, err)
			strong, shop := s.Strength.In(wood), s.Furniture.In(wood)
			assert.InDelta(t, rule.Lo, strong.Lo, 0.01*25.4, "gauge %d", s.Gauge)
			assert.Greater(t, shop.Lo, strong.Lo, "gauge %d", s.Gauge)
			assert.Less(t, shop.Hi, shank, "gauge %d", s.Gauge)
		}
		assert.InDelta(t, shank, s.ShankHole, 0.012*25.4, "gauge %d", s.Gauge)
		assert.Less(t, s.Root, shank)
	}
}

// TestAMistakeInATableOfHardwareIsFound: what the arithmetic cannot read is an error, never a guess.
func TestAMistakeInATableOfHardwareIsFound(t *testing.T) {
	for _, c := range []struct{ table, was, is, needs string }{
		{"baths", "verdict: watch", "verdict: perhaps", `"perhaps"`},
		{"metals", "magnet: none", "magnet: sometimes", `"sometimes"`},
		{"threads", "pitch_in: mm", "pitch_in: feet", `"feet"`},
		{"wood-screws", `gauge: "4"`, "gauge: four", `"four"`},
		{"galvanic", "", "", "galvanic"},
	} {
		files := fstest.MapFS{}
		require.NoError(t, fs.WalkDir(knowledge.Files(), ".", func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			data, err := fs.ReadFile(knowledge.Files(), name)
			files[name] = &fstest.MapFile{Data: data}
			return err
		}))
		name := "tables/" + c.table + ".yaml"
		if c.was == "" {
			delete(files, name)
		} else {
			require.Contains(t, string(files[name].Data), c.was)
			files[name].Data = []byte(strings.Replace(string(files[name].Data), c.was, c.is, 1))
		}
		book, err := rules.LoadTrusted(files)
		require.NoError(t, err)
		_, err = knowledge.MetalTables(book)
		assert.ErrorContains(t, err, c.needs, c.table)
	}
}
