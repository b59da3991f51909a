package domain

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"

	"clayline/domain/sequence"
)

// OrderClasses puts the classes of an event into another order. It lists all of them, so that a class that was planned
// meanwhile is not lost behind the others unseen. Sessions and tracks stay, and what is pulled goes on.
type OrderClasses struct{ Classes []uuid.UUID }

func (a OrderClasses) decide(e *Event, _ InUse, _ time.Time) error {
	sorted := func(ids []uuid.UUID) []uuid.UUID {
		return slices.SortedFunc(slices.Values(ids), func(a, b uuid.UUID) int { return slices.Compare(a[:], b[:]) })
	}
	if !slices.Equal(sorted(a.Classes), sorted(e.Order)) {
		return &Error{Kind: Stale, Field: "classes", Message: "these are not the classes of the event, each once", Fix: "look at the programme again; a class may have been planned meanwhile"}
	}
	e.Order = slices.Clone(a.Classes)
	return nil
}

// Work is how long the work around the classes takes, for the order of a programme. All of it is for the organiser to
// say; [UsualWork] is what is taken otherwise.
type Work struct {
	Hook    time.Duration // from green to green
	Slab    time.Duration // a slab into the box or out of it
	Gear    time.Duration // another box gear
	Hole    time.Duration // another start hole
	Unknown time.Duration // a change of the box where a setting is not written yet, or the sled is another
	Track   time.Duration // preparing the track between two classes
	Rest    time.Duration // for whoever is in two classes, from the end of one to the beginning of the other
}

// UsualWork is common practice, no published source: round figures from memory, to be replaced by those of the crew.
func UsualWork() Work {
	return Work{
		Hook: 5 * time.Minute, Slab: 30 * time.Second, Gear: 3 * time.Minute, Hole: 2 * time.Minute, Unknown: 10 * time.Minute,
		Track: 5 * time.Minute, Rest: 20 * time.Minute,
	}
}

// LateWeight is what a minute past the curfew, or after a fixed start, costs beside the others, in minutes. It is common
// practice, no published source.
const LateWeight = 10

// How many hooks a class is taken to have of which nobody knows the entries, and how many more where a pull-off may
// come. Both are common practice, no published source.
const (
	unknownHooks = 10
	pullOffHooks = 2
)

// Wishes are what an order of the classes must keep. Classes and sessions that are not in the maps are free.
type Wishes struct {
	Work
	Classes map[uuid.UUID]ClassWish
	// Curfews are when everything of a session must be over, in place of its own curfew; the zero time is none. Breaks are
	// in place of its own.
	Curfews map[uuid.UUID]time.Time
	Breaks  map[uuid.UUID][]Pause
}

// ClassWish pins a class: its place on its track in its session, from 1, and when it begins, in place of its own fixed start.
type ClassWish struct {
	Place  int
	Starts time.Time
}

// Sequence is the programme of an event as package sequence asks for it. Its times count from Zero, its class ids are
// those of the classes as text, its sessions and tracks those of the event in the order of Sessions and of the event.
type Sequence struct {
	sequence.Problem
	Zero     time.Time
	Sessions []Session
}

