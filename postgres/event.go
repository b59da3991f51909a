package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"clayline/domain"
	"clayline/domain/desk"
)

// noEvent is the answer where an address leads to no event.
func noEvent(slug string) error {
	return &domain.Error{Kind: domain.NotFound, Message: "there is no event " + slug + " on this server", Fix: "look at the list of events"}
}

// queueEvent asks for the event with the slug in args, and for its tracks, sleds and sessions, each in the
// order of the programme. lock is "" or the clause that locks the event's row. found stays unset where there is
// none.
func queueEvent(batch *pgx.Batch, args pgx.NamedArgs, e *domain.Event, found *bool, lock string) {
	one(batch.Queue(`
		SELECT id, slug, name, place, zone
		FROM event
		WHERE slug = @event`+lock, args),
		found, &e.ID, &e.Slug, &e.Name, &e.Place, &e.Zone)
	each(batch.Queue(`
		SELECT t.id, t.name
		FROM track t
		JOIN event e ON e.id = t.event_id
		WHERE e.slug = @event
		ORDER BY t.position`, args),
		func(rows pgx.Rows) error {
			var t domain.Track
			err := rows.Scan(&t.ID, &t.Name)
			e.Tracks = append(e.Tracks, t)
			return err
		})
	each(batch.Queue(`
		SELECT s.id, s.description, s.changes
		FROM sled s
		JOIN event e ON e.id = s.event_id
		WHERE e.slug = @event
		ORDER BY s.position`, args),
		func(rows pgx.Rows) error {
			var id uuid.UUID
			var description string
			var changes int
			if err := rows.Scan(&id, &description, &changes); err != nil {
				return err
			}
			s, err := readSled(id, description, changes)
			e.Sleds = append(e.Sleds, s)
			return err
		})
	each(batch.Queue(`
		SELECT s.id, s.name, s.starts, s.curfew, s.break_from, s.break_minutes
		FROM session s
		JOIN event e ON e.id = s.event_id
		WHERE e.slug = @event
		ORDER BY s.position`, args),
		func(rows pgx.Rows) error {
			var s domain.Session
			var curfew *time.Time
			var from []time.Time
			var minutes []int
			err := rows.Scan(&s.ID, &s.Name, &s.Starts, &curfew, &from, &minutes)
			s.Starts, s.Curfew = s.Starts.UTC(), utc(curfew)
			s.Breaks = pauses(from, minutes)
			e.Sessions = append(e.Sessions, s)
			return err
		})
}

// pauses joins the two columns of the breaks of a session.
func pauses(from []time.Time, minutes []int) (list []domain.Pause) {
	for i, at := range from {
		list = append(list, domain.Pause{From: at.UTC(), Minutes: minutes[i]})
	}
	return list
}

// breakColumns parts the breaks of a session into the two columns; they are empty and not null where there are none.
func breakColumns(s domain.Session) (from []time.Time, minutes []int) {
	from, minutes = []time.Time{}, []int{}
	for _, b := range s.Breaks {
		from, minutes = append(from, b.From), append(minutes, b.Minutes)
	}
	return from, minutes
}

// LockEvent locks and reads an event; see the desk's Tx. The lock is on the event's row alone: planning a class
// waits for planning another, and for no hook. The role may update the name of an event for this lock's sake,
// since a row lock needs a right to update.
func (t *tx) LockEvent(ctx context.Context, slug string, action uuid.UUID) (locked desk.LockedEvent, err error) {
	defer wrap(&err, "LockEvent(%q)", slug)
	var batch pgx.Batch
	var found, did, numbered bool
	var line desk.Line
	args := pgx.NamedArgs{"event": slug, "action": action}
	queueEvent(&batch, args, &locked.Event, &found, " FOR UPDATE")
	queueDone(&batch, "SELECT id FROM event WHERE slug = @event", args, &line, &did)
	locked.Used = make(domain.InUse)
	each(batch.Queue(`
		SELECT c.id, c.slug, c.session_id, c.track_id
		FROM class c
		JOIN event e ON e.id = c.event_id
		WHERE e.slug = @event
		ORDER BY c.position`, args),
		func(rows pgx.Rows) error {
			var s string
			var class, session, track uuid.UUID
			err := rows.Scan(&class, &s, &session, &track)
			locked.Event.Order = append(locked.Event.Order, class)
			locked.Slugs = append(locked.Slugs, s)
			locked.Used[session]++
			locked.Used[track]++
			return err
		})
	one(batch.Queue(`
		SELECT coalesce(max(j.number), 0)
		FROM journal j
		JOIN event e ON e.id = j.subject
		WHERE e.slug = @event`, args), &numbered, &locked.Version)
	if err := t.read(ctx, &batch); err != nil {
		return locked, err
	}
	if !found {
		return locked, noEvent(slug)
	}
	locked.Done = doneOrNil(line, did)
	return locked, nil
}

// Events reads all events; see the desk's Tx. One row a session, gathered by event; an event always has a
// session.
func (t *tx) Events(ctx context.Context) (events []domain.Event, err error) {
	defer wrap(&err, "Events")
	var batch pgx.Batch
	each(batch.Queue(`
		SELECT e.id, e.slug, e.name, e.place, e.zone, s.id, s.name, s.starts, s.curfew, s.break_from, s.break_minutes
		FROM event e
		JOIN session s ON s.event_id = e.id
		ORDER BY e.planned_at DESC, e.id, s.position`),
		func(rows pgx.Rows) error {
			var e domain.Event
			var s domain.Session
			var curfew *time.Time
			var from []time.Time
			var minutes []int
			if err := rows.Scan(&e.ID, &e.Slug, &e.Name, &e.Place, &e.Zone, &s.ID, &s.Name, &s.Starts, &curfew, &from, &minutes); err != nil {
				return err
			}
			s.Starts, s.Curfew = s.Starts.UTC(), utc(curfew)
			s.Breaks = pauses(from, minutes)
			// The order keeps the rows of one event together.
			if n := len(events); n == 0 || events[n-1].ID != e.ID {
				events = append(events, e)
			}
			last := &events[len(events)-1]
			last.Sessions = append(last.Sessions, s)
			return nil
		})
	return events, t.read(ctx, &batch)
}

// AddEvent writes a new event and its parts; see the desk's Tx. Positions keep the order in which they were
// planned.
func (t *tx) AddEvent(e domain.Event, at time.Time) {
	t.writes.Queue(`
		INSERT INTO event (id, slug, name, place, zone, planned_at)
		VALUES (@id, @slug, @name, @place, @zone, @at)`,
		pgx.NamedArgs{"id": e.ID, "slug": e.Slug, "name": e.Name, "place": e.Place, "zone": e.Zone, "at": at})
	for _, track := range e.Tracks {
		t.addTrack(e.ID, track)
	}
	for _, s := range e.Sleds {
		t.addSled(e.ID, s)
	}
	for _, s := range e.Sessions {
		t.addSession(e.ID, s)
	}
}
