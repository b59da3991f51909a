package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
)

// ClassesAt reads classes of any event by their addresses; see the desk's Tx. Which they are is one statement; the classes
// are then read as always.
func (t *tx) ClassesAt(ctx context.Context, refs []desk.Ref) (held map[desk.Ref]doc.HeldClass, err error) {
	defer wrap(&err, "ClassesAt")
	events, classes := make([]string, len(refs)), make([]string, len(refs))
	for i, ref := range refs {
		events[i], classes[i] = ref.Event, ref.Class
	}
	var batch pgx.Batch
	found := make(map[uuid.UUID]desk.Ref)
	held = make(map[desk.Ref]doc.HeldClass)
	var ids []uuid.UUID
	each(batch.Queue(`
		SELECT c.id, e.slug, c.slug, e.id, e.name, e.place, e.zone, t.id, t.name, s.id, s.name, s.starts
		FROM unnest(@events::text[], @classes::text[]) AS asked (event, class)
		JOIN event e ON e.slug = asked.event
		JOIN class c ON c.event_id = e.id AND c.slug = asked.class
		JOIN track t ON t.id = c.track_id
		JOIN session s ON s.id = c.session_id`, pgx.NamedArgs{"events": events, "classes": classes}),
		func(rows pgx.Rows) error {
			var id uuid.UUID
			var ref desk.Ref
			var e domain.Event
			var track domain.Track
			var in domain.Session
			err := rows.Scan(&id, &ref.Event, &ref.Class, &e.ID, &e.Name, &e.Place, &e.Zone, &track.ID, &track.Name, &in.ID, &in.Name, &in.Starts)
			in.Starts = in.Starts.UTC()
			e.Slug, e.Tracks, e.Sessions = ref.Event, []domain.Track{track}, []domain.Session{in}
			ids, found[id], held[ref] = append(ids, id), ref, doc.HeldClass{Event: e}
			return err
		})
	if err := t.read(ctx, &batch); err != nil || len(ids) == 0 {
		return held, err
	}
	var whole pgx.Batch
	read := queueClasses(&whole, "SELECT unnest(@ids::uuid[])", pgx.NamedArgs{"ids": ids}, "")
	if err := t.read(ctx, &whole); err != nil {
		return nil, err
	}
	for id, ref := range found {
		class := held[ref]
		class.Class = read.classes[read.at[id]]
		held[ref] = class
	}
	return held, nil
}

// noSeason is the answer where an address leads to no season.
func noSeason(slug string) error {
	return &domain.Error{Kind: domain.NotFound, Message: "there is no season " + slug + " on this server", Fix: "look at the list of seasons"}
}

// queueSeason asks for the season with the slug in args; lock is "" or the clause that locks its row.
func queueSeason(batch *pgx.Batch, args pgx.NamedArgs, s *desk.Season, found *bool, lock string) {
	one(batch.Queue(`
		SELECT id, slug, name, document, changes
		FROM season
		WHERE slug = @season`+lock, args),
		found, &s.ID, &s.Slug, &s.Name, &s.Document, &s.Changes)
}

// Season reads a season; see the desk's Tx.
func (t *tx) Season(ctx context.Context, slug string) (s desk.Season, err error) {
	defer wrap(&err, "Season(%q)", slug)
	var batch pgx.Batch
	var found bool
	queueSeason(&batch, pgx.NamedArgs{"season": slug}, &s, &found, "")
	if err := t.read(ctx, &batch); err != nil {
		return s, err
	}
	if !found {
		return s, noSeason(slug)
	}
	return s, nil
}

// LockSeason locks and reads a season; see the desk's Tx. The line of the action id is read behind the lock.
func (t *tx) LockSeason(ctx context.Context, slug string, action uuid.UUID) (locked desk.LockedSeason, err error) {
	defer wrap(&err, "LockSeason(%q)", slug)
	var batch pgx.Batch
	var found, did bool
	var line desk.Line
	args := pgx.NamedArgs{"season": slug, "action": action}
	queueSeason(&batch, args, &locked.Season, &found, " FOR UPDATE")
	queueDone(&batch, "SELECT id FROM season WHERE slug = @season", args, &line, &did)
	if err := t.read(ctx, &batch); err != nil {
		return locked, err
	}
	if !found {
		return locked, noSeason(slug)
	}
	locked.Done = doneOrNil(line, did)
	return locked, nil
}

// Seasons reads all seasons without their documents; see the desk's Tx.
func (t *tx) Seasons(ctx context.Context) (seasons []desk.Season, err error) {
	defer wrap(&err, "Seasons")
	var batch pgx.Batch
	each(batch.Queue(`
		SELECT id, slug, name, changes
		FROM season
		ORDER BY name, id`),
		func(rows pgx.Rows) error {
			var s desk.Season
			err := rows.Scan(&s.ID, &s.Slug, &s.Name, &s.Changes)
			seasons = append(seasons, s)
			return err
		})
	return seasons, t.read(ctx, &batch)
}

// AddSeason writes a new season; see the desk's Tx.
func (t *tx) AddSeason(s desk.Season, at time.Time) {
	t.writes.Queue(`
		INSERT INTO season (id, slug, name, document, changes, kept_at)
		VALUES (@id, @slug, @name, @document, @changes, @at)`,
		pgx.NamedArgs{"id": s.ID, "slug": s.Slug, "name": s.Name, "document": s.Document, "changes": s.Changes, "at": at})
}

// SaveSeason writes a season anew; see the desk's Tx.
func (t *tx) SaveSeason(s desk.Season) {
	t.writes.Queue(`
		UPDATE season
		SET name = @name, document = @document, changes = @changes
		WHERE id = @id`,
		pgx.NamedArgs{"id": s.ID, "name": s.Name, "document": s.Document, "changes": s.Changes})
}

// Lines counts the lines of all journals; see the desk's Tx. The heads know it, so that no journal is read.
func (t *tx) Lines(ctx context.Context) (lines int64, err error) {
	defer wrap(&err, "Lines")
	var batch pgx.Batch
	var found bool
	one(batch.Queue(`
		SELECT coalesce(sum(number), 0)::bigint
		FROM journal_head`), &found, &lines)
	return lines, t.read(ctx, &batch)
}
