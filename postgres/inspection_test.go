package postgres_test

import (
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// look is an inspection of the day's sled on which one point is not ok.
func (d *day) look(by string) domain.InspectSled {
	list := d.event.Sleds[0].InspectionList()
	return domain.InspectSled{Inspection: uuid.New(), Sled: d.event.Sleds[0].ID, By: by, Points: []domain.Inspected{
		{Point: list[0], State: domain.PointOK}, {Point: list[1], State: domain.PointNotOK, Note: "cable frayed"},
	}}
}

// An inspection is kept with its name, which the journal does not have; the same again is answered from its line, and with
// another name it is refused.
func TestAnInspectionIsStored(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41", "7")
	first, action := d.look("Ada Flagg"), uuid.New()
	receipt, err := d.desk.ChangeEvent(d.ctx, organiser, d.ref.Event, action, desk.AnyVersion, first)
	require.NoError(t, err)
	again, err := d.desk.ChangeEvent(d.ctx, organiser, d.ref.Event, action, desk.AnyVersion, first)
	require.NoError(t, err)
	require.Equal(t, receipt.Number, again.Number)
	other := first
	other.By = "B. Holm"
	_, err = d.desk.ChangeEvent(d.ctx, organiser, d.ref.Event, action, desk.AnyVersion, other)
	require.Equal(t, domain.Stale, domain.KindOf(err))
	_, err = d.desk.ChangeEvent(d.ctx, organiser, d.ref.Event, uuid.New(), desk.AnyVersion, first)
	require.Equal(t, domain.Invalid, domain.KindOf(err), "the id is taken")

	c := d.begin()
	log, err := d.desk.SledLog(d.ctx, organiser, d.ref.Event, first.Sled)
	require.NoError(t, err)
	require.Len(t, log.Events, 1)
	require.False(t, log.Pulling)
	kept := log.Events[0].Inspections
	require.Len(t, kept, 1)
	require.Equal(t, "Ada Flagg", kept[0].By)
	require.Equal(t, first.Inspection, kept[0].ID)
	require.Len(t, kept[0].Points, len(d.event.Sleds[0].InspectionList()), "what nobody looked at is there too")
	require.Equal(t, first.Points[1], kept[0].Points[1])
	require.Equal(t, c.ID, log.Events[0].Classes[0].ID)
	d.must(domain.Start{Hook: c.OnTrack().ID})
	log, err = d.desk.SledLog(d.ctx, organiser, d.ref.Event, first.Sled)
	require.NoError(t, err)
	require.True(t, log.Pulling, "a vehicle pulls it")
	page, err := d.desk.EventPage(d.ctx, d.ref.Event)
	require.NoError(t, err)
	for _, line := range page.Journal {
		require.NotContains(t, string(line.Payload), "Flagg", "a name is no part of the journal")
		if line.Kind == "inspection" {
			require.True(t, line.Staff, "it is nothing for the public")
		}
	}
	_, err = d.desk.SledLog(d.ctx, organiser, d.ref.Event, uuid.New())
	require.Equal(t, domain.NotFound, domain.KindOf(err))
}

// A pass for every event reads a sled of the same name wherever it was; one for an event reads that event.
func TestALogGoesOverEvents(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41")
	name := d.event.Sleds[0].Name
	later := domain.Event{ID: uuid.New(), Name: "Later pull", Place: "Elsewhere", Zone: "UTC", Tracks: []domain.Track{{ID: uuid.New(), Name: "1"}},
		Sleds: []domain.Sled{{ID: uuid.New(), Name: "Another", Gears: 1, StartHoles: 1}, {ID: uuid.New(), Name: name, Gears: 3, StartHoles: 2}}, Sessions: []domain.Session{{ID: uuid.New(), Name: "Day", Starts: start}}}
	_, err := d.desk.PlanEvent(d.ctx, organiser, uuid.New(), later)
	require.NoError(t, err)
	require.NoError(t, d.change(desk.AnyVersion, d.look("Ada Flagg")))
	all, err := d.desk.SledLog(d.ctx, organiser, domain.Slug(later.Name), later.Sleds[1].ID)
	require.NoError(t, err)
	require.Len(t, all.Events, 2)
	require.False(t, all.More)
	seen := map[uuid.UUID]int{}
	for _, e := range all.Events {
		seen[e.Sled.ID] = len(e.Inspections)
	}
	require.Equal(t, map[uuid.UUID]int{later.Sleds[1].ID: 0, d.event.Sleds[0].ID: 1}, seen)
	one, err := d.desk.SledLog(d.ctx, desk.By{Role: domain.Cab, Event: later.ID}, domain.Slug(later.Name), later.Sleds[1].ID)
	require.NoError(t, err)
	require.Len(t, one.Events, 1, "the other event is nothing for this pass")
	require.Equal(t, later.Sleds[1].ID, one.Events[0].Sled.ID)
}
