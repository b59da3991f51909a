package desk

import (
	"context"
	"strings"
	"sync"
	"time"

	"github.com/google/uuid"

	"clayline/domain"
)

// Sign says that somebody is typing a result at a booth, before it is sent, so that another booth of the same class sees
// it. It is no fact: it is stored nowhere, has no number in the journal, is told to booths alone, and only to those that
// this process serves.
//
//	the booth by the tower types 287.3     Sign{Class: "field-stock", Hook: 6f…, From: 1c…, Text: "287.3"}
//	somebody writes a reason instead       Text is "": what is no figure is nobody else's before it is sent
type Sign struct {
	Class string    // slug
	Hook  uuid.UUID // the hook that the result is for
	From  uuid.UUID // the page that it is typed on, which takes a new id each time it is loaded
	Text  string
	At    time.Time
	// number is its place among those of the event since somebody watches it.
	number int64
}

// signLife is how long a sign says something: who goes on typing gives another. signPause is the least time between two of
// one page; its script waits longer. signsKept is how many pages of an event may be typed on at once.
const (
	signLife  = 5 * time.Second
	signPause = 200 * time.Millisecond
	signsKept = 16
)

// typedMost is how many characters a sign carries at most: feet and inches with two decimals are 12, as 1287' 11.75".
const typedMost = 12

// figures returns what was typed as far as a sign tells it: figures as a tape has them, and "" for all else.
func figures(typed string) string {
	typed = strings.TrimSpace(typed)
	if len(typed) > typedMost || strings.Trim(typed, `0123456789.,'" `) != "" {
		return ""
	}
	return typed
}

// Fresh reports whether the sign still says something at a time.
func (s Sign) Fresh(at time.Time) bool { return at.Sub(s.At) < signLife }

// signs are what is being typed at the booths of one event: the last sign of each page, in the order in which they were
// given. Old ones are left out when the next one comes, so that nothing has to run for it.
type signs struct {
	mu   sync.Mutex
	list []Sign
	last int64         // number of the last sign
	told chan struct{} // closed and made anew when there is another; nil while nobody waits
}

// add takes a sign and wakes who waits. One that comes too soon after the last of its page is left out, and one from a page
// more than may be typed on at once, so that a device which sends without end disturbs nobody else much.
func (s *signs) add(sign Sign) {
	s.mu.Lock()
	defer s.mu.Unlock()
	kept := make([]Sign, 0, signsKept)
	for _, other := range s.list {
		if other.From == sign.From && sign.At.Sub(other.At) < signPause {
			return
		}
		if other.From != sign.From && other.Fresh(sign.At) {
			kept = append(kept, other)
		}
	}
	if len(kept) == signsKept {
		return
	}
	s.last++
	sign.number = s.last
	s.list = append(kept, sign)
	if s.told != nil {
		close(s.told)
		s.told = nil
	}
}

// after returns the signs of a class after a number, the number of the last one, and what is closed when there is another.
func (s *signs) after(class string, heard int64) (list []Sign, last int64, told <-chan struct{}) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, sign := range s.list {
		if sign.number > heard && sign.Class == class {
			list = append(list, sign)
		}
	}
	if s.told == nil {
		s.told = make(chan struct{})
	}
	return list, s.last, s.told
}

// Typing tells the other booths of a class what is being typed for the hook on its track, at a booth with the pass of by;
// from is the page. What is typed for another hook is Stale, and told to nobody.
func (d *Desk) Typing(ctx context.Context, by By, ref Ref, hook, from uuid.UUID, typed string) error {
	var event uuid.UUID
	err := d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		e, class, err := tx.Class(ctx, ref)
		if err != nil {
			return err
		}
		if err := by.may(domain.Booth|domain.Desk, e.ID); err != nil {
			return err
		}
		if on := class.OnTrack(); on == nil || on.ID != hook {
			return &domain.Error{Kind: domain.Stale, Field: "hook", Message: "that hook is not on the track", Fix: "look at the class as it is now"}
		}
		event = e.ID
		return nil
	})
	if err != nil {
		return err
	}
	if t := d.live.watched(event); t != nil {
		t.signs.add(Sign{Class: ref.Class, Hook: hook, From: from, Text: figures(typed), At: d.moment()})
	}
	return nil
}

// MayHear refuses a browser whose secret is no pass for the booth or the desk of the event: what is being typed is not told
// to it. It asks the database each time, as [Desk.Who] does.
func (d *Desk) MayHear(ctx context.Context, secret, event string) error {
	by, err := d.Who(ctx, secret, Browser)
	if err != nil {
		return err
	}
	id, err := d.live.event(ctx, event)
	if err != nil {
		return err
	}
	return by.may(domain.Booth|domain.Desk, id)
}

// Signs returns what is being typed at the booths of a class and was not heard yet, with the number to ask with the next
// time; 0 is for the first. It waits until there is something, or ctx ends, whose error it returns then. A sign may be old
// by the time that it is read; see [Sign.Fresh].
func (l *Live) Signs(ctx context.Context, ref Ref, heard int64) (list []Sign, last int64, err error) {
	event, err := l.event(ctx, ref.Event)
	if err != nil {
		return nil, heard, err
	}
	t, err := l.open(ctx, event)
	if err != nil {
		return nil, heard, err
	}
	t.waiting.Add(1)
	defer t.waiting.Add(-1)
	for {
		list, last, told := t.signs.after(ref.Class, heard)
		if len(list) > 0 {
			return list, last, nil
		}
		heard = last
		select {
		case <-ctx.Done():
			return nil, heard, ctx.Err()
		case <-told:
		}
	}
}
