package engine_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"mendwright/engine"
	"mendwright/engine/depth"
	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

// files are rule files by name. The rulebook of these tests is invented; no trade works like it.
type files map[string]string

// vocabulary is what every rulebook of these tests is about. It treats nothing by itself.
var vocabulary = files{
	"sources.yaml": `
sources:
  - {id: yard-code, kind: standard, title: The yard code, where: "http://yard.example/code"}
  - {id: bench-note, kind: guide, title: A note from the bench}
  - {id: hearsay, kind: memory, title: Hearsay}
  - {id: dye-chart, kind: handbook, title: The dye chart}
  - {id: design-choice, kind: design-choice, title: Our own choice}
count: 5
`,
	"terms.yaml": `
terms: raftwright
emissions:
  - {id: fumes, means: fumes}
  - {id: dust, means: dust}
  - {id: sparks, means: sparks}
stages: [{id: flatten, means: flatten}, {id: dress, means: dress}]
aims:
  fact: piece.aim
  accepts:
    - {aim: as-new, outcomes: [restores]}
    - {aim: fit-to-see, outcomes: [restores, reduces, hides]}
    - {aim: no-worse, outcomes: [restores, hides, holds]}
sources: [design-choice]
`,
	"tables/dyes.yaml": `
table: dyes
key: dye
columns:
  - {id: fast, kind: text, means: whether it keeps its place when wet}
  - {id: fades_c, kind: range, means: temperature at which it fades}
rows:
  - {dye: red, fast: no, fades_c: [30, 35], source: dye-chart}
  - {dye: blue, fast: yes, fades_c: [50, 60], source: dye-chart}
  - {dye: grey, fast: cannot tell, fades_c: [35, 45], source: dye-chart}
sources: [dye-chart]
`,
	"facts/shop.yaml": `
subject: shop
about: the shop
facts:
  - {id: shop.tongs, ask: "Are there tongs?", tell: Look., kind: yes-no, effort: look, source: bench-note}
  - {id: shop.goggles, ask: "Are there goggles?", tell: Look., kind: yes-no, effort: look, protective: yes, source: bench-note}
  - {id: shop.warmth_c, ask: "How warm is it?", tell: Read it off., kind: quantity, unit: °C, range: [-20, 60], spread: 1, effort: measure, source: bench-note}
  - {id: shop.jigs, ask: "Which jigs are there?", tell: Look., kind: several, answers: [{id: clamp, means: a clamp}, {id: wedge, means: a wedge}], effort: look, source: bench-note}
sources: [bench-note]
`,
	"facts/piece.yaml": `
subject: piece
about: the raft
facts:
  - {id: piece.aim, ask: "What is it to be?", tell: Ask., kind: choice, answers: [{id: as-new, means: as new}, {id: fit-to-see, means: fit to be seen}, {id: no-worse, means: no worse}], effort: look, source: bench-note}
  - {id: piece.age, ask: "How old is it?", tell: Ask., kind: choice, answers: [{id: young, means: young}, {id: old, means: old}], effort: look, source: bench-note}
sources: [bench-note]
`,
	"facts/surface.yaml": `
subject: surface
about: one side of the raft
facts:
  - {id: surface.layer, ask: "What is it of?", tell: Look., kind: choice, answers: [{id: plank, means: planks}, {id: skin, means: a skin}, {id: crust, means: a crust}], effort: look, source: bench-note}
  - {id: surface.thin_layer, tell: Follows., kind: yes-no, source: bench-note}
  - {id: surface.layer_mm, ask: "How thick is it?", tell: Measure., kind: quantity, unit: mm, range: [0.05, 200], spread: 0.05, effort: measure, source: bench-note}
  - {id: surface.film_mm, ask: "How thick is the film?", tell: Measure., kind: quantity, unit: mm, range: [0, 2], spread: 0.01, effort: measure, source: bench-note}
  - {id: surface.stripped, ask: "Is it stripped?", tell: Look., kind: yes-no, effort: look, source: bench-note}
  - {id: surface.screwed, ask: "Is it screwed?", tell: Look., kind: yes-no, effort: look, source: bench-note}
  - {id: surface.screw_mm, ask: "How deep are the screws?", tell: Measure., kind: quantity, unit: mm, range: [0, 150], spread: 0.5, effort: measure, source: bench-note}
  - {id: surface.knots, ask: "Are there knots?", tell: Look., kind: yes-no, effort: look, applies: 'surface.layer == "plank"', source: bench-note}
  - {id: surface.dye, ask: "Which dye?", tell: Look., kind: choice, answers_from: dyes, effort: look, source: dye-chart}
  - {id: surface.fast, tell: By the chart., kind: yes-no, lookup: {table: dyes, column: fast, by: surface.dye}, source: dye-chart}
  - {id: surface.fades_c, tell: By the chart., kind: quantity, unit: °C, range: [0, 200], lookup: {table: dyes, column: fades_c, by: surface.dye}, source: dye-chart}
  - {id: surface.bleeds, tell: Follows., kind: yes-no, source: bench-note}
  - {id: surface.drop_test, ask: "What does a drop do?", tell: One drop., kind: choice, answers: [{id: swells, means: it swells}, {id: beads, means: it beads}, {id: soaks, means: it soaks in}], effort: spot-test, harms: A wet spot., source: bench-note}
  - {id: surface.scratch_test, ask: "What does a scratch do?", tell: One scratch., kind: choice, answers: [{id: curls, means: it curls}, {id: powders, means: it powders}], effort: touch, source: bench-note}
  - {id: surface.binding, ask: "What binds it?", tell: Ask the maker., kind: choice, answers: [{id: paste, means: paste}, {id: resin, means: resin}, {id: tallow, means: tallow}], effort: look, source: bench-note}
sources: [bench-note, dye-chart]
`,
	"facts/defect.yaml": `
subject: defect
about: one mark
facts:
  - {id: defect.form, ask: "Which form?", tell: Look., kind: choice, answers: [{id: dip, means: a dip}, {id: streak, means: a streak}], effort: look, source: bench-note}
  - {id: defect.cause, ask: "What made it?", tell: Ask., kind: choice, answers: [{id: hammer, means: a hammer}, {id: claw, means: a claw}], effort: look, source: bench-note}
  - {id: defect.depth_mm, ask: "How deep?", tell: Measure., kind: quantity, unit: mm, range: [0, 60], spread: 0.05, effort: measure, source: bench-note}
  - {id: defect.width_mm, ask: "How wide?", tell: Measure., kind: quantity, unit: mm, range: [0, 500], spread: 1, effort: measure, source: bench-note}
  - {id: defect.rim, ask: "How is the rim?", tell: Feel., kind: choice, answers: [{id: sharp, means: sharp}, {id: worn, means: worn}], effort: touch, source: bench-note}
  - {id: defect.fresh, ask: "Is it fresh?", tell: Ask., kind: yes-no, effort: look, source: bench-note}
sources: [bench-note]
`,
	"facts/sand.yaml": `
subject: sand
about: the sanding sum
calculators:
  - id: sanding
    inputs: {thickness: surface.layer_mm, thin-layer: surface.thin_layer, defect-depth: defect.depth_mm, width: defect.width_mm, film: surface.film_mm, stripped: surface.stripped, screwed: surface.screwed, screw-depth: surface.screw_mm, layer: surface.layer, age: piece.age}
facts:
  - {id: sand.verdict, computed: sanding.verdict, tell: The sum., kind: choice, answers: [{id: clear, means: clear}, {id: tight, means: tight}, {id: through, means: through}], source: yard-code}
  - {id: sand.chance, computed: sanding.chance, tell: The sum., kind: quantity, unit: "%", range: [0, 100], source: yard-code}
  - {id: sand.take_mm, computed: sanding.take, tell: The sum., kind: quantity, unit: mm, range: [0, 200], source: yard-code}
  - {id: sand.left_mm, computed: sanding.left, tell: The sum., kind: quantity, unit: mm, range: [-200, 200], source: yard-code}
  - {id: sand.grit_jump, computed: sanding.jump, tell: The sum., kind: choice, answers: [{id: close, means: close}, {id: one-skipped, means: one skipped}, {id: too-big, means: too big}], source: yard-code}
sources: [yard-code]
`,
	"findings/thin-layer.yaml": `
finding: thin-layer
derives: surface.thin_layer
branches:
  - {when: 'surface.layer == "skin"', is: yes, because: a skin lies on something, source: bench-note}
  - {when: 'surface.layer != "skin"', is: no, because: it is the same all through, source: bench-note}
sources: [bench-note]
`,
	"findings/bleeds.yaml": `
finding: bleeds
derives: surface.bleeds
branches:
  - {when: '!surface.fast', is: yes, because: a dye that is not fast runs, source: dye-chart}
  - {when: surface.fast, is: no, because: a fast dye stays, source: dye-chart}
sources: [dye-chart]
`,
	"findings/binding.yaml": `
finding: binding
derives: surface.binding
branches:
  - {when: 'surface.drop_test == "swells"', is: paste, because: paste drinks, source: yard-code}
  - {when: 'surface.scratch_test == "curls"', is: resin, because: resin curls, source: bench-note}
  - {when: 'surface.drop_test == "beads" && surface.scratch_test == "powders"', is: tallow, because: tallow sheds water, source: hearsay}
sources: [bench-note, hearsay, yard-code]
`,
	"findings/fresh.yaml": `
finding: fresh
derives: defect.fresh
branches:
  - {when: 'defect.rim == "sharp"', is: yes, because: use has not worn it yet, source: bench-note}
  - {when: 'defect.rim == "worn"', is: no, because: wear takes time, source: hearsay}
sources: [bench-note, hearsay]
`,
	"defects/hammer-mark.yaml": defect("hammer-mark", "Hammer mark", clauses(`defect.form == "dip"`, `defect.cause == "hammer"`)),
	"defects/claw-mark.yaml":   defect("claw-mark", "Claw mark", clauses(`defect.form == "dip"`, `defect.cause == "claw"`)),
	"defects/streak.yaml":      defect("streak", "Streak", clauses(`defect.form == "streak"`)),
}

