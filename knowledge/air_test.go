package knowledge_test

import (
	"io/fs"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/air"
	"mendwright/knowledge"
	"mendwright/rules"
	"mendwright/rules/interval"
)

func airTables(t *testing.T) air.Tables {
	t.Helper()
	k, err := knowledge.Load()
	require.NoError(t, err)
	tables, err := knowledge.AirTables(k.Book)
	require.NoError(t, err)
	return tables
}

// TestWhatIsKnownOfASubstanceHangsTogether compares figures that come from different places.
func TestWhatIsKnownOfASubstanceHangsTogether(t *testing.T) {
	tables := airTables(t)
	for name, s := range tables.Substances {
		t.Run(name, func(t *testing.T) {
			if s.LEL.Hi > 0 && s.UEL.Lo > 0 {
				assert.Less(t, s.LEL.Hi, s.UEL.Lo, "it burns between its limits")
			}
			if s.Flash != nil && s.SelfIgnition.Lo > 0 {
				assert.Less(t, s.Flash.Hi, s.SelfIgnition.Lo, "a spark lights it before heat alone does")
			}
			limits := tables.Limits[name]
			for _, of := range []string{"rel", "pel", "epa"} {
				day, ok := limits[of]
				for _, short := range []string{of + "-st", of + "-c"} {
					if b, both := limits[short]; ok && both {
						assert.Greater(t, b.Amount, day.Amount, "%s and %s", short, of)
					}
				}
			}
			if idlh, ok := limits["idlh"]; ok {
				for _, of := range []string{"rel", "pel", "rel-c", "pel-c", "rel-st", "pel-st"} {
					if l := limits[of]; l.Unit == idlh.Unit {
						assert.Less(t, l.Amount, idlh.Amount, of)
					}
				}
			}
			// Turpentine and mixed xylene borrow the constants of their chief parts.
			if s.Antoine == nil || name == "turpentine" || name == "xylene" {
				return
			}
			boils, err := s.Antoine.Celsius(interval.Exact(760))
			require.NoError(t, err)
			assert.InDelta(t, s.Boils.Mid(), boils.Mid(), 1, "it boils where its pressure reaches the air's")
			p, err := s.Antoine.MMHg(interval.Exact(20))
			require.NoError(t, err)
			assert.InEpsilon(t, s.Vapour.Mid(), p.Mid(), 0.2, "its pressure at 20 °C")
			if s.Flash != nil && s.LEL.Hi > 0 && s.Boils.Lo > 20 { // a liquid, not a gas
				lights, err := s.Antoine.ReachesLEL(s.LEL)
				require.NoError(t, err)
				assert.InDelta(t, s.Flash.Mid(), lights.Mid(), 9, "it flashes about where its vapour can first burn")
			}
		})
	}
}

// TestHowLittleLiquidItTakes holds judgement against what fills a garage.
func TestHowLittleLiquidItTakes(t *testing.T) {
	tables := airTables(t)
	closed := air.Room{Volume: interval.Exact(40)}
	judge := func(substance string, litres float64) air.Reading {
		doses, err := tables.FromLitres(interval.Exact(litres), []air.Share{{Substance: substance, Of: interval.Exact(1)}})
		require.NoError(t, err)
		r, err := tables.Judge(doses, closed, interval.Exact(20), interval.Range{})
		require.NoError(t, err)
		return r
	}
	// Litres in a closed garage of 40 m3 that pass the limit for breathing; a tenth less keeps it.
	for substance, millilitres := range map[string]float64{
		"acetone": 30, "toluene": 17.6, "methanol": 13.2, "ethanol": 96, "isopropyl-alcohol": 50, "mineral-spirits": 18,
		"turpentine": 26, "butyl-acetate": 32.4, "butoxyethanol": 1.08,
	} {
		assert.Equal(t, air.Warn, judge(substance, millilitres*0.9/1000).Health, substance)
		assert.Contains(t, []air.Level{air.Stop, air.GetOut}, judge(substance, millilitres*1.1/1000).Health, substance)
	}
	// And that pass a quarter of the explosive limit.
	for substance, litres := range map[string]float64{"acetone": 0.76, "toluene": 0.48, "methanol": 1, "ethanol": 0.8} {
		assert.Equal(t, air.Warn, judge(substance, litres*0.9).Fire, substance)
		assert.Equal(t, air.Stop, judge(substance, litres*1.1).Fire, substance)
	}
	// Slow solvents cannot get there at room temperature, however much is spilt.
	for _, substance := range []string{"nmp", "benzyl-alcohol", "butoxyethanol"} {
		r := judge(substance, 5)
		assert.Equal(t, air.Go, r.Fire, substance)
		assert.GreaterOrEqual(t, r.Health, air.Stop, substance)
	}
	assert.Equal(t, []string{"dimethyl-carbonate"}, judge("dimethyl-carbonate", 0.001).NoLimit)
	assert.Equal(t, air.GetOut, judge("dichloromethane", 0.5).Health)
}

