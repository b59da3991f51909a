package postgres_test

import (
	"context"
	"testing"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// The people who may reach the database over SQL: the program's own role, and the owner, who is not bound by rights
// but still by triggers and constraints.
var sqlRoles = []string{"clayline_app", ""}

// sql connects to the day's database in a role.
func (d *day) sql(role string) *pgx.Conn {
	d.t.Helper()
	config, err := pgx.ParseConfig(d.url)
	require.NoError(d.t, err)
	if role != "" {
		config.RuntimeParams["role"] = role
	}
	conn, err := pgx.ConnectConfig(d.ctx, config)
	require.NoError(d.t, err)
	d.t.Cleanup(func() { _ = conn.Close(context.Background()) })
	return conn
}

// refused asserts that a statement violates the named rule, or that the role has no right to it.
func refused(t *testing.T, err error, rule string) {
	t.Helper()
	var pg *pgconn.PgError
	require.ErrorAs(t, err, &pg)
	if pg.Code == "42501" { // insufficient_privilege
		return
	}
	require.Equal(t, rule, pg.ConstraintName, pg.Message)
}

const insertHook = `
	INSERT INTO hook (id, round_id, revision, entry_id, number, attempt, is_test, called_at, reason, choice, corrected)
	VALUES ($1, $2, $3, $4, 99, 1, false, now(), '', '', '')`

func TestNoHookAgainstAnotherSetting(t *testing.T) {
	t.Parallel()
	for _, role := range sqlRoles {
		t.Run("as "+role, func(t *testing.T) {
			t.Parallel()
			d := newDay(t, "capped-300ft", "41", "7", "23")
			c := d.begin()
			c = d.record(c, "281.36")
			c = d.must(domain.Choose{Hook: c.Pending().Hook.ID, Option: domain.Keep, Next: uuid.New()})
			c = d.record(c, "263.10")
			round := c.Current()
			waiting, hook := round.Lineup[2].Entry, round.Hooks[0].ID
			conn := d.sql(role)
			try := func(sql string, args ...any) error {
				_, err := conn.Exec(d.ctx, sql, args...)
				return err
			}
			refused(t, try(insertHook, uuid.New(), round.ID, 2, waiting), "hook_against_the_open_setting")
			refused(t, try(`UPDATE hook SET revision = 2 WHERE id = $1`, hook), "hook_never_moves")
			refused(t, try(`UPDATE hook SET round_id = $2 WHERE id = $1`, hook, uuid.New()), "hook_never_moves")
			refused(t, try(`DELETE FROM hook WHERE id = $1`, hook), "hook_is_never_deleted")
			refused(t, try(`UPDATE setting SET gear = 4 WHERE round_id = $1`, round.ID), "frozen_setting_is_not_changed")
			refused(t, try(`UPDATE setting SET piles = '900 lb: 1 left' WHERE round_id = $1`, round.ID), "frozen_setting_is_not_changed")
			refused(t, try(`UPDATE setting SET slabs_left = 1 WHERE round_id = $1`, round.ID), "frozen_setting_is_not_changed")
			refused(t, try(`UPDATE setting SET revision = 2 WHERE round_id = $1`, round.ID), "frozen_setting_is_not_changed")
			refused(t, try(`UPDATE setting SET frozen_at = NULL WHERE round_id = $1`, round.ID), "frozen_setting_is_not_changed")
			refused(t, try(`DELETE FROM setting WHERE round_id = $1`, round.ID), "frozen_setting_is_not_changed")
			refused(t, try(`UPDATE class SET rules = '{}'`), "class_keeps_its_rules")

			// After a reset the old revision is closed for good, and the new one is no more than a draft.
			c = d.must(domain.ResetSetting{Round: round.ID, Reason: "two went out the gate"})
			refused(t, try(insertHook, uuid.New(), round.ID, 1, waiting), "hook_against_the_open_setting")
			refused(t, try(insertHook, uuid.New(), round.ID, 2, waiting), "hook_against_the_open_setting")
			refused(t, try(`UPDATE setting SET closed_at = NULL WHERE round_id = $1 AND revision = 1`, round.ID), "frozen_setting_is_not_changed")
			refused(t, try(`UPDATE setting SET frozen_at = now(), closed_at = NULL WHERE round_id = $1`, round.ID), "frozen_setting_is_not_changed")
			d.must(domain.FreezeSetting{Round: round.ID, Revision: 2})
			refused(t, try(insertHook, uuid.New(), round.ID, 1, waiting), "hook_against_the_open_setting")
			require.NoError(t, try(insertHook, uuid.New(), round.ID, 2, waiting), "against the open setting a hook may be made")
		})
	}
}

func TestOneOpenSettingARound(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41", "7")
	c := d.begin()
	_, err := d.sql("clayline_app").Exec(d.ctx, `
		INSERT INTO setting SELECT round_id, 2, box, slabs_left, slabs_mid, slabs_right, gear, start_hole, trip, pan, blades,
		       push_down, device, speed_limit, note, drafted_at, frozen_at, closed_at, reason
		FROM setting WHERE round_id = $1`, c.Current().ID)
	refused(t, err, "one_open_setting_a_round")
}

func TestTheJournalOnlyGrows(t *testing.T) {
	t.Parallel()
	for _, role := range sqlRoles {
		t.Run("as "+role, func(t *testing.T) {
			t.Parallel()
			d := newDay(t, "capped-300ft", "41", "7", "23")
			d.begin()
			conn := d.sql(role)
			before := d.lines()
			for _, sql := range []string{
				`UPDATE journal SET payload = 'x'`,
				`UPDATE journal SET kind = 'result' WHERE number = 3`,
				`DELETE FROM journal`,
				`DELETE FROM journal WHERE number = (SELECT max(number) FROM journal)`,
				`TRUNCATE journal`,
			} {
				_, err := conn.Exec(d.ctx, sql)
				refused(t, err, "journal_only_grows")
			}
			require.Equal(t, before, d.lines())
		})
	}
}

// The program's role has no way around the function that chains the lines, and cannot take the guards away.
func TestTheProgramsRoleCannotForgeTheJournal(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41", "7")
	conn := d.sql("clayline_app")
	for _, sql := range []string{
		`INSERT INTO journal SELECT scope, number + 100, gen_random_uuid(), pass_id, device, at, kind, subject, payload, prev_hash, hash FROM journal LIMIT 1`,
		`UPDATE journal_head SET number = 1`,
		`DELETE FROM journal_head`,
		`ALTER TABLE journal DISABLE TRIGGER ALL`,
		`ALTER TABLE hook DISABLE TRIGGER ALL`,
		`DROP TRIGGER journal_only_grows ON journal`,
		`DROP TABLE journal`,
		`SET session_replication_role = replica`,
	} {
		_, err := conn.Exec(d.ctx, sql)
		var pg *pgconn.PgError
		if sql[:3] == "SET" && err == nil {
			t.Fatal("the role could switch triggers off")
		}
		require.ErrorAs(t, err, &pg, sql)
		require.Equal(t, "42501", pg.Code, "%s: %s", sql, pg.Message)
	}
}
