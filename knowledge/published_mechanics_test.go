package knowledge_test

import (
	"fmt"
	"maps"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/mechanics"
	"mendwright/knowledge"
	"mendwright/rules/interval"
	"mendwright/rules/strictyaml"
)

func init() {
	published["mechanics.yaml"] = struct{ values, skipped int }{87, 0}
	published["lifting.yaml"] = struct{ values, skipped int }{12, 1}
	maps.Copy(calculators, mechanicsCalculators)
	maps.Copy(calculators, liftingCalculators)
}

var (
	mechanicsFasteners = map[string]mechanics.Fastener{"wood-screw": mechanics.WoodScrew, "tapping-screw": mechanics.TappingScrew,
		"lag-screw": mechanics.LagScrew, "nail": mechanics.Nail, "nail-on-ovendry": mechanics.NailOnOvendry}
	mechanicsBoards = map[string]mechanics.Board{"seasoned": mechanics.Seasoned, "unseasoned": mechanics.Unseasoned, "particleboard": mechanics.Particleboard}
	mechanicsGrips  = map[string]mechanics.Grip{"poor": mechanics.Poor, "fair": mechanics.Fair, "good": mechanics.Good}
	mechanicsSpells = map[string]mechanics.Spell{"one-hour": mechanics.UpToOneHour, "two-hours": mechanics.UpToTwoHours, "eight-hours": mechanics.UpToEightHours}
)

// among reads a word that must be one of those named.
func among[T any](in *strictyaml.Map, key string, named map[string]T) T {
	word := in.Str(key)
	v, ok := named[word]
	if !ok {
		in.Fail("%q is not a word for %s", word, key)
	}
	return v
}

// holding is one of the four forms of withdrawal.
type holding func(f mechanics.Fastener, gravity, diameter, grip interval.Range) (interval.Range, error)

func held(form holding, times float64) func(*knowledge.Loaded, *strictyaml.Map) (any, error) {
	return func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		gravity := interval.Range{}
		if _, ok := in.Opt("timber"); ok {
			t, err := mechanicsTimber(k, in, "timber")
			if err != nil {
				return nil, err
			}
			gravity = t.Gravity
		} else {
			gravity = span(in, "gravity")
		}
		r, err := form(among(in, "fastener", mechanicsFasteners), gravity, span(in, "diameter"), span(in, "grip"))
		return r.Mul(interval.Exact(times)), err
	}
}

