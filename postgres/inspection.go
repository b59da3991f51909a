package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"clayline/domain"
)

// Inspections reads those of some sleds; see the desk's Tx.
func (t *tx) Inspections(ctx context.Context, sleds []uuid.UUID) (list []domain.Inspection, err error) {
	defer wrap(&err, "Inspections(%d)", len(sleds))
	var batch pgx.Batch
	each(batch.Queue(`
		SELECT id, sled_id, inspected_at, signed_by, points, states, notes
		FROM inspection
		WHERE sled_id = ANY(@sleds)
		ORDER BY inspected_at DESC, id`, pgx.NamedArgs{"sleds": sleds}),
		func(rows pgx.Rows) error {
			i, err := readInspection(rows)
			list = append(list, i)
			return err
		})
	return list, t.read(ctx, &batch)
}

// readInspection reads one inspection. The three lists are of one length, which a constraint holds.
func readInspection(rows pgx.Rows) (i domain.Inspection, err error) {
	var points, states, notes []string
	if err := rows.Scan(&i.ID, &i.Sled, &i.At, &i.By, &points, &states, &notes); err != nil {
		return i, err
	}
	i.At = i.At.UTC()
	i.Points = make([]domain.Inspected, len(points))
	for j := range points {
		i.Points[j] = domain.Inspected{Point: points[j], Note: notes[j]}
		if i.Points[j].State, err = domain.ParsePointState(states[j]); err != nil {
			return i, err
		}
	}
	return i, nil
}

// addInspection writes an inspection of a sled of the event.
func (t *tx) addInspection(event uuid.UUID, i domain.Inspection) {
	points, states, notes := make([]string, len(i.Points)), make([]string, len(i.Points)), make([]string, len(i.Points))
	for j, p := range i.Points {
		points[j], states[j], notes[j] = p.Point, p.State.String(), p.Note
	}
	t.writes.Queue(`
		INSERT INTO inspection (id, event_id, sled_id, inspected_at, signed_by, points, states, notes)
		VALUES (@id, @event, @sled, @at, @by, @points, @states, @notes)`,
		pgx.NamedArgs{"id": i.ID, "event": event, "sled": i.Sled, "at": i.At, "by": i.By, "points": points, "states": states, "notes": notes})
}

// EventsWithSled finds where a sled of that name is; see the desk's Tx.
func (t *tx) EventsWithSled(ctx context.Context, name string, most int) (slugs []string, err error) {
	defer wrap(&err, "EventsWithSled(%q)", name)
	var batch pgx.Batch
	each(batch.Queue(`
		SELECT e.slug
		FROM sled s
		JOIN event e ON e.id = s.event_id
		WHERE s.name = @name
		ORDER BY e.planned_at DESC, e.id
		LIMIT @most`, pgx.NamedArgs{"name": name, "most": most}),
		func(rows pgx.Rows) error {
			var slug string
			err := rows.Scan(&slug)
			slugs = append(slugs, slug)
			return err
		})
	return slugs, t.read(ctx, &batch)
}
