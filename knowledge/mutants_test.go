package knowledge_test

import (
	"os"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine"
	"mendwright/knowledge"
)

// TestCasesNoticeMistakes runs every mutant of the built-in rulebook; of a hundred, the cases catch at
// least as many as the README says. `mendwright rules mutants` lists those they do not catch.
func TestCasesNoticeMistakes(t *testing.T) {
	k, err := knowledge.Verified()
	require.NoError(t, err)
	readme, err := os.ReadFile("../README.md")
	require.NoError(t, err)
	said := regexp.MustCompile(`notice\s+(\d+)\s+of\s+100\s+such\s+changes`).FindSubmatch(readme)
	require.NotNil(t, said, "the README does not say how many changes the cases notice")
	want, err := strconv.Atoi(string(said[1]))
	require.NoError(t, err)

	run := engine.RunMutants(k.Book, k.Tables, k.Book.Rules())
	t.Logf("%d of %d caught, %d that mean the same", run.Caught, run.Mutants, run.Same)
	assert.GreaterOrEqual(t, run.Of100, want, "of 100 changes the cases notice fewer than the README says")
	for _, m := range run.Mistakes {
		t.Error(m.Error())
	}
	// It would prove nothing if few were tried, or if none were of some part of a rule.
	assert.Greater(t, run.Mutants, 20*run.Rules)
}
