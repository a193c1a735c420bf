package jobfile_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/jobfile"
	"mendwright/knowledge"
	"mendwright/rules/strictyaml"
)

// opened is a job file of text on the disk, open for editing.
func opened(t testing.TB, text string) *jobfile.Doc {
	t.Helper()
	path := filepath.Join(t.TempDir(), "job.yaml")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	return open(t, path)
}

func open(t testing.TB, path string) *jobfile.Doc {
	t.Helper()
	k, err := knowledge.Load()
	require.NoError(t, err)
	d, err := jobfile.Open(path, k.Book, k.Tables)
	require.NoError(t, err)
	return d
}

// begun is a new job file that is not on the disk yet.
func begun(t testing.TB) *jobfile.Doc {
	t.Helper()
	k, err := knowledge.Load()
	require.NoError(t, err)
	d, err := jobfile.New(filepath.Join(t.TempDir(), "job.yaml"), k.Book, k.Tables)
	require.NoError(t, err)
	return d
}

func TestAJobWrittenAnswerByAnswerIsTheJobWrittenByHand(t *testing.T) {
	d := begun(t)
	require.NoError(t, d.AddSurface("writing-top"))
	require.NoError(t, d.AddDefect("ink", "writing-top", jobfile.Answer{Fact: "defect.form", Texts: []string{"patch"}}))
	require.NoError(t, d.Set("shop", "shop.place", "Cross Draught"))
	require.NoError(t, d.Set("piece", "piece.age", "1850-1900"))
	require.NoError(t, d.SetName("kneehole desk: Ostwick Hall"))
	require.NoError(t, d.Set("writing-top", "surface.layer", "veneer"))
	require.NoError(t, d.Set("writing-top", "surface.layer_mm", "1/28 in ± 2 thou"))
	require.NoError(t, d.Set("writing-top", "surface.opaque", "No"))
	require.NoError(t, d.CannotTell("writing-top", "surface.stripped"))
	require.NoError(t, d.Set("writing-top", "surface.damp", "?"))
	require.NoError(t, d.Confirm("writing-top", "surface.layer"))
	require.NoError(t, d.AddSurface("pull"))
	require.NoError(t, d.AddDefect("rust", "pull"))
	require.NoError(t, d.Set("rust", "defect.rust_area", "12 percent"))
	require.NoError(t, d.Set("ink", "defect.depth_mm", "0,4 mm"))

	byHand := `format: 1

piece:
  age: 1850-1900
  name: 'kneehole desk: Ostwick Hall'

shop:
  place: Cross Draught

surfaces:
  writing-top:
    layer: veneer
    layer_mm: 1/28 in ± 2 thou
    opaque: No
    stripped: cannot tell
    damp: cannot tell
    confirmed: [layer]
  pull: {}

defects:
  - id: ink
    on: writing-top
    form: patch
    depth_mm: 0,4 mm
  - id: rust
    on: pull
    rust_area: 12 percent
`
	assert.Equal(t, byHand, d.Text())
	want, err := read(t, byHand)
	require.NoError(t, err)
	got, err := d.Read()
	require.NoError(t, err)
	assert.Equal(t, want.Job, got.Job)

	assert.True(t, d.Unsaved())
	require.NoError(t, d.Save())
	assert.False(t, d.Unsaved())
	saved, err := os.ReadFile(d.Path())
	require.NoError(t, err)
	assert.Equal(t, byHand, string(saved))
}

