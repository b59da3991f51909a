// Package remind tells phones that their hook is near: whoever asked on the page of an entry is told once in each round,
// when three hooks or fewer are ahead of it. It is a courtesy beside the page. Nothing of the event waits for it or depends
// on it, it may come late or not at all, and the call in the pits counts.
package remind

import (
	"context"
	"encoding/base64"
	"errors"
	"log/slog"
	"net/url"
	"strings"
	"sync"
	"time"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/desk"
)

// Hooks is how many hooks are ahead of an entry when its phones are told.
const Hooks = 3

// Bounds. A vehicle has a crew and no crowd; and who asks for reminders of everything asks one server to send them.
const (
	phonesOfEntry = 20
	phonesOfClass = 1000
	longest       = 2048 // bytes of an endpoint
	patience      = 10 * time.Second
	atOnce        = 8 // pushes under way
	listening     = 5 * time.Minute
)

// ErrGone is the error of a push to a phone that wants no more: its browser took the permission away, or is gone.
var ErrGone = errors.New("the phone is gone")

// Phone is a browser that can be told of something while no page is open, as the Push API describes it.
type Phone struct {
	Endpoint string // address of the browser's push service, https
	Key      string // public key of the browser, P-256, base64url
	Secret   string // its authentication secret, 16 bytes, base64url
	Language string // of who holds it: "en", "de"
}

// ParsePhone reads a phone as a page sends it. It refuses what is no address of a push service and keys that have not the
// form of RFC 8291.
func ParsePhone(endpoint, key, secret, language string) (Phone, error) {
	u, err := url.Parse(endpoint)
	k, keyErr := base64.RawURLEncoding.DecodeString(strings.TrimRight(key, "="))
	s, secretErr := base64.RawURLEncoding.DecodeString(strings.TrimRight(secret, "="))
	switch {
	case err != nil || len(endpoint) > longest || u.Scheme != "https" || u.Hostname() == "" || u.User != nil:
		return Phone{}, &domain.Error{Kind: domain.Invalid, Field: "endpoint", Message: "the browser gave no address to remind it at", Fix: "allow notices for this page and press again"}
	case keyErr != nil || secretErr != nil || len(k) != 65 || k[0] != 4 || len(s) != 16:
		return Phone{}, &domain.Error{Kind: domain.Invalid, Field: "key", Message: "the browser gave no keys to remind it with", Fix: "allow notices for this page and press again"}
	}
	return Phone{Endpoint: endpoint, Key: key, Secret: secret, Language: language}, nil
}

// Reminder is the wish of one phone to be told of one entry.
type Reminder struct {
	Class, Entry uuid.UUID
	Phone        Phone
	Told         uuid.UUID // the round in which it was told last; the nil UUID for none
}

// Notice is what a phone is told.
type Notice struct {
	Entry domain.Entry
	Class string // name of the class
	Ahead int    // hooks ahead, 0 for the next
	Href  string // page of the entry, from the root of the server
}

// Keys are the pair by which push services know the server, base64url.
type Keys struct{ Public, Private string }

// Store keeps the wishes.
type Store interface {
	// AddReminder keeps a wish, once for a phone and an entry.
	AddReminder(ctx context.Context, r Reminder) error
	// RemoveReminder forgets the wish of a phone for an entry; none is no error.
	RemoveReminder(ctx context.Context, entry uuid.UUID, endpoint string) error
	// RemoveReminders forgets all wishes for a class.
	RemoveReminders(ctx context.Context, class uuid.UUID) error
	// Reminders are all wishes for a class.
	Reminders(ctx context.Context, class uuid.UUID) ([]Reminder, error)
	// ClaimReminder notes that a phone is told in a round, and reports whether it was not told before: of several programs
	// that see the same hook one sends.
	ClaimReminder(ctx context.Context, r Reminder, round uuid.UUID) (bool, error)
	// Reminded are the classes for which there are wishes.
	Reminded(ctx context.Context) ([]desk.Ref, error)
}

// Pusher sends a notice to a phone; the error is [ErrGone] where the phone wants no more.
type Pusher interface {
	Push(ctx context.Context, to Phone, n Notice) error
}

// Service keeps wishes and fulfils them. Its methods may be called at the same time.
type Service struct {
	desk   *desk.Desk
	store  Store
	pusher Pusher
	log    *slog.Logger
	asked  chan desk.Ref // classes for which there is a new wish
	room   chan struct{}
}

// New returns a service; it fulfils wishes while [Service.Run] runs.
func New(d *desk.Desk, store Store, pusher Pusher, log *slog.Logger) *Service {
	return &Service{desk: d, store: store, pusher: pusher, log: log, asked: make(chan desk.Ref, 64), room: make(chan struct{}, atOnce)}
}

// Add keeps a phone's wish to be told of the entry with the number in the class. It refuses an entry that is not there, and
// phones beyond those that a crew has.
func (s *Service) Add(ctx context.Context, ref desk.Ref, number string, phone Phone) error {
	class, entry, err := s.find(ctx, ref, number)
	if err != nil {
		return err
	}
	if class.Phase() == domain.Decided {
		return &domain.Error{Kind: domain.WrongState, Message: "this class is decided", Fix: "look at its result"}
	}
	there, err := s.store.Reminders(ctx, class.ID)
	if err != nil {
		return err
	}
	same := 0
	for _, r := range there {
		if r.Entry == entry && r.Phone.Endpoint != phone.Endpoint {
			same++
		}
	}
	if same >= phonesOfEntry || len(there) >= phonesOfClass {
		return &domain.Error{Kind: domain.WrongState, Message: "as many phones as can be are reminded of this hook already", Fix: "look at the page of the pits"}
	}
	if err := s.store.AddReminder(ctx, Reminder{Class: class.ID, Entry: entry, Phone: phone}); err != nil {
		return err
	}
	select {
	case s.asked <- ref:
	case <-ctx.Done():
		return ctx.Err()
	}
	return nil
}

