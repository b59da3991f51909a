package domain

import (
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"

	"github.com/google/uuid"
)

// Event is one pulling event: a place, a few days, tracks, sleds and the sessions into which its classes fall.
// Its classes are not in it: each is decided alone. Tracks, sleds and sessions are in the order in which they were
// planned; [EventAction] says what changes in them later.
type Event struct {
	ID       uuid.UUID
	Slug     string // permanent part of its address
	Name     string
	Place    string
	Zone     string // IANA time zone of the place, such as Europe/Amsterdam
	Tracks   []Track
	Sleds    []Sled
	Sessions []Session
	// Order is its classes in the order of the programme, by id, where the event was read to be changed; a page has the
	// classes themselves.
	Order []uuid.UUID
	// Inspections of its sleds are read for the log of a sled, and for nothing else.
	Inspections []Inspection
}

// Track is a pulling track of an event.
type Track struct {
	ID   uuid.UUID
	Name string
}

// Sled is a weight-transfer sled as far as a setting needs it: how many box gears and start holes it has, and what
// else people know of it. Both are counted from 1; a setting outside them is a slip of the pen.
type Sled struct {
	ID         uuid.UUID
	Name       string
	Gears      int
	StartHoles int
	// Changes is how often its description was written anew since it was planned.
	Changes int
	Card    SledCard
}

// Session is a part of the programme: a name and the time at which it starts, in UTC. [Event.Location] is the
// clock on which people read it.
type Session struct {
	ID     uuid.UUID
	Name   string
	Starts time.Time
	// Curfew is when the last vehicle must have pulled, by the permit of the place; zero where there is none. It stops
	// nothing: people do; see [StopClass].
	Curfew time.Time
	// Breaks are in the order of the evening. One begins with the first change of class at its time or later.
	Breaks []Pause
}

// longestSession is how long after its start a session without a curfew is taken to be over: no programme that was read runs
// longer in one go. Common practice, no published source.
const longestSession = 12 * time.Hour

// Over reports whether the time of the session is past: its curfew, or half a day after its start where there is none. It holds
// nothing up: clocks and plans differ, and who plans into such a session is told.
//
//	starts 19 September 18:00, curfew 23:00      over from 23:00 on
//	starts 19 September 18:00                    over from 20 September 06:00 on
func (s Session) Over(now time.Time) bool {
	ends := s.Curfew
	if ends.IsZero() {
		ends = s.Starts.Add(longestSession)
	}
	return !now.Before(ends)
}

// Pause is a break of a session, on all tracks. It begins at From, or with the change of class that comes next.
type Pause struct {
	From    time.Time
	Minutes int
}

// Length is how long the break is.
func (p Pause) Length() time.Duration { return time.Duration(p.Minutes) * time.Minute }

// Bounds on the breaks of a session.
const (
	maxBreaks       = 20
	maxBreakMinutes = 600
)

// Equal reports whether two sessions are the same in everything.
func (s Session) Equal(o Session) bool {
	return s.ID == o.ID && s.Name == o.Name && s.Starts.Equal(o.Starts) && s.Curfew.Equal(o.Curfew) && slices.EqualFunc(s.Breaks, o.Breaks, Pause.equal)
}

func (p Pause) equal(o Pause) bool { return p.From.Equal(o.From) && p.Minutes == o.Minutes }

// check refuses a curfew before the start, or so late that it belongs to another day, and breaks that are none or not one
// after the other.
func (s Session) check() error {
	after := s.Curfew.Sub(s.Starts)
	switch {
	case s.Curfew.IsZero():
		return s.checkBreaks()
	case after <= 0:
		return invalid("curfew", "the curfew is not after the start of "+s.Name, "give a later time, or none")
	case after >= 24*time.Hour:
		return invalid("curfew", "the curfew is a day or more after the start of "+s.Name, "give one within a day after it, or none")
	}
	return s.checkBreaks()
}

// checkBreaks refuses what no crew could keep.
func (s Session) checkBreaks() error {
	if len(s.Breaks) > maxBreaks {
		return invalid("breaks", fmt.Sprintf("%s has more than %d breaks", s.Name, maxBreaks), "leave some out")
	}
	from := s.Starts
	for _, b := range s.Breaks {
		switch {
		case b.Minutes < 1 || b.Minutes > maxBreakMinutes:
			return invalid("breaks", fmt.Sprintf("a break of %d minutes is none", b.Minutes), fmt.Sprintf("give 1 to %d minutes", maxBreakMinutes))
		case b.From.Before(from):
			return invalid("breaks", "a break of "+s.Name+" begins before the session, or before the one ahead of it is over", "give the breaks in their order, after the start")
		case b.From.Sub(s.Starts) >= 24*time.Hour:
			return invalid("breaks", "a break of "+s.Name+" is a day or more after its start", "give a time within a day after it")
		}
		from = b.From.Add(b.Length())
	}
	return nil
}

