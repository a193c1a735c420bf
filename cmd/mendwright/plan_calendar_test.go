package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/emersion/go-ical"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestTheCalendarHoldsTheWorkAndTheWaits: a standard reader finds in the calendar of a plan as many hours of work as
// the plan has, within the hours that the person keeps free, and after each wait a reminder.
func TestTheCalendarHoldsTheWorkAndTheWaits(t *testing.T) {
	job, err := os.ReadFile("../../testdata/jobs/scenarios/kitchen-chair-loose.yaml")
	require.NoError(t, err)
	dir := t.TempDir()
	path, file := filepath.Join(dir, "chair.yaml"), filepath.Join(dir, "chair.ics")
	require.NoError(t, os.WriteFile(path, append(job, "\nplan: {start: 2026-12-04, weekdays: 18:00-21:00, saturdays: 9:00-17:00}\n"...), 0o600))
	var out bytes.Buffer
	require.Equal(t, exitDone, run([]string{"plan", path, "--calendar", file}, strings.NewReader(""), &out, &out), out.String())
	assert.Contains(t, out.String(), "4 h")

	f, err := os.Open(file)
	require.NoError(t, err)
	defer f.Close()
	cal, err := ical.NewDecoder(f).Decode()
	require.NoError(t, err)
	var work, waits time.Duration
	reminders := 0
	for _, e := range cal.Events() {
		from, err := e.DateTimeStart(time.Local)
		require.NoError(t, err)
		to, err := e.DateTimeEnd(time.Local)
		require.NoError(t, err)
		if e.Props.Get(ical.PropTransparency).Value == "TRANSPARENT" {
			waits += to.Sub(from)
			reminders += len(e.Children)
			continue
		}
		work += to.Sub(from)
		from = from.In(time.Local)
		if day := from.Weekday(); day == time.Saturday {
			assert.GreaterOrEqual(t, from.Hour(), 9)
		} else {
			assert.NotEqual(t, time.Sunday, day)
			assert.GreaterOrEqual(t, from.Hour(), 18)
		}
	}
	assert.InDelta(t, 4, work.Hours(), 0.2, "the likely hours of all steps")
	assert.InDelta(t, 96, waits.Hours(), 0.2, "two glued joints, two days each")
	assert.Equal(t, 2, reminders)

	require.Equal(t, exitFailed, run([]string{"plan", path, "--calendar", path}, strings.NewReader(""), &out, &out))
	after, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Contains(t, string(after), "plan: {start", "a file that somebody wrote is not written over")
}
