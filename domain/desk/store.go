package desk

import (
	"context"
	"time"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/day"
	"clayline/domain/doc"
)

// Level is the isolation of a transaction, visible at each call, because what may be relied on depends on it.
type Level uint8

// The levels in use.
const (
	// ReadCommitted is for actions: the first read locks what the action is about, and what is read after it is
	// what the action before left. A snapshot taken before the lock was got would be older than that.
	ReadCommitted Level = iota + 1
	// Snapshot is for pages: read only, everything as of one moment, so that a standing and the hooks below it
	// agree. It locks nothing and waits for nobody.
	Snapshot
)

// Store is the database as the desk sees it. The desk declares it and package postgres implements it; there is
// no other, and tests run on a real database, because the constraints are half of the rules.
type Store interface {
	// InTx runs fn in one transaction and commits it. Serialization failures and deadlocks run fn again, so that it
	// must not act outside of tx. Writes are sent with the commit; reads come before them.
	InTx(ctx context.Context, level Level, fn func(tx Tx) error) error
}

// Tx is one transaction. Whatever is not there is a domain error of kind NotFound. What violates a rule that
// the database states is a domain error too, at the commit. Reads are methods that return an error and go to
// the database at once; writes have none, and are sent together with the commit: a write that fails fails the
// transaction. A read after a write does not see it.
type Tx interface {
	// LockClass locks a class against other actions and reads it, together with the pass that acts and the journal
	// line that the action id already has, or nil. It is the first thing that an action on a class does.
	LockClass(ctx context.Context, ref Ref, action, pass uuid.UUID) (LockedClass, error)
	// LockEvent does the same for an event. It locks none of its classes, so that planning does not wait for a hook.
	LockEvent(ctx context.Context, slug string, action uuid.UUID) (LockedEvent, error)
	// ActionDone returns the line of an action id in a scope, or nil, where there is nothing to lock.
	ActionDone(ctx context.Context, scope, action uuid.UUID) (*Line, error)
	// Class reads a class and its event.
	Class(ctx context.Context, ref Ref) (domain.Event, domain.Class, error)
	// Event reads an event with all its classes in programme order.
	Event(ctx context.Context, slug string) (domain.Event, []domain.Class, error)
	// Paces reads what the other events of this server say of the time from call to call, for each slug of a class, from
	// the hooks that were called before a time. Hooks against two settings make no pair.
	Paces(ctx context.Context, event uuid.UUID, before time.Time) ([]day.Pace, error)
	// Events reads all events, the newest first.
	Events(ctx context.Context) ([]domain.Event, error)
	// Earlier reads classes of any event that had a frozen setting, the newest first, each with its event as far as it
	// is about that class.
	Earlier(ctx context.Context, ask EarlierAsk) ([]EarlierClass, error)
	// Inspections reads the inspections of sleds, by their ids, the newest first.
	Inspections(ctx context.Context, sleds []uuid.UUID) ([]domain.Inspection, error)
	// Photo reads a photo of a class with its bytes, by its id.
	Photo(ctx context.Context, ref Ref, id uuid.UUID) (HeldPhoto, error)
	// EventsWithSled returns the slugs of the events that have a sled of that name, the newest first.
	EventsWithSled(ctx context.Context, name string, most int) ([]string, error)
	// PulledBy returns the addresses of the classes that somebody of that name and home is entered in, the newest first.
	PulledBy(ctx context.Context, puller, home string, most int) ([]Ref, error)
	// EnteredWith returns the addresses of the classes that a vehicle of that name and home is entered in, the newest first.
	EnteredWith(ctx context.Context, vehicle, home string, most int) ([]Ref, error)
	// ClassRefs returns the addresses of the classes of all events, the newest first.
	ClassRefs(ctx context.Context, most int) ([]Ref, error)
	// ClassesAt reads classes of any event by their addresses, each with its event as far as it is about that class; what
	// is not there is left out.
	ClassesAt(ctx context.Context, refs []Ref) (map[Ref]doc.HeldClass, error)
	// Season reads a season, Seasons all of them by name, without their documents.
	Season(ctx context.Context, slug string) (Season, error)
	Seasons(ctx context.Context) ([]Season, error)
	// LockSeason locks a season against being written by others and reads it, with the line that the action id has.
	LockSeason(ctx context.Context, slug string, action uuid.UUID) (LockedSeason, error)
	// Marks reads the hooks of this server of which records are made: those that count, with a distance, in classes whose
	// result is official, the earliest first.
	Marks(ctx context.Context) ([]domain.Mark, error)
	// Lines counts the lines of all journals of this server.
	Lines(ctx context.Context) (int64, error)
	// News reads what the public is told of the lines of an event after a number, oldest first.
	News(ctx context.Context, event uuid.UUID, after int64, most int) ([]News, error)
	// Journal reads the newest lines about a subject, or of the whole scope when the subject is the nil UUID.
	Journal(ctx context.Context, scope, subject uuid.UUID, most int) ([]Line, error)
	// LastLines reads the newest line about each class of an event that is not for the staff alone, in no order.
	LastLines(ctx context.Context, event uuid.UUID) ([]Line, error)
	// JournalAfter reads the lines of a scope after a number, oldest first.
	JournalAfter(ctx context.Context, scope uuid.UUID, after int64, most int) ([]Line, error)
	// PassByLink reads a pass by the hash of its link's secret.
	PassByLink(ctx context.Context, hash []byte) (Pass, error)
	// PassBySecret reads a pass by the hash of the secret that its holder acts with.
	PassBySecret(ctx context.Context, hash []byte) (Pass, error)
	// LockPass locks a pass against being ended and reads it, by its id.
	LockPass(ctx context.Context, id uuid.UUID) (Pass, error)
	// Passes reads the passes of an event, or those for every event when it is the nil UUID, the newest first.
	Passes(ctx context.Context, event uuid.UUID, most int) ([]PassUse, error)
	// DeskEntered reports whether a device is in with a pass for the desk of the whole server, be it too old by now.
	DeskEntered(ctx context.Context) (bool, error)

	// SaveClass writes the rows in which after differs from before; before is what was locked. A result that is
	// stored writes two hook rows and no other, however large the class.
	SaveClass(before, after domain.Class)
	// AddPhoto writes the last of the photos of a class, which is new, with its bytes. SaveClass does not: a class knows of
	// its photos, and does not hold their bytes.
	AddPhoto(class domain.Class, bytes []byte)
	// AddEvent writes a new event.
	AddEvent(e domain.Event, at time.Time)
	// SaveEvent writes the sessions, tracks and sleds in which after differs from before, and the inspections that are
	// new; before is what was locked.
	SaveEvent(before, after domain.Event)
	// AddClass writes a new class at the end of the programme.
	AddClass(c domain.Class)
	// AddSeason writes a new season, SaveSeason the name, the document and the number of changes of one that was locked.
	AddSeason(s Season, at time.Time)
	SaveSeason(s Season)
	// AddPass writes a new pass; the link's secret is given as its hash, and never stored.
	AddPass(p Pass, linkHash []byte)
	// UsePass enters a device or a program with the pass, once; the secret that it acts with is given as its
	// hash. A second use fails at the commit.
	UsePass(p Pass, secretHash []byte)
	// EndPass ends a pass, or a link that was not used, for good; p has when and by whom.
	EndPass(p Pass)
	// Append adds a line to the journal, as the last write of the transaction; number is set after the commit.
	// From then on until the commit, other actions of the same scope wait.
	Append(l Line, number *int64)
}

