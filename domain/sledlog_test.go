package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

// A log of a sled tells its pulls, full pulls and faults of a class, computed from the hooks: a re-hook because of the sled
// is a pull and a fault, a call that was given up and an absence are neither.
func TestWhatASledDidInAClass(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m", func(r *domain.RuleSet) { r.Reset = domain.KeepHooks }), "41", "7", "23", "9")
	assert.Zero(t, s.class.SledWork(), "nothing was pulled")
	first := s.class.OnTrack().ID
	s.pulls("41", "FP")
	s.do(domain.NoteDifference{Hook: first, What: domain.HandDrop, Words: "pan hung"})
	second := s.class.OnTrack().ID
	s.pulls("7", "60")
	s.do(domain.Again{Hook: second, Reason: "sled, light went red by itself", Next: s.id()})
	s.do(domain.Drop{Hook: s.class.OnTrack().ID, Reason: "belt", Next: s.id()})
	s.pulls("7", "62.5")
	s.pulls("9", "DQ not ready")
	s.pulls("23", "absent")
	work := s.class.SledWork()
	assert.Equal(t, []int{3, 1, 1}, []int{work.Hooks, work.FullPulls, work.HandDrops}, "41, and 7 twice")
	one := domain.RoundName{Number: 1}
	assert.Equal(t, []domain.SledFault{
		{Round: one, Hook: 1, Entry: "41", Difference: domain.Difference{What: domain.HandDrop, Words: "pan hung"}},
		{Round: one, Hook: 2, Entry: "7", Rehook: "sled, light went red by itself"},
	}, work.Faults)
	assert.Empty(t, work.Resets)

	s = begun(t, set(t, "capped-100m", func(r *domain.RuleSet) { r.Reset = domain.KeepHooks }), "41", "7", "23")
	s.pulls("41", "50")
	s.do(domain.Again{Hook: s.class.OnTrack().ID, Reason: "official: red by mistake", Next: s.id()})
	s.pulls("7", "60")
	s.do(domain.ResetSetting{Round: s.class.Current().ID, Reason: "too light"})
	work = s.class.SledWork()
	require.Len(t, work.Resets, 1)
	assert.Equal(t, domain.SledReset{Round: one, Revision: 2, Reason: "too light", At: s.clock}, work.Resets[0])
	assert.Empty(t, work.Faults, "an official's re-hook is no fault of the sled")
}

// Two classes add up, and neither is changed by it.
func TestTheWorkOfClassesAddsUp(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		draw := rapid.Custom(func(t *rapid.T) domain.SledWork {
			n := rapid.IntRange(0, 9)
			return domain.SledWork{Hooks: n.Draw(t, "hooks"), FullPulls: n.Draw(t, "full"), HandDrops: n.Draw(t, "drops"),
				Faults: make([]domain.SledFault, n.Draw(t, "faults")), Resets: make([]domain.SledReset, n.Draw(t, "resets"))}
		})
		a, b := draw.Draw(t, "a"), draw.Draw(t, "b")
		sum := a.Plus(b)
		require.Equal(t, a.Hooks+b.Hooks, sum.Hooks)
		require.Equal(t, a.FullPulls+b.FullPulls, sum.FullPulls)
		require.Equal(t, a.HandDrops+b.HandDrops, sum.HandDrops)
		require.Len(t, sum.Faults, len(a.Faults)+len(b.Faults))
		require.Len(t, sum.Resets, len(a.Resets)+len(b.Resets))
	})
}
