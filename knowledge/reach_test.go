package knowledge_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/rules"
)

// TestTheNamesInAConditionAreTheFactsItReads: what an answer reaches is looked up by the names in the text.
func TestTheNamesInAConditionAreTheFactsItReads(t *testing.T) {
	t.Parallel()
	book := verified().Book
	var conds []*rules.Cond
	for _, d := range book.Defects {
		for _, c := range d.Signs {
			conds = append(conds, c.When)
		}
	}
	for _, m := range book.Methods() {
		for _, c := range slices.Concat(m.Suits, m.Never) {
			conds = append(conds, c.When)
		}
		for _, h := range m.Harms {
			for _, s := range slices.Concat(h.Raised, h.Lowered) {
				conds = append(conds, s.When)
			}
		}
	}
	for _, w := range book.Warnings {
		conds = append(conds, w.When)
	}
	for _, f := range book.Findings {
		for _, b := range f.Branches {
			conds = append(conds, b.When)
		}
	}
	read := 0
	for _, c := range conds {
		if c == nil {
			continue
		}
		comp, err := c.Compile()
		require.NoError(t, err)
		names := slices.Clone(c.Names())
		slices.Sort(names)
		assert.Equal(t, comp.Facts, slices.Compact(names), c.Text)
		read++
	}
	assert.Greater(t, read, 400)
}

// TestAnAnswerReachesWhatRestsOnIt, through findings, tables and calculators.
func TestAnAnswerReachesWhatRestsOnIt(t *testing.T) {
	t.Parallel()
	book := verified().Book
	assert.True(t, book.Reach("surface.timber").Facts["surface.tannin"], "a table says how much tannin a timber holds")
	assert.True(t, book.Reach("surface.lead_test").Facts["surface.lead"], "a finding says whether there is lead")
	assert.True(t, book.Reach("surface.lead_test").Method(book.Method("sand-off-finish")), "and that keeps a finish from being sanded off")
	assert.True(t, book.Reach("shop.room_m3").Method(book.Method("strip-with-solvent-gel")), "the room dilutes the vapour of a stripper")
	assert.False(t, book.Reach("shop.room_m3").Method(book.Method("raise-with-steam")), "steam is not reckoned as vapour")
	assert.True(t, book.Reach("defect.form").Asks["defect.direction"], "only a line has a direction")
	assert.False(t, book.Reach("defect.form").Facts["defect.direction"])
}

// TestKindsAreFoundThroughTheSignsTheyShare: walking the signs that kinds have in common leaves out exactly the kinds of
// which some sign is false, however the answers fall.
func TestKindsAreFoundThroughTheSignsTheyShare(t *testing.T) {
	t.Parallel()
	book := verified().Book
	var texts []string
	for _, d := range book.Defects {
		for _, c := range d.Signs {
			texts = append(texts, c.When.Text)
		}
	}
	slices.Sort(texts)
	texts = slices.Compact(texts)
	r := rand.New(rand.NewPCG(7, 7))
	sizes := map[int]bool{}
	for n := range 300 {
		out := map[string]bool{}
		for _, text := range texts {
			out[text] = r.IntN(300) < n
		}
		var want []*rules.Defect
		for _, d := range book.Defects {
			if !slices.ContainsFunc(d.Signs, func(c rules.Clause) bool { return out[c.When.Text] }) {
				want = append(want, d)
			}
		}
		asked := map[string]int{}
		got := book.Kinds(func(sign *rules.Cond) bool { asked[sign.Text]++; return !out[sign.Text] })
		require.Equal(t, want, got)
		sizes[len(got)] = true
	}
	assert.Greater(t, len(sizes), 20)
	asked := 0
	assert.Empty(t, book.Kinds(func(*rules.Cond) bool { asked++; return false }))
	assert.Less(t, asked, len(book.Defects)/2, "what kinds share is asked once")
}
