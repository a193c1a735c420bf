package calfile_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/emersion/go-ical"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mendwright/cmd/mendwright/calfile"
)

var noon = time.Date(2026, 3, 28, 12, 0, 0, 0, time.UTC)

// table is a top that is coated in two sessions and then dries.
func table() calfile.Calendar {
	east := time.FixedZone("an hour and a half east", 90*60)
	return calfile.Calendar{Job: "Aunt Runa's table", Made: noon, Events: []calfile.Event{
		{Step: "top: sand", Summary: "Sand the top; P120, then P180", From: noon.Add(time.Hour), To: noon.Add(3 * time.Hour)},
		{Step: "top: sand", Summary: "Sand the top, on", From: noon.Add(20 * time.Hour).In(east), To: noon.Add(21 * time.Hour).In(east)},
		{Step: "top: coat", Summary: "Coat the top", Details: "Thin, along the grain.\nBrush: 50 mm \\ flat", From: noon.Add(21 * time.Hour), To: noon.Add(22 * time.Hour)},
		{Step: "top: coat", Summary: "The top dries", Waits: true, Remind: "The top is dry: coat again", From: noon.Add(22 * time.Hour), To: noon.Add(46 * time.Hour)},
	}}
}

func written(t testing.TB, cal calfile.Calendar) string {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, calfile.Write(&out, cal))
	return out.String()
}

func read(t testing.TB, text string) *ical.Calendar {
	t.Helper()
	cal, err := ical.NewDecoder(strings.NewReader(text)).Decode()
	require.NoError(t, err)
	return cal
}

func prop(t testing.TB, c *ical.Component, name string) string {
	t.Helper()
	require.Len(t, c.Props.Values(name), 1, name)
	s, err := c.Props.Text(name)
	require.NoError(t, err)
	return s
}

// TestAnotherReaderFindsWhatWasWritten: times, texts, what is busy and what reminds.
func TestAnotherReaderFindsWhatWasWritten(t *testing.T) {
	cal := table()
	got := read(t, written(t, cal))
	assert.Equal(t, "2.0", prop(t, got.Component, ical.PropVersion))
	assert.Contains(t, prop(t, got.Component, ical.PropProductID), "mendwright")
	events := got.Events()
	require.Len(t, events, len(cal.Events))
	ids := map[string]bool{}
	for i, e := range events {
		want := cal.Events[i]
		from, err := e.DateTimeStart(nil)
		require.NoError(t, err)
		to, err := e.DateTimeEnd(nil)
		require.NoError(t, err)
		made, err := e.Props.DateTime(ical.PropDateTimeStamp, nil)
		require.NoError(t, err)
		assert.True(t, from.Equal(want.From) && to.Equal(want.To) && made.Equal(cal.Made), "%v to %v", from, to)
		assert.Equal(t, want.Summary, prop(t, e.Component, ical.PropSummary))
		if want.Details != "" {
			assert.Equal(t, want.Details, prop(t, e.Component, ical.PropDescription))
		}
		assert.Equal(t, map[bool]string{true: "TRANSPARENT", false: "OPAQUE"}[want.Waits], prop(t, e.Component, ical.PropTransparency))
		ids[prop(t, e.Component, ical.PropUID)] = true
		if want.Remind == "" {
			assert.Empty(t, e.Children)
			continue
		}
		require.Len(t, e.Children, 1)
		alarm := e.Children[0]
		assert.Equal(t, ical.CompAlarm, alarm.Name)
		assert.Equal(t, "DISPLAY", prop(t, alarm, ical.PropAction))
		assert.Equal(t, want.Remind, prop(t, alarm, ical.PropDescription))
		trigger := alarm.Props.Get(ical.PropTrigger)
		assert.Equal(t, "END", trigger.Params.Get("RELATED"))
		after, err := trigger.Duration()
		require.NoError(t, err)
		assert.Zero(t, after)
	}
	assert.Len(t, ids, len(events), "each stretch has its own identity")
}

// TestTheFileIsWrittenAsTheStandardSays, byte by byte, and its first event stays as it is.
func TestTheFileIsWrittenAsTheStandardSays(t *testing.T) {
	cal := table()
	cal.Events = cal.Events[2:]
	assert.Equal(t, strings.ReplaceAll(`BEGIN:VCALENDAR
VERSION:2.0
PRODID:-//mendwright//plan//EN
BEGIN:VEVENT
UID:UID1
DTSTAMP:20260328T120000Z
DTSTART:20260329T090000Z
DTEND:20260329T100000Z
SUMMARY:Coat the top
DESCRIPTION:Thin\, along the grain.\nBrush: 50 mm \\ flat
TRANSP:OPAQUE
END:VEVENT
BEGIN:VEVENT
UID:UID2
DTSTAMP:20260328T120000Z
DTSTART:20260329T100000Z
DTEND:20260330T100000Z
SUMMARY:The top dries
TRANSP:TRANSPARENT
BEGIN:VALARM
ACTION:DISPLAY
DESCRIPTION:The top is dry: coat again
TRIGGER;RELATED=END:PT0S
END:VALARM
END:VEVENT
END:VCALENDAR
`, "\n", "\r\n"), strings.NewReplacer(uids(t, cal)[0], "UID1", uids(t, cal)[1], "UID2").Replace(written(t, cal)))
}

