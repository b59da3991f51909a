//go:build !js

package webui

import (
	"context"
	"net/http"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/day"
	"clayline/domain/doc"
	"clayline/webui/templates"
)

// home shows the events of this server, the newest first. It is the one public page that is not kept on the
// shelf, since no journal tells when it changes.
func (s *Site) home(c echo.Context) error {
	events, err := s.desk.Events(c.Request().Context())
	if err != nil {
		return err
	}
	view := templates.Home{Frame: bare(c), Links: []templates.Link{{Text: "Seasons", Href: seasonHref("")}, {Text: "Records", Href: "/records"}}}
	for _, e := range events {
		view.Events = append(view.Events, templates.EventLine{Name: e.Name, Href: eventHref(e), Dates: dates(e), Place: e.Place})
	}
	return show(c, http.StatusOK, view)
}

// event shows the public page of an event: what is on the tracks now, and the programme.
func (s *Site) event(c echo.Context) error {
	return s.public(c, func(ctx context.Context) (templates.Page, error) {
		page, err := s.desk.Live().Day(ctx, c.Param("event"))
		if err != nil {
			return nil, err
		}
		view := templates.Event{
			Frame: s.publicFrame(c, page.Event, page.Journal), Name: page.Event.Name, Place: page.Event.Place, Dates: dates(page.Event),
			Find: eventHref(page.Event) + "/pits", Days: programme(page.Event, page.Classes, windowsOf(page.Event, page.Day)),
			Runs: runs(page.Event, page.Day), Caution: day.Caution,
			Links: []templates.Link{
				{Text: "How the day runs", Href: eventHref(page.Event) + "/day"},
				{Text: "Results to print", Href: eventHref(page.Event) + "/results"},
				{Text: "Results as CSV", Href: eventHref(page.Event) + "/results.csv"},
				{Text: "Results as JSON", Href: eventHref(page.Event) + "/results.json"},
				{Text: "Programme for a calendar", Href: eventHref(page.Event) + "/programme.ics"},
				{Text: "Big screen", Href: eventHref(page.Event) + "/screen"},
			},
		}
		view.Stream = eventStream(page.Event)
		view.Data = doc.EventPreview(page.Event, eventHref(page.Event))
		for i := range page.Classes {
			class := &page.Classes[i]
			if told := class.Told(); onNow(class) {
				view.Now = append(view.Now, templates.TrackNow{
					Hooking: hooking(&told), Track: trackName(page.Event, class), Class: class.Name,
					Href: classHref(page.Event, *class), Sentence: stateSentence(class),
				})
			}
		}
		return view, nil
	})
}

// eventStream is the address of the stream that tells when something of an event has changed.
func eventStream(e domain.Event) string { return "/api/v1/events/" + e.Slug + "/stream" }

// onNow reports whether the class is being pulled at this moment: somebody is on the track, or chooses.
func onNow(c *domain.Class) bool {
	phase := c.Phase()
	return phase == domain.Hooking || phase == domain.ChoiceOpen
}

// trackName returns the name of the track of a class.
func trackName(e domain.Event, c *domain.Class) string {
	for _, t := range e.Tracks {
		if t.ID == c.Track {
			return t.Name
		}
	}
	return ""
}

// programme lays the classes out by day and session, in the order of the programme, on the event's own clock, each with when it is
// likely pulled. A
// day comes again where the sessions are not planned in the order of time.
func programme(e domain.Event, classes []domain.Class, likely map[uuid.UUID]string) []templates.Day {
	var days []templates.Day
	for _, session := range e.Sessions {
		date := session.Starts.In(e.Location()).Format(dayFormat)
		if len(days) == 0 || days[len(days)-1].Name != date {
			days = append(days, templates.Day{Name: date})
		}
		last := &days[len(days)-1]
		last.Sessions = append(last.Sessions, templates.Session{
			Name: session.Name, Time: "from " + clock(e, session.Starts), Breaks: breakWords(e, session), Classes: classLines(e, session, classes, likely),
		})
	}
	return days
}

// classLines lists the classes of a session. The track is named only where there are several.
func classLines(e domain.Event, session domain.Session, classes []domain.Class, likely map[uuid.UUID]string) []templates.ClassLine {
	var lines []templates.ClassLine
	for i := range classes {
		class := &classes[i]
		if class.Session != session.ID {
			continue
		}
		line := templates.ClassLine{Name: class.Name, Href: classHref(e, *class), State: lineState(e, class), Winner: winner(class), Likely: likely[class.ID]}
		line.Now, line.Time = onNow(class), clock(e, class.Fixed)
		if len(e.Tracks) > 1 {
			line.Track = trackName(e, class)
		}
		lines = append(lines, line)
	}
	return lines
}
