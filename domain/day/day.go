// Package day says how the day of an event runs: for every class of it when it is likely to begin and to be over, how that
// stands to what was to be expected beforehand, and what becomes of the curfew. It turns an event and its classes into what
// package forecast is told, and back. It knows no clock: all of it follows from what is stored, so that the same journal
// gives the same windows.
//
// # What is told to the forecast
//
// Each track has a day of its own. The cycles seen are the times from call to call of a round against one setting, and the
// moment from which windows count is the last that was stored on the track. Then come, in this order, the hook under way,
// those who wait, further class rounds, the pull-off with as many as are expected, and then the classes that have not
// begun: first by session, then as planned. A session begins no sooner than its start; between two classes lies [Change],
// and a break of the session where its time has come; a class with a fixed start waits for it; before a round whose sled is set anew lies [Set].
//
// # The plan
//
// Planned is what was to be expected at the start of a session, before any hook: the middle of the same windows, from the
// cycles known beforehand. What is behind or ahead is the difference to it.
//
// Windows are estimates; the call in the pits counts.
package day

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/forecast"
)

// What lies between hooks beside a cycle, and how much it differs: common practice, no published source.
const (
	Change     = 10 * time.Minute // from the last hook of a class to the first call of the next
	changeGive = 4 * time.Minute
	Set        = 5 * time.Minute // before a further round or a pull-off, for which the sled is set anew
	setGive    = 3 * time.Minute
)

// Day is the day of an event.
type Day struct {
	Tracks []Track // those that have a class, in the order of the event
}

// Track is the day on one track.
type Track struct {
	Track domain.Track
	// AsOf is the moment from which the windows count: the last that was stored of a hook or a setting, or the start of the
	// programme while there is none.
	AsOf    time.Time
	Begun   bool    // something was called
	Classes []Class // in the order in which they are pulled, as far as it is known
	Curfews []Curfew
}

// State says how far a class is.
type State uint8

// How far a class is.
const (
	ToCome  State = iota // nobody was called yet
	Running              // from the first call until it is decided
	Done                 // decided or stopped
	Empty                // nobody is entered, so that nothing can be said
)

// Class is one class of the day.
type Class struct {
	ID         uuid.UUID
	Slug, Name string
	Session    uuid.UUID
	State      State
	// Planned is when it was to be expected beforehand; zero of one that nobody is entered in.
	Planned Times
	// Pulled is when it was pulled, as far as it was: zero where that has not come.
	Pulled Times
	// Starts and Ends are when that is likely; zero where it is known, or where nothing can be said.
	Starts, Ends Window
	// Cycle is the usual time from call to call that was known beforehand, and Known where it is from.
	Cycle time.Duration
	Known Known
	// PullOff is how many hooks are expected in pull-offs of which it is not known yet who is in them.
	PullOff float64
	// Calls are when those who wait in the round at hand are likely called, in its order; none before the draw, and none of
	// who is next where nothing is between. RoundEnds is when that round is likely over.
	Calls     []Call
	RoundEnds Window
}

// Rough is when a class is likely to begin and to be over, as a text that changes only with windows that are widened to five
// minutes, or with how far the class is. It is for finding out whether there is anything to tell.
func (c *Class) Rough() string {
	starts, ends := c.Starts.Widened(), c.Ends.Widened()
	return fmt.Sprint(c.State, starts.Early.Unix(), starts.Late.Unix(), ends.Early.Unix(), ends.Late.Unix())
}

// Call is when an entry is likely called.
type Call struct {
	Entry uuid.UUID
	Window
}

// Times are a beginning and an end.
type Times struct{ Start, End time.Time }

// Window is when something is likely: in a tenth of all days before Early, in a half before Middle, in nine tenths before
// Late.
type Window struct{ Early, Middle, Late time.Time }

// IsZero reports whether there is no window.
func (w Window) IsZero() bool { return w.Middle.IsZero() }

// Curfew is what becomes of the curfew of a session on a track.
type Curfew struct {
	Session uuid.UUID
	At      time.Time
	// Past is how likely the last class of the session ends after it, from 0 to 1.
	Past float64
	// Cut is the first class that more likely than not ends after it, by its index, and -1 where there is none: what would
	// have to be cut to keep it. CutPast is how likely that one ends after it.
	Cut     int
	CutPast float64
}

