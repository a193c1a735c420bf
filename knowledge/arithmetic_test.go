package knowledge_test

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine"
	"mendwright/engine/air"
	"mendwright/engine/coat"
	"mendwright/engine/depth"
	"mendwright/knowledge"
	"mendwright/rules/condition"
	"mendwright/rules/interval"
)

// What nobody in a workshop would believe of a calculator, tried on the tables that the program
// really stands on. The leaves of the engine hold the same for figures of their own.

// chance deals measurements, the same every time.
type chance struct{ *rand.Rand }

func dealt() chance { return chance{rand.New(rand.NewPCG(1873, 1805))} }

func (c chance) between(lo, hi float64) float64 { return lo + c.Float64()*(hi-lo) }

// measured is a range between two bounds; one in four is exact.
func (c chance) measured(lo, hi float64) interval.Range {
	return c.closer(interval.Range{Lo: lo, Hi: hi})
}

// closer is a range inside r; one in four is exact.
func (c chance) closer(r interval.Range) interval.Range {
	a, b := c.between(r.Lo, r.Hi), c.between(r.Lo, r.Hi)
	if c.IntN(4) == 0 {
		b = a
	}
	return interval.Range{Lo: max(r.Lo, min(a, b)), Hi: min(r.Hi, max(a, b))}
}

// more is a range neither end of which lies below that of r.
func (c chance) more(r interval.Range, by float64) interval.Range {
	lo, hi := r.Lo+c.between(0, by), r.Hi+c.between(0, by)
	return interval.Range{Lo: min(lo, hi), Hi: hi}
}

// one is one of some words.
func (c chance) one(of []string) string { return of[c.IntN(len(of))] }

// slack is for the last digits of floating-point arithmetic.
func slack(v float64) float64 { return 1e-9 * max(1, math.Abs(v)) }

// noMore requires that neither end of is lies above that of was.
func noMore(t *testing.T, was, is interval.Range, what string, with ...any) {
	t.Helper()
	require.True(t, is.Lo <= was.Lo+slack(was.Lo) && is.Hi <= was.Hi+slack(was.Hi), "%s: %v, then %v; %+v", what, was, is, with)
}

// inside requires that a result lies within that of coarser measurements.
func inside(t *testing.T, wide, narrow interval.Range, what string, with ...any) {
	t.Helper()
	require.True(t, wide.Lo-slack(wide.Lo) <= narrow.Lo && narrow.Hi <= wide.Hi+slack(wide.Hi), "%s: %v is not inside %v; %+v", what, narrow, wide, with)
}

func TestMoreVentilationNeverGivesMoreVapour(t *testing.T) {
	tables, c := airTables(t), dealt()
	substances := slices.Sorted(maps.Keys(tables.Substances))
	var less, level int
	for range generated {
		doses := []air.Dose{
			{Substance: c.one(substances), Grams: c.measured(0, 500)},
			{Substance: c.one(substances), Grams: c.measured(0, 50)},
		}
		room := air.Room{Volume: c.measured(5, 200), Changes: c.measured(0, 40), Mixing: c.measured(1, 10)}
		celsius, minutes := c.measured(5, 35), c.measured(0, 480)
		judge := func(doses []air.Dose, room air.Room, celsius, minutes interval.Range) air.Reading {
			r, err := tables.Judge(doses, room, celsius, minutes)
			require.NoError(t, err)
			return r
		}
		was := judge(doses, room, celsius, minutes)

		aired := room
		aired.Changes = c.more(room.Changes, 20)
		is := judge(doses, aired, celsius, minutes)
		noMore(t, was.PPM, is.PPM, "ppm", doses, room, aired)
		noMore(t, was.OfLimit, is.OfLimit, "share of the limits", doses, room, aired)
		noMore(t, was.OfLEL, is.OfLEL, "share of what burns", doses, room, aired)
		for i, v := range is.Vapours {
			noMore(t, was.Vapours[i].MG, v.MG, "mg/m3", doses, room, aired)
			noMore(t, was.Vapours[i].OfIDLH, v.OfIDLH, "share of what is at once dangerous", doses, room, aired)
		}
		require.True(t, is.Health <= was.Health && is.Fire <= was.Fire, "%v %v, then %v %v", was.Health, was.Fire, is.Health, is.Fire)
		if is.PPM.Hi < was.PPM.Hi {
			less++
		}
		if is.Overall < was.Overall {
			level++
		}

		close := slices.Clone(doses)
		for i := range close {
			close[i].Grams = c.closer(doses[i].Grams)
		}
		nearer := air.Room{Volume: c.closer(room.Volume), Changes: c.closer(room.Changes), Mixing: c.closer(room.Mixing)}
		narrow := judge(close, nearer, c.closer(celsius), c.closer(minutes))
		inside(t, was.PPM, narrow.PPM, "ppm", doses, room)
		inside(t, was.OfLimit, narrow.OfLimit, "share of the limits", doses, room)
		inside(t, was.OfLEL, narrow.OfLEL, "share of what burns", doses, room)
		require.LessOrEqual(t, narrow.Overall, was.Overall, "the worst of less is no worse")
	}
	assert.Greater(t, less, generated/2, "air mostly helps")
	assert.Greater(t, level, generated/100, "and at times lowers the level")
}

