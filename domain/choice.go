package domain

import (
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
)

// Choice is what the rules leave to a puller after a hook, and what the round waits for. Two rules can leave
// one, and a hook can fall under both: the test puller may hook again, and whoever stops before the restart
// line may start again.
//
// A test puller with 281.36 ft under {keep, last} chooses between them; under the same rules with 61.2 ft and a
// restart line of 75 ft the options are keep, now and last. Silence means [Keep]: who says nothing takes the
// first measurement (HANOV 8). The program does not wait for silence by a clock; somebody stores it.
type Choice struct {
	Hook Hook
	// Options are without doubles, [Keep] first, then [AtOnce] where the restart line gives it, then the rules'
	// own.
	Options []Option // Keep first
	// Until says when it must be made, in the words of a rule book, to be read out. Before unhooking: HTP 6,
	// TWOR, GPP, SCTPA, SNUB. Before leaving the track: CARP, RENEG, GSRT. Before the next one starts: NL-VP.
	// Nothing here enforces it: nobody is called before the choice is stored, so that it can always still be
	// made.
	Until string
	// Test reports the test puller's choice; Restart that the hook stopped before the restart line.
	Test, Restart bool
}

// Pending returns the choice that is open after the last hook, or nil. It is derived from the hooks and the
// rules each time: no field says that a choice is open, so a correction of the result opens it or takes it away
// by itself.
//
// A choice is open only while it can be acted on: the hook counts, nothing was chosen, its setting is still the
// open one, and the entry was not scratched. It concerns the last hook alone, because the next is not called
// while it is open.
func (c *Class) Pending() *Choice {
	r := c.current()
	if r == nil || len(r.Hooks) == 0 {
		return nil
	}
	h := r.Hooks[len(r.Hooks)-1]
	open := r.Open()
	if !h.Result.Counts() || h.Choice != 0 || open == nil || h.Revision != open.Number || c.Entry(h.Entry).Scratched != "" {
		return nil
	}
	choice := Choice{Hook: h, Options: []Option{Keep}, Until: c.Rules.Test.Until}
	if c.mayRestart(r.Name, h) {
		choice.Restart, choice.Options = true, append(choice.Options, AtOnce)
	}
	if c.testOptions(r.Name, h) {
		choice.Test = true
		for _, o := range c.Rules.Test.Options {
			if !slices.Contains(choice.Options, o) {
				choice.Options = append(choice.Options, o)
			}
		}
	}
	if len(choice.Options) == 1 {
		return nil
	}
	// The restart line has no deadline of its own in the rule set; the second try is made at once (RENEG 2,
	// SE-RTT 1.9.3), thus before the sled is let go.
	if choice.Until == "" || !choice.Test {
		choice.Until = "before unhooking"
	}
	return &choice
}

// mayRestart reports whether the hook may be repeated because it stopped before the restart line: two attempts,
// the second only where the first stopped short of 75 ft (SCTPA 9, CHEL 6), 100 ft (HTP 7, BIGIRON 8) or 20 m
// (SE-RTT 1.9.3). It may be repeated once, which Attempt counts, and what stops exactly at the line has passed
// it.
//
// The sled's position decides (SCTPA 9). Where the throttle does (ASTTQ 2, NL-VP) the officials store the
// second attempt or do not. The first distance is void once it is repeated, so that the second is official even
// when it is shorter (FLANT 6).
func (c *Class) mayRestart(round RoundName, h Hook) bool {
	return h.Result.Outcome == Measured && h.Attempt == 1 && c.restartHolds(round) &&
		h.Result.Distance.Compare(c.Rules.RestartLine) < 0
}

// testOptions reports whether the hook gives the test puller options beside [Keep]. The rule sets of the rule
// books: third (SCTPA 10, UCTCC 20, CHEL 7), third or last (CARP 4, GSRT 15), third or sixth (GPP 5), fourth or
// last (RENEG 3), last (HTP 6, MAM, SEMP 1, TWOR 17), at once (BIGIRON 7, WOLV 1).
//
// After a disqualification the books contradict one another: TWOR 18, GPP 5 and RENEG 5 leave the second pull,
// GSRT 15 takes it; the rule set decides. A full pull that ends at the line cannot be bettered and gives none
// (common practice, no published source); where distances count past the line, a full pull is a figure like any
// other.
func (c *Class) testOptions(round RoundName, h Hook) bool {
	switch {
	case !h.Test || len(c.Rules.Test.Options) == 0:
		return false
	case h.Result.Outcome == Disqualified:
		return c.Rules.Test.AfterDQ
	case h.Result.Outcome == FullPull:
		return !c.Rules.EndsAtLine(round)
	default:
		return h.Result.Outcome == Measured
	}
}

