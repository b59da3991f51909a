package postgres

import (
	"slices"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"clayline/domain"
	"clayline/domain/doc"
)

// readSled reads a sled from its description, which is checked again, so that one that a later program refuses is an
// error and no wrong setting.
func readSled(id uuid.UUID, description string, changes int) (domain.Sled, error) {
	s, err := doc.ParseSledCard([]byte(description))
	s.ID, s.Changes = id, changes
	return s, err
}

// writeSled writes the description of a sled as text; what cannot be written fails the transaction.
func (t *tx) writeSled(s domain.Sled) string {
	description, err := doc.WriteSledCard(s)
	if err != nil {
		t.failed = err
	}
	return string(description)
}

// addSled writes a new sled behind those there are.
func (t *tx) addSled(event uuid.UUID, s domain.Sled) {
	t.writes.Queue(`
		INSERT INTO sled (id, event_id, position, name, description, changes)
		SELECT @id, @event, coalesce(max(position), 0) + 1, @name, @description, @changes
		FROM sled
		WHERE event_id = @event`,
		pgx.NamedArgs{"id": s.ID, "event": event, "name": s.Name, "description": t.writeSled(s), "changes": s.Changes})
}

// addTrack writes a new track behind those there are.
func (t *tx) addTrack(event uuid.UUID, track domain.Track) {
	t.writes.Queue(`
		INSERT INTO track (id, event_id, position, name)
		SELECT @id, @event, coalesce(max(position), 0) + 1, @name
		FROM track
		WHERE event_id = @event`,
		pgx.NamedArgs{"id": track.ID, "event": event, "name": track.Name})
}

// addSession writes a new session behind those there are.
func (t *tx) addSession(event uuid.UUID, s domain.Session) {
	from, minutes := breakColumns(s)
	t.writes.Queue(`
		INSERT INTO session (id, event_id, position, name, starts, curfew, break_from, break_minutes)
		SELECT @id, @event, coalesce(max(position), 0) + 1, @name, @starts, @curfew, @from, @minutes
		FROM session
		WHERE event_id = @event`,
		pgx.NamedArgs{"id": s.ID, "event": event, "name": s.Name, "starts": s.Starts, "curfew": null(s.Curfew), "from": from, "minutes": minutes})
}

// SaveEvent writes the parts of an event in which after differs from before; see the desk's Tx. What is removed goes
// first, so that its name is free.
func (t *tx) SaveEvent(before, after domain.Event) {
	track, session, sled := func(a domain.Track) uuid.UUID { return a.ID }, func(a domain.Session) uuid.UUID { return a.ID }, func(a domain.Sled) uuid.UUID { return a.ID }
	for _, gone := range missing(before.Tracks, after.Tracks, track) {
		t.writes.Queue("DELETE FROM track WHERE id = @id", pgx.NamedArgs{"id": gone.ID})
	}
	for _, gone := range missing(before.Sessions, after.Sessions, session) {
		t.writes.Queue("DELETE FROM session WHERE id = @id", pgx.NamedArgs{"id": gone.ID})
	}
	for _, a := range missing(after.Tracks, before.Tracks, track) {
		t.addTrack(after.ID, a)
	}
	for _, a := range missing(after.Sessions, before.Sessions, session) {
		t.addSession(after.ID, a)
	}
	for _, a := range missing(after.Sleds, before.Sleds, sled) {
		t.addSled(after.ID, a)
	}
	for _, a := range after.Inspections[len(before.Inspections):] {
		t.addInspection(after.ID, a)
	}
	t.changeParts(before, after)
	if !slices.Equal(before.Order, after.Order) {
		t.saveOrder(after)
	}
}

// changeParts writes the tracks, sessions and sleds that were there and are otherwise now.
func (t *tx) changeParts(before, after domain.Event) {
	for _, a := range after.Tracks {
		if i := slices.IndexFunc(before.Tracks, func(b domain.Track) bool { return b.ID == a.ID }); i >= 0 && before.Tracks[i] != a {
			t.writes.Queue("UPDATE track SET name = @name WHERE id = @id", pgx.NamedArgs{"id": a.ID, "name": a.Name})
		}
	}
	for _, a := range after.Sessions {
		if i := slices.IndexFunc(before.Sessions, func(b domain.Session) bool { return b.ID == a.ID }); i >= 0 && !before.Sessions[i].Equal(a) {
			from, minutes := breakColumns(a)
			t.writes.Queue("UPDATE session SET name = @name, starts = @starts, curfew = @curfew, break_from = @from, break_minutes = @minutes WHERE id = @id",
				pgx.NamedArgs{"id": a.ID, "name": a.Name, "starts": a.Starts, "curfew": null(a.Curfew), "from": from, "minutes": minutes})
		}
	}
	for _, a := range after.Sleds {
		if i := slices.IndexFunc(before.Sleds, func(b domain.Sled) bool { return b.ID == a.ID }); i >= 0 && before.Sleds[i].Changes != a.Changes {
			t.writes.Queue("UPDATE sled SET name = @name, description = @description, changes = @changes WHERE id = @id",
				pgx.NamedArgs{"id": a.ID, "name": a.Name, "description": t.writeSled(a), "changes": a.Changes})
		}
	}
}

// missing returns what is in the list and not in the other, by its id.
func missing[T any](list, other []T, id func(T) uuid.UUID) []T {
	var found []T
	for _, item := range list {
		if !slices.ContainsFunc(other, func(o T) bool { return id(o) == id(item) }) {
			found = append(found, item)
		}
	}
	return found
}

// savePlace writes that a class moved to another session or track, or has another fixed start.
func (t *tx) savePlace(before, after domain.Class) {
	if before.Session == after.Session && before.Track == after.Track && before.Fixed.Equal(after.Fixed) {
		return
	}
	t.writes.Queue(`
		UPDATE class
		SET session_id = @session, track_id = @track, fixed_start = @fixed
		WHERE id = @id`,
		pgx.NamedArgs{"id": after.ID, "session": after.Session, "track": after.Track, "fixed": null(after.Fixed)})
}
