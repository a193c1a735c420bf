package plan_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

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
