package jobfile_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/engine"
	"mendwright/knowledge"
	"mendwright/rules/strictyaml"
)

// read reads text as the job file job.yaml against the built-in rulebook.
func read(t testing.TB, text string) (*jobfile.File, error) {
	t.Helper()
	k, err := knowledge.Load()
	require.NoError(t, err)
	return jobfile.Read("job.yaml", []byte(text), k.Book, k.Tables)
}

// mistakes reads text that must be refused and returns every mistake of it.
func mistakes(t *testing.T, text string) strictyaml.Errors {
	t.Helper()
	f, err := read(t, text)
	require.Error(t, err)
	assert.Nil(t, f, "a job with a mistake is not half read")
	var errs strictyaml.Errors
	require.ErrorAs(t, err, &errs)
	return errs
}

// onTop is a job with one surface, top, of which lines are known.
func onTop(lines ...string) string {
	return "format: 1\nsurfaces:\n  top:\n    " + strings.Join(lines, "\n    ") + "\n"
}

const kneeholeDesk = `# A kneehole desk that nobody owns.
format: 1
piece:
  name: kneehole desk, Ostwick Hall
  note: two drawers stick
  age: 1850-1900
  worth: valued
shop:
  note: the shed behind the mill
  place: Cross Draught
  air_c: 68 °F
surfaces:
  writing-top:
    note: leather was lifted off
    layer: veneer
    layer_mm: 1/28 in ± 2 thou
    timber: mahogany
    finish: shellac
    opaque: no
    stripped: cannot tell
    confirmed: [layer, finish]
    sanding: {grits: [120, P150, CAMI 180], tool: orbital, keep: 0.6 ± 0.1 mm}
  pull:
    layer: metal
    off_piece: yes
defects:
  - id: ink
    on: writing-top
    note: beside the inkwell
    form: patch
    colour: dark
    depth_mm: 10 thou
  - id: rust
    on: pull
    rust_area: 12 percent
`

func TestAFullJobIsRead(t *testing.T) {
	f, err := read(t, kneeholeDesk)
	require.NoError(t, err)
	job := f.Job
	assert.Equal(t, "kneehole desk, Ostwick Hall", job.Name)
	assert.Equal(t, "1850-1900", job.Piece.Answers["piece.age"].Choice())
	assert.Equal(t, "valued", job.Piece.Answers["piece.worth"].Choice())
	assert.Len(t, job.Piece.Answers, 2)
	assert.Equal(t, "cross-draught", job.Shop.Answers["shop.place"].Choice())
	assert.InDelta(t, 20, job.Shop.Answers["shop.air_c"].Range().Mid(), 1e-9)

	require.Len(t, job.Surfaces, 2)
	top := job.Surfaces["writing-top"]
	assert.Equal(t, "veneer", top.Answers["surface.layer"].Choice())
	assert.InDelta(t, 25.4/28-0.0508, top.Answers["surface.layer_mm"].Range().Lo, 1e-9)
	assert.InDelta(t, 25.4/28+0.0508, top.Answers["surface.layer_mm"].Range().Hi, 1e-9)
	assert.False(t, top.Answers["surface.opaque"].IsYes())
	assert.Equal(t, map[string]bool{"surface.stripped": true}, top.CannotTell)
	assert.NotContains(t, top.Answers, "surface.stripped")
	assert.Equal(t, map[string]bool{"surface.layer": true, "surface.finish": true}, top.Confirmed)
	assert.Equal(t, []string{"120", "P150", "CAMI 180"}, top.Programme.Grits)
	assert.Equal(t, "orbital", top.Programme.Tool)
	require.NotNil(t, top.Programme.Keep)
	assert.InDelta(t, 0.7, *top.Programme.Keep, 1e-9, "of a keep line given roughly the higher end counts")

	pull := job.Surfaces["pull"]
	assert.Equal(t, engine.Programme{}, pull.Programme)
	assert.True(t, pull.Answers["surface.off_piece"].IsYes())

	require.Len(t, job.Defects, 2)
	ink, rust := job.Defects[0], job.Defects[1]
	assert.Equal(t, "ink", ink.ID)
	assert.Equal(t, "writing-top", ink.On)
	assert.Equal(t, "dark", ink.Answers["defect.colour"].Choice())
	assert.Equal(t, "rust", rust.ID)
	assert.Equal(t, "pull", rust.On)
	assert.InDelta(t, 12, rust.Answers["defect.rust_area"].Range().Mid(), 1e-9)

	assert.Equal(t, map[string]string{"ink": "beside the inkwell"}, f.Notes, "the notes about defects")
}

