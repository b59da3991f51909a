package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// basis is what the estimate starts from, in a story that has a setting.
func (s *story) basis(round string) domain.EstimateBasis {
	s.t.Helper()
	name := domain.RoundName{}
	if round != "" {
		var err error
		name, err = domain.ParseRoundName(round)
		require.NoError(s.t, err)
	}
	basis, ok := s.class.EstimateBasis(name)
	require.True(s.t, ok)
	return basis
}

// told are the runs of a basis: "41 281.36 ft", with what else ended them.
func (s *story) told(b domain.EstimateBasis) []string {
	var list []string
	for _, r := range b.Runs {
		words := s.class.Entry(r.Entry).Number + " " + r.Result.Outcome.String() + " " + r.Result.Distance.String()
		if r.Ended != "" {
			words += " " + string(r.Ended)
		}
		list = append(list, words)
	}
	return list
}

func TestTheEstimateStartsFromTheHooksOfTheRound(t *testing.T) {
	t.Parallel()
	s := drawn(t, set(t, "capped-300ft", func(r *domain.RuleSet) {
		r.Reasons.Of = map[domain.Cause]domain.Consequence{domain.CauseBreakage: domain.PullEnds, domain.CauseOutOfBounds: domain.MeasuredThere}
	}), "41", "7", "23", "12", "19", "30", "11")
	_, ok := s.class.EstimateBasis(domain.RoundName{})
	assert.False(t, ok, "no setting, no estimate")
	assert.True(t, s.class.Drafting())
	s.freeze()
	assert.False(t, s.class.Drafting(), "it is frozen")
	assert.Empty(t, s.basis("").Runs)
	s.call()
	s.pulls("41", "281.36")
	s.chooses("41", "keep")
	s.pulls("7", "FP 304.2")
	s.pulls("23", "DQ at 160.5 breakage: drive shaft")
	s.pulls("12", "DQ at 201.3 out of bounds")
	s.pulls("19", "DQ too loud")
	s.pulls("30", "absent")
	basis := s.basis("")
	assert.Equal(t, []string{"41 measured 281.36 ft", "7 FP 304.2 ft", "23 measured 160.5 ft broke", "12 measured 201.3 ft stopped"}, s.told(basis))
	assert.Equal(t, []string{"hook 5, number 19: it has no distance"}, basis.Left, "an absence is no hook")
	assert.Equal(t, "300 ft", basis.Line.String())
	assert.True(t, basis.EndsAtLine)
	assert.Equal(t, 1, basis.Revision.Number)
}

// A hook on which something differed was not pulled against the setting alone, and one that broke before it moved says
// nothing at all.
func TestTheEstimateLeavesOutWhatTellsNothing(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft", noRestart, func(r *domain.RuleSet) {
		r.Reasons.Of = map[domain.Cause]domain.Consequence{domain.CauseBreakage: domain.PullEnds}
	}), "41", "7", "23")
	s.pulls("41", "281.36")
	s.chooses("41", "keep")
	what, err := domain.ParseDifferences("hand drop")
	require.NoError(t, err)
	s.do(domain.NoteDifference{Hook: s.class.Rounds[0].Hooks[0].ID, What: what})
	s.pulls("7", "DQ at 0 breakage")
	s.pulls("23", "250")
	basis := s.basis("1")
	assert.Equal(t, []string{"23 measured 250 ft"}, s.told(basis))
	assert.Equal(t, []string{"hook 1, number 41: something differed, hand drop", "hook 2, number 7: it ended before it moved"}, basis.Left)
}

// Under rules that keep hooks over a reset, the newer setting counts: its distances do not compare with the older.
func TestOfTwoSettingsInARoundTheNewerCounts(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft", func(r *domain.RuleSet) { r.Reset = domain.KeepHooks }), "41", "7", "23")
	s.pulls("41", "281.36")
	s.chooses("41", "keep")
	s.do(domain.ResetSetting{Round: s.class.Current().ID, Reason: "gear jumped out"})
	assert.True(t, s.class.Drafting())
	assert.Equal(t, []string{"41 measured 281.36 ft"}, s.told(s.basis("")), "nobody has hooked against the newer one yet")
	s.freeze()
	s.call()
	s.pulls("7", "250")
	basis := s.basis("")
	assert.Equal(t, 2, basis.Revision.Number)
	assert.Equal(t, []string{"7 measured 250 ft"}, s.told(basis))
	assert.Equal(t, []string{"hook 1, number 41: it was made against another setting"}, basis.Left)
}

// A pull-off that is about to be set starts from the round before; once it was pulled it starts from itself, and either can
// be asked for.
func TestTheNextRoundStartsFromTheOneBefore(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7", "23")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.pulls("23", "250")
	assert.False(t, s.class.Drafting(), "the round is over")
	name, _ := s.class.RoundDue()
	s.do(domain.OpenRound{Round: s.id(), Name: name})
	assert.True(t, s.class.Drafting())
	assert.Len(t, s.basis("").Runs, 3)
	_, ok := s.class.EstimateBasis(name)
	assert.False(t, ok, "it has no setting")
	s.freeze()
	assert.Len(t, s.basis("").Runs, 3, "a setting without a hook tells nothing")
	assert.Empty(t, s.basis("P1").Runs, "but it may be asked for")
	s.call()
	s.pulls("41", "312.5")
	basis := s.basis("")
	assert.Equal(t, []string{"41 measured 312.5 ft"}, s.told(basis))
	assert.False(t, basis.EndsAtLine, "a pull-off is measured past the line")
	assert.Len(t, s.basis("1").Runs, 3)
}

// NIST SP 811, appendix B: a pound is 0.45359237 kg, a foot 0.3048 m, a mile 1.609344 km. Figures in round units are exact.
func TestFiguresForTheEstimate(t *testing.T) {
	t.Parallel()
	assert.Equal(t, 21600.5, pounds(t, "21,600.5 lb").Pounds())
	assert.InDelta(t, 2204.62262184878, pounds(t, "1000 kg").Pounds(), 1e-10)
	assert.Zero(t, domain.Weight{}.Pounds())
	assert.Equal(t, 281.36, feet(t, "281.36").Feet())
	assert.Equal(t, 287.375, feet(t, `287' 4.5"`).Feet())
	assert.InDelta(t, 328.0839895013123, feet(t, "100 m").Feet(), 1e-12)
	assert.Zero(t, domain.Distance{}.Feet())
	for written, mph := range map[string]float64{"3.5 mph": 3.5, "": 0, "16.093 km/h": 16.093 / 1.609344} {
		speed, err := domain.ParseSpeed(written)
		require.NoError(t, err)
		assert.InDelta(t, mph, speed.MilesPerHour(), 1e-12)
	}
}
