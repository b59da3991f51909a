package postgres_test

import (
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// change does an action on the day's event and returns its error.
func (d *day) change(version int64, a domain.EventAction) error {
	_, err := d.desk.ChangeEvent(d.ctx, organiser, d.ref.Event, uuid.New(), version, a)
	return err
}

// A sled that is described anew changes no class that was planned, also not one that a process has in memory.
func TestAPlannedClassKeepsItsSled(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41")
	planned := d.event.Sleds[0]
	described := domain.Sled{ID: planned.ID, Name: "Painted sled", Gears: 2, StartHoles: 1, Card: domain.SledCard{Devices: []string{"tape"}}}
	require.NoError(t, d.change(desk.AnyVersion, domain.DescribeSled{Sled: described, Version: 1}))
	require.Equal(t, planned, d.must(domain.AddEntry{Entry: uuid.New(), Number: "7"}).Sled)
	described.Changes = 1
	page, err := d.desk.EventPage(d.ctx, d.ref.Event)
	require.NoError(t, err)
	require.Equal(t, []domain.Sled{described}, page.Event.Sleds)
	require.Equal(t, planned, page.Classes[0].Sled)
	require.Equal(t, domain.Stale, domain.KindOf(d.change(desk.AnyVersion, domain.DescribeSled{Sled: described, Version: 1})), "somebody else wrote it")
}

// A form that planned a class is answered the same when it is sent again after its sled and its session changed.
func TestAPlanSentAgainAfterTheSledChanged(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41")
	action := uuid.New()
	plan := domain.PlanClass{Class: uuid.New(), Session: d.event.Sessions[0].ID, Track: d.event.Tracks[0].ID, Name: "Farm stock", Rules: d.must(domain.AddEntry{Entry: uuid.New(), Number: "9"}).Rules, Sled: d.event.Sleds[0]}
	first, err := d.desk.PlanClass(d.ctx, organiser, d.ref.Event, action, plan)
	require.NoError(t, err)
	require.NoError(t, d.change(desk.AnyVersion, domain.DescribeSled{Sled: domain.Sled{ID: plan.Sled.ID, Name: "Grey sled", Gears: 6, StartHoles: 4}, Version: 1}))
	again, err := d.desk.PlanClass(d.ctx, organiser, d.ref.Event, action, plan)
	require.NoError(t, err)
	require.Equal(t, first.Number, again.Number)
	plan.Name = "Street stock"
	_, err = d.desk.PlanClass(d.ctx, organiser, d.ref.Event, action, plan)
	require.Equal(t, domain.Stale, domain.KindOf(err))
}

// What the programme becomes is read back in its order, and a class in a session keeps it from going.
func TestTheProgrammeIsReadBack(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41")
	sunday, upper := domain.Session{ID: uuid.New(), Name: "Sunday", Starts: start, Curfew: start.Add(4 * time.Hour), Breaks: []domain.Pause{{From: start.Add(time.Hour), Minutes: 20}, {From: start.Add(2 * time.Hour), Minutes: 5}}}, domain.Track{ID: uuid.New(), Name: "Upper"}
	require.NoError(t, d.change(desk.AnyVersion, domain.AddSession{Session: sunday.ID, Name: "Sun", Starts: start, Breaks: sunday.Breaks[1:]}))
	require.NoError(t, d.change(desk.AnyVersion, domain.ChangeSession{Session: sunday.ID, Name: sunday.Name, Starts: start, Curfew: sunday.Curfew, Breaks: sunday.Breaks}))
	require.NoError(t, d.change(desk.AnyVersion, domain.AddTrack{Track: upper.ID, Name: "Up"}))
	require.NoError(t, d.change(desk.AnyVersion, domain.RenameTrack{Track: upper.ID, Name: upper.Name}))
	fixed := d.must(domain.FixStart{Starts: start.Add(2 * time.Hour)})
	require.Equal(t, start.Add(2*time.Hour), fixed.Fixed)
	moved := d.must(domain.MoveClass{Session: sunday.ID, Track: upper.ID})
	require.Equal(t, []uuid.UUID{sunday.ID, upper.ID}, []uuid.UUID{moved.Session, moved.Track})
	require.Zero(t, moved.Fixed, "it is left behind with the session")
	d.must(domain.FixStart{Starts: start.Add(3 * time.Hour)})
	for _, a := range []domain.EventAction{domain.RemoveSession{Session: sunday.ID}, domain.RemoveTrack{Track: upper.ID}} {
		require.Equal(t, domain.WrongState, domain.KindOf(d.change(desk.AnyVersion, a)))
	}
	require.NoError(t, d.change(desk.AnyVersion, domain.RemoveSession{Session: d.event.Sessions[0].ID}))
	require.NoError(t, d.change(desk.AnyVersion, domain.RemoveTrack{Track: d.event.Tracks[0].ID}))
	page, err := d.desk.EventPage(d.ctx, d.ref.Event)
	require.NoError(t, err)
	require.Equal(t, []domain.Session{sunday}, page.Event.Sessions)
	require.Equal(t, []domain.Track{upper}, page.Event.Tracks)
	require.Equal(t, moved.Session, page.Classes[0].Session)
	require.Equal(t, start.Add(3*time.Hour), page.Classes[0].Fixed)
	_, err = d.desk.Act(d.ctx, organiser, d.ref, uuid.New(), domain.MoveClass{Session: d.event.Sessions[0].ID, Track: upper.ID})
	var refusal *domain.Error
	require.ErrorAs(t, err, &refusal)
	require.Equal(t, "session", refusal.Field, "the database knows what the event has")
}

// A version that was seen before the event itself changed is past; one from before a hook is not.
func TestAVersionOfTheEvent(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41", "7")
	page, err := d.desk.EventPage(d.ctx, d.ref.Event)
	require.NoError(t, err)
	seen := page.Journal[0].Number
	d.begin()
	require.NoError(t, d.change(seen, domain.AddTrack{Track: uuid.New(), Name: "Second"}))
	require.Equal(t, domain.Stale, domain.KindOf(d.change(seen, domain.AddTrack{Track: uuid.New(), Name: "Third"})))
}
