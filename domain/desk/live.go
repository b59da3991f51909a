package desk

import (
	"context"
	"sync"
	"sync/atomic"
	"time"

	"github.com/google/uuid"
)

// News is what the public is told of a journal line: that it is there, and which class it is about. Who acted
// and what was typed is not in it; a reader who wants to know what changed reads the page again.
type News struct {
	Number int64
	Kind   string
	Class  string // slug of the class; "" when the line is about the event
	At     time.Time
	// Staff says that the line is about a pass, an inspection or a photo: who was let in is nobody else's business, and of
	// such a line the public is to be told the number alone.
	Staff bool
}

// Restored is the kind of news that is no line: the journal is shorter than the reader knew, because the database was
// restored from a backup. Its number is that of the last line there is, from which the reader is to go on.
const Restored = "restored"

// Listener tells when a journal has grown, whoever stored the line: this process, another one, or a person with
// a database client. It may tell too often, and need not tell of what happened before ready.
type Listener interface {
	// Listen calls ready once it listens, then wake with the scope of every journal that grows, until ctx ends or the
	// line to the database is lost, which is the error.
	Listen(ctx context.Context, ready func(), wake func(scope uuid.UUID)) error
}

// Live follows the journals of the events that somebody watches. It holds no queue for anybody: a watcher is
// woken and reads what came after the last number it has, so that a slow one delays nobody and misses nothing.
// The number is all that must arrive; the lines are read from the journal, once for all watchers.
//
// A phone that has line 410 and lost its connection while 411 to 413 were stored asks for what came after 410
// and gets the three at once; with 413 it waits until there is a 414.
//
// A topic's fill is held while its mu is taken; no other two locks are held at once, and none while a watcher
// is written to: waking is the closing of a channel. What is being typed at the booths has a lock of its own; see [Sign].
type Live struct {
	store Store
	// listening is whether growth would be told now. While it is not, what is known may be old, and the
	// database is asked.
	listening atomic.Bool
	// mu guards both maps, not what is in the topics.
	mu     sync.Mutex
	events map[string]uuid.UUID // by slug; an event keeps its slug
	topics map[uuid.UUID]*topic
	shelf  shelf
	server server
}

// newsKept is how many lines of an event are kept at hand; a watcher who lacks more reads them from the
// journal. A day of pulling is about as many.
const newsKept = 512

// topic is one event that is being watched. read and head differ while lines are known to be stored that nobody
// has asked for yet: a notice tells the number alone, and the first watcher who wants them reads them for all.
type topic struct {
	used    atomic.Bool  // since the last sweep
	waiting atomic.Int64 // watchers that wait now
	fill    sync.Mutex   // one reader of the journal at a time
	mu      sync.Mutex
	news    []News        // lines at hand, without a gap, up to the number `read`
	read    int64         // number of the last line read
	head    int64         // number of the last line known to be stored
	woken   chan struct{} // closed and made anew when head grows
	signs   signs         // what is being typed at its booths
}

// newLive returns a Live that watches nothing yet, and whose pages come in the codings.
// Until [Live.Follow] listens, readers ask the store each time.
func newLive(store Store, codings []Coding) *Live {
	return &Live{store: store, events: make(map[string]uuid.UUID), topics: make(map[uuid.UUID]*topic), shelf: newShelf(codings)}
}

// Live returns what follows the journals, one for the whole desk.
func (d *Desk) Live() *Live { return d.live }

// Follow follows the journals until ctx ends or the line to the database is lost, which is the error; the caller then
// follows again. While nobody follows, nothing is taken to be current and every reader asks the database.
func (l *Live) Follow(ctx context.Context, listener Listener) error {
	defer l.listening.Store(false)
	return listener.Listen(ctx, func() { l.listening.Store(true); l.grew(); l.wakeAll(ctx) }, func(scope uuid.UUID) { l.wake(ctx, scope) })
}

// wakeAll looks after every watched event, because lines may have come while nobody listened. It runs once
// listening has begun, so that no line falls between looking and listening.
func (l *Live) wakeAll(ctx context.Context) {
	l.mu.Lock()
	scopes := make([]uuid.UUID, 0, len(l.topics))
	for scope := range l.topics {
		scopes = append(scopes, scope)
	}
	l.mu.Unlock()
	for _, scope := range scopes {
		l.wake(ctx, scope)
	}
}

