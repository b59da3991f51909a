package postgres

import (
	"context"
	"errors"
	"math/rand/v2"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/pgxpool"

	"clayline/domain"
	"clayline/domain/desk"
)

// Tries and pauses of a transaction that the database asks to run again. The pause grows with the tries and is
// drawn by lot, so that two which met once do not meet again.
const (
	txTries = 8
	txPause = 5 * time.Millisecond
)

// How long a transaction waits for a database that is coming back, and how often it looks. A crashed PostgreSQL
// that recovers answers within a second or two; a person waits about as long before pressing again.
const (
	acquireTimeout = 5 * time.Second
	acquirePause   = 20 * time.Millisecond
)

// begins opens a transaction of each level. READ ONLY lets the database refuse what a page must not do;
// REPEATABLE READ gives it one snapshot.
var begins = map[desk.Level]string{
	desk.ReadCommitted: "BEGIN ISOLATION LEVEL READ COMMITTED",
	desk.Snapshot:      "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY",
}

// tx implements the desk's Tx. BEGIN travels with the first read, and the writes travel with COMMIT, so that an
// action is two round trips. It belongs to one connection and one goroutine, and is of no use after the commit.
type tx struct {
	conn   *pgx.Conn
	level  desk.Level
	begun  bool
	writes pgx.Batch
	failed error // what kept a write from being queued; it is reported at the commit
	// What the action locks, what it leaves and the number of its line, to be kept once it is committed.
	kept   *keptClasses
	ref    desk.Ref
	after  *domain.Class
	number *int64
}

// InTx runs fn in one transaction; see the desk's Store. What fn returns is returned as it is; an error of the
// database that states a rule becomes a domain error. Other errors of the connection are not tried again:
// whether the commit arrived is not known then, and only the action id can tell.
func (s *Store) InTx(ctx context.Context, level desk.Level, fn func(desk.Tx) error) (err error) {
	for try := 1; ; try++ {
		err = s.once(ctx, level, fn)
		if !retryable(err) || try == txTries {
			return problem(err)
		}
		select {
		case <-ctx.Done():
			return problem(err)
		// Eight tries pause for about a third of a second in all, which a person hardly notices.
		case <-time.After(time.Duration(try) * txPause * time.Duration(1+rand.IntN(4))): // #nosec G404 -- a pause, not a secret
		}
	}
}

// once runs fn once and commits, or gives the transaction up. The connection goes back to the pool in either
// case.
func (s *Store) once(ctx context.Context, level desk.Level, fn func(desk.Tx) error) (err error) {
	conn, err := s.acquire(ctx)
	if err != nil {
		return err
	}
	defer conn.Release()
	t := &tx{conn: conn.Conn(), level: level, kept: s.kept}
	if err := fn(t); err != nil {
		t.rollback(ctx)
		return err
	}
	if err := t.commit(ctx); err != nil {
		t.rollback(ctx)
		return err
	}
	if t.after != nil && t.number != nil {
		s.kept.put(t.ref, *t.after, *t.number)
	}
	return nil
}

// acquire takes a connection. While the database is coming back it tries again: nothing was sent yet, so that
// trying again can do nothing twice. After its timeout it returns the last error, of whatever kind.
func (s *Store) acquire(ctx context.Context) (*pgxpool.Conn, error) {
	ctx, cancel := context.WithTimeout(ctx, acquireTimeout)
	defer cancel()
	for {
		conn, err := s.pool.Acquire(ctx)
		if err == nil {
			return conn, nil
		}
		select {
		case <-ctx.Done():
			return nil, err
		case <-time.After(acquirePause):
		}
	}
}

// read sends a batch of reads, with BEGIN in front of the first, and waits for all its answers. The error is
// that of the first statement that failed; those after it did not run.
func (t *tx) read(ctx context.Context, batch *pgx.Batch) error {
	if !t.begun {
		t.begun = true
		// BEGIN as a query like the others and not as a call of its own, which would cost a round trip.
		first := &pgx.Batch{QueuedQueries: []*pgx.QueuedQuery{{SQL: begins[t.level]}}}
		first.QueuedQueries = append(first.QueuedQueries, batch.QueuedQueries...)
		batch = first
	}
	return t.conn.SendBatch(ctx, batch).Close()
}

// commit sends the writes together with COMMIT. A batch is answered as a whole: when a write fails, COMMIT does
// not run. A transaction that neither read nor wrote never began.
func (t *tx) commit(ctx context.Context) error {
	if t.failed != nil {
		return t.failed
	}
	if !t.begun && t.writes.Len() == 0 {
		return nil
	}
	t.writes.Queue("COMMIT")
	return t.read(ctx, &t.writes)
}

// rollback gives up what was begun, also when the request's own context has ended. A connection that cannot
// even do that is closed by the pool, and with it the transaction.
func (t *tx) rollback(ctx context.Context) {
	if t.conn.IsClosed() || t.conn.PgConn().TxStatus() == 'I' {
		return
	}
	ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), time.Second)
	defer cancel()
	_, _ = t.conn.Exec(ctx, "ROLLBACK") // an error leaves the connection busy, and the pool drops it
}

// retryable reports whether the database asks to run the transaction again: a serialization failure (40001) or
// a deadlock (40P01). Both mean that it was undone as a whole.
func retryable(err error) bool {
	pg, ok := errors.AsType[*pgconn.PgError](err)
	return ok && (pg.Code == "40001" || pg.Code == "40P01")
}

// one reads at most one row into the given places when the batch is sent; an empty answer is left to the
// caller, who sees found unset.
func one(q *pgx.QueuedQuery, found *bool, into ...any) {
	q.Query(func(rows pgx.Rows) error {
		defer rows.Close()
		if rows.Next() {
			if err := rows.Scan(into...); err != nil {
				return err
			}
			*found = true
		}
		return rows.Err()
	})
}

// each calls row for every row when the batch is sent, in the order of the answer. An error of row ends the
// reading.
func each(q *pgx.QueuedQuery, row func(pgx.Rows) error) {
	q.Query(func(rows pgx.Rows) error {
		defer rows.Close()
		for rows.Next() {
			if err := row(rows); err != nil {
				return err
			}
		}
		return rows.Err()
	})
}

// utc turns a time that the database gave, nil for none, into the domain's: in UTC, which makes times
// comparable with ==.
func utc(t *time.Time) time.Time {
	if t == nil {
		return time.Time{}
	}
	return t.UTC()
}

// null turns the domain's zero time into the database's NULL, and is undone by utc.
func null(t time.Time) *time.Time {
	if t.IsZero() {
		return nil
	}
	return &t
}
