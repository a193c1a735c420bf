package interview_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/interview/typist"
)

func TestSeveralMarksAndHardwareInOneSitting(t *testing.T) {
	t.Parallel()
	path := jobPath(t)
	shown, a := sit(t, path, "Chest", "top", "dent", "next", "1", "hinges", "rust", "next", "1", "2", "ring", "next", "s")
	assert.Contains(t, shown, "Hinges, knobs and brackets count as a surface")
	assert.Contains(t, shown, "1 hinges 2 top A number, or the name of a new surface.")
	require.Len(t, a.Defects, 3)
	on := map[string]string{}
	for _, d := range a.Defects {
		on[d.ID] = d.On
	}
	assert.Equal(t, map[string]string{"dent": "top", "rust": "hinges", "ring": "top"}, on)
	assert.Contains(t, shown, "3 go on with dent on top 4 go on with rust on hinges 5 go on with ring on top 6 finish; what is open stays open")
}

func TestAMarkLikeAnotherTakesOverWhatWasSeenAndNotWhatWasMeasured(t *testing.T) {
	t.Parallel()
	path := job(t, dented)
	shown, _ := sit(t, path, "next", "2", "", "dent", "second dent", "s")
	assert.Contains(t, shown, "2 another mark like dent")
	assert.Contains(t, shown, "Enter alone: top.")
	assert.Contains(t, shown, `there is a defect "dent" already`)
	assert.Contains(t, shown, "Copied from dent: spot, crushed, below. What was measured or tested is asked anew")
	text := written(t, path)
	assert.Equal(t, 2, strings.Count(text, "form: spot"))
	assert.Equal(t, 1, strings.Count(text, "depth_mm:"))
}

func TestTheMenuGoesOnWithAMarkByNumberOrName(t *testing.T) {
	t.Parallel()
	path := job(t, dented+"  - id: ring\n    on: top\n")
	for _, choice := range []string{"ring", "4"} {
		v, shown := sitting(t, path)
		_, err := v.Run(t.Context(), strings.NewReader("next\nten\n99\nl\n"+choice+"\ns\n"))
		require.NoError(t, err)
		text := oneLine(shown.String())
		assert.Contains(t, text, `read "ten"; expected a number from 1 to 5`)
		assert.Contains(t, text, `read "99"; expected a number from 1 to 5`)
		prompts := strings.Split(shown.String(), "> ")
		of, fact, ok := typist.Question(v.Book, oneLine(prompts[5]))
		require.True(t, ok, prompts[5])
		if strings.HasPrefix(fact, "defect.") {
			assert.Equal(t, "ring", of)
		} else {
			assert.Equal(t, "top", of)
		}
		assert.Contains(t, prompts[4], "dent: ", "the list is that of the mark that was left")
	}
}

func TestLikeOneOfSeveralAsksWhichAndCanBeLeft(t *testing.T) {
	t.Parallel()
	path := job(t, dented+"  - id: ring\n    on: top\n    form: ring\n")
	shown, a := sit(t, path, "next", "2", "b", "2", "7", "ring", "legs", "leg ring", "s")
	assert.Contains(t, shown, "Like which one? 1 dent on top 2 ring on top")
	assert.Contains(t, shown, `read "7"; expected a number from 1 to 2`)
	assert.Equal(t, 2, strings.Count(shown, "Like which one?"))
	require.Len(t, a.Defects, 3)
	assert.Equal(t, 2, strings.Count(written(t, path), "form: ring"))
}

func TestAnAnswerIsChangedAndWhatChangesIsSaid(t *testing.T) {
	t.Parallel()
	path := job(t, dented)
	shown, _ := sit(t, path, "l", "c 9", "c", "c 1", "", "c 6", "7 kg", "1 mm", "c 5", "level", "b", "s")
	assert.Contains(t, shown, "1 top: What is the surface made of? solid")
	assert.Contains(t, shown, "6 dent: Drawn across it, does a fingernail go up, down or neither? below")
	assert.Contains(t, shown, `read "c 9"; expected c and the number of an answer from 1 to 7`)
	assert.Contains(t, shown, "It was: solid. Enter alone keeps that.")
	assert.Contains(t, shown, "kept: solid")
}

