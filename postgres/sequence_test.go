package postgres_test

import (
	"slices"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// Classes are read back in the order that they were put into; whoever has not seen a class cannot put it anywhere.
func TestTheOrderOfTheClassesIsReadBack(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41")
	order := []uuid.UUID{d.must(domain.AddEntry{Entry: uuid.New(), Number: "7"}).ID}
	for _, name := range []string{"Farm stock", "Open"} {
		plan := domain.PlanClass{Class: uuid.New(), Session: d.event.Sessions[0].ID, Track: d.event.Tracks[0].ID, Name: name, Rules: d.must(domain.AddEntry{Entry: uuid.New(), Number: name[:4]}).Rules, Sled: d.event.Sleds[0]}
		_, err := d.desk.PlanClass(d.ctx, organiser, d.ref.Event, uuid.New(), plan)
		require.NoError(t, err)
		order = append(order, plan.Class)
	}
	slices.Reverse(order)
	read := func() (ids []uuid.UUID) {
		page, err := d.desk.EventPage(d.ctx, d.ref.Event)
		require.NoError(t, err)
		for _, c := range page.Classes {
			ids = append(ids, c.ID)
		}
		return ids
	}
	require.NotEqual(t, order, read())
	require.NoError(t, d.change(desk.AnyVersion, domain.OrderClasses{Classes: order}))
	require.Equal(t, order, read())
	require.Equal(t, domain.Stale, domain.KindOf(d.change(desk.AnyVersion, domain.OrderClasses{Classes: order[:2]})))
	require.Equal(t, domain.Stale, domain.KindOf(d.change(1, domain.OrderClasses{Classes: order})), "somebody else has ordered them since")
	require.Equal(t, order, read())
}