// Check says what is missing from the plan of an event, naming the field; nil when it can be pulled. It does
// not ask whether names are unique: the database does, where two people may plan at once.
func (e Event) Check() error {
	switch {
	case strings.TrimSpace(e.Name) == "":
		return invalid("name", "the event has no name", "give it one")
	case e.Slug == "":
		return invalid("name", "the name has no letter or figure for its address", "write it with letters")
	case len(e.Tracks) == 0:
		return invalid("tracks", "the event has no track", "name at least one")
	case len(e.Sleds) == 0:
		return invalid("sleds", "the event has no sled", "name at least one")
	case len(e.Sessions) == 0:
		return invalid("sessions", "the event has no session", "give at least one with its start")
	}
	// Local is the zone of whatever machine the program runs on, and no place.
	if _, err := time.LoadLocation(e.Zone); err != nil || e.Zone == "" || e.Zone == "Local" {
		return &Error{Kind: Invalid, Field: "zone", Cause: err,
			Message: fmt.Sprintf("%q is not a time zone", e.Zone), Fix: "write one such as Europe/Amsterdam or America/Chicago"}
	}
	if err := e.checkNames(); err != nil {
		return err
	}
	for _, s := range e.Sessions {
		if err := s.check(); err != nil {
			return err
		}
	}
	for _, s := range e.Sleds {
		if s.Gears < 1 || s.Gears > 20 || s.StartHoles < 1 || s.StartHoles > 20 {
			return invalid("sleds", fmt.Sprintf("sled %s has no gears or start holes", s.Name), "give 1 to 20 of each")
		}
		if err := s.Check(); err != nil {
			return err
		}
	}
	return nil
}

// checkNames refuses names that are missing, too long, or the same for two tracks or two sleds, which people would
// not tell apart.
func (e Event) checkNames() error {
	if _, err := text("name", e.Name); err != nil {
		return err
	}
	if _, err := text("place", e.Place); err != nil {
		return err
	}
	taken := make(map[part]bool)
	for _, named := range e.parts() {
		name, err := required(named.field, "a name", named.name)
		if err != nil {
			return err
		}
		key := part{named.field, name}
		if taken[key] && named.field != "sessions" {
			return invalid(named.field, "two of them are called "+name, "give each a name of its own")
		}
		taken[key] = true
	}
	return nil
}

// part is something of an event that bears a name, and the field that it came from.
type part struct{ field, name string }

func (e Event) parts() []part {
	var list []part
	for _, t := range e.Tracks {
		list = append(list, part{"tracks", t.Name})
	}
	for _, s := range e.Sleds {
		list = append(list, part{"sleds", s.Name})
	}
	for _, s := range e.Sessions {
		list = append(list, part{"sessions", s.Name})
	}
	return list
}

// Location returns the event's time zone, or UTC when it has none. A zone that the machine does not know any
// more shows times in UTC rather than none.
func (e Event) Location() *time.Location {
	if zone, err := time.LoadLocation(e.Zone); err == nil {
		return zone
	}
	return time.UTC
}

// Slug makes the permanent part of an address out of a name: "8,200 lb Field Stock" gives
// "8200-lb-field-stock". Letters of any script and figures stay, commas, points and apostrophes vanish, and
// everything else is a hyphen between words. A name without a letter or figure gives "".
func Slug(name string) string {
	var b strings.Builder
	gap := false
	for _, r := range strings.ToLower(name) {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			gap = false
			b.WriteRune(r)
		case r != ',' && r != '.' && r != '\'':
			gap = true
		}
	}
	return b.String()
}

// Complete completes the plan of a class with what the event has, and refuses a session, track or sled it does
// not have. The sled is found by its id and copied whole.
func (e Event) Complete(plan PlanClass) (PlanClass, error) {
	plan.Event = e.ID
	for _, s := range e.Sleds {
		if s.ID == plan.Sled.ID {
			plan.Sled = s
		}
	}
	switch {
	case !slices.ContainsFunc(e.Sessions, func(s Session) bool { return s.ID == plan.Session }):
		return plan, invalid("session", "the event has no such session", "choose one of its sessions")
	case !slices.ContainsFunc(e.Tracks, func(t Track) bool { return t.ID == plan.Track }):
		return plan, invalid("track", "the event has no such track", "choose one of its tracks")
	case plan.Sled.Gears == 0:
		return plan, invalid("sled", "the event has no such sled", "choose one of its sleds")
	}
	return plan, nil
}
