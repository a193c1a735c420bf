package rules_test

import (
	"io/fs"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/rules"
)

// shop is a shop's folder with one file in it.
func shop(name, text string) fstest.MapFS {
	return fstest.MapFS{name: &fstest.MapFile{Data: []byte(text)}}
}

// overridden is a built-in file of the base with one change in it, as a shop's own.
func overridden(t *testing.T, name, old, with string) fstest.MapFS {
	t.Helper()
	base := overlay(t, "base")
	replace(t, base, name, old, with)
	return shop(name, string(base[name].Data))
}

const more = `method: hone
name: Hone
what: Hone the face.
treats: [knife-cut]
stage: level
achieves: restores
undo: no
minutes: [5, 10, 30]
steps:
  - do: Hone it.
sources: []
`

func TestAShopAddsRules(t *testing.T) {
	own := shop("methods/hone.yaml", more)
	own["sources.yaml"] = &fstest.MapFile{Data: []byte("sources:\n  - {id: bench, kind: memory, title: Told at the bench}\ncount: 1\n")}
	own["warnings/sparks.yaml"] = &fstest.MapFile{Data: []byte("warning: sparks\nsignal: danger\ntext: It sparks.\nif_wrong: Douse it.\nsource: bench\nsources: [bench]\n")}
	own[".git/x.yaml"] = &fstest.MapFile{Data: []byte("no rule")}
	book, err := rules.LoadOver(overlay(t, "base"), own, "shops")
	require.NoError(t, err)
	assert.Equal(t, rules.Added, book.Method("hone").Own)
	assert.Equal(t, "shops/methods/hone.yaml", book.Method("hone").Pos.File())
	assert.Equal(t, rules.Own(""), book.Method("sand-down").Own)
	assert.Len(t, book.WarningsOn(""), len(mustLoad(t).WarningsOn(""))+1)
	assert.Empty(t, book.Overrides)
	assert.NotEqual(t, mustLoad(t).Digest(), book.Digest())
	assert.Equal(t, mustLoad(t).Digest(), mustOver(t, fstest.MapFS{}).Digest(), "nothing laid over it changes nothing")
}

func mustLoad(t *testing.T) *rules.Book {
	book, err := rules.Load(overlay(t, "base"))
	require.NoError(t, err)
	return book
}

func mustOver(t *testing.T, own fstest.MapFS) *rules.Book {
	t.Helper()
	book, err := rules.LoadOver(overlay(t, "base"), own, "shops")
	require.NoError(t, err)
	return book
}

// TestAnOverrideMayGuardMore: what guards may be added to and made graver.
func TestAnOverrideMayGuardMore(t *testing.T) {
	const sand, knife = "methods/sand-down.yaml", "defects/knife-cut.yaml"
	for what, own := range map[string]fstest.MapFS{
		"another ban":        overridden(t, sand, "achieves: restores", "  - {when: surface.oiled, because: it clogs the paper, source: guess}\nachieves: restores"),
		"other words":        overridden(t, sand, "Sand along the grain.", "Sand it our way."),
		"a graver harm":      overridden(t, sand, "severity: marginal", "severity: critical"),
		"a likelier harm":    overridden(t, sand, "to: probable", "to: frequent"),
		"a ban spaced apart": overridden(t, sand, "surface.board_mm < 3.0", "surface.board_mm<3.0"),
	} {
		book := mustOver(t, own)
		assert.Equal(t, rules.Override, book.Method("sand-down").Own, what)
		assert.Equal(t, []string{"sand-down"}, book.Overrides, what)
		assert.Len(t, book.Methods(), 3, what)
		assert.Len(t, book.Treating("knife-cut"), 2, what)
	}
	book := mustOver(t, overridden(t, knife, "use: as-usual", "use: stop"))
	assert.Equal(t, rules.Override, book.Defect("knife-cut").Own)
	assert.Len(t, book.Defects, 2)
}

