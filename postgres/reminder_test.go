package postgres_test

import (
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain/desk"
	"clayline/domain/remind"
)

// What a phone asked for is kept once for an entry; of many programs that see the same hook one claims it, and whoever asks
// anew in the round is told anew.
func TestRemindersAreClaimedOnce(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41", "7")
	c := d.begin()
	r := remind.Reminder{Class: c.ID, Entry: c.Entries[0].ID, Phone: remind.Phone{Endpoint: "https://push.example.org/a", Key: "k", Secret: "s", Language: "de"}}
	require.NoError(t, d.store.AddReminder(d.ctx, r))
	require.NoError(t, d.store.AddReminder(d.ctx, r))
	list, err := d.store.Reminders(d.ctx, c.ID)
	require.NoError(t, err)
	require.Equal(t, []remind.Reminder{r}, list)
	refs, err := d.store.Reminded(d.ctx)
	require.NoError(t, err)
	require.Equal(t, []desk.Ref{d.ref}, refs)

	round := c.Rounds[0].ID
	claimed := make(chan bool, 8)
	for range cap(claimed) {
		go func() {
			first, err := d.store.ClaimReminder(d.ctx, r, round)
			claimed <- first && err == nil
		}()
	}
	first := 0
	for range cap(claimed) {
		if <-claimed {
			first++
		}
	}
	require.Equal(t, 1, first)
	list, err = d.store.Reminders(d.ctx, c.ID)
	require.NoError(t, err)
	require.Equal(t, round, list[0].Told)
	require.NoError(t, d.store.AddReminder(d.ctx, r))
	again, err := d.store.ClaimReminder(d.ctx, r, round)
	require.NoError(t, err)
	require.True(t, again)

	require.NoError(t, d.store.RemoveReminder(d.ctx, uuid.New(), r.Phone.Endpoint), "what is not there need not go")
	require.NoError(t, d.store.RemoveReminders(d.ctx, c.ID))
	gone, err := d.store.ClaimReminder(d.ctx, r, uuid.New())
	require.NoError(t, err)
	require.False(t, gone)
}

// Phones subscribe with the public key, so that the pair that is there stays, whoever comes with another.
func TestTheKeysOfPushesStay(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41")
	keys, err := d.store.PushKeys(d.ctx, remind.Keys{Public: "a", Private: "b"})
	require.NoError(t, err)
	require.Equal(t, remind.Keys{Public: "a", Private: "b"}, keys)
	keys, err = d.store.PushKeys(d.ctx, remind.Keys{Public: "c", Private: "d"})
	require.NoError(t, err)
	require.Equal(t, remind.Keys{Public: "a", Private: "b"}, keys)
	_, err = d.sql("clayline_app").Exec(d.ctx, `UPDATE push_key SET public_key = 'x'`)
	refused(t, err, "")
	_, err = d.sql("").Exec(d.ctx, `INSERT INTO push_key (only_one, public_key, private_key) VALUES (false, 'x', 'y')`)
	refused(t, err, "push_key_only_one_check")
}
