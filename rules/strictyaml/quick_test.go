package strictyaml

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
)

// shown writes a tree with everything that this package reads of it.
func shown(n *node) string {
	var b strings.Builder
	var write func(n *node, depth int)
	write = func(n *node, depth int) {
		fmt.Fprintf(&b, "%*s%d %d:%d %d %q %t\n", depth, "", n.Kind, n.Line, n.Column, n.Style, n.Value, n.null)
		for _, c := range n.Content {
			write(c, depth+1)
		}
	}
	write(n, 0)
	return b.String()
}

// agree fails unless quick declines the text or reads the same in it as the library.
func agree(t *testing.T, text string) (read bool) {
	t.Helper()
	is := quick(text, nil)
	if is == nil {
		return false
	}
	dec := yaml.NewDecoder(bytes.NewReader([]byte(text)))
	var top, second yaml.Node
	require.NoError(t, decode(dec, &top), "%q", text)
	require.Error(t, decode(dec, &second), "%q", text)
	require.Len(t, top.Content, 1)
	require.Equal(t, shown(new(Doc).own(top.Content[0], strings.Split(text, "\n"))), shown(is), "%q", text)
	return true
}

// TestTheQuickReaderReadsWhatTheLibraryReads on every rule file and job there is, and on what might trip it.
func TestTheQuickReaderReadsWhatTheLibraryReads(t *testing.T) {
	read, all := 0, 0
	for _, pattern := range []string{"../../knowledge/*.yaml", "../../knowledge/*/*.yaml", "../../testdata/jobs/*.yaml", "../../testdata/jobs/*/*.yaml"} {
		paths, err := filepath.Glob(pattern)
		require.NoError(t, err)
		require.NotEmpty(t, paths)
		for _, path := range paths {
			data, err := os.ReadFile(path)
			require.NoError(t, err)
			all++
			if agree(t, string(data)) {
				read++
			} else {
				t.Logf("left to the library: %s", path)
			}
		}
	}
	assert.Greater(t, 10*read, 9*all, "it declines too much to be of use: %d of %d", all-read, all)
	for _, text := range odd {
		agree(t, text)
	}
}

// odd are texts at the edge of what quick reads.
var odd = []string{
	"a: b\n", "a:  b  # c\n", "a: b#c\n", "a: b: c\n", "a: [b, c]\n", "a: [b,c,]\n", "a: [b\n  , c]\n", "a: [b\n]\n", "a: {b: c, d: e}\n", "a: {b}\n",
	"a: {b:c}\n", "a:\n  - b\n  - c: d\n    e: f\n", "a:\n- b\n", "a:\n", "a: \n  b: c\n d: e\n", "a: b\n  c\n", "a: 'it''s'\n", "a: \"q \\\" \\\\\"\n",
	"a: \"\\n\"\n", "a: ~\n", "a: null\n", "? a\n", "a: -1\n", "a: - b\n", "a: |\n  b\n", "a: &x b\n", "a: *x\n", "a: !t b\n", "---\na: b\n", "a: b\n...\n", "é: ü # ä\n",
	"a: {b: [c, {d: e}], f: g}\n", "a: b\n# c\n  # d\ne: f\n", "a:\n  - - b\n", "a:\n  -\n    b: c\n", "a: [[], {}]\n", "a: [b: c]\n", "a: 'b' c\n", "'a': b\n", "a: b ? c\n",
	"a: [b ? c]\n", "a: [-1, - 2]\n", "a: %b\n", "a: @b\n", "a: b\n\n\n", "a: 1\n\ta: 2\n", "a: x\r\n", "a: [b #c\n  , d]\n", "a: {b: 'c', d: \"e\"}\n", "a: \"b\": c\n", "a : b\n", "a:b\n", "a: b :c\n",
	"a: {b : c}\n", "a: [b, ]\n", "a: [, b]\n", "- a\n", "a: b\n c: d\n", "a:\n    b: c\n  d: e\n", "a:\n  - b\n c: d\n", "a: {b: c,\n  d: e}\n", "a: {b:\n  c}\n", "a: {b: }\n",
	"a: b # c: d\n", "a: b c#d: e\n", "a:\n  - b # c: d\n  - 'e: f'\n", "a: [\"b\", 'c']# d\n", "a: ''\n", "a: .\n", "a: b,c]\n", "a:\n  - x, y: z\n", "a: =\n", "<<: b\n", "a: b\n---\n", "a: ...\n", "a: ---\n", "a: -\n", "a: --\n",
}

// blanked leaves blank, line by line, what without leaves out at one go.
func blanked(text, key string) string {
	lines, skipping := strings.Split(text, "\n"), false
	for i, line := range lines {
		if line != "" && !strings.Contains(" #-", line[:1]) {
			skipping = strings.HasPrefix(line, key+":")
		}
		if skipping {
			lines[i] = ""
		}
	}
	return strings.Join(lines, "\n")
}

func TestABlockIsLeftOutWhereverItStands(t *testing.T) {
	for _, text := range []string{"", "a: b\n", "cases: x\n", "cases:\n", "cases:", "a: 1\ncases:\n  - b: c\n\n# d\ne: f\n", "cases:\n  - b\na: 1\ncases: [c]\nd: 2\n",
		"a: 1\ncases:\n- b\n", "a:\n  cases: b\ncasesx: 1\n", "a: 1\ncases:\n  b: ä\nsources: [c]", "a: 1\n\ncases: 2"} {
		assert.Equal(t, blanked(text, "cases"), without([]byte(text), "cases"), "%q", text)
		assert.Equal(t, text, without([]byte(text), ""), "%q", text)
	}
}

// TestASkippedBlockIsReadByNeitherReader leaves out the cases of every rule file.
func TestASkippedBlockIsReadByNeitherReader(t *testing.T) {
	paths, err := filepath.Glob("../../knowledge/*/*.yaml")
	require.NoError(t, err)
	skipped := 0
	for _, path := range paths {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		text := without(data, "cases")
		is := quick(text, nil)
		if is == nil {
			continue
		}
		if strings.Contains(string(data), "\ncases:") {
			skipped++
		}
		require.Equal(t, blanked(string(data), "cases"), text, path)
		want := &Doc{text: text}
		want.library()
		require.Empty(t, want.errs)
		require.Equal(t, shown(want.root), shown(is), path)
		require.Negative(t, entry(is, "cases"))
	}
	assert.Greater(t, skipped, 50)
}

func FuzzQuick(f *testing.F) {
	for _, text := range odd {
		f.Add(text)
	}
	paths, err := filepath.Glob("../../knowledge/*/*.yaml")
	require.NoError(f, err)
	for _, path := range paths {
		data, err := os.ReadFile(path)
		require.NoError(f, err)
		f.Add(string(data))
	}
	f.Fuzz(func(t *testing.T, text string) {
		if utf8.ValidString(text) && !strings.Contains(text, "\x00") {
			agree(t, text)
		}
	})
}
