package domain_test

import (
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// test gives the test puller these options.
func test(options ...domain.Option) func(*domain.RuleSet) {
	return func(r *domain.RuleSet) {
		r.Test = domain.TestRule{Options: options, Until: "before leaving the track", AfterDQ: true}
	}
}

func noAfterDQ(r *domain.RuleSet) { r.Test.AfterDQ = false }

func noRestart(r *domain.RuleSet) { r.RestartLine = domain.Distance{} }

// Keep, or last: HTP 6, MAM, SEMP 1, TWOR 17, HANOV 8, MARSH 8.
func TestTheTestPullerMayKeep(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7", "23")
	assert.True(t, s.class.OnTrack().Test)
	s.pulls("41", "281.36")
	assert.Equal(t, "keep last", s.options("41"))
	assert.True(t, s.class.Pending().Test)
	assert.Equal(t, "before unhooking", s.class.Pending().Until)
	s.chooses("41", "keep")
	assert.False(t, s.class.OnTrack().Test, "the second puller is no test puller")
	s.pulls("7", "260")
	s.pulls("23", "299")
	assert.Equal(t, domain.Decided, s.class.Phase())
	s.stands("1 23", "2 41", "3 7")
}

func TestTheTestPullerMayDropToLast(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7", "23")
	s.pulls("41", "281.36")
	s.chooses("41", "last")
	assert.Equal(t, []string{"23", "41"}, s.waiting())
	s.pulls("7", "260")
	s.pulls("23", "299")
	s.pulls("41", "150")
	assert.Equal(t, domain.Decided, s.class.Phase(), "there is no second choice")
	s.stands("1 23", "2 7", "3 41")
	first := s.class.Rounds[0].Hooks[0]
	assert.Equal(t, domain.Void, first.Result.Outcome, "the first distance is forfeited (CARP, SCTPA, GPP, NL-VP)")
	assert.Equal(t, "281.36 ft", first.Result.Distance.String(), "and still on record")
	assert.Equal(t, "test hook given up", first.Result.Reason)
	assert.Equal(t, 1, s.hook("41", "1").Attempt, "a new hook, not a second attempt")
}

// Third: SCTPA 10, UCTCC 20, CHEL 7; third or last: CARP 4, GSRT 15. Third means that two others hook before.
func TestTheTestPullerMayHookAgainInThirdPlace(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft", test(3, domain.ToLast)), "41", "7", "23", "12", "19")
	s.pulls("41", "281.36")
	assert.Equal(t, "keep 3 last", s.options("41"))
	assert.Equal(t, "before leaving the track", s.class.Pending().Until)
	s.chooses("41", "3")
	s.pulls("7", "100")
	assert.Equal(t, []string{"41", "12", "19"}, s.waiting())
	s.pulls("23", "100")
	s.pulls("41", "290")
	s.pulls("12", "100")
	s.pulls("19", "100")
	s.stands("1 41", "2= 7", "2= 12", "2= 19", "2= 23")
}

func TestThirdPlaceInAShortClassIsTheLast(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft", test(3)), "41", "7")
	s.pulls("41", "281.36")
	s.chooses("41", "3")
	s.pulls("7", "100")
	s.pulls("41", "101")
	s.stands("1 41", "2 7")
}

// Alone in the class, the last place is at once.
func TestTheOnlyPullerMayDropToLast(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41")
	s.pulls("41", "281.36")
	s.chooses("41", "last")
	s.pulls("41", "200")
	s.stands("1 41")
	assert.Equal(t, domain.Decided, s.class.Phase())
}

// Immediately: BIGIRON 7, WOLV 1.
func TestTheTestPullerMayHookAgainAtOnce(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft", test(domain.AtOnce)), "41", "7")
	s.pulls("41", "281.36")
	s.chooses("41", "now")
	assert.Equal(t, "test hook given up", s.class.Rounds[0].Hooks[0].Result.Reason)
	s.pulls("41", "200")
	s.pulls("7", "190")
	s.stands("1 41", "2 7")
}

// Disqualified on the test pull: TWOR 18, GPP 5, RENEG 5 keep the option; GSRT 15 loses it.
func TestADisqualifiedTestPullerKeepsTheOptionWhereTheRulesSaySo(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7")
	s.pulls("41", "DQ out of bounds")
	assert.Equal(t, "keep last", s.options("41"))
	s.chooses("41", "last")
	s.pulls("7", "260")
	s.pulls("41", "261")
	s.stands("1 41", "2 7")

	s = begun(t, set(t, "capped-300ft", noAfterDQ), "41", "7")
	s.pulls("41", "DQ out of bounds")
	require.Nil(t, s.class.Pending())
	s.pulls("7", "260")
	s.stands("1 7", "- 41")
}

func TestAFullPullOfTheTestPullerLeavesNoChoice(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7")
	s.pulls("41", "FP 301.2")
	require.Nil(t, s.class.Pending(), "a full pull cannot be bettered")
	assert.Equal(t, "7", s.onTrack(), "the next puller is up at once")

	s = begun(t, set(t, "floating-ft"), "41", "7")
	s.pulls("41", "FP 301.2")
	assert.Equal(t, "keep last", s.options("41"), "a floating finish can be bettered")
}

func TestWhoDoesNotComeIsNoTestPuller(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7", "23")
	s.pulls("41", "absent")
	require.Nil(t, s.class.Pending())
	assert.True(t, s.class.OnTrack().Test, "the first who hooks is the test puller")
	s.pulls("7", "200")
	assert.Equal(t, "keep last", s.options("7"))
}

func TestWithoutATestRuleTheFirstHookCountsLikeAnyOther(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	s.pulls("41", "81.36")
	assert.Equal(t, "7", s.onTrack())
}

func TestSilenceLeavesTheChoiceOpenAndNobodyIsCalled(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7")
	s.pulls("41", "281.36")
	s.refuse(domain.Call{Hook: s.id()}, domain.WrongState, "a choice is open")
	s.refuse(domain.OpenRound{Round: s.id(), Name: round(t, "P1")}, domain.WrongState, "no further round is due")
	assert.Equal(t, "281.36", s.hook("41", "1").Result.String(), "the distance stands meanwhile")
	s.stands("1 41", "- 7")
	s.chooses("41", "keep")
	assert.Equal(t, "281.36", s.hook("41", "1").Result.String(), "silence takes it (HANOV 8)")
}

func TestOnlyTheOptionsOfTheRulesCanBeChosen(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7")
	s.pulls("41", "281.36")
	hook := s.class.Pending().Hook.ID
	for _, option := range []domain.Option{0, 3, domain.AtOnce, -9} {
		s.refuse(domain.Choose{Hook: hook, Option: option, Next: s.id()}, domain.Invalid, "is not among the options")
	}
	s.chooses("41", "keep")
	s.refuse(domain.Choose{Hook: hook, Option: domain.ToLast, Next: s.id()}, domain.Stale, "no choice is open for that hook")
	s.refuse(domain.Choose{Hook: uuid.Nil, Option: domain.Keep, Next: s.id()}, domain.Stale, "no choice is open")
}

// 75 ft: SCTPA 9, CHEL 6, BEAST, MAM; one second attempt.
func TestAStopBeforeTheRestartLineMayBeRepeatedOnce(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft", test()), "41", "7")
	s.pulls("41", "74.999")
	assert.Equal(t, "keep now", s.options("41"))
	assert.True(t, s.class.Pending().Restart)
	assert.Equal(t, "before unhooking", s.class.Pending().Until)
	s.chooses("41", "now")
	assert.Equal(t, "stopped before the restart line", s.class.Rounds[0].Hooks[0].Result.Reason)
	assert.Equal(t, 2, s.class.OnTrack().Attempt)
	s.pulls("41", "12.5")
	assert.Equal(t, "7", s.onTrack(), "the second attempt is official (FLANT 6)")
	assert.Equal(t, "12.5", s.hook("41", "1").Result.String())
}

func TestAtTheRestartLineThereIsNoSecondAttempt(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ rules, figure string }{
		{"capped-300ft", "75"}, {"capped-300ft", "75.00"}, {"capped-100m", "20"}, {"capped-100m", "20.01"}, {"capped-300ft", `75' 0"`},
	} {
		s := begun(t, set(t, row.rules, test()), "41", "7")
		s.pulls("41", row.figure)
		assert.Equal(t, "7", s.onTrack(), row.figure)
	}
	for _, figure := range []string{"19.99", "0"} {
		s := begun(t, set(t, "capped-100m"), "41", "7")
		s.pulls("41", figure)
		assert.Equal(t, "keep now", s.options("41"), figure)
	}
}

