package main

import (
	"context"
	"io"
	"net/http"
	"strconv"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/tmaxmax/go-sse"
)

// line is the way of a reader of streams to the server; it can be cut, and remembers with which number the reader came back.
type line struct {
	mu   sync.Mutex
	body io.Closer
	came []string // Last-Event-ID of each request
}

// RoundTrip passes the request on.
func (l *line) RoundTrip(r *http.Request) (*http.Response, error) {
	answer, err := http.DefaultTransport.RoundTrip(r)
	l.mu.Lock()
	defer l.mu.Unlock()
	l.came = append(l.came, r.Header.Get("Last-Event-ID"))
	if err == nil {
		l.body = answer.Body
	}
	return answer, err
}

// cut ends the stream that is being read.
func (l *line) cut() {
	l.mu.Lock()
	defer l.mu.Unlock()
	_ = l.body.Close() // it is gone, as it should be
}

// A reader that others wrote after the standard, and that comes back by itself, misses nothing where its line is cut and
// hears nothing twice: it comes back with the number of what it heard last, as soon as the stream had asked it to.
func TestAReaderOfOthersFollowsTheStream(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	s := hooking(p.fair)
	uncut := p.listen(s.api("/stream"))
	ctx, done := context.WithCancel(s.ctx)
	defer done()
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, s.address+s.api("/stream"), http.NoBody)
	require.NoError(t, err)
	way, paces := &line{}, make(chan time.Duration, 10)
	client := sse.Client{
		HTTPClient: &http.Client{Transport: way}, OnRetry: func(_ error, after time.Duration) { paces <- after },
		Backoff: sse.Backoff{InitialInterval: time.Hour}, // until the stream says otherwise
	}
	events := make(chan sse.Event, 100)
	connection := client.NewConnection(request)
	// Unlike a browser it also tells of a block without data, with which the stream begins, as an event without a name.
	connection.SubscribeEvent("change", func(e sse.Event) { events <- e })
	ended := make(chan error, 1)
	go func() { ended <- connection.Connect() }()
	require.Eventually(t, func() bool { way.mu.Lock(); defer way.mu.Unlock(); return way.body != nil }, deadline, poll)

	var last string
	for range 3 {
		s.act()
		e := <-events
		require.Equal(t, strconv.FormatInt(uncut.read().number, 10), e.LastEventID, e.Data)
		last = e.LastEventID
		way.cut()
		require.Less(t, <-paces, time.Minute, "the stream says how soon")
	}
	require.Eventually(t, func() bool { way.mu.Lock(); defer way.mu.Unlock(); return len(way.came) == 4 }, deadline, poll)
	require.Equal(t, "", way.came[0])
	require.Equal(t, last, way.came[3])
	done()
	require.ErrorIs(t, <-ended, context.Canceled)
}