// Choose stores what the puller chose about the hook with the open choice. Option is one of [Choice].Options.
// The next puller is up then, with Next as the id of that hook; Next is not used when nobody can be called.
type Choose struct {
	Hook   uuid.UUID
	Option Option
	Next   uuid.UUID
}

// decide gives the hook up for any option but Keep: the first distance is forfeited (CARP 4, SCTPA 10, GPP 5,
// NL-VP), never kept beside the second, and no book read takes the better of both. The choice itself stays on
// the hook, where the record and the next attempt's number read it.
func (a Choose) decide(c *Class, at time.Time) error {
	choice := c.Pending()
	switch {
	case choice == nil || choice.Hook.ID != a.Hook:
		return &Error{Kind: Stale, Field: "hook", Message: "no choice is open for that hook", Fix: "look at the page again"}
	case !slices.Contains(choice.Options, a.Option):
		return invalid("option", fmt.Sprintf("%q is not among the options of these rules", a.Option), "choose one that is shown")
	}
	h := c.hook(a.Hook)
	h.Choice = a.Option
	if a.Option != Keep {
		h.giveUp(choice, at)
		c.current().moveTo(h.Entry, a.Option)
	}
	return c.callNext(a.Next, at)
}

// SecondAttempt stores that the puller on the track stopped before the restart line and starts again at once,
// where nobody measured the stop. Where it was measured, store the distance: the rules then leave the choice.
// That the sled stopped short of the line is the officials' word here; only the rules and the attempt's number
// are checked.
type SecondAttempt struct {
	Hook uuid.UUID
	Next uuid.UUID
}

// decide voids the first attempt and calls the same entry again. The sled may be repositioned and weights moved
// between the attempts (SCTPA 9, HANOV 7); the setting of the sled stays the frozen one.
func (a SecondAttempt) decide(c *Class, at time.Time) error {
	h, err := c.hookOnTrack(a.Hook)
	if err != nil {
		return err
	}
	if !c.MayRestart() {
		return wrongState("the rules give no second attempt here", "store what came of the hook")
	}
	h.Choice = AtOnce
	h.void(stoppedShort, at)
	c.current().moveFirst(h.Entry)
	return c.callNext(a.Next, at)
}

// MayRestart reports whether the puller on the track may start again after a stop before the restart line: the
// line holds in this round and it is the first attempt. How far the sled went is not known yet.
func (c *Class) MayRestart() bool {
	h := c.onTrack()
	return h != nil && h.Attempt == 1 && c.restartHolds(c.current().Name)
}

// restartHolds reports whether the restart line holds in a round. One attempt in the pull-off: CME 4, MICRO 6,
// GSRT 15, NO 1.8, SE-RTT. NL-VP allows a second in the final too, hence the field.
func (c *Class) restartHolds(round RoundName) bool {
	return !c.Rules.RestartLine.IsZero() && (!round.PullOff || c.Rules.PullOff.SecondAttempt)
}

// giveUp makes the hook not count because its puller hooks again, with the reason that the record shows. A hook
// that had both rights is said to have used the one that fits the option.
func (h *Hook) giveUp(choice *Choice, at time.Time) {
	if choice.Restart && h.Choice == AtOnce {
		h.void(stoppedShort, at)
		return
	}
	h.void("test hook given up", at)
}

// moveTo puts an entry where its choice puts it. A place is counted from now, among those who wait: with 7, 23
// and 12 waiting, the option 3 makes the test puller 41 the third of them, after 7 and 23. In a shorter line-up
// a place beyond the end is the end. Keep moves nobody.
func (r *Round) moveTo(entry uuid.UUID, option Option) {
	switch {
	case option == AtOnce:
		r.moveFirst(entry)
	case option == ToLast:
		r.move(entry, len(r.Lineup), "test puller, dropped to last")
	case option > 0:
		r.move(entry, int(option)-1, fmt.Sprintf("test puller, hooks again as number %d", option))
	}
}
