package domain_test

import (
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// drops gives a puller in trouble that many places; 0 means to the last place.
func drops(places int) func(*domain.RuleSet) {
	return func(r *domain.RuleSet) { r.DropPlaces = places }
}

func TestNextPullerIsUpAsSoonAsAResultIsStored(t *testing.T) {
	t.Parallel()
	s := drawn(t, set(t, "capped-100m"), "41", "7", "23")
	assert.Equal(t, domain.SettingDue, s.class.Phase())
	s.freeze()
	assert.Equal(t, domain.Ready, s.class.Phase())
	s.call()
	assert.Equal(t, domain.Hooking, s.class.Phase())
	for i, number := range []string{"41", "7", "23"} {
		h := s.class.OnTrack()
		assert.Equal(t, i+1, h.Number)
		assert.Equal(t, 1, h.Attempt)
		assert.Equal(t, 1, h.Revision)
		assert.Equal(t, s.clock, h.Called)
		assert.True(t, h.Ended.IsZero())
		s.pulls(number, "50")
		assert.Equal(t, s.clock, s.hook(number, "1").Ended)
	}
	assert.Equal(t, domain.Decided, s.class.Phase())
	s.refuse(domain.Call{Hook: s.id()}, domain.WrongState, "everybody in this round has hooked")
}

func TestOnePullerIsOnTheTrack(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	s.refuse(domain.Call{Hook: s.id()}, domain.WrongState, "number 41 is on the track")
	s.refuse(domain.Record{Hook: s.class.OnTrack().ID, Result: resultIn(t, "50", domain.Metre)}, domain.Invalid, "the next hook has no id")
	s.refuse(domain.Record{Hook: s.id(), Result: resultIn(t, "50", domain.Metre), Next: s.id()}, domain.WrongState, "is not on the track")
	assert.Equal(t, "41", s.onTrack())
}

// Two scorers stored the same hook: the second is told, and nothing is stored twice.
func TestAPageThatIsBehindIsTold(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	stale := s.record("50")
	s.pulls("41", "50.1")
	s.refuse(stale, domain.Stale, "a result for that hook is stored already")
	var told *domain.Error
	require.ErrorAs(t, s.decide(stale), &told)
	assert.Equal(t, "number 41 has 50.1: leave it, or correct it", told.Fix, "with the value that was first")
	s.refuse(domain.Drop{Hook: stale.Hook, Reason: "belt", Next: s.id()}, domain.Stale, "stored already")
	assert.Equal(t, "50.1", s.hook("41", "1").Result.String())
}

func TestAResultMustFitTheRules(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7")
	for written, says := range map[string]string{
		"FP 299.9": "lies below the full-pull line", "83.91 m": "is not in the unit", "void": "does not count", "rehook": "does not count",
		"DQ": "the reason of the disqualification is missing", "DQ " + strings.Repeat("x", 201): "longer than 200 characters",
	} {
		s.refuse(s.record(written), domain.Invalid, says)
	}
	s.refuse(domain.Record{Hook: s.class.OnTrack().ID, Next: s.id()}, domain.Invalid, "does not count")
	assert.Equal(t, "41", s.onTrack())
}

func TestADisqualificationCountsAndKeepsItsReason(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	s.pulls("41", "DQ   crossed the side line ")
	s.pulls("7", "0")
	assert.Equal(t, "crossed the side line", s.hook("41", "1").Result.Reason)
	s.stands("1 7", "- 41")
}

func TestAFullPullIsStoredWithAndWithoutItsFigure(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7", "23")
	s.pulls("41", "FP 104.10")
	s.pulls("7", "100.00")
	s.pulls("23", "99.99")
	assert.Equal(t, "FP 104.10", s.hook("41", "1").Result.String())
	assert.Equal(t, "FP 100.00", s.hook("7", "1").Result.String(), "at the line is a full pull")
	s.stands("1= 7", "1= 41", "3 23")
}

func TestWhoDidNotHookHasNoPlace(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	s.pulls("41", "absent broke in the pits")
	s.pulls("7", "30")
	s.stands("1 7", "- 41")
	s.do(domain.Again{Hook: s.hook("41", "1").ID, Reason: "was at the scales by our mistake", Next: s.id()})
	s.pulls("41", "31")
	s.stands("1 41", "2 7")
}

// A re-pull caused by equipment: at once (GPP 5), or some places later to cool down (RENEG 6: 4, CHEL 7: 3).
func TestAReHookForTheSledIsAtOnceOrAFewPlacesLater(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7", "23", "12", "19")
	s.do(domain.Again{Hook: s.class.OnTrack().ID, Reason: "box not home", Next: s.id()})
	assert.Equal(t, "41", s.onTrack(), "at once")
	s.do(domain.Again{Hook: s.class.OnTrack().ID, Reason: "push-down stuck", Places: 2, Next: s.id()})
	assert.Equal(t, "7", s.onTrack())
	assert.Equal(t, []string{"23", "41", "12", "19"}, s.waiting())
	for _, h := range s.class.Rounds[0].Hooks[:2] {
		assert.Equal(t, domain.Rehooked, h.Result.Outcome)
		assert.False(t, h.Ended.IsZero())
	}
	assert.Equal(t, "dropped 2 to cool down", slot(s, "41").Note)
	s.pulls("7", "30")
	s.pulls("23", "31")
	s.pulls("41", "32")
	assert.Equal(t, 1, s.hook("41", "1").Attempt, "the sled's fault costs no attempt")
}

// slot is the place of a number in the line-up of the current round.
func slot(s *story, number string) domain.Slot {
	for _, slot := range s.class.Current().Lineup {
		if slot.Entry == s.entry(number) {
			return slot
		}
	}
	s.t.Fatalf("number %s is not in the line-up", number)
	return domain.Slot{}
}

func TestAReHookHasLimits(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7", "23")
	hook := s.class.OnTrack().ID
	s.refuse(domain.Again{Hook: hook, Reason: "sled", Places: 5, Next: s.id()}, domain.Invalid, "may drop 0 to 4 places")
	s.refuse(domain.Again{Hook: hook, Reason: "sled", Places: -1, Next: s.id()}, domain.Invalid, "may drop 0 to 4 places")
	s.refuse(domain.Again{Hook: hook, Reason: " ", Next: s.id()}, domain.Invalid, "the reason is missing")
	s.refuse(domain.Again{Hook: s.id(), Reason: "sled", Next: s.id()}, domain.NotFound, "not in the current round")
	s.do(domain.Again{Hook: hook, Reason: "sled", Places: 4, Next: s.id()})
	assert.Equal(t, []string{"23", "41"}, s.waiting(), "fewer than four are left: after the last")
	s.refuse(domain.Again{Hook: hook, Reason: "sled", Next: s.id()}, domain.WrongState, "does not count already")
}

func TestAFinishedHookMayBeRepeatedWhileAnotherIsOnTheTrack(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7", "23")
	s.pulls("41", "60")
	s.do(domain.Again{Hook: s.hook("41", "1").ID, Reason: "laser misread", Next: s.id()})
	assert.Equal(t, "7", s.onTrack(), "whoever is on the track stays there")
	assert.Equal(t, []string{"41", "23"}, s.waiting())
	s.stands("- 7", "- 23", "- 41")
	s.pulls("7", "50")
	s.pulls("41", "61")
	s.pulls("23", "20")
	s.stands("1 41", "2 7", "3 23")
	assert.Equal(t, "60 m", s.class.Rounds[0].Hooks[0].Result.Distance.String(), "what was measured stays on record")
}

func TestTheLastHookMayBeRepeatedBeforeTheNextRoundOpens(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	assert.Equal(t, domain.PullOffDue, s.class.Phase())
	s.do(domain.Again{Hook: s.hook("7", "1").ID, Reason: "sled", Next: s.id()})
	assert.Equal(t, "7", s.onTrack(), "the round is open again")
	s.pulls("7", "90")
	assert.Equal(t, domain.Decided, s.class.Phase())
	s.stands("1 41", "2 7")
}

func TestAnEarlierRoundIsNotHookedAgain(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.opens("P1", "41", "7")
	s.refuse(domain.Again{Hook: s.hook("7", "1").ID, Reason: "sled", Next: s.id()}, domain.NotFound, "not in the current round")
}

// A repeated test hook is a test hook again: the sled still has to be tried.
func TestARepeatedTestHookIsATestHookAgain(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7")
	s.do(domain.Again{Hook: s.class.OnTrack().ID, Reason: "sled stalled", Next: s.id()})
	assert.True(t, s.class.OnTrack().Test)
	s.pulls("41", "200")
	assert.Equal(t, "keep last", s.options("41"))
}

// Mechanical trouble: to last (CARP 5, SNUB 6, AMPI 7), or a number of places (NK 5: 2).
func TestAPullerInTroubleDropsToLast(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7", "23")
	s.do(domain.Drop{Hook: s.class.OnTrack().ID, Reason: "broken belt", Next: s.id()})
	assert.Equal(t, "7", s.onTrack())
	assert.Equal(t, []string{"23", "41"}, s.waiting())
	assert.Equal(t, "dropped to last: broken belt", slot(s, "41").Note)
	assert.Equal(t, "gave up the call: broken belt", s.class.Rounds[0].Hooks[0].Result.Reason)
	s.refuse(domain.Drop{Hook: s.class.OnTrack().ID, Places: 1, Reason: "belt", Next: s.id()}, domain.Invalid, "drops to the last place")
	s.refuse(domain.Drop{Hook: s.class.OnTrack().ID, Places: -1, Reason: "belt", Next: s.id()}, domain.Invalid, "drops to the last place")
	s.pulls("7", "30")
	s.pulls("23", "31")
	s.pulls("41", "32")
	s.stands("1 41", "2 23", "3 7")
}

func TestAPullerInTroubleDropsAsManyPlacesAsTheRulesAllow(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m", drops(2)), "41", "7", "23", "12")
	hook := s.class.OnTrack().ID
	for _, places := range []int{0, 3, -1} {
		s.refuse(domain.Drop{Hook: hook, Places: places, Reason: "belt", Next: s.id()}, domain.Invalid, "may drop 1 to 2 places")
	}
	s.refuse(domain.Drop{Hook: hook, Places: 2, Next: s.id()}, domain.Invalid, "the reason is missing")
	s.do(domain.Drop{Hook: hook, Places: 2, Reason: "belt", Next: s.id()})
	assert.Equal(t, []string{"23", "41", "12"}, s.waiting())
	assert.Equal(t, "dropped 2: belt", slot(s, "41").Note)
}

func TestTheLastPullerCannotDrop(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41")
	s.refuse(domain.Drop{Hook: s.class.OnTrack().ID, Reason: "belt", Next: s.id()}, domain.WrongState, "nobody else is waiting")
	s.refuse(domain.Drop{Hook: uuid.Nil, Reason: "belt", Next: s.id()}, domain.WrongState, "is not on the track")
}

func TestADropCostsNoAttempt(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	s.pulls("41", "12")
	s.chooses("41", "now")
	s.do(domain.Drop{Hook: s.class.OnTrack().ID, Reason: "belt", Next: s.id()})
	s.pulls("7", "50")
	assert.Equal(t, 2, s.class.OnTrack().Attempt, "and gives none back")
	s.pulls("41", "13")
	assert.Equal(t, domain.Decided, s.class.Phase())
	s.stands("1 7", "2 41")
}

func TestHooksAlwaysPointToTheSettingThatWasOpen(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7", "23")
	s.pulls("41", "50")
	s.do(domain.ResetSetting{Round: s.class.Current().ID, Reason: "sled too light"})
	s.freeze()
	s.call()
	for _, number := range []string{"41", "7", "23"} {
		assert.Equal(t, 2, s.class.OnTrack().Revision)
		s.pulls(number, "40")
	}
	assert.Equal(t, 1, s.class.Rounds[0].Hooks[0].Revision, "an earlier hook keeps its own")
	require.Equal(t, 2, s.hook("41", "1").Revision)
}