func TestEveryAnswerIsEchoedInFileOrder(t *testing.T) {
	f, err := read(t, kneeholeDesk)
	require.NoError(t, err)
	assert.Equal(t, []jobfile.Understood{
		{"piece", "piece.age", "1850-1900", "1850-1900", false},
		{"piece", "piece.worth", "valued", "valued", false},
		{"shop", "shop.place", "Cross Draught", "cross-draught", false},
		{"shop", "shop.air_c", "68 °F", "20 ± 1 °C", true},
		{"writing-top", "surface.layer", "veneer", "veneer", false},
		{"writing-top", "surface.layer_mm", "1/28 in ± 2 thou", "0.9071 ± 0.051 mm", false},
		{"writing-top", "surface.timber", "mahogany", "mahogany", false},
		{"writing-top", "surface.finish", "shellac", "shellac", false},
		{"writing-top", "surface.opaque", "no", "no", false},
		{"writing-top", "surface.stripped", "cannot tell", "cannot tell", false},
		{"pull", "surface.layer", "metal", "metal", false},
		{"pull", "surface.off_piece", "yes", "yes", false},
		{"ink", "defect.form", "patch", "patch", false},
		{"ink", "defect.colour", "dark", "dark", false},
		{"ink", "defect.depth_mm", "10 thou", "0.254 ± 0.05 mm", true},
		{"rust", "defect.rust_area", "12 percent", "12 %", false},
	}, f.Understood)
}

func TestTheExampleJobsAreRead(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	for name, holds := range map[string]struct{ surfaces, defects int }{
		"table-top.yaml": {1, 3}, "bench.yaml": {1, 1}, "brackets.yaml": {3, 5},
	} {
		f, err := jobfile.ReadFile(filepath.Join("..", "..", "..", "testdata", "jobs", name), k.Book, k.Tables)
		require.NoError(t, err, name)
		assert.NotEmpty(t, f.Job.Name, name)
		assert.Len(t, f.Job.Surfaces, holds.surfaces, name)
		assert.Len(t, f.Job.Defects, holds.defects, name)
	}
}

func TestAJobMayLeaveEverythingButTheFormatOut(t *testing.T) {
	for _, text := range []string{
		"format: 1\n", "format: \"1\"\n", "format: 1", "{format: 1}\n", "---\nformat: 1\n",
		"format: 1\nsurfaces: {}\ndefects: []\n", "format: 1\nsurfaces: {lid: {}}\ndefects: [{id: chip, on: lid}]\n",
		"\ufeffformat: 1\n", "format: 1\r\npiece:\r\n  worth: valued\r\n",
	} {
		f, err := read(t, text)
		require.NoError(t, err, "%q", text)
		assert.NotNil(t, f.Job.Surfaces, "%q", text)
	}
}

