package main

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/knowledge"
)

// TestTheReadmeCountsWhatIsThere: the README's figures are those of the rulebook, and what it
// shows is what the program prints.
func TestTheReadmeCountsWhatIsThere(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	readme := strings.Join(strings.Fields(string(text)), " ")
	k, err := knowledge.Load()
	require.NoError(t, err)
	assert.Contains(t, readme, fmt.Sprintf("%d kinds of defect, %d methods and %d warnings", len(k.Book.Defects), len(k.Book.Methods()), len(k.Book.Warnings)))

	_, shown, ok := strings.Cut(string(text), "```text\ndent on top")
	require.True(t, ok, "the README shows the dent of the example")
	shown, _, _ = strings.Cut(shown, "```")
	t.Chdir("../..")
	t.Setenv("COLUMNS", "80")
	var out strings.Builder
	require.Equal(t, exitDone, run([]string{"triage", "testdata/jobs/table-top.yaml"}, strings.NewReader(""), &out, &out))
	for _, line := range strings.Split("dent on top"+shown, "\n") {
		if strings.TrimSpace(line) != "..." {
			assert.Contains(t, out.String(), line)
		}
	}
}
