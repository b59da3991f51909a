package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// decided asserts that nothing more is to be hooked.
func (s *story) decided() {
	s.t.Helper()
	assert.Equal(s.t, domain.Decided, s.class.Phase())
	due, entries := s.class.RoundDue()
	assert.Zero(s.t, due)
	assert.Empty(s.t, entries)
	s.refuse(domain.OpenRound{Round: s.id(), Name: round(s.t, "P1")}, domain.WrongState, "no further round is due")
}

func TestNoFullPullNoPullOff(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	s.pulls("41", "99.99")
	s.pulls("7", "99.99")
	s.decided()
	s.stands("1= 7", "1= 41")
}

// "Exactly one full puller after the class rounds wins without a pull-off."
func TestOneFullPullWinsWithoutAPullOff(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7", "23")
	s.pulls("41", "FP 301.2")
	s.pulls("7", "299.99")
	s.pulls("23", "120")
	s.decided()
	s.stands("1 41", "2 7", "3 23")
}

// Every full puller, if two or more (NK 2, NO, SNUB 9), in class order (NSTT 9, SNUB 9), on a setting of its own.
func TestTwoFullPullersComeBackInClassOrder(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7", "23")
	s.do(domain.Drop{Hook: s.class.OnTrack().ID, Reason: "belt", Next: s.id()})
	s.pulls("7", "FP 104.10")
	s.pulls("23", "99")
	s.pulls("41", "FP")
	assert.Equal(t, domain.PullOffDue, s.class.Phase())
	s.refuse(domain.OpenRound{Round: s.id(), Name: round(t, "P2")}, domain.Stale, "round P1 is due, not P2")
	s.refuse(domain.OpenRound{Round: s.id(), Name: round(t, "2")}, domain.Stale, "round P1 is due, not 2")
	s.opens("P1", "41", "7")
	assert.Nil(t, s.class.Rounds[0].Open(), "the setting of the class is closed")
	s.pulls("41", "20.11")
	s.pulls("7", "27.38")
	s.decided()
	s.stands("1 7", "2 41", "3 23")
}

func TestThreeFullPullersAndAllThatMayHappenToThem(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7", "23", "12")
	for _, number := range []string{"41", "7", "23"} {
		s.pulls(number, "FP")
	}
	s.pulls("12", "299")
	s.opens("P1", "41", "7", "23")
	s.pulls("41", "absent")
	s.pulls("7", "DQ crossed the side line")
	s.refuse(s.record("FP"), domain.Invalid, "FP without a figure says nothing here")
	s.pulls("23", "0")
	s.decided()
	s.stands("1 23", "2 7", "3 41", "4 12")
}

func TestAnAbsentFinalistIsWithdrawnWhereTheRulesSaySo(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m", withdrawn), "41", "7", "23")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.pulls("23", "60")
	s.opens("P1", "41", "7")
	s.stands("1= 7", "1= 41", "3 23")
	s.pulls("41", "absent")
	s.stands("1 7", "2 23", "- 41")
	s.pulls("7", "DQ side line")
	s.decided()
	s.stands("1 7", "2 23", "- 41")
}

// "es wird solange gestochen": a capped pull-off is repeated among those who are still equal.
func TestACappedPullOffIsRepeatedAmongTheTied(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m", toLine), "41", "7", "23", "12")
	for _, number := range []string{"41", "7", "23"} {
		s.pulls(number, "FP")
	}
	s.pulls("12", "90")
	s.opens("P1", "41", "7", "23")
	s.pulls("41", "FP 101")
	s.pulls("7", "60")
	s.pulls("23", "FP")
	s.stands("1= 23", "1= 41", "3 7", "4 12")
	s.opens("P2", "41", "23")
	s.pulls("41", "FP")
	s.pulls("23", "FP")
	s.opens("P3", "41", "23")
	s.pulls("41", "50")
	s.pulls("23", "50.01")
	s.decided()
	s.stands("1 23", "2 41", "3 7", "4 12")
}

func TestOnlyWhoHookedInAPullOffIsInTheNext(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m", toLine), "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.opens("P1", "41", "7")
	s.pulls("41", "absent")
	s.pulls("7", "absent")
	s.decided()
	s.stands("1= 7", "1= 41")

	s = begun(t, set(t, "capped-100m", toLine), "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.opens("P1", "41", "7")
	s.pulls("41", "DQ side line")
	s.pulls("7", "DQ side line")
	s.decided()
}

// Equal distance is decided by a new pull (Finland 2012, WAUSH 9, FLANT 5).
func TestEqualDistancesInAPullOffAreDecidedByAnother(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.opens("P1", "41", "7")
	s.pulls("41", "61.03")
	s.pulls("7", "61.030")
	s.stands("1= 7", "1= 41")
	s.opens("P2", "41", "7")
	s.pulls("41", "59.79")
	s.pulls("7", "61")
	s.decided()
	s.stands("1 7", "2 41")
}

func TestAFloatingFinishNeverHasAPullOff(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "floating-m"), "41", "7")
	s.pulls("41", "FP 124.96")
	s.pulls("7", "124.96")
	s.decided()
	s.stands("1= 7", "1= 41")
}

