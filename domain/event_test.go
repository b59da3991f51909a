package domain_test

import (
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// event is a small event that holds.
func event() domain.Event {
	return domain.Event{
		ID: uuid.UUID{1}, Slug: "tarn-hollow", Name: "Tarn Hollow", Zone: "America/Chicago",
		Tracks:   []domain.Track{{ID: uuid.UUID{2}, Name: "Track 1"}},
		Sleds:    []domain.Sled{{ID: uuid.UUID{3}, Name: "Grey sled", Gears: 5, StartHoles: 4}},
		Sessions: []domain.Session{{ID: uuid.UUID{4}, Name: "Saturday", Starts: time.Date(2026, 9, 19, 18, 0, 0, 0, time.UTC)}},
	}
}

func TestAnEventNeedsItsPlan(t *testing.T) {
	t.Parallel()
	require.NoError(t, event().Check())
	for _, row := range []struct {
		what   string
		change func(*domain.Event)
		field  string
	}{
		{"no name", func(e *domain.Event) { e.Name = " " }, "name"},
		{"no address", func(e *domain.Event) { e.Slug = "" }, "name"},
		{"no track", func(e *domain.Event) { e.Tracks = nil }, "tracks"},
		{"no sled", func(e *domain.Event) { e.Sleds = nil }, "sleds"},
		{"no session", func(e *domain.Event) { e.Sessions = nil }, "sessions"},
		{"no zone", func(e *domain.Event) { e.Zone = "" }, "zone"},
		{"no such zone", func(e *domain.Event) { e.Zone = "Tarn/Hollow" }, "zone"},
		{"a sled without gears", func(e *domain.Event) { e.Sleds[0].Gears = 0 }, "sleds"},
		{"a sled with 21 start holes", func(e *domain.Event) { e.Sleds[0].StartHoles = 21 }, "sleds"},
	} {
		t.Run(row.what, func(t *testing.T) {
			t.Parallel()
			e := event()
			row.change(&e)
			var refusal *domain.Error
			require.ErrorAs(t, e.Check(), &refusal)
			assert.Equal(t, row.field, refusal.Field)
			assert.NotEmpty(t, refusal.Fix)
		})
	}
}

func TestAnEventHasATimeZone(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "America/Chicago", event().Location().String())
	assert.Equal(t, time.UTC, domain.Event{Zone: "Tarn/Hollow"}.Location())
}

func TestAClassIsPlannedOnWhatTheEventHas(t *testing.T) {
	t.Parallel()
	e := event()
	asked := domain.PlanClass{Session: uuid.UUID{4}, Track: uuid.UUID{2}, Sled: domain.Sled{ID: uuid.UUID{3}}}
	complete, err := e.Complete(asked)
	require.NoError(t, err)
	assert.Equal(t, e.ID, complete.Event)
	assert.Equal(t, e.Sleds[0], complete.Sled, "with its gears and start holes")
	for field, change := range map[string]func(*domain.PlanClass){
		"session": func(p *domain.PlanClass) { p.Session = uuid.Nil },
		"track":   func(p *domain.PlanClass) { p.Track = uuid.Nil },
		"sled":    func(p *domain.PlanClass) { p.Sled = domain.Sled{ID: uuid.UUID{9}} },
	} {
		wrong := asked
		change(&wrong)
		_, err := e.Complete(wrong)
		var refusal *domain.Error
		require.ErrorAs(t, err, &refusal)
		assert.Equal(t, field, refusal.Field)
	}
}

// A session is over at its curfew, and half a day after its start where it has none. Common practice, no published source.
func TestASessionIsOver(t *testing.T) {
	t.Parallel()
	starts := time.Date(2026, 9, 19, 18, 0, 0, 0, time.UTC)
	for after, over := range map[time.Duration][2]bool{
		-time.Hour: {false, false}, 0: {false, false}, 5*time.Hour - 1: {false, false}, 5 * time.Hour: {true, false},
		12*time.Hour - 1: {true, false}, 12 * time.Hour: {true, true}, 240 * time.Hour: {true, true},
	} {
		assert.Equal(t, over[0], domain.Session{Starts: starts, Curfew: starts.Add(5 * time.Hour)}.Over(starts.Add(after)), "with a curfew, %s after the start", after)
		assert.Equal(t, over[1], domain.Session{Starts: starts}.Over(starts.Add(after)), "without one, %s after the start", after)
	}
}

