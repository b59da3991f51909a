// Package desk is what people do: one method an action, one transaction each. It brings together the pure decisions
// of package domain, the time, and the [Store] it needs; pages and programs both come in through it.
//
// Every action carries an id that its sender made. The same id again returns what was answered the first time, so
// that a form sent twice, or sent again after a cut line, does its work once.
package desk

import (
	"bytes"
	"context"
	"io"
	"time"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/doc"
)

// Desk does what people ask for, on a store, by a clock.
type Desk struct {
	store  Store
	now    func() time.Time
	random io.Reader
	known  *memory
	live   *Live
}

// New returns a desk on the store. The clock is read once an action; random is where the secrets of passes come from,
// and must be fit for it.
func New(store Store, now func() time.Time, random io.Reader) *Desk {
	return &Desk{store: store, now: now, random: random, known: newMemory(), live: newLive(store)}
}

// moment reads the clock, to the microsecond that the database keeps.
func (d *Desk) moment() time.Time { return d.now().UTC().Truncate(time.Microsecond) }

// By is who acts: a pass, what it allows and where.
type By struct {
	Pass   uuid.UUID
	Role   domain.Role
	Event  uuid.UUID // the nil UUID: every event of this server
	Device string
}

// may refuses a role or an event that the pass does not cover.
func (by By) may(roles domain.Role, event uuid.UUID) error {
	switch {
	case by.Role&roles == 0:
		return &domain.Error{Kind: domain.Forbidden, Message: "this needs a pass for the " + roles.String(), Fix: "ask the desk for an entry link"}
	case by.Event != uuid.Nil && by.Event != event:
		return &domain.Error{Kind: domain.Forbidden, Message: "this pass is for another event", Fix: "ask the desk of this event for an entry link"}
	}
	return nil
}

// Ref names a class by the permanent parts of its address.
type Ref struct {
	Event, Class string
}

// Receipt is the answer to an action that is stored. Everything but Class and Repeated comes from the journal line, so
// that the same action sent again is answered the same.
type Receipt struct {
	Number   int64 // of the journal line
	Kind     string
	At       time.Time
	Class    domain.Class // as it is now; the zero Class for actions on an event
	Repeated bool         // the action had been stored before
}

// Act does one action on a class: lock and read, decide, write and commit.
func (d *Desk) Act(ctx context.Context, by By, ref Ref, action uuid.UUID, a domain.Action) (Receipt, error) {
	return d.ActOn(ctx, by, ref, action, AnyVersion, func(*domain.Class) (domain.Action, error) { return a, nil })
}

// AnyVersion lets an action be done on whatever the class has become.
const AnyVersion int64 = -1

// ActOn does the action that read makes of the class as it is, for a caller who must know its rules to understand what
// was typed. It costs no more than [Desk.Act]; read may run more than once. A version other than [AnyVersion] must be
// the number of the last journal line about the class.
func (d *Desk) ActOn(ctx context.Context, by By, ref Ref, action uuid.UUID, version int64, read func(*domain.Class) (domain.Action, error)) (Receipt, error) {
	at := d.moment()
	var receipt Receipt
	err := d.store.InTx(ctx, ReadCommitted, func(tx Tx) error {
		locked, err := tx.LockClass(ctx, ref, action)
		if err != nil {
			return err
		}
		class := locked.Class
		a, err := read(&class)
		if err != nil {
			return err
		}
		if err := by.may(domain.KindOfAction(a).Roles, class.Event); err != nil {
			return err
		}
		kind, payload, err := doc.EncodeAction(a)
		if err != nil {
			return err
		}
		if locked.Done != nil {
			receipt = locked.Done.receipt(class)
			return locked.Done.sameAs(kind, payload)
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
		tx.Append(by.line(class.Event, action, at, kind, class.ID, payload), &receipt.Number)
		return nil
	})
	if err == nil {
		d.live.saw(receipt.Class.Event, receipt.Number)
	}
	return receipt, err
}

// receipt is the answer to an action that has been stored before.
func (l *Line) receipt(class domain.Class) Receipt {
	return Receipt{Number: l.Number, Kind: l.Kind, At: l.At, Class: class, Repeated: true}
}

// line is the journal line of an action.
func (by By) line(scope, action uuid.UUID, at time.Time, kind string, subject uuid.UUID, payload []byte) Line {
	return Line{Scope: scope, Action: action, Pass: by.Pass, Device: by.Device, At: at, Kind: kind, Subject: subject, Payload: payload}
}

// sameAs refuses an action id that was used for something else.
func (l *Line) sameAs(kind string, payload []byte) error {
	if l.Kind == kind && bytes.Equal(l.Payload, payload) {
		return nil
	}
	return &domain.Error{Kind: domain.Stale, Field: "action", Message: "this form was sent before with other content", Fix: "reload the page and send it again"}
}
