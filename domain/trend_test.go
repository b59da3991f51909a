package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"clayline/domain"
)

// inFeet are distances as [domain.Class.InHookOrder] gives them, in feet.
func inFeet(nanometres []int64) (list []float64) {
	for _, d := range nanometres {
		list = append(list, float64(d)/304_800_000)
	}
	return list
}

// A trend is asked about what was hooked, in the order in which it was hooked: full pulls are equal at the line, whoever
// has no distance is left out, and a re-hook stands where it was made.
func TestDistancesInHookOrder(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft", func(r *domain.RuleSet) { r.Test, r.RehookDrop = domain.TestRule{}, 4 }), "41", "7", "23", "12", "5")
	s.do(domain.Again{Hook: s.class.OnTrack().ID, Reason: "the light went red by itself", Places: 2, Next: s.id()})
	s.pulls("7", "FP 312.4")
	s.pulls("23", "DQ out of bounds")
	assert.Nil(t, s.class.InHookOrder(0), "the round is not over")
	s.pulls("41", "281.5")
	s.pulls("12", "263.25")
	assert.Nil(t, s.class.InHookOrder(0), "one is on the track")
	s.pulls("5", "FP")
	assert.Equal(t, []float64{300, 281.5, 263.25, 300}, inFeet(s.class.InHookOrder(0)))
	s.opens("P1", "7", "5")
	s.pulls("7", "310")
	s.pulls("5", "250.5")
	assert.Equal(t, []float64{310, 250.5}, inFeet(s.class.InHookOrder(1)), "past the line a pull-off is measured")
	assert.Len(t, s.class.InHookOrder(0), 4)
}

// Against two settings distances do not compare, so that nothing is said of them.
func TestNoTrendOverTwoSettings(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft", keepHooks), "41", "7")
	s.pulls("41", "200")
	s.chooses("41", "keep")
	s.do(domain.ResetSetting{Round: s.class.Current().ID, Reason: "box rail bent"})
	s.freeze()
	s.call()
	s.pulls("7", "190")
	s.chooses("7", "keep")
	s.decided()
	assert.True(t, s.class.Rounds[0].TwoSettings())
	assert.Nil(t, s.class.InHookOrder(0))
}
