package doc

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/google/uuid"

	"clayline/domain"
)

// Calendar is the programme of an event as an iCalendar object, RFC 5545, for the calendars of phones. It holds what is
// planned and no more: a session has a start, and no end is made up for it.
type Calendar struct {
	Name   string
	Events []CalendarEvent
}

// CalendarEvent is one entry of a calendar. ID stays the same when the programme changes, so that a calendar which has
// it moves it.
type CalendarEvent struct {
	ID uuid.UUID
	// Sequence grows with every change of the event; it is the number of its last journal line.
	Sequence int64
	// Changed is when that line was stored.
	Changed time.Time
	Starts  time.Time
	Title   string
	Place   string
	Text    string // lines end in a line feed
}

// CalendarOf returns the sessions of an event, with their breaks and classes in the text. Number and at are those of the last
// journal line. "Evening" of the event Tarn Hollow Harvest Pull is titled
//
//	Tarn Hollow Harvest Pull: Evening
func CalendarOf(e domain.Event, classes []domain.Class, number int64, at time.Time) Calendar {
	c := Calendar{Name: e.Name}
	for _, s := range e.Sessions {
		var names []string
		for _, b := range s.Breaks {
			names = append(names, fmt.Sprintf("Break at about %s, %d min", b.From.In(e.Location()).Format("15:04"), b.Minutes))
		}
		for i := range classes {
			if classes[i].Session == s.ID {
				names = append(names, calendarClass(e, classes[i]))
			}
		}
		c.Events = append(c.Events, CalendarEvent{
			ID: s.ID, Sequence: number, Changed: at, Starts: s.Starts, Title: e.Name + ": " + s.Name, Place: e.Place,
			Text: strings.Join(names, "\n"),
		})
	}
	return c
}

// ClassCalendarOf returns the session in which a class is pulled, under the name of the class, or its fixed start where it has
// one; no entry when it has no session.
func ClassCalendarOf(e domain.Event, class domain.Class, number int64, at time.Time) Calendar {
	c := Calendar{Name: e.Name + ": " + class.Name}
	for _, s := range e.Sessions {
		if s.ID == class.Session {
			entry := CalendarEvent{
				ID: class.ID, Sequence: number, Changed: at, Starts: s.Starts, Title: c.Name, Place: e.Place,
				Text: "In the session " + s.Name + ", which begins at this time.",
			}
			if class.Fixed.After(s.Starts) {
				entry.Starts, entry.Text = class.Fixed, "In the session "+s.Name+", not before this time."
			}
			c.Events = append(c.Events, entry)
		}
	}
	return c
}

// calendarClass names a class, with its track where there are several, and its fixed start where it has one.
func calendarClass(e domain.Event, class domain.Class) string {
	words := class.Name
	for _, t := range e.Tracks {
		if t.ID == class.Track && len(e.Tracks) > 1 {
			words += " (" + t.Name + ")"
		}
	}
	if !class.Fixed.IsZero() {
		words += ", not before " + class.Fixed.In(e.Location()).Format("15:04")
	}
	return words
}

// WriteICS writes the calendar as text/calendar in UTF-8. Times are in UTC, which every calendar shows on its own clock.
func (c Calendar) WriteICS(w io.Writer) error {
	lines := []string{"BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Clayline//Programme//EN", "METHOD:PUBLISH", "NAME:" + calendarText(c.Name)}
	for _, e := range c.Events {
		lines = append(lines, "BEGIN:VEVENT", "UID:"+e.ID.String(), "SEQUENCE:"+strconv.FormatInt(e.Sequence, 10),
			"DTSTAMP:"+calendarTime(e.Changed), "DTSTART:"+calendarTime(e.Starts), "SUMMARY:"+calendarText(e.Title))
		if e.Place != "" {
			lines = append(lines, "LOCATION:"+calendarText(e.Place))
		}
		if e.Text != "" {
			lines = append(lines, "DESCRIPTION:"+calendarText(e.Text))
		}
		lines = append(lines, "END:VEVENT")
	}
	var b strings.Builder
	for _, line := range append(lines, "END:VCALENDAR") {
		foldCalendar(&b, line)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// calendarTime writes a time in UTC, RFC 5545, section 3.3.5: "20260919T230000Z".
func calendarTime(t time.Time) string { return t.UTC().Format("20060102T150405Z") }

// calendarText escapes a text, RFC 5545, section 3.3.11. Characters that may not stand in one at all are left out.
func calendarText(s string) string {
	s = strings.Map(func(r rune) rune {
		if r != '\n' && r != '\t' && unicode.IsControl(r) {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, ""))
	return strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`).Replace(s)
}

// calendarOctets is the length of a line at most, without its end: RFC 5545, section 3.1.
const calendarOctets = 75

// foldCalendar writes a line, and where it is too long goes on in the next behind a space. No letter is cut in two.
func foldCalendar(b *strings.Builder, line string) {
	room := calendarOctets
	for _, r := range line {
		if n := utf8.RuneLen(r); n > room {
			b.WriteString("\r\n ")
			room = calendarOctets - 1 - n
		} else {
			room -= n
		}
		b.WriteRune(r)
	}
	b.WriteString("\r\n")
}