func TestAThickerLayerIsNeverLikelierToBeSandedThrough(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	tables, c := *k.Tables, dealt()
	layers, tools := slices.Sorted(maps.Keys(tables.Keeps)), tables.ToolNames()
	var grits []string
	for _, cl := range tables.Depth.Clearances {
		grits = append(grits, cl.Grit)
	}
	slices.SortFunc(grits, func(a, b string) int {
		x, errX := tables.Depth.Grain(a)
		y, errY := tables.Depth.Grain(b)
		require.NoError(t, errX)
		require.NoError(t, errY)
		return int(y - x)
	})
	known := func(r interval.Range) engine.Measure { return engine.Measure{Range: r, Known: true} }
	verdicts := map[string]int{}
	for range generated {
		cut := engine.Cut{Layer: c.one(layers), Thin: condition.True, ToMark: c.IntN(4) > 0, Stripped: condition.False, Screwed: condition.False}
		thickness, film := c.measured(0.1, 3), c.measured(0, 0.3)
		if cut.Layer == "solid" {
			cut.Thin, thickness = condition.False, c.measured(3, 30)
			if c.IntN(2) == 0 {
				cut.Screwed, cut.Screw = condition.True, known(c.measured(0, 20))
			}
		}
		cut.Mark, cut.Film, cut.Thickness = known(c.measured(0, 2)), known(film), known(thickness)
		from := c.IntN(len(grits))
		if c.IntN(2) == 0 { // measured to the hair, and near what may be lost
			keep := tables.Keeps[cut.Layer]
			mark, spare := c.between(0, keep.Most), c.between(-0.1, 0.3)
			film = interval.Exact(film.Hi)
			thickness = interval.Exact(keep.Line + mark + film.Hi + spare)
			cut.Mark, cut.Film, cut.Thickness = known(interval.Exact(mark)), known(film), known(thickness)
		}
		cut.Programme = engine.Programme{Grits: grits[from : from+1+c.IntN(len(grits)-from)], Tool: c.one(tools)}
		was := tables.Sand(cut)
		if was.Problem != "" { // a tool that has no place on a thin layer
			require.Equal(t, "through", was.Verdict, was.Problem)
			continue
		}
		require.NotNil(t, was.Chances, "%+v", cut)
		verdicts[was.Verdict]++

		thicker := cut
		thicker.Thickness = known(c.more(thickness, 1.5))
		is := tables.Sand(thicker)
		noMore(t, *was.Chances, *is.Chances, "chances", cut, thicker)
		require.True(t, was.Verdict != "clear" || is.Verdict == "clear", "%+v, then %+v", cut, thicker)
		require.True(t, is.Verdict != "through" || was.Verdict == "through", "%+v, then %+v", cut, thicker)

		// The single figure also weighs how closely the layer was measured; so it is compared between
		// layers measured as closely.
		by := c.between(0, 1.5)
		thicker.Thickness = known(interval.Range{Lo: thickness.Lo + by, Hi: thickness.Hi + by})
		is = tables.Sand(thicker)
		require.LessOrEqual(t, *is.Chance, *was.Chance+1e-9, "%+v, then %+v", cut, thicker)

		close := cut
		close.Thickness, close.Mark, close.Film = known(c.closer(thickness)), known(c.closer(cut.Mark.Range)), known(c.closer(film))
		if cut.Screw.Known {
			close.Screw = known(c.closer(cut.Screw.Range))
		}
		narrow := tables.Sand(close)
		inside(t, *was.Chances, *narrow.Chances, "chances", cut, close)
		inside(t, *was.LeftMM, *narrow.LeftMM, "what is left", cut, close)
		if was.Verdict != "unknown" {
			require.Equal(t, was.Verdict, narrow.Verdict, "%+v, then %+v", cut, close)
		}
	}
	// Tight is rare: what the tools may take more or less mostly reaches beyond it on one side.
	for _, v := range []depth.Verdict{depth.Unknown, depth.Clear, depth.Through} {
		assert.Greater(t, verdicts[v.String()], generated/20, "too few cuts were %v", v)
	}
}

