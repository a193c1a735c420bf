package rules_test

import (
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/rules"
	"mendwright/rules/strictyaml"
)

const brokenDir = "../testdata/broken"

var update = flag.Bool("update", false, "write want.txt of the broken rulebooks anew")

// overlay is the rulebook in the first of dirs below testdata/broken, with the files of the
// others laid over it.
func overlay(t testing.TB, dirs ...string) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	for _, dir := range dirs {
		from := os.DirFS(filepath.Join(brokenDir, dir))
		require.NoError(t, fs.WalkDir(from, ".", func(name string, entry fs.DirEntry, err error) error {
			if err != nil || entry.IsDir() {
				return err
			}
			data, err := fs.ReadFile(from, name)
			out[name] = &fstest.MapFile{Data: data}
			return err
		}))
	}
	return out
}

// replace changes the one place in a file of book where old stands.
func replace(t testing.TB, book fstest.MapFS, name, old, with string) {
	t.Helper()
	data := string(book[name].Data)
	require.Equal(t, 1, strings.Count(data, old), "%s in %s", old, name)
	book[name] = &fstest.MapFile{Data: []byte(strings.Replace(data, old, with, 1))}
}

func TestTheBaseIsSound(t *testing.T) {
	book, err := rules.Load(overlay(t, "base"))
	require.NoError(t, err)
	assert.Len(t, book.Sources, 4)
	assert.Len(t, book.Facts, 15)
	assert.Len(t, book.Findings, 1)
	assert.Len(t, book.Defects, 2)
	assert.Len(t, book.Methods(), 3)
	assert.Len(t, book.Warnings, 2)
}

// TestEachFaultIsNamed loads the base with one fault in it at a time. The want.txt beside the
// faulty file holds all that the person who made the mistake gets to see.
func TestEachFaultIsNamed(t *testing.T) {
	dirs, err := os.ReadDir(brokenDir)
	require.NoError(t, err)
	faults := 0
	for _, dir := range dirs {
		if dir.Name() == "base" {
			continue
		}
		faults++
		t.Run(dir.Name(), func(t *testing.T) {
			book, err := rules.Load(overlay(t, "base", dir.Name()))
			require.Error(t, err)
			assert.Nil(t, book)
			var errs strictyaml.Errors
			assert.ErrorAs(t, err, &errs, "a mistake in a file has a place")
			want := filepath.Join(brokenDir, dir.Name(), "want.txt")
			if *update {
				require.NoError(t, os.WriteFile(want, []byte(err.Error()+"\n"), 0o644))
			}
			text, readErr := os.ReadFile(want)
			require.NoError(t, readErr)
			assert.Equal(t, string(text), err.Error()+"\n")
		})
	}
	assert.GreaterOrEqual(t, faults, 40)
}

func TestARulebookWithoutItsTwoListsIsRefused(t *testing.T) {
	_, err := rules.Load(fstest.MapFS{})
	assert.EqualError(t, err, `sources.yaml: the rulebook has no such file
terms.yaml: the rulebook has no such file`)
}

// TestMistakesOfSeveralFilesComeTogether makes three mistakes that show while files are read.
func TestMistakesOfSeveralFilesComeTogether(t *testing.T) {
	book := overlay(t, "base")
	replace(t, book, "warnings/dust.yaml", "signal: caution", "signal: cation")
	replace(t, book, "findings/delicate.yaml", "    is: yes\n", "    is: perhaps\n")
	replace(t, book, "methods/sand-down.yaml", "minutes: [5, 10, 30]", "minutes: [30, 10, 5]")
	_, err := rules.Load(book)
	assert.EqualError(t, err, `findings/delicate.yaml:6:9: read "perhaps"; expected yes, no or cannot tell
        is: perhaps
            ^
findings/delicate.yaml:6:9: a branch ends in a known answer to surface.delicate
        is: perhaps
            ^
methods/sand-down.yaml:55:10: expected low, likely and high, in this order
    minutes: [30, 10, 5]
             ^
warnings/dust.yaml:2:9: read "cation"; expected one of danger, warning, caution, notice (did you mean "caution"?)
    signal: cation
            ^`)
}

// TestMistakesAcrossFilesComeTogether makes three mistakes that show when references are followed.
func TestMistakesAcrossFilesComeTogether(t *testing.T) {
	book := overlay(t, "base")
	replace(t, book, "warnings/thin-board.yaml", "surface.board_mm < 4.0", "surface.boardmm < 4.0")
	replace(t, book, "defects/knife-cut.yaml", `defect.form == "line"`, `defect.form == "lime"`)
	replace(t, book, "methods/oil-over.yaml", "shop.air_c < 10.0", "shop.air_c < 10")
	_, err := rules.Load(book)
	assert.EqualError(t, err, `defects/knife-cut.yaml:6:26: "lime" is not an answer of defect.form (did you mean "line"?); its answers are line, patch
      - when: defect.form == "lime"
                             ^
methods/oil-over.yaml:8:24: write the number with a decimal point, such as 10.0
      - when: shop.air_c < 10
                           ^
warnings/thin-board.yaml:3:7: there is no fact "surface.boardmm" (did you mean "surface.board_mm"?)
    when: surface.boardmm < 4.0
          ^`)
}

