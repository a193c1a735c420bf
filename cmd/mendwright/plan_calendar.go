package main

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"time"

	"mendwright/cmd/mendwright/calfile"
	"mendwright/cmd/mendwright/screen"
	"mendwright/engine"
)

// calendarOf turns a plan with dates into events: its work, and its waits as free time that ends with a reminder.
// Its times are read in the given zone, that of the shop. The error says what the job file lacks for dates.
func calendarOf(p *engine.Plan, made time.Time, zone *time.Location) (calfile.Calendar, error) {
	cal := calfile.Calendar{Job: p.Job, Made: made}
	if p.Time.Problem != "" {
		return cal, errors.New("the plan has no dates: " + p.Time.Problem)
	}
	if p.Time.Start == "" {
		return cal, errors.New("the plan has no dates: say in the job file when you begin and when you work, such as plan: {start: 2026-12-05, weekdays: 18:00-21:00}")
	}
	for i := range p.Steps {
		s := &p.Steps[i]
		if len(s.Work) == 0 {
			continue
		}
		title := fmt.Sprintf("%d %s", i+1, screen.StepHead(s, p))
		title, _, _ = strings.Cut(title, ": ")
		var do []string
		for _, d := range s.Do {
			do = append(do, d.Do)
		}
		var worked time.Time
		for _, w := range s.Work {
			from, to, err := between(w.From, w.To, zone)
			if err != nil {
				return cal, err
			}
			cal.Events = append(cal.Events, calfile.Event{Step: s.ID, Summary: title, Details: strings.Join(do, "\n"), From: from, To: to})
			worked = to
		}
		ready, err := engine.Moment(s.Ready, zone)
		if err != nil {
			return cal, err
		}
		if ready.After(worked) {
			var why []string
			for _, w := range s.Waits {
				why = append(why, screen.WaitLine(w, p))
			}
			cal.Events = append(cal.Events, calfile.Event{Step: s.ID + " wait", Summary: "Wait: " + title, Details: strings.Join(why, "\n"),
				From: worked, To: ready, Waits: true, Remind: "The wait is over: " + title})
		}
	}
	return cal, nil
}

func between(from, to string, zone *time.Location) (a, b time.Time, err error) {
	if a, err = engine.Moment(from, zone); err == nil {
		b, err = engine.Moment(to, zone)
	}
	return a, b, err
}

// calendarFile is the calendar of a plan as a file.
func calendarFile(p *engine.Plan) ([]byte, error) {
	cal, err := calendarOf(p, time.Now(), time.Local)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if err := calfile.Write(&b, cal); err != nil {
		return nil, fmt.Errorf("calendar: %w", err)
	}
	return b.Bytes(), nil
}
