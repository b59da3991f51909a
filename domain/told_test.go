package domain_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"clayline/domain"
)

// A rule set may have the test puller choose before the distance is told. Till then nothing that is made of the class as
// it is told has the figure; the class itself goes on as ever.
func TestADistanceIsKeptBackTillTheChoice(t *testing.T) {
	t.Parallel()
	before := func(r *domain.RuleSet) { r.Test.BeforeDistance = true }
	s := begun(t, set(t, "capped-300ft", before), "41", "7")
	assert.False(t, s.class.KeptBack(), "nothing is measured")
	s.pulls("41", "281.36")
	assert.True(t, s.class.KeptBack())
	assert.Equal(t, "281.36", s.hook("41", "1").Result.String(), "the officials have it")
	s.do(domain.ReadSpeed{Hook: s.class.Current().Hooks[0].ID, AtLine: velocity(t, "12 mph")})
	told := s.class.Told()
	assert.Zero(t, told.Current().Hooks[0].Speeds, "a speed at the line would tell how far it went")
	assert.Equal(t, s.class.Pending().Hook.ID, told.OnTrack().ID)
	assert.False(t, told.OnTrack().Ended.IsZero(), "it is not being pulled")
	for _, p := range told.Standing() {
		assert.Zero(t, p.Place)
		assert.True(t, p.Total.IsZero())
	}
	assert.Equal(t, "281.36", s.hook("41", "1").Result.String(), "the class itself is not changed")

	s.chooses("41", "keep")
	assert.False(t, s.class.KeptBack())
	assert.Equal(t, s.class, s.class.Told())
}

func TestADistanceIsToldWhereNothingKeepsItBack(t *testing.T) {
	t.Parallel()
	known := begun(t, set(t, "capped-300ft"), "41", "7")
	known.pulls("41", "281.36")
	assert.Equal(t, known.class, known.class.Told(), "the choice is made with knowledge of the distance")

	// Whoever is not the test puller chooses about a stop that everybody saw.
	second := begun(t, set(t, "capped-300ft", func(r *domain.RuleSet) { r.Test.BeforeDistance = true }), "41", "7")
	second.pulls("41", "FP")
	second.pulls("7", "60")
	assert.NotNil(t, second.class.Pending())
	assert.False(t, second.class.KeptBack())

	// A class that is stopped while the choice is open waits for none.
	stopped := begun(t, set(t, "capped-300ft", func(r *domain.RuleSet) { r.Test.BeforeDistance = true }), "41", "7")
	stopped.pulls("41", "281.36")
	stopped.do(domain.StopClass{Reason: "rain"})
	assert.False(t, stopped.class.KeptBack())
	stopped.do(domain.ResumeClass{Reason: "dry"})
	assert.True(t, stopped.class.KeptBack())
}

// What a page offers is what the decision takes.
func TestWhoMayBeChosenAndWhereTheLineMayGo(t *testing.T) {
	t.Parallel()
	free := func(r *domain.RuleSet) {
		r.Test.Who = domain.ChosenPuller
		r.Moving = domain.LineRule{Choices: []domain.Distance{distance(t, "320", domain.Foot)}, After: 1}
	}
	s := begun(t, set(t, "capped-300ft", free), "41", "7", "23")
	assert.Empty(t, s.class.TestPullers(), "the test puller is on the track")
	assert.Equal(t, "[320 ft]", fmt.Sprint(s.class.LinesToMoveTo()))
	s.pulls("41", "FP 305")
	assert.Equal(t, "[320 ft]", fmt.Sprint(s.class.LinesToMoveTo()))
	s.do(domain.MoveLine{Line: distance(t, "320", domain.Foot), Reason: "light"})
	assert.Equal(t, "300 ft", s.class.LineWas.String())
	assert.Equal(t, "[300 ft]", fmt.Sprint(s.class.LinesToMoveTo()))
	s.do(domain.MoveLine{Line: distance(t, "300", domain.Foot), Reason: "the wrong button"})
	assert.True(t, s.class.LineWas.IsZero(), "it lies where it was planned")
	s.pulls("7", "280")
	assert.Empty(t, s.class.LinesToMoveTo())
	assert.Empty(t, s.class.TestPullers())

	early := drawn(t, set(t, "capped-300ft", free), "41", "7", "23")
	assert.Len(t, early.class.TestPullers(), 2, "everybody but the first, who is it already")
	fixed := drawn(t, set(t, "capped-300ft"), "41", "7")
	assert.Empty(t, fixed.class.TestPullers())
	assert.Empty(t, fixed.class.LinesToMoveTo())
	var none domain.Class
	assert.Empty(t, none.TestPullers())
	assert.Empty(t, none.LinesToMoveTo())
}
