package postgres_test

import (
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// What the flagmen say is kept with the hook, through the result that is stored; neither booth nor cab may say it, and the
// lane may store no result.
func TestWhatTheFlagmenSayIsKept(t *testing.T) {
	t.Parallel()
	d := newDay(t, "floating-ft", "41", "7")
	class := d.begin()
	on := class.OnTrack().ID
	flagman := desk.By{Role: domain.Lane, Device: "phone"}
	say := domain.SayFlag{Hook: on, Call: domain.FlagDisqualified, Reason: "out of bounds"}
	receipt, err := d.desk.Act(d.ctx, flagman, d.ref, uuid.New(), say)
	require.NoError(t, err)
	_, err = d.desk.Act(d.ctx, flagman, d.ref, uuid.New(), domain.NoteDifference{Hook: on, What: domain.RedByOfficial})
	require.NoError(t, err)
	said := receipt.Class.FlagHooks()[0].Flag
	d.must(domain.Record{Hook: on, Result: domain.Result{Outcome: domain.Disqualified, Reason: "out of bounds"}, Next: uuid.New()})
	page, err := d.desk.ClassPage(d.ctx, d.ref)
	require.NoError(t, err)
	hook := page.Class.Rounds[0].Hooks[0]
	assert.Equal(t, said, hook.Flag)
	assert.Equal(t, domain.RedByOfficial, hook.Difference.What)

	last := page.Class.FlagHooks()
	for name, act := range map[string]struct {
		by     domain.Role
		action domain.Action
	}{
		"the booth says no flag":      {domain.Booth, domain.SayFlag{Hook: last[0].ID}},
		"the cab says no flag":        {domain.Cab, domain.SayFlag{Hook: last[0].ID}},
		"the lane stores no result":   {domain.Lane, domain.Record{Hook: last[0].ID, Result: domain.Result{Outcome: domain.Absent}, Next: uuid.New()}},
		"the lane lets nobody rehook": {domain.Lane, domain.Again{Hook: last[0].ID, Reason: "sled", Next: uuid.New()}},
	} {
		_, err = d.desk.Act(d.ctx, desk.By{Role: act.by}, d.ref, uuid.New(), act.action)
		assert.Equal(t, domain.Forbidden, domain.KindOf(err), name)
	}
}
