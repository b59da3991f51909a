package postgres_test

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"clayline/migrations"
	"clayline/postgres"
)

// A server of somebody else's gives a database to an owner who is no superuser; the program runs there too.
func TestAnOwnerWithoutSuperuserRightsIsEnough(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41")
	admin := d.sql("")
	_, err := admin.Exec(d.ctx, `CREATE ROLE tenant LOGIN CREATEROLE`)
	require.NoError(t, err)
	_, err = admin.Exec(d.ctx, `CREATE DATABASE tenant OWNER tenant`)
	require.NoError(t, err)
	t.Cleanup(func() {
		admin := d.sql("")
		for _, sql := range []string{`DROP DATABASE tenant WITH (FORCE)`, `DROP ROLE tenant`} {
			_, err := admin.Exec(context.Background(), sql)
			require.NoError(t, err)
		}
	})
	name := d.url[strings.LastIndex(d.url, "/"):strings.Index(d.url, "?")]
	url := strings.Replace(strings.Replace(d.url, "clayline_owner@", "tenant@", 1), name+"?", "/tenant?", 1)
	require.NoError(t, postgres.Migrate(d.ctx, url, migrations.Files))
	require.NoError(t, postgres.Migrate(d.ctx, url, migrations.Files), "a second start finds nothing to do")
	store, err := postgres.Open(d.ctx, url)
	require.NoError(t, err)
	store.Close()
}
