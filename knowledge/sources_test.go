package knowledge_test

import (
	"io/fs"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/knowledge"
)

// documents are the kinds of source that others can look up.
var documents = []string{"regulation", "standard", "handbook", "paper", "guide"}

// TestThreeOfFourRulesRestOnADocument counts the rule files that cite a regulation, a standard, a handbook, a
// paper or a guide for at least one of their clauses. The rest are the habit of the trade, memory or choices.
func TestThreeOfFourRulesRestOnADocument(t *testing.T) {
	t.Parallel()
	book := verified().Book
	closing := regexp.MustCompile(`(?m)^sources: \[(.*)\]$`)
	rest, all := 0, 0
	for _, folder := range []string{"defects", "methods", "warnings", "findings"} {
		names, err := fs.Glob(knowledge.Files(), folder+"/*.yaml")
		require.NoError(t, err)
		for _, name := range names {
			text, err := fs.ReadFile(knowledge.Files(), name)
			require.NoError(t, err)
			cited := closing.FindSubmatch(text)
			require.NotNil(t, cited, name)
			all++
			if slices.ContainsFunc(strings.Split(string(cited[1]), ", "), func(id string) bool { return slices.Contains(documents, book.Sources[id].Kind) }) {
				rest++
			}
		}
	}
	t.Logf("%d of %d rules cite a document", rest, all)
	assert.GreaterOrEqual(t, 4*rest, 3*all)
}
