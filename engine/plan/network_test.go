package plan_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/engine/plan"
)

// TestTheTopOfTheChestDecides: its coats make the longest path, and base and metal have time.
func TestTheTopOfTheChestDecides(t *testing.T) {
	tasks := chest()
	n, err := plan.Critical(tasks)
	require.NoError(t, err)
	assert.Equal(t, []string{"strip", "steam", "sand", "stain", "first coat", "second coat", "put together"}, names(tasks, n.Path))
	assert.InDelta(t, 74.5, n.Duration, 1e-9)
	assert.InDelta(t, 10, n.Work, 1e-9)
	assert.InDelta(t, 138, n.InARow, 1e-9)
	assert.InDelta(t, 74.5, n.AtLeast(), 1e-9)
	assert.InDelta(t, 23.5, n.Tasks[7].Slack, 1e-9)
	assert.InDelta(t, 60, n.Tasks[9].Slack, 1e-9)
	assert.Equal(t, plan.Times{EarlyStart: 1 + 24, EarlyFinish: 50, LateStart: 48.5, LateFinish: 73.5, Slack: 23.5}, n.Tasks[7])

	preferred, err := plan.Preference(tasks)
	require.NoError(t, err)
	assert.Equal(t, []string{"strip", "glue the base", "steam", "sand", "stain", "first coat", "coat the base", "second coat", "derust", "wax the metal", "put together"},
		names(tasks, preferred), "the longest tail first")
}

// TestWorkCountsForOneWorker: many short steps side by side take as long as all their work.
func TestWorkCountsForOneWorker(t *testing.T) {
	n, err := plan.Critical([]plan.Task{{Name: "a", Work: 3}, {Name: "b", Work: 4, Wait: 1}, {Name: "c", Work: 5}})
	require.NoError(t, err)
	assert.Equal(t, 5.0, n.Duration)
	assert.Equal(t, 12.0, n.AtLeast())
	n, err = plan.Critical(nil)
	require.NoError(t, err)
	assert.Zero(t, n.AtLeast())
	assert.Empty(t, n.Path)
}

// TestWhatIsElseEqualGoesByStageAndName.
func TestWhatIsElseEqualGoesByStageAndName(t *testing.T) {
	tasks := []plan.Task{{Name: "c", Stage: 1, Work: 2}, {Name: "b", Stage: 2, Work: 2}, {Name: "a", Stage: 2, Work: 2}, {Name: "d", Stage: 9, Work: 2, Wait: 1. / 60}}
	preferred, err := plan.Preference(tasks)
	require.NoError(t, err)
	assert.Equal(t, []string{"d", "c", "a", "b"}, names(tasks, preferred))
}

// TestRoundingIsNoSlack: paths of the same length are all critical, though 0.1 and 0.2 make a hair
// more than 0.3.
func TestRoundingIsNoSlack(t *testing.T) {
	n, err := plan.Critical([]plan.Task{{Name: "a", Work: .1}, {Name: "b", Work: .2, After: []int{0}}, {Name: "c", Work: .3}, {Name: "d", Work: 1, After: []int{1, 2}}})
	require.NoError(t, err)
	for _, task := range n.Tasks {
		assert.True(t, task.Critical)
		assert.Zero(t, task.Slack)
	}
	assert.Equal(t, []int{0, 1, 3}, n.Path)
}

// longestPath tries every path.
func longestPath(tasks []plan.Task, last int) float64 {
	longest := 0.0
	for _, b := range tasks[last].After {
		longest = max(longest, longestPath(tasks, b))
	}
	return longest + tasks[last].Work + tasks[last].Wait
}