// SequenceOf asks for the order of an event's classes. Every class stays in its session and on its track; one that has
// begun keeps its place in front. Whoever is entered in two classes, as a puller or with a vehicle of the same name and
// home, is in both. Positions are those of the list.
func SequenceOf(e Event, classes []Class, w Wishes) (Sequence, error) {
	s := Sequence{Sessions: slices.Clone(e.Sessions)}
	slices.SortStableFunc(s.Sessions, func(a, b Session) int { return a.Starts.Compare(b.Starts) })
	if len(s.Sessions) == 0 {
		return s, invalid("sessions", "the event has no session", "add one to its programme")
	}
	s.Zero = s.Sessions[0].Starts.Add(-24 * time.Hour)
	s.Problem = sequence.Problem{Tracks: len(e.Tracks), Rest: w.Rest, Overrun: LateWeight, Late: LateWeight}
	for _, in := range s.Sessions {
		session := sequence.Session{Starts: in.Starts.Sub(s.Zero)}
		curfew, asked := w.Curfews[in.ID]
		if !asked {
			curfew = in.Curfew
		}
		if !curfew.IsZero() {
			session.Curfew = curfew.Sub(s.Zero)
		}
		breaks, asked := w.Breaks[in.ID]
		if !asked {
			breaks = in.Breaks
		}
		for _, b := range breaks {
			session.Breaks = append(session.Breaks, sequence.Break{From: b.From.Sub(s.Zero), Length: b.Length()})
		}
		s.Problem.Sessions = append(s.Problem.Sessions, session)
	}
	if err := w.nobody(classes); err != nil {
		return s, err
	}
	begun := make(map[[2]uuid.UUID]int)
	for i := range classes {
		c := &classes[i]
		class := sequence.Class{
			ID: c.ID.String(), Position: i, Length: time.Duration(c.expectedHooks()) * w.Hook, Shares: c.who(),
			Track:    slices.IndexFunc(e.Tracks, func(t Track) bool { return t.ID == c.Track }),
			Sessions: []int{slices.IndexFunc(s.Sessions, func(o Session) bool { return o.ID == c.Session })},
			Place:    w.Classes[c.ID].Place,
		}
		starts := c.Fixed
		if wish, asked := w.Classes[c.ID]; asked {
			starts = wish.Starts
		}
		if !starts.IsZero() {
			class.Fixed = starts.Sub(s.Zero)
		}
		if at := [2]uuid.UUID{c.Session, c.Track}; !c.Movable() {
			begun[at]++
			class.Place, class.Fixed = begun[at], 0
		}
		s.Classes = append(s.Classes, class)
		s.Changes = append(s.Changes, w.changes(c, classes))
	}
	return s, sequenceTrouble(s.Check(), s, classes)
}

// InUse is what the order in use costs: that of the list, session by session.
func (s Sequence) InUse() (sequence.Order, error) {
	list := slices.Clone(s.Classes)
	slices.SortStableFunc(list, func(a, b sequence.Class) int { return cmp.Compare(a.Sessions[0], b.Sessions[0]) })
	ids := make([]string, len(list))
	for i, c := range list {
		ids[i] = c.ID
	}
	return s.Evaluate(ids)
}

// nobody refuses a wish about a class that the event does not have.
func (w Wishes) nobody(classes []Class) error {
	for id := range w.Classes {
		if !slices.ContainsFunc(classes, func(c Class) bool { return c.ID == id }) {
			return invalid("classes", "a place or a start is asked for a class that the event does not have", "look at the programme again, and ask for its classes only")
		}
	}
	return nil
}

// sequenceTrouble says in the words of the event what is wrong about its sequence; nil for nil.
func sequenceTrouble(err error, s Sequence, classes []Class) error {
	trouble, ok := err.(*sequence.Trouble) //nolint:errorlint // the package returns no other, and does not wrap it
	if !ok {
		return err
	}
	message := trouble.Message
	if trouble.Session >= 0 {
		message = "in session " + s.Sessions[trouble.Session].Name + ": " + message
	}
	if trouble.Class >= 0 && trouble.Class < len(classes) {
		message = "of class " + classes[trouble.Class].Name + ": " + message
	}
	return invalid(trouble.Field, message, trouble.Fix)
}

// expectedHooks is how many hooks a class will have: its entries in every class round, and two of a pull-off where its
// rules have one. A class without entries yet is taken to have ten.
func (c *Class) expectedHooks() int {
	n := 0
	for _, e := range c.Entries {
		if e.Scratched == "" {
			n++
		}
	}
	if n == 0 {
		n = unknownHooks
	}
	n *= c.Rules.Rounds
	if c.Rules.Capped {
		n += pullOffHooks
	}
	return n
}