func TestTheShortStopMayBeKept(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	s.pulls("41", "12.5")
	s.chooses("41", "keep")
	s.pulls("7", "30")
	s.stands("1 7", "2 41")
}

func TestWithoutARestartLineThereIsNoSecondAttempt(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m", noRestart), "41", "7")
	s.refuse(domain.SecondAttempt{Hook: s.class.OnTrack().ID, Next: s.id()}, domain.WrongState, "no second attempt")
	s.pulls("41", "0")
	assert.Equal(t, "7", s.onTrack())
}

func TestAStopThatNobodyMeasuredMayBeRepeatedOnce(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	require.True(t, s.class.MayRestart())
	first := s.class.OnTrack().ID
	s.do(domain.SecondAttempt{Hook: first, Next: s.id()})
	assert.Equal(t, "41", s.onTrack())
	assert.Equal(t, 2, s.class.OnTrack().Attempt)
	assert.False(t, s.class.MayRestart())
	s.refuse(domain.SecondAttempt{Hook: s.class.OnTrack().ID, Next: s.id()}, domain.WrongState, "no second attempt")
	s.refuse(domain.SecondAttempt{Hook: first, Next: s.id()}, domain.Stale, "stored already")
	s.pulls("41", "18")
	assert.Equal(t, "7", s.onTrack())
	assert.Equal(t, domain.Void, s.class.Rounds[0].Hooks[0].Result.Outcome)
	assert.True(t, s.class.Rounds[0].Hooks[0].Result.Distance.IsZero())
}

