package doc_test

import (
	"bytes"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	ics "github.com/arran4/golang-ical"
	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
	"clayline/domain/doc"
)

// writtenICS is a calendar as it is sent.
func writtenICS(t require.TestingT, c doc.Calendar) string {
	var b bytes.Buffer
	require.NoError(t, c.WriteICS(&b))
	return b.String()
}

// property is what a reader of calendars finds in an entry.
func property(t require.TestingT, e *ics.VEvent, name ics.ComponentProperty) string {
	p := e.GetProperty(name)
	require.NotNil(t, p, name)
	return p.Value
}

// calendarEvent is an event of two tracks and two sessions.
func calendarEvent() (domain.Event, []domain.Class) {
	e := domain.Event{
		Name: "Tarn Hollow Harvest Pull", Place: `Showground; north gate, "A\B"`, Zone: "America/Chicago",
		Tracks: []domain.Track{{ID: uuid.UUID{1}, Name: "Track 1"}, {ID: uuid.UUID{2}, Name: "Track 2"}},
		Sessions: []domain.Session{
			{ID: uuid.UUID{3}, Name: "Afternoon", Starts: time.Date(2026, 9, 19, 18, 0, 0, 0, time.UTC)},
			{ID: uuid.UUID{4}, Name: "Evening", Starts: time.Date(2026, 9, 19, 23, 0, 0, 0, time.UTC)},
		},
	}
	return e, []domain.Class{
		{ID: uuid.UUID{5}, Name: "8,200 lb Field Stock", Session: uuid.UUID{4}, Track: uuid.UUID{1}},
		{ID: uuid.UUID{6}, Name: "36 t Visiting Tractors", Session: uuid.UUID{4}, Track: uuid.UUID{2}},
	}
}

// A calendar program finds the sessions at their times, with their classes, and no end that nobody planned.
func TestTheProgrammeIsReadByACalendar(t *testing.T) {
	t.Parallel()
	e, classes := calendarEvent()
	at := time.Date(2026, 9, 1, 7, 30, 5, 0, time.UTC)
	text := writtenICS(t, doc.CalendarOf(e, classes, 41, at))
	read, err := ics.ParseCalendar(strings.NewReader(text))
	require.NoError(t, err)
	require.Len(t, read.Events(), 2)
	evening := read.Events()[1]
	assert.Equal(t, uuid.UUID{4}.String(), evening.Id())
	assert.Equal(t, "41", property(t, evening, ics.ComponentPropertySequence))
	assert.Equal(t, "20260901T073005Z", property(t, evening, ics.ComponentPropertyDtstamp))
	starts, err := evening.GetStartAt()
	require.NoError(t, err)
	assert.True(t, starts.Equal(e.Sessions[1].Starts))
	assert.Nil(t, evening.GetProperty(ics.ComponentPropertyDtEnd))
	assert.Equal(t, "Tarn Hollow Harvest Pull: Evening", property(t, evening, ics.ComponentPropertySummary))
	assert.Equal(t, e.Place, property(t, evening, ics.ComponentPropertyLocation))
	assert.Equal(t, "8,200 lb Field Stock (Track 1)\n36 t Visiting Tractors (Track 2)", property(t, evening, ics.ComponentPropertyDescription))
	assert.Nil(t, read.Events()[0].GetProperty(ics.ComponentPropertyDescription), "a session without a class has no text")

	one, err := ics.ParseCalendar(strings.NewReader(writtenICS(t, doc.ClassCalendarOf(e, classes[0], 41, at))))
	require.NoError(t, err)
	require.Len(t, one.Events(), 1)
	assert.Equal(t, classes[0].ID.String(), one.Events()[0].Id())
	assert.Equal(t, "Tarn Hollow Harvest Pull: 8,200 lb Field Stock", property(t, one.Events()[0], ics.ComponentPropertySummary))
}

// RFC 5545, section 3.3.11: a backslash, a semicolon, a comma and a line break are escaped in a text.
func TestTextsOfACalendarAreEscaped(t *testing.T) {
	t.Parallel()
	e, classes := calendarEvent()
	text := writtenICS(t, doc.CalendarOf(e, classes, 1, time.Unix(0, 0)))
	assert.Contains(t, text, "LOCATION:Showground\\; north gate\\, \"A\\\\B\"\r\n")
	assert.Contains(t, text, `8\,200 lb Field Stock (Track 1)\n36 t`)
}

// Whatever people call things: no line is longer than 75 octets (RFC 5545, section 3.1), every line ends in CR LF, no
// letter is cut, and a reader gets the same text back.
func TestAnyNameComesBackFromACalendar(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		name := strings.TrimSpace(rapid.StringMatching(`[a-zé東🚜\\;,:" ]{1,120}`).Draw(r, "name"))
		e, classes := calendarEvent()
		e.Name = "x" + name
		text := writtenICS(r, doc.CalendarOf(e, classes, 1, time.Unix(0, 0)))
		require.True(r, strings.HasSuffix(text, "END:VCALENDAR\r\n"))
		for line := range strings.SplitSeq(strings.TrimSuffix(text, "\r\n"), "\r\n") {
			require.LessOrEqual(r, len(line), 75, line)
			require.True(r, utf8.ValidString(line), line)
			require.NotContains(r, line, "\n")
		}
		read, err := ics.ParseCalendar(strings.NewReader(text))
		require.NoError(r, err)
		require.Equal(r, e.Name+": Evening", property(r, read.Events()[1], ics.ComponentPropertySummary))
	})
}

// The breaks of a session stand in its text on the clock of the place, before its classes.
func TestTheBreaksStandInTheCalendar(t *testing.T) {
	t.Parallel()
	e, classes := calendarEvent()
	e.Sessions[1].Breaks = []domain.Pause{{From: e.Sessions[1].Starts.Add(90 * time.Minute), Minutes: 20}}
	c := doc.CalendarOf(e, classes, 41, e.Sessions[0].Starts)
	assert.Equal(t, "Break at about 19:30, 20 min\n8,200 lb Field Stock (Track 1)\n36 t Visiting Tractors (Track 2)", c.Events[1].Text)
	assert.NotContains(t, c.Events[0].Text, "Break")
}

// A fixed start is that of the class in its calendar, and stands behind its name in that of the event.
func TestAFixedStartStandsInTheCalendar(t *testing.T) {
	t.Parallel()
	e, classes := calendarEvent()
	fixed := e.Sessions[1].Starts.Add(90 * time.Minute)
	classes[0].Fixed = fixed
	assert.Contains(t, doc.CalendarOf(e, classes, 41, fixed).Events[1].Text, "8,200 lb Field Stock (Track 1), not before 19:30\n")
	entry := doc.ClassCalendarOf(e, classes[0], 41, fixed).Events[0]
	assert.Equal(t, fixed, entry.Starts)
	assert.Equal(t, "In the session Evening, not before this time.", entry.Text)
	classes[0].Fixed = e.Sessions[1].Starts.Add(-time.Hour)
	assert.Equal(t, e.Sessions[1].Starts, doc.ClassCalendarOf(e, classes[0], 41, fixed).Events[0].Starts, "it begins with its session")
}
