package desk

import (
	"context"
	"sync"

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

// outlook is how the day of an event runs as of a line of its journal, for the pages of all its classes: each of them asks
// for it when it is rendered anew, and one reads the event. The lock is held meanwhile, so that the others wait for that
// one.
type outlook struct {
	mu     sync.Mutex
	number int64 // 0 before the first
	day    day.Day
}

// Day returns how the day of an event runs, as of its last journal line or later: computed once for a line, whoever asks.
// It is shared and must not be changed.
func (d *Desk) Day(ctx context.Context, event string) (day.Day, error) {
	id, err := d.live.event(ctx, event)
	if err != nil {
		return day.Day{}, err
	}
	topic, err := d.live.open(ctx, id)
	if err != nil {
		return day.Day{}, err
	}
	head, o := topic.known(), &topic.outlook
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.number >= head && head > 0 {
		return o.day, nil
	}
	page, err := d.DayPage(ctx, event)
	if err != nil {
		return day.Day{}, err
	}
	o.number, o.day = head, page.Day
	return o.day, nil
}
