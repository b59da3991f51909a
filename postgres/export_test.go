package postgres

import (
	"context"

	"github.com/jackc/pgx/v5/pgxpool"
)

// OpenConfig opens a store with a pool of the test's own, so that it can watch the line.
func OpenConfig(ctx context.Context, config *pgxpool.Config) (*Store, error) {
	return open(ctx, config)
}
