package api

import (
	"context"
	"net/url"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
)

// event is an event with what it has and the state of its classes. Its version grows with every line of the event's
// journal and with every line of its classes.
type event struct {
	versioned
	eventLine
	Tracks  []track     `json:"tracks"`
	Sleds   []sled      `json:"sleds"`
	Classes []classLine `json:"classes"`
}

// eventLine is an event in a list. Zone is the name of its time zone, by which session times are to be shown; the times
// themselves are in UTC.
type eventLine struct {
	Slug     string    `json:"slug"`
	ID       uuid.UUID `json:"id"`
	Name     string    `json:"name"`
	Place    string    `json:"place,omitempty"`
	Zone     string    `json:"zone"`
	Sessions []session `json:"sessions"`
}

// eventList is a part of the list of events.
type eventList struct {
	Events []eventLine `json:"events"`
	Next   string      `json:"next,omitempty"`
}

// track is a track of an event; a class is pulled on one.
type track struct {
	ID   uuid.UUID `json:"id"`
	Name string    `json:"name"`
}

// sled is a sled of an event. Gears and start holes of a setting count from 1 to these numbers. Version counts its
// descriptions.
type sled struct {
	ID         uuid.UUID `json:"id"`
	Name       string    `json:"name"`
	Gears      int       `json:"gears"`
	StartHoles int       `json:"start_holes"`
	Version    int       `json:"version"`
}

// session is a part of the programme of an event, such as an evening, by which classes are sorted.
type session struct {
	ID     uuid.UUID `json:"id"`
	Name   string    `json:"name"`
	Starts time.Time `json:"starts"`
	// Curfew is left out where there is none.
	Curfew *time.Time `json:"curfew,omitempty"`
	Breaks []pause    `json:"breaks,omitempty"`
}

// pause is a break of a session: it begins with the first change of class at its time or later.
type pause struct {
	From    time.Time `json:"from"`
	Minutes int       `json:"minutes"`
}

// eventLineOf writes an event as the list has it.
func eventLineOf(e domain.Event) eventLine {
	line := eventLine{Slug: e.Slug, ID: e.ID, Name: e.Name, Place: e.Place, Zone: e.Zone, Sessions: make([]session, len(e.Sessions))}
	for i, s := range e.Sessions {
		line.Sessions[i] = session{ID: s.ID, Name: s.Name, Starts: s.Starts.UTC(), Curfew: moment(s.Curfew)}
		for _, b := range s.Breaks {
			line.Sessions[i].Breaks = append(line.Sessions[i].Breaks, pause{b.From.UTC(), b.Minutes})
		}
	}
	return line
}

// events lists the events of this server, the newest first. The list is not of one event and so on no shelf; it is
// short, and asked for once by a program that begins.
func (s *Server) events(c echo.Context) error {
	limit, err := limitOf(c)
	if err != nil {
		return err
	}
	place, err := cursorOf(c)
	if err != nil {
		return err
	}
	all, err := s.desk.Events(c.Request().Context())
	if err != nil {
		return err
	}
	cut, next, err := part(all, place, limit, func(e domain.Event) string { return e.ID.String() })
	if err != nil {
		return err
	}
	list := eventList{Events: make([]eventLine, len(cut)), Next: next}
	for i, e := range cut {
		list.Events[i] = eventLineOf(e)
	}
	return s.loose(c, list)
}

// event shows an event.
func (s *Server) event(c echo.Context) error {
	return s.public(c, "event "+c.Param("event"), func(ctx context.Context) (document, error) {
		page, err := s.desk.EventPage(ctx, c.Param("event"))
		if err != nil {
			return nil, err
		}
		told := event{
			versioned: versioned{lastNumber(page.Journal)}, eventLine: eventLineOf(page.Event),
			Tracks: make([]track, len(page.Event.Tracks)), Sleds: make([]sled, len(page.Event.Sleds)), Classes: classLinesOf(page.Classes),
		}
		for i, t := range page.Event.Tracks {
			told.Tracks[i] = track(t)
		}
		for i, sl := range page.Event.Sleds {
			told.Sleds[i] = sled{ID: sl.ID, Name: sl.Name, Gears: sl.Gears, StartHoles: sl.StartHoles, Version: sl.Version()}
		}
		return told, nil
	})
}

// maxParts bounds the tracks, sleds and sessions of an event, each. It keeps one write small; an event with more than a
// few of each is not known.
const maxParts = 50

// planEvent puts an event on this server. All its ids, those of its tracks, sleds and sessions too, are derived from
// the key, so that sending it again after a lost answer plans nothing twice. The address is made of the name.
func (s *Server) planEvent(c echo.Context) error {
	in, err := s.receive(c)
	if err != nil {
		return err
	}
	e := readEvent(in)
	if err := in.body.done(); err != nil {
		return err
	}
	receipt, err := s.desk.PlanEvent(c.Request().Context(), in.by, in.key, e)
	if err != nil {
		return err
	}
	slug := domain.Slug(e.Name)
	return created(c, version1+"/events/"+url.PathEscape(slug), receipt, named{Event: slug, ID: &e.ID})
}

// readEvent reads the plan of an event. A part is named by its place in the body for as long as it has no other name,
// so that its id is derived from tracks[0], sleds[0] and so on.
//
//	{"name": "Harvest Pull", "zone": "America/Chicago", "tracks": [{"name": "Track 1"}],
//	 "sleds": [{"name": "Plumb Bob", "gears": 4, "start_holes": 3}],
//	 "sessions": [{"name": "Saturday evening", "starts": "2026-09-19T23:00:00Z"}]}
func readEvent(in *sent) domain.Event {
	o := in.body
	e := domain.Event{ID: in.derive("event"), Name: o.text("name", maxText), Place: o.maybe("place"), Zone: o.text("zone", maxText)}
	for _, t := range o.inners("tracks", maxParts) {
		e.Tracks = append(e.Tracks, domain.Track{ID: in.derive(t.path), Name: t.text("name", maxText)})
		_ = t.done() // kept for the whole body, as below
	}
	for _, sl := range o.inners("sleds", maxParts) {
		e.Sleds = append(e.Sleds, domain.Sled{
			ID: in.derive(sl.path), Name: sl.text("name", maxText), Gears: sl.whole("gears"), StartHoles: sl.whole("start_holes"),
		})
		_ = sl.done()
	}
	for _, se := range o.inners("sessions", maxParts) {
		e.Sessions = append(e.Sessions, domain.Session{ID: in.derive(se.path), Name: se.text("name", maxText), Starts: se.moment("starts"), Curfew: se.maybeMoment("curfew")})
		_ = se.done()
	}
	distinct(o, "tracks", e.Tracks, func(t domain.Track) string { return t.Name })
	distinct(o, "sleds", e.Sleds, func(s domain.Sled) string { return s.Name })
	return e
}

// distinct refuses two things of the same name in the list at field: people tell them apart by nothing else. Sessions
// may share one, since they have a time too.
func distinct[T any](o *object, field string, list []T, name func(T) string) {
	seen := make(map[string]bool, len(list))
	for _, item := range list {
		if seen[name(item)] {
			o.refuse(field, "two of them are called "+name(item), "give each a name of its own")
		}
		seen[name(item)] = true
	}
}
