package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"clayline/domain/day"
)

// newest is how many hooks are asked what the time from call to call is, those before the event alone: some twenty events.
// What a page costs does not grow with all that was ever pulled.
const newest = 5000

// Paces reads what other events say of the time from call to call; see the desk's Tx. A time is from one call to the next
// of a round against one setting: a reset between is the crew's work.
func (t *tx) Paces(ctx context.Context, event uuid.UUID, before time.Time) (paces []day.Pace, err error) {
	defer wrap(&err, "Paces(%s)", event)
	var batch pgx.Batch
	each(batch.Queue(`
		SELECT c.slug, count(*), percentile_cont(0.5) WITHIN GROUP (ORDER BY extract(epoch FROM g.cycle))
		FROM (
			SELECT h.round_id, h.called_at - lag(h.called_at) OVER (PARTITION BY h.round_id, h.revision ORDER BY h.number) AS cycle
			FROM (SELECT * FROM hook WHERE called_at < @before ORDER BY called_at DESC LIMIT @newest) h
		) g
		JOIN round r ON r.id = g.round_id
		JOIN class c ON c.id = r.class_id
		WHERE c.event_id <> @event
		AND g.cycle > interval '0'
		GROUP BY c.slug
		ORDER BY c.slug`,
		pgx.NamedArgs{"event": event, "before": before, "newest": newest}),
		func(rows pgx.Rows) error {
			var p day.Pace
			var seconds float64
			err := rows.Scan(&p.Slug, &p.Cycles, &seconds)
			p.Median = time.Duration(seconds * float64(time.Second)).Round(time.Second)
			paces = append(paces, p)
			return err
		})
	return paces, t.read(ctx, &batch)
}
