package main

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	checker "github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/reckon"
)

// TestEveryCalculationShowsACallThatWorks: whoever copies the call that a calculation shows gets
// an answer that fits the schema and the terminal and promises nothing.
func TestEveryCalculationShowsACallThatWorks(t *testing.T) {
	t.Setenv("COLUMNS", "80")
	schema, err := checker.NewCompiler().Compile(filepath.Join("schema", "reckon.schema.json"))
	require.NoError(t, err)
	call := func(args ...string) string {
		var out, errOut bytes.Buffer
		require.Equal(t, exitDone, run(args, strings.NewReader(""), &out, &errOut), "%v: %s", args, errOut.String())
		return out.String()
	}
	for _, c := range reckon.All() {
		described := call("reckon", c.ID)
		_, shown, ok := strings.Cut(described, "For example:")
		require.True(t, ok, c.ID)
		shown, _, _ = strings.Cut(shown, "A quantity may be a range")
		args, err := splitArgs(strings.TrimPrefix(oneLine(shown), "mendwright"))
		require.NoError(t, err, c.ID)
		require.Equal(t, []string{"reckon", c.ID}, args[:2])
		answer := call(args...)
		for _, text := range []string{described, answer} {
			assert.Empty(t, promised(text), c.ID)
			for line := range strings.SplitSeq(text, "\n") {
				assert.LessOrEqual(t, utf8.RuneCountInString(line), 80, "%s: %q", c.ID, line)
			}
		}
		v, err := checker.UnmarshalJSON(strings.NewReader(call(append(args, "--json")...)))
		require.NoError(t, err, c.ID)
		assert.NoError(t, schema.Validate(v), c.ID)
	}
}
