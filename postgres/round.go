package postgres

import (
	"slices"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"clayline/domain"
)

// roundsOf gives the ids of the rounds of the classes that the expression gives, as an SQL expression again.
func roundsOf(which string) string {
	return `SELECT r.id FROM round r WHERE r.class_id IN (` + which + `)`
}

// queueRounds asks for the rounds in the order opened, and then for their line-ups in the order of hooking.
func (r *classRead) queueRounds(batch *pgx.Batch, which string, args pgx.NamedArgs) {
	each(batch.Queue(`
		SELECT class_id, id, name
		FROM round
		WHERE class_id IN (`+which+`)
		ORDER BY class_id, position`, args),
		func(rows pgx.Rows) error {
			var class, id uuid.UUID
			var name string
			if err := rows.Scan(&class, &id, &name); err != nil {
				return err
			}
			parsed, err := domain.ParseRoundName(name)
			if err != nil {
				return err
			}
			at := r.at[class]
			c := &r.classes[at]
			r.rounds[id] = [2]int{at, len(c.Rounds)}
			c.Rounds = append(c.Rounds, domain.Round{ID: id, Name: parsed})
			return nil
		})
	each(batch.Queue(`
		SELECT round_id, entry_id, note, is_out, presence, presence_at
		FROM slot
		WHERE round_id IN (`+roundsOf(which)+`)
		ORDER BY round_id, position`, args),
		func(rows pgx.Rows) error {
			var id uuid.UUID
			var s domain.Slot
			var where string
			var at *time.Time
			if err := rows.Scan(&id, &s.Entry, &s.Note, &s.Out, &where, &at); err != nil {
				return err
			}
			said, err := domain.ParseWhere(where)
			if err != nil {
				return err
			}
			s.Presence = domain.Presence{Where: said, At: utc(at)}
			round := r.round(id)
			round.Lineup = append(round.Lineup, s)
			return nil
		})
}

// addRound writes a new round; position is its place in the class from 1, pull-offs included.
func (t *tx) addRound(class uuid.UUID, position int, r domain.Round) {
	t.writes.Queue(`
		INSERT INTO round (id, class_id, position, name)
		VALUES (@id, @class, @position, @name)`,
		pgx.NamedArgs{"id": r.ID, "class": class, "position": position, "name": r.Name.String()})
}

// saveSlots writes the places of the line-up that changed. Positions are checked at the commit, so that the
// order in which they are written does not matter: dropping the first to the last place moves all the others up
// by one. Slots go only in a redraw; an entry that hooks no more is marked as out.
func (t *tx) saveSlots(class uuid.UUID, before, after domain.Round) {
	for _, s := range before.Lineup {
		if !slices.ContainsFunc(after.Lineup, func(n domain.Slot) bool { return n.Entry == s.Entry }) {
			t.writes.Queue(`
				DELETE FROM slot
				WHERE round_id = @round AND entry_id = @entry`,
				pgx.NamedArgs{"round": after.ID, "entry": s.Entry})
		}
	}
	for i, s := range after.Lineup {
		// Equal at the same index is equal in place, entry and note: nothing to write.
		if i < len(before.Lineup) && before.Lineup[i] == s {
			continue
		}
		t.writes.Queue(`
			INSERT INTO slot (round_id, entry_id, class_id, position, note, is_out, presence, presence_at)
			VALUES (@round, @entry, @class, @position, @note, @out, @presence, @presence_at)
			ON CONFLICT (round_id, entry_id) DO UPDATE
			SET position = @position, note = @note, is_out = @out, presence = @presence, presence_at = @presence_at`,
			pgx.NamedArgs{"round": after.ID, "entry": s.Entry, "class": class, "position": i + 1, "note": s.Note, "out": s.Out,
				"presence": s.Presence.Where.String(), "presence_at": null(s.Presence.At)})
	}
}
