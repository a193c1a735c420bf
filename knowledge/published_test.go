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

	"mendwright/engine"
	"mendwright/engine/depth"
	"mendwright/engine/moisture"
	"mendwright/knowledge"
	"mendwright/rules"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
	"mendwright/rules/strictyaml"
)

// published says how many values each file of testdata/published holds, and how many of them the
// program is known not to meet.
var published = map[string]struct{ values, skipped int }{
	"grits.yaml":       {19, 0},
	"layers.yaml":      {7, 1},
	"risk.yaml":        {18, 0},
	"sanding.yaml":     {23, 0},
	"timbers.yaml":     {14, 0},
	"uncertainty.yaml": {22, 0},
}

// marks say how a published value came to be known.
var marks = []string{"READ", "READ(weak)", "READ(OCR)", "DERIVED", "MEMORY", "ASSUMPTION"}

// TestThePublishedFiguresOfTheTradeAreMet holds the arithmetic, the tables and the risk matrix
// against what handbooks, standards and trade pages print.
func TestThePublishedFiguresOfTheTradeAreMet(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "testdata", "published", "*"))
	require.NoError(t, err)
	k, err := knowledge.Load()
	require.NoError(t, err)

	ids, asked := map[string]bool{}, map[string]bool{}
	for _, path := range files {
		name := filepath.Base(path)
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		doc := strictyaml.Parse(name, data, strictyaml.Options{MaxBytes: rules.MaxFileBytes})
		if errs := doc.Errs(); errs != nil {
			t.Error("\n" + errs.Error())
			continue
		}
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

// calculators answer with a number, a range or a word.
var calculators = map[string]func(*knowledge.Loaded, *strictyaml.Map) (any, error){
	// What a programme of grits takes; the published figures are those of a belt sander.
	"capacity": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return k.Tables.Depth.Capacity(in.OptStrs("grits"))
	},
	"clearance": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		take, err := k.Tables.Depth.Take(depth.Cut{Grits: []string{in.Str("grit"), "P2500"}, Tool: "belt"})
		return take.Clearances, err
	},
	"take": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		take, err := k.Tables.Depth.Take(depth.Cut{Defect: span(in, "defect"), Grits: in.OptStrs("grits"), Tool: "belt"})
		return take.Total, err
	},
	"left": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		s, err := sand(k, in)
		if err != nil {
			return nil, err
		}
		return *s.LeftMM, nil
	},
	"verdict": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		s, err := sand(k, in)
		return s.Verdict, err
	},
	"clears": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		s, err := sand(k, in)
		if s.Verdict == depth.Clear.String() {
			return "yes", err
		}
		return "no", err
	},
	"after-recovery": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return moisture.DentLeft(span(in, "depth"), span(in, "share"))
	},
	"dish-slope": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return depth.DishSlope(number(in, "depth"), number(in, "width")), nil
	},
	"dish-radius": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return depth.DishRadius(number(in, "depth"), number(in, "width")), nil
	},
	"dish-volume": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return depth.DishVolume(number(in, "depth"), number(in, "width")), nil
	},
	"taper-slope": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return depth.TaperSlope(number(in, "depth"), number(in, "length")), nil
	},
	"screw-cover": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return depth.Cover(span(in, "thickness"), span(in, "take"), span(in, "screw")), nil
	},

	// Grits.
	"grain": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return k.Tables.Depth.Grain(in.Str("grit"))
	},
	"nearest-p": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return text(k, "grit-match", in.Str("cami"), "p")
	},
	"ratio": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		steps, err := k.Tables.Depth.Steps([]string{in.Str("from"), in.Str("to")})
		if err != nil {
			return nil, err
		}
		return steps[0].Ratio, nil
	},
	"none-skipped": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return accepts(k, in, depth.Close)
	},
	"one-skipped": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return accepts(k, in, depth.OneSkipped)
	},

	// Layers.
	"usual-thickness": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) { return usual(k, in) },
	"least-thickness": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		r, err := usual(k, in)
		return r.Lo, err
	},
	"keep-line": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		keep, ok := k.Tables.Keeps[in.Str("layer")]
		if !ok {
			return nil, fmt.Errorf("there is no keep line for the layer")
		}
		return keep.Line, nil
	},
	"length": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		v, err := quantity.Parse(in.Str("text"), "mm")
		return v.Range, err
	},

	// Timbers and glues.
	"hardness-n": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return figure(k, "timbers", in.Str("timber"), "hardness_n", interval.Range.Mid)
	},
	"hardness-lbf": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		pound, err := quantity.Parse("1 lbf", "N")
		if err != nil {
			return nil, err
		}
		n, err := figure(k, "timbers", in.Str("timber"), "hardness_n", interval.Range.Mid)
		return math.Round(n / pound.Mid()), err
	},
	"softest-first": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		timbers, hardness := in.OptStrs("timbers"), map[string]float64{}
		for _, name := range timbers {
			n, err := figure(k, "timbers", name, "hardness_n", interval.Range.Mid)
			if err != nil {
				return nil, err
			}
			hardness[name] = n
		}
		slices.SortFunc(timbers, func(a, b string) int { return int(hardness[a] - hardness[b]) })
		return strings.Join(timbers, " "), nil
	},
	"pores": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return text(k, "timbers", in.Str("timber"), "pores")
	},
	"glue-softens-from": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return figure(k, "glues", in.Str("glue"), "softens_c", func(r interval.Range) float64 { return r.Lo })
	},

	// Uncertainty. A half-width is that of a rectangular distribution, a term is a standard
	// uncertainty.
	"combined": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		times := 1.0
		if v, ok := in.Opt("times"); ok {
			times = v.Num()
		}
		return times * combined(in), nil
	},
	"rectangular": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return interval.Around(0, number(in, "half")).Std(), nil
	},
	"chance-through": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return depth.Beyond(number(in, "margin"), combined(in)), nil
	},
	"phi": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) { return depth.Phi(number(in, "z")), nil },
	"sum": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		var sum interval.Range
		for _, v := range numbers(in, "terms") {
			sum = sum.Add(interval.Exact(v))
		}
		return sum, nil
	},

	// Risk.
	"risk": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		code := in.Str("code")
		if len(code) != 2 {
			return nil, fmt.Errorf("%q is not a severity and a letter", code)
		}
		severity := strings.Index("1234", code[:1])
		level := strings.Index(letters, code[1:])
		if severity < 0 || level < 0 {
			return nil, fmt.Errorf("%q is not a severity and a letter", code)
		}
		return rules.RiskOf(severity, level).String(), nil
	},
	"risk-row": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		level := strings.Index(letters, in.Str("letter"))
		if level < 0 {
			return nil, fmt.Errorf("there is no such letter")
		}
		var row []string
		for severity := range rules.Severities {
			row = append(row, rules.RiskOf(severity, level).String())
		}
		return strings.Join(row, " "), nil
	},
	"letter": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		level := rules.LevelOf(number(in, "p"))
		return letters[level : level+1], nil
	},
}

