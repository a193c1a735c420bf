package plan

import (
	"fmt"
	"slices"
	"sort"
	"time"
)

// Hours are a stretch of working time in a day, in minutes after midnight by the clock on the wall:
// 0 <= From < To <= 1440.
type Hours struct{ From, To int }

// Week is the working time of each weekday, by time.Weekday: Sunday is 0. The stretches of a day
// stand in order and do not overlap. The zero Week works at any time of day and night.
type Week [7][]Hours

// Valid says which stretch of which day cannot be.
func (w Week) Valid() error {
	for day, stretches := range w {
		last := 0
		for _, h := range stretches {
			if h.From < last || h.To <= h.From || h.To > 24*60 {
				return fmt.Errorf("%s: read working time from minute %d to %d; expected stretches in order within minutes %d and 1440", time.Weekday(day), h.From, h.To, last)
			}
			last = h.To
		}
	}
	return nil
}

func (w Week) anytime() bool {
	return !slices.ContainsFunc(w[:], func(h []Hours) bool { return len(h) > 0 })
}

// Span is a stretch of time.
type Span struct{ From, To time.Time }

// Long is how long the span is.
func (s Span) Long() time.Duration { return s.To.Sub(s.From) }

// MostYears is how far ahead a plan is laid.
const MostYears = 5

const mostDays = MostYears * 366

// sessions are the stretches of working time from a moment on, found as far as they are asked for.
// Each day's are read off the clock on the wall by itself, so that work begins at nine also after
// the clocks have changed; stretches that touch, as over midnight, are one.
type sessions struct {
	week       Week
	start, end time.Time
	day        int // the next to read, counted from that of the start
	found      []Span
	ready      int // how many of those found can grow no more
}

func newSessions(week Week, start time.Time) *sessions {
	s := &sessions{week: week, start: start, end: start.AddDate(MostYears, 0, 0)}
	if week.anytime() {
		s.found, s.ready = []Span{{start, s.end}}, 1
		s.day = MostYears * 366
	}
	return s
}

// at is a session by its number, the first is 0; false after the last.
func (s *sessions) at(i int) (Span, bool) {
	for i >= s.ready && s.day < mostDays {
		s.readDay()
	}
	if i >= s.ready {
		return Span{}, false
	}
	return s.found[i], true
}

func (s *sessions) readDay() {
	y, m, d := s.start.Date()
	noon := time.Date(y, m, d+s.day, 12, 0, 0, 0, s.start.Location()) // which is of that day whatever the clocks do
	for _, h := range s.week[noon.Weekday()] {
		wall := func(minute int) time.Time { return time.Date(y, m, d+s.day, 0, minute, 0, 0, s.start.Location()) }
		from, to := wall(h.From), wall(h.To)
		if from.Before(s.start) {
			from = s.start
		}
		last := len(s.found) - 1
		if last >= 0 && from.Before(s.found[last].To) { // the clock went back over both
			from = s.found[last].To
		}
		switch {
		case !from.Before(to):
		case last >= 0 && from.Equal(s.found[last].To):
			s.found[last].To = to
		default:
			s.found = append(s.found, Span{from, to})
		}
	}
	if s.day++; s.day == mostDays {
		s.ready = len(s.found)
	} else {
		s.ready = max(0, len(s.found)-1)
	}
}

// from is the number of the first session that ends after a moment; at knows none of it after the
// last.
func (s *sessions) from(t time.Time) int {
	for s.day < mostDays && (s.ready == 0 || !s.found[s.ready-1].To.After(t)) {
		s.readDay()
	}
	return sort.Search(s.ready, func(i int) bool { return s.found[i].To.After(t) })
}
