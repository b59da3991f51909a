package postgres

import (
	"github.com/jackc/pgx/v5"

	"clayline/domain"
)

// saveOrder writes the places of the classes in the programme, all in one statement: the database looks only at its end
// whether two have one place. It waits for an action on any of the classes, and none waits for it but for that moment.
func (t *tx) saveOrder(e domain.Event) {
	t.writes.Queue(`
		UPDATE class c
		SET position = o.position
		FROM unnest(@classes::uuid[]) WITH ORDINALITY AS o (id, position)
		WHERE c.id = o.id AND c.event_id = @event`,
		pgx.NamedArgs{"event": e.ID, "classes": e.Order})
}
