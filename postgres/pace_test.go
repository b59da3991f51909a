package postgres_test

import (
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	runs "clayline/domain/day"
)

// What an earlier event took from call to call is what a later one begins from; a reset between two hooks makes no pair,
// and neither does what an event itself has pulled.
func TestAnEarlierEventSaysHowLongAHookTakes(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41", "7", "23", "12", "5", "6", "8", "9", "10", "11", "13")
	c := d.begin()
	for range 2 {
		c = d.record(c, "FP")
	}
	d.must(domain.ResetSetting{Round: c.Current().ID, Reason: "the gear jumped out"})
	d.clock.Add(40)
	c = d.pullAgainst(c, setting(t))
	for range 11 {
		d.clock.Add(3)
		c = d.record(c, "FP")
	}
	later := d.event
	later.ID, later.Name = uuid.New(), "Autumn Pull"
	later.Tracks = []domain.Track{{ID: uuid.New(), Name: "Track 1"}}
	later.Sleds = []domain.Sled{{ID: uuid.New(), Name: "Grey sled", Gears: 5, StartHoles: 4}}
	later.Sessions = []domain.Session{
		{ID: uuid.New(), Name: "Sunday", Starts: start.Add(72 * time.Hour)}, {ID: uuid.New(), Name: "Saturday", Starts: start.Add(48 * time.Hour)},
	}
	_, err := d.desk.PlanEvent(d.ctx, organiser, uuid.New(), later)
	require.NoError(t, err)
	plan := func(name string) {
		t.Helper()
		_, err = d.desk.PlanClass(d.ctx, organiser, "autumn-pull", uuid.New(), domain.PlanClass{
			Class: uuid.New(), Session: later.Sessions[0].ID, Track: later.Tracks[0].ID, Name: name, Rules: c.Rules, Sled: later.Sleds[0],
		})
		require.NoError(t, err)
	}
	plan(c.Name)
	plan("Modified")
	page, err := d.desk.DayPage(d.ctx, "autumn-pull")
	require.NoError(t, err)
	same, other := page.Day.Tracks[0].Classes[0], page.Day.Tracks[0].Classes[1]
	require.Equal(t, []any{4 * time.Minute, runs.ByClass}, []any{same.Cycle, same.Known}, "eleven times of four minutes, and two of one before the reset")
	require.Equal(t, runs.ByPractice, other.Known, "too few to be believed of another class")

	page, err = d.desk.DayPage(d.ctx, d.ref.Event)
	require.NoError(t, err)
	require.Equal(t, runs.ByPractice, page.Day.Tracks[0].Classes[0].Known, "of its own hooks an event learns in another way")
	_, err = d.desk.DayPage(d.ctx, "no-such-event")
	require.Equal(t, domain.NotFound, domain.KindOf(err))
}
