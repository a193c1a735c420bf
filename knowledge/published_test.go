package knowledge_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mendwright/knowledge"
	"mendwright/rules"
	"mendwright/rules/interval"
	"mendwright/rules/strictyaml"
)

// published says how many values each file of testdata/published holds, and how many of them the
// program is known not to meet.
var published = map[string]struct{ values, skipped int }{
	"grits.yaml":       {19, 0},
	"layers.yaml":      {4, 1},
	"risk.yaml":        {18, 0},
	"sanding.yaml":     {23, 0},
	"timbers.yaml":     {16, 1},
	"uncertainty.yaml": {22, 0},
	"units.yaml":       {12, 0},
}

// marks say how a published value came to be known.
var marks = []string{"READ", "READ(weak)", "READ(OCR)", "DERIVED", "MEMORY", "ASSUMPTION"}

// TestThePublishedFiguresOfTheTradeAreMet holds the arithmetic, the tables and the risk matrix
// against what handbooks, standards and trade pages print.
func TestThePublishedFiguresOfTheTradeAreMet(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	files := publishedFiles(t)
	ids, asked := map[string]bool{}, map[string]bool{}
	for name, doc := range files {
		var values, skipped int
		top := doc.Top()
		top.Each("values", func(m *strictyaml.Map) {
			v := readValue(m)
			values++
			if ids[v.id] {
				m.Fail("the value %q stands here twice", v.id)
			}
			ids[v.id], asked[v.calculator] = true, true
			problem := v.check(k, m)
			switch {
			case v.skip == "" && problem != nil:
				t.Errorf("\n%s\n    %s (%s)", m.Pos().Error("%s: %v", v.id, problem), v.what, v.source)
			case v.skip != "" && problem == nil:
				t.Errorf("\n%s", m.Pos().Error("%s is skipped though the program meets it", v.id))
			case v.skip != "":
				skipped++
				t.Logf("%s: not met: %v; %s", v.id, problem, v.skip)
			}
		})
		top.Done()
		if errs := doc.Errs(); errs != nil {
			t.Error("\n" + errs.Error())
		}
		want, ok := published[name]
		if !ok {
			t.Errorf("%s is not a file of published values", name)
		}
		if values != want.values || skipped != want.skipped {
			t.Errorf("%s holds %d values, %d of them skipped; expected %d and %d", name, values, skipped, want.values, want.skipped)
		}
	}
	if len(files) != len(published) {
		t.Errorf("there are %d files of published values; expected %d", len(files), len(published))
	}
	for name := range calculators {
		if !asked[name] {
			t.Errorf("no published value asks for the calculator %q", name)
		}
	}
}

// publishedFiles are the files of published values by name. One that cannot be read fails the test.
func publishedFiles(t *testing.T) map[string]*strictyaml.Doc {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join("..", "testdata", "published", "*.yaml"))
	require.NoError(t, err)
	docs := map[string]*strictyaml.Doc{}
	for _, path := range paths {
		name := filepath.Base(path)
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		docs[name] = strictyaml.Parse(name, data, strictyaml.Options{MaxBytes: rules.MaxFileBytes})
		if errs := docs[name].Errs(); errs != nil {
			t.Fatal("\n" + errs.Error())
		}
	}
	return docs
}

// TestEnoughIsPublishedAndMet counts what stands on a figure that was read in a readable copy, or
// reckoned from one: a page without authority, memory and choices do not count, and neither does a
// value that is not met. Each of those says why, at more length than a word; that it truly fails is
// seen by the test above.
func TestEnoughIsPublishedAndMet(t *testing.T) {
	met := map[string]int{}
	for _, doc := range publishedFiles(t) {
		doc.Top().Each("values", func(m *strictyaml.Map) {
			v := readValue(m)
			if v.skip == "" {
				met[v.mark]++
				if _, ok := m.Opt("skip"); ok {
					t.Errorf("%s", m.Pos().Error("%s is skipped for no reason", v.id))
				}
				return
			}
			if len(strings.Fields(v.skip)) < 5 {
				t.Errorf("%s", m.Pos().Error("%s is skipped because %q; expected what stands in the way", v.id, v.skip))
			}
		})
	}
	t.Logf("%d read and %d derived values are met", met["READ"], met["DERIVED"])
	if n := met["READ"] + met["DERIVED"]; n < 220 {
		t.Errorf("%d values that were read or derived are met; expected at least 220", n)
	}
}