var mechanicsCalculators = map[string]func(*knowledge.Loaded, *strictyaml.Map) (any, error){
	// Screws and nails.
	"withdrawal-lbf":    held(mechanics.UltimateInch, 1),
	"withdrawal-inch-n": held(mechanics.UltimateInch, mechanics.PoundForce),
	"withdrawal-n":      held(mechanics.Ultimate, 1),
	"allowable-lbf":     held(mechanics.AllowableInch, 1),
	"fastener-constant": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		one := interval.Exact(1)
		return mechanics.Ultimate(among(in, "fastener", mechanicsFasteners), one, one, one)
	},
	"withdrawal-ratio": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		f, one := among(in, "fastener", mechanicsFasteners), interval.Exact(1)
		var out []float64
		for _, key := range []string{"timber", "over"} {
			t, err := mechanicsTimber(k, in, key)
			if err != nil {
				return nil, err
			}
			r, err := mechanics.UltimateInch(f, t.Gravity, one, one)
			if err != nil {
				return nil, err
			}
			out = append(out, r.Mid())
		}
		return out[0] / out[1], nil
	},
	"ultimate-over-allowable": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		f, one := among(in, "fastener", mechanicsFasteners), interval.Exact(1)
		ultimate, err := mechanics.Ultimate(f, one, one, one)
		if err != nil {
			return nil, err
		}
		allowable, err := mechanics.Allowable(f, one, one, one)
		return ultimate.Mid() / allowable.Mid(), err
	},
	"end-grain": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return mechanics.EndGrain(among(in, "fastener", mechanicsFasteners), span(in, "side"))
	},
	"panel-edge": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return mechanics.PanelEdge(span(in, "face"))
	},

	// Timbers.
	"strength-mpsi": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return figure(k, "timbers-strength", in.Str("timber"), "stiffness_mpsi", interval.Range.Mid)
	},
	"strength-rupture-psi": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return figure(k, "timbers-strength", in.Str("timber"), "rupture_psi", interval.Range.Mid)
	},
	"strength-gpa": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		t, err := mechanicsTimber(k, in, "timber")
		return t.Stiffness, err
	},
	"strength-rupture-mpa": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		t, err := mechanicsTimber(k, in, "timber")
		return t.Rupture, err
	},
	"strength-gravity": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		t, err := mechanicsTimber(k, in, "timber")
		return t.Gravity, err
	},

	// Beams.
	"second-moment": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return mechanics.SecondMoment(span(in, "width"), span(in, "thickness"))
	},
	"sag": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		b, l, err := mechanicsShelf(k, in)
		if err != nil {
			return nil, err
		}
		return b.Sag(l)
	},
	"span-over-sag": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		b, l, err := mechanicsShelf(k, in)
		if err != nil {
			return nil, err
		}
		return b.SpanOverSag(l)
	},
	"sag-crept": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		b, l, err := mechanicsShelf(k, in)
		if err != nil {
			return nil, err
		}
		first, err := b.Sag(l)
		if err != nil {
			return nil, err
		}
		crept, err := mechanics.Creep(first, mechanics.Seasoned)
		return crept.Usual, err
	},
	"longest-span": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		t, err := mechanicsTimber(k, in, "timber")
		if err != nil {
			return nil, err
		}
		b := mechanics.Beam{Width: span(in, "width"), Thickness: span(in, "thickness"), Stiffness: t.Stiffness}
		return b.LongestSpan(span(in, "per_metre"), number(in, "ratio"))
	},
	"bending-stress": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		b := mechanics.Beam{Span: span(in, "span"), Width: span(in, "width"), Thickness: span(in, "thickness")}
		return b.Stress(mechanics.Load{PerMetre: span(in, "per_metre"), Centre: span(in, "centre")})
	},
	"thinned-stiffness": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return mechanics.StiffnessKept(span(in, "before"), span(in, "after"))
	},
	"thinned-strength": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return mechanics.StrengthKept(span(in, "before"), span(in, "after"))
	},
	"per-foot": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return mechanics.PerFoot(number(in, "inches"))
	},
	"shelf-span": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		t, err := knowledge.MechanicsTables(k.Book)
		return t.Spans[in.Str("board")], err
	},
	"creep-usual": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		c, err := mechanics.Creep(span(in, "first"), among(in, "board", mechanicsBoards))
		return c.Usual, err
	},
	"creep-worst": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		c, err := mechanics.Creep(span(in, "first"), among(in, "board", mechanicsBoards))
		return c.Bounds.Hi, err
	},
	"cup-after-rip": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return mechanics.CupAfterRip(span(in, "depth"), span(in, "share"))
	},

	// Clamps, dowels, scarfs; the clamped joint in inches and psi.
	"clamp-force-lbf": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return mechanicsClamped(in, 1/mechanics.PoundForce)
	},
	"clamp-force-kn": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) { return mechanicsClamped(in, 0.001) },
	"clamp-count": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		force, err := mechanicsClamped(in, 1)
		if err != nil {
			return nil, err
		}
		return mechanics.Clamps(force, interval.Exact(number(in, "each")*mechanics.PoundForce))
	},
	"psi-kpa": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return number(in, "psi") * mechanics.PSI / mechanics.KPa, nil
	},
	"dowel-pull": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		t, err := knowledge.MechanicsTables(k.Book)
		if err != nil {
			return nil, err
		}
		return mechanics.DowelPull(span(in, "diameter"), span(in, "depth"), t.Dowels[in.Str("dowel")])
	},
	"scarf-length": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return mechanics.ScarfLength(span(in, "thickness"), span(in, "slope"))
	},

	// Tipping.
	"balance": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) { return mechanicsBalance(in) },
	"stance": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		r, err := mechanicsBalance(in)
		if err != nil {
			return nil, err
		}
		s, err := mechanics.StanceOf(r)
		return s.String(), err
	},
	"restraint": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		r, err := mechanicsBalance(in)
		if err != nil {
			return nil, err
		}
		return mechanics.Restraint(r, span(in, "height"))
	},
	"tilted": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return mechanics.Tilted(span(in, "behind"), span(in, "height"), span(in, "degrees"))
	},

	// Units and measuring.
	"foot-load":    mechanicsTimes("pounds", mechanics.FootLoad),
	"foot-weight":  mechanicsTimes("pounds", mechanics.FootWeight),
	"foot-density": mechanicsTimes("pounds", mechanics.FootDensity),
	"pounds-kg":    mechanicsTimes("pounds", mechanics.Pound),
	"newtons-kg":   mechanicsTimes("newtons", 1/mechanics.StandardGravity),
	"mm-inches":    mechanicsTimes("mm", 1/mechanics.Inch),
	"veneer-standard": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		u, _, err := mechanics.Uncertainty(number(in, "tool"), number(in, "reading"), number(in, "place"))
		return u, err
	},
	"veneer-expanded": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		_, u, err := mechanics.Uncertainty(number(in, "tool"), number(in, "reading"), number(in, "place"))
		return u, err
	},
}

