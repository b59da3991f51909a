package domain

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
)

// Hook is one vehicle's run at the sled, against one setting revision of its round for good.
type Hook struct {
	ID       uuid.UUID
	Entry    uuid.UUID
	Revision int  // the setting revision it is pulled against
	Number   int  // 1, 2, … in the round, in the order called
	Attempt  int  // 2 for a second attempt below the restart line
	Test     bool // the test hook
	Called   time.Time
	Started  time.Time // when the sled moved; zero where nobody said so
	Ended    time.Time // when the result was stored; zero before
	Result   Result
	// Choice is what the puller chose where the rules left a choice; the zero Option when none was made.
	Choice Option
	// Corrected is the reason of the last correction, "" for none.
	Corrected string
}

// void makes the hook not count, keeping what was measured.
func (h *Hook) void(reason string, at time.Time) {
	h.Result = Result{Outcome: Void, Distance: h.Result.Distance, Reason: reason}
	if h.Ended.IsZero() {
		h.Ended = at
	}
}

// Call calls the next puller of the line-up to hook, at the start of a round or when nobody was called.
type Call struct {
	Hook uuid.UUID
}

func (a Call) decide(c *Class, at time.Time) error {
	r := c.current()
	switch {
	case r == nil:
		return wrongState("the class is not drawn", "draw it first")
	case c.onTrack() != nil:
		return wrongState("number "+c.numberOf(c.onTrack().Entry)+" is on the track", "store what came of that hook first")
	case c.Pending() != nil:
		return wrongState("a choice is open", "store the choice first")
	case r.Open() == nil:
		return wrongState("no setting is frozen for this round", "write the setting and freeze it first")
	case c.roundOver(len(c.Rounds) - 1):
		return wrongState("everybody in this round has hooked", "nothing is left to call")
	}
	return c.call(a.Hook, at)
}

// Record stores what came of the hook on the track. The next puller is up at once, unless the rules leave a choice.
type Record struct {
	Hook   uuid.UUID
	Result Result
	Next   uuid.UUID // id of the hook that is called then
}

func (a Record) decide(c *Class, at time.Time) error {
	h, err := c.hookOnTrack(a.Hook)
	if err != nil {
		return err
	}
	result, err := c.settle(c.current().Name, a.Result)
	if err != nil {
		return err
	}
	if !result.Counts() {
		return invalid("result", "a result that does not count is not stored here", "use hooks again, second attempt or drop")
	}
	h.Result, h.Ended = result, at
	return c.callNext(a.Next, at)
}

// settle checks a typed result against the rules of a round.
func (c *Class) settle(round RoundName, result Result) (Result, error) {
	reason, err := text("reason", result.Reason)
	if err != nil {
		return Result{}, err
	}
	result.Reason = reason
	if result.Outcome == Disqualified && reason == "" {
		return Result{}, invalid("reason", "the reason of the disqualification is missing", "add it, such as DQ out of bounds")
	}
	return c.Rules.Settle(round, result)
}

// Again repeats a hook because of the sled or an official. The hook does not count; the entry hooks again at once or,
// to cool down, a few places later.
type Again struct {
	Hook   uuid.UUID
	Reason string // what the sled or the official did
	Places int    // 0: at once
	Next   uuid.UUID
}

func (a Again) decide(c *Class, at time.Time) error {
	reason, err := required("reason", "the reason", a.Reason)
	if err != nil {
		return err
	}
	r := c.current()
	h := c.hook(a.Hook)
	switch {
	case r == nil || h == nil:
		return notFound("that hook is not in the current round", "reload the page")
	case !h.Result.IsZero() && !h.Result.Counts():
		return wrongState("that hook does not count already", "nothing is left to do")
	case c.Entry(h.Entry).Scratched != "":
		return wrongState("number "+c.numberOf(h.Entry)+" is scratched and hooks no more", "correct the result instead")
	case a.Places < 0 || a.Places > c.Rules.RehookDrop:
		return invalid("places", fmt.Sprintf("under these rules an entry may drop 0 to %d places to cool down", c.Rules.RehookDrop), "choose within that")
	}
	entry := h.Entry
	h.Result = Result{Outcome: Rehooked, Distance: h.Result.Distance, Reason: reason}
	if h.Ended.IsZero() {
		h.Ended = at
	}
	if a.Places > 0 {
		r.move(entry, a.Places, fmt.Sprintf("dropped %d to cool down", a.Places))
	}
	return c.callNext(a.Next, at)
}

