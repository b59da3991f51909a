package domain_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

// gives is a floating class with the points and the purse of a club: 10, 9, 8 for the places, 5 for the hook, 2 for coming
// and 1 for having paid; half of the fees to the first place.
func gives(t testing.TB, changes ...func(*domain.RuleSet)) domain.RuleSet {
	return set(t, "floating-m", append([]func(*domain.RuleSet){func(r *domain.RuleSet) {
		r.Points = book(func(p *domain.PointsRule) {
			p.Hook, p.ShowUp, p.Registration, p.Stopped, p.NotRun = 5, 2, 1, domain.AwardShowUp, domain.AwardShowUp
		})
		r.Purse = domain.PurseRule{Guests: domain.GuestsPaid, Share: 50, Stopped: domain.PurseEqual}
	}}, changes...)...)
}

// earned writes what each entry got, in the order entered: "41 place 10 show-up 2 hook 5 = 17, 20.00".
func earned(c *domain.Class) []string {
	reward := c.Reward()
	told := make([]string, len(c.Entries))
	for i, e := range c.Entries {
		got := reward.Earned[i]
		told[i] = fmt.Sprintf("%s %s+%s+%s+%s %s%s", e.Number, got.ForPlace, got.ForShowUp, got.ForHook, got.ForRegistration, reward.Payout.Paid[i], because(got.Why))
	}
	return told
}

func because(why string) string {
	if why == "" {
		return ""
	}
	return ", " + why
}

// The same figures as a class sheet and an entries file give, from a class that was pulled here.
func TestAClassGivesPointsAndPurse(t *testing.T) {
	t.Parallel()
	s := begun(t, gives(t), "41", "7", "23", "9")
	assert.False(t, s.class.Rewards(), "nothing is told before the class is decided")
	fee := domain.Attendance{Came: true, Fee: 2000, Paid: true}
	owes := domain.Attendance{Came: true, Fee: 2000}
	guest := domain.Attendance{Guest: true, Came: true, Fee: 2000, Paid: true}
	s.do(domain.Attend{Entries: []domain.Attended{s.attends("41", fee), s.attends("7", guest), s.attends("23", owes)}})
	s.all("1", "80 90 70 absent")
	require.True(t, s.class.Rewards())
	assert.Equal(t, domain.Pulled, s.class.Ending())
	assert.Equal(t, []string{
		"41 10+2+5+1 0.00",
		"7 0+0+0+0 20.00, guest",
		"23 9+2+5+0 0.00",
		"9 0+0+0+0 0.00, not there",
	}, earned(&s.class), "a guest wins the money and moves nobody's points; who was never seen gets none")

	s.do(domain.Attend{Entries: []domain.Attended{s.attends("9", domain.Attendance{Came: true})}})
	assert.Equal(t, "9 0+2+0+0 0.00, did not hook", earned(&s.class)[3], "who came and did not hook gets the points for coming")
}

// Whoever hooked was there, whether somebody ticked it or not.
func TestAHookIsProofOfComing(t *testing.T) {
	t.Parallel()
	s := begun(t, gives(t), "41", "7")
	s.all("1", "80 DQ")
	assert.Equal(t, []string{"41 10+2+5+0 0.00", "7 0+2+5+0 0.00, disqualified"}, earned(&s.class))
	for _, c := range s.class.Competitors() {
		assert.True(t, c.Present)
	}
}

// MMTT: a class that was stopped, and one that was not begun; its purse is divided equally among all who were there.
func TestPointsOfAClassThatCameToNoEnd(t *testing.T) {
	t.Parallel()
	came := domain.Attendance{Came: true, Fee: 1000, Paid: true}
	rain := func(results string) *story {
		s := begun(t, gives(t, func(r *domain.RuleSet) { r.Stopped = domain.CompleteRounds }), "41", "7", "23")
		s.do(domain.Attend{Entries: []domain.Attended{s.attends("41", came), s.attends("7", came)}})
		if results != "" {
			s.all("1", results)
		}
		s.do(domain.StopClass{Reason: "rain"})
		return s
	}
	begun := rain("80")
	require.True(t, begun.class.Rewards())
	assert.Equal(t, domain.StoppedEarly, begun.class.Ending())
	assert.Equal(t, []string{"41 0+2+0+0 5.00, class stopped", "7 0+2+0+0 5.00, class stopped", "23 0+0+0+0 0.00, not there"}, earned(&begun.class))

	waited := rain("")
	assert.Equal(t, domain.NeverRun, waited.class.Ending(), "a call that was given up is no hook")
	assert.Equal(t, []string{"41 0+2+0+0 0.00, class not run", "7 0+2+0+0 0.00, class not run", "23 0+0+0+0 0.00, not there"}, earned(&waited.class))
	assert.Equal(t, domain.NeverRun, (&drawn(t, gives(t), "41").class).Ending())
}

// Where the places so far stand, a hook of a round that does not stand was made all the same.
func TestAHookOfARoundThatDoesNotStandWasMade(t *testing.T) {
	t.Parallel()
	s := begun(t, gives(t, func(r *domain.RuleSet) { r.Points.Stopped, r.Stopped = domain.AwardPlace, domain.CompleteRounds }), "41", "7")
	s.all("1", "80")
	s.do(domain.StopClass{Reason: "rain"})
	assert.Equal(t, "41 0+2+5+0 0.00", earned(&s.class)[0], "no place, and the points of the hook")
}

func TestAClassWithoutPointsOrPurseTellsNone(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "floating-m"), "41")
	s.all("1", "80")
	assert.False(t, s.class.Rewards())
	assert.Zero(t, s.class.Reward().Earned[0].Total())
	absent := begun(t, gives(t), "41")
	absent.all("1", "absent")
	assert.Equal(t, domain.Pulled, absent.class.Ending(), "nobody who was called came, and it was run")
}

// Whatever is pulled, and whoever came or paid: what is paid and kept is the purse to the cent, nobody who was not there
// gets anything, and a guest gets no points.
func TestRewardsAddUp(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		s := begun(t, gives(t), "41", "7", "23")
		for _, number := range []string{"41", "7", "23"} {
			s.do(domain.Attend{Entries: []domain.Attended{s.attends(number, domain.Attendance{
				Guest: rapid.Bool().Draw(r, "guest"), Came: rapid.Bool().Draw(r, "came"), Paid: rapid.Bool().Draw(r, "paid"),
				Fee: domain.Money(rapid.IntRange(0, 5000).Draw(r, "fee")),
			})}})
		}
		for range 3 {
			s.do(s.record(rapid.SampledFrom([]string{"80", "80", "90", "70", "DQ conduct", "absent"}).Draw(r, "result")))
		}
		reward := s.class.Reward()
		var paid domain.Money
		for i, c := range reward.Competitors {
			paid += reward.Payout.Paid[i]
			if c.Guest || !c.Present {
				require.Zero(r, reward.Earned[i].Total())
			}
			if !c.Present {
				require.Zero(r, reward.Payout.Paid[i])
			}
		}
		require.Equal(r, reward.Payout.Purse, paid+reward.Payout.Kept)
	})
}
