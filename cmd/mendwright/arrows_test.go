package main

import (
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// arrows says which of our packages each part of the house may import. What is not listed here
// may not exist.
var arrows = []struct {
	part string
	may  []string
}{
	{"mendwright/rules/interval", nil},
	{"mendwright/rules/quantity", []string{"mendwright/rules/interval"}},
	{"mendwright/rules", []string{"mendwright/rules"}},
	{"mendwright/engine/depth", []string{"mendwright/rules/interval"}},
	{"mendwright/engine/air", []string{"mendwright/rules/interval"}},
	{"mendwright/engine/coat", []string{"mendwright/rules/interval"}},
	{"mendwright/engine/mechanics", []string{"mendwright/rules/interval"}},
	{"mendwright/engine/metal", []string{"mendwright/rules/interval"}},
	{"mendwright/engine/moisture", []string{"mendwright/rules/interval"}},
	{"mendwright/engine/plan", []string{"mendwright/rules/interval"}},
	{"mendwright/engine/reckon", []string{"mendwright/engine/depth", "mendwright/engine/air", "mendwright/engine/coat", "mendwright/engine/mechanics",
		"mendwright/engine/metal", "mendwright/engine/moisture", "mendwright/engine/plan", "mendwright/rules/interval", "mendwright/rules/quantity"}},
	{"mendwright/engine", []string{"mendwright/engine", "mendwright/rules"}},
	{"mendwright/knowledge", []string{"mendwright/engine", "mendwright/rules"}},
	{"mendwright/cmd", []string{"mendwright/cmd", "mendwright/knowledge", "mendwright/engine", "mendwright/rules"}},
}

// libraries says which part alone may import a library.
var libraries = map[string]string{
	"github.com/google/cel-go": "mendwright/rules/condition",
	"gopkg.in/yaml.v3":         "mendwright/rules/strictyaml",
	"github.com/spf13/cobra":   "mendwright/cmd",
	"golang.org/x/term":        "mendwright/cmd",
	"golang.org/x/image":       "mendwright/cmd",
}

func within(pkg, part string) bool { return pkg == part || strings.HasPrefix(pkg, part+"/") }

// TestImportsRunOneWay: cmd, knowledge, engine, rules, never back; each library behind its own door.
func TestImportsRunOneWay(t *testing.T) {
	cmd := exec.Command("go", "list", "-json=ImportPath,Imports", "./...")
	cmd.Dir = "../.."
	out, err := cmd.Output()
	require.NoError(t, err)
	dec := json.NewDecoder(strings.NewReader(string(out)))
	packages := 0
	for {
		var pkg struct {
			ImportPath string
			Imports    []string
		}
		err := dec.Decode(&pkg)
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		packages++
		i := slices.IndexFunc(arrows, func(a struct {
			part string
			may  []string
		}) bool {
			return within(pkg.ImportPath, a.part)
		})
		require.GreaterOrEqual(t, i, 0, "%s is no part of the house", pkg.ImportPath)
		for _, imp := range pkg.Imports {
			if within(imp, "mendwright") {
				ok := slices.ContainsFunc(arrows[i].may, func(m string) bool { return within(imp, m) })
				assert.True(t, ok, "%s may not import %s", pkg.ImportPath, imp)
				continue
			}
			if first, _, _ := strings.Cut(imp, "/"); !strings.Contains(first, ".") {
				continue // the standard library
			}
			known := false
			for lib, part := range libraries {
				if within(imp, lib) {
					known = true
					assert.True(t, within(pkg.ImportPath, part), "%s imports %s, which only %s may", pkg.ImportPath, imp, part)
				}
			}
			assert.True(t, known, "%s imports %s, which nobody agreed on", pkg.ImportPath, imp)
		}
	}
	assert.GreaterOrEqual(t, packages, 10)
}

// TestTopLevelIsFixed: nothing else stands at the top of the house.
func TestTopLevelIsFixed(t *testing.T) {
	allowed := []string{"cmd", "rules", "engine", "knowledge", "testdata", "go.mod", "go.sum", "README.md", "DEVELOPERS.md", "LICENSE"}
	entries, err := os.ReadDir("../..")
	require.NoError(t, err)
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") {
			assert.Contains(t, allowed, e.Name())
		}
	}
}