func TestAHotterRoomNeverMeansALaterCoat(t *testing.T) {
	tables, c := coatTables(t), dealt()
	for range max(generated/len(tables.Coats), 100) {
		for _, kind := range tables.Coats {
			times := func(celsius, damp interval.Range) coat.Times {
				r, err := kind.Times(celsius, damp)
				require.NoError(t, err)
				return r
			}
			celsius, damp := c.measured(0, 40), c.measured(10, 95)
			hotter := c.more(celsius, 15)
			was, is, narrow := times(celsius, damp), times(hotter, damp), times(c.closer(celsius), c.closer(damp))
			for what, of := range map[string]func(coat.Times) interval.Range{
				"touch": func(t coat.Times) interval.Range { return t.Touch }, "recoat": func(t coat.Times) interval.Range { return t.Recoat },
				"sand": func(t coat.Times) interval.Range { return t.Sand }, "cure": func(t coat.Times) interval.Range { return t.Cure },
				"closes": func(t coat.Times) interval.Range { return t.Closes },
			} {
				noMore(t, of(was), of(is), kind.Name+": "+what, celsius, hotter, damp)
				inside(t, of(was), of(narrow), kind.Name+": "+what, celsius, damp)
			}
			at, humid := c.between(0, 40), c.between(10, 95)
			warmer := at + c.between(0, 15)
			require.LessOrEqual(t, firstRecoat(t, kind, warmer, humid), firstRecoat(t, kind, at, humid)+1e-9,
				"%s at %v and %v °C, %v %%: the window counts too", kind.Name, at, warmer, humid)
		}
	}
}

// firstRecoat is the hour from which the next coat may surely follow in a room of exactly such air,
// with or without a scuff.
func firstRecoat(t *testing.T, kind coat.Coat, celsius, damp float64) float64 {
	t.Helper()
	air, humidity := interval.Exact(celsius), interval.Exact(damp)
	ready := func(since float64) (coat.Recoating, bool) {
		r, err := kind.Recoating(interval.Exact(since), air, humidity)
		require.NoError(t, err)
		return r, r.Window == coat.Open || r.Window == coat.Closed
	}
	r, _ := ready(0)
	if _, ok := ready(r.From.Hi); ok {
		return r.From.Hi
	}
	after := math.Nextafter(max(r.From.Hi, r.Sand.Hi, r.Until.Hi), math.Inf(1))
	_, ok := ready(after)
	require.True(t, ok, "%s: no hour in which the next coat may follow: %+v", kind.Name, r)
	return after
}
