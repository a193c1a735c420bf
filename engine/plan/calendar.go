package plan

import (
	"fmt"
	"slices"
	"time"
)

// Placed is when a task is done.
type Placed struct {
	Begin  time.Time // of its work, or of its wait if it has no work
	Work   []Span    // one for each session in which it is worked on
	Worked time.Time // when its work ends and its wait begins
	Done   time.Time // when its wait is over and what follows may begin
}

// Missed is a window that the schedule does not keep.
type Missed struct {
	Task   int       // the task that begins too late
	After  int       // the task it had to follow closely
	Latest time.Time // when it should have begun at the latest
}

// Schedule is a plan laid into the working hours of one worker.
type Schedule struct {
	Tasks  []Placed // one for each task
	Order  []int    // the tasks in the order in which they begin
	Done   time.Time
	Idle   []Span   // working time before the last work ends in which nothing is worked on
	Missed []Missed // in the order in which the tasks begin
	Over   []int    // whole tasks that fit into no session, each laid past the end of one, in order
}

// Lay lays tasks into the working hours of one worker, from a moment on, in whose location the
// hours of the week are read. What can begin first begins first, and of several by Preference.
// Work goes on from session to session unless the task is Whole; waits run by day and night, in
// hours that pass, not in those that the clock shows.
//
// A window is kept where that is easy: a task that opens one begins only when what must follow can
// follow in time, if there is such a moment within the next nine days, and nothing else is begun
// that would make a task miss its window. A window that is missed all the same is in the schedule.
//
// Times are to the minute; work and waits are rounded up, and so is the start. The errors are those
// of Critical and of Week.Valid, or say which task is not done MostYears after the start.
func Lay(tasks []Task, week Week, start time.Time) (Schedule, error) {
	prefer, err := Preference(tasks)
	if err != nil {
		return Schedule{}, err
	}
	if err := week.Valid(); err != nil {
		return Schedule{}, err
	}
	if whole := start.Truncate(time.Minute); whole.Before(start) {
		start = whole.Add(time.Minute)
	} else {
		start = whole
	}
	l := &layer{
		tasks: tasks, prefer: prefer, free: start, sessions: newSessions(week, start),
		follow: make([][]opened, len(tasks)), laid: make([]bool, len(tasks)), over: make([]bool, len(tasks)), hopes: map[moment]bool{},
		out: Schedule{Tasks: make([]Placed, len(tasks)), Done: start},
	}
	for _, i := range prefer {
		for _, w := range tasks[i].Windows {
			l.follow[w.After] = append(l.follow[w.After], opened{i, hours(w.Within)})
		}
	}
	for range tasks {
		next, err := l.next()
		if err != nil {
			return Schedule{}, err
		}
		l.lay(next)
	}
	l.tell()
	l.idle()
	return l.out, nil
}

// hours are a time in h as whole minutes.
func hours(h float64) time.Duration { return time.Duration(minutes(h)) * time.Minute }

// layer lays tasks one by one.
type layer struct {
	tasks    []Task
	prefer   []int
	sessions *sessions
	follow   [][]opened // what must follow each task closely
	free     time.Time  // from when on the worker has nothing to do
	laid     []bool
	over     []bool // past the end of its session
	hopes    map[moment]bool
	looks    int
	out      Schedule
}

// opened is a task that must begin within a time after the work of another.
type opened struct {
	task   int
	within time.Duration
}

// moment is a task that begins at a minute, counted from 1970, and how far one looks from there.
type moment struct {
	task   int
	minute int64
	far    bool
}

// stay is a task at a place in the calendar.
type stay struct {
	task          int
	begin, worked time.Time
	over          bool // runs past the end of its session
}

// fit finds the first place for a task from a moment on, as if nothing else had to be done; false
// if there is none within MostYears.
func (l *layer) fit(task int, from time.Time) (stay, bool) {
	work := hours(l.tasks[task].Work)
	switch {
	case work == 0:
		return stay{task: task, begin: from, worked: from}, !from.After(l.sessions.end)
	case l.tasks[task].Whole:
		return l.fitWhole(task, from, work)
	}
	s := stay{task: task}
	for i := l.sessions.from(from); ; i++ {
		session, ok := l.sessions.at(i)
		if !ok {
			return s, false
		}
		begin := later(session.From, from)
		if s.begin.IsZero() {
			s.begin = begin
		}
		room := session.To.Sub(begin)
		if work <= room {
			s.worked = begin.Add(work)
			return s, true
		}
		work -= room
	}
}

