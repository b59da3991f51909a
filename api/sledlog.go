package api

import (
	"net/http"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
)

// noApproval stands on every log, so that no program shows it as more than it is.
const noApproval = "A record and no approval: local rules, licensed officials and the sled operator decide."

// sledLog is the record of a sled over events, the newest first; points are what its crew looks at before one. More says that
// there are more events than were read.
type sledLog struct {
	ID     uuid.UUID   `json:"id"`
	Name   string      `json:"name"`
	Says   string      `json:"says"`
	Points []string    `json:"points"`
	Events []sledEvent `json:"events"`
	More   bool        `json:"more,omitempty"`
}

// sledEvent is a sled at one event.
type sledEvent struct {
	Event       string       `json:"event"`
	Name        string       `json:"name"`
	Sled        uuid.UUID    `json:"sled"`
	Classes     []sledClass  `json:"classes"`
	Inspections []inspection `json:"inspections"`
}

// sledClass is what a sled did in one class. Hooks count every pull, those too that do not count in the class.
type sledClass struct {
	Class     string      `json:"class"`
	Name      string      `json:"name"`
	Hooks     int         `json:"hooks"`
	FullPulls int         `json:"full_pulls"`
	HandDrops int         `json:"hand_drops"`
	Faults    []sledFault `json:"faults"`
	Resets    []sledReset `json:"resets"`
}

// sledFault is a hook of which something was noted, or that was made again because of the sled.
type sledFault struct {
	Round  string `json:"round"`
	Hook   int    `json:"hook"`
	Entry  string `json:"entry"`
	What   string `json:"what,omitempty"`
	Words  string `json:"words,omitempty"`
	Rehook string `json:"rehook,omitempty"`
}

// sledReset is a setting that took the place of another within a round.
type sledReset struct {
	Round   string    `json:"round"`
	Setting int       `json:"setting"`
	Reason  string    `json:"reason"`
	At      time.Time `json:"at"`
}

// sledLog shows the log of a sled to its crew and the desk. A pass for every event reads all events that have a sled of the
// name; one for this event reads this one.
func (s *Server) sledLog(c echo.Context) error {
	by, _, err := s.staffEvent(c, domain.Cab|domain.Desk)
	if err != nil {
		return err
	}
	sled, err := parseID(c.Param("sled"))
	if err != nil {
		return &domain.Error{Kind: domain.NotFound, Field: "sled", Message: "the event has no such sled", Fix: "read the event, which has the ids of its sleds"}
	}
	log, err := s.desk.SledLog(c.Request().Context(), by, c.Param("event"), sled)
	if err != nil {
		return err
	}
	return send(c, http.StatusOK, sledLogOf(log))
}

// sledLogOf writes a log.
func sledLogOf(log desk.SledLog) sledLog {
	written := sledLog{ID: log.Sled.ID, Name: log.Sled.Name, Says: noApproval, Points: log.Sled.InspectionList(), Events: make([]sledEvent, len(log.Events)), More: log.More}
	for i, e := range log.Events {
		at := sledEvent{Event: e.Event.Slug, Name: e.Event.Name, Sled: e.Sled.ID, Classes: make([]sledClass, len(e.Classes)), Inspections: make([]inspection, len(e.Inspections))}
		for j := range e.Classes {
			at.Classes[j] = sledClassOf(&e.Classes[j])
		}
		for j, found := range e.Inspections {
			at.Inspections[j] = inspectionOf(found)
		}
		written.Events[i] = at
	}
	return written
}

// sledClassOf writes what the sled did in a class.
func sledClassOf(c *domain.Class) sledClass {
	work := c.SledWork()
	written := sledClass{
		Class: c.Slug, Name: c.Name, Hooks: work.Hooks, FullPulls: work.FullPulls, HandDrops: work.HandDrops,
		Faults: make([]sledFault, len(work.Faults)), Resets: make([]sledReset, len(work.Resets)),
	}
	for i, f := range work.Faults {
		written.Faults[i] = sledFault{Round: f.Round.String(), Hook: f.Hook, Entry: f.Entry, What: f.Difference.What.String(), Words: f.Difference.Words, Rehook: f.Rehook}
	}
	for i, r := range work.Resets {
		written.Resets[i] = sledReset{Round: r.Round.String(), Setting: r.Revision, Reason: r.Reason, At: r.At.UTC()}
	}
	return written
}
