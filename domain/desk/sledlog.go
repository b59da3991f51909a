package desk

import (
	"context"
	"slices"

	"github.com/google/uuid"

	"clayline/domain"
)

// SledLog is the record of a sled over events: what it did in each class, and who looked at it. It is a record and no
// approval. A sled belongs to an event; two of the same name are taken to be one that went from the one to the other.
type SledLog struct {
	// Event and Sled are those of the address.
	Event domain.Event
	Sled  domain.Sled
	// Pulling says that a vehicle is pulling the sled now: nothing is asked of its crew then.
	Pulling bool
	// Events are the newest first, that of the address among them; More says that there are more than were read.
	Events []SledEvent
	More   bool
}

// SledEvent is a sled at one event.
type SledEvent struct {
	Event       domain.Event
	Sled        domain.Sled
	Classes     []domain.Class      // that are pulled with it, in programme order
	Inspections []domain.Inspection // the newest first
}

// sledEvents is how many events a log goes back.
const sledEvents = 20

// SledLog reads the log of a sled of an event as of one moment. by may have a pass for every event, and reads all of them;
// one for this event reads this one. Whether the role may, the caller asks.
func (d *Desk) SledLog(ctx context.Context, by By, event string, sled uuid.UUID) (log SledLog, err error) {
	err = d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		log = SledLog{}
		here, classes, err := tx.Event(ctx, event)
		if err != nil {
			return err
		}
		i := slices.IndexFunc(here.Sleds, func(s domain.Sled) bool { return s.ID == sled })
		if i < 0 {
			return &domain.Error{Kind: domain.NotFound, Field: "sled", Message: "the event has no such sled", Fix: "read the event, which has the ids of its sleds"}
		}
		log.Event, log.Sled = here, here.Sleds[i]
		log.Pulling = slices.ContainsFunc(classes, func(c domain.Class) bool {
			on := c.OnTrack()
			return c.Sled.ID == sled && on != nil && !on.Started.IsZero()
		})
		if err := log.read(ctx, tx, by, here, classes); err != nil {
			return err
		}
		return log.inspections(ctx, tx)
	})
	return log, err
}

// read adds the events of the log, of which the one of the address was read already.
func (l *SledLog) read(ctx context.Context, tx Tx, by By, here domain.Event, classes []domain.Class) error {
	slugs := []string{here.Slug}
	if by.Event == uuid.Nil {
		found, err := tx.EventsWithSled(ctx, l.Sled.Name, sledEvents+1)
		if err != nil {
			return err
		}
		l.More = len(found) > sledEvents
		slugs = found[:min(len(found), sledEvents)]
		// An event that lies far back still has its own log.
		if !slices.Contains(slugs, here.Slug) {
			slugs = append(slugs[:len(slugs)-1:len(slugs)-1], here.Slug)
		}
	}
	for _, slug := range slugs {
		e, list := here, classes
		if slug != here.Slug {
			var err error
			if e, list, err = tx.Event(ctx, slug); err != nil {
				return err
			}
		}
		l.add(e, list)
	}
	return nil
}

// add adds an event with the classes that are pulled with the sled of that name.
func (l *SledLog) add(e domain.Event, classes []domain.Class) {
	for _, s := range e.Sleds {
		if s.Name != l.Sled.Name {
			continue
		}
		at := SledEvent{Event: e, Sled: s}
		for _, c := range classes {
			if c.Sled.ID == s.ID {
				at.Classes = append(at.Classes, c)
			}
		}
		l.Events = append(l.Events, at)
	}
}

// inspections adds the inspections to their events.
func (l *SledLog) inspections(ctx context.Context, tx Tx) error {
	sleds := make([]uuid.UUID, len(l.Events))
	for i, e := range l.Events {
		sleds[i] = e.Sled.ID
	}
	list, err := tx.Inspections(ctx, sleds)
	for _, found := range list {
		if i := slices.Index(sleds, found.Sled); i >= 0 {
			l.Events[i].Inspections = append(l.Events[i].Inspections, found)
		}
	}
	return err
}

// signedAs refuses an inspection that was sent before with another name: the line of the journal has none.
func signedAs(ctx context.Context, tx Tx, a domain.EventAction) error {
	asked, ok := a.(domain.InspectSled)
	if !ok {
		return nil
	}
	list, err := tx.Inspections(ctx, []uuid.UUID{asked.Sled})
	if err != nil {
		return err
	}
	if slices.ContainsFunc(list, func(i domain.Inspection) bool { return i.ID == asked.Inspection && i.By != asked.By }) {
		return sentBefore()
	}
	return nil
}