func TestMeasuresAreReadInTheUnitsPeopleType(t *testing.T) {
	for _, c := range []struct {
		typed, answer string
		spread        bool
	}{
		{"0.9 mm", "0.9 ± 0.05 mm", true},
		{"0.9", "0.9 ± 0.05 mm", true},
		{"0,9 mm", "0.9 ± 0.05 mm", true},
		{"1/28 in", "0.9071 ± 0.05 mm", true},
		{`'3/4"'`, "19.05 ± 0.05 mm", true},
		{"1 1/2 inches", "38.1 ± 0.05 mm", true},
		{"25 thou", "0.635 ± 0.05 mm", true},
		{"900 µm", "0.9 ± 0.05 mm", true},
		{"2 cm", "20 ± 0.05 mm", true},
		{"0.9 mm ± 0", "0.9 mm", false},
		{"0.9 ± 0.1 mm", "0.9 ± 0.1 mm", false},
		{"0.9 mm +/- 0.1", "0.9 ± 0.1 mm", false},
		{"0.8 to 1.0 mm", "0.9 ± 0.1 mm", false},
		{"0.8–1.0 mm", "0.9 ± 0.1 mm", false},
	} {
		f, err := read(t, onTop("layer_mm: "+c.typed))
		require.NoError(t, err, c.typed)
		require.Len(t, f.Understood, 1)
		assert.Equal(t, c.answer, f.Understood[0].Answer, c.typed)
		assert.Equal(t, c.spread, f.Understood[0].Spread, c.typed)
	}
}

func TestAnAnswerMayBeTypedInAnyCaseAndWithBlanks(t *testing.T) {
	for typed, want := range map[string]string{
		"cross-draught": "cross-draught", "Cross-Draught": "cross-draught", "cross draught": "cross-draught",
		"CROSS_DRAUGHT": "cross-draught", "'  outdoors '": "outdoors", "[outdoors]": "outdoors",
	} {
		f, err := read(t, "format: 1\nshop: {place: "+typed+"}\n")
		require.NoError(t, err, typed)
		assert.Equal(t, want, f.Understood[0].Answer, typed)
	}
	for typed, want := range map[string]string{"yes": "yes", "Yes": "yes", "y": "yes", "true": "yes", "no": "no", "N": "no", "false": "no"} {
		f, err := read(t, "format: 1\nshop: {gloves: "+typed+"}\n")
		require.NoError(t, err, typed)
		assert.Equal(t, want, f.Understood[0].Answer, typed)
	}
}

func TestWhatCannotBeToldIsNoAnswer(t *testing.T) {
	for _, typed := range []string{"cannot tell", "Cannot Tell", "can't tell", "don't know", "unknown", `"?"`, "' unknown '"} {
		f, err := read(t, onTop("layer: "+typed, "layer_mm: "+typed, "stripped: "+typed))
		require.NoError(t, err, typed)
		top := f.Job.Surfaces["top"]
		assert.Empty(t, top.Answers, typed)
		assert.Equal(t, map[string]bool{"surface.layer": true, "surface.layer_mm": true, "surface.stripped": true}, top.CannotTell, typed)
		for _, u := range f.Understood {
			assert.Equal(t, "cannot tell", u.Answer, typed)
			assert.False(t, u.Spread, typed)
		}
	}
}

