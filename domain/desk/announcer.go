package desk

import (
	"context"

	"clayline/domain"
)

// MostSpoken is how many earlier classes of a puller are told of: the newest, as many as can be said while a tractor
// backs to the sled.
const MostSpoken = 8

// Spoken is what can be said of whoever hooks now or next.
type Spoken struct {
	ClassPage
	// Stake is nil where it is not known who that is; see [domain.Class.Stake].
	Stake *domain.Stake
	// Earlier are the other classes at the same place in which somebody of the same name was entered, the newest first,
	// those of today among them.
	Earlier []EarlierClass
}

// Announce reads what can be said aloud of whoever hooks now or next, as of one moment. What is kept back until a choice
// is made is in none of it; the class is as it is told. A puller is found by the name that was entered, whatever the
// letters' case, at events whose place has the same name; without a name or a place nothing earlier is found. Everything
// in it stands on public pages; who may ask is the caller's to know.
func (d *Desk) Announce(ctx context.Context, ref Ref) (spoken Spoken, err error) {
	err = d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		if spoken.Event, spoken.Class, err = tx.Class(ctx, ref); err != nil {
			return err
		}
		spoken.Class = spoken.Class.Told()
		if spoken.Stake = spoken.Class.Stake(); spoken.Stake == nil {
			return nil
		}
		ask := EarlierAsk{Not: spoken.Class.ID, Place: spoken.Event.Place, Puller: spoken.Class.Entry(spoken.Stake.Entry).Details.Puller, Most: MostSpoken}
		if ask.Place == "" || ask.Puller == "" {
			return nil
		}
		spoken.Earlier, err = tx.Earlier(ctx, ask)
		return err
	})
	for i := range spoken.Earlier {
		spoken.Earlier[i].Class = spoken.Earlier[i].Class.Told()
	}
	return spoken, err
}
