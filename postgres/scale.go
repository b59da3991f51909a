package postgres

import (
	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"clayline/domain"
)

// queueReadings asks for what the scale showed, in the order weighed. A weight comes as text, with its unit and the
// zeros it was read with.
func (r *classRead) queueReadings(batch *pgx.Batch, which string, args pgx.NamedArgs) {
	each(batch.Queue(`
		SELECT class_id, id, entry_id, weight, is_after, at, misread
		FROM reading
		WHERE class_id IN (`+which+`)
		ORDER BY class_id, position`, args),
		func(rows pgx.Rows) error {
			var class uuid.UUID
			var reading domain.Reading
			var weight string
			if err := rows.Scan(&class, &reading.ID, &reading.Entry, &weight, &reading.After, &reading.At, &reading.Misread); err != nil {
				return err
			}
			reading.At = reading.At.UTC()
			c := &r.classes[r.at[class]]
			c.Readings = append(c.Readings, reading)
			return c.Readings[len(c.Readings)-1].Weight.UnmarshalText([]byte(weight))
		})
}

// saveReadings writes new readings, and why an earlier one does not count any more. What was shown is written once.
func (t *tx) saveReadings(before, after domain.Class) {
	for i, r := range after.Readings {
		args := pgx.NamedArgs{
			"id": r.ID, "class": after.ID, "position": i + 1, "entry": r.Entry, "weight": r.Weight.String(), "after": r.After, "at": r.At, "misread": r.Misread,
		}
		switch {
		case i >= len(before.Readings):
			t.writes.Queue(`
				INSERT INTO reading (id, class_id, position, entry_id, weight, is_after, at, misread)
				VALUES (@id, @class, @position, @entry, @weight, @after, @at, @misread)`, args)
		case r != before.Readings[i]:
			t.writes.Queue(`
				UPDATE reading
				SET misread = @misread
				WHERE id = @id`, args)
		}
	}
}