// One attempt only in a pull-off: CME 4, MICRO 6, GSRT 15, NO, SE-RTT; NL-VP allows the second one.
func TestTheRestartLineHoldsInAPullOffOnlyWhereTheRulesSaySo(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.opens("P1", "41", "7")
	s.refuse(domain.SecondAttempt{Hook: s.class.OnTrack().ID, Next: s.id()}, domain.WrongState, "no second attempt")
	s.pulls("41", "3")
	assert.Equal(t, "7", s.onTrack())

	s = begun(t, set(t, "capped-100m", func(r *domain.RuleSet) { r.PullOff.SecondAttempt = true }), "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.opens("P1", "41", "7")
	s.pulls("41", "3")
	assert.Equal(t, "keep now", s.options("41"))
	s.chooses("41", "now")
	s.pulls("41", "80")
	s.pulls("7", "79")
	s.stands("1 41", "2 7")
}

func TestATestPullerWhoStopsShortHasBothChoices(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft", test(3, domain.ToLast)), "41", "7", "23")
	s.pulls("41", "40")
	assert.Equal(t, "keep now 3 last", s.options("41"))
	assert.True(t, s.class.Pending().Test)
	assert.True(t, s.class.Pending().Restart)
	s.chooses("41", "now")
	assert.Equal(t, "41", s.onTrack())
	assert.Equal(t, 2, s.class.OnTrack().Attempt)

	s = begun(t, set(t, "capped-300ft", test(3, domain.ToLast)), "41", "7", "23")
	s.pulls("41", "40")
	s.chooses("41", "last")
	s.pulls("7", "100")
	s.pulls("23", "100")
	s.pulls("41", "30")
	assert.Equal(t, "keep now", s.options("41"), "the new hook has a restart line of its own, and is no test hook")
}

func TestThereAreNoTestPullsInAPullOff(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.opens("P1", "41", "7")
	assert.False(t, s.class.OnTrack().Test, "CARP 4, MICRO 5")
	s.pulls("41", "281.36")
	assert.Equal(t, "7", s.onTrack())
}

// Whoever may start again at once does so before a puller who was given a re-hook meanwhile.
func TestAtOnceIsBeforeEverybodyWhoWaits(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7", "23")
	s.pulls("41", "60")
	s.do(domain.Again{Hook: s.hook("41", "1").ID, Reason: "box not home", Next: s.id()})
	s.pulls("7", "12")
	s.chooses("7", "now")
	s.pulls("7", "50")
	s.pulls("41", "61")
	s.pulls("23", "20")
	s.stands("1 41", "2 7", "3 23")

	s = begun(t, set(t, "capped-100m"), "41", "7", "23")
	s.pulls("41", "60")
	s.do(domain.Again{Hook: s.hook("41", "1").ID, Reason: "box not home", Next: s.id()})
	s.do(domain.SecondAttempt{Hook: s.class.OnTrack().ID, Next: s.id()})
	assert.Equal(t, "7", s.onTrack())
}
