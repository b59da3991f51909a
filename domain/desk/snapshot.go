package desk

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"sync"
	"sync/atomic"
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
	Body   []byte
	Gzip   []byte
	Tag    string // weak entity tag, the same for every encoding
}

// Render makes a page's media type and body. Its context does not end with the request that happened to ask
// first, since others wait for the same page.
type Render func(ctx context.Context) (mediaType string, body []byte, err error)

// shelf keeps the pages that were read lately, by a key that the caller makes: the path of the page. mu guards
// the map, not what is in the places.
type shelf struct {
	mu    *sync.RWMutex
	pages map[string]*shelved
}

// shelved is the place of one page; the mutex lets one reader render it anew while the others wait. The page is
// swapped as a whole, so that a reader has the old one or the new one.
type shelved struct {
	used   atomic.Bool
	render sync.Mutex
	page   atomic.Pointer[Page]
}

// newShelf returns an empty shelf. A shelf is passed by value and shares its map and its lock with its copies.
func newShelf() shelf { return shelf{mu: &sync.RWMutex{}, pages: make(map[string]*shelved)} }

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
		p = &shelved{}
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
	place := l.shelf.place(key)
	place.used.Store(true)
	if page := place.page.Load(); page != nil && page.Number >= head {
		return page, nil
	}
	// Looked at twice: who waited for the lock finds what the one before rendered.
	place.render.Lock()
	defer place.render.Unlock()
	if page := place.page.Load(); page != nil && page.Number >= head {
		return page, nil
	}
	page, err := newPage(context.WithoutCancel(ctx), head, render) // the others wait for it too
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

// newPage renders and compresses a page. What it tells may be newer than its number, never older: the number is
// taken before the page is read. The tag is weak, because the plain and the compressed bytes share it.
func newPage(ctx context.Context, number int64, render Render) (*Page, error) {
	mediaType, body, err := render(ctx)
	if err != nil {
		return nil, err
	}
	var packed bytes.Buffer
	w, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(body); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	hash := sha256.Sum256(body)
	return &Page{Number: number, Type: mediaType, Body: body, Gzip: packed.Bytes(), Tag: `W/"` + hex.EncodeToString(hash[:tagBytes]) + `"`}, nil
}