func TestAWrongAnswerChangesNothing(t *testing.T) {
	before := onTop("layer: veneer", "confirmed: [layer]") + "defects:\n  - {id: dent, on: top}\n"
	for says, do := range map[string]func(d *jobfile.Doc) error{
		`read "veneere"; surface.layer takes solid, veneer, plywood, laminate, foil, fibreboard, metal, or cannot tell (did you mean "veneer"?)`: func(d *jobfile.Doc) error {
			return d.Set("top", "surface.layer", "veneere")
		},
		"expected one answer to surface.layer, read a list":                    func(d *jobfile.Doc) error { return d.Set("top", "surface.layer") },
		`there is no fact "timbre" about a surface (did you mean "timber"?)`:   func(d *jobfile.Doc) error { return d.Set("top", "surface.timbre", "oak") },
		"tannin is not asked; it follows from other answers":                   func(d *jobfile.Doc) error { return d.Set("top", "surface.tannin", "high") },
		`there is no surface "tpo" in the file (did you mean "top"?)`:          func(d *jobfile.Doc) error { return d.Clear("tpo", "surface.layer") },
		`there is no defect "dnet" in the file (did you mean "dent"?)`:         func(d *jobfile.Doc) error { return d.Set("dnet", "defect.form", "spot") },
		`piece.age is about the piece, not about "top"`:                        func(d *jobfile.Doc) error { return d.CannotTell("top", "piece.age") },
		"there is no answer to surface.damp to confirm":                        func(d *jobfile.Doc) error { return d.Confirm("top", "surface.damp") },
		"a surface needs a name":                                               func(d *jobfile.Doc) error { return d.AddSurface("  ") },
		"read a name of 101 characters for a surface; at most 100 are written": func(d *jobfile.Doc) error { return d.AddSurface(strings.Repeat("é", 101)) },
		`there is a surface "top" already; choose another name`:                func(d *jobfile.Doc) error { return d.AddSurface("top") },
		`there is a defect "dent" already; choose another name`:                func(d *jobfile.Doc) error { return d.AddDefect("dent", "top") },
		`there is no surface "pot" in the file`:                                func(d *jobfile.Doc) error { return d.AddDefect("ring", "pot") },
		"surface.damp is not about a defect": func(d *jobfile.Doc) error {
			return d.AddDefect("ring", "top", jobfile.Answer{Fact: "surface.damp", Texts: []string{"no"}})
		},
		`there is no fact "fom" about a defect (did you mean "form"?)`: func(d *jobfile.Doc) error {
			return d.AddDefect("ring", "top", jobfile.Answer{Fact: "defect.fom", Texts: []string{"ring"}})
		},
		`read "a ring"; defect.form takes spot, line, net, ring, patch, lump, hole, gone, loose, bent, mismatch, fitting, alive, smell, or cannot tell (did you mean "ring"?)`: func(d *jobfile.Doc) error {
			return d.AddDefect("ring", "top", jobfile.Answer{Fact: "defect.form", Texts: []string{"a ring"}})
		},
		`there is no defect "" in the file`: func(d *jobfile.Doc) error { return d.AddDefectLike("", "ring", "top") },
	} {
		d := opened(t, before)
		require.EqualError(t, do(d), says)
		assert.False(t, d.Unsaved(), says)
		assert.Equal(t, before, d.Text(), says)
	}
}

// A confirmation stands for one answer; it must not carry over to the next and silence a finding.
func TestAChangedAnswerIsNoLongerConfirmed(t *testing.T) {
	const before = "format: 1\nsurfaces:\n  top:\n    layer: veneer\n    finish: shellac\n    confirmed: [layer, later, finish] # by the seam\n"
	for want, do := range map[string]func(d *jobfile.Doc) error{
		"    layer: solid\n    finish: shellac\n    confirmed: [later, finish] # by the seam\n":         func(d *jobfile.Doc) error { return d.Set("top", "surface.layer", "solid") },
		"    layer: cannot tell\n    finish: shellac\n    confirmed: [later, finish] # by the seam\n":   func(d *jobfile.Doc) error { return d.CannotTell("top", "surface.layer") },
		"    finish: shellac\n    confirmed: [later, finish] # by the seam\n":                           func(d *jobfile.Doc) error { return d.Clear("top", "surface.layer") },
		"    layer: Veneer\n    finish: shellac\n    confirmed: [layer, later, finish] # by the seam\n": func(d *jobfile.Doc) error { return d.Set("top", "surface.layer", "Veneer") },
		"    layer: veneer\n    finish: shellac\n    confirmed: [layer, later, finish] # by the seam\n": func(d *jobfile.Doc) error { return d.Confirm("top", "surface.finish") },
	} {
		d := opened(t, before)
		require.NoError(t, do(d))
		assert.Equal(t, "format: 1\nsurfaces:\n  top:\n"+want, d.Text())
	}
	d := opened(t, onTop("layer: veneer", "confirmed: [layer]"))
	require.NoError(t, d.Set("top", "surface.layer", "solid"))
	assert.Equal(t, onTop("layer: solid"), d.Text(), "no confirmation is left over")
	d = opened(t, onTop("layer: veneer", "confirmed: [layer, {later: form}]"))
	require.ErrorContains(t, d.Set("top", "surface.layer", "solid"), "expected a list of facts, of which \"layer\" would go")
	assert.False(t, d.Unsaved(), "what is not understood does not go with it")
}

// What was measured or tested on one mark is not taken for the next.
func TestAMarkLikeAnotherSharesWhatWasSeenAndFelt(t *testing.T) {
	d := opened(t, onTop("layer: solid")+`defects:
  - id: dent
    on: top
    note: by the lamp
    level: below
    form: spot
    fibres: crushed
    colour: cannot tell
    later_field: 3
    wet_test: stays-light
    depth_mm: 0.4 mm
    width_mm: 9 mm
    dirt_in: no
    confirmed: [level]
`)
	require.NoError(t, d.AddDefectLike("dent", "second dent", "top"))
	assert.True(t, strings.HasSuffix(d.Text(), `
  - id: second dent
    on: top
    level: below
    form: spot
    fibres: crushed
    colour: cannot tell
    dirt_in: no
`), d.Text())
}

