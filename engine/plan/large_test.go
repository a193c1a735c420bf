package plan_test

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendwright/engine/plan"
)

// manyTasks are n tasks like those of a piece: most wait for one or two a little before, and every
// third must follow closely.
func manyTasks(n int) []plan.Task {
	r := rand.New(rand.NewPCG(40, 5))
	tasks := make([]plan.Task, n)
	for i := range tasks {
		tasks[i] = plan.Task{Name: fmt.Sprint("step ", i), Stage: i * 10 / n, Work: float64(1+r.IntN(8)) / 4, Wait: float64(r.IntN(25)), Whole: i%2 == 0}
		for b := max(0, i-8); b < i && len(tasks[i].After) < 2; b++ {
			if r.IntN(4) == 0 {
				tasks[i].After = append(tasks[i].After, b)
			}
		}
		if len(tasks[i].After) > 0 && i%3 == 0 {
			tasks[i].Windows = []plan.Window{{After: tasks[i].After[0], Within: tasks[tasks[i].After[0]].Wait + 12}}
		}
	}
	return tasks
}

func BenchmarkLay(b *testing.B) {
	for _, n := range []int{40, plan.MostTasks} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			tasks := manyTasks(n)
			for b.Loop() {
				_, err := plan.Lay(tasks, evenings, monday)
				require.NoError(b, err)
			}
		})
	}
}

// TestWindowsThatCannotBeKeptAreNotSoughtForever: one chain of as many coats as a plan may have, each
// within a long window of the one before and the last within one that no evening keeps.
func TestWindowsThatCannotBeKeptAreNotSoughtForever(t *testing.T) {
	tasks := make([]plan.Task, plan.MostTasks)
	for i := range tasks {
		tasks[i] = plan.Task{Name: fmt.Sprintf("coat %03d", i), Work: .5, Wait: 14, Whole: true}
		if i > 0 {
			tasks[i].After, tasks[i].Windows = []int{i - 1}, []plan.Window{{After: i - 1, Within: plan.MostHours}}
		}
	}
	tasks[len(tasks)-1].Windows[0].Within = 14
	weekdays := evenings
	weekdays[time.Saturday] = nil
	began := time.Now()
	s := lay(t, tasks, weekdays, monday)
	require.Less(t, time.Since(began), 5*time.Second)
	require.Len(t, s.Missed, 1)
	holds(t, tasks, weekdays, monday, s)
}

func BenchmarkCritical(b *testing.B) {
	for _, n := range []int{40, plan.MostTasks} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			tasks := manyTasks(n)
			for b.Loop() {
				_, err := plan.Critical(tasks)
				require.NoError(b, err)
			}
		})
	}
}
