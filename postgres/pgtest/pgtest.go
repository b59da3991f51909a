// Package pgtest gives every test a database of its own: one private cluster a test program, one migrated
// template, and a clone of it for each test. It is for tests alone. A clone costs about 35 ms and lets tests
// run in parallel without seeing each other's rows.
//
//	func TestMain(m *testing.M) { os.Exit(pgtest.Main(m)) }
//
//	func TestSomething(t *testing.T) { store := pgtest.Store(t) … }
package pgtest

import (
	"context"
	"fmt"
	"os"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"clayline/migrations"
	"clayline/postgres"
	"clayline/postgres/private"
)

// cluster is the address of this test program's cluster; clones numbers its databases.
var (
	cluster atomic.Pointer[string]
	clones  atomic.Int64
)

// template is the migrated database from which the tests' databases are cloned: the cluster's own.
const template = "clayline"

// Main starts the cluster, runs the tests and stops it. It returns the exit status, and 1 with a sentence where
// no PostgreSQL can be started. CLAYLINE_POSTGRES_BIN names the folder of the programs to test with.
func Main(m *testing.M) int {
	ctx := context.Background()
	// A folder right under the system's own: an ordinary user must be able to reach it when root runs the tests.
	dir, err := os.MkdirTemp("", "clayline-test-")
	if err != nil {
		return fail(err)
	}
	defer func() { _ = os.RemoveAll(dir) }()
	if err := os.Chmod(dir, 0o755); err != nil { // #nosec G302 -- to be reached by the database's user
		return fail(err)
	}
	server, err := private.Start(ctx, private.Options{Dir: dir + "/data", BinDir: os.Getenv("CLAYLINE_POSTGRES_BIN")})
	if err != nil {
		return fail(err)
	}
	defer func() { _ = server.Stop(ctx) }()
	url := server.URL()
	if err := postgres.Migrate(ctx, url, migrations.Files); err != nil {
		return fail(err)
	}
	cluster.Store(&url)
	return m.Run()
}

// fail says why the tests cannot run.
func fail(err error) int {
	fmt.Fprintln(os.Stderr, "the tests need a PostgreSQL:", err)
	return 1
}

// Database clones the template for one test and returns its address, as the owner; the clone is dropped when
// the test ends, whoever is still connected. Nobody may be connected to the template meanwhile, which is why
// the tests never use it.
func Database(t testing.TB) string {
	t.Helper()
	ctx := context.Background()
	name := fmt.Sprintf("test_%d", clones.Add(1))
	address := *cluster.Load()
	admin, err := pgx.Connect(ctx, strings.Replace(address, "/"+template+"?", "/postgres?", 1))
	require.NoError(t, err)
	defer func() { _ = admin.Close(ctx) }()
	_, err = admin.Exec(ctx, "CREATE DATABASE "+name+" TEMPLATE "+template)
	require.NoError(t, err)
	t.Cleanup(func() {
		admin, err := pgx.Connect(ctx, strings.Replace(address, "/"+template+"?", "/postgres?", 1))
		require.NoError(t, err)
		defer func() { _ = admin.Close(ctx) }()
		_, err = admin.Exec(ctx, "DROP DATABASE "+name+" WITH (FORCE)")
		require.NoError(t, err)
	})
	return strings.Replace(address, "/"+template+"?", "/"+name+"?", 1)
}

// Store opens a database of its own for one test, as the role of the program, so that tests see the rights that
// it has.
func Store(t testing.TB) *postgres.Store {
	t.Helper()
	store, err := postgres.Open(context.Background(), Database(t))
	require.NoError(t, err)
	t.Cleanup(store.Close)
	return store
}
