package postgres_test

import (
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// A session that holds a class and says nothing more holds up who acts on it for a moment, and nobody who reads.
func TestALockThatIsHeldIsGivenUpOn(t *testing.T) {
	t.Parallel()
	d := newDay(t, "floating-ft", "41", "7")
	d.begin()
	holder := d.sql("")
	held, err := holder.Begin(d.ctx)
	require.NoError(t, err)
	_, err = held.Exec(d.ctx, `SELECT id FROM class FOR UPDATE`)
	require.NoError(t, err)
	done := make(chan error)
	for range 6 {
		go func() {
			_, err := d.desk.Act(d.ctx, organiser, d.ref, uuid.New(), domain.Scratch{Entry: d.event.ID, Reason: "x"})
			done <- err
		}()
	}
	began := time.Now()
	_, err = d.desk.ClassPage(d.ctx, d.ref)
	require.NoError(t, err, "readers read on")
	require.Less(t, time.Since(began), time.Second)
	for range 6 {
		require.Equal(t, domain.Stale, domain.KindOf(<-done), "and the writers are told to send it again")
	}
	require.NoError(t, held.Rollback(d.ctx))
}
