package desk

import (
	"context"
	"slices"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/day"
)

// DayPage is what the page of an event shows, and how its day runs.
type DayPage struct {
	EventPage
	Day day.Day
	// Last are the newest lines about the classes that are not for the staff alone, one for each, in no order.
	Last []Line
}

// Class is what the public pages of one class show, all of it as of the moment of the day, with the newest line about it
// alone; NotFound where the event has no such class. It shares the class with the day: nothing in it may be changed.
func (p *DayPage) Class(slug string) (page ClassPage, err error) {
	i := slices.IndexFunc(p.Classes, func(c domain.Class) bool { return c.Slug == slug })
	if i < 0 {
		return page, Ref{Event: p.Event.Slug, Class: slug}.Missing()
	}
	page.Event, page.Class = p.Event, p.Classes[i]
	for _, line := range p.Last {
		if line.Subject == page.Class.ID {
			page.Journal = []Line{line}
		}
	}
	return page, nil
}

// DayPage reads an event as [Desk.EventPage] does and computes how its day runs, all of it as of one moment. What earlier
// days say is read of hooks before the event's first session alone, so that it does not change while the event is pulled:
// the same journal gives the same windows. Whoever serves readers takes it from [Live.Day].
func (d *Desk) DayPage(ctx context.Context, event string) (page DayPage, err error) {
	return readDay(ctx, d.store, event)
}

// Day returns how the day of an event runs as of the last line of its journal. It is read and worked out once for a journal
// number, when it is first asked for, and shared by all that is made of it, the pages of each class and entry among them:
// nothing in it may be changed.
func (l *Live) Day(ctx context.Context, event string) (*DayPage, error) {
	page, err := l.Page(ctx, event, "day of "+event, func(ctx context.Context) (Rendered, error) {
		page, err := readDay(ctx, l.store, event)
		return Rendered{day: &page}, err
	})
	if err != nil {
		return nil, err
	}
	return page.day, nil
}

// readDay is [Desk.DayPage].
func readDay(ctx context.Context, store Store, event string) (page DayPage, err error) {
	var paces []day.Pace
	err = store.InTx(ctx, Snapshot, func(tx Tx) error {
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
		if page.Last, err = tx.LastLines(ctx, page.Event.ID); err != nil {
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
