package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"clayline/domain/desk"
)

// queueDone asks for the line that an action id already has in the scope which the SQL expression names. found
// stays unset where there is none.
func queueDone(batch *pgx.Batch, scope string, args pgx.NamedArgs, line *desk.Line, found *bool) {
	one(batch.Queue(`
		SELECT number, kind, subject, payload, at
		FROM journal
		WHERE scope = (`+scope+`) AND action_id = @action`, args),
		found, &line.Number, &line.Kind, &line.Subject, &line.Payload, &line.At)
}

// doneOrNil returns the line when it was found. It has what an answer is made of, not all columns.
func doneOrNil(line desk.Line, found bool) *desk.Line {
	if !found {
		return nil
	}
	line.At = line.At.UTC()
	return &line
}

// ActionDone returns the line of an action id in a scope, or nil; see the desk's Tx.
func (t *tx) ActionDone(ctx context.Context, scope, action uuid.UUID) (done *desk.Line, err error) {
	defer wrap(&err, "ActionDone(%s)", action)
	var batch pgx.Batch
	var line desk.Line
	var found bool
	queueDone(&batch, "@scope", pgx.NamedArgs{"scope": scope, "action": action}, &line, &found)
	err = t.read(ctx, &batch)
	return doneOrNil(line, found), err
}

// Append queues a journal line as the last write; see the desk's Tx. The function of the database gives the
// number, makes the hash and locks the head of the scope until the commit; the program may not insert into the
// table itself. number is set when the batch is answered, thus after the commit.
func (t *tx) Append(l desk.Line, number *int64) {
	var found bool
	t.number = number
	one(t.writes.Queue(`
		SELECT journal_append(@scope, @action, @pass, @device, @at, @kind, @subject, @payload)`,
		pgx.NamedArgs{
			"scope": l.Scope, "action": l.Action, "pass": l.Pass, "device": l.Device, "at": l.At,
			"kind": l.Kind, "subject": l.Subject, "payload": l.Payload,
		}), &found, number)
}

// News reads what the public is told of lines; see the desk's Tx. Neither payload nor pass is read for it.
func (t *tx) News(ctx context.Context, event uuid.UUID, after int64, most int) (news []desk.News, err error) {
	defer wrap(&err, "News(%s)", event)
	var batch pgx.Batch
	each(batch.Queue(`
		SELECT j.number, j.kind, coalesce(c.slug, ''), j.at, p.id IS NOT NULL OR j.kind IN ('inspection', 'photo')
		FROM journal j
		LEFT JOIN class c ON c.id = j.subject
		LEFT JOIN pass p ON p.id = j.subject
		WHERE j.scope = @event AND j.number > @after
		ORDER BY j.number
		LIMIT @most`,
		pgx.NamedArgs{"event": event, "after": after, "most": most}),
		func(rows pgx.Rows) error {
			var n desk.News
			err := rows.Scan(&n.Number, &n.Kind, &n.Class, &n.At, &n.Staff)
			n.At = n.At.UTC()
			news = append(news, n)
			return err
		})
	return news, t.read(ctx, &batch)
}

// journalChannel is where the database says that a journal has grown, by a trigger that fires for every line
// whoever stored it. The notice comes at the commit, carries the scope alone, and is lost on nobody who reads
// the journal then.
const journalChannel = "clayline_journal"

// Listen follows the notices of the journals on a connection of its own; see the desk's Listener. It is not one
// of the pool's, because a connection that listens is never free. A notice that is no id is passed over:
// anybody who reaches the database can send one.
func (s *Store) Listen(ctx context.Context, ready func(), wake func(scope uuid.UUID)) (err error) {
	defer wrap(&err, "Listen")
	conn, err := pgx.ConnectConfig(ctx, s.pool.Config().ConnConfig)
	if err != nil {
		return err
	}
	defer func() { _ = conn.Close(context.WithoutCancel(ctx)) }()
	if _, err := conn.Exec(ctx, "LISTEN "+journalChannel); err != nil {
		return err
	}
	// From here on a line that is stored is told. What was stored before, the caller reads.
	ready()
	for {
		notice, err := waitFor(ctx, conn)
		if err != nil {
			return err
		}
		if notice == nil {
			ready() // nothing was told for a while; look whether something should have been
			continue
		}
		if scope, err := uuid.Parse(notice.Payload); err == nil {
			wake(scope)
		}
	}
}

