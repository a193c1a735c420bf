package knowledge_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"mendwright/engine/metal"
	"mendwright/knowledge"
	"mendwright/rules/interval"
	"mendwright/rules/quantity"
	"mendwright/rules/strictyaml"
)

func init() {
	published["metal.yaml"] = struct{ values, skipped int }{72, 0}
	maps.Copy(calculators, metalCalculators)
}

var (
	metalAcids = map[string]metal.Acid{"acetic": metal.Acetic, "citric": metal.Citric,
		"citric-monohydrate": metal.CitricMonohydrate, "phosphoric": metal.Phosphoric}
	metalRusts  = map[string]metal.Rust{"red-rust": metal.RedRust, "oxide": metal.Oxide}
	metalBases  = map[string]metal.Basis{"w/v": metal.WeightInVolume, "v/v": metal.VolumeInVolume, "w/w": metal.WeightInWeight}
	metalPulls  = map[string]metal.Pull{"strong": metal.StrongPull, "weak": metal.WeakPull, "none": metal.NoPull}
	metalWoods  = map[string]metal.Wood{"soft": metal.Softwood, "hard": metal.Hardwood}
	metalStores = map[string]metal.Stored{"sound-iron": metal.SoundIron, "unstable-iron": metal.UnstableIron}
)

// metalNamed looks a word of the inputs up.
func metalNamed[T any](in *strictyaml.Map, key string, of map[string]T) T {
	word := in.Str(key)
	v, ok := of[word]
	if !ok {
		in.Fail("%s: read %q; expected one of %v", key, word, slices.Sorted(maps.Keys(of)))
	}
	return v
}

