package knowledge_test

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/reckon"
	"mendwright/knowledge"
	"mendwright/rules"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
	"mendwright/rules/strictyaml"
)

// reckonTables are the tables of each field.
var reckonTables = sync.OnceValue(func() map[string]*reckon.Tables {
	k, err := knowledge.Load()
	if err != nil {
		panic(err)
	}
	out := map[string]*reckon.Tables{}
	for _, field := range []string{reckon.Moisture, reckon.Mechanics, reckon.Metal, reckon.Air, reckon.Coat, reckon.Plan} {
		if out[field], err = knowledge.ReckonTables(k.Book, field); err != nil {
			panic(err)
		}
	}
	return out
})

// examples are the examples of a calculation's inputs: of all, or of those that must be given.
func examples(c *reckon.Calculation, all bool) map[string]string {
	typed := map[string]string{}
	for _, in := range c.Inputs {
		if all || !in.Optional && in.Default == "" {
			typed[in.Name] = in.Example
		}
	}
	return typed
}

var kebab = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// TestEveryCalculationIsDescribed: by a question, inputs with their units and limits, and sources
// that the rulebook knows.
func TestEveryCalculationIsDescribed(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	ids, perField := map[string]bool{}, map[string]int{}
	for _, c := range reckon.All() {
		assert.Regexp(t, kebab, c.ID)
		assert.False(t, ids[c.ID], "%s stands there twice", c.ID)
		ids[c.ID] = true
		perField[c.Field]++
		assert.Regexp(t, `^[A-Z].*\?$`, c.Ask, c.ID)
		require.NotNil(t, reckonTables()[c.Field], c.ID)
		require.NotEmpty(t, c.Inputs, c.ID)
		require.NotEmpty(t, c.Sources, c.ID)
		for _, id := range c.Sources {
			assert.NotNil(t, k.Book.Sources[id], "%s cites %s, which is no source", c.ID, id)
		}
		assert.Len(t, slices.Compact(slices.Sorted(slices.Values(c.Sources))), len(c.Sources), "%s names a source twice", c.ID)
		names := map[string]bool{}
		for _, in := range c.Inputs {
			what := c.ID + " " + in.Name
			assert.Regexp(t, kebab, in.Name, what)
			assert.False(t, names[in.Name], what)
			names[in.Name] = true
			assert.NotEmpty(t, in.Means, what)
			assert.NotEmpty(t, in.Example, what)
			assert.False(t, in.Optional && in.Default != "", "%s is taken either as its default or as all it could be", what)
			if in.Words != nil {
				assert.NotEmpty(t, in.Words(reckonTables()[c.Field]), what)
				assert.Empty(t, in.Unit, what)
				continue
			}
			assert.True(t, in.Unit == "" || quantity.Known(in.Unit), "%s is in %q", what, in.Unit)
			assert.Less(t, in.Range.Lo, in.Range.Hi, what)
		}
	}
	for _, field := range []string{reckon.Moisture, reckon.Mechanics, reckon.Metal, reckon.Air, reckon.Coat, reckon.Plan} {
		assert.GreaterOrEqual(t, perField[field], 8, field)
	}
}

// possible says between which figures a unit makes sense in a workshop.
var possible = map[string]interval.Range{
	"%": {Lo: -1000, Hi: 100000}, "°C": {Lo: -100, Hi: 1500}, "mm": {Lo: -5000, Hi: 100000}, "kg": {Lo: 0, Hi: 10000}, "g": {Lo: 0, Hi: 1e6},
}

// TestEveryExampleAnswers: with all its inputs and with only those that must be given, and each
// figure is a number that can be, with its unit, or a word with what it says.
func TestEveryExampleAnswers(t *testing.T) {
	for _, c := range reckon.All() {
		for _, all := range []bool{true, false} {
			typed := examples(c, all)
			if len(typed) == 0 {
				continue
			}
			a, err := c.Answer(reckonTables()[c.Field], typed)
			if !assert.NoError(t, err, c.ID) {
				continue
			}
			assert.Len(t, a.Inputs, len(c.Inputs), c.ID)
			require.NotEmpty(t, a.Figures, c.ID)
			names := map[string]bool{}
			for _, f := range a.Figures {
				what := c.ID + " " + f.Name
				assert.Regexp(t, kebab, f.Name, what)
				assert.False(t, names[f.Name], "%s stands there twice", what)
				names[f.Name] = true
				assert.NotEmpty(t, f.Means, what)
				assert.NotEqual(t, f.Range == nil, f.Word == "", "%s is a number or a word", what)
				if f.Range == nil {
					assert.Regexp(t, kebab, f.Word, what)
					assert.NotEmpty(t, f.Says, "%s: what %s means", what, f.Word)
					continue
				}
				assert.True(t, f.Range.Valid(), "%s: %v", what, *f.Range)
				if within, ok := possible[f.Unit]; ok {
					assert.True(t, f.Range.Within(within), "%s: %v %s", what, *f.Range, f.Unit)
				}
			}
		}
	}
}