// A curfew before the start and one of another day are two mistakes, and each is told what to change.
func TestACurfewThatCannotBeIsSaid(t *testing.T) {
	t.Parallel()
	starts := time.Date(2026, 9, 19, 23, 0, 0, 0, time.UTC)
	for after, says := range map[time.Duration]string{
		-time.Hour:     "the curfew is not after the start of Evening; give a later time, or none",
		0:              "the curfew is not after the start of Evening; give a later time, or none",
		24 * time.Hour: "the curfew is a day or more after the start of Evening; give one within a day after it, or none",
	} {
		change := domain.ChangeSession{Session: uuid.UUID{4}, Name: "Evening", Starts: starts, Curfew: starts.Add(after)}
		_, err := domain.DecideEvent(event(), change, domain.InUse{}, starts)
		var no *domain.Error
		require.ErrorAs(t, err, &no)
		assert.Equal(t, []string{"curfew", says}, []string{no.Field, no.Message + "; " + no.Fix}, after)
	}
}

// A break that no crew could keep is refused with what to change; two sessions that differ in a break are two.
func TestBreaksThatCannotBeAreSaid(t *testing.T) {
	t.Parallel()
	starts := time.Date(2026, 9, 19, 23, 0, 0, 0, time.UTC)
	at := func(after time.Duration, minutes int) domain.Pause {
		return domain.Pause{From: starts.Add(after), Minutes: minutes}
	}
	many := make([]domain.Pause, 21)
	for i := range many {
		many[i] = at(time.Duration(i)*time.Minute, 1)
	}
	const order = "begins before the session, or before the one ahead of it is over; give the breaks in their order, after the start"
	for _, c := range []struct {
		what   string
		breaks []domain.Pause
		says   string
	}{
		{"two, one after the other", []domain.Pause{at(time.Hour, 20), at(80*time.Minute, 600)}, ""},
		{"one at the start", []domain.Pause{at(0, 1)}, ""},
		{"no minutes", []domain.Pause{at(time.Hour, 0)}, "a break of 0 minutes is none; give 1 to 600 minutes"},
		{"more than ten hours", []domain.Pause{at(time.Hour, 601)}, "a break of 601 minutes is none; give 1 to 600 minutes"},
		{"before the start", []domain.Pause{at(-time.Minute, 20)}, "a break of Evening " + order},
		{"one in another", []domain.Pause{at(time.Hour, 20), at(70*time.Minute, 20)}, "a break of Evening " + order},
		{"on another day", []domain.Pause{at(24*time.Hour, 20)}, "a break of Evening is a day or more after its start; give a time within a day after it"},
		{"too many", many, "Evening has more than 20 breaks; leave some out"},
	} {
		change := domain.ChangeSession{Session: uuid.UUID{4}, Name: "Evening", Starts: starts, Curfew: starts.Add(5 * time.Hour), Breaks: c.breaks}
		before := event()
		after, err := domain.DecideEvent(before, change, domain.InUse{}, starts)
		if c.says == "" {
			require.NoError(t, err, c.what)
			assert.Equal(t, c.breaks, after.Sessions[0].Breaks)
			assert.False(t, after.Sessions[0].Equal(before.Sessions[0]))
			assert.True(t, after.Sessions[0].Equal(after.Sessions[0]))
			continue
		}
		var no *domain.Error
		require.ErrorAs(t, err, &no, c.what)
		assert.Equal(t, []string{"breaks", c.says}, []string{no.Field, no.Message + "; " + no.Fix}, c.what)
	}
}