// wake reads how long the journal of a watched event is, and tells its watchers when it has grown. A failure is
// mended by the next notice, or by whoever asks once listening has ended. Events that nobody watches cost
// nothing.
func (l *Live) wake(ctx context.Context, scope uuid.UUID) {
	l.grew()
	if t := l.watched(scope); t != nil {
		if last, err := l.last(ctx, scope); err == nil {
			t.grow(last.Number)
		}
	}
}

// saw notes that this program itself stored a line. It only ever moves forward: a line that was told of already
// is no news.
func (l *Live) saw(event uuid.UUID, number int64) {
	l.grew()
	if t := l.watched(event); t != nil {
		t.grow(number)
	}
}

// watched returns the topic of an event, or nil when nobody has asked for it lately.
func (l *Live) watched(event uuid.UUID) *topic {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.topics[event]
}

// last asks the database for the last line of a journal, whose number is its length; the zero Line when it has none.
func (l *Live) last(ctx context.Context, scope uuid.UUID) (last Line, err error) {
	err = l.store.InTx(ctx, Snapshot, func(tx Tx) error {
		lines, err := tx.Journal(ctx, scope, uuid.Nil, 1)
		if len(lines) > 0 {
			last = lines[0]
		}
		return err
	})
	return last, err
}

// event returns the id of an event by its slug, from memory when it was asked for before. An event keeps its
// slug, so that what is remembered stays true; a slug that leads nowhere is not remembered, so that inventing
// some fills nothing.
func (l *Live) event(ctx context.Context, slug string) (id uuid.UUID, err error) {
	l.mu.Lock()
	id, known := l.events[slug]
	l.mu.Unlock()
	if known {
		return id, nil
	}
	err = l.store.InTx(ctx, Snapshot, func(tx Tx) error {
		e, _, err := tx.Event(ctx, slug)
		id = e.ID
		return err
	})
	if err == nil {
		l.mu.Lock()
		l.events[slug] = id
		l.mu.Unlock()
	}
	return id, err
}

// open returns the topic of an event, current as far as anybody knows. While nobody listens it asks the
// database. The topic is in the map before the journal's length is read: a line stored in between wakes it, and
// growing takes the larger number.
func (l *Live) open(ctx context.Context, event uuid.UUID) (*topic, error) {
	l.mu.Lock()
	t := l.topics[event]
	fresh := t == nil
	if fresh {
		t = &topic{woken: make(chan struct{})}
		l.topics[event] = t
	}
	t.used.Store(true)
	l.mu.Unlock()
	if !fresh && l.listening.Load() && t.known() > 0 {
		return t, nil
	}
	last, err := l.last(ctx, event)
	if err == nil {
		t.grow(last.Number)
	}
	return t, err
}

// Head returns the number of the last line of an event's journal, without a query once the event is being
// watched. It may be behind by the time that a notice takes, never by more.
func (l *Live) Head(ctx context.Context, slug string) (int64, error) {
	event, err := l.event(ctx, slug)
	if err != nil {
		return 0, err
	}
	t, err := l.open(ctx, event)
	if err != nil {
		return 0, err
	}
	return t.known(), nil
}

// Next returns the lines after a number, oldest first, and waits until there is one, but not longer than most: then it
// returns none. The end of ctx ends the wait with its error; the limit ends the wait alone and never a reading of the
// journal, which would cost the database a connection. It may return only the first of many, and the caller asks again from the last number it
// got. Who asks for what comes after a line that is not there is told so at once, by news of the kind [Restored].
func (l *Live) Next(ctx context.Context, slug string, after int64, most time.Duration) ([]News, error) {
	event, err := l.event(ctx, slug)
	if err != nil {
		return nil, err
	}
	t, err := l.open(ctx, event)
	if err != nil {
		return nil, err
	}
	t.waiting.Add(1)
	defer t.waiting.Add(-1)
	patience, cancel := context.WithTimeout(ctx, most)
	defer cancel()
	for {
		head, woken := t.state()
		if head > after {
			return l.after(ctx, event, t, after)
		}
		if head < after {
			if news, err := l.shorter(ctx, event, t, after); news != nil || err != nil {
				return news, err
			}
			continue
		}
		select {
		case <-patience.Done():
			return nil, ctx.Err() // none where the limit alone is over
		case <-woken:
		}
	}
}