// NO 1.8, SE-RTT 1.9.2: two full tries, the better counts, and a full pull in the first goes straight to the final.
func TestBestOfTwoWithoutTheFullPullersOfTheFirstRound(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "best-of-two-100m"), "41", "7", "23", "12")
	s.pulls("41", "FP")
	s.pulls("7", "83.91")
	s.pulls("23", "absent")
	s.pulls("12", "DQ side line")
	assert.Equal(t, domain.RoundDue, s.class.Phase())
	s.opens("2", "7", "23", "12")
	s.pulls("7", "80")
	s.pulls("23", "FP 100.2")
	s.pulls("12", "30")
	s.stands("1= 23", "1= 41", "3 7", "4 12")
	s.opens("P1", "41", "23")
	s.pulls("41", "50")
	s.pulls("23", "49")
	s.decided()
	s.stands("1 41", "2 23", "3 7", "4 12")
	assert.Equal(t, "83.91 m", s.class.Standing()[2].Total.String(), "the better of the two")
}

func TestBestOfTwoWithFullPullsOnlyGoesStraightToThePullOff(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "best-of-two-100m"), "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.opens("P1", "41", "7")
	s.pulls("41", "50")
	s.pulls("7", "51")
	s.decided()
	s.stands("1 7", "2 41")
}

func TestSumOfTwoBringsEverybodyBackAndAThirdPullDecidesFullSums(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "sum-of-two-100m"), "41", "7", "23", "12")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.pulls("23", "absent")
	s.pulls("12", "99")
	s.opens("2", "41", "7", "23", "12")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.pulls("23", "FP")
	s.pulls("12", "96.70")
	s.opens("P1", "41", "7")
	s.pulls("41", "90.59")
	s.pulls("7", "85.02")
	s.decided()
	s.stands("1 41", "2 7", "3 12", "4 23")
	assert.Equal(t, "290.59 m", s.class.Standing()[0].Total.String())
	assert.Equal(t, "195.70 m", s.class.Standing()[2].Total.String())
}

func TestEqualSumsThatAreNotFullShare(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "sum-of-two-100m"), "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "80")
	s.opens("2", "41", "7")
	s.pulls("41", "80")
	s.pulls("7", "FP")
	s.decided()
	s.stands("1= 7", "1= 41")
}

// A full puller who cannot come back is in the pull-off and does not hook: the rules say what that is worth.
func TestAScratchedFullPullerIsAnAbsentFinalist(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7", "23")
	for _, number := range []string{"41", "7", "23"} {
		s.pulls(number, "FP")
	}
	s.do(domain.Scratch{Entry: s.entry("7"), Reason: "clutch"})
	s.opens("P1", "41", "7", "23")
	assert.Equal(t, domain.Slot{Entry: s.entry("7"), Note: "scratched: clutch", Out: true}, slot(s, "7"))
	s.do(domain.Scratch{Entry: s.entry("23"), Reason: "engine"})
	s.corrects("41", "1", "FP 100.5")
	assert.Empty(t, s.waiting(), "a correction does not bring the scratched back")
	s.pulls("41", "3")
	s.decided()
	s.stands("1 41", "2= 7", "2= 23")
	require.True(t, slot(s, "23").Out)
}

func TestAScratchedFullPullerIsWithdrawnWhereTheRulesSaySo(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m", withdrawn), "41", "7", "23")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.pulls("23", "90")
	s.do(domain.Scratch{Entry: s.entry("41"), Reason: "clutch"})
	s.opens("P1", "41", "7")
	s.pulls("7", "0")
	s.decided()
	s.stands("1 7", "2 23", "- 41")
}

func TestWhereNobodyCanComeBackThereIsNoPullOff(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.do(domain.Scratch{Entry: s.entry("41"), Reason: "clutch"})
	s.do(domain.Scratch{Entry: s.entry("7"), Reason: "engine"})
	s.decided()
	s.stands("1= 7", "1= 41")
}

func TestAScratchedFullPullerMadeByACorrectionStaysOut(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7", "23")
	s.pulls("41", "FP")
	s.pulls("7", "99.9")
	s.pulls("23", "FP")
	s.do(domain.Scratch{Entry: s.entry("7"), Reason: "clutch"})
	s.opens("P1", "41", "23")
	s.corrects("7", "1", "FP")
	assert.True(t, slot(s, "7").Out)
	s.pulls("41", "50")
	s.pulls("23", "51")
	s.decided()
	s.stands("1 23", "2 41", "3 7")
}

func TestARoundIsOpenedWhenItIsDue(t *testing.T) {
	t.Parallel()
	s := drawn(t, set(t, "capped-100m"), "41", "7")
	s.refuse(domain.OpenRound{Round: s.id(), Name: round(t, "P1")}, domain.WrongState, "no further round is due")
	s.freeze()
	s.call()
	s.pulls("41", "FP")
	s.refuse(domain.OpenRound{Round: s.id(), Name: round(t, "P1")}, domain.WrongState, "no further round is due")
	s.pulls("7", "FP")
	s.do(domain.OpenRound{Round: s.id(), Name: round(t, "P1")})
	s.refuse(domain.Call{Hook: s.id()}, domain.WrongState, "no setting is frozen")
}