// TestWhatCannotBeIsRefused: an input that is missing, unknown or outside its limits is named,
// with what was read and what is allowed.
func TestWhatCannotBeIsRefused(t *testing.T) {
	for _, c := range reckon.All() {
		tables := reckonTables()[c.Field]
		refused := func(name, text string, says ...string) {
			typed := examples(c, true)
			typed[name] = text
			_, err := c.Answer(tables, typed)
			for _, s := range says {
				assert.ErrorContains(t, err, s, "%s %s=%s", c.ID, name, text)
			}
		}
		for _, in := range c.Inputs {
			if !in.Optional && in.Default == "" {
				typed := examples(c, true)
				delete(typed, in.Name)
				_, err := c.Answer(tables, typed)
				assert.ErrorContains(t, err, in.Name+" is missing", c.ID)
			}
			if in.Words != nil {
				typed := examples(c, true)
				typed[in.Name] = "no such word"
				_, err := c.Answer(tables, typed)
				var unknown *reckon.Unknown
				require.ErrorAs(t, err, &unknown, c.ID)
				assert.Equal(t, in.Words(tables), unknown.Known)
				continue
			}
			allowed := in.Allowed(tables)
			for _, outside := range []float64{in.Range.Lo - max(1, -in.Range.Lo)/10, in.Range.Hi + max(1, in.Range.Hi)/10} {
				text := strconv.FormatFloat(outside, 'f', -1, 64) + " " + in.Unit
				refused(in.Name, text, in.Name, strconv.Quote(text), allowed)
			}
			for _, nonsense := range []string{"abc", "NaN", "+Inf", "", "3 ells"} {
				refused(in.Name, nonsense, in.Name, strconv.Quote(nonsense), allowed)
			}
		}
		_, err := c.Answer(tables, map[string]string{"no-such-input": "1"})
		assert.ErrorContains(t, err, "no-such-input", c.ID)
	}
	_, err := reckon.Find("no-such-calculation")
	assert.ErrorContains(t, err, "no-such-calculation")
}

// narrowed draws a range within r, often near what the example says, and one within that.
func narrowed(rnd *rand.Rand, in reckon.Input) (wide, narrow interval.Range) {
	at := func(r interval.Range) float64 { return r.Lo + rnd.Float64()*(r.Hi-r.Lo) }
	near := in.Range
	if v, err := quantity.Parse(in.Example, in.Unit); err == nil && rnd.IntN(4) > 0 {
		half := (v.Half() + 0.3*max(v.Hi, -v.Lo)) * rnd.Float64()
		near = interval.Range{Lo: max(in.Range.Lo, v.Mid()-half), Hi: min(in.Range.Hi, v.Mid()+half)}
	}
	order := func(a, b float64) interval.Range { return interval.Range{Lo: min(a, b), Hi: max(a, b)} }
	wide = order(at(near), at(near))
	if narrow = order(at(wide), at(wide)); rnd.IntN(3) == 0 {
		narrow = interval.Exact(narrow.Lo)
	}
	return wide, narrow
}

func asTyped(r interval.Range, unit string) string {
	f := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	return f(r.Lo) + " to " + f(r.Hi) + " " + unit
}

// TestACloserMeasurementNeverContradicts: where an input is given closer, or given at all, every
// figure lies inside that of the wider inputs, and a word that was certain stays.
func TestACloserMeasurementNeverContradicts(t *testing.T) {
	const trials = 300
	for _, c := range reckon.All() {
		tables := reckonTables()[c.Field]
		rnd := rand.New(rand.NewPCG(18, uint64(len(c.ID))))
		compared := 0
		for range trials {
			wide, narrow := map[string]string{}, map[string]string{}
			for _, in := range c.Inputs {
				leave := in.Optional && rnd.IntN(4) == 0
				switch {
				case in.Words != nil:
					w := in.Words(tables)
					word := w[rnd.IntN(len(w))]
					if rnd.IntN(2) == 0 && slices.Contains(w, in.Example) {
						word = in.Example
					}
					wide[in.Name], narrow[in.Name] = word, word
				default:
					r, within := narrowed(rnd, in)
					wide[in.Name], narrow[in.Name] = asTyped(r, in.Unit), asTyped(within, in.Unit)
				}
				if leave {
					delete(wide, in.Name)
				}
			}
			a, err := c.Answer(tables, wide)
			if err != nil {
				continue
			}
			b, err := c.Answer(tables, narrow)
			if err != nil {
				continue // a closer measurement may show that the inputs contradict each other
			}
			compared++
			if problem := contradicts(a.Figures, b.Figures); !assert.Empty(t, problem, "%s: %v, and closer %v", c.ID, wide, narrow) {
				break
			}
		}
		assert.Greater(t, compared, trials/10, "%s hardly ever answers", c.ID)
	}
}

