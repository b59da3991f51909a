package webui

import (
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/desk"
)

// Formats of times, on the event's own clock: people at a track read theirs, wherever the reader is.
const (
	clockFormat   = "15:04"
	secondsFormat = "15:04:05"
	dayFormat     = "Monday 2 January"
	dateFormat    = "2 January 2006"
)

// clock writes a time of day at the event; "" for none.
func clock(e domain.Event, t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.In(e.Location()).Format(clockFormat)
}

// eventHref is the address of an event.
func eventHref(e domain.Event) string { return "/e/" + e.Slug }

// classHref is the address of a class, under which all its pages are.
func classHref(e domain.Event, c domain.Class) string { return eventHref(e) + "/" + c.Slug }

// lastChange is the newest line of those that change a public page: letting somebody in does not. The lines come newest
// first. Where all of them let somebody in it is the oldest, after which nothing changed; without any it is zero.
func lastChange(lines []desk.Line) (last desk.Line) {
	for _, last = range lines {
		if !last.Staff {
			break
		}
	}
	return last
}

// notice says what the action did that has just led here. It is told from the journal, so that an invented
// number in the address tells nothing; "" when the line is not among the last.
func notice(page desk.ClassPage, number string) string {
	for _, l := range page.Journal {
		if fmt.Sprint(l.Number) == number {
			return "Stored as number " + number + ": " + whatHappened(page.Class, l)
		}
	}
	return ""
}

// where names the session and track of a class: "Evening session · Track 1".
func where(e domain.Event, c domain.Class) string {
	var parts []string
	for _, s := range e.Sessions {
		if s.ID == c.Session {
			parts = append(parts, s.Name)
		}
	}
	for _, t := range e.Tracks {
		if t.ID == c.Track {
			parts = append(parts, t.Name)
		}
	}
	return strings.Join(parts, " · ")
}

// dates writes the days of an event: "19 – 20 September 2026". What is the same at both ends is said once, but
// for the year.
func dates(e domain.Event) string {
	if len(e.Sessions) == 0 {
		return ""
	}
	first, last := e.Sessions[0].Starts, e.Sessions[0].Starts
	for _, s := range e.Sessions {
		if s.Starts.Before(first) {
			first = s.Starts
		}
		if s.Starts.After(last) {
			last = s.Starts
		}
	}
	from, to := first.In(e.Location()), last.In(e.Location())
	switch {
	case from.Format(dateFormat) == to.Format(dateFormat):
		return from.Format(dateFormat)
	case from.Month() == to.Month() && from.Year() == to.Year():
		return from.Format("2") + " – " + to.Format(dateFormat)
	default:
		return from.Format("2 January") + " – " + to.Format(dateFormat)
	}
}

// sledLogHref is the address of a sled's log.
func sledLogHref(e domain.Event, sled uuid.UUID) string {
	return eventHref(e) + "/cab/sled/" + sled.String()
}