// The whole text of an error, place, message, line and caret, as it stands on the screen.
func TestMistakesAreShownWhereTheyStand(t *testing.T) {
	for name, c := range map[string]struct{ text, says string }{
		"misspelt key": {"format: 1\npeice:\n  age: 1900-1950\n", `
job.yaml:2:1: unknown key "peice" (did you mean "piece"?)
    peice:
    ^`},
		"misspelt fact": {onTop("timbre: oak"), `
job.yaml:4:5: there is no fact "timbre" about a surface (did you mean "timber"?)
        timbre: oak
        ^`},
		"misspelt answer": {onTop("layer: veneere"), `
job.yaml:4:12: read "veneere"; surface.layer takes solid, veneer, plywood, laminate, foil, fibreboard, metal, or cannot tell (did you mean "veneer"?)
        layer: veneere
               ^`},
		"neither yes nor no": {onTop("damp: a little"), `
job.yaml:4:11: read "a little"; expected yes, no or cannot tell
        damp: a little
              ^`},
		"unit of another kind": {onTop("layer_mm: 20 kg"), `
job.yaml:4:15: read "20 kg", whose unit "kg" is of another kind; expected a quantity such as 0.6 mm, 0.6 ± 0.05 mm, 1/28 in or 25 thou
        layer_mm: 20 kg
                  ^`},
		"temperature for a length": {onTop("layer_mm: 20 °C"), `
job.yaml:4:15: read "20 °C", whose unit "°c" is of another kind; expected a quantity such as 0.6 mm, 0.6 ± 0.05 mm, 1/28 in or 25 thou
        layer_mm: 20 °C
                  ^`},
		"out of all bounds": {onTop("film_mm: 3 mm"), `
job.yaml:4:14: read "3 mm", which is 3 mm; surface.film_mm lies between 0 and 2 mm
        film_mm: 3 mm
                 ^`},
		"defect on an unknown surface": {onTop("layer: solid") + "defects:\n  - {id: dent, on: tpo}\n", `
job.yaml:6:20: there is no surface "tpo" in the file (did you mean "top"?)
      - {id: dent, on: tpo}
                       ^`},
		"doubled defect": {onTop("layer: solid") + "defects:\n  - {id: dent, on: top}\n  - {id: dent, on: top}\n", `
job.yaml:7:10: the defect "dent" stands twice
      - {id: dent, on: top}
             ^`},
		"defect without an id": {onTop("layer: solid") + "defects:\n  - {on: top}\n", `
job.yaml:6:5: the key "id" is missing
      - {on: top}
        ^`},
		"doubled key": {onTop("layer: solid", "layer: veneer"), `
job.yaml:5:5: the key "layer" stands here twice; first on line 4
        layer: veneer
        ^`},
		"fact of the wrong subject": {onTop("place: outdoors"), `
job.yaml:4:5: there is no fact "place" about a surface
        place: outdoors
        ^`},
		"fact with its subject in front": {"format: 1\npiece: {piece.age: 1900-1950}\n", `
job.yaml:2:9: there is no fact "piece.age" about a piece
    piece: {piece.age: 1900-1950}
            ^`},
		"fact that is looked up": {onTop("hardness_n: 4500 N"), `
job.yaml:4:5: hardness_n is not asked; it follows from other answers
        hardness_n: 4500 N
        ^`},
		"fact that a finding gives": {onTop("thin_layer: yes"), `
job.yaml:4:5: thin_layer is not asked; it follows from other answers
        thin_layer: yes
        ^`},
		"derived fact confirmed": {onTop("confirmed: [layer, tannin]"), `
job.yaml:4:24: tannin is not asked; it follows from other answers
        confirmed: [layer, tannin]
                           ^`},
		"format missing": {"piece:\n  age: 1900-1950\n", `
job.yaml:1:1: the key "format" is missing
    piece:
    ^`},
		"later format": {"format: 2\n", `
job.yaml:1:9: this program reads format 1; the file says "2"
    format: 2
            ^`},
		"list where one answer is expected": {onTop("damp: [yes, no]"), `
job.yaml:4:11: expected one answer to surface.damp, read a list
        damp: [yes, no]
              ^`},
		"empty list for an answer": {onTop("damp: []"), `
job.yaml:4:11: expected one answer to surface.damp, read a list
        damp: []
              ^`},
		"mapping for an answer": {onTop("damp: {yes: no}"), `
job.yaml:4:11: expected an answer to surface.damp, or cannot tell
        damp: {yes: no}
              ^`},
		"answer left out": {onTop("damp:"), `
job.yaml:4:10: expected an answer to surface.damp, or cannot tell
        damp:
             ^`},
		"misspelt tool": {onTop("sanding: {tool: orbitel}"), `
job.yaml:4:21: the tool "orbitel" is not known; expected belt, hand, orbital (did you mean "orbital"?)
        sanding: {tool: orbitel}
                        ^`},
		"misspelt key of the sanding": {onTop("sanding: {grit: [120]}"), `
job.yaml:4:15: unknown key "grit" (did you mean "grits"?)
        sanding: {grit: [120]}
                  ^`},
		"keep line in another unit": {onTop("sanding: {keep: 1 N}"), `
job.yaml:4:21: read "1 N", whose unit "n" is of another kind; expected a quantity such as 0.6 mm, 0.6 ± 0.05 mm, 1/28 in or 25 thou
        sanding: {keep: 1 N}
                        ^`},
		"anchor and alias": {"format: 1\npiece: &p {age: 1900-1950}\nshop: *p\n", `
job.yaml:2:8: anchors and aliases are not read; write the value out
    piece: &p {age: 1900-1950}
           ^
job.yaml:3:7: anchors and aliases are not read; write the value out
    shop: *p
          ^`},
		"tag": {"format: 1\npiece: {age: !!str 1900-1950}\n", `
job.yaml:2:14: tags such as "!!str" are not read
    piece: {age: !!str 1900-1950}
                 ^`},
		"merge key": {"format: 1\npiece:\n  <<: {age: 1900-1950}\n", `
job.yaml:3:3: there is no fact "<<" about a piece
      <<: {age: 1900-1950}
      ^`},
		"second document": {"format: 1\n---\nformat: 1\n", `
job.yaml:2:1: a second document in the file; only one is read
    ---
    ^`},
		"list at the top": {"- format: 1\n", `
job.yaml:1:1: expected a mapping (name: value) at the top of the file
    - format: 1
    ^`},
		"list of surfaces": {"format: 1\nsurfaces:\n  - top\n", `
job.yaml:3:3: expected a mapping (name: value)
      - top
      ^`},
		"mapping of defects": {"format: 1\ndefects:\n  dent: {}\n", `
job.yaml:3:3: expected a list
      dent: {}
      ^`},
		"tab as an indent": {"format: 1\npiece:\n\tage: 1900-1950\n", `
job.yaml:3:1: not readable as YAML: found character that cannot start any token
     age: 1900-1950
    ^`},
		"quote left open": {"format: 1\npiece:\n  name: \"desk\n", `
job.yaml:3:3: not readable as YAML: found unexpected end of stream
      name: "desk
      ^`},
		"quoted answer": {onTop(`layer: "veneere"`), `
job.yaml:4:13: read "veneere"; surface.layer takes solid, veneer, plywood, laminate, foil, fibreboard, metal, or cannot tell (did you mean "veneer"?)
        layer: "veneere"
                ^`},
		"mistake behind wide letters": {"format: 1\npiece: {name: 'Übergröße', agee: 1900-1950}\n", `
job.yaml:2:28: there is no fact "agee" about a piece (did you mean "age"?)
    piece: {name: 'Übergröße', agee: 1900-1950}
                               ^`},
		"line ends of Windows": {"format: 1\r\npiece:\r\n  agee: x\r\n", `
job.yaml:3:3: there is no fact "agee" about a piece (did you mean "age"?)
      agee: x
      ^`},
		"empty file":          {"", "\njob.yaml: the file is empty"},
		"file of comments":    {"# nothing here yet\n\n", "\njob.yaml: the file is empty"},
		"not UTF-8":           {"format: 1\npiece: {name: caf\xe9}\n", "\njob.yaml: the file is not UTF-8 text"},
		"NUL byte":            {"format: 1\npiece: {name: a\x00b}\n", "\njob.yaml: the file is not UTF-8 text"},
		"control characters":  {"format: 1\npiece: {name: \x1b[31mred}\n", "\njob.yaml: not readable as YAML: control characters are not allowed"},
		"too large":           {"format: 1\n#" + strings.Repeat("x", jobfile.MaxBytes), "\njob.yaml: the file is too large; at most 1048576 bytes are read"},
		"nesting without end": {"format: 1\npiece: " + strings.Repeat("[", 200) + strings.Repeat("]", 200) + "\n", ""},
	} {
		t.Run(name, func(t *testing.T) {
			errs := mistakes(t, c.text)
			if c.says != "" {
				assert.Equal(t, strings.TrimPrefix(c.says, "\n"), errs.Error())
			}
			assert.LessOrEqual(t, strings.Count(errs.Error(), "\n"), 60)
		})
	}
}