func TestAtMostEightMistakesAreShown(t *testing.T) {
	for _, c := range []struct {
		mistakes, shown int
		rest            string
	}{
		{7, 7, ""},
		{8, 8, ""},
		{9, 8, "… and 1 more"},
		{20, 8, "… and 12 more"},
	} {
		var extra strings.Builder
		for i := range c.mistakes {
			fmt.Fprintf(&extra, "surplus_%02d: %d\n", i, i)
		}
		book := overlay(t, "base")
		replace(t, book, "warnings/dust.yaml", "if_wrong:", extra.String()+"if_wrong:")
		_, err := rules.Load(book)
		var errs strictyaml.Errors
		require.ErrorAs(t, err, &errs)
		assert.Len(t, errs, c.mistakes)
		for i, e := range errs {
			assert.Equal(t, 7+i, e.Line, "sorted by line")
		}
		text := err.Error()
		assert.Equal(t, c.shown, strings.Count(text, "unknown key"))
		last := text[strings.LastIndex(text, "\n")+1:]
		if c.rest == "" {
			assert.Equal(t, "    ^", last)
		} else {
			assert.Equal(t, c.rest, last)
		}
	}
}

func TestAFileThatIsTooLargeIsRefused(t *testing.T) {
	for _, c := range []struct {
		size int
		ok   bool
	}{{rules.MaxFileBytes, true}, {rules.MaxFileBytes + 1, false}, {50 * rules.MaxFileBytes, false}} {
		book := overlay(t, "base")
		dust := string(book["warnings/dust.yaml"].Data)
		filler := "# " + strings.Repeat("x", c.size-len(dust)-3) + "\n"
		book["warnings/dust.yaml"] = &fstest.MapFile{Data: []byte(filler + dust)}
		_, err := rules.Load(book)
		if c.ok {
			assert.NoError(t, err, "%d bytes", c.size)
			continue
		}
		require.Error(t, err, "%d bytes", c.size)
		assert.EqualError(t, err, "warnings/dust.yaml: the file is too large; at most 131072 bytes are read", "%d bytes", c.size)
	}
}

// grownBy is how many bytes f allocates in all, and how long it takes.
func grownBy(f func()) (uint64, time.Duration) {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	start := time.Now()
	f()
	took := time.Since(start)
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc, took
}

// TestBombsAreRefused feeds files that are small to store and enormous to write out.
func TestBombsAreRefused(t *testing.T) {
	var laughs strings.Builder
	laughs.WriteString("warning: dust\na: &a [lol, lol, lol, lol, lol, lol, lol, lol, lol]\n")
	for c := 'b'; c <= 'z'; c++ {
		p := string(c - 1)
		fmt.Fprintf(&laughs, "%c: &%c [%s]\n", c, c, strings.TrimSuffix(strings.Repeat("*"+p+", ", 9), ", "))
	}
	laughs.WriteString("sources: [*z]\n")

	var merges strings.Builder
	merges.WriteString("warning: dust\na: &a {k: v}\n")
	for c := 'b'; c <= 'z'; c++ {
		p := string(c - 1)
		fmt.Fprintf(&merges, "%c: &%c {<<: [*%s, *%s], %c1: *%s, %c2: *%s}\n", c, c, p, p, c, p, c, p)
	}
	merges.WriteString("sources: [habit]\n")

	for name, c := range map[string]struct{ text, says string }{
		"aliases of aliases":    {laughs.String(), "anchors and aliases are not read"},
		"merges of merges":      {merges.String(), "anchors and aliases are not read"},
		"an alias of itself":    {"warning: &w [*w]\nsources: [habit]\n", "anchors and aliases are not read"},
		"brackets in brackets":  {"warning: " + strings.Repeat("[", 60000) + strings.Repeat("]", 60000) + "\nsources: [habit]\n", "warnings/dust.yaml"},
		"brackets never closed": {"warning: " + strings.Repeat("[", 120000) + "\n", "warnings/dust.yaml"},
		"braces in braces":      {"warning: " + strings.Repeat("{a: ", 9000) + strings.Repeat("}", 9000) + "\nsources: [habit]\n", "nested more than 24 levels deep"},
		"dashes behind dashes":  {"warning:\n" + strings.Repeat("- ", 60000) + "x\nsources: [habit]\n", "warnings/dust.yaml"},
		"deeper and deeper":     {stairs(450), "nested more than 24 levels deep"},
	} {
		t.Run(name, func(t *testing.T) {
			require.Less(t, len(c.text), rules.MaxFileBytes, "the size alone must not give it away")
			book := overlay(t, "base")
			book["warnings/dust.yaml"] = &fstest.MapFile{Data: []byte(c.text)}
			var err error
			grown, took := grownBy(func() { _, err = rules.Load(book) })
			require.Error(t, err)
			assert.Contains(t, err.Error(), c.says)
			assert.Less(t, grown, uint64(64<<20), "bytes allocated")
			assert.Less(t, took, 5*time.Second)
		})
	}
}