func TestFieldsOfALaterProgramAreKeptAndListed(t *testing.T) {
	const before = `format: 1
room: {volume: 40 m³} # of a later program
piece:
  age: 1900-1950
  wood_c: 18 °C
surfaces:
  top:
    layer: solid
    sanding: {tool: hand, passes: 3}
    confirmed: [layer, remover]
    snapshots:
      - front.jpg # taken at noon
defects:
  - {id: dent, on: top, mood: sad}
`
	_, err := read(t, before)
	require.Error(t, err, "a triage is not made on a file half understood")

	d := opened(t, before)
	f, err := d.Read()
	require.NoError(t, err)
	var where []string
	for _, e := range f.Unread {
		where = append(where, e.Msg)
	}
	assert.Equal(t, []string{`unknown key "room"`, `there is no fact "wood_c" about a piece`, `unknown key "passes"`,
		`there is no fact "remover" about a surface`, `there is no fact "snapshots" about a surface`, `there is no fact "mood" about a defect`}, where)
	assert.Equal(t, 2, f.Unread[0].Line)
	assert.Len(t, f.Understood, 2)
	require.NoError(t, d.Set("top", "surface.layer", "veneer"))
	require.NoError(t, d.Set("dent", "defect.form", "spot"))
	after := strings.Replace(strings.Replace(before, "sad", "sad, form: spot", 1), "layer: solid", "layer: veneer", 1)
	assert.Equal(t, strings.Replace(after, "[layer, remover]", "[remover]", 1), d.Text())
}

// Unlike a field that is not known, an answer that cannot be right is a mistake; it can be mended.
func TestAMistakeInAnAnswerIsReportedAndCanBeMended(t *testing.T) {
	d := opened(t, onTop("layer: veneere", "tannin: high", "damp:"))
	_, err := d.Read()
	var errs strictyaml.Errors
	require.ErrorAs(t, err, &errs)
	assert.Len(t, errs, 3)
	assert.Contains(t, err.Error(), d.Path()+`:4:12: read "veneere"; surface.layer takes`)
	require.NoError(t, d.Set("top", "surface.layer", "veneer"))
	require.NoError(t, d.Set("top", "surface.damp", "no"))
	_, err = d.Read()
	require.ErrorAs(t, err, &errs)
	assert.Len(t, errs, 1)
	assert.Equal(t, onTop("layer: veneer", "tannin: high", "damp: no"), d.Text())
}

func TestFilesThatCannotBeEditedAreRefused(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	dir := t.TempDir()
	for content, says := range map[string]string{
		"":                       "the file is empty",
		"format: 2\n":            `this program reads format 1; the file says "2"`,
		"piece: {}\n":            `the key "format" is missing`,
		"- a\n":                  "expected a mapping (name: value) at the top of the file",
		"format: 1\npiece: [\n":  "not readable as YAML",
		"format: 1\npiece: &a x": "anchors and aliases are not read",
		"format: 1\n#" + strings.Repeat("x", jobfile.MaxBytes): "the file is too large",
	} {
		path := filepath.Join(dir, "job.yaml")
		require.NoError(t, os.WriteFile(path, []byte(content), 0o600))
		_, err := jobfile.Open(path, k.Book, k.Tables)
		require.ErrorContains(t, err, says)
		_, err = jobfile.New(path, k.Book, k.Tables)
		require.EqualError(t, err, "job file: there is a file "+path+" already; open it, or choose another name")
	}
	_, err = jobfile.Open(filepath.Join(dir, "nowhere.yaml"), k.Book, k.Tables)
	require.ErrorIs(t, err, os.ErrNotExist)
	_, err = jobfile.Open(dir, k.Book, k.Tables)
	require.EqualError(t, err, "job file: "+dir+" is a folder; expected a file")
}

