// Package desk is what people do: one method an action, one transaction each. It brings together the pure
// decisions of package domain, the time, and the [Store] it needs; pages and programs both come in through it.
//
// # An action, step by step
//
// A scorer stores 281.36 for the hook on the track. [Desk.Act] reads the clock once and, in one transaction,
//
//	1  locks the class row and reads the class, and the journal line that the action id may have
//	2  asks whether the pass may do this kind of action at this event
//	3  decides: the class afterwards, or a refusal
//	4  writes the rows that differ, then the journal line, and commits
//
// The lock comes first because everything after it relies on what was read: two scorers who press at once are
// served one after the other, and the second decides on what the first left. The journal line comes last
// because its number is taken from a row that all actions of an event share; held to the end of a longer
// transaction it would make classes wait for one another.
//
// # Once
//
// Every action carries an id that its sender made. The same id again returns what was answered the first time,
// so that a form sent twice, or sent again after a cut line, does its work once. The same id with other content
// is refused: it is a mistake of the sender, and either answer would hide it.
//
// # Following
//
// [Live] tells readers that a journal has grown and keeps the pages that were rendered from it. Neither is
// needed for anything to be right: what is true is in the store.
package desk

import (
	"bytes"
	"context"
	"io"
	"slices"
	"time"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/doc"
)

// Desk does what people ask for, on a store, by a clock. It keeps nothing that cannot be read again: any number
// of desks, in as many processes, may work on one database. Its methods may be called at the same time.
type Desk struct {
	// store is where everything is; now and random are the two things that a test must be able to say.
	store  Store
	now    func() time.Time
	random io.Reader
	// known and live remember what was read, and are never asked whether something may be done.
	known *memory
	live  *Live
}

// New returns a desk on the store. The clock is read once an action; random is where the secrets of passes come
// from, and must be fit for it (crypto/rand in the program). Public pages come in the codings, the best first, and in
// gzip behind them.
func New(store Store, now func() time.Time, random io.Reader, codings ...Coding) *Desk {
	return &Desk{store: store, now: now, random: random, known: newMemory(), live: newLive(store, withGzip(codings))}
}

// moment reads the clock, in UTC and to the microsecond that the database keeps. What is decided on is thus
// what is read back later, and a replay of the journal gives equal times.
func (d *Desk) moment() time.Time { return d.now().UTC().Truncate(time.Microsecond) }

// By is who acts: a pass, what it allows and where. The zero By is nobody, and may nothing. Device is the name
// under which the journal shows the holder; it is no proof of anything.
//
//	booth at one event     By{Pass: 7c1e…, Role: Booth, Event: 0b52…, Device: "laptop by the tower"}
//	desk of the server     By{Pass: 91aa…, Role: Desk, Device: "office"}
//	the program itself     By{Role: Desk, Device: "the program"}
type By struct {
	Pass   uuid.UUID
	Role   domain.Role
	Event  uuid.UUID // the nil UUID: every event of this server
	Device string
}

// May refuses a role or an event that the pass does not cover, for what is only read. Actions are asked about
// by the methods that do them.
func (by By) May(roles domain.Role, event uuid.UUID) error { return by.may(roles, event) }

// may refuses a role or an event that the pass does not cover, with an error of kind Forbidden; one of the
// given roles is enough. The nil UUID as the event is this server as a whole, which only a pass for every event
// covers.
func (by By) may(roles domain.Role, event uuid.UUID) error {
	switch {
	case by.Role&roles == 0:
		return &domain.Error{Kind: domain.Forbidden, Message: "this needs a pass for the " + roles.String(), Fix: "ask the desk for an entry link"}
	case by.Event != uuid.Nil && by.Event != event:
		return &domain.Error{Kind: domain.Forbidden, Message: "this pass is for another event", Fix: "ask the desk of this event for an entry link"}
	}
	return nil
}

// Ref names a class by the permanent parts of its address: the slugs of the event and of the class in it.
type Ref struct {
	Event, Class string
}

// Missing is the answer where the address leads to no class.
func (r Ref) Missing() error {
	return &domain.Error{Kind: domain.NotFound, Message: "there is no class " + r.Class + " at this event", Fix: "look at the event's programme"}
}

// Receipt is the answer to an action that is stored. Everything but Class and Repeated comes from the journal
// line, so that the same action sent again is answered the same. Class is as it is now, which for a repeated
// action may be later than the action left it.
type Receipt struct {
	Number   int64 // of the journal line
	Kind     string
	At       time.Time
	Class    domain.Class // as it is now; the zero Class for actions on an event
	Repeated bool         // the action had been stored before
}

// Act does one action on a class: lock and read, decide, write and commit, in two round trips to the database.
// Errors of type domain.Error say why it was refused and that nothing was stored; any other error leaves open
// whether it was, and sending the same id again finds out.
func (d *Desk) Act(ctx context.Context, by By, ref Ref, action uuid.UUID, a domain.Action) (Receipt, error) {
	return d.ActOn(ctx, by, ref, action, AnyVersion, func(*domain.Class) (domain.Action, error) { return a, nil })
}

// AnyVersion lets an action be done on whatever the class has become. It is what people at a track want: the
// action names the hook it is about, and that is guard enough.
const AnyVersion int64 = -1

