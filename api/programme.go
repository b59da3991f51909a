package api

import (
	"encoding/json"
	"maps"
	"net/http"
	"slices"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/doc"
)

// alteration is what a write on an event asks for, and what it names.
type alteration struct {
	action domain.EventAction
	named  named
}

// alter makes the handler of an action on an event: its sessions, tracks and sleds. status is what a stored one is
// answered with. If-Match may name any version of the event that the program has read: it is past when the event
// itself was changed since, and not when one of its classes was.
func (s *Server) alter(status int, read func(*sent) alteration) echo.HandlerFunc {
	return s.alterBy(domain.Desk, status, read)
}

// alterBy is [Server.alter] for an action that other roles may do too.
func (s *Server) alterBy(roles domain.Role, status int, read func(*sent) alteration) echo.HandlerFunc {
	return func(c echo.Context) error {
		by, err := s.who(c)
		in, err := s.receiveBy(c, roles, by, err)
		if err != nil {
			return err
		}
		asked := read(in)
		if err := in.body.done(); err != nil {
			return err
		}
		version, err := ifMatch(c)
		if err != nil {
			return err
		}
		receipt, err := s.desk.ChangeEvent(c.Request().Context(), in.by, c.Param("event"), in.key, version, asked.action)
		if err != nil {
			if e, ok := domainError(err); ok && e.Kind == domain.Invalid && isSled(asked.action) {
				return placed(err, join("description", e.Field))
			}
			return err
		}
		asked.named.Event = c.Param("event")
		return answer(c, status, receipt, asked.named)
	}
}

// isSled tells whether the fields that the domain names are those of a description.
func isSled(a domain.EventAction) bool {
	switch a.(type) {
	case domain.AddSled, domain.DescribeSled:
		return true
	default:
		return false
	}
}

// maxBreaks bounds the breaks that one session may be sent with.
const maxBreaks = 20

// readBreaks reads the breaks of a session: [{"from": "2026-09-20T00:30:00Z", "minutes": 20}]. Left out there are none.
func readBreaks(in *sent) (list []domain.Pause) {
	if !in.body.has("breaks") {
		return nil
	}
	for _, b := range in.body.inners("breaks", maxBreaks) {
		list = append(list, domain.Pause{From: b.moment("from"), Minutes: b.whole("minutes")})
		in.body.keep("breaks", b.done())
	}
	return list
}

// readNewSession reads {"name": "Sunday", "starts": "2026-09-20T16:00:00Z"}.
func readNewSession(in *sent) alteration {
	id := in.fresh("id")
	return alteration{domain.AddSession{Session: id, Name: in.body.text("name", maxText), Starts: in.body.moment("starts"), Curfew: in.body.maybeMoment("curfew"), Breaks: readBreaks(in)}, named{ID: &id}}
}

// readSession reads the whole session as it is to be.
func readSession(in *sent) alteration {
	id := in.param("session")
	return alteration{domain.ChangeSession{Session: id, Name: in.body.text("name", maxText), Starts: in.body.moment("starts"), Curfew: in.body.maybeMoment("curfew"), Breaks: readBreaks(in)}, named{ID: &id}}
}

// readNoSession takes a session off the programme.
func readNoSession(in *sent) alteration {
	id := in.param("session")
	return alteration{domain.RemoveSession{Session: id}, named{ID: &id}}
}

// readNewTrack reads {"name": "Track 2"}.
func readNewTrack(in *sent) alteration {
	id := in.fresh("id")
	return alteration{domain.AddTrack{Track: id, Name: in.body.text("name", maxText)}, named{ID: &id}}
}

// readTrack reads the track as it is to be called.
func readTrack(in *sent) alteration {
	id := in.param("track")
	return alteration{domain.RenameTrack{Track: id, Name: in.body.text("name", maxText)}, named{ID: &id}}
}

// readNoTrack takes a track away.
func readNoTrack(in *sent) alteration {
	id := in.param("track")
	return alteration{domain.RemoveTrack{Track: id}, named{ID: &id}}
}

// readNewSled reads {"description": {"name": "Plumb Bob", "gears": 4, "start_holes": 3}}.
func readNewSled(in *sent) alteration {
	id := in.fresh("id")
	sled := readSledCard(in.body)
	sled.ID = id
	return alteration{domain.AddSled{Sled: sled}, named{ID: &id}}
}

// readSled reads the description as it is to be, and the version that was looked at.
func readSled(in *sent) alteration {
	id := in.param("sled")
	sled := readSledCard(in.body)
	sled.ID = id
	return alteration{domain.DescribeSled{Sled: sled, Version: in.body.whole("version")}, named{ID: &id}}
}

// readSledCard reads the description of a sled. It is written out again and given to the one parser of such
// documents; a refusal names the place in the body: description.drive.chain.
func readSledCard(o *object) domain.Sled {
	inner := o.inner("description")
	for _, name := range slices.Sorted(maps.Keys(inner.fields)) {
		if inner.fields[name] == nil {
			inner.refuse(name, "null cannot stand here", "leave out what is not known")
		}
	}
	raw, err := json.Marshal(inner.fields)
	if err != nil || *o.wrong != nil {
		o.keep("description", err)
		return domain.Sled{}
	}
	sled, err := doc.ParseSledCard(raw)
	field := "description"
	if e, ok := domainError(err); ok && e.Field != "" {
		field = join(field, e.Field)
	}
	o.keep(field, err)
	return sled
}

// readPlace reads where a class moves: {"session": "4c…", "track": "77…"}.
func readPlace(in *sent) deed {
	return deed{action: domain.MoveClass{Session: in.body.id("session"), Track: in.body.id("track")}}
}

// readFixedStart reads a fixed start, {"starts": "2026-09-20T00:30:00Z"}; without one nothing is fixed any more.
func readFixedStart(in *sent) deed {
	return deed{action: domain.FixStart{Starts: in.body.maybeMoment("starts")}}
}

// described is a sled with its description, for those who have a pass.
type described struct {
	ID          uuid.UUID       `json:"id"`
	Version     int             `json:"version"`
	Description json.RawMessage `json:"description"`
}

// sledDescription shows the description of a sled. It is for the people of the event: what can be computed from it is
// no matter for the public.
func (s *Server) sledDescription(c echo.Context) error {
	_, page, err := s.staffEvent(c, domain.Desk|domain.Booth|domain.Cab)
	if err != nil {
		return err
	}
	for _, sl := range page.Event.Sleds {
		if sl.ID.String() != c.Param("sled") {
			continue
		}
		description, err := doc.WriteSledCard(sl)
		if err != nil {
			return err
		}
		return send(c, http.StatusOK, described{ID: sl.ID, Version: sl.Version(), Description: description})
	}
	return &domain.Error{Kind: domain.NotFound, Field: "sled", Message: "the event has no such sled", Fix: "read the event, which has the ids of its sleds"}
}
