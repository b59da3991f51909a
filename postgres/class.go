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

// Which classes a read is about, as an SQL expression that gives their ids. It stands inside every query of a
// class, so that all of them can be sent at once, before the id is known.
const (
	oneClass = `
		SELECT c.id
		FROM class c
		JOIN event e ON e.id = c.event_id
		WHERE e.slug = @event AND c.slug = @class`
	allClasses = `
		SELECT c.id
		FROM class c
		JOIN event e ON e.id = c.event_id
		WHERE e.slug = @event`
)

// classRead gathers the rows of one or more classes while the answers of a batch come in. The queries are sent
// in the order class, entry, round, slot, setting, hook, signature, protest, reading, photo; a row finds what it belongs to because that came
// before it.
type classRead struct {
	classes []domain.Class
	at      map[uuid.UUID]int    // class to index
	rounds  map[uuid.UUID][2]int // round to the indexes of its class and of itself there
}

// round returns the round with the id; rounds are read before what belongs to them. The address is good until
// the next round is read.
func (r *classRead) round(id uuid.UUID) *domain.Round {
	at := r.rounds[id]
	return &r.classes[at[0]].Rounds[at[1]]
}

// queueClasses asks for whole classes: ten reads, however many classes there are. lock is "" or the clause that
// locks. Only the class row is locked, since every action on a class takes that lock first; an event's other
// classes go on.
func queueClasses(batch *pgx.Batch, which string, args pgx.NamedArgs, lock string) *classRead {
	r := &classRead{at: make(map[uuid.UUID]int), rounds: make(map[uuid.UUID][2]int)}
	each(batch.Queue(`
		SELECT c.id, c.event_id, c.session_id, c.track_id, c.fixed_start, c.slug, c.name, c.rules,
		       c.sled_id, c.sled, c.sled_changes,
		       c.draw_seed, c.drawn_at, c.draw_order, c.draw_times, c.draw_reason, c.draw_how,
		       c.promise_hash, c.promised_at, c.promise_reason,
		       c.moved_line, c.stopped_at, c.stopped_reason,
		       c.official_at, c.official_name
		FROM class c
		WHERE c.id IN (`+which+`)
		ORDER BY c.position`+lock, args), r.class)
	r.queueEntries(batch, which, args)
	r.queueRounds(batch, which, args)
	r.queueSettings(batch, which, args)
	r.queueHooks(batch, which, args)
	r.queueSignatures(batch, which, args)
	r.queueProtests(batch, which, args)
	r.queueReadings(batch, which, args)
	r.queuePhotos(batch, which, args)
	return r
}

// class reads one class row, without what belongs to it. The rules and the sled are the documents that the class was
// planned with; reading them checks them again, so that rules which a later program refuses are an error and not a
// wrong standing.
func (r *classRead) class(rows pgx.Rows) error {
	var c domain.Class
	var rules, line, sled string
	var sledID uuid.UUID
	var changes int
	var fixed, drawn, stopped, official, promised *time.Time
	// The order is that of the columns in queueClasses.
	err := rows.Scan(&c.ID, &c.Event, &c.Session, &c.Track, &fixed, &c.Slug, &c.Name, &rules,
		&sledID, &sled, &changes,
		&c.Draw.Seed, &drawn, &c.Draw.Order, &c.Draw.Times, &c.Draw.Reason, &c.Draw.How,
		&c.Promise.Hash, &promised, &c.Promise.Reason,
		&line, &stopped, &c.Stopped.Reason,
		&official, &c.Official.Name)
	if err != nil {
		return err
	}
	c.Draw.Drawn, c.Stopped.At, c.Official.Made = utc(drawn), utc(stopped), utc(official)
	c.Promise.Made, c.Fixed = utc(promised), utc(fixed)
	if c.Rules, err = doc.ParseRuleSet([]byte(rules)); err != nil {
		return err
	}
	if c.Sled, err = readSled(sledID, sled, changes); err != nil {
		return err
	}
	if line != "" {
		moved, err := domain.ParseDistance(line, 0)
		if err != nil {
			return err
		}
		if moved.Compare(c.Rules.Line) != 0 {
			c.LineWas = c.Rules.Line
		}
		c.Rules = c.Rules.Moved(moved)
	}
	if len(c.Draw.Order) == 0 {
		c.Draw.Order = nil
	}
	r.at[c.ID] = len(r.classes)
	r.classes = append(r.classes, c)
	return nil
}