func uids(t testing.TB, cal calfile.Calendar) (out []string) {
	for _, e := range read(t, written(t, cal)).Events() {
		out = append(out, prop(t, e.Component, ical.PropUID))
	}
	return out
}

// TestAStepKeepsItsIdentity: in a plan made anew, with other times, words and order, each stretch of
// a step is the same event, and that of another job another.
func TestAStepKeepsItsIdentity(t *testing.T) {
	first, again := table(), table()
	again.Made = noon.Add(time.Hour)
	for i := range again.Events {
		e := &again.Events[i]
		e.Summary, e.Details, e.Remind = "other words", "", ""
		e.From, e.To = e.From.Add(48*time.Hour), e.To.Add(49*time.Hour)
	}
	e := again.Events
	again.Events = []calfile.Event{e[3], e[0], e[2], e[1]}
	a, b := uids(t, first), uids(t, again)
	assert.Equal(t, a, []string{b[1], b[3], b[2], b[0]})
	again.Job = "Aunt Runa's chair"
	for _, id := range uids(t, again) {
		assert.NotContains(t, a, id)
	}
}

// TestWhatCannotBeAnEventIsRefused.
func TestWhatCannotBeAnEventIsRefused(t *testing.T) {
	for says, spoil := range map[string]func(*calfile.Calendar){
		"without events":       func(c *calfile.Calendar) { c.Events = nil },
		"made":                 func(c *calfile.Calendar) { c.Made = time.Time{} },
		"expected it to end":   func(c *calfile.Calendar) { c.Events[1].To = c.Events[1].From.Add(time.Millisecond) },
		"top: sand":            func(c *calfile.Calendar) { c.Events[0].To = c.Events[0].From.Add(-time.Hour) },
		"the years 1 to 9999":  func(c *calfile.Calendar) { c.Events[1].To = noon.AddDate(8000, 0, 0) },
		"read 0001-01-01 00:0": func(c *calfile.Calendar) { c.Events[1].From = time.Time{} },
	} {
		cal := table()
		spoil(&cal)
		assert.ErrorContains(t, calfile.Write(&bytes.Buffer{}, cal), says)
	}
	assert.ErrorIs(t, calfile.Write(full{}, table()), errFull)
}

// full is a disk without room.
type full struct{}

var errFull = errors.New("no space left")

func (full) Write([]byte) (int, error) { return 0, errFull }

// asRead is a text as the format can carry it: with one kind of line break and no other control
// characters.
func asRead(s string) string {
	s = strings.ReplaceAll(strings.ReplaceAll(strings.ToValidUTF8(s, "\uFFFD"), "\r\n", "\n"), "\r", "\n")
	return strings.Map(func(r rune) rune {
		if r < ' ' && r != '\n' && r != '\t' || r == 0x7f {
			return ' '
		}
		return r
	}, s)
}

// FuzzText: any text comes back as it was, in lines that are no longer than the standard allows
// and whole characters.
func FuzzText(f *testing.F) {
	f.Add("Sand; then, \\n stain\r\nand rest\tfor a day")
	f.Add(strings.Repeat("Lärche, Nußbaum 漆 🪑 ", 12))
	f.Add("BEGIN:VEVENT\nEND:VCALENDAR\r")
	f.Add(" \x00\x7f\xff\u2028")
	f.Fuzz(func(t *testing.T, s string) {
		cal := calfile.Calendar{Job: s, Made: noon, Events: []calfile.Event{{Step: s, Summary: s, Details: s, Remind: s, From: noon, To: noon.Add(time.Hour)}}}
		text := written(t, cal)
		lines := strings.Split(strings.TrimSuffix(text, "\r\n"), "\r\n")
		for _, line := range lines {
			require.LessOrEqual(t, len(line), 75)
			require.True(t, utf8.ValidString(line), "no character is cut in two: %q", line)
			require.NotContains(t, line, "\r")
			require.NotContains(t, line, "\n")
		}
		events := read(t, text).Events()
		require.Len(t, events, 1)
		require.Equal(t, asRead(s), prop(t, events[0].Component, ical.PropSummary))
		if s != "" {
			require.Equal(t, asRead(s), prop(t, events[0].Component, ical.PropDescription))
			require.Equal(t, asRead(s), prop(t, events[0].Children[0], ical.PropDescription))
		}
	})
}
