//go:build !js

package webui

import (
	"context"
	"io"
	"slices"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/doc"
)

// calendarType is the media type of RFC 5545, section 8.1.
const calendarType = "text/calendar; charset=utf-8; method=PUBLISH"

// eventCalendar serves the sessions of an event for calendars. They ask again and again; the shelf answers.
func (s *Site) eventCalendar(c echo.Context) error {
	x := export{ending: ".ics", mediaType: calendarType, how: "inline"}
	return s.file(c, x, c.Param("event")+"-programme", func(ctx context.Context, w io.Writer) error {
		page, err := s.desk.EventPage(ctx, c.Param("event"))
		if err != nil {
			return err
		}
		last := lastChange(page.Journal)
		return doc.CalendarOf(page.Event, page.Classes, last.Number, last.At).WriteICS(w)
	})
}

// classCalendar serves the session of one class. The event is read, and not the class alone: it is the event's journal
// that tells of a session which was moved.
func (s *Site) classCalendar(c echo.Context) error {
	x := export{ending: ".ics", mediaType: calendarType, how: "inline"}
	return s.file(c, x, c.Param("event")+"-"+c.Param("class")+"-programme", func(ctx context.Context, w io.Writer) error {
		page, err := s.desk.EventPage(ctx, c.Param("event"))
		if err != nil {
			return err
		}
		at := slices.IndexFunc(page.Classes, func(class domain.Class) bool { return class.Slug == c.Param("class") })
		if at < 0 {
			return echo.ErrNotFound
		}
		last := lastChange(page.Journal)
		return doc.ClassCalendarOf(page.Event, page.Classes[at], last.Number, last.At).WriteICS(w)
	})
}
