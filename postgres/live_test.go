package postgres_test

import (
	"context"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// A reader who fetches a line before its notice comes must not let another, who waits for it, sleep.
func TestAWaitingReaderIsWokenByWhateverBringsTheLine(t *testing.T) {
	t.Parallel()
	d := newDay(t, "floating-ft", "41", "7")
	d.begin()
	live := d.desk.Live() // nobody listens: every reader asks the database
	head, err := live.Head(d.ctx, d.ref.Event)
	require.NoError(t, err)
	got := make(chan []desk.News, 1)
	waiting := make(chan struct{})
	go func() {
		close(waiting)
		news, err := live.Next(d.ctx, d.ref.Event, head, time.Minute)
		if err == nil {
			got <- news
		}
	}()
	<-waiting
	other := desk.New(d.store, d.now, nil) // another server process stores the line
	_, err = other.Act(d.ctx, organiser, d.ref, d.event.ID, domain.Scratch{Entry: d.waitingEntry(), Reason: "belt"})
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(d.ctx)
	defer cancel()
	news, err := live.Next(ctx, d.ref.Event, head, time.Minute)
	require.NoError(t, err)
	require.Equal(t, news, <-got, "both have the line")
	require.Equal(t, head+1, news[0].Number)
	require.Equal(t, "scratch", news[0].Kind)
}

// silent is a listener that hears nothing: its notices are on their way for ever.
type silent struct{}

func (silent) Listen(ctx context.Context, ready func(), _ func(uuid.UUID)) error {
	ready()
	<-ctx.Done()
	return ctx.Err()
}

// A reader may have a line from another process before its notice comes here. The journal is not taken to be shorter
// then; it is when the line is not stored.
func TestAReaderAheadOfTheNoticesIsNotBeyondTheJournal(t *testing.T) {
	t.Parallel()
	d := newDay(t, "floating-ft", "41", "7", "9")
	d.begin()
	live := d.desk.Live()
	ctx, cancel := context.WithCancel(d.ctx)
	defer cancel()
	go func() { _ = live.Follow(ctx, silent{}) }()
	head, err := live.Head(d.ctx, d.ref.Event)
	require.NoError(t, err)
	scratch := func(by *desk.Desk, action uuid.UUID) {
		_, err := by.Act(d.ctx, organiser, d.ref, action, domain.Scratch{Entry: d.waitingEntry(), Reason: "belt"})
		require.NoError(t, err)
	}
	scratch(desk.New(d.store, d.now, nil), uuid.New()) // another process, whose notice never comes
	got := make(chan []desk.News, 1)
	go func() {
		news, err := live.Next(ctx, d.ref.Event, head+1, time.Minute)
		if err == nil {
			got <- news
		}
	}()
	scratch(d.desk, uuid.New())
	require.Equal(t, head+2, (<-got)[0].Number, "it waits for what comes after its own line")
	news, err := live.Next(ctx, d.ref.Event, head+9, time.Minute)
	require.NoError(t, err)
	require.Equal(t, []desk.News{{Number: head + 2, Kind: desk.Restored, At: news[0].At}}, news)
	require.False(t, news[0].At.IsZero())
}

// waitingEntry is an entry that is still to hook.
func (d *day) waitingEntry() (id [16]byte) {
	d.t.Helper()
	page, err := d.desk.ClassPage(d.ctx, d.ref)
	require.NoError(d.t, err)
	return page.Class.Current().Waiting()[0]
}
