package interview_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/interview"
	"mendwright/engine"
	"mendwright/rules"
	"mendwright/rules/condition"
)

// woods is a question of which more than one answer may hold.
func woods(kind condition.Kind) (*rules.Fact, *engine.Question) {
	f := &rules.Fact{ID: "piece.woods", Ask: "Which woods?", Kind: kind, Answers: []rules.Answer{
		{ID: "oak", Means: "oak"}, {ID: "ash", Means: "ash or elm"}, {ID: "red-pine", Means: "pine"}}}
	q := &engine.Question{Fact: f.ID}
	for _, a := range f.Answers {
		q.Answers = append(q.Answers, engine.Option(a))
	}
	return f, q
}

func TestSeveralAnswersAreReadAsPeopleTypeThem(t *testing.T) {
	t.Parallel()
	f, q := woods(condition.Several)
	for typed, want := range map[string][]string{
		"1,3": {"oak", "red-pine"}, "1 3": {"oak", "red-pine"}, "1, 2 ,3": {"oak", "ash", "red-pine"}, "2": {"ash"},
		"oak, ash or elm": {"oak", "ash"}, "red pine": {"red pine"}, "none": {}, "-": {"cannot tell"}, "4": {"cannot tell"},
	} {
		got, err := interview.AnswerTexts(f, q, typed)
		require.NoError(t, err, typed)
		assert.Equal(t, want, got, typed)
		_, _, err = f.ReadAnswer(got...)
		require.NoError(t, err, "%s reads as an answer", typed)
	}
	for typed, why := range map[string]string{
		"1 5": "expected a number from 1 to 4", "0": "expected a number", "oak, elm": `read "elm"`, "1,4": "together with cannot tell", "oak ash": `read "oak ash"`,
	} {
		_, err := interview.AnswerTexts(f, q, typed)
		require.ErrorContains(t, err, why, typed)
	}
}

func TestOneAnswerIsReadByNumberWordOrMeaning(t *testing.T) {
	t.Parallel()
	f, q := woods(condition.Choice)
	for typed, want := range map[string]string{
		"1": "oak", "2.": "ash", "2)": "ash", "Ash or Elm": "ash", "Oak": "oak", "RED_PINE": "RED_PINE", "4": "cannot tell", "can't tell": "can't tell", "-": "cannot tell",
	} {
		got, err := interview.AnswerTexts(f, q, typed)
		require.NoError(t, err, typed)
		assert.Equal(t, []string{want}, got, typed)
	}
	for _, typed := range []string{"1 2", "1,2", "5", "-1", "oka"} {
		_, err := interview.AnswerTexts(f, q, typed)
		require.ErrorContains(t, err, "expected a number from 1 to 4, or the word of an answer", typed)
	}
}
