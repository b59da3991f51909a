package desk

import (
	"context"

	"clayline/domain"
)

// Records returns the records of this server: of each class on each track with each sled, by the names that people gave them,
// the farthest hook of a result that is official.
func (d *Desk) Records(ctx context.Context) (records []domain.Mark, err error) {
	err = d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		marks, err := tx.Marks(ctx)
		records = domain.Records(marks)
		return err
	})
	return records, err
}
