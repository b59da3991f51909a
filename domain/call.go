package domain

import (
	"fmt"
	"strings"
	"time"
)

// OrderSource says where the order of a class comes from.
type OrderSource uint8

// The sources of the order.
const (
	// DrawnByLot: drawn (MAM, MERR 15, MMTT 2, NL-WIER 1.2, WOLV 1).
	DrawnByLot OrderSource = iota
	// AsEntered: in the order of registration or across the scale (CHEL 8, FLIP 2).
	AsEntered
	// ByOrganiser: fixed by the organiser (DE-WIEL 14, NO-VET).
	ByOrganiser
)

// OrderRule says where the order comes from and what becomes of whoever is late.
type OrderRule struct {
	By OrderSource
	// ClosedAtStart: nobody is entered once the class has been called to its first hook (CHEL 8, GSRT 14, FLIP 3);
	// otherwise late entries pull last (MAM).
	ClosedAtStart bool
}

// NotReady says what the rules have for a puller who does not hook in time.
type NotReady uint8

// What follows when a puller is not ready. Each is advice to the officials, who store it.
const (
	// OfficialDecides: GSRT 13, SNUB 6.
	OfficialDecides NotReady = iota
	// DropsBack: moves back in the order (NK 5, CARP 5, PINE 2).
	DropsBack
	// IsDisqualified: CHEL 8, AMPI 7, NL-POEL.
	IsDisqualified
	// ForfeitsTurn: does not hook in this round (FLANT 12, NL-OSS 8).
	ForfeitsTurn
)

// CallRule is the time to hook and what follows when it is over.
type CallRule struct {
	// Minutes to hook; 0 where the rules give no number (CME 5). 2: NK, GPP, NO-VET. 3: CARP, CHEL, PINE, SNUB, AMPI.
	Minutes int
	// From says what starts them, in the words of the book: "sled back on the line" (NK 5), "track ready" (CARP 5). The
	// program knows the call alone and counts from it.
	From string
	// NotReady is what follows.
	NotReady NotReady
	// DropOnce: an entry may drop for mechanical trouble once in a class (NK 5).
	DropOnce bool
}

// check says whether the rule contradicts itself.
func (a CallRule) check() error {
	switch {
	case a.NotReady > ForfeitsTurn:
		return invalid("call.not_ready", "the rule set does not say what follows when a puller is not ready", "write official, drop, disqualified or forfeit")
	case a.Minutes < 0 || a.Minutes > 60:
		return invalid("call.minutes", "the time to hook cannot be right", "write minutes from 1 to 60, or leave it out")
	case a.Minutes == 0 && a.From != "":
		return contradiction("call.from", "call.minutes", "a beginning without a time says nothing", "give the minutes, or leave from out")
	}
	_, err := text("call.from", a.From)
	return err
}

// notReadyAdvice says what follows, to stand after "under these rules".
var notReadyAdvice = map[NotReady]string{
	OfficialDecides: "the officials decide what follows",
	DropsBack:       "the puller drops back in the order",
	IsDisqualified:  "a puller who is not ready is disqualified",
	ForfeitsTurn:    "a puller who is not ready forfeits the turn",
}

// CallAdvice is what the rules have about the puller who was called: until when the hook must begin, and what follows
// otherwise, as a sentence for the booth. Until is zero where the rules give no time; then, and where nobody waits to
// hook, there is no advice.
type CallAdvice struct {
	Until time.Time
	// From is what starts the time in the words of the book, "" where that is the call.
	From   string
	Advice string
}

// CallAdvised returns the advice about the puller who was called and has not started; the zero CallAdvice where there
// is none. Nothing follows by itself: the official may know why somebody is late.
func (c *Class) CallAdvised() CallAdvice {
	h, rule := c.onTrack(), c.Rules.Call
	if h == nil || !h.Started.IsZero() || rule.Minutes == 0 {
		return CallAdvice{}
	}
	return CallAdvice{Until: h.Called.Add(time.Duration(rule.Minutes) * time.Minute), From: rule.From, Advice: notReadyAdvice[rule.NotReady]}
}

// gaveUpCall begins the reason of a hook whose puller dropped back.
const gaveUpCall = "gave up the call: "

// dropped reports whether the entry has dropped back in the class before.
func (c *Class) dropped(id [16]byte) bool {
	for _, r := range c.Rounds {
		for _, h := range r.Hooks {
			if h.Entry == id && h.Result.Outcome == Void && strings.HasPrefix(h.Result.Reason, gaveUpCall) {
				return true
			}
		}
	}
	return false
}

// mayDrop refuses a second drop where the rules give one.
func (c *Class) mayDrop(h *Hook) error {
	if c.Rules.Call.DropOnce && c.dropped(h.Entry) {
		return wrongState(fmt.Sprintf("number %s has dropped back already, and under these rules may once in a class", c.numberOf(h.Entry)),
			"store what came of the hook, or absent")
	}
	return nil
}