func TestALongLineIsCutToWhereTheMistakeStands(t *testing.T) {
	line := "piece: {name: " + strings.Repeat("very long name ", 30) + ", agee: 1900-1950}"
	errs := mistakes(t, "format: 1\n"+line+"\n")
	require.Len(t, errs, 1)
	assert.Equal(t, strings.Index(line, "agee")+1, errs[0].Col)
	lines := strings.Split(errs.Error(), "\n")
	require.Len(t, lines, 3)
	caret := strings.Index(lines[2], "^")
	assert.True(t, strings.HasPrefix(lines[1][caret:], "agee: "), "the caret stands below the mistake:\n%s", errs)
	assert.LessOrEqual(t, len(lines[1]), 76)
}

func TestAllMistakesOfAFileAreReportedAtOnceInOrder(t *testing.T) {
	errs := mistakes(t, `format: 1
shopp: {}
piece:
  age: last-year
surfaces:
  top:
    layer: veneere
    layer_mm: 20 °C
defects:
  - id: dent
    on: tpo
    depth_mm: deep
`)
	assert.Equal(t, `job.yaml:2:1: unknown key "shopp" (did you mean "shop"?)
    shopp: {}
    ^
job.yaml:4:8: read "last-year"; piece.age takes before-1805, 1805-1850, 1850-1900, 1900-1950, 1950-1978, after-1978, or cannot tell
      age: last-year
           ^
job.yaml:7:12: read "veneere"; surface.layer takes solid, veneer, plywood, laminate, foil, fibreboard, metal, or cannot tell (did you mean "veneer"?)
        layer: veneere
               ^
job.yaml:8:15: read "20 °C", whose unit "°c" is of another kind; expected a quantity such as 0.6 mm, 0.6 ± 0.05 mm, 1/28 in or 25 thou
        layer_mm: 20 °C
                  ^
job.yaml:11:9: there is no surface "tpo" in the file (did you mean "top"?)
        on: tpo
            ^
job.yaml:12:15: read "deep", where no number stands in front; expected a quantity such as 0.6 mm, 0.6 ± 0.05 mm, 1/28 in or 25 thou
        depth_mm: deep
                  ^`, errs.Error())
}