// TestTheLongestPathIsThatOfEveryPathTried: on random networks; no slack is below nothing, and a
// task begun its slack later never makes the plan longer, a little later always does.
func TestTheLongestPathIsThatOfEveryPathTried(t *testing.T) {
	r := rand.New(rand.NewPCG(40, 2))
	for range 400 {
		tasks := anyTasks(r, 12)
		for i := range tasks {
			tasks[i].Windows = nil // so that any wait may grow
		}
		n, err := plan.Critical(tasks)
		require.NoError(t, err)
		longest, along := 0.0, 0.0
		for i := range tasks {
			finish := longestPath(tasks, i)
			require.InDelta(t, finish, n.Tasks[i].EarlyFinish, 1e-9)
			longest = max(longest, finish)
		}
		require.InDelta(t, longest, n.Duration, 1e-9)
		for k, i := range n.Path {
			along += tasks[i].Work + tasks[i].Wait
			require.True(t, n.Tasks[i].Critical)
			require.True(t, k == 0 || slices.Contains(tasks[i].After, n.Path[k-1]))
		}
		require.InDelta(t, longest, along, 1e-9)
		for i, at := range n.Tasks {
			require.GreaterOrEqual(t, at.Slack, 0.0)
			require.Equal(t, at.Slack == 0, at.Critical)
			require.InDelta(t, at.Slack, at.LateStart-at.EarlyStart, 1e-9)
			later := slices.Clone(tasks)
			later[i].Wait += at.Slack
			same, err := plan.Critical(later)
			require.NoError(t, err)
			require.InDelta(t, longest, same.Duration, 1e-9)
			later[i].Wait += .25
			longer, err := plan.Critical(later)
			require.NoError(t, err)
			require.InDelta(t, longest+.25, longer.Duration, 1e-9)
		}
	}
}

// TestTheSameStepsGiveTheSamePlanInAnyOrder.
func TestTheSameStepsGiveTheSamePlanInAnyOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(40, 3))
	for range 300 {
		tasks := anyTasks(r, 15)
		others, place := shuffled(r, tasks)
		n, err := plan.Critical(tasks)
		require.NoError(t, err)
		m, err := plan.Critical(others)
		require.NoError(t, err)
		require.Equal(t, names(tasks, n.Path), names(others, m.Path))
		require.Equal(t, []float64{n.Duration, n.Work, n.InARow}, []float64{m.Duration, m.Work, m.InARow})
		for i := range tasks {
			require.Equal(t, n.Tasks[i], m.Tasks[place[i]])
		}
		first, err := plan.Preference(tasks)
		require.NoError(t, err)
		second, err := plan.Preference(others)
		require.NoError(t, err)
		require.Equal(t, names(tasks, first), names(others, second))
	}
}

// TestATaskThatCannotBeIsNamed.
func TestATaskThatCannotBeIsNamed(t *testing.T) {
	for _, c := range []struct {
		says  string
		tasks []plan.Task
	}{
		{"two tasks are called \"a\"", []plan.Task{{Name: "a"}, {Name: "a"}}},
		{"a: read -1 h for the work", []plan.Task{{Name: "a", Work: -1}}},
		{"a: read 8785 h for the wait", []plan.Task{{Name: "a", Wait: 8785}}},
		{"b: read 9000 h for the window", []plan.Task{{Name: "a"}, {Name: "b", After: []int{0}, Windows: []plan.Window{{0, 9000}}}}},
		{"b: read task 2 as one before; there are 2", []plan.Task{{Name: "a"}, {Name: "b", After: []int{2}}}},
		{"b: its window is after task 0, which it does not wait for", []plan.Task{{Name: "a"}, {Name: "b", Windows: []plan.Window{{0, 1}}}}},
		{"b: read a window of 1 h after a, which waits 2 h", []plan.Task{{Name: "a", Wait: 2}, {Name: "b", After: []int{0}, Windows: []plan.Window{{0, 1}}}}},
		{"read 501 tasks", make([]plan.Task, 501)},
		{"wait for the one before", []plan.Task{{Name: "a", After: []int{1}}, {Name: "b", After: []int{0}}}},
	} {
		_, err := plan.Critical(c.tasks)
		assert.ErrorContains(t, err, c.says)
		_, err = plan.Preference(c.tasks)
		assert.ErrorContains(t, err, c.says)
	}
}