var metalCalculators = map[string]func(*knowledge.Loaded, *strictyaml.Map) (any, error){
	// Rust.
	"metal-rust-grade": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return metalGrade(span(in, "area"))
	},
	"metal-rust-area": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return metal.RustArea(int(number(in, "grade")))
	},
	"metal-ri-area": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return metal.RiArea(int(number(in, "ri")))
	},
	"metal-rust-grade-of-ri": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		area, err := metal.RiArea(int(number(in, "ri")))
		if err != nil {
			return nil, err
		}
		return metalGrade(area)
	},

	// Hydrogen in hardened steel.
	"metal-bake-hours": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		b, err := metalBake(in)
		return b.Hours, err
	},
	"metal-bake-celsius": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		b, err := metalBake(in)
		return b.Celsius, err
	},
	"metal-bake-fahrenheit": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		b, err := metalBake(in)
		if err != nil {
			return nil, err
		}
		zero, errZero := quantity.Parse("0 °F", "°C")
		one, errOne := quantity.Parse("1 °F", "°C")
		if errZero != nil || errOne != nil {
			return nil, fmt.Errorf("degrees are not understood: %w, %w", errZero, errOne)
		}
		celsius := metalNamed(in, "end", map[string]float64{"low": b.Celsius.Lo, "high": b.Celsius.Hi})
		return (celsius - zero.Mid()) / (one.Mid() - zero.Mid()), nil
	},
	"metal-pickle": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		p, err := metal.EmbrittlesHRC(span(in, "hrc"))
		return metalOver(p, "refuse"), err
	},

	// Density.
	"metal-density": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		w, err := metalWeigh(in)
		return w.Density, err
	},
	"metal-density-std": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		w, err := metalWeigh(in)
		return w.Std, err
	},
	"metal-density-away": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		w, err := metalWeigh(in)
		return w.Away(number(in, "from")), err
	},
	"metal-ounces": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return metal.FromOuncesPerCubicInch(span(in, "density"))
	},
	"metal-could-be": withMetalTables(func(t metal.Tables, in *strictyaml.Map) (any, error) {
		w, err := metalWeigh(in)
		if err != nil {
			return nil, err
		}
		could, err := t.CouldBe(w.Density, metal.AnyPull)
		name := in.Str("metal")
		return metalYesNo(slices.ContainsFunc(could, func(m metal.Metal) bool { return m.Name == name })), err
	}),
	"metal-settled": withMetalTables(func(t metal.Tables, in *strictyaml.Map) (any, error) {
		could, err := t.CouldBe(interval.Range{}, metalNamed(in, "magnet", metalPulls))
		name := in.Str("metal")
		other := slices.ContainsFunc(could, func(m metal.Metal) bool { return !strings.HasPrefix(m.Name, name) })
		return metalYesNo(len(could) > 0 && !other), err
	}),

	// Baths.
	"metal-acid-per-rust": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return metalNamed(in, "acid", metalAcids).PerRust(metalNamed(in, "rust", metalRusts))
	},
	"metal-bath-for-rust": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		bath := metal.Bath{Acid: metalNamed(in, "acid", metalAcids), Strength: metalStrength(in, "percent")}
		amount, err := bath.For(metalNamed(in, "rust", metalRusts), span(in, "grams"))
		return amount.Least, err
	},
	"metal-neutralise": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		acid, err := metalStrength(in, "percent").Grams(span(in, "amount"))
		if err != nil {
			return nil, err
		}
		n, err := metal.Neutralise(metalNamed(in, "acid", metalAcids), metal.BakingSoda, acid)
		return n.Base, err
	},
	"metal-dilute": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		d, err := metal.Dilute(metalStrength(in, "stock"), metalStrength(in, "wanted"), span(in, "made"))
		return d.Stock, err
	},
	"metal-grams-per-litre": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return metal.GramsPerLitre(span(in, "grams"), span(in, "litres"))
	},
	"metal-bath-verdict": withMetalTables(func(t metal.Tables, in *strictyaml.Map) (any, error) {
		j, err := t.Judge(in.Str("bath"), in.Str("part"))
		if j.Verdict == metal.Never {
			return "refuse", err
		}
		return j.Verdict.String(), err
	}),
	"metal-ammonia": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		p, err := metal.AmmoniaOnBrass(span(in, "zinc"))
		return metalOver(p, "refuse"), err
	},

	// Electrolysis.
	"metal-cell-hydrogen": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		c, err := metal.Electrolyse(span(in, "amps"), span(in, "hours"))
		return c.Hydrogen, err
	},
	"metal-cell-anode": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		c, err := metal.Electrolyse(span(in, "amps"), span(in, "hours"))
		return c.Anode, err
	},
	"metal-gas-share": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return metal.GasShare(span(in, "gas"), span(in, "space"))
	},
	"metal-flammable": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		share, err := metal.GasShare(span(in, "gas"), span(in, "space"))
		if err != nil {
			return nil, err
		}
		if p, err := metal.Flammable(share); p != metal.Inside {
			return p.String(), err
		}
		return "warn", nil
	},

	// Threads and screws.
	"metal-pitch": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return metal.PitchOfTPI(span(in, "tpi"))
	},
	"metal-pitch-over": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) { return metalPitch(in) },
	"metal-coarse-pitch": withMetalTables(func(t metal.Tables, in *strictyaml.Map) (any, error) {
		major := number(in, "major")
		i := slices.IndexFunc(t.Threads, func(th metal.Thread) bool { return th.Series == "metric-coarse" && th.Major == major })
		if i < 0 {
			return nil, fmt.Errorf("there is no metric coarse thread of %v mm", major)
		}
		return t.Threads[i].Pitch, nil
	}),
	"metal-larger": withMetalTables(func(t metal.Tables, in *strictyaml.Map) (any, error) {
		var major [2]float64
		for n, key := range []string{"a", "b"} {
			name := in.Str(key)
			i := slices.IndexFunc(t.Threads, func(th metal.Thread) bool { return th.Name == name })
			if i < 0 {
				return nil, fmt.Errorf("there is no thread %q", name)
			}
			major[n] = t.Threads[i].Major
		}
		return metalYesNo(major[0] > major[1]), nil
	}),
	"metal-threads-like": withMetalTables(func(t metal.Tables, in *strictyaml.Map) (any, error) {
		like, err := metalThreads(t, in)
		var names []string
		for _, c := range like {
			names = append(names, c.Name)
		}
		return strings.Join(names, " "), err
	}),
	"metal-thread-verdict": withMetalTables(func(t metal.Tables, in *strictyaml.Map) (any, error) {
		like, err := metalThreads(t, in)
		switch len(like) {
		case 0:
			return "none", err
		case 1:
			return like[0].Name, err
		}
		return "ask", err
	}),
	"metal-screw-mm": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return metal.ScrewMM(int(number(in, "gauge")))
	},
	"metal-screw-gauge": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return metal.ScrewGauge(span(in, "mm"))
	},
	"metal-screw-gauges": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		gauges, err := metal.ScrewGauges(span(in, "mm"))
		return strings.Trim(fmt.Sprint(gauges), "[]"), err
	},
	"metal-pilot": withMetalTables(func(t metal.Tables, in *strictyaml.Map) (any, error) {
		s, err := t.Screw(int(number(in, "gauge")))
		return s.Furniture.In(metalNamed(in, "wood", metalWoods)), err
	}),
	"metal-pilot-of-root": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		inch := interval.Exact(25.4)
		mm, err := metal.PilotOfRoot(span(in, "root_in").Mul(inch), metalNamed(in, "wood", metalWoods))
		return mm.Mid() / 25.4, err
	},
	"metal-pull-screw": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return metal.PullScrew(span(in, "front"), span(in, "engagement"))
	},
	"metal-inch": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return metal.FractionMM(int(number(in, "numerator")), int(number(in, "denominator")))
	},

	// Metals that touch, and metal in store.
	"metal-gap": withMetalTables(func(t metal.Tables, in *strictyaml.Map) (any, error) {
		gap, err := t.Gap(in.Str("series"), in.Str("a"), in.Str("b"))
		return gap.Printed, err
	}),
	"metal-gap-verdict": withMetalTables(func(t metal.Tables, in *strictyaml.Map) (any, error) {
		gap, err := t.Gap(in.Str("series"), in.Str("a"), in.Str("b"))
		return metalOver(gap.Limit, "warn"), err
	}),
	"metal-active-first": withMetalTables(func(t metal.Tables, in *strictyaml.Map) (any, error) {
		order, err := t.ActiveFirst(in.Str("series"), in.OptStrs("metals")...)
		return strings.Join(order, " "), err
	}),
	"metal-storage-most": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		r, err := metal.StorageHumidity(metalNamed(in, "stored", metalStores))
		return r.Hi, err
	},
}

