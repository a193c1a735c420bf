package engine_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"mendwright/engine"
	"mendwright/engine/air"
	"mendwright/engine/coat"
	"mendwright/rules"
	"mendwright/rules/interval"
)

// paint adds to the vocabulary what vapour and coats are reckoned from. As there, no trade works
// like it.
var paint = files{
	"facts/hall.yaml": `
subject: shop
about: the hall
calculators:
  - {id: equilibrium, inputs: {air: shop.air_c, humidity: shop.humidity}}
facts:
  - {id: shop.place, ask: "Where?", tell: Look., kind: choice, answers: [{id: hall, means: a hall}, {id: barn, means: a barn}, {id: quay, means: the quay}], effort: look, source: bench-note}
  - {id: shop.room_m3, ask: "How big?", tell: Pace it off., kind: quantity, unit: m³, range: [5, 1000], spread: 0, effort: measure, source: bench-note}
  - {id: shop.air_c, ask: "How warm is the air?", tell: Read it off., kind: quantity, unit: °C, range: [-20, 50], spread: 0, effort: measure, source: bench-note}
  - {id: shop.humidity, ask: "How damp?", tell: Read it off., kind: quantity, unit: "%", range: [0, 100], spread: 0, effort: measure, source: bench-note}
  - {id: shop.mask, ask: "Is there a mask?", tell: Look., kind: yes-no, effort: look, source: bench-note}
  - {id: shop.brew, ask: "Which brew?", tell: Look., kind: choice, answers: [{id: spirit, means: spirit}, {id: lye, means: lye}, {id: potion, means: a potion}], effort: look, source: bench-note}
sources: [bench-note]
`,
	"facts/side.yaml": `
subject: surface
about: the side to be painted
facts:
  - {id: surface.area_m2, ask: "How much?", tell: Measure., kind: quantity, unit: m², range: [0.1, 20], spread: 0, effort: measure, source: bench-note}
  - {id: surface.wood_c, ask: "How warm is the wood?", tell: Measure., kind: quantity, unit: °C, range: [-20, 50], spread: 0, effort: measure, source: bench-note}
  - {id: surface.old, ask: "What is on it?", tell: Look., kind: choice, answers: [{id: tar, means: tar}, {id: lime, means: lime}, {id: moss, means: moss}, {id: grease, means: grease}], effort: look, source: bench-note}
  - {id: surface.new, ask: "What goes on?", tell: Choose., kind: choice, answers: [{id: pitch, means: pitch}, {id: thin-pitch, means: thin pitch}, {id: glaze, means: glaze}], effort: look, source: bench-note}
sources: [bench-note]
`,
	"facts/mark.yaml": `
subject: defect
about: what fills the mark
facts:
  - {id: defect.filler, ask: "What goes in?", tell: Choose., kind: choice, answers: [{id: spirit, means: spirit}, {id: lye, means: lye}], effort: look, source: bench-note}
sources: [bench-note]
`,
	"facts/vapour.yaml": `
subject: air
about: the vapour sum
calculators:
  - {id: vapour, inputs: {place: shop.place, room: shop.room_m3, air: shop.air_c, area: surface.area_m2, mask: shop.mask}}
facts:
  - {id: air.above_limit, computed: vapour.above-limit, tell: The sum., kind: yes-no, source: yard-code}
  - {id: air.above_mask, computed: vapour.above-mask, tell: The sum., kind: yes-no, source: yard-code}
  - {id: air.near_exploding, computed: vapour.near-exploding, tell: The sum., kind: yes-no, source: yard-code}
sources: [yard-code]
`,
	"facts/paint.yaml": `
subject: coat
about: the coat
calculators:
  - {id: weather, inputs: {air: shop.air_c, humidity: shop.humidity, wood: surface.wood_c}}
  - {id: pairing, inputs: {old: surface.old, stripped: surface.stripped}}
facts:
  - {id: coat.must_wait, computed: weather.wait, tell: The sum., kind: yes-no, source: yard-code}
  - {id: coat.wants_care, computed: weather.care, tell: The sum., kind: yes-no, source: yard-code}
  - {id: coat.may_go, computed: pairing.may, tell: The table., kind: yes-no, source: yard-code}
sources: [yard-code]
`,
}