func TestOfTwoWhoEditAFileTheSecondIsTold(t *testing.T) {
	first := opened(t, onTop("layer: solid"))
	second := open(t, first.Path())
	require.NoError(t, first.Set("top", "surface.damp", "yes"))
	require.NoError(t, first.Save())
	require.NoError(t, second.Set("top", "surface.damp", "no"))
	err := second.Save()
	require.ErrorIs(t, err, jobfile.ErrChanged)
	assert.Contains(t, err.Error(), "nothing was overwritten. Save these answers under another name, or open the file again")
	assert.True(t, second.Unsaved())
	data, err := os.ReadFile(first.Path())
	require.NoError(t, err)
	assert.Equal(t, onTop("layer: solid", "damp: yes"), string(data))

	require.EqualError(t, second.SaveAs(first.Path()), "job file: there is a file "+first.Path()+" already; choose another name")
	elsewhere := filepath.Join(t.TempDir(), "mine.yaml")
	require.NoError(t, second.SaveAs(elsewhere))
	require.NoError(t, second.Set("top", "surface.stripped", "no"))
	require.NoError(t, second.Save())
	data, err = os.ReadFile(elsewhere)
	require.NoError(t, err)
	assert.Equal(t, onTop("layer: solid", "damp: no", "stripped: no"), string(data))

	require.NoError(t, first.Set("top", "surface.stripped", "yes"))
	require.NoError(t, first.Save(), "who saved last goes on")
	backup, err := os.ReadFile(first.Path() + ".bak")
	require.NoError(t, err)
	assert.Equal(t, onTop("layer: solid", "damp: yes"), string(backup))
}

func TestTwoWhoBeginTheSameFile(t *testing.T) {
	first, second := begun(t), begun(t)
	require.NoError(t, second.SetName("second"))
	require.NoError(t, first.Save())
	require.EqualError(t, second.SaveAs(first.Path()), "job file: there is a file "+first.Path()+" already; choose another name")
}

func TestASaveThatFailsKeepsTheEdits(t *testing.T) {
	d := opened(t, onTop("layer: solid"))
	require.NoError(t, os.MkdirAll(filepath.Join(d.Path()+".bak", "in the way"), 0o700))
	require.NoError(t, d.Set("top", "surface.damp", "no"))
	err := d.Save()
	require.ErrorContains(t, err, "job file "+d.Path()+" is not saved, what was saved last stands: keeping the file as it was under "+d.Path()+".bak: ")
	assert.True(t, d.Unsaved())
	require.NoError(t, os.RemoveAll(d.Path()+".bak"))
	require.NoError(t, d.Save(), "and when the way is free they are saved")
	data, err := os.ReadFile(d.Path())
	require.NoError(t, err)
	assert.Equal(t, onTop("layer: solid", "damp: no"), string(data))
}

func TestNoMoreMarksAreWrittenThanAreRead(t *testing.T) {
	full := onTop("layer: solid") + "defects:\n" + strings.Repeat("  - {on: top}\n", jobfile.MaxMarks)
	d := opened(t, full)
	require.EqualError(t, d.AddDefect("one more", "top"), `the file has 1000 of its kind already, and no more are read; begin another file for the defect "one more"`)
	assert.False(t, d.Unsaved())
}

func TestANameCanBeTakenAway(t *testing.T) {
	d := opened(t, "format: 1\npiece:\n  name: desk # mine\n  age: 1850-1900\n")
	require.NoError(t, d.SetName(" "))
	assert.Equal(t, "format: 1\npiece:\n  # mine\n  age: 1850-1900\n", d.Text())
}

func TestPhotographsAreNamedBesideWhatTheyShow(t *testing.T) {
	d := opened(t, "format: 1\nsurfaces:\n  seat: {}\ndefects:\n  - {id: ring, on: seat} # from a pot\n")
	require.NoError(t, d.AddPhoto("defect", "ring", "stool-photos/ring-1.jpg"))
	require.NoError(t, d.AddPhoto("defect", "ring", "stool-photos/ring-2.jpg"))
	require.NoError(t, d.AddPhoto("surface", "seat", "stool-photos/seat-1.jpg"))
	require.NoError(t, d.AddPhoto("piece", "piece", "stool-photos/piece-1.jpg"))
	file, err := d.Read()
	require.NoError(t, err)
	assert.ElementsMatch(t, []jobfile.Photo{
		{Subject: "piece", Of: "piece", Name: "stool-photos/piece-1.jpg"}, {Subject: "surface", Of: "seat", Name: "stool-photos/seat-1.jpg"},
		{Subject: "defect", Of: "ring", Name: "stool-photos/ring-1.jpg"}, {Subject: "defect", Of: "ring", Name: "stool-photos/ring-2.jpg"},
	}, file.Photos)
	assert.Error(t, d.AddPhoto("defect", "rign", "x.jpg"))
	assert.Error(t, d.AddPhoto("surface", "lid", "x.jpg"))
	assert.Error(t, d.AddPhoto("shop", "shop", "x.jpg"))
	for range jobfile.MaxPhotos - 2 {
		require.NoError(t, d.AddPhoto("defect", "ring", "x.jpg"))
	}
	assert.ErrorContains(t, d.AddPhoto("defect", "ring", "x.jpg"), "no more are kept")
	_, err = read(t, "format: 1\nshop: {photos: [x.jpg]}\n")
	assert.Error(t, err, "the shop has no photographs")
}
