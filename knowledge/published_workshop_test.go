package knowledge_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

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

func init() { maps.Copy(calculators, workshopCalculators) }

// workshopCalculators are those of sanding, layers, timbers, uncertainty and risk.
var workshopCalculators = map[string]func(*knowledge.Loaded, *strictyaml.Map) (any, error){
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

	// What is typed.
	"typed": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		v, err := quantity.Parse(in.Str("text"), in.Str("unit"))
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
	"glue-lets-go-by": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return figure(k, "glues", in.Str("glue"), "softens_c", func(r interval.Range) float64 { return r.Hi })
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