// Drop moves the puller who was called, and did not hook, back in the order.
type Drop struct {
	Hook   uuid.UUID
	Places int // as many as the rules allow; 0 where they say: to the last place
	Reason string
	Next   uuid.UUID
}

func (a Drop) decide(c *Class, at time.Time) error {
	h, err := c.hookOnTrack(a.Hook)
	if err != nil {
		return err
	}
	reason, err := required("reason", "the reason", a.Reason)
	if err != nil {
		return err
	}
	switch limit := c.Rules.DropPlaces; {
	case limit == 0 && a.Places != 0:
		return invalid("places", "under these rules an entry drops to the last place", "give no number of places")
	case limit > 0 && (a.Places < 1 || a.Places > limit):
		return invalid("places", fmt.Sprintf("under these rules an entry may drop 1 to %d places", limit), "choose within that")
	}
	entry := h.Entry
	r := c.current()
	if len(r.Waiting()) == 0 {
		return wrongState("nobody else is waiting in this round", "wait, or store absent")
	}
	h.void("gave up the call: "+reason, at)
	note, places := "dropped to last: "+reason, a.Places
	if places == 0 {
		places = len(r.Lineup)
	} else {
		note = fmt.Sprintf("dropped %d: %s", places, reason)
	}
	r.move(entry, places, note)
	return c.callNext(a.Next, at)
}

// Correct changes the result of an earlier hook, with a reason. What stood before stays in the journal.
type Correct struct {
	Hook   uuid.UUID
	Result Result
	Reason string
	Next   uuid.UUID // id of the hook that is called when the correction leaves nobody on the track
}

func (a Correct) decide(c *Class, at time.Time) error {
	reason, err := required("reason", "the reason of the correction", a.Reason)
	if err != nil {
		return err
	}
	round, h := c.find(a.Hook)
	switch {
	case h == nil:
		return notFound("there is no such hook", "reload the page")
	case h.Result.IsZero():
		return wrongState("that hook has no result yet", "store the result instead")
	case !a.Result.Counts():
		return invalid("result", "a correction gives a result that counts", expectedResult)
	case !h.Result.Counts() && c.stillIn(round, h.Entry):
		return wrongState("that hook does not count and number "+c.numberOf(h.Entry)+" has another hook in this round", "correct the one that counts")
	}
	if a.Result.Outcome == Disqualified && strings.TrimSpace(a.Result.Reason) == "" {
		a.Result.Reason = reason
	}
	result, err := c.settle(round.Name, a.Result)
	if err != nil {
		return err
	}
	h.Result, h.Corrected = result, reason
	c.topUp(reason)
	return c.callNext(a.Next, at)
}

// stillIn reports whether the entry has a counting hook in the round, is on the track, or waits in it.
func (c *Class) stillIn(r *Round, entry uuid.UUID) bool {
	for _, h := range r.Hooks {
		if h.Entry == entry && (h.Result.Counts() || h.Result.IsZero()) {
			return true
		}
	}
	return r == c.current() && slices.Contains(r.Waiting(), entry)
}

// Start notes when the hook on the track began. Nothing depends on it but the record and the forecast of times.
type Start struct {
	Hook uuid.UUID
}

func (a Start) decide(c *Class, at time.Time) error {
	h, err := c.hookOnTrack(a.Hook)
	switch {
	case err != nil:
		return err
	case !h.Started.IsZero():
		return wrongState("that hook has started already", "store what came of it")
	}
	h.Started = at
	return nil
}

// VoidHook makes a finished hook of the current round not count, with a reason, and takes the entry out of the round:
// it does not hook again. Where it does, that is [Again].
type VoidHook struct {
	Hook   uuid.UUID
	Reason string
	Next   uuid.UUID // id of the hook that is called when nobody is on the track then
}

func (a VoidHook) decide(c *Class, at time.Time) error {
	reason, err := required("reason", "the reason", a.Reason)
	if err != nil {
		return err
	}
	h := c.hook(a.Hook)
	switch {
	case h == nil:
		return notFound("that hook is not in the current round", "reload the page")
	case h.Result.IsZero():
		return wrongState("that hook has no result yet", "store the result, or let it hook again")
	case !h.Result.Counts():
		return wrongState("that hook does not count already", "nothing is left to do")
	}
	entry := h.Entry
	h.void(reason, at)
	c.current().takeOut(entry, "out of this round: "+reason)
	return c.callNext(a.Next, at)
}
