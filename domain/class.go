package domain

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
)

// Class is everything that decides one class of an event, and nothing else: with it and the rules, who is next,
// what is open and who leads can be computed. The zero Class is one that is not planned.
//
// It is a value that [Decide] replaces. Its slices are shared by copies of it, so that a copy which is to be
// changed is made by [Class.Clone].
type Class struct {
	ID    uuid.UUID
	Event uuid.UUID
	// Session and Track say when and where it is pulled; they decide nothing.
	Session uuid.UUID
	Track   uuid.UUID
	// Fixed is when it begins at the soonest, by the programme; zero where nothing is fixed. It decides nothing either.
	Fixed time.Time
	// Slug is made from the name once and stays when the name would be written otherwise, because it is printed
	// on paper.
	Slug string // permanent part of its address
	Name string
	// Rules and Sled are those of the planning, for good: a class that was pulled under one rule book cannot be
	// ranked under another, and its gears are those of the sled it was set on.
	Rules RuleSet
	Sled  Sled
	// Entries are in the order entered. The index of an entry is its row in a [Table].
	Entries []Entry
	Draw    Draw
	// Promise stands from a published commitment to the draw that uses it up.
	Promise Promise
	// Rounds are in the order opened; the last is the current one, and the ones before it are over.
	Rounds []Round
	// LineWas is where the full-pull line lay at the planning, once the officials moved it; zero while it lies there.
	LineWas Distance
	// Stopped is when and why the class was ended before its end; the zero Stopped while it goes on.
	Stopped Stopped
	// Official is when and by whom the result was made official; the zero Official while it is provisional.
	Official Official
	// Earlier are the signatures that were taken away, the oldest first.
	Earlier []Signature
	// Protests are in the order lodged.
	Protests []Protest
	// Readings are what the scale showed, in the order weighed.
	Readings []Reading
	// Photos are those of readings of the distance, in the order attached.
	Photos []Photo
}

// PlanClass puts a class on the programme of an event. Class is its id; Sled is copied whole, as it is at the
// planning. Whether the event has the session, track and sled, and whether the name is free, is looked after
// before: see [Event.Complete] and [NameTaken].
type PlanClass struct {
	Class   uuid.UUID
	Event   uuid.UUID
	Session uuid.UUID
	Track   uuid.UUID
	Name    string
	Rules   RuleSet
	// Kind is the kind of vehicle, where the rules have a restart line for it; see [RuleSet.For].
	Kind string
	Sled Sled
}

// decide makes the class out of nothing; it is the one action that a class which is not planned takes.
func (a PlanClass) decide(c *Class, _ time.Time) error {
	name, err := required("name", "the name of the class", a.Name)
	if err != nil {
		return err
	}
	if c.ID != uuid.Nil {
		return wrongState("the class is planned already", "plan another")
	}
	if Slug(name) == "" {
		return invalid("name", "the name has no letter or figure for its address", "write it with letters")
	}
	if err := a.Rules.Check(); err != nil {
		return err
	}
	if kinds := a.Rules.Kinds(); a.Kind != "" && !slices.Contains(kinds, a.Kind) {
		return invalid("kind", fmt.Sprintf("these rules know no kind of vehicle called %q", a.Kind), "choose one of "+strings.Join(kinds, ", ")+", or none")
	}
	*c = Class{ID: a.Class, Event: a.Event, Session: a.Session, Track: a.Track, Slug: Slug(name), Name: name, Rules: a.Rules.For(a.Kind), Sled: a.Sled}
	return nil
}

// Clone returns a copy that shares nothing with c that can be changed. What is new in a slice of a slice has to
// be copied here too.
func (c Class) Clone() Class {
	c.Entries = slices.Clone(c.Entries)
	c.Draw.Order = slices.Clone(c.Draw.Order)
	c.Draw.How.Groups, c.Draw.How.Fixed = slices.Clone(c.Draw.How.Groups), slices.Clone(c.Draw.How.Fixed)
	for i, g := range c.Draw.How.Groups {
		c.Draw.How.Groups[i].Entries = slices.Clone(g.Entries)
	}
	c.Earlier, c.Protests, c.Readings = slices.Clone(c.Earlier), slices.Clone(c.Protests), slices.Clone(c.Readings)
	c.Photos = slices.Clone(c.Photos)
	c.Rounds = slices.Clone(c.Rounds)
	for i := range c.Rounds {
		r := &c.Rounds[i]
		r.Lineup, r.Revisions, r.Hooks = slices.Clone(r.Lineup), slices.Clone(r.Revisions), slices.Clone(r.Hooks)
	}
	return c
}

