package desk

import (
	"context"

	"github.com/google/uuid"

	"clayline/domain"
)

// PhotoRoles are the roles that may look at photos of readings. They are evidence, and hold what a camera writes into them,
// such as where it was: nothing for the public.
const PhotoRoles = domain.Desk | domain.Booth | domain.Cab

// HeldPhoto is a photo with its bytes, as they came, and the event that it belongs to.
type HeldPhoto struct {
	domain.Photo
	Bytes []byte
	Event uuid.UUID
}

// Photo reads a photo of a class for a pass that may look at it: NotFound where the class has none of that id, Forbidden for
// a pass of another role or event.
func (d *Desk) Photo(ctx context.Context, by By, ref Ref, id uuid.UUID) (held HeldPhoto, err error) {
	err = d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		held, err = tx.Photo(ctx, ref, id)
		return err
	})
	if err == nil {
		err = by.may(PhotoRoles, held.Event)
	}
	if err != nil {
		return HeldPhoto{}, err
	}
	return held, nil
}
