package domain

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
)

// Hook is one vehicle's run at the sled, against one setting revision of its round for good. It begins with the
// call and ends with a result; a result that does not count leaves the hook in the record and the entry in the
// line-up.
//
// Three times tell a hook: Called when the puller is up, Started when the sled moved, Ended when the result was
// stored. Nothing in the rules depends on them.
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
	// Ready is what the sled's crew said before it began.
	Ready Readiness
	// Difference is what differed on it from every other hook, as far as the sled's crew noted it.
	Difference Difference
	// Flag is what the flagmen decided of it.
	Flag Flag
	// Speeds are what the device read of it, where it gives a speed and somebody noted it.
	Speeds Speeds
	// Choice is what the puller chose where the rules left a choice; the zero Option when none was made.
	Choice Option
	// Corrected is the reason of the last correction, "" for none.
	Corrected string
	// Changed is when the result was last corrected or made void after the hook had ended; zero where it never was.
	Changed time.Time
}

// stoppedShort is the reason of a hook that does not count because its puller starts again after a stop before the
// restart line. It tells a second attempt apart from a test hook that was given up.
const stoppedShort = "stopped before the restart line"

// lostAttempt begins the reason of a hook that cost its puller an attempt and nothing else.
const lostAttempt = "attempt lost: "

// void makes the hook not count, keeping what was measured, with the reason that the record shows. A hook that
// ended keeps its end; one under way ends now.
func (h *Hook) void(reason string, at time.Time) {
	h.Result = Result{Outcome: Void, Distance: h.Result.Distance, Reason: reason}
	if h.Ended.IsZero() {
		h.Ended = at
	}
}

// Call calls the next puller of the line-up to hook, at the start of a round or when nobody was called. Who
// that is follows from the line-up and is no field: whoever calls cannot pass over anybody. Hook is the id of
// the new hook.
type Call struct {
	Hook uuid.UUID
}

