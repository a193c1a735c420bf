package knowledge_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/coat"
	"mendwright/knowledge"
	"mendwright/rules/interval"
)

func coatTables(t *testing.T) coat.Tables {
	k, err := knowledge.Load()
	require.NoError(t, err)
	tables, err := knowledge.CoatTables(k.Book)
	require.NoError(t, err)
	return tables
}

func TestEveryCoatOfTheTableHangsTogether(t *testing.T) {
	wiped := []string{"wax", "oil"}
	for _, c := range coatTables(t).Coats {
		meets := func(what string, a, b interval.Range) {
			assert.True(t, a.Lo <= b.Hi && b.Lo <= a.Hi, "%s: %s: %v and %v", c.Name, what, a, b)
		}
		inOrder := func(what string, a, b interval.Range) {
			assert.True(t, a.Lo <= b.Lo && a.Hi <= b.Hi, "%s: %s: %v and %v", c.Name, what, a, b)
		}
		if !slices.Contains(wiped, c.Name) {
			dry, err := coat.Dry(c.Wet, c.Solids)
			require.NoError(t, err)
			meets("the dry film is what the solids of the wet one leave", dry, c.Dry)
			laid, err := coat.WetAt(c.Rate)
			require.NoError(t, err)
			assert.LessOrEqual(t, laid.Lo, c.Wet.Hi*1.8, "%s: a litre goes about as far as the wet film says", c.Name)
			assert.GreaterOrEqual(t, laid.Hi, c.Wet.Lo/1.8, c.Name)
		}
		inOrder("touched before it is hard", c.Touch, c.Cure)
		inOrder("recoated before it is hard", c.Recoat, c.Cure)
		if c.Closes != (interval.Range{}) {
			inOrder("the window opens before it closes", c.Recoat, c.Closes)
		}
		if c.Most != (interval.Range{}) {
			assert.Greater(t, c.Most.Hi, c.Dry.Hi, "%s: one coat does not crack", c.Name)
		}
		assert.LessOrEqual(t, 1.0, c.Coats.Lo, c.Name)
		assert.Less(t, c.Air.Lo, c.Air.Hi, c.Name)
		assert.Less(t, c.Humidity.Lo, c.Humidity.Hi, c.Name)
		_, err := c.Judge(coat.Day{Air: interval.Exact(20), Surface: interval.Exact(20), Humidity: interval.Exact(55), DewMargin: interval.Exact(9)})
		assert.NoError(t, err)
	}
}

func TestEveryFinishOfACoatIsKnownAsAnOldOne(t *testing.T) {
	tables := coatTables(t)
	olds, news, pairs := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, o := range tables.Over {
		olds[o.Old], news[o.New] = true, true
		assert.False(t, pairs[o.New+"/"+o.Old], "%s over %s stands twice", o.New, o.Old)
		pairs[o.New+"/"+o.Old] = true
		if o.May == coat.MayNot {
			assert.Equal(t, interval.Range{}, o.Wait, "%s over %s: no wait helps", o.New, o.Old)
		}
		if o.Barrier == coat.BarrierOrWait {
			assert.True(t, o.Under.Lo < o.Wait.Lo && o.Under.Hi < o.Wait.Hi, "%s over %s: a barrier shortens the wait", o.New, o.Old)
		}
	}
	assert.Len(t, pairs, len(olds)*len(news), "every pair has its row")
	for _, c := range tables.Coats {
		assert.True(t, olds[c.Finish], "%s dries to %q, which nothing is known to go over", c.Name, c.Finish)
	}
	for _, r := range tables.Removers {
		for _, finish := range r.Takes {
			assert.True(t, olds[finish] || slices.Contains([]string{"paint", "milk-paint"}, finish), "%s takes %q", r.Name, finish)
		}
	}
}

func TestNothingButWaxGoesOverWax(t *testing.T) {
	for _, o := range coatTables(t).Over {
		if o.Old == "wax" {
			assert.Equal(t, o.New == "wax", o.May == coat.MayGo, o.New)
		}
	}
}

func TestSheensOfEveryConventionCoverTheScale(t *testing.T) {
	tables := coatTables(t)
	for _, convention := range []string{"painters", "furniture"} {
		for gu := 0.0; gu <= 100; gu += 0.5 {
			names, err := tables.SheensOf(convention, interval.Exact(gu), coat.AnyGloss)
			require.NoError(t, err)
			assert.NotEmpty(t, names, "%s has no name for %v GU", convention, gu)
		}
	}
}