// Remove forgets a phone's wish.
func (s *Service) Remove(ctx context.Context, ref desk.Ref, number, endpoint string) error {
	_, entry, err := s.find(ctx, ref, number)
	if err != nil {
		return err
	}
	return s.store.RemoveReminder(ctx, entry, endpoint)
}

// find finds an entry by its number, capitals or not.
func (s *Service) find(ctx context.Context, ref desk.Ref, number string) (*domain.Class, uuid.UUID, error) {
	page, err := s.desk.ClassPage(ctx, ref)
	if err != nil {
		return nil, uuid.Nil, err
	}
	for _, e := range page.Class.Entries {
		if strings.EqualFold(e.Number, number) {
			return &page.Class, e.ID, nil
		}
	}
	return nil, uuid.Nil, &domain.Error{Kind: domain.NotFound, Message: "no entry of this class has the number " + number, Fix: "look at the class"}
}

// Run fulfils wishes until ctx ends: those that are there, and those that come. It follows each event for which there is one.
func (s *Service) Run(ctx context.Context) {
	var all sync.WaitGroup
	defer all.Wait()
	followed := map[string]bool{}
	follow := func(event string) {
		if !followed[event] {
			followed[event] = true
			all.Go(func() { s.follow(ctx, event) })
		}
	}
	refs, err := s.store.Reminded(ctx)
	if err != nil {
		s.log.WarnContext(ctx, "reminders of before are not looked at", "error", err)
	}
	for _, ref := range refs {
		follow(ref.Event)
	}
	for {
		select {
		case <-ctx.Done():
			return
		// The hook may be near already, with nothing more to come before it.
		case ref := <-s.asked:
			follow(ref.Event)
			all.Go(func() {
				if err := s.Tell(ctx, ref); err != nil && ctx.Err() == nil {
					s.log.WarnContext(ctx, "a reminder waits for the next hook", "error", err)
				}
			})
		}
	}
}

// follow tells phones of one event whenever a class of theirs moves on. It begins with the classes as they are, because they
// may have moved on while nobody followed.
func (s *Service) follow(ctx context.Context, event string) {
	for ctx.Err() == nil {
		after, err := s.desk.Live().Head(ctx, event)
		if err == nil {
			err = s.pending(ctx, event)
		}
		for err == nil {
			var news []desk.News
			if news, err = s.desk.Live().Next(ctx, event, after, listening); err != nil {
				break
			}
			moved := map[string]bool{}
			for _, n := range news {
				after = n.Number
				moved[n.Class] = n.Class != ""
			}
			for class, moves := range moved {
				if moves {
					err = errors.Join(err, s.Tell(ctx, desk.Ref{Event: event, Class: class}))
				}
			}
		}
		if ctx.Err() == nil {
			s.log.WarnContext(ctx, "an event is not followed for a moment", "event", event, "error", err)
			wait, cancel := context.WithTimeout(ctx, patience)
			<-wait.Done()
			cancel()
		}
	}
}

// pending tells of the classes of an event as they are now.
func (s *Service) pending(ctx context.Context, event string) error {
	refs, err := s.store.Reminded(ctx)
	for _, ref := range refs {
		if ref.Event == event {
			err = errors.Join(err, s.Tell(ctx, ref))
		}
	}
	return err
}

// Tell tells the phones whose hook in the class is near, each once in a round, and forgets the wishes for a class that is
// decided. It returns when all are told. A phone that could not be told is told with the next hook, if it is still time.
func (s *Service) Tell(ctx context.Context, ref desk.Ref) error {
	page, err := s.desk.ClassPage(ctx, ref)
	if err != nil {
		return err
	}
	class := &page.Class
	wishes, err := s.store.Reminders(ctx, class.ID)
	if err != nil || len(wishes) == 0 {
		return err
	}
	if class.Phase() == domain.Decided {
		return s.store.RemoveReminders(ctx, class.ID)
	}
	var sent sync.WaitGroup
	defer sent.Wait()
	for _, r := range wishes {
		ahead, waits := class.HooksAhead(r.Entry)
		round := class.Current()
		if !waits || ahead > Hooks || r.Told == round.ID {
			continue
		}
		first, err := s.store.ClaimReminder(ctx, r, round.ID)
		if err != nil {
			return err
		}
		if first {
			n := Notice{Entry: class.Entry(r.Entry), Class: class.Name, Ahead: ahead}
			n.Href = "/e/" + ref.Event + "/" + ref.Class + "/entry/" + url.PathEscape(strings.ToLower(n.Entry.Number))
			s.room <- struct{}{}
			sent.Go(func() { s.push(ctx, r, n); <-s.room })
		}
	}
	return nil
}

// push sends one notice.
func (s *Service) push(ctx context.Context, r Reminder, n Notice) {
	limited, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	err := s.pusher.Push(limited, r.Phone, n)
	switch {
	case err == nil:
		return
	case errors.Is(err, ErrGone):
		err = s.store.RemoveReminder(ctx, r.Entry, r.Phone.Endpoint)
	default:
		s.log.WarnContext(ctx, "a phone was not reminded", "error", err)
		_, err = s.store.ClaimReminder(ctx, r, uuid.Nil)
	}
	if err != nil && ctx.Err() == nil {
		s.log.WarnContext(ctx, "a reminder was not kept up", "error", err)
	}
}