// lineColumns are what a line is read from, in the order in which [tx.lines] scans them. The role is that of
// the pass, which never changes; a line of the program itself has none.
const lineColumns = `
		SELECT j.scope, j.number, j.action_id, j.pass_id, coalesce(p.role, ''), j.device, j.at, j.kind, j.subject, about.id IS NOT NULL OR j.kind IN ('inspection', 'photo'), j.payload,
		       j.prev_hash, j.hash
		FROM journal j
		LEFT JOIN pass p ON p.id = j.pass_id
		LEFT JOIN pass about ON about.id = j.subject`

// Journal reads the newest lines, the newest first; see the desk's Tx. The nil UUID as the subject is the whole
// scope.
func (t *tx) Journal(ctx context.Context, scope, subject uuid.UUID, most int) (lines []desk.Line, err error) {
	defer wrap(&err, "Journal(%s)", scope)
	return t.lines(ctx, lineColumns+`
		WHERE j.scope = @scope AND (@subject = '00000000-0000-0000-0000-000000000000'::uuid OR j.subject = @subject)
		ORDER BY j.number DESC
		LIMIT @most`,
		pgx.NamedArgs{"scope": scope, "subject": subject, "most": most})
}

// LastLines reads the newest line about each class of an event that is not for the staff alone; see the desk's Tx. An index
// finds each by its class.
func (t *tx) LastLines(ctx context.Context, event uuid.UUID) (lines []desk.Line, err error) {
	defer wrap(&err, "LastLines(%s)", event)
	return t.lines(ctx, lineColumns+`
		WHERE j.scope = @event AND j.number IN (
			SELECT (SELECT l.number FROM journal l WHERE l.subject = c.id AND l.kind NOT IN ('inspection', 'photo') ORDER BY l.number DESC LIMIT 1)
			FROM class c
			WHERE c.event_id = @event
		)`,
		pgx.NamedArgs{"event": event})
}

// JournalAfter reads lines from a number on, oldest first; see the desk's Tx. The primary key is in this order.
func (t *tx) JournalAfter(ctx context.Context, scope uuid.UUID, after int64, most int) (lines []desk.Line, err error) {
	defer wrap(&err, "JournalAfter(%s, %d)", scope, after)
	return t.lines(ctx, lineColumns+`
		WHERE j.scope = @scope AND j.number > @after
		ORDER BY j.number
		LIMIT @most`,
		pgx.NamedArgs{"scope": scope, "after": after, "most": most})
}

// lines reads the lines that a query of [lineColumns] gives.
func (t *tx) lines(ctx context.Context, sql string, args pgx.NamedArgs) (lines []desk.Line, err error) {
	var batch pgx.Batch
	each(batch.Queue(sql, args), func(rows pgx.Rows) error {
		var l desk.Line
		err := rows.Scan(&l.Scope, &l.Number, &l.Action, &l.Pass, &l.Role, &l.Device, &l.At, &l.Kind, &l.Subject, &l.Staff, &l.Payload,
			&l.Previous, &l.Hash)
		l.At = l.At.UTC()
		lines = append(lines, l)
		return err
	})
	return lines, t.read(ctx, &batch)
}

// listenQuiet is how long nothing may be heard before the line is tried; listenTry is how long a try may take.
const (
	listenQuiet = 10 * time.Second
	listenTry   = 3 * time.Second
)

// waitFor waits for a notice. After a while of silence it tries the line, because a dead one is silent too, and returns
// nil.
func waitFor(ctx context.Context, conn *pgx.Conn) (*pgconn.Notification, error) {
	quiet, cancel := context.WithTimeout(ctx, listenQuiet)
	defer cancel()
	notice, err := conn.WaitForNotification(quiet)
	if err == nil || ctx.Err() != nil || quiet.Err() == nil {
		return notice, err
	}
	try, cancel := context.WithTimeout(ctx, listenTry)
	defer cancel()
	return nil, conn.Ping(try)
}
