package domain_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"clayline/domain"
)

// corrects gives a hook another result, with a reason.
func (s *story) corrects(number, name, written string) {
	s.t.Helper()
	s.do(s.correction(number, name, written))
}

func (s *story) correction(number, name, written string) domain.Correct {
	s.t.Helper()
	return domain.Correct{Hook: s.hook(number, name).ID, Result: resultIn(s.t, written, s.class.Rules.Unit()), Reason: "sheet misread", Next: s.id()}
}

func TestACorrectionChangesTheResultAndKeepsItsReason(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	s.pulls("41", "50.12")
	s.corrects("41", "1", "51.02")
	assert.Equal(t, "7", s.onTrack(), "whoever is on the track stays there")
	s.pulls("7", "51")
	s.corrects("7", "1", "DQ")
	s.decided()
	s.stands("1 41", "- 7")
	assert.Equal(t, "sheet misread", s.hook("41", "1").Corrected)
	assert.Equal(t, "sheet misread", s.hook("7", "1").Result.Reason, "the reason of the correction is that of the disqualification")
	s.corrects("7", "1", "DQ crossed the side line")
	assert.Equal(t, "crossed the side line", s.hook("7", "1").Result.Reason)
	s.corrects("7", "1", "FP")
	s.stands("1 7", "2 41")
}

func TestACorrectionMustBeOne(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	s.pulls("41", "50")
	right := s.correction("41", "1", "51")
	for says, broken := range map[string]domain.Correct{
		"the reason of the correction is missing": {Hook: right.Hook, Result: right.Result, Next: right.Next},
		"gives a result that counts":              {Hook: right.Hook, Result: resultIn(t, "void", domain.Metre), Reason: "x", Next: right.Next},
		"lies below the full-pull line":           {Hook: right.Hook, Result: resultIn(t, "FP 99", domain.Metre), Reason: "x", Next: right.Next},
		"is not in the unit":                      {Hook: right.Hook, Result: result(t, "99"), Reason: "x", Next: right.Next},
		"longer than 200 characters":              {Hook: right.Hook, Result: resultIn(t, "DQ "+strings.Repeat("x", 201), domain.Metre), Reason: "x", Next: right.Next},
	} {
		s.refuse(broken, domain.Invalid, says)
	}
	s.refuse(domain.Correct{Hook: s.id(), Result: right.Result, Reason: "x"}, domain.NotFound, "no such hook")
	s.refuse(domain.Correct{Hook: s.class.OnTrack().ID, Result: right.Result, Reason: "x"}, domain.WrongState, "has no result yet")
	assert.Equal(t, "50", s.hook("41", "1").Result.String())
}

func TestAHookThatDoesNotCountIsNotCorrectedBesideAnother(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7")
	s.pulls("41", "200")
	s.chooses("41", "last")
	given := s.class.Rounds[0].Hooks[0].ID
	correction := domain.Correct{Hook: given, Result: result(t, "200"), Reason: "choice misheard", Next: s.id()}
	s.refuse(correction, domain.WrongState, "has another hook in this round")
	s.pulls("7", "100")
	s.refuse(correction, domain.WrongState, "has another hook in this round")
	s.pulls("41", "150")
	s.refuse(correction, domain.WrongState, "has another hook in this round")
	s.stands("1 41", "2 7")
}

// Who gave the test hook up and cannot hook again any more may get it back.
func TestAHookThatDoesNotCountCanBeMadeToCountWhenItIsTheOnlyOne(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7")
	s.pulls("41", "200")
	s.chooses("41", "last")
	s.pulls("7", "100")
	s.do(domain.Again{Hook: s.class.OnTrack().ID, Reason: "sled broke for good", Next: s.id()})
	assert.Equal(t, "41", s.onTrack())
	s.pulls("41", "absent")
	s.refuse(domain.Correct{Hook: s.class.Rounds[0].Hooks[0].ID, Result: result(t, "200"), Reason: "judges", Next: s.id()},
		domain.WrongState, "correct the one that counts")
	s.corrects("41", "1", "200")
	s.stands("1 41", "2 7")
}

func TestACorrectionMayOpenAChoiceWhileNobodyWasCalled(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft", test()), "41")
	s.pulls("41", "80")
	s.decided()
	s.corrects("41", "1", "60")
	assert.Equal(t, "keep now", s.options("41"), "stopped before the restart line after all")
	s.chooses("41", "now")
	s.pulls("41", "90")
	s.decided()
}

func TestACorrectionThatLeavesNoChoiceCallsTheNext(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7")
	s.pulls("41", "30")
	s.options("41")
	s.corrects("41", "1", "FP 301")
	assert.Nil(t, s.class.Pending(), "the choice is gone")
	assert.Equal(t, "7", s.onTrack(), "and the next puller is up")
}

func TestACorrectionAfterTheNextWasCalledOpensNoChoice(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	s.pulls("41", "30")
	s.corrects("41", "1", "10")
	assert.Equal(t, "7", s.onTrack())
	s.pulls("7", "40")
	s.decided()
}

func TestACorrectedFullPullerComesBackToThePullOff(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7", "23")
	s.pulls("41", "FP")
	s.pulls("7", "99.98")
	s.pulls("23", "FP")
	s.opens("P1", "41", "23")
	s.pulls("41", "50")
	s.corrects("7", "1", "100")
	assert.Equal(t, "23", s.onTrack())
	assert.Equal(t, []string{"7"}, s.waiting())
	assert.Equal(t, "brought in by a correction: sheet misread", slot(s, "7").Note)
	s.pulls("23", "49")
	s.pulls("7", "51")
	s.decided()
	s.stands("1 7", "2 41", "3 23")
}