// withMetalTables hands a calculator the tables of hardware.
func withMetalTables(of func(metal.Tables, *strictyaml.Map) (any, error)) func(*knowledge.Loaded, *strictyaml.Map) (any, error) {
	return func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		t, err := knowledge.MetalTables(k.Book)
		if err != nil {
			return nil, err
		}
		return of(t, in)
	}
}

func metalGrade(area interval.Range) (any, error) {
	g, err := metal.RustGrade(area)
	return interval.Range{Lo: float64(g.Worst), Hi: float64(g.Best)}, err
}

func metalBake(in *strictyaml.Map) (metal.Baking, error) {
	if _, ok := in.Opt("hrc"); ok {
		return metal.BakeHRC(span(in, "hrc"))
	}
	return metal.BakeTensile(span(in, "mpa"))
}

func metalWeigh(in *strictyaml.Map) (metal.Weighing, error) {
	return metal.Weigh(span(in, "mass"), span(in, "volume"))
}

func metalStrength(in *strictyaml.Map, key string) metal.Strength {
	return metal.Strength{Percent: span(in, key), Basis: metalNamed(in, "basis", metalBases)}
}

func metalPitch(in *strictyaml.Map) (interval.Range, error) {
	return metal.PitchOver(span(in, "length"), int(number(in, "turns")))
}

func metalThreads(t metal.Tables, in *strictyaml.Map) ([]metal.Candidate, error) {
	pitch, err := metalPitch(in)
	if err != nil {
		return nil, err
	}
	return t.ThreadsLike(span(in, "diameter"), pitch)
}

// over is the word for what lies above a limit, and the place for what does not.
func metalOver(p metal.Place, word string) string {
	if p == metal.Above {
		return word
	}
	return p.String()
}

func metalYesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}