func TestACanOfSprayInAGarage(t *testing.T) {
	tables := airTables(t)
	// All of what evaporates, 85 %, counted as acetone: 12 times its limit, 12 % of what burns.
	doses, err := air.Can{Grams: interval.Exact(340), Solvent: interval.Exact(0.85)}.Doses("propane", "acetone")
	require.NoError(t, err)
	r, err := tables.Judge(doses, air.Room{Volume: interval.Exact(40)}, interval.Exact(20), interval.Range{})
	require.NoError(t, err)
	assert.InDelta(t, 3040, r.PPM.Mid(), 2)
	assert.InDelta(t, 12.2, r.OfLimit.Mid(), 0.1)
	assert.InDelta(t, 0.12, r.OfLEL.Hi, 0.005)
	assert.Equal(t, air.GetOut, r.Health)
}

func TestEveryPlaceAnswersTheShopQuestion(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	tables := airTables(t)
	places := k.Book.Facts["shop.place"]
	require.NotNil(t, places)
	assert.Len(t, tables.Places, len(places.Answers))
	doses := []air.Dose{{Substance: "acetone", Grams: interval.Exact(20)}}
	worst := map[string]float64{}
	for _, a := range places.Answers {
		p, ok := tables.Places[a.ID]
		require.True(t, ok, a.ID)
		room := air.Room{Volume: interval.Range{Lo: 30, Hi: 40}, Changes: p.Changes, Mixing: p.Mixing}
		r, err := tables.Judge(doses, room, interval.Exact(20), interval.Exact(30))
		require.NoError(t, err)
		worst[a.ID] = r.OfLimit.Hi
	}
	for _, better := range [][2]string{{"window-open", "closed-room"}, {"cross-draught", "window-open"}, {"extraction", "window-open"}, {"outdoors", "cross-draught"}, {"outdoors", "extraction"}} {
		assert.Less(t, worst[better[0]], worst[better[1]], "%v", better)
	}
}

func TestAFanInAGarage(t *testing.T) {
	tables := airTables(t)
	garage := interval.Range{Lo: 30, Hi: 40}
	window, err := air.Changes(tables.Fans["box-fan-in-window"], garage)
	require.NoError(t, err)
	assert.Greater(t, window.Lo, tables.Places["cross-draught"].Changes.Hi, "a big fan in the window beats a breeze")
	extract, err := air.Changes(tables.Fans["garage-fan"], garage)
	require.NoError(t, err)
	assert.Greater(t, extract.Lo, tables.Places["closed-room"].Changes.Hi)
}

func TestGlovesOfTheTrade(t *testing.T) {
	tables := airTables(t)
	thinner, err := tables.GlovesFor("toluene", "acetone", "butyl-acetate")
	require.NoError(t, err)
	assert.Equal(t, []string{"laminate"}, thinner.Good, "lacquer thinner leaves one choice")
	spirits, err := tables.GlovesFor("mineral-spirits", "limonene")
	require.NoError(t, err)
	assert.Contains(t, spirits.Good, "nitrile")
	stripper, err := tables.GlovesFor("dichloromethane")
	require.NoError(t, err)
	assert.Contains(t, stripper.Poor, "nitrile")
	for name := range tables.Substances {
		g, err := tables.GlovesFor(name)
		require.NoError(t, err)
		assert.NotEmpty(t, g.Good, name)
		assert.False(t, slices.ContainsFunc(g.Good, func(m string) bool { return slices.Contains(g.Poor, m) }), name)
	}
}