func defect(id, name, signs string) string {
	return fmt.Sprintf("defect: %s\nname: %s\nwhat: A %s.\nsigns: %s\nif_left: It stays.\nurgency: soon\nuse: careful\nsource: hearsay\nsources: [bench-note, hearsay]\n",
		id, name, strings.ToLower(name), signs)
}

// clause writes a condition with its reason, which says no more than the condition.
func clause(when string) string {
	return fmt.Sprintf("{when: '%s', because: 'as it is: %s', source: bench-note}", when, when)
}

func clauses(whens ...string) string {
	var out []string
	for _, w := range whens {
		out = append(out, clause(w))
	}
	return "[" + strings.Join(out, ", ") + "]"
}

// own are the keys of a rule that a test sets; the rest is as dull as can be.
type own map[string]string

// method writes the file of a method. It treats every kind of mark, without conditions and harms.
func method(id string, set own) files {
	keys := own{"name": "Do " + id, "what": "It is done.", "treats": "[hammer-mark, claw-mark, streak]", "stage": "flatten",
		"achieves": "restores", "undo": "yes", "minutes": "[1, 5, 9]", "steps": "[{do: do it}]"}
	maps.Copy(keys, set)
	return rule("method", id, keys)
}

// warning writes the file of a warning, a notice unless the test says otherwise.
func warning(id string, set own) files {
	keys := own{"signal": "notice", "text": "Mind it.", "if_wrong": "Stop.", "source": "bench-note"}
	maps.Copy(keys, set)
	return rule("warning", id, keys)
}

