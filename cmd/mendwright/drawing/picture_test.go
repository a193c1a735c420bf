package drawing_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/drawing"
	"mendwright/knowledge"
	"mendwright/rules"
	"mendwright/rules/condition"
)

func book(t testing.TB) *rules.Book {
	t.Helper()
	loaded, err := knowledge.Load()
	require.NoError(t, err)
	return loaded.Book
}

func TestEveryPictureIsSoundAndSaysHowToTell(t *testing.T) {
	sources := book(t).Sources
	seen := map[string]bool{}
	titles := map[string]string{}
	for _, id := range drawing.Pictures() {
		assert.False(t, seen[id], id)
		seen[id] = true
		d, ok := drawing.Picture("p", id)
		require.True(t, ok, id)
		sound(t, d)
		assert.Empty(t, titles[d.Title], "%s has the title of another", id)
		titles[d.Title] = id
		assert.True(t, strings.HasSuffix(d.Text, "."), id)
		assert.NotRegexp(t, regexp.MustCompile(`(?i)\b(safe|safely|guarantee)`), d.Text)
		require.NotEmpty(t, d.Sources, id)
		for _, s := range d.Sources {
			assert.Contains(t, sources, s, id)
		}
		assert.InDelta(t, 40, d.WidthMM, 0, "mm wide in print")
	}
	_, ok := drawing.Picture("p", "no such picture")
	assert.False(t, ok)
}

func TestPicturesStayWithinTheirFrame(t *testing.T) {
	coord := regexp.MustCompile(`([ML])(-?[0-9.]+) (-?[0-9.]+)`)
	for _, id := range drawing.Pictures() {
		d, _ := drawing.Picture("p", id)
		els := parsed(t, d)
		var loose []int // depth of elements that are clipped or turned: there any place will do
		for i, e := range els {
			for len(loose) > 0 && e.depth <= loose[len(loose)-1] {
				loose = loose[:len(loose)-1]
			}
			if e.name == "g" || e.name == "clipPath" {
				loose = append(loose, e.depth)
			}
			if len(loose) > 0 || i == 0 {
				continue
			}
			for _, m := range coord.FindAllStringSubmatch(e.attrs["d"], -1) {
				x, y := element{attrs: map[string]string{"v": m[2]}}.number(t, "v"), element{attrs: map[string]string{"v": m[3]}}.number(t, "v")
				assert.True(t, x >= 0 && x <= 160 && y >= 0 && y <= 112, "%s: %s", id, m[0])
			}
		}
	}
}

// Every picture is of use: an answer, a kind of defect, or one of these that stand beside another.
func TestEveryPictureIsShownSomewhere(t *testing.T) {
	used := map[string]bool{"soaks": true, "frass-old": true}
	for _, m := range drawing.Answers {
		for _, id := range m {
			used[id] = true
		}
	}
	for _, id := range drawing.Kinds {
		used[id] = true
	}
	for _, id := range drawing.Pictures() {
		assert.True(t, used[id], id)
	}
}

func answersOf(f *rules.Fact) []string {
	if f.Kind == condition.YesNo {
		return []string{"yes", "no"}
	}
	var out []string
	for _, a := range f.Answers {
		out = append(out, a.ID)
	}
	return out
}

func TestAnswersWithAPictureStandInTheRulebook(t *testing.T) {
	b := book(t)
	for fact, m := range drawing.Answers {
		f := b.Facts[fact]
		require.NotNil(t, f, fact)
		for answer, id := range m {
			assert.Contains(t, answersOf(f), answer, fact)
			_, ok := drawing.Picture("p", id)
			assert.True(t, ok, "%s %s: no picture %s", fact, answer, id)
			got, ok := drawing.For(fact, answer)
			assert.True(t, ok)
			assert.Equal(t, id, got)
		}
	}
	_, ok := drawing.For("surface.layer", "cheese")
	assert.False(t, ok)
	_, ok = drawing.For("no.fact", "solid")
	assert.False(t, ok)
	for kind, id := range drawing.Kinds {
		assert.NotNil(t, b.Defect(kind), kind)
		got, ok := drawing.ForKind(kind)
		assert.True(t, ok)
		assert.Equal(t, id, got)
		_, ok = drawing.Picture("p", id)
		assert.True(t, ok, "%s: no picture %s", kind, id)
	}
}

// What people are asked most, and would rather look at, has a picture for every answer.
func TestTheMostAskedQuestionsAreAnsweredByPictures(t *testing.T) {
	b := book(t)
	for _, fact := range []string{"surface.layer", "surface.end_grain", "surface.film_holds", "surface.magnet", "surface.worn_colour",
		"defect.level", "defect.fibres", "defect.form", "defect.direction", "defect.net", "defect.rust_form", "defect.crack_runs",
		"defect.lift_at", "defect.line_pattern", "defect.joint_play", "defect.trace", "defect.dust_sort", "defect.fresh_dust", "defect.bend_sort"} {
		f := b.Facts[fact]
		require.NotNil(t, f, fact)
		shown := map[string]bool{}
		for _, a := range answersOf(f) {
			id, ok := drawing.For(fact, a)
			assert.True(t, ok, "%s %s", fact, a)
			assert.False(t, shown[id], "%s: one picture for two answers", fact)
			shown[id] = true
		}
	}
}
