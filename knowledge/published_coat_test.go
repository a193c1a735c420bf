package knowledge_test

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"mendwright/engine/coat"
	"mendwright/knowledge"
	"mendwright/rules/interval"
	"mendwright/rules/strictyaml"
)

func init() {
	published["coat-film.yaml"] = struct{ values, skipped int }{51, 0}
	published["coat-ratings.yaml"] = struct{ values, skipped int }{32, 0}
	published["coat-practice.yaml"] = struct{ values, skipped int }{31, 0}
	maps.Copy(calculators, coatCalculators)
}

// coatInput reads an input in the package's own unit, in mils (_mil) or in square feet per gallon (_us).
func coatInput(in *strictyaml.Map, key string) interval.Range {
	if _, ok := in.Opt(key + "_mil"); ok {
		return coat.FromMils(span(in, key+"_mil"))
	}
	if _, ok := in.Opt(key + "_us"); ok {
		return coat.FromPerGallon(span(in, key+"_us"))
	}
	return span(in, key)
}

// coatIn turns a result into another unit.
func coatIn(unit func(interval.Range) interval.Range, r interval.Range, err error) (any, error) {
	return unit(r), err
}

func coatRate(in *strictyaml.Map) (interval.Range, error) {
	return coat.Rate(span(in, "solids"), coatInput(in, "dry"))
}

func coatTotal(in *strictyaml.Map) (interval.Range, error) {
	return coat.Build{Coat: coatInput(in, "dry"), Scuff: coatInput(in, "scuff")}.Total(int(number(in, "coats")))
}

func coatBuild(in *strictyaml.Map) (coat.Build, error) {
	dry, err := coat.Dry(span(in, "wet"), span(in, "solids"))
	return coat.Build{Coat: dry, Scuff: span(in, "scuff")}, err
}

func coatSheet(in *strictyaml.Map) (coat.Sheet, error) {
	return coat.CheckSheet(span(in, "printed"), coatInput(in, "wet"), coatInput(in, "dry"))
}

func coatSheens(k *knowledge.Loaded, in *strictyaml.Map, convention string, of func(coat.Sheen) string) (any, error) {
	tables, err := knowledge.CoatTables(k.Book)
	if err != nil {
		return nil, err
	}
	at85 := coat.AnyGloss
	if _, ok := in.Opt("at85"); ok {
		at85 = span(in, "at85")
	}
	found, err := tables.SheensOf(convention, span(in, "at60"), at85)
	var names []string
	for _, s := range found {
		names = append(names, of(s))
	}
	return strings.Join(names, " "), err
}

func coatOf(k *knowledge.Loaded, in *strictyaml.Map) (coat.Coat, error) {
	tables, err := knowledge.CoatTables(k.Book)
	if err != nil {
		return coat.Coat{}, err
	}
	return tables.Coat(in.Str("coat"))
}

func coatRecoating(k *knowledge.Loaded, in *strictyaml.Map) (coat.Recoating, error) {
	c, err := coatOf(k, in)
	if err != nil {
		return coat.Recoating{}, err
	}
	return c.Recoating(span(in, "since"), span(in, "air"), span(in, "humidity"))
}

func coatWash(k *knowledge.Loaded, in *strictyaml.Map) (coat.Washing, error) {
	tables, err := knowledge.CoatTables(k.Book)
	if err != nil {
		return coat.Washing{}, err
	}
	return tables.Washing(in.Str("wash"))
}

