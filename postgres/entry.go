package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"clayline/domain"
	"clayline/domain/desk"
)

// queueEntries asks for the entries of the classes, in the order entered. It is the one place where personal
// data is read.
func (r *classRead) queueEntries(batch *pgx.Batch, which string, args pgx.NamedArgs) {
	each(batch.Queue(`
		SELECT class_id, id, number, late, same_vehicle_id, scratched, puller, vehicle, home, is_guest, came, fee, is_paid
		FROM entry
		WHERE class_id IN (`+which+`)
		ORDER BY class_id, position`, args),
		func(rows pgx.Rows) error {
			var class uuid.UUID
			var e domain.Entry
			var same *uuid.UUID
			// The order is that of the columns.
			err := rows.Scan(&class, &e.ID, &e.Number, &e.Late, &same, &e.Scratched, &e.Details.Puller, &e.Details.Vehicle, &e.Details.Home,
				&e.Guest, &e.Came, &e.Fee, &e.Paid)
			if err != nil {
				return err
			}
			if same != nil {
				e.Same = *same
			}
			c := &r.classes[r.at[class]]
			c.Entries = append(c.Entries, e)
			return nil
		})
}

// saveEntries writes new entries, and what changed about the others: that they were scratched, are no longer late after a
// redraw, or came and paid. A new entry has not been seen yet. Number and details of an entry are not written again, since
// no action changes them.
func (t *tx) saveEntries(before, after domain.Class) {
	for i, e := range after.Entries {
		switch {
		case i >= len(before.Entries):
			t.writes.Queue(`
				INSERT INTO entry (id, class_id, position, number, late, same_vehicle_id, scratched, puller, vehicle, home)
				VALUES (@id, @class, @position, @number, @late, nullif(@same::uuid, '00000000-0000-0000-0000-000000000000'), @scratched, @puller, @vehicle, @home)`,
				pgx.NamedArgs{
					"id": e.ID, "class": after.ID, "position": i + 1, "number": e.Number, "late": e.Late, "same": e.Same, "scratched": e.Scratched,
					"puller": e.Details.Puller, "vehicle": e.Details.Vehicle, "home": e.Details.Home,
				})
		case e != before.Entries[i]:
			t.writes.Queue(`
				UPDATE entry
				SET scratched = @scratched, late = @late, is_guest = @guest, came = @came, fee = @fee, is_paid = @paid
				WHERE id = @id`,
				pgx.NamedArgs{"id": e.ID, "scratched": e.Scratched, "late": e.Late, "guest": e.Guest, "came": e.Came, "fee": e.Fee, "paid": e.Paid})
		}
	}
}

// PulledBy returns the classes that somebody is entered in; see the desk's Tx. The name and the home are compared as they are
// written; the index has the names in small letters.
func (t *tx) PulledBy(ctx context.Context, puller, home string, most int) (refs []desk.Ref, err error) {
	defer wrap(&err, "PulledBy")
	return t.refs(ctx, `
		WHERE c.id IN (SELECT class_id FROM entry WHERE lower(puller) = lower(@puller) AND puller = @puller AND home = @home)`,
		pgx.NamedArgs{"puller": puller, "home": home, "most": most})
}

// EnteredWith returns the classes that a vehicle is entered in; see the desk's Tx, and PulledBy.
func (t *tx) EnteredWith(ctx context.Context, vehicle, home string, most int) (refs []desk.Ref, err error) {
	defer wrap(&err, "EnteredWith")
	return t.refs(ctx, `
		WHERE c.id IN (SELECT class_id FROM entry WHERE lower(vehicle) = lower(@vehicle) AND vehicle = @vehicle AND home = @home)`,
		pgx.NamedArgs{"vehicle": vehicle, "home": home, "most": most})
}

// ClassRefs returns the addresses of all classes; see the desk's Tx.
func (t *tx) ClassRefs(ctx context.Context, most int) (refs []desk.Ref, err error) {
	defer wrap(&err, "ClassRefs")
	return t.refs(ctx, "", pgx.NamedArgs{"most": most})
}

// refs reads the addresses of those classes c that a clause is for, the newest first; most is among the arguments.
func (t *tx) refs(ctx context.Context, where string, args pgx.NamedArgs) (refs []desk.Ref, err error) {
	var batch pgx.Batch
	each(batch.Queue(`
		SELECT e.slug, c.slug
		FROM class c
		JOIN event e ON e.id = c.event_id
		JOIN session s ON s.id = c.session_id`+where+`
		ORDER BY s.starts DESC, c.position DESC, c.id
		LIMIT @most`, args),
		func(rows pgx.Rows) error {
			var ref desk.Ref
			err := rows.Scan(&ref.Event, &ref.Class)
			refs = append(refs, ref)
			return err
		})
	return refs, t.read(ctx, &batch)
}
