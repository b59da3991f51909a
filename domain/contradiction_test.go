package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// Published rule books contradict each other. Each test here tells the same story twice, under the one and the other,
// and the two end differently. docs/rules.md says which book says what.

func TestADisqualifiedTestPuller(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		book    string
		afterDQ bool
		stands  []string
	}{
		{"TWOR, GPP, RENEG: may hook again", true, []string{"1 41", "2 7"}},
		{"GSRT: has lost the second pull", false, []string{"1 7", "- 41"}},
	} {
		t.Run(row.book, func(t *testing.T) {
			t.Parallel()
			s := begun(t, set(t, "capped-300ft", func(r *domain.RuleSet) { r.Test.AfterDQ = row.afterDQ }), "41", "7")
			s.pulls("41", "DQ lost a weight")
			if row.afterDQ {
				s.chooses("41", "last")
			}
			s.pulls("7", "200")
			if row.afterDQ {
				s.pulls("41", "201")
			}
			s.decided()
			s.stands(row.stands...)
		})
	}
}

func TestASledThatWasChangedAfterTwoHooks(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		book    string
		reset   domain.ResetEffect
		waiting []string
		two     bool
	}{
		{"MAM, TWOR, AMPI: the class restarts", domain.Restart, []string{"41", "7", "23"}, false},
		{"CHEL, GPP: the next is the new test puller", domain.KeepHooks, []string{"23"}, true},
	} {
		t.Run(row.book, func(t *testing.T) {
			t.Parallel()
			s := begun(t, set(t, "capped-300ft", func(r *domain.RuleSet) { r.Reset = row.reset }), "41", "7", "23")
			s.pulls("41", "290")
			s.chooses("41", "keep")
			s.pulls("7", "299")
			s.do(domain.ResetSetting{Round: s.class.Current().ID, Reason: "sled too light"})
			assert.Equal(t, row.waiting, s.waiting())
			s.freeze()
			s.call()
			assert.True(t, s.class.OnTrack().Test)
			for _, number := range row.waiting {
				s.pulls(number, "250")
				if number == row.waiting[0] {
					s.chooses(number, "keep")
				}
			}
			s.decided()
			assert.Equal(t, row.two, s.class.Current().TwoSettings())
		})
	}
}

// NL-VP: the next has the test pull, and the previous one must pull again: kept hooks and one re-hook.
func TestASledThatWasChangedAndOnlyThePreviousPullsAgain(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m", keepHooks), "41", "7", "23")
	s.pulls("41", "90")
	s.do(domain.ResetSetting{Round: s.class.Current().ID, Reason: "sled too light"})
	s.do(domain.Again{Hook: s.hook("41", "1").ID, Reason: "setting changed", Places: 1, Next: s.id()})
	assert.Equal(t, []string{"7", "41", "23"}, s.waiting())
	s.freeze()
	s.call()
	s.pulls("7", "80")
	s.pulls("41", "81")
	s.pulls("23", "82")
	s.decided()
	s.stands("1 23", "2 41", "3 7")
	assert.False(t, s.class.Current().TwoSettings(), "all that counts was pulled against one setting")
}

func TestAFullPullerWhoDoesNotComeBack(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		result string
		absent domain.AbsentFinalist
		stands []string
	}{
		{"Sweden: after those who pulled off", domain.LastOfPullOff, []string{"1 7", "2 41", "3 23"}},
		{"Italy: withdrawn", domain.Withdrawn, []string{"1 7", "2 23", "- 41"}},
	} {
		t.Run(row.result, func(t *testing.T) {
			t.Parallel()
			s := begun(t, set(t, "capped-100m", func(r *domain.RuleSet) { r.PullOff.Absent = row.absent }), "41", "7", "23")
			s.pulls("41", "FP")
			s.pulls("7", "FP")
			s.pulls("23", "83.91")
			s.opens("P1", "41", "7")
			s.pulls("41", "absent")
			s.pulls("7", "20")
			s.decided()
			s.stands(row.stands...)
		})
	}
}

func TestAPullOffThatIsPulledOutTheEnd(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		book   string
		toLine bool
		next   string
	}{
		{"NK, CH, FR-TP: the figure counts past the line", false, ""},
		{"SNUB and a Swiss club: again, until it is decided", true, "P2"},
	} {
		t.Run(row.book, func(t *testing.T) {
			t.Parallel()
			s := begun(t, set(t, "capped-100m", func(r *domain.RuleSet) { r.PullOff.Capped = row.toLine }), "41", "7")
			s.pulls("41", "FP")
			s.pulls("7", "FP")
			s.opens("P1", "41", "7")
			s.pulls("41", "FP 104.10")
			s.pulls("7", "FP 104.20")
			due, _ := s.class.RoundDue()
			require.Equal(t, row.next, due.String())
			if row.next != "" {
				s.opens("P2", "41", "7")
				s.pulls("41", "50")
				s.pulls("7", "60")
			}
			s.decided()
			s.stands("1 7", "2 41")
		})
	}
}

func TestAPullerInTrouble(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		book          string
		limit, places int
		waiting       []string
	}{
		{"CARP, SNUB, AMPI: to last", 0, 0, []string{"23", "12", "41"}},
		{"NK: two places", 2, 2, []string{"23", "41", "12"}},
	} {
		t.Run(row.book, func(t *testing.T) {
			t.Parallel()
			s := begun(t, set(t, "capped-100m", drops(row.limit)), "41", "7", "23", "12")
			s.do(domain.Drop{Hook: s.class.OnTrack().ID, Places: row.places, Reason: "belt", Next: s.id()})
			assert.Equal(t, "7", s.onTrack())
			assert.Equal(t, row.waiting, s.waiting())
		})
	}
}

func TestAStopBeforeTheRestartLineInTheFinal(t *testing.T) {
	t.Parallel()
	for book, second := range map[string]bool{"NO, SE-RTT, CME: one attempt": false, "NL-VP: a second one": true} {
		t.Run(book, func(t *testing.T) {
			t.Parallel()
			s := begun(t, set(t, "capped-100m", func(r *domain.RuleSet) { r.PullOff.SecondAttempt = second }), "41", "7")
			s.pulls("41", "FP")
			s.pulls("7", "FP")
			s.opens("P1", "41", "7")
			assert.Equal(t, second, s.class.MayRestart())
			s.pulls("41", "19.99")
			assert.Equal(t, second, s.class.Pending() != nil)
		})
	}
}