func TestACorrectionAfterThePullOffCallsWhoWasForgotten(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7", "23")
	s.pulls("41", "FP")
	s.pulls("7", "99.98")
	s.pulls("23", "FP")
	s.opens("P1", "41", "23")
	s.pulls("41", "50")
	s.pulls("23", "49")
	s.decided()
	s.corrects("7", "1", "FP")
	assert.Equal(t, "7", s.onTrack())
	s.pulls("7", "49.5")
	s.decided()
	s.stands("1 41", "2 7", "3 23")
}

func TestWhoIsNoFullPullerAfterAllIsTakenOutOfThePullOff(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7", "23")
	for _, number := range []string{"41", "7", "23"} {
		s.pulls(number, "FP")
	}
	s.opens("P1", "41", "7", "23")
	s.corrects("23", "1", "98")
	assert.Equal(t, []string{"7"}, s.waiting())
	assert.True(t, slot(s, "23").Out)
	assert.Equal(t, "taken out by a correction: sheet misread", slot(s, "23").Note)
	s.corrects("23", "1", "FP 100.1")
	assert.Equal(t, []string{"7", "23"}, s.waiting(), "a correction that was wrong can be corrected")
	assert.False(t, slot(s, "23").Out)
	s.pulls("41", "50")
	s.pulls("7", "51")
	s.pulls("23", "52")
	s.corrects("7", "1", "DQ")
	s.decided()
	s.stands("1 23", "2 41", "- 7")
	assert.Equal(t, "51", s.hook("7", "P1").Result.String(), "what was hooked stays on record, and counts for nothing")
	s.do(domain.ResetSetting{Round: s.class.Current().ID, Reason: "sled too heavy"})
	assert.Equal(t, []string{"41", "23"}, s.waiting(), "also when the pull-off restarts")
}

// A correction takes the finalist on the track out, who then stops before the restart line: nobody is called again.
func TestWhoIsTakenOutOnTheTrackHooksNoMore(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m", func(r *domain.RuleSet) { r.PullOff.SecondAttempt = true }), "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.opens("P1", "41", "7")
	s.pulls("41", "50")
	s.corrects("7", "1", "99")
	s.do(domain.SecondAttempt{Hook: s.class.OnTrack().ID, Next: s.id()})
	s.decided()
	s.stands("1 41", "2 7")
}

// Two full pulls are corrected to one distance short of the line after their pull-off: they share the place as any two
// who were never in one, and what they pulled in it brings on no further pull-off.
func TestWhoWasTakenOutOfThePullOffIsInNoFurtherOne(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m", toLine), "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.opens("P1", "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.corrects("41", "1", "99.99")
	s.corrects("7", "1", "99.99")
	s.decided()
	s.stands("1= 7", "1= 41")
}

func TestOneFullPullerLeftByACorrectionNeedNotPull(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.do(domain.OpenRound{Round: s.id(), Name: round(t, "P1")})
	s.corrects("7", "1", "99")
	s.decided()
	s.stands("1 41", "2 7")
	s.corrects("7", "1", "FP")
	assert.Equal(t, []string{"41", "7"}, s.waiting())
	s.freeze()
	s.call()
	s.pulls("41", "30")
	s.pulls("7", "31")
	s.decided()
	s.stands("1 7", "2 41")
}

// While the second pull-off is under way it turns out that the first one was no tie.
func TestACorrectedPullOffDissolvesTheNext(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m", toLine), "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.opens("P1", "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.opens("P2", "41", "7")
	s.pulls("41", "3")
	s.corrects("7", "P1", "99.5")
	assert.Equal(t, "7", s.onTrack(), "who is on the track pulls")
	s.pulls("7", "90")
	s.decided()
	s.stands("1 41", "2 7")
}

// A full puller does not come back for the second round where the better one counts; one by mistake does.
func TestACorrectionChangesWhoIsInTheSecondRound(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "best-of-two-100m"), "41", "7", "23", "12")
	s.pulls("41", "FP")
	s.pulls("7", "83.91")
	s.pulls("23", "90")
	s.pulls("12", "91")
	s.opens("2", "7", "23", "12")
	s.corrects("41", "1", "99.5")
	assert.Equal(t, []string{"23", "12", "41"}, s.waiting(), "may still better it")
	s.corrects("23", "1", "FP")
	assert.Equal(t, []string{"12", "41"}, s.waiting(), "cannot better it any more")
	s.pulls("7", "80")
	s.pulls("12", "80")
	s.pulls("41", "99.6")
	s.decided()
	s.stands("1 23", "2 41", "3 12", "4 7")
	s.corrects("7", "2", "FP")
	s.corrects("12", "1", "92")
	s.do(domain.ResetSetting{Round: s.class.Current().ID, Reason: "sled too light"})
	assert.Equal(t, []string{"41", "7", "12"}, s.waiting(), "a full pull in the round itself takes nobody out of it; the class order holds again")
}

func TestACorrectionInTheFirstRoundOfASumLeavesTheSecondAsItIs(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "sum-of-two-100m"), "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "80")
	s.opens("2", "41", "7")
	s.corrects("41", "1", "70")
	s.pulls("41", "60")
	s.pulls("7", "51")
	s.decided()
	s.stands("1 7", "2 41")
}

// Who was in a pull-off by mistake has nothing to show for it: "nothing else breaks a tie".
func TestAPullOffPulledByMistakeBreaksNoTie(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "7", "23", "12")
	s.pulls("7", "FP")
	s.pulls("23", "FP")
	s.pulls("12", "299.98")
	s.opens("P1", "7", "23")
	s.pulls("7", "310")
	s.corrects("7", "1", "299.98")
	s.pulls("23", "305")
	s.decided()
	s.stands("1 23", "2= 7", "2= 12")
}
