package main

import (
	"context"
	"crypto/rand"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/api"
	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui"
)

// quick is a pace at which a test need not wait.
func quick() api.Pace {
	return api.Pace{Streams: 100, PerAddress: 100, Beat: 100 * time.Millisecond, Write: time.Second, Retry: 10 * time.Millisecond}
}

const eventStream = "/api/v1/events/" + inventedSlug + "/stream"

// longClass is a class of many that is being pulled, so that there is much to tell.
func longClass(p *programs, entries int) *scene {
	p.t.Helper()
	s := floating(p.fair)
	for i := range entries {
		s.do(domain.AddEntry{Entry: uuid.New(), Number: strconv.Itoa(500 + i), Details: domain.Details{Puller: "Ines Tolliver"}})
	}
	return s
}

// act records what happens next in a class: a result, a choice, or a call.
func (s *scene) act() {
	s.t.Helper()
	c := s.class()
	switch on, pending := c.OnTrack(), c.Pending(); {
	case pending != nil:
		s.do(domain.Choose{Hook: pending.Hook.ID, Option: domain.Keep, Next: uuid.New()})
	case on != nil:
		s.pull("250.5")
	default:
		s.call()
	}
}

// A stream begins with what happens next, or after the number that the reader has; a class's tells of the class alone,
// and its number goes on with the others.
func TestAStreamTellsWhatHappens(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	s, other := hooking(p.fair), hooking(p.fair)
	whole, one := p.listen(eventStream), p.listen(s.api("/stream"))
	s.pull("250")
	head := p.get(s.api("")).at("version")
	require.Equal(t, []string{s.ref.Class, "result"}, []string{whole.read().class, one.read().kind})
	other.pull("260")
	require.Equal(t, other.ref.Class, whole.read().class)
	s.pull("270")
	require.Equal(t, s.ref.Class, whole.read().class)
	last := one.read()
	require.Equal(t, s.ref.Class, last.class)
	require.Equal(t, head, strconv.FormatInt(last.number-2, 10))
	other.pull("281")
	whole.read()

	again := p.listen(s.api("/stream"), "Last-Event-ID", head)
	require.Equal(t, last, again.read())
	after := p.listen(s.api("/stream") + "?after=" + head)
	require.Equal(t, last, after.read())
	both := p.listen(eventStream+"?after=1", "Last-Event-ID", head)
	require.Equal(t, last.number-1, both.read().number, "the header goes before: a browser that comes back keeps the address")
	journal := p.listen(eventStream + "?after=0")
	for _, line := range p.told(journal, last.number) {
		require.NotContains(t, []string{"pass", "enter"}, line.kind, "who was let in is not told")
	}
	for wrong, path := range map[string]string{"after": eventStream + "?after=soon"} {
		_, status := p.tryListen(path)
		require.Equal(t, http.StatusUnprocessableEntity, status, wrong)
	}
	_, status := p.tryListen(eventStream, "Last-Event-ID", "-1")
	require.Equal(t, http.StatusUnprocessableEntity, status)
	for _, path := range []string{"/api/v1/events/none/stream", "/api/v1/events/" + inventedSlug + "/classes/none/stream"} {
		_, status := p.tryListen(path)
		require.Equal(t, http.StatusNotFound, status, path)
	}
}

// A reader of a class who is away while others hook comes back after them, and goes through nothing again.
func TestTheNumberOfAClassGoesOnWithTheOthers(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	p.open(quick())
	s, other := hooking(p.fair), longClass(p, 2)
	one := p.listen(s.api("/stream"))
	for range 3 {
		other.act()
	}
	s.act()
	last := one.read()
	other.act()
	head := p.get("/api/v1/events/" + inventedSlug).at("version")
	text, seen := make([]byte, 1<<10), ""
	for !strings.Contains(seen, "id: "+head+"\n") {
		n, err := one.response.Body.Read(text)
		require.NoError(t, err)
		seen += string(text[:n])
	}
	require.NotContains(t, seen, "event: change", "the number alone, and perhaps that windows moved")
	require.Equal(t, head, strconv.FormatInt(last.number+1, 10))
}

