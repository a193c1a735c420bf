package check_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/check"
	"mendwright/knowledge"
)

// TestAMistakeNamesItsField, so that a flag or a form can point at it.
func TestAMistakeNamesItsField(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	air, err := knowledge.AirTables(k.Book)
	require.NoError(t, err)
	for field, q := range map[string]check.Sand{
		"thickness": {Values: map[string]string{"thickness": "thin"}},
		"screw":     {Values: map[string]string{"screwed": "no", "screw": "12 mm"}},
		"grits":     {Grits: "120,glass"},
		"tool":      {Tool: "teeth"},
		"keep":      {Keep: "-1 mm"},
	} {
		_, _, err := q.Ask(k, check.Bare(), check.TheSurface, "")
		var wrong *check.FieldError
		require.ErrorAs(t, err, &wrong, field)
		assert.Equal(t, field, wrong.Field)
	}
	for field, q := range map[string]check.Air{
		"solvent":  {Solvent: "moonshine"},
		"amount":   {Solvent: "acetone"},
		"room":     {Solvent: "acetone", Amount: "5 ml"},
		"place":    {Solvent: "acetone", Amount: "5 ml", Room: "40 m³"},
		"coat":     {Coat: "honey"},
		"humidity": {Coat: "oil"},
	} {
		_, err := q.Ask(air)
		var wrong *check.FieldError
		require.ErrorAs(t, err, &wrong, field)
		assert.Equal(t, field, wrong.Field)
	}
	_, err = check.Air{}.Ask(air)
	assert.ErrorIs(t, err, check.ErrNothingAsked)
}

// TestWhatIsGivenGoesToTheCut: a field beside the job, and a mark where none was named.
func TestWhatIsGivenGoesToTheCut(t *testing.T) {
	k, err := knowledge.Load()
	require.NoError(t, err)
	q := check.Sand{Values: map[string]string{"layer": "veneer", "thickness": "1.5 ± 0.03 mm", "mark": "0.1 mm", "stripped": "yes"}, Grits: "120, 150", Tool: "hand"}
	a, mark, err := q.Ask(k, check.Bare(), check.TheSurface, "")
	require.NoError(t, err)
	assert.Equal(t, check.TheMark, mark)
	assert.Equal(t, []string{"120", "150"}, a.Grits)
	assert.Equal(t, "clear", a.Verdict)
	_, _, err = q.Ask(k, check.Bare(), "lid", "")
	assert.ErrorContains(t, err, `the job has no surface "lid"`)
}