// TestAnOverrideTakesNothingAway: each thing that guards, left out of a shop's method or made less.
func TestAnOverrideTakesNothingAway(t *testing.T) {
	const sand, lemon, knife = "methods/sand-down.yaml", "methods/rub-with-lemon.yaml", "defects/knife-cut.yaml"
	for what, c := range map[string]struct {
		own  fstest.MapFS
		says string
	}{
		"a ban":      {overridden(t, sand, "surface.board_mm < 3.0", "surface.board_mm < 2.0"), "lacks its never: surface.board_mm < 3.0"},
		"suits":      {overridden(t, sand, `sand.verdict == "clear"`, `sand.verdict in ["clear", "tight"]`), `lacks its suits: sand.verdict == "clear"`},
		"emission":   {overridden(t, sand, "gives_off: [dust]", "gives_off: []"), "lacks its gives_off: dust"},
		"gear":       {overridden(t, sand, "protection: [goggles]", "protection: []"), "lacks its protection: goggles"},
		"reach":      {overridden(t, sand, "reaches: defect", "reaches: surface"), "lacks its sanding"},
		"harm":       {overridden(t, lemon, "harm: pale-spot", "harm: other-spot"), "lacks its harm: pale-spot"},
		"severity":   {overridden(t, sand, "severity: critical", "severity: marginal"), "the built-in harm too-thin is critical and frequent"},
		"level":      {overridden(t, sand, "probability: occasional", "probability: remote"), "the built-in harm dust-in-eye is marginal and occasional"},
		"raised":     {overridden(t, sand, "when: shop.air_c > 30.0", "when: shop.air_c > 40.0"), "is raised to probable when shop.air_c > 30.0"},
		"lowered":    {overridden(t, sand, "when: surface.oiled\n", "when: surface.oiled || shop.air_c < 5.0\n"), "is not lowered to eliminated by this"},
		"to whom":    {overridden(t, sand, "to: person", "to: piece"), "says otherwise whom it befalls"},
		"signs":      {overridden(t, knife, `defect.form == "line"`+"\n    because", `defect.form != "patch"`+"\n    because"), "has other signs"},
		"two signs":  {overridden(t, knife, "tell:", "  - {when: surface.oiled, because: it shows, source: habit}\ntell:"), "has other signs"},
		"no method":  {shop("defects/new-mark.yaml", "defect: new-mark\n"), `the file is cut short`},
		"a warning":  {shop("warnings/dust.yaml", "warning: dust\nsignal: notice\ntext: Some dust.\nif_wrong: Sneeze.\nsource: habit\nsources: [habit]\n"), `the warning "dust" stands twice`},
		"a finding":  {shop("findings/oily.yaml", "finding: oily\nderives: surface.oiled\nbranches: [{when: shop.goggles, is: no, because: x, source: habit}]\nsources: [habit]\n"), "surface.oiled is a built-in fact"},
		"terms":      {shop("terms.yaml", "terms: ours\n"), "the closed lists are part of the program"},
		"a folder":   {shop("method/hone.yaml", more), `no rule file belongs here (did you mean "methods"?)`},
		"two of one": {shop("sources.yaml", "sources: [{id: habit, kind: regulation, title: The law}]\ncount: 1\n"), `the source "habit" stands twice`},
	} {
		_, err := rules.LoadOver(overlay(t, "base"), c.own, "shops")
		require.Error(t, err, what)
		assert.Contains(t, err.Error(), c.says, what)
		assert.True(t, strings.HasPrefix(err.Error(), "shops/"), "%s: %s", what, err)
	}
}

// TestAnyBytesAsAShopsRules: whatever lies in a shop's folder, the answer is a rulebook or a reason.
func TestAnyBytesAsAShopsRules(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	base := overlay(t, "base")
	names := []string{"sources.yaml", "terms.yaml", "methods/sand-down.yaml", "methods/x.yaml", "facts/x.yaml", "tables/woods.yaml", "x.yaml"}
	for range 300 {
		own := fstest.MapFS{}
		for range 1 + rnd.IntN(3) {
			data := []byte(base["methods/sand-down.yaml"].Data)
			if rnd.IntN(3) == 0 {
				data = make([]byte, rnd.IntN(200))
			}
			data = append([]byte{}, data...)
			for i := 0; len(data) > 0 && i < rnd.IntN(20); i++ {
				data[rnd.IntN(len(data))] = byte(rnd.IntN(256))
			}
			own[names[rnd.IntN(len(names))]] = &fstest.MapFile{Data: data}
		}
		book, err := rules.LoadOver(base, own, "shops")
		assert.NotEqual(t, err == nil, book == nil)
		if err != nil {
			assert.NotEmpty(t, err.Error())
		}
	}
	own := shop("methods/x.yaml", "")
	own["methods/x.yaml"].Mode = fs.ModeNamedPipe
	_, err := rules.LoadOver(base, own, "shops")
	assert.ErrorContains(t, err, "rulebook file shops/methods/x.yaml: it is no plain file")
}