// decide asks in the order in which people can mend it: the draw, the hook on the track, the open choice, the
// setting. That nothing is pulled without a frozen setting is the promise that a round is the same for
// everybody.
func (a Call) decide(c *Class, at time.Time) error {
	r := c.current()
	switch {
	case r == nil:
		return wrongState("the class is not drawn", "draw it first")
	case c.Stopped != (Stopped{}):
		return wrongState("the class is stopped: "+c.Stopped.Reason, "go on with it first")
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

// Record stores what came of the hook on the track. The next puller is up at once, unless the rules leave a
// choice; Next is the id of that hook and is not used where nobody is called. Hook names the hook that was
// meant, so that two scorers who press at once do not store one distance for two pullers.
type Record struct {
	Hook   uuid.UUID
	Result Result
	Next   uuid.UUID // id of the hook that is called then
}

// decide takes results that count. What does not count has actions of its own, because each of them also says
// what happens to the entry: [Again], [SecondAttempt], [Drop].
func (a Record) decide(c *Class, at time.Time) error {
	h, err := c.hookOnTrack(a.Hook)
	if err != nil {
		return err
	}
	result, err := c.settle(c.current().Name, h, a.Result)
	if err != nil {
		return err
	}
	if c.losesAttempt(h, result) {
		h.Result.Distance = result.Distance
		h.void(lostAttempt+result.Reason, at)
		c.current().moveFirst(h.Entry)
		return c.callNext(a.Next, at)
	}
	if !result.Counts() {
		return invalid("result", "a result that does not count is not stored here", "use hooks again, second attempt or drop")
	}
	h.Result, h.Ended = result, at
	return c.callNext(a.Next, at)
}

// settle checks a typed result against the rules of a round and returns it as the rules see it. A
// disqualification needs its reason here and not on a sheet: it is asked about within minutes, and "DQ must be
// made at the time of occurrence" (AMPI, http://americanminipuller.com/reasons-for-disqualification.html, 6).
func (c *Class) settle(round RoundName, h *Hook, result Result) (Result, error) {
	reason, err := text("reason", result.Reason)
	if err != nil {
		return Result{}, err
	}
	result.Reason = reason
	if result.Outcome == Disqualified && reason == "" {
		return Result{}, invalid("reason", "the reason of the disqualification is missing", "add it, such as DQ out of bounds")
	}
	// What fell off on the test hook is free where the rules say so, and the distance counts.
	if free := h.Test && c.Rules.Test.LostPartFree && CauseOf(reason) == CauseLostPart; free && result.Outcome == Disqualified && !result.Distance.IsZero() {
		result.Outcome = Measured
	}
	return c.Rules.Settle(round, result)
}

// losesAttempt reports whether a disqualification costs the attempt alone, because another one is left.
func (c *Class) losesAttempt(h *Hook, result Result) bool {
	return result.Outcome == Disqualified && c.Rules.Consequence(CauseOf(result.Reason)) == AttemptLost &&
		h.Attempt < c.Rules.attemptsOf(c.current().Name, *h)
}

// Again repeats a hook because of the sled or an official. The hook does not count; the entry hooks again at
// once or, to cool down, a few places later: up to four (RENEG 6), up to three (CHEL 7), or at once alone (GPP
// 5). How many is the rules'; within that the puller chooses. The five minutes that RENEG 6 gives where fewer
// are left are the officials' to keep.
//
// It may name any hook of the current round that counts or is under way, because a fault of the sled is
// sometimes seen one puller later.
type Again struct {
	Hook   uuid.UUID
	Reason string // what the sled or the official did
	Places int    // 0: at once
	Next   uuid.UUID
}

// decide keeps the distance with the repeated hook, for the record, and the attempt's number with the entry.
// The line-up place is counted among those who wait, without the puller on the track.
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

// Drop moves the puller who was called, and did not hook, back in the order for mechanical trouble: to the last
// place (CARP 5, SNUB 6, PINE 2, AMPI 7) or up to two places (NK 5). That NK allows it once in a class, and
// with an official's approval, is the officials' to know; here a puller may drop again. Other books disqualify
// instead (CHEL 8): then store that.
type Drop struct {
	Hook   uuid.UUID
	Places int // as many as the rules allow; 0 where they say: to the last place
	Reason string
	Next   uuid.UUID
}

// decide lets nobody drop behind nobody: a puller who is alone in the order is waited for, or absent. The call
// that was given up stays as a void hook, so that the record shows that the puller had been up.
func (a Drop) decide(c *Class, at time.Time) error {
	h, err := c.hookOnTrack(a.Hook)
	if err != nil {
		return err
	}
	reason, err := required("reason", "the reason", a.Reason)
	if err != nil {
		return err
	}
	if err := c.mayDrop(h); err != nil {
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
	h.void(gaveUpCall+reason, at)
	// The rules say 0 for the last place, and the line-up knows no such number: it is as many places as there
	// are.
	note, places := "dropped to last: "+reason, a.Places
	if places == 0 {
		places = len(r.Lineup)
	} else {
		note = fmt.Sprintf("dropped %d: %s", places, reason)
	}
	r.move(entry, places, note)
	return c.callNext(a.Next, at)
}

// Correct changes the result of an earlier hook of any round, with a reason. What stood before stays in the
// journal. No rule text on correcting was found; that a result may be corrected until it is official is common
// practice.
type Correct struct {
	Hook   uuid.UUID
	Result Result
	Reason string
	Next   uuid.UUID // id of the hook that is called when the correction leaves nobody on the track
}

// decide gives a result that counts, to a hook that counted or to one whose entry has no other in the round:
// that way a hook which was voided by mistake stands again, and an entry never gets two. A corrected
// disqualification takes the reason of the correction where it has none of its own.
//
// The new result may change who belongs in the round that is being pulled, so that the line-up is brought in
// line with it; see topUp. Rounds between the corrected one and the current one stay as pulled.
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
	// "DQ" alone can be typed here, since the reason has a field of its own on the form.
	if a.Result.Outcome == Disqualified && strings.TrimSpace(a.Result.Reason) == "" {
		a.Result.Reason = reason
	}
	result, err := c.settle(round.Name, h, a.Result)
	if err != nil {
		return err
	}
	h.Result, h.Corrected, h.Changed = result, reason, at
	c.topUp(reason)
	return c.callNext(a.Next, at)
}

// stillIn reports whether the entry has a counting hook in the round, is on the track, or waits in it: whether
// its turn there is taken or still to come.
func (c *Class) stillIn(r *Round, entry uuid.UUID) bool {
	for _, h := range r.Hooks {
		if h.Entry == entry && (h.Result.Counts() || h.Result.IsZero()) {
			return true
		}
	}
	return r == c.current() && slices.Contains(r.Waiting(), entry)
}

// Start notes when the hook on the track began. Nothing depends on it but the record and the forecast of times,
// and a hook can be stored without it.
type Start struct {
	Hook uuid.UUID
}

// decide takes the first start that is told; a second one would make the hook look shorter than it was.
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

// VoidHook makes a finished hook of the current round not count, with a reason, and takes the entry out of the
// round: it does not hook again. Where it does, that is [Again]. It is for what should not have been pulled at
// all, such as a vehicle that hooked twice. In a rule book's terms it is no disqualification and has no place
// of its own in the ranking.
type VoidHook struct {
	Hook   uuid.UUID
	Reason string
	Next   uuid.UUID // id of the hook that is called when nobody is on the track then
}

// decide leaves hooks under way alone: they get a result first, so that it is known what is voided.
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
	h.Changed = at
	c.current().takeOut(entry, "out of this round: "+reason)
	return c.callNext(a.Next, at)
}
