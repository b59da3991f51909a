package desk

import (
	"context"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode"

	"github.com/google/uuid"

	"clayline/domain"
)

// Life spans of a pass: of its link while nobody used it, and of the pass from then on. A link may be printed
// the day before; a pass lasts over a long weekend, so that nobody is locked out in the middle of a class.
const (
	linkLife = 48 * time.Hour
	// againLife is how long the same sending of an entry form, whose answer was lost, is answered again.
	againLife = time.Minute
	passLife  = 96 * time.Hour
)

// secretBytes is the length of a link's or cookie's secret before it is written in base64: 192 bits, past
// guessing, so that neither needs to be slow to check or limited in tries.
const secretBytes = 24

// newSecret returns a fresh secret as text and the hash under which it is kept. Who reads the database finds no
// secret to act with.
func (d *Desk) newSecret() (secret string, hash []byte, err error) {
	raw := make([]byte, secretBytes)
	if _, err := io.ReadFull(d.random, raw); err != nil {
		return "", nil, fmt.Errorf("no randomness for a secret: %w", err)
	}
	secret = base64.RawURLEncoding.EncodeToString(raw)
	return secret, hashOf(secret), nil
}

// hashOf returns the hash of a secret. A plain SHA-256 is enough for what is random; it would not be for a
// password.
func hashOf(secret string) []byte {
	hash := sha256.Sum256([]byte(secret))
	return hash[:]
}

// Program is the program itself, which issues the first link and loads what was invented. It acts without a
// pass, and is the only By that is not made from one.
func Program() By { return By{Role: domain.Desk, Device: "the program"} }

// IssuePass makes an entry link for a role at an event, or at every event when event is "". The secret is
// returned once and never kept: the same action sent again is refused with Stale, since there is nothing to
// show again. The pass has the id of the action that made it.
func (d *Desk) IssuePass(ctx context.Context, by By, event string, action uuid.UUID, role domain.Role) (p Pass, secret string, err error) {
	return d.issue(ctx, by, event, action, Pass{Role: role})
}

// ReplacePass makes an entry link of the same role as another pass of the event, which ends: a link that was not used
// lets nobody in any more, and a device that is in is out. One that had ended is replaced all the same, which lets its
// device in again. NotFound is a pass that is not this event's.
func (d *Desk) ReplacePass(ctx context.Context, by By, event string, action, old uuid.UUID) (p Pass, secret string, err error) {
	return d.issue(ctx, by, event, action, Pass{ID: old})
}

// issue makes an entry link. like has the role, or the id of the pass that the new one replaces. Both passes are in
// the one line of the journal, because one action did both.
func (d *Desk) issue(ctx context.Context, by By, event string, action uuid.UUID, like Pass) (p Pass, secret string, err error) {
	at := d.moment()
	secret, hash, err := d.newSecret()
	if err != nil {
		return p, "", err
	}
	err = d.store.InTx(ctx, ReadCommitted, func(tx Tx) error {
		scope, done, err := scopeOf(ctx, tx, event, action)
		if err != nil {
			return err
		}
		// Asked behind the lock and not before it, because which event the address means is known only then.
		if err := by.may(domain.Desk, scope); err != nil {
			return err
		}
		if done != nil {
			return &domain.Error{Kind: domain.Stale, Message: "this link was made already and is shown only once", Fix: "make another"}
		}
		p = Pass{ID: action, Event: scope, Role: like.Role, Issued: at, Expires: at.Add(linkLife)}
		told := map[string]string{"Pass": p.ID.String()}
		if like.ID != uuid.Nil {
			old, err := lockPassOf(ctx, tx, by, scope, like.ID)
			if err != nil {
				return err
			}
			p.Role, told["Instead"] = old.Role, old.ID.String()
			if old.Ended.IsZero() {
				old.Ended, old.Revoked = at, true
				tx.EndPass(old)
			}
		}
		told["Role"] = p.Role.String()
		payload, err := json.Marshal(told)
		if err != nil {
			return err
		}
		var number int64
		tx.AddPass(p, hash)
		tx.Append(by.line(scope, action, at, "pass", p.ID, payload), &number)
		return nil
	})
	return p, secret, err
}

