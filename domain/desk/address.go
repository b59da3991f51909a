package desk

import "context"

// MostAddresses is how many addresses a list of them may have: what search engines read of one file,
// https://www.sitemaps.org/protocol.html .
const MostAddresses = 50000

// Addresses are the permanent parts of the addresses of a server's public pages.
type Addresses struct {
	Events  []string // the newest first
	Classes []Ref    // the newest first, MostAddresses at most
	Seasons []string // by name
}

// Addresses reads the addresses of what this server shows to everybody, as of one moment.
func (d *Desk) Addresses(ctx context.Context) (all Addresses, err error) {
	err = d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		all = Addresses{}
		events, err := tx.Events(ctx)
		if err != nil {
			return err
		}
		seasons, err := tx.Seasons(ctx)
		if err != nil {
			return err
		}
		for _, e := range events {
			all.Events = append(all.Events, e.Slug)
		}
		for _, s := range seasons {
			all.Seasons = append(all.Seasons, s.Slug)
		}
		all.Classes, err = tx.ClassRefs(ctx, MostAddresses)
		return err
	})
	return all, err
}
