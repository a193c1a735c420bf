package coat_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/coat"
	"mendwright/rules/interval"
)

func TestCrossCutClasses(t *testing.T) {
	span := func(v int) coat.Span { return coat.Span{Lo: v, Hi: v} }
	for _, c := range []struct {
		lost      float64
		iso, astm int
	}{
		{0, 0, 5}, {0.1, 1, 4}, {4.9, 1, 4}, {5, 1, 3}, {5.1, 2, 3}, {15, 2, 3}, {15.1, 3, 2},
		{35, 3, 2}, {35.1, 4, 1}, {65, 4, 1}, {65.1, 5, 0}, {100, 5, 0},
	} {
		got, err := coat.CrossCutOf(exact(c.lost))
		require.NoError(t, err)
		assert.Equal(t, span(c.iso), got.ISO, "%v %%", c.lost)
		assert.Equal(t, span(c.astm), got.ASTM, "%v %%", c.lost)
	}
	got, err := coat.CrossCutOf(between(4, 20))
	require.NoError(t, err)
	assert.Equal(t, coat.CrossCut{ISO: coat.Span{Lo: 1, Hi: 3}, ASTM: coat.Span{Lo: 2, Hi: 4}}, got)
	assert.Equal(t, "1 to 3", got.ISO.String())
	assert.False(t, got.ISO.Exact())
}

func TestAFilmMayBeTooThickForTheCrossCut(t *testing.T) {
	for _, c := range []struct {
		film      float64
		iso, astm coat.Truth
		spacing   float64
	}{{50, coat.Yes, coat.Yes, 2}, {120, coat.Yes, coat.Yes, 2}, {125, coat.Yes, coat.Yes, 3}, {126, coat.Yes, coat.No, 3}, {250, coat.Yes, coat.No, 3}, {251, coat.No, coat.No, 3}} {
		got, err := coat.CrossCutSuits(exact(c.film))
		require.NoError(t, err)
		assert.Equal(t, coat.CrossCutTest{ISO: c.iso, ASTM: c.astm, SpacingMM: exact(c.spacing)}, got, "%v µm", c.film)
	}
}

func TestFlakingRates(t *testing.T) {
	for _, c := range []struct {
		percent float64
		class   int
	}{{0, 0}, {0.05, 1}, {0.1, 1}, {0.2, 2}, {1, 3}, {3, 4}, {3.1, 5}, {80, 5}} {
		got, err := coat.Flaking(exact(c.percent))
		require.NoError(t, err)
		assert.Equal(t, coat.Span{Lo: c.class, Hi: c.class}, got, "%v %%", c.percent)
	}
	for _, c := range []struct {
		mm    float64
		class int
	}{{0, 0}, {0.5, 1}, {3, 2}, {10, 3}, {30, 4}, {31, 5}} {
		got, err := coat.FlakeSize(exact(c.mm))
		require.NoError(t, err)
		assert.Equal(t, c.class, got.Lo, "%v mm", c.mm)
	}
}

func TestScalesRunBothWays(t *testing.T) {
	for _, c := range []struct {
		scale  string
		rating int
		ill    float64
	}{
		{"ISO 4628", 0, 0}, {"ISO 4628", 5, 1}, {"ISO 2409", 0, 0}, {"ISO 2409", 5, 1}, {"ASTM D3359", 5, 0}, {"ASTM D3359", 0, 1},
		{"ASTM D610", 10, 0}, {"ASTM D610", 5, 0.5}, {"EN 12720", 5, 0}, {"EN 12720", 3, 0.5}, {"EN 12720", 1, 1},
	} {
		s, err := coat.ScaleOf(c.scale)
		require.NoError(t, err)
		ill, err := s.Ill(c.rating)
		require.NoError(t, err)
		assert.Equal(t, c.ill, ill, "%d on %s", c.rating, c.scale)
	}
	s, err := coat.ScaleOf("EN 12720")
	require.NoError(t, err)
	_, err = s.Ill(0)
	assert.ErrorContains(t, err, "reads 0; expected one from 5, best, to 1, worst")
	_, err = coat.Scale{}.Ill(0)
	assert.Error(t, err, "the zero scale rates nothing")
	_, err = coat.ScaleOf("ISO 9001")
	assert.ErrorContains(t, err, `reads "ISO 9001"`)
}

func TestPencilsGoFromSoftToHard(t *testing.T) {
	var last coat.Pencil = -1
	for _, grade := range []string{"6B", "5B", "4B", "3B", "2B", "B", "HB", "F", "H", "2H", "3H", "4H", "5H", "6H"} {
		p, err := coat.ParsePencil(" " + grade + " ")
		require.NoError(t, err)
		assert.Equal(t, grade, p.String())
		assert.Equal(t, last+1, p)
		last = p
	}
	lower, err := coat.ParsePencil("hb")
	require.NoError(t, err)
	assert.Equal(t, "HB", lower.String())
	_, err = coat.ParsePencil("9H")
	assert.ErrorContains(t, err, `reads "9H"; expected one of 6B`)
	assert.Equal(t, "Pencil(99)", coat.Pencil(99).String())
}