// Current returns the round that is being pulled or was pulled last, or nil before the draw.
func (c *Class) Current() *Round { return c.current() }

// current is [Class.Current] as an address into the class, for decisions.
func (c *Class) current() *Round {
	if len(c.Rounds) == 0 {
		return nil
	}
	return &c.Rounds[len(c.Rounds)-1]
}

// currentRound returns the current round when it is the one named, so that a stale page cannot act on another:
// two people may have the desk open while one of them opens the pull-off.
func (c *Class) currentRound(id uuid.UUID) (*Round, error) {
	r := c.current()
	switch {
	case r == nil:
		return nil, wrongState("the class is not drawn", "draw it first")
	case r.ID != id:
		return nil, &Error{Kind: Stale, Field: "round", Message: "another round is being pulled now", Fix: "look at the class again"}
	}
	return r, nil
}

// Entry returns the entry with the id, or the zero Entry.
func (c *Class) Entry(id uuid.UUID) Entry {
	if e := c.entry(id); e != nil {
		return *e
	}
	return Entry{}
}

// entry returns the address of an entry in the class, or nil.
func (c *Class) entry(id uuid.UUID) *Entry {
	if i := slices.IndexFunc(c.Entries, func(e Entry) bool { return e.ID == id }); i >= 0 {
		return &c.Entries[i]
	}
	return nil
}

// numberOf returns the number on the vehicle, for a message; "" for an unknown entry.
func (c *Class) numberOf(id uuid.UUID) string { return c.Entry(id).Number }

// OnTrack returns the hook under way, or nil. A puller is on the track from the call until the result is
// stored, on the way to the sled too.
func (c *Class) OnTrack() *Hook { return c.onTrack() }

// onTrack looks at the current round alone: a round is not left while a hook of it has no result.
func (c *Class) onTrack() *Hook {
	r := c.current()
	if r == nil {
		return nil
	}
	if i := slices.IndexFunc(r.Hooks, func(h Hook) bool { return h.Result.IsZero() }); i >= 0 {
		return &r.Hooks[i]
	}
	return nil
}

// hookOnTrack returns the hook under way when it is the one named. A hook that has a result already is Stale,
// since somebody else was faster, and is told with what was stored, so that whoever is refused has both values before
// their eyes; one that was never called is in the wrong state.
func (c *Class) hookOnTrack(id uuid.UUID) (*Hook, error) {
	h, named := c.onTrack(), c.hook(id)
	switch {
	case h != nil && h.ID == id:
		return h, nil
	case named != nil:
		return nil, &Error{Kind: Stale, Field: "hook", Message: "a result for that hook is stored already",
			Fix: fmt.Sprintf("number %s has %s: leave it, or correct it", c.numberOf(named.Entry), named.Result)}
	default:
		return nil, &Error{Kind: WrongState, Field: "hook", Message: "that puller is not on the track", Fix: "call the puller first"}
	}
}

// hook returns a hook of the current round, or nil. Earlier rounds are closed to everything but [Correct].
func (c *Class) hook(id uuid.UUID) *Hook {
	if r, h := c.find(id); h != nil && r == c.current() {
		return h
	}
	return nil
}

// Find returns a hook of any round and that round, or nils. Both point into the class.
func (c *Class) Find(id uuid.UUID) (*Round, *Hook) { return c.find(id) }

// find is [Class.Find] for decisions.
func (c *Class) find(id uuid.UUID) (*Round, *Hook) {
	for i := range c.Rounds {
		r := &c.Rounds[i]
		if j := slices.IndexFunc(r.Hooks, func(h Hook) bool { return h.ID == id }); j >= 0 {
			return r, &r.Hooks[j]
		}
	}
	return nil, nil
}

// roundOver reports whether nobody is left to hook in the round with the index and nothing is open in it. A
// round before the last is over by definition, whatever a later correction makes of it: nobody goes back to it.
func (c *Class) roundOver(i int) bool {
	r := &c.Rounds[i]
	if i < len(c.Rounds)-1 {
		return true
	}
	return len(r.Waiting()) == 0 && c.onTrack() == nil && c.Pending() == nil
}

// Standing ranks the class as it is now, best first, every entry once. Entries without a place come last; their
// [Placing.Row] indexes c.Entries. Before the end it is provisional: who has not hooked yet has no place.
func (c *Class) Standing() []Placing { return Rank(c.Table()) }

