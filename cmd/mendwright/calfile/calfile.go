// Package calfile writes the steps of a plan as an iCalendar file (RFC 5545), which the calendar of
// a telephone or a desk reads.
package calfile

import (
	"bufio"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"time"
)

// Calendar is the steps of one job.
type Calendar struct {
	Job    string    // name of the job; with the step's name it makes the identity of an event
	Made   time.Time // when the file is written
	Events []Event
}

// Event is one stretch of work or of waiting. Times are written in UTC and to the second, so that a
// reader shows them by its own clock.
type Event struct {
	Step    string // name of the step; stays the same when the plan is made anew
	Summary string // what the calendar shows
	Details string // more of it; may be empty
	From    time.Time
	To      time.Time // after From
	Waits   bool      // nobody is busy: shown as free time
	Remind  string    // what to say when it ends; nothing is said if empty
}

// product names the writer of the file, as RFC 5545, 3.7.3 wants it.
const product = "-//mendwright//plan//EN"

// Write writes a calendar. The same job and step have the same identity in every file, the second
// stretch of a step another than the first, so that a reader that is given a new plan moves the
// events it has. Errors: a calendar without events or time, which the format does not allow; an
// event that does not end after it begins, or lies outside the years 1 to 9999; what w says.
func Write(w io.Writer, cal Calendar) error {
	if len(cal.Events) == 0 {
		return errors.New("a calendar without events cannot be written")
	}
	if err := writable(cal.Made); err != nil {
		return fmt.Errorf("when the calendar was made: %w", err)
	}
	out := bufio.NewWriter(w)
	line(out, "BEGIN", "VCALENDAR")
	line(out, "VERSION", "2.0")
	line(out, "PRODID", product)
	stretches := map[Event]int{}
	for _, e := range cal.Events {
		of := Event{Step: e.Step, Waits: e.Waits}
		stretches[of]++
		if err := e.write(out, uid(cal.Job, of, stretches[of]), cal.Made); err != nil {
			return fmt.Errorf("the step %q: %w", e.Step, err)
		}
	}
	line(out, "END", "VCALENDAR")
	if err := out.Flush(); err != nil {
		return fmt.Errorf("write the calendar: %w", err)
	}
	return nil
}

// uid is the identity of the nth stretch of a step, unique but for chance.
func uid(job string, of Event, n int) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%q %q %t %d", job, of.Step, of.Waits, n))
	return fmt.Sprintf("%x@mendwright", sum[:16])
}

func (e Event) write(out *bufio.Writer, uid string, made time.Time) error {
	if err := errors.Join(writable(e.From), writable(e.To)); err != nil {
		return err
	}
	if from, to := utc(e.From), utc(e.To); from >= to {
		return fmt.Errorf("it begins at %s and ends at %s; expected it to end later", from, to)
	}
	line(out, "BEGIN", "VEVENT")
	line(out, "UID", uid)
	line(out, "DTSTAMP", utc(made))
	line(out, "DTSTART", utc(e.From))
	line(out, "DTEND", utc(e.To))
	line(out, "SUMMARY", text(e.Summary))
	if e.Details != "" {
		line(out, "DESCRIPTION", text(e.Details))
	}
	if e.Waits {
		line(out, "TRANSP", "TRANSPARENT")
	} else {
		line(out, "TRANSP", "OPAQUE")
	}
	if e.Remind != "" {
		line(out, "BEGIN", "VALARM")
		line(out, "ACTION", "DISPLAY")
		line(out, "DESCRIPTION", text(e.Remind))
		line(out, "TRIGGER;RELATED=END", "PT0S")
		line(out, "END", "VALARM")
	}
	line(out, "END", "VEVENT")
	return nil
}

// utc writes a time as the format wants it; of times that are writable the later one is the greater
// text.
func utc(t time.Time) string { return t.UTC().Format("20060102T150405Z") }

// writable is an error for a time whose year has not four digits, or that nobody set.
func writable(t time.Time) error {
	if y := t.UTC().Year(); t.IsZero() || y < 1 || y > 9999 {
		return fmt.Errorf("read %v; expected a time in the years 1 to 9999", t)
	}
	return nil
}
