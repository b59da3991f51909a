// Package postgres keeps everything in a PostgreSQL database. Its constraints state the rules; this package
// knows how the domain's values are rows, and how a hot write is two round trips: lock and read, then write and
// commit.
//
// # A hot write, on the wire
//
// Storing the result of hook 9, and calling hook 10, sends two batches. The first is
//
//	BEGIN ISOLATION LEVEL READ COMMITTED
//	SELECT … FROM class … FOR UPDATE OF c       the lock; from here on the class stands still
//	SELECT … FROM journal …                     its version, and whether the action was done before
//	SELECT … FROM pass …                        whether it has ended meanwhile
//
// where this process did the last action on the class and remembers it; see keptClasses. The whole class is read in five
// more statements where it did not, or where another process has been faster.
//
// and, once the domain has decided, the second is
//
//	UPDATE hook …                               hook 9 ends
//	INSERT INTO hook …                          hook 10 is called
//	SELECT journal_append(…)                    the line; from here on the event's journal is locked
//	COMMIT
//
// Under READ COMMITTED each statement sees what was committed before it began. The statements after the lock
// therefore see what the action before left, which one snapshot for the whole transaction would not.
//
// Rows are written where two versions of a class differ, and never as a whole. What the domain does not do,
// such as taking a hook away, has no statement here, and triggers refuse it.
package postgres

import (
	"context"
	"fmt"
	"io/fs"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/jackc/pgx/v5/stdlib"
	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"
)

// appRole is the role as which the program works; migrations make it. It can read everything, insert and update
// what it must, and reaches the journal by one function alone.
const appRole = "clayline_app"

// connectionsAtLeast leaves readers a connection while a few writers wait for a lock, on machines with few processors
// too.
const connectionsAtLeast = 16

// Store is a database. It implements the desk's Store and its Listener. Its methods may be called at the same
// time.
type Store struct {
	pool *pgxpool.Pool
	kept *keptClasses
}

// Migrate brings the schema of the database up to date, as the owner that the address names. Several processes
// may start at once: they wait for one another on a lock of the session. A database that is up to date costs
// one query.
func Migrate(ctx context.Context, url string, files fs.FS) (err error) {
	defer wrap(&err, "Migrate")
	config, err := pgx.ParseConfig(url)
	if err != nil {
		return err
	}
	db := stdlib.OpenDB(*config)
	defer func() { _ = db.Close() }() // its work is committed or failed by then
	// Two migrations at once would both find a step missing, and one of them would fail in the middle of it.
	locker, err := lock.NewPostgresSessionLocker()
	if err != nil {
		return err
	}
	provider, err := goose.NewProvider(goose.DialectPostgres, db, files, goose.WithSessionLocker(locker))
	if err != nil {
		return err
	}
	_, err = provider.Up(ctx)
	return err
}

// Open connects to a migrated database, working as the role that can neither change nor shorten the journal. It
// fails at once when nobody answers, so that a wrong address is found at the start and not by the first reader.
func Open(ctx context.Context, url string) (_ *Store, err error) {
	defer wrap(&err, "Open")
	config, err := pgxpool.ParseConfig(url)
	if err != nil {
		return nil, err
	}
	return open(ctx, config)
}

// open connects with a configuration of the pool's own. The role is a parameter of every connection: no
// statement of the program can run as the owner, even by mistake.
func open(ctx context.Context, config *pgxpool.Config) (*Store, error) {
	config.ConnConfig.RuntimeParams["role"] = appRole
	// The statements are few and prepared, and look rows up by keys: planning them anew each time costs more than
	// running them.
	config.ConnConfig.RuntimeParams["plan_cache_mode"] = "force_generic_plan"
	// One action that hangs, here or in another process, must not hold up the crowd: it is given up, and so is who
	// waits for it.
	config.ConnConfig.RuntimeParams["lock_timeout"] = "2s"
	config.ConnConfig.RuntimeParams["statement_timeout"] = "10s"
	config.ConnConfig.RuntimeParams["idle_in_transaction_session_timeout"] = "10s"
	config.MaxConns = max(config.MaxConns, connectionsAtLeast)
	config.ConnConfig.RuntimeParams["application_name"] = "clayline"
	pool, err := pgxpool.NewWithConfig(ctx, config)
	if err != nil {
		return nil, err
	}
	// A pool connects when it is first used; asked now, it says at the start what is wrong with the address.
	if err := pool.Ping(ctx); err != nil {
		pool.Close()
		return nil, err
	}
	return &Store{pool: pool, kept: newKept()}, nil
}

// Close ends all connections, waiting for those in use. Nothing may be called after it.
func (s *Store) Close() { s.pool.Close() }

// wrap names the operation that failed; see its use with defer. It keeps the chain, so that a domain error
// inside stays one, and its words reach the log alone.
func wrap(err *error, format string, args ...any) {
	if *err != nil {
		*err = fmt.Errorf("postgres.%s: %w", fmt.Sprintf(format, args...), *err)
	}
}
