package audit_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"mendwright/engine/audit"
)

func TestPromisesAreFound(t *testing.T) {
	for _, text := range []string{"It is safe.", "food-safe", "SAFELY", "harmless,", "a risk-free way", "guaranteed!", "(non-toxic)"} {
		assert.NotEmpty(t, audit.Promised(text), text)
	}
	for _, text := range []string{"safety data sheet", "unsafe", "stage: make-safe", "https://safe.engineering.example/gas", "safeguard", "toxic"} {
		assert.Empty(t, audit.Promised(text), text)
	}
}
