package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// Task is one step of a plan: hands-on work, and then a wait in which nothing is done to it, such
// as a coat that dries. The zero Task has nothing to do.
type Task struct {
	Name    string   // its own; no two tasks of a plan share one
	Stage   int      // where in the usual course of the work it belongs; settles what is else equal
	Work    float64  // hands-on h, 0 to MostHours
	Wait    float64  // h after the work before what follows may begin, 0 to MostHours
	Whole   bool     // its work is not left half done, such as a coat or a glue-up
	After   []int    // the tasks, by index, whose work and wait must be over before it begins
	Windows []Window // by when it must begin
}

// Window is the time within which a task must begin after another one, such as the recoat window
// of a varnish.
type Window struct {
	After  int     // index of a task that stands in the After of the one with the window
	Within float64 // h from the end of that task's work, its wait or more, to MostHours
}

// Times are when a task can and must happen, in h from the start of the plan, with hands enough
// for everything at once. A task ends with its wait.
type Times struct {
	EarlyStart, EarlyFinish float64
	LateStart, LateFinish   float64 // at the latest, if the plan is not to take longer
	Slack                   float64 // LateStart - EarlyStart, never below 0
	Critical                bool    // no slack
}

// Network is what follows from the tasks alone, before anybody's working hours are looked at.
type Network struct {
	Tasks    []Times // one for each task
	Duration float64 // h of the longest path, work and waits
	Path     []int   // one longest path, from its first task to its last
	Work     float64 // h hands-on, all tasks together
	InARow   float64 // h if every task waited for the one before
}

// AtLeast is how many hours one worker needs at the least, day and night: the longest path or all
// the hands-on work, whichever is more.
func (n Network) AtLeast() float64 { return max(n.Duration, n.Work) }

// hair is the part of a duration below which a difference is the rounding of the arithmetic.
const hair = 1e-9

// Critical works out when each task can and must happen, and the longest path; of several equally
// long ones the one whose last tasks come first by stage and name. The error names a task whose
// figures are out of range or whose name is taken, or is a *Cycle whose arcs count through the
// After of the tasks in turn.
func Critical(tasks []Task) (Network, error) {
	order, err := sorted(tasks, nil)
	if err != nil {
		return Network{}, err
	}
	n := Network{Tasks: make([]Times, len(tasks))}
	for _, i := range order {
		t, lasts := &n.Tasks[i], tasks[i].Work+tasks[i].Wait
		for _, before := range tasks[i].After {
			t.EarlyStart = max(t.EarlyStart, n.Tasks[before].EarlyFinish)
		}
		t.EarlyFinish = t.EarlyStart + lasts
		n.Duration = max(n.Duration, t.EarlyFinish)
		n.Work += tasks[i].Work
		n.InARow += lasts
	}
	for i := range n.Tasks {
		n.Tasks[i].LateFinish = n.Duration
	}
	for _, i := range slices.Backward(order) {
		t := &n.Tasks[i]
		t.LateStart = t.LateFinish - tasks[i].Work - tasks[i].Wait
		if t.Slack = t.LateStart - t.EarlyStart; t.Slack <= hair*n.Duration {
			t.Slack, t.Critical = 0, true
			t.LateStart, t.LateFinish = t.EarlyStart, t.EarlyFinish
		}
		for _, before := range tasks[i].After {
			b := &n.Tasks[before]
			b.LateFinish = min(b.LateFinish, t.LateStart)
		}
	}
	n.Path = longest(tasks, n, order)
	return n, nil
}

// longest walks one longest path back from its end. Each early start is the early finish of some
// task before, to the last bit, so no tolerance is needed.
func longest(tasks []Task, n Network, order []int) []int {
	var path []int
	at := slices.IndexFunc(order, func(i int) bool { return n.Tasks[i].EarlyFinish == n.Duration })
	for at >= 0 {
		i := order[at]
		path = append(path, i)
		at = slices.IndexFunc(order, func(b int) bool {
			return slices.Contains(tasks[i].After, b) && n.Tasks[b].EarlyFinish == n.Tasks[i].EarlyStart
		})
	}
	slices.Reverse(path)
	return path
}

// Preference is the order in which to take tasks where several could come next: the one with the
// longest tail (its own and all that must follow, work and waits, in whole minutes) first, so that
// long waits begin early; then by stage; then by name. It respects every After. The errors are
// those of Critical.
func Preference(tasks []Task) ([]int, error) {
	order, err := sorted(tasks, nil)
	if err != nil {
		return nil, err
	}
	tails := make([]int, len(tasks))
	for _, i := range slices.Backward(order) {
		tails[i] += minutes(tasks[i].Work) + minutes(tasks[i].Wait)
		for _, before := range tasks[i].After {
			tails[before] = max(tails[before], tails[i])
		}
	}
	return sorted(tasks, tails)
}

// minutes are whole minutes of a time in h, rounded up but for the rounding of the arithmetic.
func minutes(h float64) int { return int(math.Ceil(h*60 - 1e-6)) }

// sorted checks the tasks and puts them into an order that respects every After: where several
// could come next, the longest tail first if there are tails, then by stage, then by name.
func sorted(tasks []Task, tails []int) ([]int, error) {
	if tails == nil {
		if err := valid(tasks); err != nil {
			return nil, err
		}
		tails = make([]int, len(tasks))
	}
	var arcs []Arc
	for i, t := range tasks {
		for _, before := range t.After {
			arcs = append(arcs, Arc{before, i})
		}
	}
	return Order(len(tasks), arcs, func(a, b int) bool {
		return cmp.Or(cmp.Compare(tails[b], tails[a]), cmp.Compare(tasks[a].Stage, tasks[b].Stage), strings.Compare(tasks[a].Name, tasks[b].Name)) < 0
	})
}

// valid says which task has figures or a name that cannot be.
func valid(tasks []Task) error {
	if len(tasks) > MostTasks {
		return fmt.Errorf("read %d tasks; expected at most %d", len(tasks), MostTasks)
	}
	names := make(map[string]bool, len(tasks))
	for _, t := range tasks {
		if names[t.Name] {
			return fmt.Errorf("two tasks are called %q; expected a name of its own for each", t.Name)
		}
		names[t.Name] = true
		for _, before := range t.After {
			if before < 0 || before >= len(tasks) {
				return fmt.Errorf("%s: read task %d as one before; there are %d", t.Name, before, len(tasks))
			}
		}
		if err := cmp.Or(t.hours("work", t.Work), t.hours("wait", t.Wait)); err != nil {
			return err
		}
		for _, w := range t.Windows {
			if !slices.Contains(t.After, w.After) {
				return fmt.Errorf("%s: its window is after task %d, which it does not wait for", t.Name, w.After)
			}
			if err := t.hours("window", w.Within); err != nil {
				return err
			}
			if first := tasks[w.After]; w.Within < first.Wait {
				return fmt.Errorf("%s: read a window of %v h after %s, which waits %v h; expected no less", t.Name, w.Within, first.Name, first.Wait)
			}
		}
	}
	return nil
}

// hours is an error if a figure of a task is out of range.
func (t Task) hours(what string, h float64) error {
	if 0 <= h && h <= MostHours {
		return nil
	}
	return fmt.Errorf("%s: read %v h for the %s; expected between 0 and %d h", t.Name, h, what, MostHours)
}
