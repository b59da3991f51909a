package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"clayline/domain"
	"clayline/domain/desk"
)

// Earlier reads classes that had a frozen setting, the newest first; see the desk's Tx. Which they are is one statement,
// bounded before anything of a class is read; the classes are then read as always.
func (t *tx) Earlier(ctx context.Context, ask desk.EarlierAsk) (found []desk.EarlierClass, err error) {
	defer wrap(&err, "Earlier(%s)", ask.Not)
	var batch pgx.Batch
	sql, args := earlierSQL(ask)
	var ids []uuid.UUID
	each(batch.Queue(sql, args), func(rows pgx.Rows) error {
		var id uuid.UUID
		var e domain.Event
		var s domain.Session
		var track domain.Track
		if err := rows.Scan(&id, &e.ID, &e.Slug, &e.Name, &e.Place, &e.Zone, &s.ID, &s.Name, &s.Starts, &track.ID, &track.Name); err != nil {
			return err
		}
		s.Starts = s.Starts.UTC()
		e.Sessions, e.Tracks = []domain.Session{s}, []domain.Track{track}
		ids, found = append(ids, id), append(found, desk.EarlierClass{Event: e})
		return nil
	})
	if err := t.read(ctx, &batch); err != nil || len(ids) == 0 {
		return nil, err
	}
	var classes pgx.Batch
	read := queueClasses(&classes, "SELECT unnest(@ids::uuid[])", pgx.NamedArgs{"ids": ids}, "")
	if err := t.read(ctx, &classes); err != nil {
		return nil, err
	}
	for i, id := range ids {
		found[i].Class = read.classes[read.at[id]]
	}
	return found, nil
}

// earlierSQL asks for the classes that an ask is about. Only what is asked stands in it, so that the database can go by
// the index of it.
func earlierSQL(ask desk.EarlierAsk) (string, pgx.NamedArgs) {
	sql := `
		SELECT c.id, e.id, e.slug, e.name, e.place, e.zone, s.id, s.name, s.starts, t.id, t.name
		FROM class c
		JOIN event e ON e.id = c.event_id
		JOIN session s ON s.id = c.session_id
		JOIN track t ON t.id = c.track_id
		JOIN sled d ON d.id = c.sled_id
		WHERE c.id <> @not
		  AND EXISTS (SELECT FROM round r JOIN setting x ON x.round_id = r.id WHERE r.class_id = c.id AND x.frozen_at IS NOT NULL)`
	if ask.Class != "" {
		sql += `
		  AND lower(c.name) = lower(@class)`
	}
	if ask.Track != "" {
		sql += `
		  AND lower(t.name) = lower(@track)`
	}
	if ask.Track != "" || ask.Place != "" {
		sql += `
		  AND lower(e.place) = lower(@place)`
	}
	if ask.Puller != "" {
		sql += `
		  AND c.id IN (SELECT class_id FROM entry WHERE lower(puller) = lower(@puller))`
	}
	if ask.Sled != "" {
		sql += `
		  AND lower(d.name) = lower(@sled)`
	}
	return sql + `
		ORDER BY s.starts DESC, c.position DESC, c.id
		LIMIT @most`, pgx.NamedArgs{"not": ask.Not, "class": ask.Class, "track": ask.Track, "place": ask.Place, "sled": ask.Sled, "puller": ask.Puller, "most": ask.Most}
}
