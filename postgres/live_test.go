package postgres_test

import (
	"context"
	"testing"

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
		news, err := live.Next(d.ctx, d.ref.Event, head)
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
	news, err := live.Next(ctx, d.ref.Event, head)
	require.NoError(t, err)
	require.Equal(t, news, <-got, "both have the line")
	require.Equal(t, head+1, news[0].Number)
	require.Equal(t, "scratch", news[0].Kind)
}

// waitingEntry is an entry that is still to hook.
func (d *day) waitingEntry() (id [16]byte) {
	d.t.Helper()
	page, err := d.desk.ClassPage(d.ctx, d.ref)
	require.NoError(d.t, err)
	return page.Class.Current().Waiting()[0]
}
