package desk

import (
	"context"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/doc"
)

// PlanEvent puts an event on this server. Its address is made from its name, and e.Slug is not looked at. Only
// a pass for every event may. The event's id is the scope of its journal, of which this is the first line.
func (d *Desk) PlanEvent(ctx context.Context, by By, action uuid.UUID, e domain.Event) (Receipt, error) {
	e.Slug = domain.Slug(e.Name)
	if err := by.may(domain.Desk, uuid.Nil); err != nil {
		return Receipt{}, err
	}
	if err := e.Check(); err != nil {
		return Receipt{}, err
	}
	payload, err := doc.EncodeEvent(e)
	if err != nil {
		return Receipt{}, err
	}
	receipt, err := d.planEvent(ctx, by, action, e, payload)
	if domain.KindOf(err) != domain.Invalid && domain.KindOf(err) != domain.Stale {
		return receipt, err
	}
	// Two of the same at once: the one that came second is refused by the database, and finds what the first stored.
	again, doneErr := d.planEvent(ctx, by, action, e, payload)
	if doneErr == nil && again.Repeated {
		return again, nil
	}
	return receipt, err
}

// planEvent stores the event, or finds that the action was done before. No row can be locked for an event that
// is not there yet, so that two of the same name may both get past the check; the database's constraint then
// refuses one.
func (d *Desk) planEvent(ctx context.Context, by By, action uuid.UUID, e domain.Event, payload []byte) (receipt Receipt, err error) {
	at := d.moment()
	err = d.store.InTx(ctx, ReadCommitted, func(tx Tx) error {
		switch done, err := tx.ActionDone(ctx, e.ID, action); {
		case err != nil:
			return err
		case done != nil:
			receipt = done.receipt(domain.Class{})
			return done.sameAs("event", e.ID, payload)
		}
		events, err := tx.Events(ctx)
		if err != nil {
			return err
		}
		slugs := make([]string, len(events))
		for i := range events {
			slugs[i] = events[i].Slug
		}
		if err := domain.NameTaken(e.Name, slugs); err != nil {
			return err
		}
		receipt = Receipt{Kind: "event", At: at}
		tx.AddEvent(e, at)
		tx.Append(by.line(e.ID, action, at, "event", e.ID, payload), &receipt.Number)
		return nil
	})
	return receipt, err
}

// PlanClass puts a class at the end of an event's programme. Session, track and sled must be the event's; of
// the sled only the id is looked at. The event is locked, so that two classes planned at once get two places
// and two addresses.
func (d *Desk) PlanClass(ctx context.Context, by By, event string, action uuid.UUID, plan domain.PlanClass) (Receipt, error) {
	at := d.moment()
	var receipt Receipt
	err := d.store.InTx(ctx, ReadCommitted, func(tx Tx) error {
		locked, err := tx.LockEvent(ctx, event, action)
		if err != nil {
			return err
		}
		e := locked.Event
		if err := by.may(domain.Desk, e.ID); err != nil {
			return err
		}
		// What was done once is answered from its line: the sled may have another description by now, and the session
		// may be gone.
		if locked.Done != nil {
			receipt = locked.Done.receipt(domain.Class{})
			return locked.Done.planned(e.ID, plan)
		}
		plan, err := e.Complete(plan)
		if err != nil {
			return err
		}
		kind, payload, err := doc.EncodeAction(plan)
		if err != nil {
			return err
		}
		if err := domain.NameTaken(plan.Name, locked.Slugs); err != nil {
			return err
		}
		class, err := domain.Decide(domain.Class{}, plan, at)
		if err != nil {
			return err
		}
		receipt = Receipt{Kind: kind, At: at, Class: class}
		tx.AddClass(class)
		tx.Append(by.line(e.ID, action, at, kind, class.ID, payload), &receipt.Number)
		return nil
	})
	if err == nil {
		d.live.saw(receipt.Class.Event, receipt.Number)
	}
	return receipt, err
}

// planned refuses an action id that was used for something else than this plan. The sled is compared by its id: the
// line has it as it was described at the planning.
func (l *Line) planned(event uuid.UUID, plan domain.PlanClass) error {
	plan.Event = event
	if before, err := doc.DecodeAction(l.Kind, l.Payload); err == nil {
		if first, ok := before.(domain.PlanClass); ok && first.Sled.ID == plan.Sled.ID {
			plan.Sled = first.Sled
		}
	}
	kind, payload, err := doc.EncodeAction(plan)
	if err != nil {
		return err
	}
	return l.sameAs(kind, plan.Class, payload)
}

// ChangeEvent does one action on an event: its sessions, tracks and sleds, and the inspections of those. The line has the event as its subject. A
// version other than [AnyVersion] is the number of any journal line of the event that the caller has seen: it is stale
// when the event itself was changed after it, and not when one of its classes was.
func (d *Desk) ChangeEvent(ctx context.Context, by By, event string, action uuid.UUID, version int64, a domain.EventAction) (Receipt, error) {
	at := d.moment()
	var receipt Receipt
	var id uuid.UUID
	err := d.store.InTx(ctx, ReadCommitted, func(tx Tx) error {
		locked, err := tx.LockEvent(ctx, event, action)
		if err != nil {
			return err
		}
		id = locked.Event.ID
		if err := by.may(domain.KindOfEventAction(a).Roles, id); err != nil {
			return err
		}
		kind, payload, err := doc.EncodeEventAction(a)
		if err != nil {
			return err
		}
		if locked.Done != nil {
			receipt = locked.Done.receipt(domain.Class{})
			if err := locked.Done.sameAs(kind, id, payload); err != nil {
				return err
			}
			return signedAs(ctx, tx, a)
		}
		if version != AnyVersion && version < locked.Version {
			return &domain.Error{Kind: domain.Stale, Field: "version", Message: "the event was changed meanwhile", Fix: "read it again, look, and send again"}
		}
		after, err := domain.DecideEvent(locked.Event, a, locked.Used, at)
		if err != nil {
			return err
		}
		receipt = Receipt{Kind: kind, At: at}
		tx.SaveEvent(locked.Event, after)
		tx.Append(by.line(id, action, at, kind, id, payload), &receipt.Number)
		return nil
	})
	if err == nil {
		d.live.saw(id, receipt.Number)
	}
	return receipt, err
}