func mechanicsTimes(key string, by float64) func(*knowledge.Loaded, *strictyaml.Map) (any, error) {
	return func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) { return number(in, key) * by, nil }
}

func mechanicsTimber(k *knowledge.Loaded, in *strictyaml.Map, key string) (mechanics.Timber, error) {
	t, err := knowledge.MechanicsTables(k.Book)
	if err != nil {
		return mechanics.Timber{}, err
	}
	name := in.Str(key)
	timber, ok := t.Timbers[name]
	if !ok {
		return timber, fmt.Errorf("there is no timber %q", name)
	}
	return timber, nil
}

func mechanicsShelf(k *knowledge.Loaded, in *strictyaml.Map) (mechanics.Beam, mechanics.Load, error) {
	t, err := mechanicsTimber(k, in, "timber")
	return mechanics.Beam{Span: span(in, "span"), Width: span(in, "width"), Thickness: span(in, "thickness"), Stiffness: t.Stiffness},
		mechanics.Load{PerMetre: span(in, "per_metre")}, err
}

func mechanicsClamped(in *strictyaml.Map, times float64) (interval.Range, error) {
	mm := func(key string) interval.Range { return interval.Exact(number(in, key) * mechanics.Inch) }
	r, err := mechanics.ClampForce(mm("length"), mm("width"), interval.Exact(number(in, "psi")*mechanics.PSI/mechanics.KPa))
	return r.Mul(interval.Exact(times)), err
}

func mechanicsBalance(in *strictyaml.Map) (interval.Range, error) {
	var parts []mechanics.Part
	masses, behind := numbers(in, "masses"), numbers(in, "behind")
	if len(masses) != len(behind) {
		return interval.Range{}, fmt.Errorf("there are %d masses at %d places", len(masses), len(behind))
	}
	for i := range masses {
		parts = append(parts, mechanics.Part{Mass: interval.Exact(masses[i]), Behind: interval.Exact(behind[i])})
	}
	return mechanics.Balance(parts, interval.Range{})
}

var liftingCalculators = map[string]func(*knowledge.Loaded, *strictyaml.Map) (any, error){
	"lift-limit":     lifted(func(l mechanics.Limit) interval.Range { return l.Mass }),
	"lift-reach":     lifted(func(l mechanics.Limit) interval.Range { return l.Reach }),
	"lift-turn":      lifted(func(l mechanics.Limit) interval.Range { return l.Turn }),
	"lift-frequency": lifted(func(l mechanics.Limit) interval.Range { return l.Frequency }),
	"lift-index": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		l, err := liftLimit(k, in)
		if err != nil {
			return nil, err
		}
		return l.Index(span(in, "load"))
	},
	"team": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		var each []interval.Range
		for _, v := range numbers(in, "each") {
			each = append(each, interval.Exact(v))
		}
		return mechanics.Team(each...)
	},
	"top-mass": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return mechanics.Mass(span(in, "length"), span(in, "width"), span(in, "thickness"), span(in, "density"))
	},
}

