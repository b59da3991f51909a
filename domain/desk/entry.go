package desk

import (
	"cmp"
	"context"
	"slices"

	"clayline/domain"
	"clayline/domain/doc"
)

// MostPulled is how many classes of one puller are told of: the newest.
const MostPulled = 200

// PulledBy reads the classes of all events that somebody is entered in under a name and a home, as they are printed, the newest
// first. Everything in it stands on public pages. The kind of the error is NotFound where nobody is entered so: who has no
// entry any more has no page either.
func (d *Desk) PulledBy(ctx context.Context, puller, home string) (classes []doc.HeldClass, err error) {
	err = d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		refs, err := tx.PulledBy(ctx, puller, home, MostPulled)
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
		err = &domain.Error{Kind: domain.NotFound, Message: "nobody is entered as " + puller + " with this home", Fix: "look at the entries of an event"}
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
