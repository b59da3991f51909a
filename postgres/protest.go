package postgres

import (
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"clayline/domain"
)

// queueProtests asks for the protests of the classes, in the order lodged, with the names of who lodged them.
func (r *classRead) queueProtests(batch *pgx.Batch, which string, args pgx.NamedArgs) {
	each(batch.Queue(`
		SELECT class_id, id, entry_id, hook_id, about, fee_taken, lodged_at, is_late, lodged_by,
		       coalesce(ruling, ''), follows, reason, decided_at
		FROM protest
		WHERE class_id IN (`+which+`)
		ORDER BY class_id, position`, args), r.protest)
}

// protest reads one protest into its class.
func (r *classRead) protest(rows pgx.Rows) error {
	var class uuid.UUID
	var hook *uuid.UUID
	var p domain.Protest
	var ruling, follows string
	var decided *time.Time
	if err := rows.Scan(&class, &p.ID, &p.Entry, &hook, &p.About, &p.Fee, &p.Lodged, &p.Late, &p.By,
		&ruling, &follows, &p.Reason, &decided); err != nil {
		return err
	}
	p.Lodged, p.Decided = p.Lodged.UTC(), utc(decided)
	if hook != nil {
		p.Hook = *hook
	}
	if err := p.Ruling.UnmarshalText([]byte(ruling)); err != nil {
		return err
	}
	if err := p.Follows.UnmarshalText([]byte(follows)); err != nil {
		return err
	}
	c := &r.classes[r.at[class]]
	c.Protests = append(c.Protests, p)
	return nil
}

// saveProtests writes new protests, and what was decided about the others. It comes after the hooks, which a protest may
// name.
func (t *tx) saveProtests(before, after domain.Class) {
	for i, p := range after.Protests {
		args := pgx.NamedArgs{
			"id": p.ID, "class": after.ID, "position": i + 1, "entry": p.Entry, "hook": idOrNull(p.Hook), "about": p.About, "fee": p.Fee,
			"lodged": p.Lodged, "late": p.Late, "by": p.By, "ruling": orNull(p.Ruling.String()), "follows": p.Follows.String(),
			"reason": p.Reason, "decided": null(p.Decided),
		}
		switch {
		case i >= len(before.Protests):
			t.writes.Queue(`
				INSERT INTO protest (id, class_id, position, entry_id, hook_id, about, fee_taken, lodged_at, is_late, lodged_by,
				                     ruling, follows, reason, decided_at)
				VALUES (@id, @class, @position, @entry, @hook, @about, @fee, @lodged, @late, @by,
				        @ruling, @follows, @reason, @decided)`, args)
		case p != before.Protests[i]:
			t.writes.Queue(`
				UPDATE protest
				SET ruling = @ruling, follows = @follows, reason = @reason, decided_at = @decided
				WHERE id = @id`, args)
		}
	}
}