func lifted(of func(mechanics.Limit) interval.Range) func(*knowledge.Loaded, *strictyaml.Map) (any, error) {
	return func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		l, err := liftLimit(k, in)
		return of(l), err
	}
}

func liftLimit(k *knowledge.Loaded, in *strictyaml.Map) (mechanics.Limit, error) {
	t, err := knowledge.MechanicsTables(k.Book)
	if err != nil {
		return mechanics.Limit{}, err
	}
	return t.Limit(mechanics.Lift{
		Reach: span(in, "reach"), Height: span(in, "height"), Travel: span(in, "travel"), Turn: span(in, "turn"),
		PerMinute: span(in, "per_minute"), Spell: among(in, "spell", mechanicsSpells), Grip: among(in, "grip", mechanicsGrips),
	})
}

// Every timber that a face can be named by has its strength and its movement, and the figures of
// all of them are such as wood has.
func TestTimbersAreAsWoodIs(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	strength, err := knowledge.MechanicsTables(k.Book)
	require.NoError(t, err)
	movement, err := knowledge.MoistureTables(k.Book)
	require.NoError(t, err)
	timbers, err := k.Book.Table("timbers")
	require.NoError(t, err)
	for _, row := range timbers.Rows {
		assert.Contains(t, strength.Timbers, row.Key)
		assert.Contains(t, movement.Timbers, row.Key)
	}
	for name, w := range strength.Timbers {
		assert.True(t, 1.9 < w.Stiffness.Lo && w.Stiffness.Hi < 16, "%s: stiffness %v GPa", name, w.Stiffness)
		assert.True(t, w.Rupture == interval.Range{} || 40 < w.Rupture.Lo && w.Rupture.Hi < 150, "%s: rupture %v MPa", name, w.Rupture)
		assert.True(t, w.Gravity == interval.Range{} || 0.3 <= w.Gravity.Lo && w.Gravity.Hi <= 0.8, "%s: gravity %v", name, w.Gravity)
	}
	for name, w := range movement.Timbers {
		assert.True(t, w.Radial.Hi < w.Tangential.Lo || w.Tangential == interval.Range{}, "%s: it shrinks least square to the rings", name)
		assert.True(t, w.Volumetric.Hi <= w.Radial.Hi+w.Tangential.Hi+2.5, "%s: the volume shrinks by hardly more than both", name)
		assert.True(t, w.PerPointRadial.Hi < w.PerPointTangential.Lo || w.PerPointTangential == interval.Range{}, "%s: it moves least square to the rings", name)
		// A coefficient is a thirtieth of the shrinkage, and a little over because the board is dry.
		if w.PerPointTangential.Lo > 0 && w.Tangential.Lo > 0 {
			assert.InEpsilon(t, w.Tangential.Mid()/3000, w.PerPointTangential.Mid(), 0.3, name)
		}
	}
}

func TestLiftingOftenIsNeverEasier(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	tables, err := knowledge.MechanicsTables(k.Book)
	require.NoError(t, err)
	for i, f := range tables.Frequencies {
		for spell := range f.Below {
			assert.LessOrEqual(t, f.Below[spell], f.At[spell])
			if spell > 0 {
				assert.LessOrEqual(t, f.At[spell-1], f.At[spell], "a shorter spell")
			}
			if i > 0 {
				assert.LessOrEqual(t, f.Below[spell], tables.Frequencies[i-1].Below[spell])
				assert.LessOrEqual(t, f.At[spell], tables.Frequencies[i-1].At[spell])
			}
		}
	}
}
