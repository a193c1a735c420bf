package plan_test

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"mendwright/engine/plan"
	"mendwright/rules/interval"
)

// chest is the worked example of a chest: strip, steam, sand, stain and two coats on the top, glue
// and one coat on the base, derust and wax the metal, put together. Hours of work and of waiting.
func chest() []plan.Task {
	return []plan.Task{
		{Name: "strip", Work: 2, Wait: 24},
		{Name: "steam", Work: .5, Wait: 4, After: []int{0}},
		{Name: "sand", Work: 1.5, After: []int{1}},
		{Name: "stain", Work: .5, Wait: 12, After: []int{2}},
		{Name: "first coat", Work: .5, Wait: 4, After: []int{3}, Whole: true},
		{Name: "second coat", Work: .5, Wait: 24, After: []int{4}, Whole: true},
		{Name: "glue the base", Work: 1, Wait: 24, Whole: true},
		{Name: "coat the base", Work: 1, Wait: 24, After: []int{6}, Whole: true},
		{Name: "derust", Work: 1, Wait: 12},
		{Name: "wax the metal", Work: .5, After: []int{8}},
		{Name: "put together", Work: 1, After: []int{5, 7, 9}},
	}
}

// anyTasks are up to n tasks that wait only for earlier ones, some with windows.
func anyTasks(r *rand.Rand, n int) []plan.Task {
	tasks := make([]plan.Task, 1+r.IntN(n))
	for i := range tasks {
		t := &tasks[i]
		*t = plan.Task{Name: fmt.Sprintf("step %03d", i), Stage: r.IntN(4), Work: float64(r.IntN(17)) / 4, Whole: r.IntN(3) == 0}
		if r.IntN(2) == 0 {
			t.Wait = float64(r.IntN(60)) / 2
		}
		for b := range i {
			if r.IntN(i+2) > 1 || len(t.After) > 3 {
				continue
			}
			t.After = append(t.After, b)
			if r.IntN(3) == 0 {
				t.Windows = append(t.Windows, plan.Window{After: b, Within: tasks[b].Wait + float64(r.IntN(40))})
			}
		}
	}
	return tasks
}

// shuffled are the same tasks at other places; place says where each went.
func shuffled(r *rand.Rand, tasks []plan.Task) (out []plan.Task, place []int) {
	place = r.Perm(len(tasks))
	out = make([]plan.Task, len(tasks))
	for i, t := range tasks {
		t.After, t.Windows = slices.Clone(t.After), slices.Clone(t.Windows)
		for k := range t.After {
			t.After[k] = place[t.After[k]]
		}
		r.Shuffle(len(t.After), func(a, b int) { t.After[a], t.After[b] = t.After[b], t.After[a] })
		for k := range t.Windows {
			t.Windows[k].After = place[t.Windows[k].After]
		}
		out[place[i]] = t
	}
	return out, place
}

// names are the names of tasks by index.
func names(tasks []plan.Task, of []int) []string {
	out := []string{}
	for _, i := range of {
		out = append(out, tasks[i].Name)
	}
	return out
}

func exact(v float64) interval.Range { return interval.Exact(v) }