// A stream is cut forty times while two hundred actions are recorded, and the reader comes back each time with the
// last number that it has: nothing is missed, and nothing comes twice.
func TestAStreamCutFortyTimesMissesNothing(t *testing.T) {
	t.Parallel()
	const cuts, actions = 40, 200
	p := newPrograms(t)
	p.open(quick())
	s := longClass(p, actions)
	first := p.get("/api/v1/events/" + inventedSlug).at("version")
	begin, err := strconv.ParseInt(first, 10, 64)
	require.NoError(t, err)
	var acting sync.WaitGroup
	acting.Go(func() {
		for range actions {
			s.act()
		}
	})
	var got []toldLine
	have, cut := first, 0
	for len(got) < actions {
		l := p.listen(eventStream, "Last-Event-ID", have)
		for i := 0; len(got) < actions && (cut == cuts || i < actions/cuts); i++ {
			got = append(got, l.read())
		}
		have = l.source.lastID
		l.cut()
		cut++
	}
	acting.Wait()
	require.GreaterOrEqual(t, cut, cuts)
	for i, line := range got {
		require.Equal(t, begin+int64(i)+1, line.number, "each number once, in order")
		require.Equal(t, s.ref.Class, line.class)
	}
}

// The same reader goes on when the server is another one, and when the server's own line to the database is cut: the
// lines that were stored meanwhile come then.
func TestAStreamSurvivesServerAndDatabaseLine(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	p.open(quick())
	s := longClass(p, 40)
	l := p.listen(eventStream)
	s.act()
	before := l.read()

	// Another program serves the same database; the first has gone.
	p.server.Close()
	_, err := l.tryRead()
	require.ErrorIs(t, err, io.EOF, "the stream ends as a stream does, not as a fault")
	s.act()
	p.desk = desk.New(p.store, clock, rand.Reader)
	p.open(quick())
	l = p.listen(eventStream, "Last-Event-ID", l.source.lastID)
	require.Equal(t, before.number+1, l.read().number)

	// Lines that another program stores come over the database alone; its listening line is cut in between, many times.
	elsewhere := &scene{fair: &fair{site: &site{t: t, ctx: p.ctx, store: p.store, desk: desk.New(p.store, clock, rand.Reader)}}, ref: s.ref}
	for i := range int64(20) {
		if i%4 == 0 {
			_, err := p.sql.Exec(p.ctx, "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE query LIKE 'LISTEN%' AND datname = current_database()")
			require.NoError(t, err)
		}
		elsewhere.act()
		require.Equal(t, before.number+2+i, l.read().number)
	}
}

// slowServer serves the interface as the program does, with deadlines that are over before a stream has told anything.
func (p *programs) slowServer(pace api.Pace) *httptest.Server {
	p.t.Helper()
	programs := api.New(p.desk, clock, slog.New(slog.DiscardHandler), pace)
	server := httptest.NewUnstartedServer(mount(webui.New(p.desk, clock, slog.New(slog.DiscardHandler)), programs))
	server.Config.WriteTimeout, server.Config.ReadTimeout = 200*time.Millisecond, 200*time.Millisecond
	server.Config.RegisterOnShutdown(programs.Close)
	server.Start()
	p.t.Cleanup(func() { programs.Close(); server.Close() })
	p.address = server.URL
	return server
}

// The deadlines of the server for reading a request and writing an answer are no end of a stream.
func TestTheDeadlinesOfTheServerCutNoStream(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	server := p.slowServer(quick())
	s := longClass(p, 5)
	l := p.listen(eventStream)
	began := clock()
	for clock().Sub(began) < 5*server.Config.WriteTimeout {
		s.act()
		l.read()
		_ = pause(p.ctx, server.Config.WriteTimeout/2)
		if s.class().Phase() == domain.Decided {
			break
		}
	}
	require.Greater(t, clock().Sub(began), 3*server.Config.WriteTimeout)
}

// A shutdown of the server ends all streams at once, and does not wait for them.
func TestAShutdownEndsStreamsAtOnce(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	server := p.slowServer(api.UsualPace())
	var open []*listener
	for range 20 {
		open = append(open, p.listen(eventStream))
	}
	soon, cancel := context.WithTimeout(p.ctx, time.Second)
	defer cancel()
	require.NoError(t, server.Config.Shutdown(soon))
	for _, l := range open {
		_, err := l.tryRead()
		require.ErrorIs(t, err, io.EOF)
	}
}

