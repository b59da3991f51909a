package desk

import (
	"context"

	"clayline/domain"
)

// Journal reads the lines of an event's journal after a number, oldest first and at most as many as asked for,
// for the desk of that event. With the number of the last line that came, the next call goes on without a gap.
// Lines name passes and devices and are for staff; the public gets [News].
func (d *Desk) Journal(ctx context.Context, by By, event string, after int64, most int) (lines []Line, err error) {
	id, err := d.live.event(ctx, event)
	if err != nil {
		return nil, err
	}
	if err := by.may(domain.Desk, id); err != nil {
		return nil, err
	}
	err = d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		lines, err = tx.JournalAfter(ctx, id, after, most)
		return err
	})
	return lines, err
}
