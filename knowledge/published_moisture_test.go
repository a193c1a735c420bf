package knowledge_test

import (
	"fmt"
	"maps"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/moisture"
	"mendwright/knowledge"
	"mendwright/rules/interval"
	"mendwright/rules/strictyaml"
)

func init() {
	published["moisture.yaml"] = struct{ values, skipped int }{48, 0}
	published["pests-and-decay.yaml"] = struct{ values, skipped int }{19, 0}
	maps.Copy(calculators, moistureCalculators)
}

var moistureSawn = map[string]moisture.Sawn{"flat": moisture.Flat, "quarter": moisture.Quarter, "unseen": moisture.Unseen}

var moistureCalculators = map[string]func(*knowledge.Loaded, *strictyaml.Map) (any, error){
	"emc": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return moisture.Equilibrium(span(in, "celsius"), span(in, "humidity"))
	},
	"emc-alt": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return moisture.EquilibriumAlt(span(in, "celsius"), span(in, "humidity"))
	},
	"emc-alt-back": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		celsius := span(in, "celsius")
		content, err := moisture.EquilibriumAlt(celsius, span(in, "humidity"))
		if err != nil {
			return nil, err
		}
		return moisture.HumidityAlt(celsius, content)
	},
	"emc-trend": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		celsius, humidity := numbers(in, "celsius"), numbers(in, "humidity")
		up, down := true, true
		var last float64
		for i := range celsius {
			r, err := moisture.Equilibrium(interval.Exact(celsius[i]), interval.Exact(humidity[i]))
			if err != nil {
				return nil, err
			}
			if i > 0 {
				up, down = up && r.Lo > last, down && r.Lo < last
			}
			last = r.Lo
		}
		switch {
		case len(celsius) > 1 && up:
			return "rising", nil
		case len(celsius) > 1 && down:
			return "falling", nil
		}
		return "neither", nil
	},
	"shrinkage-whole": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		t, err := moistureTimber(k, in)
		return among(in, "way", map[string]interval.Range{"radial": t.Radial, "tangential": t.Tangential, "volumetric": t.Volumetric}), err
	},
	"shrinkage-at": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		t, err := moistureTimber(k, in)
		if err != nil {
			return nil, err
		}
		whole, err := t.Whole(among(in, "sawn", moistureSawn))
		if err != nil {
			return nil, err
		}
		return moisture.Shrinkage(whole, span(in, "moisture"))
	},
	"movement": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		t, err := moistureTimber(k, in)
		if err != nil {
			return nil, err
		}
		perPoint, err := t.PerPoint(among(in, "sawn", moistureSawn))
		if err != nil {
			return nil, err
		}
		return moisture.Movement(span(in, "width"), perPoint, span(in, "from"), span(in, "to"))
	},
	"dent-left": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		t, err := knowledge.MoistureTables(k.Book)
		if err != nil {
			return nil, err
		}
		share, err := t.Recovery(in.Str("dent"))
		if err != nil {
			return nil, err
		}
		return moisture.DentLeft(span(in, "depth"), share)
	},
	"lignin-softens": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return among(in, "wood", map[string]float64{"hardwood": moisture.HardwoodSoftens, "softwood": moisture.SoftwoodSoftens}), nil
	},
	"treated": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		t, err := knowledge.MoistureTables(k.Book)
		if err != nil {
			return nil, err
		}
		truth, err := t.Treated(among(in, "method", moisture.Methods), in.Str("against"), span(in, "oxygen"), span(in, "celsius"), span(in, "hours"))
		return truth.String(), err
	},
	"cold-at-once": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		t, err := knowledge.MoistureTables(k.Book)
		if err != nil {
			return nil, err
		}
		against := in.Str("against")
		for _, s := range t.Treatments {
			if s.Method == moisture.Cold && s.Against == against && s.Hours == 0 {
				return s.Celsius, nil
			}
		}
		return nil, fmt.Errorf("there is no cold that kills %q at once", against)
	},
	"treatment-core": func(k *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return figure(k, "treatments", in.Str("treatment"), "core_c", interval.Range.Mid)
	},
	"decay": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		truth, err := moisture.DecayByMoisture(span(in, "moisture"))
		return truth.String(), err
	},
	"decay-pace": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		pace, err := moisture.DecayPace(span(in, "celsius"))
		return pace.String(), err
	},
	"meter-corrected": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return moisture.Corrected(span(in, "reading"), span(in, "celsius"))
	},
	"meter-reliable": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		truth, err := moisture.Reliable(span(in, "reading"))
		return truth.String(), err
	},
}

func moistureTimber(k *knowledge.Loaded, in *strictyaml.Map) (moisture.Timber, error) {
	t, err := knowledge.MoistureTables(k.Book)
	if err != nil {
		return moisture.Timber{}, err
	}
	name := in.Str("timber")
	timber, ok := t.Timbers[name]
	if !ok {
		return timber, fmt.Errorf("there is no timber %q", name)
	}
	return timber, nil
}

// A schedule meets itself, and nothing weaker.
func TestSchedulesAreTheirOwnMeasure(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	tables, err := knowledge.MoistureTables(k.Book)
	require.NoError(t, err)
	for _, s := range tables.Treatments {
		met, err := s.Meets(interval.Exact(s.Oxygen), interval.Exact(s.Celsius), interval.Exact(s.Hours))
		require.NoError(t, err)
		assert.Equal(t, moisture.Yes, met, "%+v", s)
		weaker := s.Celsius - 1
		if s.Method == moisture.Cold {
			weaker = s.Celsius + 1
		}
		met, err = s.Meets(interval.Exact(s.Oxygen), interval.Exact(weaker), interval.Exact(s.Hours))
		require.NoError(t, err)
		assert.Equal(t, moisture.No, met, "%+v", s)
	}
	for after, w := range tables.Waits {
		assert.True(t, 0 < w.Hours.Lo && w.Hours.Lo < w.Hours.Hi, after)
	}
	for dent, share := range tables.Recoveries {
		assert.True(t, 0 <= share.Lo && share.Hi < 1, "%s never comes back whole", dent)
	}
}
