package webui

import (
	"fmt"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
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

// frame is what all pages of an event share; by is who reads it, the zero By on public pages.
func (s *Site) frame(c echo.Context, e domain.Event, by desk.By) templates.Frame {
	f := templates.Frame{
		Event: e.Name, EventHref: eventHref(e), Again: c.Request().URL.Path,
		AsOf: s.now().In(e.Location()).Format(secondsFormat),
	}
	if by.Role != 0 {
		f.Pass = strings.ToUpper(by.Role.String()[:1]) + by.Role.String()[1:]
		if by.Device != "" {
			f.Pass += " · " + by.Device
		}
		f.Leave = (*refused)(nil).make("leave", "/leave", nil)
	}
	return f
}

// publicFrame is what the public pages of an event share. It names no pass, since one page is for all, and tells as of
// the last of the lines and not of the clock: a page on which nothing but the time differed would be sent to a crowd
// for nothing.
func (s *Site) publicFrame(c echo.Context, e domain.Event, lines []desk.Line) templates.Frame {
	f := s.frame(c, e, desk.By{})
	f.AsOf = ""
	if at := lastChange(lines).At; !at.IsZero() {
		f.AsOf = at.In(e.Location()).Format(secondsFormat)
	}
	return f
}

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

// classView is what the public pages of a class share.
func (s *Site) classView(c echo.Context, page desk.ClassPage) templates.Frame {
	f := s.publicFrame(c, page.Event, page.Journal)
	f.Context = where(page.Event, page.Class)
	return f
}

// classFrame is what the staff pages of a class share. After an action the address says its journal number, and
// the page what it did.
func (s *Site) classFrame(c echo.Context, page desk.ClassPage, by desk.By) templates.Frame {
	f := s.frame(c, page.Event, by)
	f.Context = where(page.Event, page.Class)
	if number := c.QueryParam("stored"); number != "" {
		f.Notice = notice(page, number)
	}
	return f
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