// rule writes a file; its closing list names the sources that the text cites.
func rule(kind, id string, keys own) files {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n", kind, id)
	for _, k := range slices.Sorted(maps.Keys(keys)) {
		fmt.Fprintf(&b, "%s: %s\n", k, keys[k])
	}
	var cited []string
	for _, s := range []string{"bench-note", "dye-chart", "hearsay", "yard-code"} {
		if strings.Contains(b.String(), "source: "+s) {
			cited = append(cited, s)
		}
	}
	fmt.Fprintf(&b, "sources: [%s]\n", strings.Join(cited, ", "))
	return files{kind + "s/" + id + ".yaml": b.String()}
}

func mapFS(parts ...files) fstest.MapFS {
	fsys := fstest.MapFS{}
	for _, p := range append([]files{vocabulary}, parts...) {
		for name, text := range p {
			fsys[name] = &fstest.MapFile{Data: []byte(strings.TrimPrefix(text, "\n"))}
		}
	}
	return fsys
}

// books are those loaded before; nothing changes a book.
var books sync.Map

// load loads the vocabulary with the rules of a test.
func load(t testing.TB, parts ...files) *rules.Book {
	t.Helper()
	key := fmt.Sprint(parts)
	if book, ok := books.Load(key); ok {
		return book.(*rules.Book)
	}
	book, err := rules.Load(mapFS(parts...))
	require.NoError(t, err)
	books.Store(key, book)
	return book
}

