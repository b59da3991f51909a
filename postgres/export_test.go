package postgres

import (
	"context"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"clayline/domain/desk"
)

// EarlierSQL is the statement that finds earlier classes, so that a test can ask the database how it goes about it.
func EarlierSQL(ask desk.EarlierAsk) (string, pgx.NamedArgs) { return earlierSQL(ask) }

// OpenConfig opens a store with a pool of the test's own, so that it can watch the line.
func OpenConfig(ctx context.Context, config *pgxpool.Config) (*Store, error) {
	return open(ctx, config)
}
