package desk

import (
	"context"
	"testing"
	"testing/synctest"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"
)

// A rendering that hangs ends after a while, and not with the reader who happened to ask first.
func TestARenderingEndsByItself(t *testing.T) {
	t.Parallel()
	synctest.Test(t, func(t *testing.T) {
		gone, leave := context.WithCancel(t.Context())
		leave()
		began := time.Now()
		_, err := newShelf(nil).newPage(gone, 57, func(ctx context.Context) (Rendered, error) {
			require.NoError(t, ctx.Err(), "the others wait for it")
			<-ctx.Done()
			return Rendered{}, ctx.Err()
		})
		require.ErrorIs(t, err, context.DeadlineExceeded)
		require.Equal(t, renderLife, time.Since(began))
	})
}

// Who waits for somebody else's rendering may leave.
func TestWhoWaitsForARenderingMayLeave(t *testing.T) {
	t.Parallel()
	event := uuid.New()
	l := newLive(nil, nil)
	l.events["e"], l.topics[event] = event, &topic{head: 57, woken: make(chan struct{})}
	l.listening.Store(true)
	begun, end := make(chan struct{}), make(chan struct{})
	first := make(chan error)
	go func() {
		_, err := l.Page(t.Context(), "e", "/e", func(context.Context) (Rendered, error) {
			close(begun)
			<-end
			return Rendered{Body: []byte("a")}, nil
		})
		first <- err
	}()
	<-begun
	impatient, leave := context.WithCancel(t.Context())
	leave()
	_, err := l.Page(impatient, "e", "/e", func(context.Context) (Rendered, error) { panic("rendered twice at once") })
	require.ErrorIs(t, err, context.Canceled)
	close(end)
	require.NoError(t, <-first)
}

// What was not used between two sweeps is forgotten; what is read, or waited for, stays.
func TestASweepForgetsWhatNobodyUses(t *testing.T) {
	t.Parallel()
	event := uuid.New()
	l := newLive(nil, nil)
	l.events["e"], l.topics[event] = event, &topic{head: 57, woken: make(chan struct{})}
	l.listening.Store(true)
	rendered := 0
	read := func() {
		_, err := l.Page(t.Context(), "e", "/e", func(context.Context) (Rendered, error) { rendered++; return Rendered{}, nil })
		require.NoError(t, err)
	}
	read()
	l.Sweep()
	read()
	l.Sweep()
	require.Equal(t, 1, rendered, "it was read between the sweeps")
	require.Len(t, l.shelf.pages, 1)
	require.Contains(t, l.topics, event)

	l.topics[event].waiting.Add(1)
	l.Sweep()
	require.Empty(t, l.shelf.pages, "nobody read it")
	require.Contains(t, l.topics, event, "somebody waits for what comes next")
	read()
	require.Equal(t, 2, rendered)
	l.topics[event].waiting.Add(-1)
	l.Sweep()
	l.Sweep()
	require.Empty(t, l.topics)
}

// A page of many events is rendered once for what is known of all journals, and anew when any of them has grown.
func TestAPageOfTheServerIsRenderedOnce(t *testing.T) {
	t.Parallel()
	l := newLive(nil, nil)
	l.listening.Store(true)
	l.server.told, l.server.asked, l.server.lines = 3, 3, 57
	rendered := 0
	render := func(context.Context) (Rendered, error) {
		rendered++
		return Rendered{Body: []byte("a")}, nil
	}
	for range 3 {
		page, err := l.ServerPage(t.Context(), "/records", render)
		require.NoError(t, err)
		require.Equal(t, int64(57), page.Number)
	}
	require.Equal(t, 1, rendered)
	l.grew()
	require.Panics(t, func() { _, _ = l.ServerPage(t.Context(), "/records", render) }, "the store is asked how far")
	l.server.told, l.server.asked, l.server.lines = 4, 4, 58
	_, err := l.ServerPage(t.Context(), "/records", render)
	require.NoError(t, err)
	require.Equal(t, 2, rendered)
}
