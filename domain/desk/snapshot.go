package desk

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"sync"
	"sync/atomic"
	"time"
)

// Page is a public page or document, rendered once for a journal number and shared by all its readers. It is
// immutable. A crowd that looks at one class costs one rendering and one compression for each line of the
// journal:
//
//	line 411 stored            the page of number 410 is old
//	first reader               renders it as of 411, or of 412 if that came meanwhile
//	a thousand more readers    get the same bytes, without a query
type Page struct {
	Number int64  // of the last journal line it may tell of
	Type   string // media type
	body   []byte
	// tag is the opaque part of the entity tag, without the coding.
	tag     string
	codings []Coding
	packed  []func() ([]byte, error) // by the place of the coding; done when it is first asked for
	day     *DayPage                 // what pages are made of, where this is no page itself
}

// Rendered is a page as it was rendered. A mark is put before the hash in the entity tag, where a program is to read
// something from the tag: "57" gives "57-9c1f…". With the hash, a later program that renders the same journal
// differently has another tag.
type Rendered struct {
	Type string // media type
	Body []byte
	Mark string
	day  *DayPage // instead of a body; see [Live.Day]
}

// Render makes a page. Its context does not end with the request that happened to ask first, since others wait for
// the same page, and ends by itself after [renderLife].
type Render func(ctx context.Context) (Rendered, error)

// renderLife is how long a rendering may take: a database that is coming back is waited for, and a slow statement,
// and one that hangs does not hold the readers of a page for good.
const renderLife = 15 * time.Second

// shelf keeps the pages that were read lately, by a key that the caller makes: the path of the page. mu guards
// the map, not what is in the places.
type shelf struct {
	mu      *sync.RWMutex
	pages   map[string]*shelved
	codings []Coding
}

// shelved is the place of one page; render has room for one, which lets one reader render it anew while the others
// wait, for as long as they like. The page is swapped as a whole, so that a reader has the old one or the new one.
type shelved struct {
	used   atomic.Bool
	render chan struct{}
	page   atomic.Pointer[Page]
}

// newShelf returns an empty shelf whose pages come in the codings. A shelf is passed by value and shares its map and
// its lock with its copies.
func newShelf(codings []Coding) shelf {
	return shelf{mu: &sync.RWMutex{}, pages: make(map[string]*shelved), codings: codings}
}

// place returns the place of a key, making it where there is none. Readers of what is there, nearly all of
// them, share the lock.
func (s shelf) place(key string) *shelved {
	s.mu.RLock()
	p := s.pages[key]
	s.mu.RUnlock()
	if p != nil {
		return p
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if p = s.pages[key]; p == nil {
		p = &shelved{render: make(chan struct{}, 1)}
		s.pages[key] = p
	}
	return p
}

// sweep takes away the pages that were not read since the last sweep. Whoever holds such a place goes on with
// it, and the next reader makes another.
func (s shelf) sweep() {
	s.mu.Lock()
	defer s.mu.Unlock()
	for key, p := range s.pages {
		if !p.used.Swap(false) {
			delete(s.pages, key)
		}
	}
}

// Page returns the page with the key as of the event's last journal line. It is rendered when the journal has
// grown since it was last, and otherwise costs no query and no rendering. An error is not kept. Keys must not
// be shared by two events, since a page's number is that of its event's journal.
func (l *Live) Page(ctx context.Context, event, key string, render Render) (*Page, error) {
	head, err := l.Head(ctx, event)
	if err != nil {
		return nil, err
	}
	return l.at(ctx, key, head, render)
}

// at returns the page of a key as of a number or later, rendering it where the shelf has none so new.
func (l *Live) at(ctx context.Context, key string, head int64, render Render) (*Page, error) {
	place := l.shelf.place(key)
	place.used.Store(true)
	if page := place.page.Load(); page != nil && page.Number >= head {
		return page, nil
	}
	// Looked at twice: who waited for its turn finds what the one before rendered.
	select {
	case place.render <- struct{}{}:
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	defer func() { <-place.render }()
	if page := place.page.Load(); page != nil && page.Number >= head {
		return page, nil
	}
	page, err := l.shelf.newPage(ctx, head, render)
	if err != nil {
		l.shelf.drop(key, place)
		return nil, err
	}
	place.page.Store(page)
	return page, nil
}

// drop takes a place away that never held a page, so that asking for what is not there fills nothing.
func (s shelf) drop(key string, place *shelved) {
	if place.page.Load() != nil {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.pages, key)
}

// tagBytes is how much of the body's hash stands in its tag: enough that two pages never share one by chance.
const tagBytes = 12

// newPage renders a page. What it tells may be newer than its number, never older: the number is taken before the page
// is read. It goes on when the reader who asked has gone, because others wait for it too.
func (s shelf) newPage(ctx context.Context, number int64, render Render) (*Page, error) {
	ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), renderLife)
	defer cancel()
	rendered, err := render(ctx)
	if err != nil {
		return nil, err
	}
	page := packable(rendered, s.codings)
	page.Number = number
	return page, nil
}

// packable makes a page that is compressed when it is first asked for in a coding.
func packable(r Rendered, codings []Coding) *Page {
	hash := sha256.Sum256(r.Body)
	page := &Page{Type: r.Type, body: r.Body, day: r.day, tag: hex.EncodeToString(hash[:tagBytes]), codings: codings}
	if r.Mark != "" {
		page.tag = r.Mark + "-" + page.tag
	}
	for _, c := range codings {
		page.packed = append(page.packed, sync.OnceValues(func() ([]byte, error) { return c.Pack(r.Body) }))
	}
	return page
}

// Loose makes a page of what is no part of an event and so on no shelf, such as the list of events.
func (l *Live) Loose(r Rendered) *Page { return packable(r, l.shelf.codings) }

// withGzip are the codings that a desk was given, and the one that everybody can read.
func withGzip(codings []Coding) []Coding { return append(slices.Clone(codings), Gzip()) }