// value is one published figure.
type value struct {
	id, what, calculator, expect, tolerance, source, mark, skip string
	inputs                                                      *strictyaml.Map
}

func readValue(m *strictyaml.Map) value {
	v := value{id: m.Str("id"), what: m.Str("what"), calculator: m.Str("calculator"), expect: m.Str("expect"),
		tolerance: m.Str("tolerance"), source: m.Str("source"), mark: m.Str("mark"), skip: m.OptStr("skip")}
	in, _ := m.Need("inputs")
	v.inputs = in.Map()
	if !slices.Contains(marks, v.mark) {
		m.Fail("the mark %q is none of %s", v.mark, strings.Join(marks, ", "))
	}
	return v
}

// check works the value out and says how it differs from what is published.
func (v value) check(k *knowledge.Loaded, m *strictyaml.Map) error {
	calculate, ok := calculators[v.calculator]
	if !ok {
		m.Fail("unknown calculator %q", v.calculator)
		return nil
	}
	got, err := calculate(k, v.inputs)
	v.inputs.Done()
	if err != nil {
		return err
	}
	switch got := got.(type) {
	case string:
		if v.tolerance != "exact" {
			m.Fail("a word is met exactly or not at all")
		}
		if got != v.expect {
			return fmt.Errorf("got %s; published is %s", got, v.expect)
		}
		return nil
	case float64:
		want, err := strconv.ParseFloat(v.expect, 64)
		if err != nil {
			return fmt.Errorf("expected a number: %w", err)
		}
		return v.near(got, want)
	case interval.Range:
		lo, hi, isRange := strings.Cut(v.expect, " to ")
		if !isRange { // one figure, which both ends must meet
			hi = lo
		}
		wantLo, errLo := strconv.ParseFloat(lo, 64)
		wantHi, errHi := strconv.ParseFloat(hi, 64)
		if errLo != nil || errHi != nil {
			return fmt.Errorf("expected a number or a range such as 1.5 to 2.0, not %q", v.expect)
		}
		if err := v.near(got.Lo, wantLo); err != nil {
			return err
		}
		return v.near(got.Hi, wantHi)
	}
	return fmt.Errorf("the calculator answers with a %T", got)
}

// near allows the published tolerance, and beyond it only the rounding of the arithmetic.
func (v value) near(got, want float64) error {
	tolerance := 0.0
	if v.tolerance != "exact" {
		var err error
		if tolerance, err = strconv.ParseFloat(v.tolerance, 64); err != nil || tolerance <= 0 {
			return fmt.Errorf("the tolerance %q is neither exact nor a number above 0", v.tolerance)
		}
	}
	// A NaN meets nothing.
	if !(math.Abs(got-want) <= tolerance+1e-12*math.Abs(want)) {
		return fmt.Errorf("got %v; published is %v, give or take %v", got, want, tolerance)
	}
	return nil
}

// calculators answer with a number, a range or a word; each subject adds its own.
var calculators = map[string]func(*knowledge.Loaded, *strictyaml.Map) (any, error){}

func number(in *strictyaml.Map, key string) float64 {
	if v, ok := in.Need(key); ok {
		return v.Num()
	}
	return math.NaN()
}

func numbers(in *strictyaml.Map, key string) []float64 {
	var out []float64
	if v, ok := in.Opt(key); ok {
		for _, e := range v.List() {
			out = append(out, e.Num())
		}
	}
	return out
}

// span reads a number as an exact range, and a list of two as the range between them.
func span(in *strictyaml.Map, key string) interval.Range {
	if v, ok := in.Need(key); ok && v.IsList() {
		ends := v.Nums(2)
		return interval.Range{Lo: ends[0], Hi: ends[1]}
	}
	return interval.Exact(number(in, key))
}