var coatCalculators = map[string]func(*knowledge.Loaded, *strictyaml.Map) (any, error){
	// Film and spreading rate.
	"coat-dry": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return coat.Dry(coatInput(in, "wet"), span(in, "solids"))
	},
	"coat-dry-mils": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		dry, err := coat.Dry(coatInput(in, "wet"), span(in, "solids"))
		return coatIn(coat.Mils, dry, err)
	},
	"coat-wet": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return coat.Wet(span(in, "dry"), span(in, "solids"))
	},
	"coat-wet-at": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return coat.WetAt(coatInput(in, "rate"))
	},
	"coat-wet-at-mils": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		wet, err := coat.WetAt(coatInput(in, "rate"))
		return coatIn(coat.Mils, wet, err)
	},
	"coat-rate": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) { return coatRate(in) },
	"coat-rate-us": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		rate, err := coatRate(in)
		return coatIn(coat.PerGallon, rate, err)
	},
	"coat-rate-square-feet": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		rate, err := coatRate(in)
		return rate.Mul(interval.Exact(1 / coat.SquareFoot)), err
	},
	"coat-per-gallon": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) { return coatInput(in, "rate"), nil },
	"coat-microns": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return coat.FromMils(span(in, "mils")), nil
	},
	"coat-solids-at": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return coat.SolidsAt(coatInput(in, "rate"), coatInput(in, "dry"))
	},
	"coat-solids-in-band": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		solids, err := coat.SolidsAt(coatInput(in, "rate"), coatInput(in, "dry"))
		return coatWord(solids.Within(span(in, "band"))), err
	},
	"coat-sheet-needs": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		sheet, err := coatSheet(in)
		return sheet.Needs, err
	},
	"coat-sheet-fits": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		sheet, err := coatSheet(in)
		return coatWord(sheet.Fits), err
	},
	"coat-hang": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		hang, err := coat.HangOf(coatInput(in, "wet"))
		return hang.String(), err
	},
	"coat-thinned-share": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return coat.ThinnedByShare(span(in, "solids"), span(in, "share"))
	},
	"coat-thinned-adding": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return coat.ThinnedByAdding(span(in, "solids"), span(in, "coating"), span(in, "thinner"))
	},

	// Coats and what to buy.
	"coat-total": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) { return coatTotal(in) },
	"coat-total-mils": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		total, err := coatTotal(in)
		return coatIn(coat.Mils, total, err)
	},
	"coat-total-wet": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		build, err := coatBuild(in)
		if err != nil {
			return nil, err
		}
		return build.Total(int(number(in, "coats")))
	},
	"coat-count": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		build, err := coatBuild(in)
		if err != nil {
			return nil, err
		}
		count, err := build.Coats(span(in, "film"))
		return count.String(), err
	},
	"coat-litres": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return coat.Purchase{Area: span(in, "area"), Coats: span(in, "coats"), Rate: span(in, "rate"),
			Loss: span(in, "loss"), Waste: span(in, "waste")}.Litres()
	},

	// Shellac.
	"coat-flakes-per-litre": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return coat.FlakesPerLitre(span(in, "cut"))
	},
	"coat-flakes": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return coat.Flakes(span(in, "alcohol"), span(in, "cut"))
	},
	"coat-cut-by-volume": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return coat.CutByVolume(span(in, "cut"))
	},
	"coat-cut-by-mass": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return coat.CutByMass(span(in, "cut"))
	},
	"coat-cut-film": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		solids, err := coat.CutByVolume(span(in, "cut"))
		if err != nil {
			return nil, err
		}
		return coat.Dry(span(in, "wet"), solids)
	},

	// Ratings.
	"coat-cross-cut-iso": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		class, err := coat.CrossCutOf(span(in, "lost"))
		return class.ISO.String(), err
	},
	"coat-cross-cut-astm": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		class, err := coat.CrossCutOf(span(in, "lost"))
		return class.ASTM.String() + "B", err
	},
	"coat-squares": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return coat.SquaresLost(int(number(in, "cuts")), span(in, "squares"))
	},
	"coat-cross-cut-suits-iso": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		test, err := coat.CrossCutSuits(span(in, "film"))
		return test.ISO.String(), err
	},
	"coat-cross-cut-suits-astm": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		test, err := coat.CrossCutSuits(span(in, "film"))
		return test.ASTM.String(), err
	},
	"coat-ill": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		scale, err := coat.ScaleOf(in.Str("scale"))
		if err != nil {
			return nil, err
		}
		ill, err := scale.Ill(int(number(in, "rating")))
		return map[float64]string{0: "best", 0.5: "mid", 1: "worst"}[ill], err
	},
	"coat-gloss-level": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return coatSheens(k, in, "painters", func(s coat.Sheen) string { return s.Level })
	},
	"coat-gloss-name": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return coatSheens(k, in, in.Str("convention"), func(s coat.Sheen) string { return s.Name })
	},
	"coat-pencils": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		var pencils []coat.Pencil
		for _, grade := range in.OptStrs("grades") {
			p, err := coat.ParsePencil(grade)
			if err != nil {
				return nil, err
			}
			pencils = append(pencils, p)
		}
		slices.Sort(pencils)
		return strings.Trim(fmt.Sprint(pencils), "[]"), nil
	},
	"coat-keeps-out": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		tables, err := knowledge.CoatTables(k.Book)
		if err != nil {
			return nil, err
		}
		e, err := tables.Excluding(in.Str("film"))
		return e.Percent, err
	},
	"coat-keeps-out-order": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		tables, err := knowledge.CoatTables(k.Book)
		wanted := in.OptStrs("films")
		var out []string
		for _, e := range tables.Ranking() {
			if slices.Contains(wanted, e.Film) {
				out = append(out, e.Film)
			}
		}
		return strings.Join(out, " "), err
	},

	// Washes and removers.
	"coat-strength": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return coat.Strength(span(in, "ounces").Mul(interval.Exact(coat.Ounce)), span(in, "pints").Mul(interval.Exact(coat.USPint)))
	},
	"coat-diluted": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return coat.Diluted(span(in, "of"), span(in, "parts"), span(in, "water"))
	},
	"coat-too-much": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		wash, err := coatWash(k, in)
		if err != nil {
			return nil, err
		}
		much, err := wash.TooMuch(span(in, "strength"))
		return much.String(), err
	},
	"coat-wash-strength": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		wash, err := coatWash(k, in)
		return wash.Strength, err
	},
	"coat-wash-minutes": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		wash, err := coatWash(k, in)
		return wash.Minutes, err
	},
	"coat-bleach-for": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		tables, err := knowledge.CoatTables(k.Book)
		if err != nil {
			return nil, err
		}
		steps, err := tables.BleachFor(in.Str("stain"))
		if err != nil {
			return nil, err
		}
		for _, s := range steps {
			if s.Bleach != steps[0].Bleach {
				return nil, errors.New("more than one bleach")
			}
		}
		return steps[0].Bleach, nil
	},
	"coat-remover": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		tables, err := knowledge.CoatTables(k.Book)
		if err != nil {
			return nil, err
		}
		truth := map[string]coat.Truth{"yes": coat.Yes, "no": coat.No}
		surface := coat.Surface{WaterHarms: truth[in.Str("veneer")], TanninHarms: truth[in.Str("tannin")]}
		name, finish := in.Str("remover"), in.Str("finish")
		named := func(r coat.Remover) bool { return r.Name == name }
		anyWood, err := tables.RemoversFor(finish, coat.Surface{WaterHarms: coat.No, TanninHarms: coat.No})
		if err != nil {
			return nil, err
		}
		if !slices.ContainsFunc(anyWood, named) {
			return nil, fmt.Errorf("%s is not for %s on any wood", name, finish)
		}
		// An error says that this surface leaves none of them.
		if spare, err := tables.RemoversFor(finish, surface); err != nil || !slices.ContainsFunc(spare, named) {
			return "ruled out", nil
		}
		return "allowed", nil
	},
	"coat-remover-slow": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		slow, err := coat.RemoverSlow(span(in, "air"))
		return slow.String(), err
	},

	// Weather, drying and what goes over what.
	"coat-dew-margin": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return coat.DewMargin(span(in, "surface"), span(in, "dew"))
	},
	"coat-weather": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		c, err := coatOf(k, in)
		if err != nil {
			return nil, err
		}
		day := coat.Day{Air: span(in, "air"), Surface: span(in, "surface"), Humidity: span(in, "humidity"), DewMargin: span(in, "margin"), Spray: coat.No}
		if v, ok := in.Opt("spray"); ok && v.Bool() {
			day.Spray = coat.Yes
		}
		weather, err := c.Judge(day)
		return weather.Verdict().String(), err
	},
	"coat-window": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		r, err := coatRecoating(k, in)
		return r.Window.String(), err
	},
	"coat-scuff": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		r, err := coatRecoating(k, in)
		return r.Scuff.String(), err
	},
	"coat-may": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		tables, err := knowledge.CoatTables(k.Book)
		if err != nil {
			return nil, err
		}
		over, err := tables.Pair(in.Str("new"), in.Str("old"))
		return over.May.String(), err
	},
	"coat-time-factor": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		dries, err := coat.ParseDrying(in.Str("dries"))
		if err != nil {
			return nil, err
		}
		return coat.TimeFactor(dries, span(in, "air"), span(in, "humidity"))
	},
}

func coatWord(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}
