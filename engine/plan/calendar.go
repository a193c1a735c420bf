package plan

import "time"

// Hours are a stretch of working time in a day, in minutes after midnight by the clock on the wall:
// 0 <= From < To <= 1440.
type Hours struct{ From, To int }

// Week is the working time of each weekday, by time.Weekday: Sunday is 0. The stretches of a day
// stand in order and do not overlap. The zero Week works at any time of day and night.
type Week [7][]Hours

// Span is a stretch of time.
type Span struct{ From, To time.Time }

// Placed is when a task is done.
type Placed struct {
	Work   []Span    // in order, one for each session; none if it has no work
	Worked time.Time // when its work ends
	Done   time.Time // when its wait is over and what follows may begin
}

// Missed is a window that the schedule does not keep.
type Missed struct {
	Task   int       // the task that begins too late
	After  int       // the task it had to follow closely
	Latest time.Time // when it should have begun at the latest
	Begins time.Time // when it does
}

// Schedule is a plan laid into working hours, for one worker.
type Schedule struct {
	Tasks  []Placed // one for each task
	Order  []int    // the tasks in the order in which they begin
	Done   time.Time
	Idle   []Span   // working time before the last work in which all that is left must wait
	Missed []Missed // in the order of the tasks' begin
	Over   []int    // whole tasks that fit into no session: each runs over the end of one
}

// Lay lays tasks into the working hours of one worker, from a moment on, in whose location the
// hours of the week are read. Of the tasks that can begin it takes them by Preference. Work goes on
// from session to session unless the task is Whole; waits run by day and night, and an hour of
// them is an hour also in the night in which the clocks change. A task that opens a window begins
// when the window can be kept, if there is such a time in the next weeks. Times are to the minute;
// work and waits are rounded up. The errors are those of Critical, or say what is wrong with the
// week, or that the work is not done five years after the start.
func Lay(tasks []Task, week Week, start time.Time) (Schedule, error)
