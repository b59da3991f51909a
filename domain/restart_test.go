package domain_test

import (
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// A test puller who may hook again at once (BIGIRON 7) and was disqualified (TWOR 18: still may) uses that up: the hook
// that follows counts like any other. http://www.bigironclassic.com/rules.php ; https://tworiversgtpa.com/safety-%26-event
func TestATestHookThatIsGivenUpAtOnceIsNoStopBeforeTheLine(t *testing.T) {
	t.Parallel()
	rules := set(t, "capped-300ft")
	rules.Test = domain.TestRule{Options: []domain.Option{domain.AtOnce}, Until: "before unhooking", AfterDQ: true}
	s := begun(t, rules, "41", "7")
	s.pulls("41", "DQ jerking")
	s.chooses("41", "now")
	again := s.hook("41", "1")
	assert.False(t, again.Test, "the test hook was made")
	assert.Equal(t, 1, again.Attempt, "it was no start that failed")
	s.pulls("41", "60")
	assert.Equal(t, "keep now", s.options("41"), "a first attempt has its restart")
	s.chooses("41", "now")
	s.pulls("41", "50")
	assert.Equal(t, "7", s.onTrack(), "and only one")
}

// "Drop 2" (NK 5) is two places among those who wait, wherever they stand in the list.
// https://nkpullers.wixsite.com/nkpullers/classes-rules
func TestADropCountsThoseWhoWait(t *testing.T) {
	t.Parallel()
	rules := set(t, "floating-ft")
	rules.DropPlaces, rules.Test = 2, domain.TestRule{}
	s := begun(t, rules, "1", "2", "3", "4", "5")
	s.pulls("1", "280")
	s.pulls("2", "281")
	first := s.hook("1", "1")
	s.do(domain.Again{Hook: first.ID, Reason: "sled", Next: s.id()})
	require.Equal(t, "3", s.onTrack())
	s.do(domain.Drop{Hook: s.class.OnTrack().ID, Places: 2, Reason: "belt", Next: s.id()})
	assert.Equal(t, "1", s.onTrack())
	assert.Equal(t, []string{"4", "3", "5"}, s.waiting(), "behind 1 and 4, not behind 5")
}

// A class that restarts after a reset (MAM, TWOR 19, AMPI 9) is pulled in its own order again.
// https://michianaautomania.com/pages/truck-pull-rules ; http://americanminipuller.com/general-track-rules.html
func TestARestartPutsTheLineUpBack(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7", "23")
	s.pulls("41", "270")
	s.chooses("41", "last")
	s.do(domain.Drop{Hook: s.class.OnTrack().ID, Reason: "flat tyre", Next: uuid.New()})
	require.Equal(t, "23", s.onTrack())
	s.do(domain.ResetSetting{Round: s.class.Current().ID, Reason: "two went out the gate"})
	assert.Equal(t, []string{"41", "7", "23"}, s.waiting())
	for _, slot := range s.class.Current().Lineup {
		assert.Empty(t, slot.Note, "nobody is moved any more")
	}
}

// Thirty metres by the throttle, and not for the test pull (NL-VP).
func TestTheRestartLineMayNotHoldOnTheTestHook(t *testing.T) {
	t.Parallel()
	rules := set(t, "capped-100m", func(r *domain.RuleSet) { r.Test = domain.TestRule{NoRestart: true} })
	s := begun(t, rules, "41", "7")
	require.False(t, s.class.MayRestart(), "41 makes the test hook")
	s.refuse(domain.SecondAttempt{Hook: s.class.OnTrack().ID, Next: s.id()}, domain.WrongState, "no second attempt")
	s.pulls("41", "5")
	assert.Equal(t, "7", s.onTrack(), "what the test puller pulled is the result")
	require.True(t, s.class.MayRestart(), "the next hook is no test")
	s.pulls("7", "5")
	assert.Equal(t, "keep now", s.options("7"))
}