// ActOn does the action that read makes of the class as it is, for a caller who must know its rules to
// understand what was typed. It costs no more than [Desk.Act]; read may run more than once, and before it is
// known whether the pass may act, so that it must do nothing but read. Whether the pass has ended is looked at under
// the lock, so that a by from [Desk.Acting] will do. A version other than [AnyVersion] must
// be the number of the last journal line about the class.
func (d *Desk) ActOn(ctx context.Context, by By, ref Ref, action uuid.UUID, version int64, read func(*domain.Class) (domain.Action, error)) (Receipt, error) {
	at := d.moment()
	var receipt Receipt
	err := d.store.InTx(ctx, ReadCommitted, func(tx Tx) error {
		locked, err := tx.LockClass(ctx, ref, action, by.Pass)
		if err != nil {
			return err
		}
		if err := locked.Pass.over(); err != nil {
			return err
		}
		class := locked.Class
		// What was typed is understood here, under the lock: "FP" means one thing in a round and another in a
		// pull-off, and which of them is being pulled may have changed since the page was shown.
		a, err := read(&class)
		if err != nil {
			return err
		}
		if err := by.may(domain.KindOfAction(a).Roles, class.Event); err != nil {
			return err
		}
		if a, err = grouped(&class, locked.Done, a); err != nil {
			return err
		}
		kind, payload, err := doc.EncodeAction(a)
		if err != nil {
			return err
		}
		// Before the version and the decision: what was done once is answered from its line, even though the
		// class has moved on and would refuse it now.
		if locked.Done != nil {
			receipt = locked.Done.receipt(class)
			if err := locked.Done.sameAs(kind, class.ID, payload); err != nil {
				return err
			}
			return locked.Done.agrees(&class, a)
		}
		if version != AnyVersion && version != locked.Version {
			return &domain.Error{Kind: domain.Stale, Field: "version", Message: "the class was changed meanwhile", Fix: "read it again, look, and send again"}
		}
		after, err := domain.Decide(class, a, at)
		if err != nil {
			return err
		}
		receipt = Receipt{Kind: kind, At: at, Class: after}
		tx.SaveClass(class, after)
		if a, ok := a.(domain.AttachPhoto); ok {
			tx.AddPhoto(after, a.Bytes())
		}
		tx.Append(by.line(class.Event, action, at, kind, class.ID, payload), &receipt.Number)
		return nil
	})
	// Own lines need not wait for the database's notice: a reader who comes right after the action finds it.
	if err == nil {
		d.live.saw(receipt.Class.Event, receipt.Number)
	}
	return receipt, err
}

// grouped gives a draw its groups: those that the names of pullers make now, or, for a draw that was done before,
// those of its line. A repeat is then the same, whoever was entered or scratched since. Any other action is as it was.
func grouped(class *domain.Class, done *Line, a domain.Action) (domain.Action, error) {
	asked, ok := a.(domain.DrawClass)
	if !ok {
		return a, nil
	}
	if done == nil {
		return asked.Grouped(class), nil
	}
	before, err := doc.DecodeAction(done.Kind, done.Payload)
	if drawn, ok := before.(domain.DrawClass); ok {
		asked.Groups = drawn.Groups
	}
	return asked, err
}

// receipt is the answer to an action that has been stored before, from its line.
func (l *Line) receipt(class domain.Class) Receipt {
	return Receipt{Number: l.Number, Kind: l.Kind, At: l.At, Class: class, Repeated: true}
}

// line is the journal line of an action, without its number, which the database gives. The scope is the event.
func (by By) line(scope, action uuid.UUID, at time.Time, kind string, subject uuid.UUID, payload []byte) Line {
	return Line{Scope: scope, Action: action, Pass: by.Pass, Device: by.Device, At: at, Kind: kind, Subject: subject, Payload: payload}
}

// sameAs refuses an action id that was used for something else: another kind, subject or payload.
func (l *Line) sameAs(kind string, subject uuid.UUID, payload []byte) error {
	if l.Kind == kind && l.Subject == subject && bytes.Equal(l.Payload, payload) {
		return nil
	}
	return sentBefore()
}

// agrees refuses an action id that was used with other personal data, which the line does not have. It is
// compared with what is stored now; where that was changed since, the repeat cannot be told from another form
// and is refused.
func (l *Line) agrees(class *domain.Class, a domain.Action) error {
	switch a := a.(type) {
	case domain.AddEntry:
		if class.Entry(a.Entry).Details != a.Details {
			return sentBefore()
		}
	case domain.LodgeProtest:
		if i := slices.IndexFunc(class.Protests, func(p domain.Protest) bool { return p.ID == a.Protest }); i >= 0 && class.Protests[i].By != a.By {
			return sentBefore()
		}
	case domain.MakeOfficial:
		if class.Official.Made.Equal(l.At) && class.Official.Name != a.Name {
			return sentBefore()
		}
	}
	return nil
}

// sentBefore is the refusal of an action id that was used before for something else.
func sentBefore() error {
	return &domain.Error{Kind: domain.Stale, Field: "action", Message: "this form was sent before with other content", Fix: "reload the page and send it again"}
}