// rest treats what the method of a test leaves out, for a kind that nothing treats is a mistake.
var rest = method("rest", own{"treats": "[claw-mark, streak]"})

// tables are round figures of no real abrasive. The block takes just what the figures say.
func tables() *engine.Tables {
	return &engine.Tables{
		Depth: depth.Tables{
			Clearances: []depth.Clearance{{Grit: "80", MM: 0.2, U: 0.04, Most: 0.6}, {Grit: "120", MM: 0.1, U: 0.02, Most: 0.25}, {Grit: "150", MM: 0.05, U: 0.01, Most: 0.15}},
			Grains:     map[string]float64{"P80": 200, "P120": 125, "P150": 100, "P240": 60},
			Tools: map[string]depth.Tool{
				"block": {Factor: interval.Exact(1), Pass: interval.Range{Lo: 0.005, Hi: 0.01}},
				"paw":   {Factor: interval.Range{Lo: 0.5, Hi: 1}, Pass: interval.Range{Lo: 0.005, Hi: 0.02}},
			},
		},
		Keeps:   map[string]engine.Keep{"skin": {Line: 0.5, Warn: 0.8, Most: 1.5}, "plank": {Line: 6, Warn: 16, Cover: 3, Most: 1.5}},
		Layers:  map[[2]string]interval.Range{{"skin", "old"}: {Lo: 1, Hi: 2}},
		Feather: map[string]float64{"satin": 100},
		Tool:    "block",
		Grits:   []string{"120", "150"},
	}
}

// facts are answers as people type them, by fact; several answers are joined by commas.
type facts map[string]string

// with is f and what is added to it.
func (f facts) with(more facts) facts {
	out := maps.Clone(f)
	maps.Copy(out, more)
	return out
}

// hammered is all there is to say of a mark that is certainly a hammer mark.
var hammered = facts{"defect.form": "dip", "defect.cause": "hammer"}

// subject takes the answers about one thing.
func subject(t testing.TB, book *rules.Book, about string, given facts) engine.Subject {
	t.Helper()
	s := engine.Subject{Answers: map[string]condition.Value{}, CannotTell: map[string]bool{}, Confirmed: map[string]bool{}}
	for id, text := range given {
		if !strings.HasPrefix(id, about+".") {
			continue
		}
		require.Contains(t, book.Facts, id)
		v, known, err := book.Facts[id].ReadAnswer(strings.Split(text, ", ")...)
		require.NoError(t, err)
		if known {
			s.Answers[id] = v
		} else {
			s.CannotTell[id] = true
		}
	}
	return s
}

// job is a raft with one mark, "dint", on its "deck".
func job(t testing.TB, book *rules.Book, given facts) *engine.Job {
	t.Helper()
	return &engine.Job{
		Name: "raft", Piece: subject(t, book, "piece", given), Shop: subject(t, book, "shop", given),
		Surfaces: map[string]*engine.Surface{"deck": {Subject: subject(t, book, "surface", given)}},
		Defects:  []*engine.Mark{{ID: "dint", On: "deck", Subject: subject(t, book, "defect", given)}},
	}
}

// triage judges a job that has one mark.
func triage(t testing.TB, book *rules.Book, given facts) (*engine.Answer, engine.DefectAnswer) {
	t.Helper()
	j := job(t, book, given)
	a, err := engine.Triage(book, tables(), j)
	require.NoError(t, err)
	require.NoError(t, engine.AddQuestions(book, tables(), j, a))
	require.Len(t, a.Defects, 1)
	return a, a.Defects[0]
}

// repair finds a method among the repairs of a mark.
func repair(t testing.TB, d engine.DefectAnswer, method string) engine.Repair {
	t.Helper()
	i := slices.IndexFunc(d.Repairs, func(r engine.Repair) bool { return r.Method == method })
	require.GreaterOrEqual(t, i, 0, "%s is offered", method)
	return d.Repairs[i]
}

// judged is one method judged for the one mark.
func judged(t testing.TB, set own, given facts) engine.Repair {
	t.Helper()
	_, d := triage(t, load(t, method("mend", set), rest), given)
	return repair(t, d, "mend")
}

// each maps a list to what of each item matters to a test.
func each[T, U any](list []T, of func(T) U) []U {
	out := []U{}
	for _, v := range list {
		out = append(out, of(v))
	}
	return out
}

func methodsOf(d engine.DefectAnswer) []string {
	return each(d.Repairs, func(r engine.Repair) string { return r.Method })
}