// who lists the persons and vehicles of a class, without capital letters and stray spaces making a difference. A vehicle
// is known by its name and home together: two that are called Second Chance may come from two places.
func (c *Class) who() []string {
	var list []string
	for _, e := range c.Entries {
		if e.Scratched != "" {
			continue
		}
		if puller := folded(e.Details.Puller); puller != "" {
			list = append(list, "puller "+puller)
		}
		if vehicle := folded(e.Details.Vehicle); vehicle != "" {
			list = append(list, "vehicle "+vehicle+"|"+folded(e.Details.Home))
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// folded is a name for comparison.
func folded(name string) string { return strings.ToLower(strings.Join(strings.Fields(name), " ")) }

// Both lists who is in two classes, by the names as the first has them.
func (c *Class) Both(o *Class) []string {
	theirs := o.who()
	var names []string
	for _, e := range c.Entries {
		for kind, name := range map[string]string{"puller ": e.Details.Puller, "vehicle ": e.Details.Vehicle} {
			key := kind + folded(name)
			if kind == "vehicle " {
				key += "|" + folded(e.Details.Home)
			}
			if e.Scratched == "" && folded(name) != "" && slices.Contains(theirs, key) && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	slices.Sort(names)
	return names
}

// settingOf is the setting that a class begins with, as far as it is written: the last of its first round.
func (c *Class) settingOf() (Setting, bool) {
	if len(c.Rounds) == 0 || len(c.Rounds[0].Revisions) == 0 {
		return Setting{}, false
	}
	r := c.Rounds[0].Revisions
	return r[len(r)-1].Setting, true
}

// changes is the work from one class to each of a list.
func (w Work) changes(from *Class, classes []Class) []sequence.Change {
	row := make([]sequence.Change, len(classes))
	for i := range classes {
		row[i], _ = w.Change(from, &classes[i])
	}
	return row
}

// Change is the work between two classes and what it is in words: "8 slabs out and 4 in, gear 3 to 2". Which slabs lie
// where counts: one that goes from the left to the right is carried twice.
//
//	6 left, 6 right, gear 3  to  4 left, 6 right, gear 2    2 slabs out, gear 3 to 2    1 + 3 minutes
func (w Work) Change(from, to *Class) (sequence.Change, string) {
	a, known := from.settingOf()
	b, alsoKnown := to.settingOf()
	change := sequence.Change{Track: w.Track}
	switch {
	case from.Sled.ID != to.Sled.ID:
		change.Box = w.Unknown
		return change, "another sled"
	case !known || !alsoKnown:
		change.Box = w.Unknown
		unknown := to.Name
		if !known {
			unknown = from.Name
		}
		return change, "the setting of " + unknown + " is not written yet"
	}
	var out, in int
	for _, d := range []int{b.Slabs.Left - a.Slabs.Left, b.Slabs.Middle - a.Slabs.Middle, b.Slabs.Right - a.Slabs.Right} {
		out, in = out+max(0, -d), in+max(0, d)
	}
	change.Box = time.Duration(out+in) * w.Slab
	var words []string
	if out+in > 0 {
		words = append(words, moved(out, in))
	}
	if a.Gear != b.Gear {
		change.Box += w.Gear
		words = append(words, fmt.Sprintf("gear %d to %d", a.Gear, b.Gear))
	}
	if a.StartHole != b.StartHole {
		change.Box += w.Hole
		words = append(words, fmt.Sprintf("start hole %d to %d", a.StartHole, b.StartHole))
	}
	return change, cmp.Or(strings.Join(words, ", "), "the box stays as it is")
}

// moved says how many slabs go out of the box and into it.
func moved(out, in int) string {
	slabs := func(n int) string {
		if n == 1 {
			return "1 slab"
		}
		return strconv.Itoa(n) + " slabs"
	}
	switch {
	case in == 0:
		return slabs(out) + " out"
	case out == 0:
		return slabs(in) + " in"
	default:
		return slabs(out) + " out and " + strconv.Itoa(in) + " in"
	}
}