// Beats are comments, which make no event; the reader is told how soon to come back, and nothing is compressed.
func TestAStreamOnWhichNothingHappens(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	p.open(quick())
	r, err := http.NewRequestWithContext(p.ctx, http.MethodGet, p.address+eventStream, http.NoBody)
	require.NoError(t, err)
	r.Header.Set("Accept-Encoding", "gzip")
	response, err := http.DefaultTransport.RoundTrip(r)
	require.NoError(t, err)
	defer response.Body.Close()
	require.Equal(t, "text/event-stream", response.Header.Get("Content-Type"))
	require.Equal(t, "no-store", response.Header.Get("Cache-Control"))
	require.Empty(t, response.Header.Get("Content-Encoding"))
	head := p.get("/api/v1/events/" + inventedSlug).at("version")
	want := "retry: 10\nid: " + head + "\n\n" + strings.Repeat(": still here\n\n", 2)
	text := make([]byte, len(want))
	_, err = io.ReadFull(response.Body, text)
	require.NoError(t, err)
	require.Equal(t, want, string(text))
}

// narrow is a listener whose connections take little before a write has to wait for the reader.
type narrow struct{ net.Listener }

func (n narrow) Accept() (net.Conn, error) {
	conn, err := n.Listener.Accept()
	if tcp, ok := conn.(*net.TCPConn); ok {
		_ = tcp.SetWriteBuffer(4096)
	}
	return conn, err
}

// A reader that reads nothing delays nobody: the others are told at once, and it is given up when a write takes too
// long. Its place is free then.
func TestAReaderThatReadsNothingDelaysNobody(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	pace := quick()
	pace.Streams, pace.Beat, pace.Write = 2, time.Millisecond, 3*time.Second
	programs := api.New(p.desk, clock, slog.New(slog.DiscardHandler), pace)
	server := httptest.NewUnstartedServer(programs.Handler())
	server.Listener = narrow{server.Listener}
	server.Start()
	t.Cleanup(func() { programs.Close(); server.Close() })
	p.address = server.URL
	s := longClass(p, 20)
	stuck, err := net.Dial("tcp", strings.TrimPrefix(p.address, "http://"))
	require.NoError(t, err)
	defer stuck.Close()
	require.NoError(t, stuck.(*net.TCPConn).SetReadBuffer(4096))
	_, err = io.WriteString(stuck, "GET "+eventStream+"?after=0 HTTP/1.1\r\nHost: x\r\n\r\n")
	require.NoError(t, err)
	l := p.listen(eventStream)
	_, status := p.tryListen(eventStream)
	require.Equal(t, http.StatusServiceUnavailable, status, "both places are taken")
	// The other reads all the time, as a browser does.
	told := make(chan toldLine)
	go func() {
		defer close(told)
		for line, err := l.tryRead(); err == nil; line, err = l.tryRead() {
			told <- line
		}
	}()
	for range 10 {
		began := clock()
		s.act()
		require.Equal(t, s.ref.Class, (<-told).class)
		require.Less(t, clock().Sub(began), pace.Write)
	}
	require.Eventually(t, func() bool {
		l, status := p.tryListen(eventStream)
		if l != nil {
			l.cut()
		}
		return status == http.StatusOK
	}, 2*deadline, poll, "the stuck reader was given up")
}

// As many streams are open as may be; one more is told when to come again, until one has gone.
func TestTooManyStreamsAreRefused(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	pace := quick()
	pace.Streams = 3
	p.open(pace)
	var open []*listener
	for range pace.Streams {
		open = append(open, p.listen(eventStream))
	}
	l, status := p.tryListen(eventStream)
	require.Equal(t, http.StatusServiceUnavailable, status)
	require.Equal(t, "10", l.response.Header.Get("Retry-After"))
	require.Equal(t, http.StatusOK, p.get("/api/v1/events").status, "reading goes on")
	open[0].cut()
	require.Eventually(t, func() bool {
		l, status := p.tryListen(eventStream)
		if l != nil {
			l.cut()
		}
		return status == http.StatusOK
	}, deadline, poll)
}
