package knowledge_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/knowledge"
)

// TestTheRulebookMakesSense: no rule of the built-in rulebook can never act, never win, or says what
// another says; and all of it was decided.
func TestTheRulebookMakesSense(t *testing.T) {
	r, err := knowledge.Audit(knowledge.Files())
	require.NoError(t, err)
	for _, f := range r.Faults {
		t.Errorf("%s\n%s", f.Fault, f.Error())
	}
	assert.Zero(t, r.Undecided)
	assert.Greater(t, r.Conditions, 500)
}

// BenchmarkAudit audits the built-in rulebook, reading included.
func BenchmarkAudit(b *testing.B) {
	for b.Loop() {
		_, err := knowledge.Audit(knowledge.Files())
		require.NoError(b, err)
	}
}
