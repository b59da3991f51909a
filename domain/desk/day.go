package desk

import (
	"context"

	"github.com/google/uuid"

	"clayline/domain/day"
)

// DayPage is what the page of an event shows, and how its day runs.
type DayPage struct {
	EventPage
	Day day.Day
}

// DayPage reads an event as [Desk.EventPage] does and computes how its day runs, all of it as of one moment. What earlier
// days say is read of hooks before the event's first session alone, so that it does not change while the event is pulled:
// the same journal gives the same windows.
func (d *Desk) DayPage(ctx context.Context, event string) (page DayPage, err error) {
	var paces []day.Pace
	err = d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		if page.Event, page.Classes, err = tx.Event(ctx, event); err != nil {
			return err
		}
		before := page.Event.Sessions[0].Starts
		for _, s := range page.Event.Sessions {
			if s.Starts.Before(before) {
				before = s.Starts
			}
		}
		if paces, err = tx.Paces(ctx, page.Event.ID, before); err != nil {
			return err
		}
		page.Journal, err = tx.Journal(ctx, page.Event.ID, uuid.Nil, journalTail)
		return err
	})
	if err == nil {
		page.Day = day.Of(page.Event, page.Classes, paces)
	}
	return page, err
}
