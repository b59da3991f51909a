package domain

import (
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
)

// Choice is what the rules leave to a puller after a hook. Silence means [Keep].
type Choice struct {
	Hook    Hook
	Options []Option // Keep first
	// Until says when it must be made, in the words of a rule book.
	Until string
	// Test reports the test puller's choice; Restart that the hook stopped before the restart line.
	Test, Restart bool
}

// Pending returns the choice that is open after the last hook, or nil. It is derived from the hooks and the rules.
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
	if choice.Until == "" || !choice.Test {
		choice.Until = "before unhooking"
	}
	return &choice
}

// mayRestart reports whether the hook may be repeated because it stopped before the restart line.
func (c *Class) mayRestart(round RoundName, h Hook) bool {
	return h.Result.Outcome == Measured && h.Attempt == 1 && c.restartHolds(round) &&
		h.Result.Distance.Compare(c.Rules.RestartLine) < 0
}

// testOptions reports whether the hook gives the test puller options. A full pull that ends at the line cannot be
// bettered and gives none.
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

// Choose stores what the puller chose. The next puller is up then.
type Choose struct {
	Hook   uuid.UUID
	Option Option
	Next   uuid.UUID
}

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

// SecondAttempt stores that the puller on the track stopped before the restart line and starts again at once, where
// nobody measured the stop. Where it was measured, store the distance: the rules then leave the choice.
type SecondAttempt struct {
	Hook uuid.UUID
	Next uuid.UUID
}

func (a SecondAttempt) decide(c *Class, at time.Time) error {
	h, err := c.hookOnTrack(a.Hook)
	if err != nil {
		return err
	}
	if !c.MayRestart() {
		return wrongState("the rules give no second attempt here", "store what came of the hook")
	}
	h.Choice = AtOnce
	h.void("stopped before the restart line", at)
	c.current().moveFirst(h.Entry)
	return c.callNext(a.Next, at)
}

// MayRestart reports whether the puller on the track may start again after a stop before the restart line.
func (c *Class) MayRestart() bool {
	h := c.onTrack()
	return h != nil && h.Attempt == 1 && c.restartHolds(c.current().Name)
}

// restartHolds reports whether the restart line holds in a round.
func (c *Class) restartHolds(round RoundName) bool {
	return !c.Rules.RestartLine.IsZero() && (!round.PullOff || c.Rules.PullOff.SecondAttempt)
}

// giveUp makes the hook not count because its puller hooks again.
func (h *Hook) giveUp(choice *Choice, at time.Time) {
	if choice.Restart && h.Choice == AtOnce {
		h.void("stopped before the restart line", at)
		return
	}
	h.void("test hook given up", at)
}

// moveTo puts an entry where its choice puts it.
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
