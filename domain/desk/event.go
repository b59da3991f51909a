package desk

import (
	"context"
	"encoding/json"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/doc"
)

// PlanEvent puts an event on this server. Its address is made from its name.
func (d *Desk) PlanEvent(ctx context.Context, by By, action uuid.UUID, e domain.Event) (Receipt, error) {
	e.Slug = domain.Slug(e.Name)
	if err := by.may(domain.Desk, uuid.Nil); err != nil {
		return Receipt{}, err
	}
	if err := e.Check(); err != nil {
		return Receipt{}, err
	}
	payload, err := json.Marshal(e)
	if err != nil {
		return Receipt{}, err
	}
	at := d.moment()
	var receipt Receipt
	err = d.store.InTx(ctx, ReadCommitted, func(tx Tx) error {
		switch done, err := tx.ActionDone(ctx, e.ID, action); {
		case err != nil:
			return err
		case done != nil:
			receipt = done.receipt(domain.Class{})
			return done.sameAs("event", payload)
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

// PlanClass puts a class at the end of an event's programme. Session, track and sled must be the event's.
func (d *Desk) PlanClass(ctx context.Context, by By, event string, action uuid.UUID, plan domain.PlanClass) (Receipt, error) {
	at := d.moment()
	var receipt Receipt
	err := d.store.InTx(ctx, ReadCommitted, func(tx Tx) error {
		e, slugs, done, err := tx.LockEvent(ctx, event, action)
		if err != nil {
			return err
		}
		if err := by.may(domain.Desk, e.ID); err != nil {
			return err
		}
		plan, err := e.Complete(plan)
		if err != nil {
			return err
		}
		kind, payload, err := doc.EncodeAction(plan)
		if err != nil {
			return err
		}
		if done != nil {
			receipt = done.receipt(domain.Class{})
			return done.sameAs(kind, payload)
		}
		if err := domain.NameTaken(plan.Name, slugs); err != nil {
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
