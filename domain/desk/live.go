package desk

import (
	"context"
	"sync"
	"sync/atomic"
	"time"

	"github.com/google/uuid"
)

// News is what the public is told of a journal line: that it is there, and which class it is about.
type News struct {
	Number int64
	Kind   string
	Class  string // slug of the class; "" when the line is about the event
	At     time.Time
}

// Listener tells when a journal has grown, whoever stored the line.
type Listener interface {
	// Listen calls ready once it listens, then wake with the scope of every journal that grows, until ctx ends or the
	// line to the database is lost, which is the error.
	Listen(ctx context.Context, ready func(), wake func(scope uuid.UUID)) error
}

// Live follows the journals of the events that somebody watches. It holds no queue for anybody: a watcher is woken and
// reads what came after the last number it has, so that a slow one delays nobody and misses nothing. The number is all
// that must arrive; the lines are read from the journal, once for all watchers.
type Live struct {
	store     Store
	listening atomic.Bool
	mu        sync.Mutex
	events    map[string]uuid.UUID // by slug; an event keeps its slug
	topics    map[uuid.UUID]*topic
	shelf     shelf
}

// newsKept is how many lines of an event are kept at hand; a watcher who lacks more reads them from the journal.
const newsKept = 512

// topic is one event that is being watched.
type topic struct {
	used    atomic.Bool  // since the last sweep
	waiting atomic.Int64 // watchers that wait now
	fill    sync.Mutex   // one reader of the journal at a time
	mu      sync.Mutex
	news    []News        // lines at hand, without a gap, up to the number `read`
	read    int64         // number of the last line read
	head    int64         // number of the last line known to be stored
	woken   chan struct{} // closed and made anew when head grows
}

func newLive(store Store) *Live {
	return &Live{store: store, events: make(map[string]uuid.UUID), topics: make(map[uuid.UUID]*topic), shelf: newShelf()}
}

// Live returns what follows the journals.
func (d *Desk) Live() *Live { return d.live }

// Pauses of following: after the line to the database was lost, and between two sweeps of what nobody uses.
const (
	listenPause = 200 * time.Millisecond
	sweepPause  = 10 * time.Minute
)

// Run follows the journals until ctx ends. While the line to the database is lost, nothing is taken to be current.
func (l *Live) Run(ctx context.Context, listener Listener) {
	go l.sweepUntil(ctx)
	for ctx.Err() == nil {
		_ = listener.Listen(ctx, func() { l.listening.Store(true); l.wakeAll(ctx) }, func(scope uuid.UUID) { l.wake(ctx, scope) })
		l.listening.Store(false)
		select {
		case <-ctx.Done():
		case <-time.After(listenPause):
		}
	}
}

// wakeAll looks after every watched event, because lines may have come while nobody listened.
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

// wake reads how long the journal of a watched event is. A failure is mended by the next notice.
func (l *Live) wake(ctx context.Context, scope uuid.UUID) {
	if t := l.watched(scope); t != nil {
		if number, err := l.stored(ctx, scope); err == nil {
			t.grow(number)
		}
	}
}

// saw notes that this program itself stored a line.
func (l *Live) saw(event uuid.UUID, number int64) {
	if t := l.watched(event); t != nil {
		t.grow(number)
	}
}

// watched returns the topic of an event, or nil when nobody has asked for it.
func (l *Live) watched(event uuid.UUID) *topic {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.topics[event]
}

// stored asks the database how long a journal is.
func (l *Live) stored(ctx context.Context, scope uuid.UUID) (number int64, err error) {
	err = l.store.InTx(ctx, Snapshot, func(tx Tx) error {
		lines, err := tx.Journal(ctx, scope, uuid.Nil, 1)
		if len(lines) > 0 {
			number = lines[0].Number
		}
		return err
	})
	return number, err
}

// event returns the id of an event by its slug, from memory when it was asked for before.
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

// open returns the topic of an event, current as far as anybody knows. While nobody listens it asks the database.
func (l *Live) open(ctx context.Context, event uuid.UUID) (*topic, error) {
	l.mu.Lock()
	t := l.topics[event]
	fresh := t == nil
	if fresh {
		t = &topic{woken: make(chan struct{})}
		l.topics[event] = t
	}
	l.mu.Unlock()
	t.used.Store(true)
	if !fresh && l.listening.Load() && t.known() > 0 {
		return t, nil
	}
	number, err := l.stored(ctx, event)
	if err == nil {
		t.grow(number)
	}
	return t, err
}

// Head returns the number of the last line of an event's journal, without a query once the event is being watched.
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

// Next returns the lines after a number, oldest first, and waits until there is one.
func (l *Live) Next(ctx context.Context, slug string, after int64) ([]News, error) {
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
	for {
		head, woken := t.state()
		if head > after {
			return l.after(ctx, event, t, after)
		}
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-woken:
		}
	}
}

// after returns the lines after a number from those at hand, reading the journal where they do not reach.
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

// readAfter reads lines from the journal.
func (l *Live) readAfter(ctx context.Context, event uuid.UUID, after int64) (news []News, err error) {
	err = l.store.InTx(ctx, Snapshot, func(tx Tx) error {
		news, err = tx.News(ctx, event, after, newsKept)
		return err
	})
	return news, err
}

// state returns the number of the last line and what is closed when there is another.
func (t *topic) state() (head int64, woken <-chan struct{}) {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.head, t.woken
}

func (t *topic) known() int64 {
	head, _ := t.state()
	return head
}

// grow wakes the watchers when the journal is longer than they knew.
func (t *topic) grow(number int64) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if number > t.head {
		t.head = number
		close(t.woken)
		t.woken = make(chan struct{})
	}
}

// since returns the lines at hand after a number, when they reach from there to the head.
func (t *topic) since(after int64) ([]News, bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	first := t.read - int64(len(t.news)) + 1
	if t.read < t.head || after+1 < first {
		return nil, false
	}
	return t.news[after+1-first:], true
}

// keep puts lines that were just read at hand, when they join those that are.
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
	if t.read > t.head {
		t.head = t.read
	}
}

// sweepUntil forgets, every while, the events and pages that nobody used since the last time.
func (l *Live) sweepUntil(ctx context.Context) {
	ticker := time.NewTicker(sweepPause)
	defer ticker.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-ticker.C:
			l.sweep()
		}
	}
}

// sweep forgets what was not used since the last sweep. An event is used while somebody reads it or waits for it.
func (l *Live) sweep() {
	l.shelf.sweep()
	l.mu.Lock()
	defer l.mu.Unlock()
	for event, t := range l.topics {
		if !t.used.Swap(false) && t.waiting.Load() == 0 {
			delete(l.topics, event)
		}
	}
}
