package plan

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
	Within float64 // h from the end of that task's work, at least its wait
}

// Arc says that one task comes before another.
type Arc struct{ Before, After int }

// Cycle is the error of tasks that wait for each other in a ring.
type Cycle struct {
	Tasks []int // in the order in which each must come before the next, and the last before the first
	Arcs  []int // by index into the arcs given: the one from each task to the next
}

// Order puts n tasks into an order that respects every arc. Of those that could come next it takes
// the least by less, and where less tells two not apart the lower index. The error is a *Cycle, the
// shortest there is, or says which arc names no task.
func Order(n int, arcs []Arc, less func(a, b int) bool) ([]int, error)

// Times are when a task can and must happen, in h from the start of the plan, with hands enough
// for everything at once. A task ends with its wait.
type Times struct {
	EarlyStart, EarlyFinish float64
	LateStart, LateFinish   float64 // at the latest, if the plan is not to take longer
	Slack                   float64 // LateStart - EarlyStart, never below 0
	Critical                bool    // no slack
}

// Network is what follows from the tasks alone, before anybody's hours are looked at.
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

// Critical works out when each task can and must happen, and the longest path. The error names a
// task whose figures are out of range or whose name is taken, or is a *Cycle whose arcs count
// through the After of the tasks in turn.
func Critical(tasks []Task) (Network, error)

// Preference is the order in which to take tasks where several could come next: the one with the
// longest tail (its own and all that must follow, work and waits) first, so that long waits begin
// early; then by stage; then by name. It respects every After. The errors are those of Critical.
func Preference(tasks []Task) ([]int, error)