func TestMoreMistakesThanFitAScreenAreCounted(t *testing.T) {
	var b strings.Builder
	b.WriteString("format: 1\npiece:\n")
	for i := range 40 {
		fmt.Fprintf(&b, "  fact%d: yes\n", i)
	}
	errs := mistakes(t, b.String())
	assert.Len(t, errs, 40)
	assert.Equal(t, 24, strings.Count(errs.Error(), "\n"), "eight mistakes of three lines and the count of the rest")
	assert.True(t, strings.HasSuffix(errs.Error(), "\n… and 32 more"), errs.Error())
}

func TestTwoThousandDefectsAreRefusedAsOneMistake(t *testing.T) {
	started := time.Now()
	errs := mistakes(t, onTop("layer: solid")+"defects:\n"+strings.Repeat("  - {id: dent, on: top}\n", 2000))
	assert.Equal(t, `job.yaml:6:3: 2000 defects; at most 1000 are read
      - {id: dent, on: top}
      ^`, errs.Error())
	assert.Less(t, time.Since(started), 5*time.Second)

	var b strings.Builder
	b.WriteString("format: 1\nsurfaces:\n")
	for i := range 2000 {
		fmt.Fprintf(&b, "  board-%d: {}\n", i)
	}
	errs = mistakes(t, b.String())
	require.Len(t, errs, 1)
	assert.Contains(t, errs.Error(), "2000 surfaces; at most 1000 are read")
}

