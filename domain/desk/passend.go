package desk

import (
	"context"
	"encoding/json"

	"github.com/google/uuid"

	"clayline/domain"
)

// lockPassOf locks a pass of the scope, to be ended. One's own pass is given back and not taken away: whoever is the
// only one at the desk would be left outside by a slip of the hand.
func lockPassOf(ctx context.Context, tx Tx, by By, scope, id uuid.UUID) (Pass, error) {
	p, err := tx.LockPass(ctx, id)
	switch {
	case err != nil:
		return p, err
	case p.Event != scope:
		return p, &domain.Error{Kind: domain.NotFound, Message: "there is no such pass here", Fix: "look at the list of passes"}
	case p.ID == by.Pass:
		return p, &domain.Error{Kind: domain.WrongState, Message: "that is the pass you act with", Fix: "give it back instead"}
	}
	return p, nil
}

// RevokePass takes a pass of the event away, or withdraws its link while nobody used it; event is "" for a pass that is
// good at every event. It holds from the commit on, in every process. What its holder stored stays.
func (d *Desk) RevokePass(ctx context.Context, by By, event string, action, id uuid.UUID) (receipt Receipt, err error) {
	at := d.moment()
	payload, err := json.Marshal(map[string]string{"Pass": id.String()})
	if err != nil {
		return receipt, err
	}
	err = d.store.InTx(ctx, ReadCommitted, func(tx Tx) error {
		scope, done, err := scopeOf(ctx, tx, event, action)
		if err != nil {
			return err
		}
		if err := by.may(domain.Desk, scope); err != nil {
			return err
		}
		if done != nil {
			receipt = done.receipt(domain.Class{})
			return done.sameAs("revoke", id, payload)
		}
		p, err := lockPassOf(ctx, tx, by, scope, id)
		if err != nil {
			return err
		}
		if !p.Ended.IsZero() {
			return &domain.Error{Kind: domain.WrongState, Message: "that pass has ended already", Fix: "nothing is left to do"}
		}
		receipt = Receipt{Kind: "revoke", At: at}
		p.Ended, p.Revoked = at, true
		tx.EndPass(p)
		tx.Append(by.line(scope, action, at, "revoke", id, payload), &receipt.Number)
		return nil
	})
	return receipt, err
}

// LeavePass ends the pass of a secret, because its holder gives it back. The same action again, whose first answer was
// lost, is answered again; otherwise a secret that lets nobody in is Forbidden.
func (d *Desk) LeavePass(ctx context.Context, action uuid.UUID, secret string, holder Holder) (receipt Receipt, err error) {
	at := d.moment()
	err = d.store.InTx(ctx, ReadCommitted, func(tx Tx) error {
		p, err := tx.PassBySecret(ctx, hashOf(secret))
		if err != nil {
			return err
		}
		// Read again behind the lock: a second press waits here for the first.
		if p, err = tx.LockPass(ctx, p.ID); err != nil {
			return err
		}
		payload, err := json.Marshal(map[string]string{"Pass": p.ID.String()})
		if err != nil {
			return err
		}
		done, err := tx.ActionDone(ctx, p.Event, action)
		if err != nil {
			return err
		}
		if done != nil {
			receipt = done.receipt(domain.Class{})
			return done.sameAs("leave", p.ID, payload)
		}
		by, err := p.holds(at, holder)
		if err != nil {
			return err
		}
		if by.Role == 0 {
			return by.may(p.Role, p.Event)
		}
		receipt = Receipt{Kind: "leave", At: at}
		p.Ended = at
		tx.EndPass(p)
		tx.Append(by.line(p.Event, action, at, "leave", p.ID, payload), &receipt.Number)
		return nil
	})
	return receipt, err
}

// over says that the pass has ended and how its holder gets in again, or nil. Nobody is told who took it away.
func (p Pass) over() error {
	const ask = "ask the desk for a new entry link"
	switch {
	case p.Ended.IsZero():
		return nil
	case p.Revoked:
		return &domain.Error{Kind: domain.Forbidden, Field: "pass", Message: "the desk took the pass of this device away", Fix: "if it should go on, " + ask}
	default:
		return &domain.Error{Kind: domain.Forbidden, Field: "pass", Message: "the pass of this device was given back", Fix: "if it should go on, " + ask}
	}
}
