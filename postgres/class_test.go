package postgres_test

import (
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// What an action returned is what a later reader finds: the whole class, from the draw to a decided pull-off.
func TestStoredClassIsTheDecidedClass(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41", "7", "23", "12", "19")
	c := d.begin()
	c = d.record(c, "281.36")
	require.Equal(t, domain.ChoiceOpen, c.Phase())
	c = d.must(domain.Choose{Hook: c.Pending().Hook.ID, Option: domain.ToLast, Next: uuid.New()})
	c = d.record(c, "FP 301.2")
	c = d.must(domain.Again{Hook: c.OnTrack().ID, Reason: "sled fault", Places: 2, Next: uuid.New()})
	c = d.record(c, "DQ out of bounds")
	c = d.must(domain.Drop{Hook: c.OnTrack().ID, Reason: "broken belt", Next: uuid.New()})
	for c.Phase() == domain.Hooking {
		c = d.record(c, "FP")
	}
	require.Equal(t, domain.PullOffDue, c.Phase())
	name, in := c.RoundDue()
	require.Len(t, in, 4)
	c = d.must(domain.OpenRound{Round: uuid.New(), Name: name})
	c = d.pullAgainst(c, setting(t))
	for _, result := range []string{"287' 4.5\"", "312.440", "absent", "DQ lost a weight"} {
		c = d.record(c, result)
	}
	require.Equal(t, domain.Decided, c.Phase())
	page, err := d.desk.ClassPage(d.ctx, d.ref)
	require.NoError(t, err)
	require.Equal(t, c, page.Class)
	require.Equal(t, d.event.Name, page.Event.Name)
}
