package knowledge_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"runtime/debug"
	"slices"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/knowledge"
	"mendwright/rules"
	"mendwright/rules/strictyaml"
)

// TestEveryCutOfAFileIsRefused cuts every file of the rulebook after each of its lines and
// within its last 200 bytes. Whatever is lost, the reader must say so in the file that lost it.
//
// Rule files do not look at each other while they are read, and neither do tables nor files of
// facts. So all of such a group are cut in one load: the load numbered k holds the k-th cut of
// each. A file that has fewer cuts stays whole, and must then stand without a complaint. The race
// detector makes reading many times slower and finds no more in the last load than in the first,
// so under it, and in a short run, only every eighth is made.
//
// LoadTrusted looks at nothing but the files themselves, so the rest of the book may be absent.
// Every fourth load of rules is made by Load too, since only that reads the cases beside them.
func TestEveryCutOfAFileIsRefused(t *testing.T) {
	groups := map[string]fstest.MapFS{}
	require.NoError(t, fs.WalkDir(knowledge.Files(), ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		data, err := fs.ReadFile(knowledge.Files(), name)
		group := name
		switch folder := path.Dir(name); folder {
		case "tables", "facts":
			group = folder
		case "findings", "defects", "methods", "warnings":
			group = "rules"
		case "goods", "pairs", "chores", "aftermaths":
			group = "order"
		}
		if groups[group] == nil {
			groups[group] = fstest.MapFS{}
		}
		groups[group][name] = &fstest.MapFile{Data: data}
		return err
	}))

	// What must stand whole beside the files that are cut.
	needs := map[string][]string{
		"sources.yaml": {"terms.yaml"},
		"terms.yaml":   {"sources.yaml"},
		"tables":       {"sources.yaml", "terms.yaml"},
		"facts":        {"sources.yaml", "terms.yaml", "tables"},
		"rules":        {"sources.yaml", "terms.yaml", "tables", "facts"},
		"order":        {"sources.yaml", "terms.yaml", "tables", "facts"},
	}
	require.ElementsMatch(t, slices.Collect(maps.Keys(needs)), slices.Collect(maps.Keys(groups)))
	step := 1
	if raceDetected() || testing.Short() {
		step = 8
	}
	for _, group := range slices.Sorted(maps.Keys(groups)) {
		whole := groups[group]
		beside := fstest.MapFS{}
		for _, need := range needs[group] {
			maps.Copy(beside, groups[need])
		}
		cuts := map[string][]int{}
		most := 0
		for name, file := range whole {
			cuts[name] = cutPoints(file.Data)
			most = max(most, len(cuts[name]))
		}
		sound := maps.Clone(beside)
		maps.Copy(sound, whole)
		_, err := rules.LoadTrusted(sound)
		require.NoError(t, err, "the %s as they were written", group)
		const batch = 40
		for first := 0; first < most; first += batch {
			t.Run(fmt.Sprintf("%s from cut %d", group, first), func(t *testing.T) {
				t.Parallel()
				for k := first; k < min(first+batch, most); k += step {
					if group == "tables" || group == "order" {
						// LoadTrusted reads these only when they are asked for.
						refuseCuts(t, "Load", rules.Load, beside, whole, cuts, k)
						continue
					}
					refuseCuts(t, "LoadTrusted", rules.LoadTrusted, beside, whole, cuts, k)
					if group == "rules" && k%4 == 0 {
						refuseCuts(t, "Load", rules.Load, beside, whole, cuts, k)
					}
				}
			})
		}
	}
}

// refuseCuts reads beside and the k-th cut of each file of whole. Of the latter, the files
// complained about must be the files that were cut, and no others.
func refuseCuts(t *testing.T, reader string, read func(fs.FS) (*rules.Book, error), beside, whole fstest.MapFS, cuts map[string][]int, k int) {
	book := maps.Clone(beside)
	cut := map[string]int{}
	for name, file := range whole {
		book[name] = file
		if k < len(cuts[name]) {
			cut[name] = cuts[name][k]
			book[name] = &fstest.MapFile{Data: file.Data[:cut[name]]}
		}
	}
	_, err := read(book)
	var errs strictyaml.Errors
	require.ErrorAs(t, err, &errs)
	complained := map[string]bool{}
	for _, e := range errs {
		complained[e.File] = true
		if _, ok := cut[e.File]; !ok && whole[e.File] != nil {
			t.Errorf("%s: %s is whole, but: %s", reader, e.File, e)
		}
	}
	for name, at := range cut {
		if !complained[name] {
			t.Errorf("%s takes %s although it ends after byte %d of %d", reader, name, at, len(whole[name].Data))
		}
	}
}

// raceDetected reports whether the race detector is built in.
func raceDetected() bool {
	info, ok := debug.ReadBuildInfo()
	return ok && slices.Contains(info.Settings, debug.BuildSetting{Key: "-race", Value: "true"})
}

// cutPoints are the places to cut data: before each line and before each of its last 200 bytes.
func cutPoints(data []byte) []int {
	var at []int
	for i := range data {
		if i == 0 || data[i-1] == '\n' || i >= len(data)-200 {
			at = append(at, i)
		}
	}
	return at
}

func TestCutPointsMissNoLine(t *testing.T) {
	line := append(bytes.Repeat([]byte("x"), 299), '\n')
	data := bytes.Repeat(line, 3)
	at := cutPoints(data)
	assert.Equal(t, []int{0, 300, 600, 700, 701}, at[:5])
	assert.Equal(t, 899, at[len(at)-1])
	assert.Len(t, at, 203)
}
