package api

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"sync"
	"time"

	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
)

// Pace bounds and times the streams.
type Pace struct {
	// Streams is how many may be open at once; each holds a connection and two goroutines, that of a booth three.
	Streams int
	// PerAddress is how many of them one address may hold, so that nobody takes all places. All phones on a fairground
	// may share one address, so that it is a share of the whole and no small number. Whoever comes from this machine
	// itself is bound by the whole alone: a proxy brings everybody's streams from there.
	PerAddress int
	// Beat is how often a stream on which nothing happens says that it is there.
	Beat time.Duration
	// Write is how long a write may take before the reader is taken to be gone.
	Write time.Duration
	// Retry is how long a reader that was cut off waits before it comes back.
	Retry time.Duration
}

// UsualPace is the pace for an event: a crowd that sits in the grandstand, and at home.
func UsualPace() Pace {
	return Pace{Streams: 8000, PerAddress: 2000, Beat: 15 * time.Second, Write: 10 * time.Second, Retry: 2 * time.Second}
}

// retryAfter is how many seconds a program waits that found too many streams open. Room comes as people leave.
const retryAfter = 10

// faultPause is how long a stream waits after the journal could not be read, so that readers do not press a database
// that is just coming back.
const faultPause = time.Second

// change is what a stream tells of a journal line: that there is one, and which class it is about, not what it says. A
// reader that wants to know reads the document again, of which all readers get the same bytes; who acted and what was
// typed stays inside.
//
//	{"number":58,"class":"field-stock","kind":"call","at":"2026-09-19T18:04:11.5Z"}
type change struct {
	Number int64     `json:"number"`
	Class  string    `json:"class,omitempty"`
	Kind   string    `json:"kind"`
	At     time.Time `json:"at"`
}

// eventStream follows an event. A browser reads it with an EventSource, a program line by line:
//
//	id: 57
//	event: change
//	data: {"number":57,"class":"field-stock","kind":"result","at":"2026-09-19T18:04:11.5Z"}
func (s *Server) eventStream(c echo.Context) error { return s.follow(c, "") }

// classStream follows one class. Lines about others are not told, and yet the number goes on, so that a reader who
// comes back does not go through them again. Where one of them has moved when the class is likely pulled, that is told; see
// [horizon].
func (s *Server) classStream(c echo.Context) error {
	if _, err := s.shelvedClass(c); err != nil {
		return err
	}
	return s.follow(c, c.Param("class"))
}

// follow tells what happens after the number that the reader has, until the reader or the server goes. Refused, before
// the stream begins, are one stream too many, a number that is none, and an event that is not here. Once begun nothing
// can be refused: the status has left.
func (s *Server) follow(c echo.Context, class string) error {
	if s.ending() {
		return busy()
	}
	leave, err := s.seats.take(networkOf(c.Request().RemoteAddr), s.pace)
	if err != nil {
		return err
	}
	defer leave()
	after, err := s.after(c)
	if err != nil {
		return err
	}
	ctx, cancel := context.WithCancel(c.Request().Context())
	defer cancel()
	booth := class != "" && s.mayHear(c)
	go func() {
		select {
		case <-s.closed:
			cancel()
		case <-ctx.Done():
		}
	}()
	w, err := s.begin(c, after)
	if err != nil {
		return nil // the reader has gone
	}
	var hearing sync.WaitGroup
	if booth {
		hearing.Go(func() { s.tellSigns(ctx, w, c) })
	}
	s.tell(ctx, w, c.Param("event"), class, after)
	cancel()
	hearing.Wait() // nothing may be written once the request is over
	return nil
}

// ending reports whether the program is about to stop.
func (s *Server) ending() bool {
	select {
	case <-s.closed:
		return true
	default:
		return false
	}
}

// after reads the number of the last line that the reader has: from the header Last-Event-ID, which a browser sends
// when it comes back by itself (WHATWG HTML, section 9.2), or from the query, for the first time. The header counts
// first: it is the newer one, as the address stays what it was. Who has none begins at the last line there is.
//
// A number beyond the journal is let in too: the first that the reader is told is that the journal was restored.
//
// Who has a number is let in even while the database is away, since after an answer other than 200 a browser gives up
// and does not come back by itself.
func (s *Server) after(c echo.Context) (int64, error) {
	head, err := s.desk.Live().Head(c.Request().Context(), c.Param("event"))
	if domain.KindOf(err) != 0 {
		return 0, err
	}
	for _, given := range []struct{ field, text string }{
		{"Last-Event-ID", c.Request().Header.Get("Last-Event-ID")}, {"after", c.QueryParam("after")},
	} {
		if given.text == "" {
			continue
		}
		number, err := strconv.ParseUint(given.text, 10, 63)
		if err != nil {
			return 0, invalid(given.field, "that is not the number of a line", "send the id of the last event that you have, or nothing")
		}
		return int64(number), nil
	}
	return head, err
}