func TestMasksOfTheTrade(t *testing.T) {
	tables := airTables(t)
	for _, c := range []struct {
		wear      air.Wear
		substance string
		ppm       float64
		may       bool
	}{
		{air.Wear{Respirator: "half-mask", Cartridge: "organic-vapour"}, "acetone", 2000, true},
		{air.Wear{Respirator: "half-mask", Cartridge: "organic-vapour"}, "acetone", 2600, false},
		{air.Wear{Respirator: "filtering-facepiece"}, "toluene", 5, false},
		{air.Wear{Respirator: "half-mask", Cartridge: "organic-vapour"}, "ammonia", 30, false},
		{air.Wear{Respirator: "half-mask", Cartridge: "ammonia"}, "ammonia", 30, true},
		{air.Wear{Respirator: "half-mask", Cartridge: "organic-vapour"}, "methanol", 1, false},
		{air.Wear{Respirator: "powered-full-face", Cartridge: "organic-vapour"}, "dichloromethane", 0.1, false},
		{air.Wear{Respirator: "airline-continuous-full-face"}, "hdi", 0.1, true},
		{air.Wear{Respirator: "tank-pressure-full-face"}, "a tin without a label", 0, false},
	} {
		fit, err := tables.Mask(c.wear, c.substance, interval.Exact(c.ppm))
		require.NoError(t, err)
		assert.Equal(t, c.may, len(fit.Refused) == 0, "%v: %v", c, fit.Refused)
	}
}

func TestTablesOfTheAirThatDoNotHangTogetherAreRefused(t *testing.T) {
	for _, c := range []struct{ table, from, to, want string }{
		{"substances", "constants: mek", "constants: mud", `no row "mud"`},
		{"substances", "gloves: ketones", "gloves: mittens", `no row "mittens"`},
		{"substances", "cartridge: ammonia", "cartridge: soap", `read "soap" as cartridge`},
		{"substances", "cartridge: ammonia", "cartridge: none", "only then"},
		{"no-cartridge", "substance: hdi", "substance: toluene", "only then"},
		{"flash-points", "substance: toluene", "substance: mud", `no row "mud"`},
		{"explosive-limits", "substance: toluene", "substance: mud", `no row "mud"`},
		{"exposure-limits", "kind: pel-c", "kind: law", `read "law" as kind`},
		{"exposure-limits", "unit: mg/m3", "unit: grains", `read "grains" as unit`},
		{"respirators", "air: supplied", "air: bottled", `read "bottled" as air`},
	} {
		t.Run(c.table+" "+c.to, func(t *testing.T) {
			book, err := rules.LoadTrusted(bookWithAirTable(t, c.table, c.from, c.to))
			require.NoError(t, err)
			_, err = knowledge.AirTables(book)
			require.Error(t, err)
			assert.Contains(t, err.Error(), c.want)
			assert.Contains(t, err.Error(), "tables/")
		})
	}
	_, err := knowledge.AirTables(&rules.Book{})
	assert.ErrorContains(t, err, "there is no table")
}

// bookWithAirTable is the rulebook with the first from in a table replaced.
func bookWithAirTable(t *testing.T, table, from, to string) fs.FS {
	t.Helper()
	all := fstest.MapFS{}
	require.NoError(t, fs.WalkDir(knowledge.Files(), ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		data, err := fs.ReadFile(knowledge.Files(), name)
		if name == "tables/"+table+".yaml" {
			require.Contains(t, string(data), from)
			data = []byte(strings.Replace(string(data), from, to, 1))
		}
		all[name] = &fstest.MapFile{Data: data}
		return err
	}))
	return all
}
