package postgres_test

import (
	"context"
	"crypto/rand"
	"fmt"
	"net"
	"sync/atomic"
	"testing"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/postgres"
)

// watchedLine counts how often the program sends something and then waits: a round trip.
type watchedLine struct {
	net.Conn
	trips   *atomic.Int64
	sending *atomic.Bool
}

func (l watchedLine) Write(b []byte) (int, error) {
	l.sending.Store(true)
	return l.Conn.Write(b)
}

func (l watchedLine) Read(b []byte) (int, error) {
	n, err := l.Conn.Read(b)
	if n > 0 && l.sending.Swap(false) {
		l.trips.Add(1)
	}
	return n, err
}

// watch counts the statements of every batch.
type watch struct{ statements atomic.Int64 }

func (w *watch) TraceBatchStart(ctx context.Context, _ *pgx.Conn, data pgx.TraceBatchStartData) context.Context {
	w.statements.Add(int64(data.Batch.Len()))
	return ctx
}

func (*watch) TraceBatchQuery(context.Context, *pgx.Conn, pgx.TraceBatchQueryData) {}
func (*watch) TraceBatchEnd(context.Context, *pgx.Conn, pgx.TraceBatchEndData)     {}
func (*watch) TraceQueryStart(ctx context.Context, _ *pgx.Conn, _ pgx.TraceQueryStartData) context.Context {
	return ctx
}
func (*watch) TraceQueryEnd(context.Context, *pgx.Conn, pgx.TraceQueryEndData) {}

// A process that remembers a class as its own last action left it sees what another process did to it since.
func TestTwoProcessesSeeEachOthersActions(t *testing.T) {
	t.Parallel()
	d := newDay(t, "floating-ft", "1", "2", "3", "4")
	other, err := postgres.Open(d.ctx, d.url)
	require.NoError(t, err)
	t.Cleanup(other.Close)
	desks := []*desk.Desk{d.desk, desk.New(other, d.now, rand.Reader)}
	c := d.begin()
	c = d.record(c, "281.36")
	c = d.must(domain.Choose{Hook: c.Pending().Hook.ID, Option: domain.Keep, Next: uuid.New()})
	for i, written := range []string{"200", "201", "202"} {
		distance, err := domain.ParseDistance(written, domain.Foot)
		require.NoError(t, err)
		for range 2 {
			// Whoever is second is told that the hook has its result, and does not overwrite it.
			_, err = desks[i%2].Act(d.ctx, organiser, d.ref, uuid.New(), domain.Record{Hook: uuid.New(), Result: domain.Result{Outcome: domain.Measured, Distance: distance}})
			require.Error(t, err)
		}
		receipt, err := desks[i%2].Act(d.ctx, organiser, d.ref, uuid.New(), domain.Record{
			Hook: c.OnTrack().ID, Result: domain.Result{Outcome: domain.Measured, Distance: distance}, Next: uuid.New(),
		})
		require.NoError(t, err)
		_, err = desks[(i+1)%2].Act(d.ctx, organiser, d.ref, uuid.New(), domain.Record{
			Hook: c.OnTrack().ID, Result: domain.Result{Outcome: domain.Measured, Distance: distance}, Next: uuid.New(),
		})
		require.Equal(t, domain.Stale, domain.KindOf(err), "%v", err)
		c = receipt.Class
	}
	require.Equal(t, domain.Decided, c.Phase())
	stored, err := d.desk.ClassPage(d.ctx, d.ref)
	require.NoError(t, err)
	require.Equal(t, c, stored.Class)
}

// Storing a distance is two round trips, and as many statements in a class of forty as in a class of five.
func TestStoringADistanceIsTwoRoundTrips(t *testing.T) {
	t.Parallel()
	statements := map[int]int64{}
	for _, size := range []int{5, 40} {
		var numbers []string
		for i := range size {
			numbers = append(numbers, fmt.Sprint(i+1))
		}
		d := newDay(t, "floating-ft", numbers...)
		var trips atomic.Int64
		var sending atomic.Bool
		var counted watch
		config, err := pgxpool.ParseConfig(d.url)
		require.NoError(t, err)
		config.MaxConns = 1
		config.ConnConfig.Tracer = &counted
		dial := config.ConnConfig.DialFunc
		config.ConnConfig.DialFunc = func(ctx context.Context, network, addr string) (net.Conn, error) {
			conn, err := dial(ctx, network, addr)
			return watchedLine{Conn: conn, trips: &trips, sending: &sending}, err
		}
		store, err := postgres.OpenConfig(d.ctx, config)
		require.NoError(t, err)
		t.Cleanup(store.Close)
		watched := desk.New(store, d.now, rand.Reader)
		c := d.begin()
		c = d.record(c, "281.36")
		c = d.must(domain.Choose{Hook: c.Pending().Hook.ID, Option: domain.Keep, Next: uuid.New()})
		for i := range 3 { // the first two prepare their statements: the class is read whole once, and remembered then
			trips.Store(0)
			counted.statements.Store(0)
			distance, err := domain.ParseDistance("263.10", domain.Foot)
			require.NoError(t, err)
			receipt, err := watched.Act(d.ctx, organiser, d.ref, uuid.New(), domain.Record{
				Hook: c.OnTrack().ID, Result: domain.Result{Outcome: domain.Measured, Distance: distance}, Next: uuid.New(),
			})
			require.NoError(t, err)
			c = receipt.Class
			if i == 2 {
				require.Equal(t, int64(2), trips.Load(), "lock and read; write and commit")
			}
		}
		statements[size] = counted.statements.Load()
	}
	require.Equal(t, statements[5], statements[40])
}