// LockClass locks and reads a class; see the desk's Tx. The lock is the first statement, and the line of the
// action id is read behind it: of two that carry the same id, the second sees the first's line. So is the pass, so that
// one that ended while its action waited for the lock does not act.
func (t *tx) LockClass(ctx context.Context, ref desk.Ref, action, pass uuid.UUID) (locked desk.LockedClass, err error) {
	defer wrap(&err, "LockClass(%s/%s)", ref.Event, ref.Class)
	args := pgx.NamedArgs{"event": ref.Event, "class": ref.Class, "action": action, "pass": pass}
	t.ref = ref
	kept, known := t.kept.get(ref)
	var batch pgx.Batch
	var read *classRead
	var there bool
	var id uuid.UUID
	if known {
		one(batch.Queue(oneClass+" FOR UPDATE OF c", args), &there, &id)
	} else {
		read = queueClasses(&batch, oneClass, args, " FOR UPDATE OF c")
	}
	mark := queueMark(&batch, args, &locked)
	holders := queuePasses(&batch, passNow, args)
	if err := t.read(ctx, &batch); err != nil {
		return locked, err
	}
	// Somebody else has changed the class since: it stands still now, and is read in a second batch.
	if known && (!there || *mark != kept.mark) {
		var again pgx.Batch
		read = queueClasses(&again, oneClass, args, "")
		if err := t.read(ctx, &again); err != nil {
			return locked, err
		}
	}
	switch {
	case read == nil:
		locked.Class = kept.class
	case len(read.classes) == 0:
		return locked, ref.Missing()
	default:
		locked.Class = read.classes[0]
	}
	if len(*holders) > 0 {
		locked.Pass = (*holders)[0].Pass
	}
	return locked, nil
}

// queueMark asks, behind the lock, for what is known of a class beside its rows: its version, the line that the action
// id already has, and the number that tells whether a class that is kept still stands so.
func queueMark(batch *pgx.Batch, args pgx.NamedArgs, locked *desk.LockedClass) (mark *int64) {
	mark = new(int64)
	batch.Queue(`
		WITH this AS (
		    SELECT c.id, c.event_id
		    FROM class c
		    JOIN event e ON e.id = c.event_id
		    WHERE e.slug = @event AND c.slug = @class
		)
		SELECT coalesce((SELECT max(number) FROM journal WHERE subject = this.id), 0),
		       coalesce((SELECT max(number) FROM journal WHERE subject = this.event_id), 0),
		       j.number, j.kind, j.subject, j.payload, j.at
		FROM this
		LEFT JOIN journal j ON j.scope = this.event_id AND j.action_id = @action`, args).Query(func(rows pgx.Rows) error {
		defer rows.Close()
		for rows.Next() {
			var event int64
			var number *int64
			var kind *string
			var subject *uuid.UUID
			var at *time.Time
			var line desk.Line
			if err := rows.Scan(&locked.Version, &event, &number, &kind, &subject, &line.Payload, &at); err != nil {
				return err
			}
			*mark = max(locked.Version, event)
			if number != nil {
				line.Number, line.Kind, line.Subject, line.At = *number, *kind, *subject, at.UTC()
				locked.Done = &line
			}
		}
		return rows.Err()
	})
	return mark
}

// Class reads a class and its event; see the desk's Tx. Where the event is not there, neither is the class.
func (t *tx) Class(ctx context.Context, ref desk.Ref) (e domain.Event, c domain.Class, err error) {
	defer wrap(&err, "Class(%s/%s)", ref.Event, ref.Class)
	var batch pgx.Batch
	var found bool
	args := pgx.NamedArgs{"event": ref.Event, "class": ref.Class}
	queueEvent(&batch, args, &e, &found, "")
	read := queueClasses(&batch, oneClass, args, "")
	if err := t.read(ctx, &batch); err != nil {
		return e, c, err
	}
	if len(read.classes) == 0 {
		return e, c, ref.Missing()
	}
	return e, read.classes[0], nil
}