// writer writes to one reader, with a deadline of its own for each write. One deadline for the whole answer, as other
// answers have it, would end a stream in the middle of an evening; none at all would let a phone that went out of reach
// hold its place for good. It goes past the framework's own response, which would drop the errors of a flush.
//
// Two may write: who tells what happened, and at a booth who tells what is being typed.
type writer struct {
	mu      sync.Mutex
	to      http.ResponseWriter
	control *http.ResponseController
	now     func() time.Time
	most    time.Duration
}

// begin sends the head of the answer, the pace of coming back, and the number at which the stream begins. The number is
// sent at once, so that a reader that is cut off before anything happened comes back with it and misses nothing. An
// error means that the reader has gone.
func (s *Server) begin(c echo.Context, after int64) (*writer, error) {
	h := c.Response().Header()
	h.Set("Content-Type", "text/event-stream")
	h.Set("Cache-Control", "no-store")
	// Some proxies keep an answer back until it is long enough, unless they are told.
	h.Set("X-Accel-Buffering", "no")
	to := c.Response().Writer
	w := &writer{to: to, control: http.NewResponseController(to), now: s.now, most: s.pace.Write}
	c.Response().WriteHeader(http.StatusOK)
	return w, w.write(fmt.Appendf(nil, "retry: %d\nid: %d\n\n", s.pace.Retry.Milliseconds(), after))
}

// write writes a block and sends it off. A connection that knows no deadlines, as in a test, is written to without.
func (w *writer) write(block []byte) error {
	w.mu.Lock()
	defer w.mu.Unlock()
	if err := w.control.SetWriteDeadline(w.now().Add(w.most)); err != nil && !errors.Is(err, http.ErrNotSupported) {
		return err
	}
	if _, err := w.to.Write(block); err != nil {
		return err
	}
	return w.control.Flush()
}

// tell tells line after line. Between them it says from time to time that it is there, in a line that begins with a
// colon, which readers pass over (WHATWG HTML, section 9.2.6): proxies cut connections on which nothing moves, and
// writing is how a reader that has gone is found. While the journal cannot be read it goes on saying so: the lines come
// when it can.
func (s *Server) tell(ctx context.Context, w *writer, event, class string, after int64) {
	h := horizon{desk: s.desk, event: event, class: class}
	h.begin(ctx, after)
	for ctx.Err() == nil {
		news, err := s.next(ctx, event, after)
		if domain.KindOf(err) == domain.NotFound {
			return
		}
		block := []byte(": still here\n\n")
		if len(news) > 0 {
			after = news[len(news)-1].Number
			if block = h.moved(ctx, news); block == nil {
				block = blocks(news, class)
			}
		}
		if ctx.Err() != nil || w.write(block) != nil {
			return
		}
		if slices.ContainsFunc(news, func(n desk.News) bool { return tells(n, class) }) {
			h.begin(ctx, after) // who is told of the class reads it again, with its windows
		}
		if err == nil {
			continue
		}
		select {
		case <-ctx.Done():
		case <-time.After(faultPause):
		}
	}
}

// next waits for lines after a number, and not longer than a beat. Both may be nothing: the beat is over then.
func (s *Server) next(ctx context.Context, event string, after int64) ([]desk.News, error) {
	news, err := s.desk.Live().Next(ctx, event, after, s.pace.Beat)
	if err != nil && domain.KindOf(err) == 0 && ctx.Err() == nil {
		s.log.WarnContext(ctx, "the journal cannot be followed", "event", event, "error", err)
	}
	return news, err
}

// tells reports whether a line is told to a reader of a class, or of the whole event for "". What is for the staff is
// told to nobody; that the journal was restored concerns everybody.
func tells(n desk.News, class string) bool {
	return !n.Staff && (class == "" || n.Class == class || n.Kind == desk.Restored)
}

// blocks writes lines as they go over the wire, those about the class alone, or all of them for "". There must be one
// line at least. Where the last of them is not told, its number alone is, in a block without data, which moves the
// reader's number and makes no event (WHATWG HTML, section 9.2.6). With 57 about the class, and 58 and 59 about
// another:
//
//	id: 57
//	event: change
//	data: {"number":57,…}
//
//	id: 59
func blocks(news []desk.News, class string) []byte {
	var b bytes.Buffer
	last := int64(0)
	for _, n := range news {
		if !tells(n, class) {
			continue
		}
		data, err := encode(change{Number: n.Number, Class: n.Class, Kind: n.Kind, At: n.At})
		if err != nil {
			continue // cannot happen: every field can be written
		}
		// The document ends with a line feed, so that the block ends with the blank line it needs.
		fmt.Fprintf(&b, "id: %d\nevent: change\ndata: %s\n", n.Number, data)
		last = n.Number
	}
	if end := news[len(news)-1].Number; end != last {
		fmt.Fprintf(&b, "id: %d\n\n", end)
	}
	return b.Bytes()
}