// scopeOf locks the event of an address and returns its id, or the nil UUID for "", which is this server and has
// nothing to lock; done is the line that the action id has already, or nil.
func scopeOf(ctx context.Context, tx Tx, event string, action uuid.UUID) (scope uuid.UUID, done *Line, err error) {
	if event == "" {
		done, err = tx.ActionDone(ctx, uuid.Nil, action)
		return uuid.Nil, done, err
	}
	locked, err := tx.LockEvent(ctx, event, action)
	return locked.Event.ID, locked.Done, err
}

// passesShown is how many passes are listed: more than an event makes.
const passesShown = 200

// Passes lists the passes of an event, the newest first, for its desk, with the event; event is "" for those that are
// good at every event, and the event is the zero one then. Passes that ended are in it, so that who is looked for is
// found.
func (d *Desk) Passes(ctx context.Context, by By, event string) (e domain.Event, passes []PassUse, err error) {
	err = d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		if event != "" {
			events, err := tx.Events(ctx)
			if err != nil {
				return err
			}
			i := slices.IndexFunc(events, func(e domain.Event) bool { return e.Slug == event })
			if i < 0 {
				return &domain.Error{Kind: domain.NotFound, Message: "there is no event " + event + " on this server", Fix: "look at the list of events"}
			}
			e = events[i]
		}
		if err := by.may(domain.Desk, e.ID); err != nil {
			return err
		}
		passes, err = tx.Passes(ctx, e.ID, passesShown)
		return err
	})
	return e, passes, err
}

// PassForLink returns the pass of an entry link, without using it up, also when it is used or too old; see
// [Desk.Usable]. An unknown link is NotFound.
func (d *Desk) PassForLink(ctx context.Context, secret string) (p Pass, err error) {
	err = d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		p, err = tx.PassByLink(ctx, hashOf(secret))
		return err
	})
	return p, err
}

// Holder is who acts with a pass: a browser, by its cookie, or a program, by a header. A secret given to one is
// no pass for the other: a browser sends its cookie without being asked, also for a form of another site, and
// the interface for programs has no guard against such forms because it reads no cookies.
type Holder bool

// Cookie is the name of the cookie that holds the secret of a browser's pass. It is the one cookie of the site, and readers
// without a pass get none.
const Cookie = "clayline_pass"

// The holders. Their values are what the database keeps: whether the pass is a bearer's.
const (
	Browser Holder = false
	Client  Holder = true
)

// Enter uses an entry link up and returns the pass and the secret with which its holder acts from then on.
// device is the name by which the desk knows the holder. Of two who use a link at once one gets in: the
// database lets a pass be used once, whatever both of them read before.
func (d *Desk) Enter(ctx context.Context, action uuid.UUID, link, device string, holder Holder) (p Pass, secret string, err error) {
	at := d.moment()
	device = cleanDevice(device)
	secret = secretFrom(link, action)
	err = d.store.InTx(ctx, ReadCommitted, func(tx Tx) error {
		// The pass is not locked. Two may come this far with one link; the update of the second is refused.
		if p, err = tx.PassByLink(ctx, hashOf(link)); err != nil {
			return err
		}
		if err := p.usable(at); err != nil {
			return again(ctx, tx, &p, secret, By{Device: device}, holder, at, err)
		}
		payload, err := json.Marshal(map[string]string{"Pass": p.ID.String()})
		if err != nil {
			return err
		}
		by := By{Pass: p.ID, Role: p.Role, Event: p.Event, Device: device}
		var number int64
		p.Used, p.Device, p.Bearer = at, device, bool(holder)
		tx.UsePass(p, hashOf(secret))
		tx.Append(by.line(p.Event, action, at, "enter", p.ID, payload), &number)
		return nil
	})
	return p, secret, err
}

// again lets the same sending of an entry form in once more, such as a double press whose first answer was lost: it has
// the same secret. Any other use of a used link is refused, and so is this one when the pass has ended since.
func again(ctx context.Context, tx Tx, p *Pass, secret string, by By, holder Holder, at time.Time, refusal error) error {
	entered, err := tx.PassBySecret(ctx, hashOf(secret))
	if err != nil || entered.ID != p.ID || !entered.Ended.IsZero() || entered.Bearer != bool(holder) || entered.Device != by.Device || at.After(entered.Used.Add(againLife)) {
		return refusal
	}
	*p = entered
	return nil
}

