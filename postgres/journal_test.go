package postgres_test

import (
	"crypto/sha256"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
)

// journalRow is a line of the journal as it is stored.
type journalRow struct {
	Scope, Action, Pass uuid.UUID
	Number              int64
	Device              string
	At                  time.Time
	Kind                string
	Subject             uuid.UUID
	Payload, Prev, Hash []byte
}

// lines reads the journal of the event, oldest first.
func (d *day) lines() []journalRow {
	d.t.Helper()
	rows, err := d.sql("clayline_app").Query(d.ctx, `
		SELECT scope, action_id, pass_id, number, device, at, kind, subject, payload, prev_hash, hash
		FROM journal
		WHERE scope = $1
		ORDER BY number`, d.event.ID)
	require.NoError(d.t, err)
	lines, err := pgx.CollectRows(rows, pgx.RowToStructByPos[journalRow])
	require.NoError(d.t, err)
	return lines
}

// chained recomputes every hash from the stored bytes, as docs/design.md describes it, and checks the numbers.
func chained(t assert.TestingT, lines []journalRow) {
	var prev []byte
	for i, l := range lines {
		head := strings.Join([]string{
			fmt.Sprint(l.Number), l.Action.String(), l.Pass.String(), l.Device, l.At.UTC().Format("2006-01-02T15:04:05.000000Z"),
			l.Kind, l.Subject.String(), "",
		}, "\n")
		hash := sha256.Sum256(append(append(append([]byte{}, prev...), head...), l.Payload...))
		assert.Equal(t, int64(i+1), l.Number, "numbers have no gap")
		assert.Equal(t, string(prev), string(l.Prev), "line %d names the hash before it", l.Number)
		assert.Equal(t, hash[:], l.Hash, "line %d has the hash of its own bytes", l.Number)
		prev = l.Hash
	}
}

// replay folds the journal of one class over nothing.
func replay(t assert.TestingT, lines []journalRow, class uuid.UUID) domain.Class {
	var c domain.Class
	for _, l := range lines {
		if l.Subject != class {
			continue
		}
		action, err := doc.DecodeAction(l.Kind, l.Payload)
		assert.NoError(t, err)
		c, err = domain.Decide(c, action, l.At.UTC())
		assert.NoError(t, err, "line %d, %s", l.Number, l.Kind)
	}
	return c
}

// anonymous is the class without what the journal never holds.
func anonymous(c domain.Class) domain.Class {
	c = c.Clone()
	for i := range c.Entries {
		c.Entries[i].Details = domain.Details{}
	}
	return c
}

func TestReplayingTheJournalGivesTheStoredClass(t *testing.T) {
	t.Parallel()
	d := newDay(t, "best-of-two-100m", "41", "7", "23", "12")
	c := d.begin()
	for _, result := range []string{"88.20", "FP", "DQ lost part", "FP 101.5"} {
		c = d.record(c, result)
	}
	c = d.must(domain.Correct{Hook: c.Current().Hooks[0].ID, Result: domain.Result{Outcome: domain.FullPull}, Reason: "misread"})
	name, _ := c.RoundDue()
	c = d.must(domain.OpenRound{Round: uuid.New(), Name: name})
	c = d.pullAgainst(c, setting(t))
	c = d.record(c, "12.40")
	c = d.must(domain.Choose{Hook: c.Pending().Hook.ID, Option: domain.AtOnce, Next: uuid.New()})
	c = d.record(c, "91.07")
	c = d.must(domain.ResetSetting{Round: c.Current().ID, Reason: "sled repaired"})
	lines := d.lines()
	chained(t, lines)
	require.Equal(t, anonymous(c), replay(t, lines, c.ID))
	page, err := d.desk.ClassPage(d.ctx, d.ref)
	require.NoError(t, err)
	require.Equal(t, c, page.Class)
}

func TestTheSameActionTwiceIsDoneOnce(t *testing.T) {
	t.Parallel()
	d := newDay(t, "floating-ft", "41", "7", "23")
	c := d.begin()
	record := domain.Record{Hook: c.OnTrack().ID, Result: domain.Result{Outcome: domain.Disqualified, Reason: "fluid"}, Next: uuid.New()}
	id := uuid.New()
	var wait sync.WaitGroup
	receipts := make([]desk.Receipt, 8)
	for i := range receipts {
		wait.Go(func() {
			var err error
			receipts[i], err = d.desk.Act(d.ctx, organiser, d.ref, id, record)
			assert.NoError(t, err)
		})
	}
	wait.Wait()
	repeated := 0
	for _, r := range receipts {
		require.Equal(t, receipts[0].Number, r.Number, "every answer names the same line")
		if r.Repeated {
			repeated++
		}
	}
	require.Equal(t, len(receipts)-1, repeated)
	chained(t, d.lines())

	_, err := d.desk.Act(d.ctx, organiser, d.ref, id, domain.Scratch{Entry: uuid.New(), Reason: "other"})
	require.Equal(t, domain.Stale, domain.KindOf(err), "the id of one action is not another's")
}

// Many booths write at once, on one class: each hook gets one result, the numbers have no gap, the order of lines is
// the order of what happened.
func TestBoothsAtTheSameMoment(t *testing.T) {
	t.Parallel()
	d := newDay(t, "floating-m", "1", "2", "3", "4", "5", "6", "7", "8")
	c := d.begin()
	var wait sync.WaitGroup
	for range 4 {
		wait.Go(func() {
			for range 40 {
				page, err := d.desk.ClassPage(d.ctx, d.ref)
				if !assert.NoError(t, err) || page.Class.Phase() != domain.Hooking {
					return
				}
				distance, _ := domain.ParseDistance("88.12", domain.Metre)
				_, err = d.desk.Act(d.ctx, organiser, d.ref, uuid.New(), domain.Record{
					Hook: page.Class.OnTrack().ID, Result: domain.Result{Outcome: domain.Measured, Distance: distance}, Next: uuid.New(),
				})
				if err != nil {
					assert.Equal(t, domain.Stale, domain.KindOf(err), err)
				}
			}
		})
	}
	wait.Wait()
	page, err := d.desk.ClassPage(d.ctx, d.ref)
	require.NoError(t, err)
	require.Equal(t, domain.Decided, page.Class.Phase())
	require.Len(t, page.Class.Rounds[0].Hooks, 8)
	lines := d.lines()
	chained(t, lines)
	require.Equal(t, anonymous(page.Class), replay(t, lines, c.ID))
}
