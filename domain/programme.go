package domain

import (
	"fmt"
	"reflect"
	"slices"
	"time"

	"github.com/google/uuid"
)

// EventAction is something that people do to an event after it was planned: its sessions, tracks and sleds change, and the
// order of its classes; the classes themselves do not. Like an [Action] it is a plain value, and the journal's payload.
type EventAction interface {
	decide(e *Event, used InUse, at time.Time) error
}

// InUse counts the classes in each session and on each track, by id.
type InUse map[uuid.UUID]int

// EventActionKind is one line of [EventKinds].
type EventActionKind struct {
	Name  string
	Roles Role
	Zero  EventAction
}

// EventKinds lists every event action with its name in the journal, which is never used for another, and the roles that may
// do it. What plans is the desk's; a sled is inspected by its crew.
func EventKinds() []EventActionKind {
	return []EventActionKind{
		{"session", Desk, AddSession{}}, {"session-changed", Desk, ChangeSession{}}, {"session-removed", Desk, RemoveSession{}},
		{"track", Desk, AddTrack{}}, {"track-renamed", Desk, RenameTrack{}}, {"track-removed", Desk, RemoveTrack{}},
		{"sled", Desk, AddSled{}}, {"sled-described", Desk, DescribeSled{}}, {"order", Desk, OrderClasses{}},
		{"inspection", Desk | Cab, InspectSled{}},
	}
}

// KindOfEventAction returns the line of [EventKinds] for an event action; the zero one, which no role may do, for a type
// that is not in the table.
func KindOfEventAction(a EventAction) EventActionKind {
	for _, k := range EventKinds() {
		if reflect.TypeOf(k.Zero) == reflect.TypeOf(a) {
			return k
		}
	}
	return EventActionKind{}
}

// DecideEvent returns the event as it is after the action, or an [Error]; e itself is not changed.
func DecideEvent(e Event, a EventAction, used InUse, at time.Time) (Event, error) {
	after := e
	after.Tracks, after.Sleds, after.Sessions = slices.Clone(e.Tracks), slices.Clone(e.Sleds), slices.Clone(e.Sessions)
	after.Inspections = slices.Clone(e.Inspections)
	if err := a.decide(&after, used, at); err != nil {
		return e, err
	}
	return after, nil
}

// AddSession adds a session at the end of the programme.
type AddSession struct {
	Session uuid.UUID
	Name    string
	Starts  time.Time
	Curfew  time.Time // zero for none
	Breaks  []Pause
}

func (a AddSession) decide(e *Event, _ InUse, _ time.Time) error {
	name, err := required("name", "the name of the session", a.Name)
	if err != nil {
		return err
	}
	if slices.ContainsFunc(e.Sessions, func(s Session) bool { return s.ID == a.Session }) {
		return idTaken()
	}
	added := Session{ID: a.Session, Name: name, Starts: a.Starts.UTC(), Curfew: a.Curfew.UTC(), Breaks: slices.Clone(a.Breaks)}
	if err := added.check(); err != nil {
		return err
	}
	e.Sessions = append(e.Sessions, added)
	return e.atMost("sessions", len(e.Sessions))
}

// ChangeSession gives a session another name, start, curfew or breaks. Its classes stay in it.
type ChangeSession struct {
	Session uuid.UUID
	Name    string
	Starts  time.Time
	Curfew  time.Time // zero for none
	Breaks  []Pause
}

func (a ChangeSession) decide(e *Event, _ InUse, _ time.Time) error {
	name, err := required("name", "the name of the session", a.Name)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(e.Sessions, func(s Session) bool { return s.ID == a.Session })
	if i < 0 {
		return notFound("the event has no such session", "look at its programme")
	}
	changed := Session{ID: a.Session, Name: name, Starts: a.Starts.UTC(), Curfew: a.Curfew.UTC(), Breaks: slices.Clone(a.Breaks)}
	if err := changed.check(); err != nil {
		return err
	}
	e.Sessions[i] = changed
	return nil
}

// RemoveSession takes a session without classes off the programme; the last one stays.
type RemoveSession struct{ Session uuid.UUID }

func (a RemoveSession) decide(e *Event, used InUse, _ time.Time) error {
	i := slices.IndexFunc(e.Sessions, func(s Session) bool { return s.ID == a.Session })
	switch {
	case i < 0:
		return notFound("the event has no such session", "look at its programme")
	case used[a.Session] > 0:
		return wrongState(classesIn(used[a.Session], "in this session"), "move them to another session first")
	case len(e.Sessions) == 1:
		return wrongState("it is the only session of the event", "change it instead")
	}
	e.Sessions = slices.Delete(e.Sessions, i, i+1)
	return nil
}

// AddTrack adds a track.
type AddTrack struct {
	Track uuid.UUID
	Name  string
}

func (a AddTrack) decide(e *Event, _ InUse, _ time.Time) error {
	name, err := required("name", "the name of the track", a.Name)
	if err != nil {
		return err
	}
	if slices.ContainsFunc(e.Tracks, func(t Track) bool { return t.ID == a.Track }) {
		return idTaken()
	}
	if err := e.trackFree(a.Track, name); err != nil {
		return err
	}
	e.Tracks = append(e.Tracks, Track{ID: a.Track, Name: name})
	return e.atMost("tracks", len(e.Tracks))
}

// RenameTrack gives a track another name.
type RenameTrack struct {
	Track uuid.UUID
	Name  string
}