// Event reads an event with its classes; see the desk's Tx. It takes as many statements for one class as for
// twenty.
func (t *tx) Event(ctx context.Context, slug string) (e domain.Event, classes []domain.Class, err error) {
	defer wrap(&err, "Event(%q)", slug)
	var batch pgx.Batch
	var found bool
	args := pgx.NamedArgs{"event": slug}
	queueEvent(&batch, args, &e, &found, "")
	read := queueClasses(&batch, allClasses, args, "")
	if err := t.read(ctx, &batch); err != nil {
		return e, nil, err
	}
	if !found {
		return e, nil, noEvent(slug)
	}
	return e, read.classes, nil
}

// AddClass writes a new class at the end of the programme; see the desk's Tx. The place is one more than the
// last, which the lock on the event keeps from being given twice; a constraint holds it all the same.
func (t *tx) AddClass(c domain.Class) {
	rules, err := doc.WriteRuleSet(c.Rules)
	if err != nil {
		t.failed = err
		return
	}
	t.writes.Queue(`
		INSERT INTO class (id, event_id, session_id, track_id, sled_id, sled, sled_changes, slug, name, rules, position)
		SELECT @id, @event, @session, @track, @sled, @description, @changes, @slug, @name, @rules, coalesce(max(position), 0) + 1
		FROM class
		WHERE event_id = @event`,
		pgx.NamedArgs{
			"id": c.ID, "event": c.Event, "session": c.Session, "track": c.Track, "sled": c.Sled.ID,
			"description": t.writeSled(c.Sled), "changes": c.Sled.Changes, "slug": c.Slug, "name": c.Name, "rules": string(rules),
		})
}

// SaveClass writes the rows in which after differs from before; see the desk's Tx. Rows come before those that
// name them, and a hook that ends comes before the hook that is called next, because at no time may two be on
// the track. A setting that closes comes before the one that opens, for the same reason.
//
// Within a round the order is settings, slots, hooks: a hook is refused unless its setting is open and its
// entry in the line-up.
func (t *tx) SaveClass(before, after domain.Class) {
	t.after = &after
	t.savePlace(before, after)
	t.saveDraw(before, after)
	t.saveCourse(before, after)
	t.savePromise(before, after)
	t.saveOfficial(before, after)
	t.saveEntries(before, after)
	for i, r := range after.Rounds {
		var old domain.Round
		if i < len(before.Rounds) {
			old = before.Rounds[i]
		} else {
			t.addRound(after.ID, i+1, r)
		}
		t.saveSettings(old, r)
		t.saveSlots(after.ID, old, r)
		t.saveHooks(old, r)
	}
	t.saveProtests(before, after)
	t.saveReadings(before, after)
}

// saveDraw writes the draw of a class, when its count tells that it was drawn anew.
func (t *tx) saveDraw(before, after domain.Class) {
	d := after.Draw
	if before.Draw.Times == d.Times {
		return
	}
	t.writes.Queue(`
		UPDATE class
		SET draw_seed = @seed, drawn_at = @drawn, draw_order = @order, draw_times = @times, draw_reason = @reason, draw_how = @how
		WHERE id = @id`,
		pgx.NamedArgs{"id": after.ID, "seed": d.Seed, "drawn": null(d.Drawn), "order": d.Order, "times": d.Times, "reason": d.Reason, "how": d.How})
}

// savePromise writes a published commitment, or takes it away once a draw has used it.
func (t *tx) savePromise(before, after domain.Class) {
	if before.Promise == after.Promise {
		return
	}
	t.writes.Queue(`
		UPDATE class
		SET promise_hash = @hash, promised_at = @made, promise_reason = @reason
		WHERE id = @id`,
		pgx.NamedArgs{"id": after.ID, "hash": after.Promise.Hash, "made": null(after.Promise.Made), "reason": after.Promise.Reason})
}

// saveCourse writes where the full-pull line was moved to, and that the class was stopped or goes on. The rules stay as
// they were planned: the line beside them tells where it lies.
func (t *tx) saveCourse(before, after domain.Class) {
	if before.Rules.Line == after.Rules.Line && before.Stopped == after.Stopped {
		return
	}
	t.writes.Queue(`
		UPDATE class
		SET moved_line = @line, stopped_at = @at, stopped_reason = @reason
		WHERE id = @id`,
		pgx.NamedArgs{"id": after.ID, "line": after.Rules.Line.String(), "at": null(after.Stopped.At), "reason": after.Stopped.Reason})
}