// contradicts says how a figure of closer inputs does not lie within that of wider ones.
func contradicts(wide, narrow []reckon.Figure) string {
	for _, w := range wide {
		i := slices.IndexFunc(narrow, func(n reckon.Figure) bool { return n.Name == w.Name })
		switch {
		case i < 0:
			return "the closer inputs give no " + w.Name
		case w.Range == nil:
			if w.Word != reckon.NotKnown && w.Word != narrow[i].Word {
				return fmt.Sprintf("%s turns from %s to %s", w.Name, w.Word, narrow[i].Word)
			}
		default:
			n, slack := narrow[i].Range, 1e-9*(1+max(w.Range.Hi, -w.Range.Lo))
			if n == nil || n.Lo < w.Range.Lo-slack || n.Hi > w.Range.Hi+slack {
				return fmt.Sprintf("%s goes from %v to %v", w.Name, *w.Range, n)
			}
		}
	}
	return ""
}

// TestContradictionsAreSeen: the check above is one that can fail.
func TestContradictionsAreSeen(t *testing.T) {
	wide := []reckon.Figure{reckon.Amount("sag", "sag", "mm", interval.Range{Lo: 1, Hi: 2}), reckon.Verdict("seen", "it is seen", "yes", "so")}
	assert.Empty(t, contradicts(wide, wide))
	assert.NotEmpty(t, contradicts(wide, wide[:1]))
	assert.NotEmpty(t, contradicts(wide, []reckon.Figure{reckon.Amount("sag", "sag", "mm", interval.Range{Lo: 1, Hi: 2.1}), wide[1]}))
	assert.NotEmpty(t, contradicts(wide, []reckon.Figure{wide[0], reckon.Verdict("seen", "it is seen", reckon.NotKnown, "so")}))
}

// reckonPublished are calls whose figure a published value speaks of: by the id of the value, what
// is asked (an underscore stands for a space), and the figure. Where a figure spans more than the
// value, the value lies within.
var reckonPublished = []struct{ id, ask, figure string }{
	{"emc-70f-50", "wood-moisture humidity=50 air=21.1", "moisture"},
	{"movement-cherry", "board-movement width=600 timber=cherry from=6 to=10 sawn=flat", "wider"},
	{"meter-cold-wood", "meter-reading reading=9 wood=10", "moisture"},
	{"screw-in-walnut-black-n", "screw-withdrawal fastener=wood-screw timber=walnut-black diameter=4.1656 grip=25.4 grain=side hole=new", "pulls-out"},
	{"sag-cherry", "shelf-sag timber=cherry span=900 depth=250 thickness=19 load=291.88 ends=resting", "sag"},
	{"longest-span-cherry", "shelf-span timber=cherry depth=250 thickness=19 load=291.88 ends=resting", "span"},
	{"dowel-pull-8-20", "dowel-pull dowel=spiral diameter=8 depth=20", "pull"},
	{"cup-after-rip-half", "cup-after-rip cup=4 share=50", "cup"},
	{"restraint-all-open", "tips-forward mass=35 behind=220 drawers=36.508 drawers-out=100 hanging=27.216 hanging-out=300 anchor=900", "anchor"},
	{"top-mass", "board-mass length=1800 width=900 thickness=25 timber=oak-white moisture=12", "mass"},
	{"lift-oak-top-index", "lift-a-top mass=35 reach=400 height=400 travel=600", "index"},
}

// TestOneFigureAgreesWithThePublishedOne: asked one by one, the calculations say what is printed.
func TestOneFigureAgreesWithThePublishedOne(t *testing.T) {
	values := publishedValues(t)
	fields := map[string]int{}
	for _, p := range reckonPublished {
		v, ok := values[p.id]
		require.True(t, ok, "there is no published value %s", p.id)
		words := strings.Fields(p.ask)
		c, err := reckon.Find(words[0])
		require.NoError(t, err, p.id)
		fields[c.Field]++
		typed := map[string]string{}
		for _, w := range words[1:] {
			name, text, _ := strings.Cut(w, "=")
			typed[name] = strings.ReplaceAll(text, "_", " ")
		}
		a, err := c.Answer(reckonTables()[c.Field], typed)
		require.NoError(t, err, p.id)
		i := slices.IndexFunc(a.Figures, func(f reckon.Figure) bool { return f.Name == p.figure })
		require.GreaterOrEqual(t, i, 0, "%s has no figure %s", c.ID, p.figure)
		f := a.Figures[i]
		if f.Range == nil {
			assert.Equal(t, v.expect, f.Word, p.id)
			continue
		}
		want, err := strconv.ParseFloat(v.expect, 64)
		require.NoError(t, err, p.id)
		assert.NoError(t, v.near(min(max(want, f.Range.Lo), f.Range.Hi), want), p.id)
	}
	for field := range reckonTables() {
		assert.NotZero(t, fields[field], "no published value speaks of the field %s", field)
	}
}

// publishedValues reads all published values by their ids.
func publishedValues(t *testing.T) map[string]value {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", "testdata", "published", "*.yaml"))
	require.NoError(t, err)
	out := map[string]value{}
	for _, path := range slices.Sorted(slices.Values(files)) {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		doc := strictyaml.Parse(filepath.Base(path), data, strictyaml.Options{MaxBytes: rules.MaxFileBytes})
		require.Empty(t, doc.Errs())
		doc.Top().Each("values", func(m *strictyaml.Map) {
			v := readValue(m)
			out[v.id] = v
		})
	}
	require.NotEmpty(t, slices.Collect(maps.Keys(out)))
	return out
}