// LockedClass is a class as it stands before an action, and what is known of the action.
type LockedClass struct {
	Class domain.Class
	// Version is the number of the last journal line about the class: it grows with every change and is what a
	// caller shows to prove which state it saw.
	Version int64
	// Pass is the pass that acts, as it is now; the zero Pass where the program itself acts.
	Pass Pass
	// Done is the line that the action id already has, or nil.
	Done *Line
}

// LockedEvent is an event as it stands before an action, and what is known of the action.
type LockedEvent struct {
	Event domain.Event
	// Slugs are those of its classes, which share its addresses; Used counts the classes of each session and track.
	Slugs []string
	Used  domain.InUse
	// Version is the number of the last journal line about the event itself, not counting those about its classes.
	Version int64
	// Done is the line that the action id already has, or nil.
	Done *Line
}

// LockedSeason is a season as it stands before it is written anew, and the line that the action id already has, or nil.
type LockedSeason struct {
	Season Season
	Done   *Line
}

// Line is one line of a journal. A line is, with the hashes, which only the database makes,
//
//	412  f3a9…  pass 7c1e…  booth, laptop by the tower  18:55:40.120000Z  result  class 0b52…
//	{"Hook":"…","Result":{"Outcome":"measured","Distance":"188.02 ft","Reason":""},"Next":"…"}
//	previous 5c0e…, hash 91d4…
//
// The payload's bytes are kept as they were written: a hash over bytes that somebody formats anew proves
// nothing.
type Line struct {
	Scope   uuid.UUID // the event, or the nil UUID for the server itself
	Number  int64     // 1, 2, … without gaps in the scope
	Action  uuid.UUID
	Pass    uuid.UUID // who; the nil UUID for the program itself
	Role    string    // of the pass, for display
	Device  string
	At      time.Time
	Kind    string
	Subject uuid.UUID // the class, or what else the line is about
	Staff   bool      // the line is about a pass, an inspection or a photo, which is nothing for the public; see [News]
	Payload []byte
	// Previous is the hash of the line before, empty for the first; Hash is over it and this line. docs/api.md says how
	// anybody computes it again.
	Previous, Hash []byte
}

// Pass is what lets one device in, in one role. It begins as a link, is used once, and lasts from then on; the
// secrets of both are not in it. It is comparable. What it allows never changes after it was used; it can only end.
type Pass struct {
	ID      uuid.UUID
	Event   uuid.UUID // the nil UUID: every event of this server
	Role    domain.Role
	Issued  time.Time
	Expires time.Time
	Used    time.Time // zero while the link was not used
	Device  string
	Bearer  bool // for a program, in a header; never a cookie
	// Ended is when it was given back or taken away; zero while neither happened. One that is too old has not ended.
	Ended   time.Time
	Revoked bool // it was taken away by the desk, and not given back
}

// PassUse is a pass and when its holder last did something that is in the journal, which entering is. Reading leaves no
// trace, so that a cab's pass may be in use and show nothing.
type PassUse struct {
	Pass
	Last time.Time // zero where there is no line
}