func TestWhatAChangeDoesToKindsRepairsAndOtherAnswersIsNamed(t *testing.T) {
	t.Parallel()
	path := job(t, strings.Replace(dented, "    depth_mm: 0.6 mm\n", "", 1))
	shown, a := sit(t, path, "c 5", "untouched", "s")
	assert.Contains(t, shown, "It was: crushed. Enter alone keeps that.")
	assert.Regexp(t, `dent: it was: Dent[^.]*\. Now: `, shown)
	assert.NotContains(t, strings.SplitN(shown, "Triage", 2)[0], "A repair is READY", "it was ready from before")
	assert.NotEqual(t, "dent", a.Defects[0].Kinds[0].Kind)
	assert.Contains(t, written(t, path), "fibres: untouched")
}

func TestAChangeThatChangesNothingSaysSo(t *testing.T) {
	t.Parallel()
	path := job(t, dented)
	shown, _ := sit(t, path, "c 3", "20.0 mm", "s")
	assert.Contains(t, shown, "Changed; nothing else changes with it.")
	assert.Contains(t, shown, "Read as 19.95 to 20.05 mm (the usual ± was taken).")
	assert.Contains(t, written(t, path), "layer_mm: 20.0 mm")
}

func TestGoingBackAfterAChangePutsTheOldAnswerBack(t *testing.T) {
	t.Parallel()
	path := job(t, dented)
	shown, _ := sit(t, path, "c 5", "cut", "b", "s")
	assert.Contains(t, shown, "dent: What happened to the wood fibres? crushed again.")
	assert.Equal(t, dented, written(t, path))
}

func TestAMeasurementShowsItsUnitAndIsEchoed(t *testing.T) {
	t.Parallel()
	path := job(t, dented)
	shown, _ := sit(t, path, "c 7", "0.6 kg", "90 mm", "0.6 +/- 0.02 mm", "s")
	assert.Contains(t, shown, "In mm, from 0 to 60, such as 2 ± 0.05 mm; name any other unit.")
	assert.Contains(t, shown, `read "0.6 kg"`)
	assert.Contains(t, shown, `read "90 mm"`)
	assert.NotContains(t, strings.SplitN(shown, "Triage", 2)[0], "defect.depth_mm", "ids are for files, not for people")
	assert.Contains(t, shown, "Read as 0.58 to 0.62 mm.")
}

// contradicted says solid though the growth rings stop short of the end.
const contradicted = `format: 1
surfaces:
  top:
    layer: solid
    end_grain: stops
    picture_repeats: no
defects:
  - id: dent
    on: top
    form: spot
`

func TestAContradictionIsSettledOnceEitherWay(t *testing.T) {
	t.Parallel()
	for choice, want := range map[string]struct{ said, in, notIn string }{
		"1": {"Yours holds from now on: solid.", "confirmed:", "nothing"},
		"2": {"Yours is taken back; it counts as veneer.", "end_grain: stops", "layer: solid"},
	} {
		path := job(t, contradicted)
		shown, a := sit(t, path, "", "9", "l", choice, "s")
		assert.Equal(t, 1, strings.Count(shown, "Two answers do not go together."))
		assert.Contains(t, shown, "top: What is the surface made of? You said: solid")
		assert.Contains(t, shown, `read "9"; expected 1 or 2`)
		assert.Contains(t, shown, want.said)
		assert.Contains(t, written(t, path), want.in)
		assert.NotContains(t, written(t, path), want.notIn)
		assert.Empty(t, a.Conflicts)
	}
}

func TestAContradictionMayWait(t *testing.T) {
	t.Parallel()
	path := job(t, contradicted)
	shown, a := sit(t, path)
	assert.Contains(t, shown, "CONFLICT")
	assert.Len(t, a.Conflicts, 1)
	assert.Equal(t, contradicted, written(t, path))
	shown, a = sit(t, path, "c 2", "1", "s")
	assert.Empty(t, a.Conflicts, "the other answer may be the wrong one")
	assert.Equal(t, 1, strings.Count(shown, "Two answers"))
}

func TestAnswersThatMatterNoMoreAreNamed(t *testing.T) {
	t.Parallel()
	path := job(t, dented)
	shown, _ := sit(t, path, "c 1", "metal", "s")
	assert.Contains(t, shown, "dent: it was: Dent")
	assert.Regexp(t, `no longer matters: [^-]*How thick is the layer you may sand\? 20`, shown)
	assert.Contains(t, shown, "goes: ")
}

func TestWhatASpotTestMayHarmStandsBeforeTheQuestion(t *testing.T) {
	t.Parallel()
	path := job(t, dented+"    wet_test: vanishes\n")
	shown, _ := sit(t, path, "c 8", "?", "s")
	before, _, asked := strings.Cut(shown, "does the mark vanish while wet?")
	require.True(t, asked)
	assert.Contains(t, before, "This spot test MAY HARM: ")
}
