package domain

import (
	"slices"
	"time"

	"github.com/google/uuid"
)

// TestPuller says who makes the test hook.
type TestPuller uint8

// Who makes the test hook.
const (
	// FirstInOrder: the first of the line-up (SCTPA 10, CARP 4, HTP 6 and most books).
	FirstInOrder TestPuller = iota
	// ChosenPuller: the sled operator may choose any entry of the class instead (SNUB 2, RUSSELL).
	ChosenPuller
	// TestSession: the sled was tried in a session of its own, and no hook of the class is a test (BE-BORG, NL-DREI).
	TestSession
)

// TestRule says who the test puller is, who makes the first hook against a setting in the first round, and what may
// be chosen after the test hook. See testOptions for the sources. The first distance is given up with the choice in
// every book that was read (CARP 4, SCTPA 10, GPP 5, NL-VP), so that this is no field.
type TestRule struct {
	Who TestPuller
	// Options beside Keep; empty means that the test hook counts like any other.
	Options []Option
	// Must: the test puller hooks again without a choice, by the one option there is (BEAST: to the bottom of the class).
	Must bool
	// Until says when the choice must be made, in the words of a rule book: "before unhooking".
	Until string
	// Silence is what a test puller takes who says nothing; the zero Option is Keep (HANOV 8).
	Silence Option
	// BeforeDistance: the choice is made before the distance is told, and the booth keeps it back till then; otherwise
	// with knowledge of the distance (CARP 4 says so expressly).
	BeforeDistance bool
	// AfterDQ: a test puller who was disqualified still has the options (TWOR 18, GPP 5); otherwise the second
	// pull is lost with the disqualification (GSRT 15).
	AfterDQ bool
	// NoRestart: the restart line does not hold on the test hook, so that it is one attempt (NL-VP).
	NoRestart bool
	// LostPartFree: weights or safety gear lost on the test hook disqualify nobody (VTPA garden 5).
	LostPartFree bool
}

// check says whether the rule contradicts itself.
func (t TestRule) check() error {
	switch {
	case t.Who > TestSession:
		return invalid("test_puller.who", "the rule set does not say who makes the test hook", "write first, chosen or session")
	case t.Who == TestSession && len(t.Options) > 0:
		return contradiction("test_puller.options", "test_puller.who", "a sled that was tried in a session of its own leaves no choice after a hook", "leave one of them out")
	case t.Must && len(t.Options) != 1:
		return contradiction("test_puller.must", "test_puller.options", "a test puller without a choice hooks again by one option", "give one option, or leave must out")
	case t.Silence != 0 && t.Silence != Keep && !slices.Contains(t.Options, t.Silence):
		return contradiction("test_puller.silence", "test_puller.options", "silence cannot mean what is not an option", "write keep or one of the options")
	case t.Who == TestSession && t.NoRestart:
		return contradiction("test_puller.no_restart", "test_puller.who", "where the sled was tried in a session of its own there is no test hook to start again", "leave one of them out")
	case t.Silence == Keep && t.Must:
		return contradiction("test_puller.silence", "test_puller.must", "silence cannot keep what must be given up", "leave one of them out")
	case slices.Contains(t.Options, ToOriginal) && t.Who != ChosenPuller:
		return contradiction("test_puller.options", "test_puller.who", "who was not chosen out of turn has no original place to go back to", "write last instead of original, or chosen")
	}
	for i, o := range t.Options {
		if slices.Contains(t.Options[:i], o) {
			return invalid("test_puller.options", "the option "+o.String()+" is there twice", "write it once")
		}
	}
	_, err := text("test_puller.until", t.Until)
	return err
}

// silent returns what silence means: the rule's own, else Keep, or the one option where there is no choice.
func (t TestRule) silent() Option {
	switch {
	case t.Silence != 0:
		return t.Silence
	case t.Must:
		return t.Options[0]
	default:
		return Keep
	}
}

// testOptions reports whether the hook gives the test puller options beside [Keep]. The rule sets of the rule
// books: third (SCTPA 10, UCTCC 20, CHEL 7), third or last (CARP 4, GSRT 15), third or sixth (GPP 5), fourth or
// last (RENEG 3), last (HTP 6, MAM, SEMP 1, TWOR 17), at once (BIGIRON 7, WOLV 1), the original place (SNUB 3).
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

// testDue reports whether the next hook is the test hook: the first one made against a setting of the first
// round, since the first after each adjustment is treated as number one puller (CHEL 7, GPP 5). None in
// pull-offs (CARP 4, MICRO 5); none in later class rounds (common practice, no published source); none after a session
// of tests.
//
// A re-hook, an absence, a call given up and a stop before the restart line that is pulled again are not one:
// they tell nothing about the setting over the length of the track, and the next hook is the test hook then.
func (c *Class) testDue(r *Round, revision int) bool {
	// A hook that is repeated at once counts as made where it went past the restart line: that was an option of
	// the rules, and not a start that failed.
	return c.Rules.Test.Who != TestSession && r.Name == RoundName{Number: 1} && !slices.ContainsFunc(r.Hooks, func(h Hook) bool {
		restarted := h.Result.Outcome == Void && h.Result.Reason == stoppedShort
		return h.Revision == revision && (h.Result.Counts() && h.Result.Outcome != Absent || h.Choice != 0 && !restarted)
	})
}

// chosenTest begins the note of a test puller who was chosen out of turn.
const chosenTest = "test puller, chosen by the sled operator"

// PickTest puts an entry in front of the line-up to make the test hook, where the rules let the sled operator choose.
type PickTest struct {
	Entry uuid.UUID
}

// decide takes an entry that waits, while the next hook is the test hook and nobody is called.
func (a PickTest) decide(c *Class, _ time.Time) error {
	r := c.current()
	switch {
	case c.Rules.Test.Who != ChosenPuller:
		return wrongState("under these rules the first in the order makes the test hook", "call the next puller")
	case r == nil:
		return wrongState("the class is not drawn", "draw it first")
	case !c.testOpen():
		return wrongState("the test hook was made, or is being made", "go on in the order")
	case !slices.Contains(r.Waiting(), a.Entry):
		return notFound("that entry does not wait in this round", "choose one that does")
	case r.Waiting()[0] == a.Entry:
		return wrongState("number "+c.numberOf(a.Entry)+" is the next already", "call the next puller")
	}
	r.moveFirst(a.Entry)
	i := slices.IndexFunc(r.Lineup, func(s Slot) bool { return s.Entry == a.Entry })
	r.Lineup[i].Note = chosenTest
	return nil
}

// testOpen reports whether the next hook is the test hook, of which nobody is called yet. It relies on the class being
// drawn.
func (c *Class) testOpen() bool {
	r := c.current()
	return c.onTrack() == nil && c.testDue(r, max(len(r.Revisions), 1))
}

// TestPullers returns whom the sled operator may choose to make the test hook instead of the first in the order; nobody
// where the rules leave no choice, or where it is too late.
func (c *Class) TestPullers() []uuid.UUID {
	if c.Rules.Test.Who != ChosenPuller || c.current() == nil || !c.testOpen() {
		return nil
	}
	waiting := c.current().Waiting()
	return waiting[min(1, len(waiting)):]
}

// moveToOriginal puts a test puller who was chosen out of turn back where the class order has the entry, before the
// first who waits and comes after it there.
func (c *Class) moveToOriginal(r *Round, entry uuid.UUID) {
	order := c.classOrder()
	own := slices.Index(order, entry)
	before := 0
	for _, id := range r.Waiting() {
		if id != entry && slices.Index(order, id) < own {
			before++
		}
	}
	r.move(entry, before, "test puller, back in the original place")
}