// paintTables are round figures. In a closed hall of 100 m3 each m2 of work with spirit gives 244.5 ppm:
// the limit is 100 ppm, the mask is made for ten times that, and a quarter of what can explode is
// 2500 ppm.
func paintTables() *engine.Tables {
	t := tables()
	t.Bare = "bare"
	flash := interval.Exact(-10)
	fluid := air.Substance{Molar: interval.Exact(100), Density: interval.Exact(1), Boils: interval.Exact(80), Vapour: interval.Exact(100),
		Flash: &flash, LEL: interval.Exact(1), UEL: interval.Exact(10), Cartridge: "organic-vapour"}
	unlit, slippery := fluid, fluid
	unlit.LEL, unlit.UEL = interval.Range{}, interval.Range{}
	slippery.Cartridge, slippery.Because = "none", "it slips through"
	limit := map[string]air.Limit{"rel": {Amount: 100}}
	all := func(substance string) engine.Evaporates {
		return engine.Evaporates{Substance: substance, MLPerM2: interval.Exact(100)}
	}
	vapour := &engine.VapourTables{
		Air: air.Tables{
			Substances:  map[string]air.Substance{"spirit": fluid, "musk": fluid, "unlit": unlit, "slippery": slippery},
			Limits:      map[string]map[string]air.Limit{"spirit": limit, "unlit": limit, "slippery": limit, "musk": {"idlh": {Amount: 1e6}}},
			Respirators: map[string]air.Respirator{"half": {APF: 10}},
			Places:      map[string]air.Place{"hall": {}, "barn": {}, "quay": {}},
		},
		Products: map[string][]engine.Evaporates{"spirit": {all("spirit")}, "musk": {all("musk")}, "unlit": {all("unlit")},
			"slippery": {all("slippery")}, "rough-spirit": {{Substance: "spirit", MLPerM2: interval.Range{Lo: 10, Hi: 1000}}}, "lye": {}},
		Box:  map[string]float64{"quay": 1000},
		Mask: air.Wear{Respirator: "half", Cartridge: "organic-vapour"},
	}
	t.Vapour = func() (*engine.VapourTables, error) { return vapour, nil }
	pitch := coat.Coat{Name: "pitch", Finish: "pitch", Dries: coat.ByOxygen, Bonds: coat.InWindow, Air: interval.Range{Lo: 5, Hi: 30},
		Humidity: interval.Range{Lo: 20, Hi: 80}, Touch: interval.Exact(4), Recoat: interval.Exact(8), Closes: interval.Exact(24), Cure: interval.Exact(100)}
	thin, glaze := pitch, pitch
	thin.Name = "thin-pitch"
	glaze.Name, glaze.Finish, glaze.Dries, glaze.Bonds, glaze.Blushes = "glaze", "glaze", coat.BySolvent, coat.ByScuff, true
	glaze.Air.Lo, glaze.Closes = 15, interval.Range{}
	coats := &coat.Tables{
		Coats: []coat.Coat{pitch, thin, glaze},
		Over: []coat.Over{
			{Old: "tar", New: "pitch", May: coat.MayGo, Scuff: true, Barrier: coat.NeedsBarrier, Why: "pitch holds on dulled tar"},
			{Old: "lime", New: "pitch", May: coat.MaySpray, Barrier: coat.NoBarrier, Why: "a brush drags lime"},
			{Old: "grease", New: "pitch", May: coat.MayNot, Barrier: coat.NoBarrier, Why: "nothing holds on grease"},
			{Old: "bare", New: "pitch", May: coat.MayGo, Barrier: coat.NoBarrier, Why: "bare wood drinks pitch"},
			{Old: "tar", New: "glaze", May: coat.MayMist, Barrier: coat.NoBarrier, Why: "glaze wrinkles tar"},
		},
	}
	t.Coat = func() (*coat.Tables, error) { return coats, nil }
	return t
}

// paintBook is a rulebook in which one method, "mend", reckons vapour or lays a coat.
func paintBook(t testing.TB, set own) *rules.Book {
	t.Helper()
	return load(t, paint, method("mend", set), rest)
}

// painted is the method judged for the one mark.
func painted(t testing.TB, set own, given facts) engine.Repair {
	t.Helper()
	book := paintBook(t, set)
	a, err := engine.Triage(book, paintTables(), job(t, book, hammered.with(given)))
	require.NoError(t, err)
	return repair(t, a.Defects[0], "mend")
}

// helped is painted, with what would do beside its bans.
func helped(t testing.TB, set own, given facts) engine.Repair {
	t.Helper()
	book := paintBook(t, set)
	j := job(t, book, hammered.with(given))
	a, err := engine.Triage(book, paintTables(), j)
	require.NoError(t, err)
	require.NoError(t, engine.AddRemedies(book, paintTables(), j, a))
	return repair(t, a.Defects[0], "mend")
}