// Table is the class as the ranking sees it, with the rounds that count for the standing; its rows are at the indexes of
// c.Entries. Whoever adds classes up to a season reads it as it reads a sheet.
func (c *Class) Table() Table {
	table := c.table(c.standingRounds())
	table.Complete = c.Phase() == Decided
	return table
}

// table lays out the first n rounds for ranking, one row an entry, in the order of the entries. With fewer
// rounds than there are it shows the class as it stood when the next was opened.
func (c *Class) table(n int) Table {
	table := Table{Rules: c.Rules, Rows: make([]Row, len(c.Entries))}
	for i := range c.Rounds[:n] {
		r := &c.Rounds[i]
		table.Rounds = append(table.Rounds, r.Name)
		results := r.results()
		for _, s := range r.Lineup {
			if s.takenOut() {
				delete(results, s.Entry) // who never belonged in the round has nothing to show for it
			}
		}
		for j, e := range c.Entries {
			table.Rows[j].Results = append(table.Rows[j].Results, results[e.ID])
		}
	}
	for j, e := range c.Entries {
		table.Rows[j].Number = e.Number
		table.Rows[j].Vehicle = e.vehicle()
	}
	c.fillMissed(&table)
	return table
}

// classOrder returns the entries in the order in which the class was drawn, late entries last in the order
// entered (late entries pull last: MAM). Further rounds and pull-offs begin from it: "as in the original class
// line-up" (NSTT 9, SNUB 9). Places that were changed in a round do not carry over.
func (c *Class) classOrder() []uuid.UUID {
	order := slices.Clone(c.Draw.Order)
	for _, e := range c.Entries {
		if !slices.Contains(order, e.ID) {
			order = append(order, e.ID)
		}
	}
	return order
}

// call calls the first waiting entry of the current round to hook. The caller has made sure that somebody waits
// and that a setting is open; call relies on both. The hook is bound to the open revision here, and stays bound
// to it.
func (c *Class) call(id uuid.UUID, at time.Time) error {
	r := c.current()
	if id == uuid.Nil {
		return invalid("next", "the next hook has no id", "give a new one")
	}
	open := r.Open()
	entry := r.Waiting()[0]
	r.Hooks = append(r.Hooks, Hook{
		ID: id, Entry: entry, Revision: open.Number, Number: len(r.Hooks) + 1,
		Attempt: r.attempt(entry, open.Number), Test: c.testDue(r, open.Number), Called: at,
	})
	return nil
}

// callNext calls the next puller by itself, where the round goes on under a setting that is already being
// pulled against and nothing is open; otherwise it leaves the track empty and is no error. That saves the booth
// a second step after each result.
//
// The first call against a setting is a step of its own ([Call]): between freezing a setting and the first hook
// lies the sled crew's work, and only people know when it is done.
func (c *Class) callNext(id uuid.UUID, at time.Time) error {
	r := c.current()
	open := r.Open()
	if open == nil || c.Stopped != (Stopped{}) || c.onTrack() != nil || c.Pending() != nil || len(r.Waiting()) == 0 {
		return nil
	}
	if !slices.ContainsFunc(r.Hooks, func(h Hook) bool { return h.Revision == open.Number }) {
		return nil
	}
	return c.call(id, at)
}

// attempt numbers the attempt that an entry now makes: 2 after a stop before the restart line, otherwise as
// before. A re-hook that the sled caused takes nothing from the puller, so that it keeps the number; a test
// puller who hooks again, and whoever hooks against a new setting, begins anew with 1.
func (r *Round) attempt(entry uuid.UUID, revision int) int {
	last := r.HookOf(entry)
	switch {
	case last == nil || last.Revision != revision:
		return 1
	case last.Result.Outcome == Void && (last.Result.Reason == stoppedShort || strings.HasPrefix(last.Result.Reason, lostAttempt)):
		return last.Attempt + 1
	case last.Choice != 0:
		return 1
	default:
		return last.Attempt
	}
}

// NameTaken refuses a name that leads to the same address as one of the slugs, or to a page of its own: an
// address /e/EVENT/CLASS would otherwise be read as /e/EVENT/desk.
func NameTaken(name string, slugs []string) error {
	if slices.Contains(slugs, Slug(name)) || slices.Contains([]string{"booth", "cab", "day", "desk", "pits", "results", "screen", "strip", "scale", "lane", "flag"}, Slug(name)) {
		return invalid("name", "the name "+strings.TrimSpace(name)+" is taken here", "add something that tells the two apart")
	}
	return nil
}
