package knowledge_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/knowledge"
)

// TestNoClassOfCoatsAllowsWhatOneOfThemForbids: `air` judges the weather by a class of coats, `coat` and the rules by
// the coat itself; the first must not wave through what the others stop.
func TestNoClassOfCoatsAllowsWhatOneOfThemForbids(t *testing.T) {
	t.Parallel()
	air, err := knowledge.AirTables(verified().Book)
	require.NoError(t, err)
	coats, err := knowledge.CoatTables(verified().Book)
	require.NoError(t, err)
	for class, members := range map[string][]string{"oil": {"oil", "varnish", "wiping-varnish", "alkyd-paint"}, "waterborne": {"waterborne"}, "fast-lacquer": {"lacquer", "shellac"}} {
		for _, name := range members {
			c, err := coats.Coat(name)
			require.NoError(t, err)
			assert.True(t, air.Coats[class].Air.Within(c.Air), "%s works from %v °C, %s from %v", class, air.Coats[class].Air, name, c.Air)
			assert.LessOrEqual(t, air.Coats[class].Stop, c.Humidity.Hi, "%s against %s", class, name)
		}
	}
}
