package metal_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/metal"
	"mendwright/rules/interval"
)

// judgement is a function of one measured range that gives a place.
var judgements = []struct {
	name  string
	input rng
	of    func(rng) (metal.Place, error)
}{
	{"flammable", rng{Lo: 0, Hi: 12}, metal.Flammable},
	{"ammonia", rng{Lo: 0, Hi: 40}, metal.AmmoniaOnBrass},
	{"strength", rng{Lo: 600, Hi: 1400}, metal.EmbrittlesTensile},
	{"hardness", rng{Lo: 20, Hi: 42}, metal.EmbrittlesHRC},
	{"sound iron", rng{Lo: 30, Hi: 80}, func(r rng) (metal.Place, error) { return metal.Storage(metal.SoundIron, r) }},
	{"unstable iron", rng{Lo: 35, Hi: 50}, func(r rng) (metal.Place, error) { return metal.Storage(metal.UnstableIron, r) }},
	{"pull screw", rng{Lo: 20, Hi: 35}, func(r rng) (metal.Place, error) { return metal.PullFits(r, interval.Exact(19), 4.2) }},
}

func TestACloserMeasurementNeverContradictsAPlace(t *testing.T) {
	c := deal()
	for _, j := range judgements {
		settled := 0
		for range tries {
			wide := c.within(j.input)
			closer := c.within(wide)
			was, err := j.of(wide)
			require.NoError(t, err)
			is, err := j.of(closer)
			require.NoError(t, err)
			if was != metal.Unsettled {
				settled++
				require.Equal(t, was, is, "%s: %v and then %v", j.name, wide, closer)
			}
		}
		assert.Greater(t, settled, tries/10, j.name)
		assert.Less(t, settled, tries, j.name)
	}
}

func TestACloserMeasurementNeverAddsACandidate(t *testing.T) {
	tables, c := bench(), deal()
	subset := func(what string, was, is []string) {
		t.Helper()
		for _, name := range is {
			require.Contains(t, was, name, what)
		}
	}
	found := map[string]int{}
	for range tries {
		diameter, pitch := c.within(rng{Lo: 2.5, Hi: 9}), c.within(rng{Lo: 0.5, Hi: 1.5})
		if c.IntN(2) == 0 { // most draws should be of a real thread
			th := tables.Threads[c.IntN(len(tables.Threads))]
			diameter, pitch = interval.Around(th.Major-0.1, c.Float64()*0.3), interval.Around(th.Pitch, c.Float64()*0.05)
		}
		was, err := tables.ThreadsLike(diameter, pitch)
		require.NoError(t, err)
		d, p := c.within(diameter), c.within(pitch)
		is, err := tables.ThreadsLike(d, p)
		require.NoError(t, err)
		subset(fmt.Sprint(diameter, pitch, " then ", d, p), threadNames(was), threadNames(is))
		require.True(t, slices.IsSortedFunc(was, func(a, b metal.Candidate) int {
			if a.Off <= b.Off {
				return -1
			}
			return 1
		}))
		found["threads"] += len(is)

		density := c.within(rng{Lo: 2, Hi: 12})
		could, err := tables.CouldBe(density, metal.AnyPull)
		require.NoError(t, err)
		closer := c.within(density)
		for _, pull := range []metal.Pull{metal.AnyPull, metal.NoPull, metal.WeakPull, metal.StrongPull} {
			still, err := tables.CouldBe(closer, pull)
			require.NoError(t, err)
			subset(fmt.Sprint(density, closer, pull), metalNames(could), metalNames(still))
			found["metals"] += len(still)
		}

		shank := c.within(rng{Lo: 1.5, Hi: 9})
		gauges, err := metal.ScrewGauges(shank)
		require.NoError(t, err)
		fewer, err := metal.ScrewGauges(c.within(shank))
		require.NoError(t, err)
		subset(fmt.Sprint(shank), numerals(gauges), numerals(fewer))
		found["gauges"] += len(fewer)
	}
	for _, what := range []string{"threads", "metals", "gauges"} {
		assert.Greater(t, found[what], tries/4, what)
	}
}

func threadNames(cs []metal.Candidate) (names []string) {
	for _, c := range cs {
		names = append(names, c.Name)
	}
	return names
}

func metalNames(ms []metal.Metal) (names []string) {
	for _, m := range ms {
		names = append(names, m.Name)
	}
	return names
}

func numerals(ns []int) (names []string) {
	for _, n := range ns {
		names = append(names, fmt.Sprint(n))
	}
	return names
}

func TestACloserPotentialNeverContradictsAGap(t *testing.T) {
	c := deal()
	var settled, who int
	for range tries {
		at := func() metal.Potential {
			return metal.Potential{Series: "s", MV: c.within(rng{Lo: -1200, Hi: 0}), Spread: c.Float64() * 40}
		}
		closer := func(p metal.Potential) metal.Potential {
			p.MV, p.Spread = c.within(p.MV), p.Spread*c.Float64()
			return p
		}
		a, b := at(), at()
		a.Metal, b.Metal = "a", "b"
		wide := metal.Tables{Potentials: []metal.Potential{a, b}}
		near := metal.Tables{Potentials: []metal.Potential{closer(a), closer(b)}}
		was, err := wide.Gap("s", "a", "b")
		require.NoError(t, err)
		is, err := near.Gap("s", "b", "a")
		require.NoError(t, err)
		require.True(t, is.Printed.Within(was.Printed), "%v, %v", wide, near)
		require.True(t, is.MV.Within(was.MV), "%v, %v", wide, near)
		require.True(t, was.Printed.Within(was.MV))
		if was.Limit != metal.Unsettled {
			settled++
			require.Equal(t, was.Limit, is.Limit)
		}
		if was.Corrodes != "" {
			who++
			require.Equal(t, was.Corrodes, is.Corrodes)
		}
	}
	assert.Greater(t, settled, tries/10)
	assert.Greater(t, who, tries/10)
}

func TestRulingAKindOutNeverMakesAVerdictWorse(t *testing.T) {
	tables, c := bench(), deal()
	parts := []string{"steel", "spring", "zinc", "brass"}
	for range tries {
		n := 1 + c.IntN(len(parts))
		c.Shuffle(len(parts), func(i, j int) { parts[i], parts[j] = parts[j], parts[i] })
		all, err := tables.Judge("acid", parts[:n]...)
		require.NoError(t, err)
		some, err := tables.Judge("acid", parts[:1+c.IntN(n)]...)
		require.NoError(t, err)
		require.GreaterOrEqual(t, some.Verdict, all.Verdict)
		require.NotEmpty(t, all.Rules)
		for _, r := range all.Rules {
			require.Equal(t, all.Verdict, r.Verdict)
		}
	}
}