// secretFrom makes the secret of a pass out of its link's and the id of the action that uses the link. Neither is kept,
// so that nobody but who sent both can know it.
func secretFrom(link string, action uuid.UUID) string {
	sum := sha256.Sum256([]byte("pass|" + link + "|" + action.String()))
	return base64.RawURLEncoding.EncodeToString(sum[:secretBytes])
}

// Lasts returns until when a used pass is good; it has no meaning for one that was not used.
func (p Pass) Lasts() time.Time { return p.Used.Add(passLife) }

// usable says why a link lets nobody in any more, or nil.
func (p Pass) usable(at time.Time) error {
	const ask = "ask the desk for a new one"
	switch {
	case p.Used.IsZero() && !p.Ended.IsZero():
		return &domain.Error{Kind: domain.WrongState, Message: "this link was withdrawn by the desk", Fix: ask}
	case !p.Used.IsZero():
		return &domain.Error{Kind: domain.WrongState, Message: "this link was used already, and a link lets one device in", Fix: ask}
	case at.After(p.Expires):
		return &domain.Error{Kind: domain.WrongState, Message: "this link is too old", Fix: ask}
	}
	return nil
}

// Usable says why a link lets nobody in any more, or nil. It asks by the clock of now, before anybody presses a
// button; [Desk.Enter] asks again.
func (d *Desk) Usable(p Pass) error { return p.usable(d.moment()) }

// Who returns who acts with a secret, as the given holder; an unknown or old one is nobody, the zero By, and no
// error, because there may have been no pass at all. A pass that was ended is Forbidden, with the field pass, and says
// so. It asks the database each time, so that what a pass showed is closed the moment that it is taken away, in every
// process.
func (d *Desk) Who(ctx context.Context, secret string, holder Holder) (By, error) {
	if secret == "" {
		return By{}, nil
	}
	at := d.moment()
	var p Pass
	err := d.store.InTx(ctx, Snapshot, func(tx Tx) (err error) {
		p, err = tx.PassBySecret(ctx, hashOf(secret))
		return err
	})
	switch {
	case domain.KindOf(err) == domain.NotFound:
		return By{}, nil
	case err != nil:
		return By{}, err
	}
	d.known.put(secret, p, at)
	return p.holds(at, holder)
}

// Acting is [Desk.Who] for an action that asks again, under its lock, whether the pass has ended; see [Desk.ActOn]. It
// remembers passes for a minute, so that such an action costs no third trip to the database. Nothing may be shown on
// its word alone.
func (d *Desk) Acting(ctx context.Context, secret string, holder Holder) (By, error) {
	at := d.moment()
	if p, known := d.known.get(secret, at); known {
		return p.holds(at, holder)
	}
	return d.Who(ctx, secret, holder)
}

// holds is who acts with the pass; nobody when it is too old, or another holder's, and Forbidden when it has ended. The
// age is looked at here, so that a remembered pass ends in time.
func (p Pass) holds(at time.Time, holder Holder) (By, error) {
	if p.Bearer != bool(holder) || at.After(p.Lasts()) {
		return By{}, nil
	}
	if err := p.over(); err != nil {
		return By{}, err
	}
	return By{Pass: p.ID, Role: p.Role, Event: p.Event, Device: p.Device}, nil
}

// DeskEntered reports whether anybody entered the desk of this server and has not given the pass back since. Until then
// the program prints a link for it when it starts.
func (d *Desk) DeskEntered(ctx context.Context) (entered bool, err error) {
	err = d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		entered, err = tx.DeskEntered(ctx)
		return err
	})
	return entered, err
}

// cleanDevice makes a device's name fit for the journal: one line, at most forty characters. A line feed in it
// would be part of what a line's hash is made of, where line feeds part one column from the next.
func cleanDevice(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == unicode.ReplacementChar {
			return ' '
		}
		return r
	}, s)
	return strings.TrimSpace(fmt.Sprintf("%.40s", strings.TrimSpace(s)))
}