// shorter looks whether the journal really ends before the number, and then tells so; nothing when it has grown as far.
// The database is asked, because a reader may have the line from another process, before its notice came here.
func (l *Live) shorter(ctx context.Context, event uuid.UUID, t *topic, after int64) ([]News, error) {
	last, err := l.last(ctx, event)
	if err != nil {
		return nil, err
	}
	t.grow(last.Number)
	if last.Number >= after {
		return nil, nil
	}
	return []News{{Number: last.Number, Kind: Restored, At: last.At}}, nil
}

// after returns the lines after a number from those at hand, reading the journal where they do not reach. When
// a line wakes a thousand watchers, one of them reads and the others, once let through, find what it read.
// Other processes of the same server do the same, each for its own readers.
func (l *Live) after(ctx context.Context, event uuid.UUID, t *topic, after int64) ([]News, error) {
	if news, ok := t.since(after); ok {
		return news, nil
	}
	t.fill.Lock()
	defer t.fill.Unlock()
	if news, ok := t.since(after); ok {
		return news, nil
	}
	news, err := l.readAfter(ctx, event, after)
	if err == nil {
		t.keep(news)
	}
	return news, err
}

// readAfter reads lines from the journal, at most as many as are kept.
func (l *Live) readAfter(ctx context.Context, event uuid.UUID, after int64) (news []News, err error) {
	err = l.store.InTx(ctx, Snapshot, func(tx Tx) error {
		news, err = tx.News(ctx, event, after, newsKept)
		return err
	})
	return news, err
}

// state returns the number of the last line and what is closed when there is another. Both are read under one
// lock: a line that came between them would wake nobody.
func (t *topic) state() (head int64, woken <-chan struct{}) {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.head, t.woken
}

// known returns the number of the last line that is known to be stored.
func (t *topic) known() int64 {
	head, _ := t.state()
	return head
}

// grow wakes the watchers when the journal is longer than they knew, all at once: the channel that they wait on
// is closed, and a new one is put in its place.
func (t *topic) grow(number int64) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.raise(number)
}

// raise notes a longer journal and wakes the watchers; the caller holds mu.
func (t *topic) raise(number int64) {
	if number > t.head {
		t.head = number
		close(t.woken)
		t.woken = make(chan struct{})
	}
}

// since returns the lines at hand after a number, when they reach from there to the head; false when the
// journal must be read. The slice is shared and must not be changed; keep never writes into what was given out.
func (t *topic) since(after int64) ([]News, bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	first := t.read - int64(len(t.news)) + 1
	if t.read < t.head || after+1 < first {
		return nil, false
	}
	return t.news[after+1-first:], true
}

// keep puts lines that were just read at hand, when they join those that are: at hand is always one run without
// a gap. Lines that lie further on replace what is there, older ones are not kept, and an overlap is cut.
func (t *topic) keep(news []News) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if len(news) == 0 || news[len(news)-1].Number <= t.read {
		return
	}
	if news[0].Number > t.read+1 || t.read == 0 {
		t.news = nil
	} else {
		news = news[t.read+1-news[0].Number:]
	}
	kept := append(t.news[:len(t.news):len(t.news)], news...)
	t.news, t.read = kept[max(0, len(kept)-newsKept):], kept[len(kept)-1].Number
	t.raise(t.read)
}

// Sweep forgets what was not used since the last sweep, events and pages alike. An event is used while somebody
// reads it or waits for it. Whoever comes to a forgotten one pays a query, as the first reader did.
func (l *Live) Sweep() {
	l.shelf.sweep()
	l.mu.Lock()
	defer l.mu.Unlock()
	for event, t := range l.topics {
		if !t.used.Swap(false) && t.waiting.Load() == 0 {
			delete(l.topics, event)
		}
	}
}