func TestHardnessIsTheHardestPencilWithoutAMark(t *testing.T) {
	pencil := func(grade string) coat.Pencil { return must[coat.Pencil](t)(coat.ParsePencil(grade)) }
	trials := func(unmarked, marked []string) (out []coat.Trial) {
		for _, g := range marked {
			out = append(out, coat.Trial{Pencil: pencil(g), Marks: true})
		}
		for _, g := range unmarked {
			out = append(out, coat.Trial{Pencil: pencil(g)})
		}
		return out
	}
	got, err := coat.Hardness(trials([]string{"HB", "F", "H"}, []string{"2H", "3H"}))
	require.NoError(t, err)
	assert.Equal(t, "H", got.String())
	// The other convention, one softer than the softest that marks, says the same.
	assert.Equal(t, pencil("2H")-1, got)
	got, err = coat.Hardness(trials([]string{"6H"}, nil))
	require.NoError(t, err)
	assert.Equal(t, "6H", got.String(), "nothing marks it")
	for _, bad := range []struct {
		trials []coat.Trial
		says   string
	}{
		{nil, "no pencil"},
		{trials(nil, []string{"H"}), "no pencil"},
		{trials([]string{"3H"}, []string{"H"}), "try again"},
		{trials([]string{"H"}, nil), "harder ones"},
		{trials([]string{"HB"}, []string{"2H"}), "grades between"},
		{[]coat.Trial{{Pencil: 40}}, "Pencil(40)"},
	} {
		_, err := coat.Hardness(bad.trials)
		assert.ErrorContains(t, err, bad.says)
	}
}

func sheens() coat.Tables {
	return coat.Tables{Sheens: []coat.Sheen{
		{Convention: "a", Name: "dull", At60: between(0, 25), At85: between(0, 35)},
		{Convention: "a", Name: "satin", At60: between(20, 35), At85: between(35, 100)},
		{Convention: "a", Name: "bright", At60: between(35, 90), At85: coat.AnyGloss},
		{Convention: "b", Name: "everything", At60: coat.AnyGloss, At85: coat.AnyGloss},
	}}
}

func TestSheensAreNamedByWhatWasRead(t *testing.T) {
	for _, c := range []struct {
		at60, at85 interval.Range
		want       []string
	}{
		{exact(22), exact(30), []string{"dull"}},
		{exact(22), exact(40), []string{"satin"}},
		{exact(22), coat.AnyGloss, []string{"dull", "satin"}},
		{exact(60), exact(5), []string{"bright"}},
		{exact(35), coat.AnyGloss, []string{"satin", "bright"}}, // the end that two rows share
		{between(10, 50), coat.AnyGloss, []string{"dull", "satin", "bright"}},
		{exact(10), exact(60), nil}, // no row for it
		{exact(95), exact(60), nil},
	} {
		found, err := sheens().SheensOf("a", c.at60, c.at85)
		require.NoError(t, err)
		var names []string
		for _, s := range found {
			names = append(names, s.Name)
		}
		assert.Equal(t, c.want, names, "%v, %v", c.at60, c.at85)
	}
	_, err := sheens().SheensOf("c", exact(5), exact(5))
	assert.ErrorContains(t, err, `no convention "c"`)
}

func TestAWiderReadingNamesNoFewerSheens(t *testing.T) {
	rnd := deal()
	for range tries {
		wide60, wide85 := inside(rnd, coat.AnyGloss), inside(rnd, coat.AnyGloss)
		outer, err := sheens().SheensOf("a", wide60, wide85)
		require.NoError(t, err)
		inner, err := sheens().SheensOf("a", inside(rnd, wide60), inside(rnd, wide85))
		require.NoError(t, err)
		for _, s := range inner {
			require.True(t, slices.Contains(outer, s), "%s", s.Name)
		}
	}
}

func TestSheensThatMatch(t *testing.T) {
	get := must[coat.Truth](t)
	assert.Equal(t, coat.Yes, get(coat.SheenMatches(exact(25), exact(20))))
	assert.Equal(t, coat.No, get(coat.SheenMatches(exact(26), exact(20))))
	assert.Equal(t, coat.Yes, get(coat.SheenMatches(exact(60), exact(50))), "a shiny one may differ more")
	assert.Equal(t, coat.No, get(coat.SheenMatches(exact(39), exact(50))))
	assert.Equal(t, coat.Unknown, get(coat.SheenMatches(exact(33), between(35, 42))), "5 or 10, as the target turns out")
	assert.Equal(t, coat.No, get(coat.SheenMatches(exact(10), between(35, 42))))
	assert.Equal(t, coat.Yes, get(coat.SheenMatches(exact(39), between(38, 41))))
}
