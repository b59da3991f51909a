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
// restart line of 75 ft the options are keep, now and last. Silence means [Keep] in the books that say so: who says
// nothing takes the first measurement (HANOV 8). The program does not wait for silence by a clock; somebody stores it.
type Choice struct {
	Hook Hook
	// Options are without doubles, [Keep] first where it is one, then those of the restart line, then the test
	// puller's own.
	Options []Option
	// Until says when it must be made, in the words of a rule book, to be read out. Before unhooking: HTP 6,
	// TWOR, GPP, SCTPA, SNUB. Before leaving the track: CARP, RENEG, GSRT. Before the next one starts: NL-VP.
	// Nothing here enforces it: nobody is called before the choice is stored, so that it can always still be
	// made.
	Until string
	// Silence is the option that a puller takes who says nothing.
	Silence Option
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
	choice := Choice{Hook: h, Options: []Option{Keep}, Until: c.Rules.Test.Until, Silence: Keep}
	if c.mayRestart(r.Name, h) {
		choice.Restart = true
		choice.offer(c.Rules.restartOptions())
	}
	if c.testOptions(r.Name, h) {
		choice.Test, choice.Silence = true, c.Rules.Test.silent()
		choice.offer(c.Rules.Test.Options)
	}
	if len(choice.Options) == 1 {
		return nil
	}
	if choice.Test && c.Rules.Test.Must {
		choice.Options = choice.Options[1:] // the distance cannot be kept
	}
	// The restart line has no deadline of its own in the rule set; the second try is made at once (RENEG 2,
	// SE-RTT 1.9.3), thus before the sled is let go.
	if choice.Until == "" || !choice.Test {
		choice.Until = "before unhooking"
	}
	return &choice
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
		h.giveUp(choice, slices.Contains(c.Rules.restartOptions(), a.Option), at)
		c.moveTo(h.Entry, a.Option)
	}
	return c.callNext(a.Next, at)
}

// offer adds options that are not there yet.
func (choice *Choice) offer(options []Option) {
	for _, o := range options {
		if o != Keep && !slices.Contains(choice.Options, o) {
			choice.Options = append(choice.Options, o)
		}
	}
}

// giveUp makes the hook not count because its puller hooks again, with the reason that the record shows. A hook
// that had both rights is said to have used the one that fits the option.
func (h *Hook) giveUp(choice *Choice, restarts bool, at time.Time) {
	if choice.Restart && restarts {
		h.void(stoppedShort, at)
		return
	}
	h.void("test hook given up", at)
}

// moveTo puts an entry where its choice puts it. A place is counted from now, among those who wait: with 7, 23
// and 12 waiting, the option 3 makes the test puller 41 the third of them, after 7 and 23. In a shorter line-up
// a place beyond the end is the end. Keep moves nobody.
func (c *Class) moveTo(entry uuid.UUID, option Option) {
	r := c.current()
	who := "test puller"
	if h := r.HookOf(entry); h.Result.Reason == stoppedShort {
		who = "second attempt"
	}
	switch {
	case option == AtOnce:
		r.moveFirst(entry)
	case option == ToLast:
		r.move(entry, len(r.Lineup), who+", dropped to last")
	case option == ToOriginal:
		c.moveToOriginal(r, entry)
	case option > 0:
		r.move(entry, int(option)-1, fmt.Sprintf("%s, hooks again as number %d", who, option))
	}
}
