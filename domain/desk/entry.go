package desk

import (
	"cmp"
	"context"
	"slices"

	"clayline/domain"
	"clayline/domain/doc"
)

// MostPulled is how many classes of one puller or vehicle are told of: the newest.
const MostPulled = 200

// PulledBy reads the classes of all events that somebody is entered in under a name and a home, as they are printed, the newest
// first. Everything in it stands on public pages. The kind of the error is NotFound where nobody is entered so: who has no
// entry any more has no page either.
func (d *Desk) PulledBy(ctx context.Context, puller, home string) ([]doc.HeldClass, error) {
	return d.entered(ctx, "nobody is entered as "+puller+" with this home", func(tx Tx) ([]Ref, error) {
		return tx.PulledBy(ctx, puller, home, MostPulled)
	})
}

// EnteredWith reads the classes of all events that a vehicle is entered in by its name and the home beside it, as
// [Desk.PulledBy] does those of somebody: whoever drives it, and whatever number it has there.
func (d *Desk) EnteredWith(ctx context.Context, vehicle, home string) ([]doc.HeldClass, error) {
	return d.entered(ctx, "no vehicle is entered as "+vehicle+" with this home", func(tx Tx) ([]Ref, error) {
		return tx.EnteredWith(ctx, vehicle, home, MostPulled)
	})
}

// entered reads the classes that find has, as of one moment; none says what is not found where it has none.
func (d *Desk) entered(ctx context.Context, none string, find func(Tx) ([]Ref, error)) (classes []doc.HeldClass, err error) {
	err = d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		refs, err := find(tx)
		if err != nil {
			return err
		}
		held, err := tx.ClassesAt(ctx, refs)
		if err != nil {
			return err
		}
		classes = nil
		for _, ref := range refs {
			classes = append(classes, held[ref])
		}
		return nil
	})
	if err == nil && len(classes) == 0 {
		err = &domain.Error{Kind: domain.NotFound, Message: none, Fix: "look at the entries of an event"}
	}
	slices.SortStableFunc(classes, func(a, b doc.HeldClass) int { return cmp.Compare(starts(b), starts(a)) })
	return classes, err
}

// starts is when the session of a class starts, in seconds, 0 where that is not known.
func starts(h doc.HeldClass) int64 {
	if len(h.Event.Sessions) == 0 {
		return 0
	}
	return h.Event.Sessions[0].Starts.Unix()
}