// Of finds a class and the track that it is on; false where the day has none such.
func (d Day) Of(class uuid.UUID) (Track, Class, bool) {
	for _, t := range d.Tracks {
		for _, c := range t.Classes {
			if c.ID == class {
				return t, c, true
			}
		}
	}
	return Track{}, Class{}, false
}

// Of says how the day of an event runs. Classes are in the order of the programme; paces are what earlier days say of how
// long a hook takes, and may be nil.
func Of(e domain.Event, classes []domain.Class, paces []Pace) Day {
	var d Day
	for _, t := range e.Tracks {
		var on []*domain.Class
		for i := range classes {
			if classes[i].Track == t.ID {
				on = append(on, &classes[i])
			}
		}
		if len(on) > 0 {
			d.Tracks = append(d.Tracks, trackOf(e, t, on, paces))
		}
	}
	return d
}

// trackOf says how the day runs on one track.
func trackOf(e domain.Event, t domain.Track, classes []*domain.Class, paces []Pace) Track {
	sessions := slices.SortedStableFunc(slices.Values(e.Sessions), func(a, b domain.Session) int { return a.Starts.Compare(b.Starts) })
	place := func(c *domain.Class) int {
		return slices.IndexFunc(sessions, func(s domain.Session) bool { return s.ID == c.Session })
	}
	slices.SortStableFunc(classes, func(a, b *domain.Class) int { return cmp.Or(turn(a)-turn(b), place(a)-place(b)) })
	told := Track{Track: t}
	told.AsOf, told.Begun = asOf(classes)
	p := programme{sessions: sessions, prior: forecast.Usual()}
	p.prior.Cycle = make([]time.Duration, len(classes))
	for i, c := range classes {
		p.prior.Cycle[i] = Usual
		class := Class{ID: c.ID, Slug: c.Slug, Name: c.Name, Session: c.Session, State: stateOf(c), Pulled: pulled(c)}
		class.Cycle, class.Known = known(c, paces)
		p.prior.Cycle[i] = class.Cycle
		told.Classes = append(told.Classes, class)
	}
	if told.AsOf.IsZero() && len(sessions) > 0 {
		told.AsOf = sessions[max(place(classes[0]), 0)].Starts
	}
	p.plan(classes, told.Classes)
	p.expect(classes, &told)
	return told
}

// turn sorts classes by when they are pulled: what is over, what is being pulled, what has begun, what is to come.
func turn(c *domain.Class) int {
	switch phase := c.Phase(); {
	case phase == domain.Decided:
		return 0
	case phase == domain.Hooking || phase == domain.ChoiceOpen:
		return 1
	case begun(c):
		return 2
	default:
		return 3
	}
}

// begun reports whether anybody was called.
func begun(c *domain.Class) bool { return len(c.Rounds) > 0 && len(c.Rounds[0].Hooks) > 0 }

// stateOf says how far a class is.
func stateOf(c *domain.Class) State {
	switch {
	case c.Phase() == domain.Decided:
		return Done
	case begun(c):
		return Running
	case entered(c) == 0:
		return Empty
	default:
		return ToCome
	}
}

// pulled is when a class was pulled: its end only where it is over.
func pulled(c *domain.Class) (t Times) {
	for i := range c.Rounds {
		for _, h := range c.Rounds[i].Hooks {
			if t.Start.IsZero() {
				t.Start = h.Called
			}
			if c.Phase() == domain.Decided && h.Ended.After(t.End) {
				t.End = h.Ended
			}
		}
	}
	return t
}

// asOf is the last moment that was stored of a hook or a frozen setting, and whether anybody was called.
func asOf(classes []*domain.Class) (at time.Time, called bool) {
	later := func(t time.Time) {
		if t.After(at) {
			at = t
		}
	}
	for _, c := range classes {
		for i := range c.Rounds {
			for _, h := range c.Rounds[i].Hooks {
				later(h.Called)
				later(h.Ended)
				called = true
			}
			for _, r := range c.Rounds[i].Revisions {
				later(r.Frozen)
			}
		}
	}
	return at, called
}
