// Package postgres keeps everything in a PostgreSQL database. Its constraints state the rules; this package knows how
// the domain's values are rows, and how a hot write is two round trips: lock and read, then write and commit.
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

// appRole is the role as which the program works; migrations make it.
const appRole = "clayline_app"

// Store is a database. It implements the desk's Store.
type Store struct {
	pool *pgxpool.Pool
}

// Migrate brings the schema of the database up to date, as the owner that the address names. Several processes may
// start at once: they wait for one another.
func Migrate(ctx context.Context, url string, files fs.FS) (err error) {
	defer wrap(&err, "Migrate")
	config, err := pgx.ParseConfig(url)
	if err != nil {
		return err
	}
	db := stdlib.OpenDB(*config)
	defer func() { _ = db.Close() }() // its work is committed or failed by then
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

// Open connects to a migrated database, working as the role that can neither change nor shorten the journal.
func Open(ctx context.Context, url string) (_ *Store, err error) {
	defer wrap(&err, "Open")
	config, err := pgxpool.ParseConfig(url)
	if err != nil {
		return nil, err
	}
	return open(ctx, config)
}

// open connects with a configuration of the pool's own.
func open(ctx context.Context, config *pgxpool.Config) (*Store, error) {
	config.ConnConfig.RuntimeParams["role"] = appRole
	config.ConnConfig.RuntimeParams["application_name"] = "clayline"
	pool, err := pgxpool.NewWithConfig(ctx, config)
	if err != nil {
		return nil, err
	}
	if err := pool.Ping(ctx); err != nil {
		pool.Close()
		return nil, err
	}
	return &Store{pool: pool}, nil
}

// Close ends all connections.
func (s *Store) Close() { s.pool.Close() }

// wrap names the operation that failed; see its use with defer.
func wrap(err *error, format string, args ...any) {
	if *err != nil {
		*err = fmt.Errorf("postgres.%s: %w", fmt.Sprintf(format, args...), *err)
	}
}
