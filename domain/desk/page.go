package desk

import (
	"context"

	"github.com/google/uuid"

	"clayline/domain"
)

// ClassPage is what the pages of a class show, all of it as of one moment. The public page, the booth, the cab
// and the prints are drawn from the same one, so that they cannot contradict one another.
type ClassPage struct {
	Event   domain.Event
	Class   domain.Class
	Journal []Line // the newest lines about the class, newest first
}

// journalTail is how many journal lines a page shows.
const journalTail = 10

// ClassPage reads a class, its event and the end of its journal, as of one moment, in a transaction that only
// reads. The kind of the error is NotFound where the address leads nowhere. Who may see what is the caller's to
// know: the journal is for staff.
func (d *Desk) ClassPage(ctx context.Context, ref Ref) (page ClassPage, err error) {
	err = d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		if page.Event, page.Class, err = tx.Class(ctx, ref); err != nil {
			return err
		}
		page.Journal, err = tx.Journal(ctx, page.Event.ID, page.Class.ID, journalTail)
		return err
	})
	return page, err
}

// EventPage is what the pages of an event show, all of it as of one moment. The classes are whole, because a
// programme says of each what it waits for and who won, and both are computed.
type EventPage struct {
	Event   domain.Event
	Classes []domain.Class // in programme order
	Journal []Line         // the newest lines of the event, newest first
}

// EventPage reads an event, its classes and the end of its journal, as of one moment; NotFound as for
// [Desk.ClassPage].
func (d *Desk) EventPage(ctx context.Context, event string) (page EventPage, err error) {
	err = d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		if page.Event, page.Classes, err = tx.Event(ctx, event); err != nil {
			return err
		}
		page.Journal, err = tx.Journal(ctx, page.Event.ID, uuid.Nil, journalTail)
		return err
	})
	return page, err
}

// Events reads all events with their sessions, the newest first; tracks and sleds are left out.
func (d *Desk) Events(ctx context.Context) (events []domain.Event, err error) {
	err = d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		events, err = tx.Events(ctx)
		return err
	})
	return events, err
}