// ahead is how far ahead a better place is looked for: the week repeats itself, and the first day
// may be cut short.
const ahead = 9 * 24 * time.Hour

// fitWhole finds the first session that holds all of a task's work, or, if none does in the time
// ahead, the one that comes closest.
func (l *layer) fitWhole(task int, from time.Time, work time.Duration) (stay, bool) {
	var best Span
	for i := l.sessions.from(from); ; i++ {
		session, ok := l.sessions.at(i)
		if !ok || best.Long() > 0 && session.From.Sub(from) > ahead {
			break
		}
		session.From = later(session.From, from)
		if session.Long() > best.Long() {
			best = session
		}
		if session.Long() >= work {
			break
		}
	}
	end := best.From.Add(work)
	return stay{task, best.From, end, end.After(best.To)}, best.Long() > 0
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// ready is from when on a task may begin, the worker aside; false if something before it is not
// laid yet.
func (l *layer) ready(task int) (time.Time, bool) {
	from := l.sessions.start
	for _, before := range l.tasks[task].After {
		if !l.laid[before] {
			return from, false
		}
		from = later(from, l.out.Tasks[before].Done)
	}
	return from, true
}

// latest is the last moment at which a task that is ready keeps all its windows; false if it has
// none.
func (l *layer) latest(task int) (latest time.Time, has bool) {
	for _, w := range l.tasks[task].Windows {
		if end := l.out.Tasks[w.After].Worked.Add(hours(w.Within)); !has || end.Before(latest) {
			latest, has = end, true
		}
	}
	return latest, has
}

// pending is a task that is ready and has a window that can still be kept.
type pending struct {
	stay
	ready, latest time.Time
}

// next is the task to lay next, and where.
func (l *layer) next() (stay, error) {
	var could []stay
	var urgent []pending
	for _, i := range l.prefer {
		from, ready := l.ready(i)
		if l.laid[i] || !ready {
			continue
		}
		if hours(l.tasks[i].Work) > 0 {
			from = later(from, l.free)
		}
		s, ok := l.fit(i, from)
		if !ok {
			return stay{}, fmt.Errorf("%s is not done %d years after %s; expected more working time or less work", l.tasks[i].Name, MostYears, l.sessions.start.Format(time.DateOnly))
		}
		latest, has := l.latest(i)
		if has && !s.begin.After(latest) {
			urgent = append(urgent, pending{s, from, latest})
		}
		could = append(could, l.better(s, latest, has))
	}
	slices.SortStableFunc(could, func(a, b stay) int { return a.begin.Compare(b.begin) })
	for _, s := range could {
		if !slices.ContainsFunc(urgent, func(p pending) bool { return l.spoils(s, p) }) {
			return s, nil
		}
	}
	// Each would make another miss its window. The one whose window closes first goes first.
	slices.SortStableFunc(urgent, func(a, b pending) int { return a.latest.Compare(b.latest) })
	return urgent[0].stay, nil
}

// spoils says whether a task laid at its place would make a pending one miss its window.
func (l *layer) spoils(s stay, p pending) bool {
	if s.task == p.task || s.begin.Equal(s.worked) {
		return false
	}
	after, ok := l.fit(p.task, later(p.ready, s.worked))
	return !ok || after.begin.After(p.latest)
}

// step is how finely a better place is looked for.
const step = 30 * time.Minute

// better is the first place from s on, in the time ahead and before a window of the task's own
// closes, from which all that must follow closely can, and what must follow that. If there is none it
// is the first from which at least the next ones can, and if there is none of those s itself.
func (l *layer) better(s stay, latest time.Time, has bool) stay {
	end := s.begin.Add(ahead)
	if has && !s.begin.After(latest) && latest.Before(end) {
		end = latest
	}
	for _, far := range []bool{true, false} {
		if found, ok := l.hopeful(s, end, far); ok {
			return found
		}
	}
	return s
}

// mostLooks is how many places one plan looks at far ahead. A piece needs some hundreds; a long
// chain of windows that cannot be kept would need millions.
const mostLooks = 200_000

// hopeful is the first place from s on, and not after end, from which what must follow can; none is,
// far ahead, once too many were looked at.
func (l *layer) hopeful(s stay, end time.Time, far bool) (stay, bool) {
	for ok := true; ok && !s.begin.After(end); s, ok = l.fit(s.task, s.begin.Add(step)) {
		if far {
			l.looks++
		}
		if far && l.looks > mostLooks {
			return s, false
		}
		if l.hope(s, far) {
			return s, true
		}
	}
	return s, false
}

// hope says whether all that must follow a task closely can, if nothing else comes between; far asks
// the same of what follows.
func (l *layer) hope(s stay, far bool) bool {
	key := moment{s.task, s.begin.Unix() / 60, far}
	if known, ok := l.hopes[key]; ok {
		return known
	}
	all := !slices.ContainsFunc(l.follow[s.task], func(o opened) bool {
		first, ok := l.fit(o.task, s.worked.Add(hours(l.tasks[s.task].Wait)))
		end := s.worked.Add(o.within)
		if !ok || !far {
			return !ok || first.begin.After(end)
		}
		_, ok = l.hopeful(first, end, far)
		return !ok
	})
	l.hopes[key] = all
	return all
}

// lay puts a task where it goes.
func (l *layer) lay(s stay) {
	t := &l.out.Tasks[s.task]
	*t = Placed{Begin: s.begin, Worked: s.worked, Done: s.worked.Add(hours(l.tasks[s.task].Wait))}
	if s.begin.Before(s.worked) {
		t.Work = l.spans(s)
		l.free = s.worked
	}
	l.laid[s.task], l.over[s.task] = true, s.over
	l.out.Order = append(l.out.Order, s.task)
	l.out.Done = later(l.out.Done, t.Done)
}

// tell puts the tasks in the order in which they begin, which a task that only waits may do before
// one that was laid first, and says what is not as it should be.
func (l *layer) tell() {
	slices.SortStableFunc(l.out.Order, func(a, b int) int { return l.out.Tasks[a].Begin.Compare(l.out.Tasks[b].Begin) })
	for _, i := range l.out.Order {
		for _, w := range l.tasks[i].Windows {
			if latest := l.out.Tasks[w.After].Worked.Add(hours(w.Within)); l.out.Tasks[i].Begin.After(latest) {
				l.out.Missed = append(l.out.Missed, Missed{i, w.After, latest})
			}
		}
		if l.over[i] {
			l.out.Over = append(l.out.Over, i)
		}
	}
}

// spans are the stretches of work of a task at its place.
func (l *layer) spans(s stay) []Span {
	if l.tasks[s.task].Whole {
		return []Span{{s.begin, s.worked}}
	}
	var work []Span
	for i := l.sessions.from(s.begin); ; i++ {
		session, ok := l.sessions.at(i)
		if !ok || !session.From.Before(s.worked) {
			return work
		}
		session.From = later(session.From, s.begin)
		if session.To.After(s.worked) {
			session.To = s.worked
		}
		work = append(work, session)
	}
}

// idle finds the working time before the last work ends in which nothing is worked on.
func (l *layer) idle() {
	var work []Span
	for _, i := range l.out.Order {
		work = append(work, l.out.Tasks[i].Work...)
	}
	at := l.sessions.start
	for _, w := range work {
		for i := l.sessions.from(at); at.Before(w.From); i++ {
			session, ok := l.sessions.at(i)
			if !ok || !session.From.Before(w.From) {
				break
			}
			gap := Span{later(session.From, at), session.To}
			if gap.To.After(w.From) {
				gap.To = w.From
			}
			if gap.From.Before(gap.To) {
				l.out.Idle = append(l.out.Idle, gap)
			}
		}
		at = later(at, w.To)
	}
}
