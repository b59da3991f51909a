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
}

// New returns a desk on the store. The clock is read once an action; random is where the secrets of passes come from,
// and must be fit for it.
func New(store Store, now func() time.Time, random io.Reader) *Desk {
	return &Desk{store: store, now: now, random: random, known: newMemory()}
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

// Receipt is the answer to an action that is stored.
type Receipt struct {
	Number   int64        // of the journal line
	Class    domain.Class // as it is afterwards; the zero Class for actions on an event
	Repeated bool         // the action had been stored before
}

// Act does one action on a class: lock and read, decide, write and commit.
func (d *Desk) Act(ctx context.Context, by By, ref Ref, action uuid.UUID, a domain.Action) (Receipt, error) {
	return d.ActOn(ctx, by, ref, action, func(*domain.Class) (domain.Action, error) { return a, nil })
}

// ActOn does the action that read makes of the class as it is, for a caller who must know its rules to understand what
// was typed. It costs no more than [Desk.Act]; read may run more than once.
func (d *Desk) ActOn(ctx context.Context, by By, ref Ref, action uuid.UUID, read func(*domain.Class) (domain.Action, error)) (Receipt, error) {
	at := d.moment()
	var receipt Receipt
	err := d.store.InTx(ctx, ReadCommitted, func(tx Tx) error {
		class, done, err := tx.LockClass(ctx, ref, action)
		if err != nil {
			return err
		}
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
		if done != nil {
			receipt = Receipt{Number: done.Number, Class: class, Repeated: true}
			return done.sameAs(kind, payload)
		}
		after, err := domain.Decide(class, a, at)
		if err != nil {
			return err
		}
		receipt = Receipt{Class: after}
		tx.SaveClass(class, after)
		tx.Append(by.line(class.Event, action, at, kind, class.ID, payload), &receipt.Number)
		return nil
	})
	return receipt, err
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