func (a RenameTrack) decide(e *Event, _ InUse, _ time.Time) error {
	name, err := required("name", "the name of the track", a.Name)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(e.Tracks, func(t Track) bool { return t.ID == a.Track })
	if i < 0 {
		return notFound("the event has no such track", "look at its programme")
	}
	if err := e.trackFree(a.Track, name); err != nil {
		return err
	}
	e.Tracks[i].Name = name
	return nil
}

// RemoveTrack takes a track without classes away; the last one stays.
type RemoveTrack struct{ Track uuid.UUID }

func (a RemoveTrack) decide(e *Event, used InUse, _ time.Time) error {
	i := slices.IndexFunc(e.Tracks, func(t Track) bool { return t.ID == a.Track })
	switch {
	case i < 0:
		return notFound("the event has no such track", "look at its programme")
	case used[a.Track] > 0:
		return wrongState(classesIn(used[a.Track], "on this track"), "move them to another track first")
	case len(e.Tracks) == 1:
		return wrongState("it is the only track of the event", "rename it instead")
	}
	e.Tracks = slices.Delete(e.Tracks, i, i+1)
	return nil
}

// AddSled adds a sled with its description. Sled.ID is its id, and Changes is not looked at.
type AddSled struct{ Sled Sled }

func (a AddSled) decide(e *Event, _ InUse, _ time.Time) error {
	if slices.ContainsFunc(e.Sleds, func(s Sled) bool { return s.ID == a.Sled.ID }) {
		return idTaken()
	}
	if err := e.sledFree(a.Sled); err != nil {
		return err
	}
	a.Sled.Changes = 0
	e.Sleds = append(e.Sleds, a.Sled)
	return e.atMost("sleds", len(e.Sleds))
}

// DescribeSled writes the description of a sled anew, for the classes that are planned from then on: a planned class
// keeps the one that it was planned with. Version is the one that was looked at, so that nobody writes over what they
// have not seen.
type DescribeSled struct {
	Sled    Sled
	Version int
}

func (a DescribeSled) decide(e *Event, _ InUse, _ time.Time) error {
	i := slices.IndexFunc(e.Sleds, func(s Sled) bool { return s.ID == a.Sled.ID })
	switch {
	case i < 0:
		return notFound("the event has no such sled", "look at its sleds")
	case e.Sleds[i].Version() != a.Version:
		return &Error{Kind: Stale, Field: "description", Message: fmt.Sprintf("the sled has version %d of its description by now", e.Sleds[i].Version()), Fix: "read it again, look, and send again"}
	}
	if err := e.sledFree(a.Sled); err != nil {
		return err
	}
	a.Sled.Changes = e.Sleds[i].Changes + 1
	e.Sleds[i] = a.Sled
	return nil
}

// sledFree checks a sled and that no other has its name.
func (e *Event) sledFree(sled Sled) error {
	if err := sled.Check(); err != nil {
		return err
	}
	if slices.ContainsFunc(e.Sleds, func(s Sled) bool { return s.ID != sled.ID && s.Name == sled.Name }) {
		return invalid("name", "another sled is called "+sled.Name, "give it a name of its own")
	}
	return nil
}

// trackFree refuses the name of another track.
func (e *Event) trackFree(track uuid.UUID, name string) error {
	if slices.ContainsFunc(e.Tracks, func(t Track) bool { return t.ID != track && t.Name == name }) {
		return invalid("name", "another track is called "+name, "give it a name of its own")
	}
	return nil
}

// maxParts bounds the sessions, tracks and sleds of an event, each; an event with more than a few is not known.
const maxParts = 50

func (e *Event) atMost(field string, n int) error {
	if n > maxParts {
		return invalid(field, fmt.Sprintf("the event has %d %s already", maxParts, field), "remove one that is not used")
	}
	return nil
}

// classesIn counts classes in a refusal.
func classesIn(n int, where string) string {
	if n == 1 {
		return "one class is " + where
	}
	return fmt.Sprintf("%d classes are %s", n, where)
}

// idTaken refuses the id of something new that something has.
func idTaken() error { return invalid("id", "that id is taken", "give a new UUID, or none") }

// MoveClass puts a class into another session or onto another track, until its first hook is called: from then on
// people stand where the programme sent them. A fixed start is left behind with the session. Whether the event has the session and the track, the database says.
type MoveClass struct {
	Session uuid.UUID
	Track   uuid.UUID
}

func (a MoveClass) decide(c *Class, _ time.Time) error {
	if c.begun() {
		return wrongState("the first hook was called, and the class stays where it is pulled", "leave it where it is")
	}
	if c.Session != a.Session {
		c.Fixed = time.Time{} // a time of the session that it leaves
	}
	c.Session, c.Track = a.Session, a.Track
	return nil
}

// FixStart says when a class begins at the soonest, until its first hook is called; the zero time fixes nothing any more.
// It holds nobody back: what comes before may take longer, and people begin when they are ready.
type FixStart struct{ Starts time.Time }

func (a FixStart) decide(c *Class, _ time.Time) error {
	if c.begun() {
		return wrongState("the first hook was called, and the class has its start", "leave it as it is")
	}
	c.Fixed = a.Starts.UTC()
	return nil
}

// Movable reports whether the class can still be moved to another session or track.
func (c *Class) Movable() bool { return !c.begun() && c.Official.Made.IsZero() }