// stairs is a file whose mappings go deeper line by line.
func stairs(steps int) string {
	var b strings.Builder
	b.WriteString("warning:\n")
	for i := range steps {
		b.WriteString(strings.Repeat(" ", i+1) + "a:\n")
	}
	b.WriteString(strings.Repeat(" ", steps+1) + "x\nsources: [habit]\n")
	return b.String()
}

// shuffled lists its directories in an order of its own.
type shuffled struct {
	fs.FS
	order *rand.Rand
}

func (s shuffled) ReadDir(name string) ([]fs.DirEntry, error) {
	entries, err := fs.ReadDir(s.FS, name)
	s.order.Shuffle(len(entries), func(i, j int) { entries[i], entries[j] = entries[j], entries[i] })
	return entries, err
}

// ids lists everything in the book that has a name, in the book's own order.
func ids(b *rules.Book) map[string][]string {
	out := map[string][]string{}
	add := func(kind, id string) { out[kind] = append(out[kind], id) }
	for _, c := range b.Calculators {
		add("calculators", c.ID)
	}
	for _, f := range b.Findings {
		add("findings", f.ID)
	}
	for _, d := range b.Defects {
		add("defects", d.ID)
		for _, m := range b.Treating(d.ID) {
			add("treating "+d.ID, m.ID)
		}
	}
	for _, m := range b.Methods() {
		add("methods", m.ID)
	}
	for _, w := range b.Warnings {
		add("warnings", w.ID)
	}
	for _, id := range []string{"woods"} {
		t, err := b.Table(id)
		if err != nil {
			panic(err)
		}
		for _, r := range t.Rows {
			add("rows of "+t.ID, r.Key)
		}
	}
	for id := range maps.Keys(b.Facts) {
		out["fact "+id] = nil
	}
	for id := range maps.Keys(b.Sources) {
		out["source "+id] = nil
	}
	return out
}

func TestTheOrderOfADirectoryChangesNothing(t *testing.T) {
	sound := overlay(t, "base")
	want, err := rules.Load(sound)
	require.NoError(t, err)
	broken := overlay(t, "base")
	replace(t, broken, "warnings/dust.yaml", "signal: caution", "signal: cation")
	replace(t, broken, "methods/oil-over.yaml", "stage: finish", "stage: end")
	replace(t, broken, "methods/sand-down.yaml", "stage: level", "stage: flat")
	_, wantErr := rules.Load(broken)
	require.Error(t, wantErr)

	for seed := range uint64(20) {
		order := rand.New(rand.NewPCG(seed, 1))
		got, err := rules.Load(shuffled{sound, order})
		require.NoError(t, err)
		assert.Equal(t, want.Digest(), got.Digest())
		assert.Equal(t, ids(want), ids(got))
		_, err = rules.Load(shuffled{broken, order})
		assert.EqualError(t, err, wantErr.Error())
	}
}

func TestTheDigestTellsBooksApart(t *testing.T) {
	digest := func(change func(fstest.MapFS)) string {
		book := overlay(t, "base")
		change(book)
		loaded, err := rules.Load(book)
		require.NoError(t, err)
		return loaded.Digest()
	}
	seen := map[string]string{}
	for name, change := range map[string]func(fstest.MapFS){
		"as it is":        func(fstest.MapFS) {},
		"another word":    func(b fstest.MapFS) { replace(t, b, "warnings/dust.yaml", "Rinse with", "Rinse in") },
		"another comment": func(b fstest.MapFS) { replace(t, b, "sources.yaml", "small enough", "tiny enough") },
		"a file less":     func(b fstest.MapFS) { delete(b, "warnings/thin-board.yaml") },
	} {
		d := digest(change)
		assert.Regexp(t, "^[0-9a-f]{64}$", d)
		assert.Empty(t, seen[d], "%s has the digest of %s", name, seen[d])
		seen[d] = name
	}
}

// unreadable fails when a file is opened.
type unreadable struct{ fs.FS }

var errDisk = errors.New("the disk hums")

func (u unreadable) Open(name string) (fs.File, error) {
	if name == "terms.yaml" {
		return nil, errDisk
	}
	return u.FS.Open(name)
}

func TestAFileThatCannotBeOpenedIsNamed(t *testing.T) {
	_, err := rules.Load(unreadable{overlay(t, "base")})
	assert.ErrorIs(t, err, errDisk)
	assert.EqualError(t, err, "rulebook file terms.yaml: the disk hums")
}