func TestAThousandDefectsAreRead(t *testing.T) {
	var b strings.Builder
	b.WriteString(onTop("layer: solid") + "defects:\n")
	for i := range jobfile.MaxMarks {
		fmt.Fprintf(&b, "  - {id: dent-%d, on: top}\n", i)
	}
	f, err := read(t, b.String())
	require.NoError(t, err)
	assert.Len(t, f.Job.Defects, jobfile.MaxMarks)
}

func TestFilesThatCannotBeReadSaySo(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	dir := t.TempDir()

	_, err = jobfile.ReadFile(filepath.Join(dir, "nowhere.yaml"), k.Book, nil)
	require.ErrorIs(t, err, os.ErrNotExist)
	assert.Contains(t, err.Error(), "job file: ")
	assert.Contains(t, err.Error(), "nowhere.yaml")

	_, err = jobfile.ReadFile(dir, k.Book, nil)
	require.Error(t, err)
	assert.Contains(t, err.Error(), "job file "+dir)

	large := filepath.Join(dir, "large.yaml")
	require.NoError(t, os.WriteFile(large, []byte("format: 1\n#"+strings.Repeat("x", 3*jobfile.MaxBytes)), 0o600))
	_, err = jobfile.ReadFile(large, k.Book, nil)
	require.Error(t, err)
	assert.Contains(t, err.Error(), "at most 1048576 bytes are read")
}

// Whatever is left of a file that was cut short, or has one wrong byte, it is read or refused.
func TestNoDamagedFilePanics(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	try := func(data []byte) {
		require.NotPanics(t, func() {
			f, err := jobfile.Read("job.yaml", data, k.Book, k.Tables)
			if err == nil {
				_, err = engine.Triage(k.Book, k.Tables, f.Job)
				require.NoError(t, err, "%q", data)
			} else {
				require.NotEmpty(t, err.Error(), "%q", data)
			}
		}, "%q", data)
	}
	for _, name := range []string{"table-top.yaml", "bench.yaml", "brackets.yaml"} {
		whole, err := os.ReadFile(filepath.Join("..", "..", "..", "testdata", "jobs", name))
		require.NoError(t, err)
		for i := 0; i < len(whole); i += 13 {
			try(whole[:i])
			for _, b := range []byte{0, '\t', '\n', '"', '{', '&', ':', 0xff} {
				damaged := append([]byte(nil), whole...)
				damaged[i] = b
				try(damaged)
			}
		}
	}
	for _, text := range []string{
		"format: 1\nsurfaces:\n  ~: {}\n", "format: 1\nsurfaces:\n  \"\": {}\n", "format: 1\nsurfaces:\n  top:\n",
		"format: 1\nsurfaces: {[a]: {}}\n", "format: 1\n? {a: b}\n: c\n", "format: 1\npiece: ~\nshop: 1\n",
		"format: 1\ndefects: [~, 1, [], {}]\n", "format: 1\ndefects:\n  - id: ~\n    on: ~\n",
		onTop("confirmed: layer"), onTop("confirmed: [~, {}, []]"), onTop("sanding: ~"), onTop("sanding: {grits: [~], tool: ~, keep: ~}"),
		onTop("layer_mm: " + strings.Repeat("9", 90)), onTop("layer_mm: 1/0"), onTop("layer_mm: ± ± mm"), onTop("layer_mm: '-'"),
		"format: 1\rpiece:\r  agee: x\r", "format: 1\npiece: {name: a\u0085b, agee: x}\n", "format: 1\npiece: {name: a\u2028b, agee: x}\n",
		strings.Repeat("{", 20000), strings.Repeat("- ", 20000), strings.Repeat("a:\n ", 20000), "%YAML 9.9\n---\n{}\n", "!", "&", "*", "|", ">", "...", "---", "--- ---",
	} {
		try([]byte(text))
	}
}
