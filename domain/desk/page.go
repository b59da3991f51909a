package desk

import (
	"context"

	"github.com/google/uuid"

	"clayline/domain"
)

// ClassPage is what the pages of a class show.
type ClassPage struct {
	Event   domain.Event
	Class   domain.Class
	Journal []Line // the newest lines about the class, newest first
}

// journalTail is how many journal lines a page shows.
const journalTail = 10

// ClassPage reads a class, its event and the end of its journal, as of one moment.
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

// EventPage is what the pages of an event show.
type EventPage struct {
	Event   domain.Event
	Classes []domain.Class // in programme order
	Journal []Line         // the newest lines of the event, newest first
}

// EventPage reads an event, its classes and the end of its journal, as of one moment.
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

// Events reads all events, the newest first.
func (d *Desk) Events(ctx context.Context) (events []domain.Event, err error) {
	err = d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		events, err = tx.Events(ctx)
		return err
	})
	return events, err
}