const letters = "ABCDEF"

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

// sand checks a stripped layer in which a mark is sanded out. The published figures are those of
// a belt, so the tables are asked for a belt that may go on a thin layer.
func sand(k *knowledge.Loaded, in *strictyaml.Map) (engine.Sanding, error) {
	tables := *k.Tables
	tables.TooRough = nil
	s := tables.Sand(engine.Cut{
		Layer: in.Str("layer"), Thin: condition.True, Stripped: condition.True,
		Thickness: engine.Measure{Range: span(in, "thickness"), Known: true},
		Mark:      engine.Measure{Range: span(in, "defect"), Known: true}, ToMark: true,
		Programme: engine.Programme{Grits: in.OptStrs("grits"), Tool: "belt"},
	})
	if s.LeftMM == nil {
		return s, fmt.Errorf("there was no check: %s", s.Problem)
	}
	return s, nil
}

func accepts(k *knowledge.Loaded, in *strictyaml.Map, most depth.Jump) (any, error) {
	steps, err := k.Tables.Depth.Steps(in.OptStrs("grits"))
	if err != nil {
		return nil, err
	}
	if depth.Widest(steps) <= most {
		return "accept", nil
	}
	return "reject", nil
}

func usual(k *knowledge.Loaded, in *strictyaml.Map) (interval.Range, error) {
	key := [2]string{in.Str("layer"), in.Str("age")}
	r, ok := k.Tables.Layers[key]
	if !ok {
		return r, fmt.Errorf("there is no row for %v", key)
	}
	return r, nil
}

func combined(in *strictyaml.Map) float64 {
	terms := numbers(in, "terms")
	for _, half := range numbers(in, "halves") {
		terms = append(terms, interval.Around(0, half).Std())
	}
	return depth.Combine(terms...)
}

func row(k *knowledge.Loaded, table, key string) (*rules.Row, error) {
	t, err := k.Book.Table(table)
	if err != nil {
		return nil, err
	}
	if t.Row(key) == nil {
		return nil, fmt.Errorf("there is no row %q in a table %q", key, table)
	}
	return t.Row(key), nil
}

func text(k *knowledge.Loaded, table, key, column string) (any, error) {
	r, err := row(k, table, key)
	if err != nil {
		return nil, err
	}
	return r.Texts[column], nil
}

func figure(k *knowledge.Loaded, table, key, column string, of func(interval.Range) float64) (float64, error) {
	r, err := row(k, table, key)
	if err != nil {
		return 0, err
	}
	v, ok := r.Ranges[column]
	if !ok {
		return 0, fmt.Errorf("the row %q has no figure %q", key, column)
	}
	return of(v), nil
}
