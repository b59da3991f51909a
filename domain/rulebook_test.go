package domain_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// fields splits what is written one after the other.
func fields(s string) []string { return strings.Fields(s) }

// NSTT 8: the line is set after the first official hook, at 300 or 320 ft.
func TestTheLineIsSetAfterTheFirstHook(t *testing.T) {
	t.Parallel()
	movable := func(r *domain.RuleSet) {
		r.Test, r.Moving = domain.TestRule{}, domain.LineRule{Choices: []domain.Distance{distance(t, "320", domain.Foot)}, After: 1}
	}
	at := func(s string) domain.Distance { return distance(t, s, domain.Foot) }
	s := begun(t, set(t, "capped-300ft", movable), "41", "7")
	s.refuse(domain.MoveLine{Line: at("320")}, domain.Invalid, "the reason is missing")
	s.refuse(domain.MoveLine{Line: at("310"), Reason: "light"}, domain.Invalid, "310 ft is not among the lines of these rules; choose 300 ft or 320 ft")
	s.pulls("41", "312.44")
	assert.Equal(t, domain.FullPull, s.hook("41", "1").Result.Outcome)
	s.do(domain.MoveLine{Line: at("320"), Reason: "the sled is light"})
	assert.Equal(t, "312.44", s.hook("41", "1").Result.String(), "read again against the new line")
	assert.Equal(t, "320 ft", s.class.Rules.Line.String())
	s.do(domain.MoveLine{Line: at("300"), Reason: "the wrong button"})
	assert.Equal(t, "FP 312.44", s.hook("41", "1").Result.String())
	s.do(domain.MoveLine{Line: at("320"), Reason: "the sled is light"})
	s.pulls("7", "315")
	s.refuse(domain.MoveLine{Line: at("300"), Reason: "heavy"}, domain.WrongState, "more hooks have been made than the 1")
	s.decided()
	s.stands("1 7", "2 41")
	assert.Equal(t, s.class, s.replayed())

	bare := begun(t, set(t, "capped-300ft", movable), "41", "7")
	bare.pulls("41", "FP")
	bare.refuse(domain.MoveLine{Line: at("320"), Reason: "light"}, domain.WrongState, "the full pull of number 41 has no figure")
	fixed := begun(t, set(t, "capped-300ft"), "41")
	fixed.refuse(domain.MoveLine{Line: at("320"), Reason: "light"}, domain.WrongState, "the line does not move")
}

// VAL: in the rerun a 110 m track can be used to decrease the possibility of a full pull further.
func TestThePullOffMayHaveALineOfItsOwn(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m", func(r *domain.RuleSet) {
		r.PullOff.Capped, r.PullOff.Line = true, distance(t, "110", domain.Metre)
	}), "41", "7")
	s.all("1", "FP FP")
	s.opens("P1", "41", "7")
	s.pulls("41", "104.1")
	assert.Equal(t, domain.Measured, s.hook("41", "P1").Result.Outcome, "past the class line and short of this one")
	s.pulls("7", "110")
	assert.Equal(t, domain.FullPull, s.hook("7", "P1").Result.Outcome)
	s.decided()
	s.stands("1 7", "2 41")
}

func TestAPullOffMayBeHookedTheOtherWayRound(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m", func(r *domain.RuleSet) { r.PullOff.Reversed = true }), "41", "7", "23")
	s.all("1", "FP FP FP")
	s.opens("P1", "23", "7", "41")
}

// SCW 6 and GREEN 7 leave a disqualified finalist the place; a set may take it.
func TestADisqualifiedFinalist(t *testing.T) {
	t.Parallel()
	for out, stands := range map[bool][]string{false: {"1 7", "2 41", "3 23"}, true: {"1 7", "2 23", "- 41"}} {
		s := begun(t, set(t, "capped-100m", func(r *domain.RuleSet) { r.PullOff.DisqualifiedOut = out }), "41", "7", "23")
		s.all("1", "FP FP 90")
		s.opens("P1", "41", "7")
		s.all("P1", "DQ 20")
		s.decided()
		s.stands(stands...)
	}
}

// SNUB 2, 3: the sled operator may pick any tractor as the test, and it may go back to its place in the line-up.
func TestTheSledOperatorChoosesTheTestPuller(t *testing.T) {
	t.Parallel()
	chosen := func(r *domain.RuleSet) {
		r.Test = domain.TestRule{Who: domain.ChosenPuller, Options: []domain.Option{domain.ToOriginal, domain.AtOnce}}
	}
	s := drawn(t, set(t, "floating-ft", chosen), "41", "7", "23", "12")
	s.do(domain.PickTest{Entry: s.entry("23")})
	assert.Equal(t, []string{"23", "41", "7", "12"}, s.waiting())
	s.refuse(domain.PickTest{Entry: s.entry("23")}, domain.WrongState, "is the next already")
	s.freeze()
	s.call()
	assert.True(t, s.class.OnTrack().Test)
	s.refuse(domain.PickTest{Entry: s.entry("7")}, domain.WrongState, "the test hook was made, or is being made")
	s.pulls("23", "200")
	assert.Equal(t, "keep original now", s.options("23"))
	s.chooses("23", "original")
	assert.Equal(t, "41", s.onTrack())
	assert.Equal(t, []string{"7", "23", "12"}, s.waiting())
	first := drawn(t, set(t, "floating-ft"), "41", "7")
	first.refuse(domain.PickTest{Entry: first.entry("7")}, domain.WrongState, "the first in the order makes the test hook")
}

// BEAST: the test puller will drop to the bottom of the class.
func TestTheTestPullerMayHaveNoChoice(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "floating-ft", func(r *domain.RuleSet) { r.Test = domain.TestRule{Options: []domain.Option{domain.ToLast}, Must: true} }), "41", "7")
	s.pulls("41", "290")
	assert.Equal(t, "last", s.options("41"))
	assert.Equal(t, domain.ToLast, s.class.Pending().Silence)
	s.chooses("41", "last")
	s.pulls("7", "200")
	s.pulls("41", "100")
	s.stands("1 7", "2 41")
}

// HANOV 8: no statement takes the first measurement.
func TestSilenceKeepsUnlessTheRulesSayOtherwise(t *testing.T) {
	t.Parallel()
	for silence, want := range map[domain.Option]domain.Option{0: domain.Keep, domain.ToLast: domain.ToLast} {
		s := begun(t, set(t, "floating-ft", func(r *domain.RuleSet) { r.Test.Silence = silence }), "41", "7")
		s.pulls("41", "290")
		assert.Equal(t, want, s.class.Pending().Silence)
	}
}

// BE-BORG: the sled is tried in a session of its own, and no hook of the class is a test.
func TestASessionOfTestsLeavesNoTestHook(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "floating-ft", func(r *domain.RuleSet) { r.Test = domain.TestRule{Who: domain.TestSession} }), "41", "7")
	assert.False(t, s.class.OnTrack().Test)
	s.pulls("41", "290")
	assert.Equal(t, "7", s.onTrack())
}

// NL-VP: the next has the test pull, and the previous one must pull again. NZ: the setting is not changed in a round.
func TestTheOtherEffectsOfAReset(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "floating-m", func(r *domain.RuleSet) { r.Reset = domain.PreviousAgain }), "41", "7", "23", "12")
	s.pulls("41", "90")
	s.pulls("7", "95")
	s.do(domain.ResetSetting{Round: s.class.Current().ID, Reason: "too light"})
	assert.Equal(t, []string{"23", "7", "12"}, s.waiting())
	assert.Equal(t, domain.Void, s.hook("7", "1").Result.Outcome)
	assert.Equal(t, "90", s.hook("41", "1").Result.String())

	never := begun(t, set(t, "floating-m", func(r *domain.RuleSet) { r.Reset = domain.NoReset }), "41", "7")
	never.refuse(domain.ResetSetting{Round: never.class.Current().ID, Reason: "too light"}, domain.WrongState, "not changed within a round")
}

// NSTT 8: past 325 ft; TWOR 19: the first two out the gate; AMPI 9: three full pulls.
func TestWhenAResetIsAdvised(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		book    string
		rule    domain.ResetRule
		results []string
		advised []bool
	}{
		{"NSTT: past 325 ft", domain.ResetRule{Past: distance(t, "325", domain.Foot)}, []string{"FP 325.1"}, []bool{true}},
		{"NSTT: 325 ft is not past it", domain.ResetRule{Past: distance(t, "325", domain.Foot)}, []string{"FP 325", "FP 330"}, []bool{false, false}},
		{"TWOR: two", domain.ResetRule{FullPulls: 2}, []string{"FP", "FP"}, []bool{false, true}},
		{"TWOR: one of the first two stopped", domain.ResetRule{FullPulls: 2}, []string{"FP", "299", "FP"}, []bool{false, false, false}},
		{"AMPI: three", domain.ResetRule{FullPulls: 3}, []string{"FP", "absent", "FP", "FP"}, []bool{false, false, false, true}},
		{"no advice", domain.ResetRule{}, []string{"FP 390"}, []bool{false}},
	} {
		t.Run(row.book, func(t *testing.T) {
			t.Parallel()
			s := begun(t, set(t, "capped-300ft", func(r *domain.RuleSet) { r.ResetWhen, r.Test = row.rule, domain.TestRule{} }), "41", "7", "23", "12", "5")
			for i, written := range row.results {
				s.pulls(s.onTrack(), written)
				assert.Equal(t, row.advised[i], s.class.ResetAdvised() != "", "after %s", written)
			}
		})
	}
}

// Three minutes from the sled spotted (GSRT 13), and the officials decide; the program counts from the call.
func TestTheTimeToHook(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "floating-m", func(r *domain.RuleSet) {
		r.Call = domain.CallRule{Minutes: 3, From: "sled spotted", NotReady: domain.IsDisqualified}
	}), "41", "7")
	advice := s.class.CallAdvised()
	assert.Equal(t, s.class.OnTrack().Called.Add(3*time.Minute), advice.Until)
	assert.Equal(t, "sled spotted", advice.From)
	assert.Contains(t, advice.Advice, "is disqualified")
	s.do(domain.Start{Hook: s.class.OnTrack().ID})
	assert.Zero(t, s.class.CallAdvised(), "who has started is not late")
}

// PIED 3: what was pulled to the end of a round stands. CITP: a class that was not completed gives nobody anything.
func TestWhatStandsOfAClassThatIsStopped(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		book    string
		rule    domain.StoppedEffect
		results string
		stands  []string
	}{
		{"PIED: the first round is complete", domain.CompleteRounds, "FP FP 90", []string{"1= 7", "1= 41", "3 23"}},
		{"PIED: the first round is not complete", domain.CompleteRounds, "FP FP", []string{"- 7", "- 23", "- 41"}},
		{"CITP: nothing", domain.NothingStands, "FP FP 90", []string{"- 7", "- 23", "- 41"}},
		{"as pulled", domain.AsPulled, "FP 90", []string{"1 41", "2 7", "- 23"}},
	} {
		t.Run(row.book, func(t *testing.T) {
			t.Parallel()
			s := begun(t, set(t, "capped-100m", func(r *domain.RuleSet) { r.Stopped = row.rule }), "41", "7", "23")
			s.all("1", row.results)
			s.do(domain.StopClass{Reason: "rain"})
			s.decided()
			assert.Nil(t, s.class.OnTrack(), "whoever was called does not hook")
			s.stands(row.stands...)
			s.refuse(domain.Call{Hook: s.id()}, domain.WrongState, "the class is stopped")
			s.do(domain.ResumeClass{Reason: "the rain is over"})
			assert.NotEqual(t, domain.Decided, s.class.Phase())
			require.Equal(t, s.class, s.replayed())
		})
	}
}

// Under 3.5 mph from the cone on (NATPA), every setting has the limit of the rules.
func TestASpeedLimitedClassHasTheLimitOnEveryCard(t *testing.T) {
	t.Parallel()
	limit, err := domain.ParseSpeed("3.5 mph")
	require.NoError(t, err)
	s := drawn(t, set(t, "floating-ft", func(r *domain.RuleSet) { r.Speed = domain.SpeedRule{Limit: limit} }), "41")
	s.do(domain.DraftSetting{Round: s.class.Current().ID, Setting: card(t, "21,600 lb")})
	assert.Equal(t, limit, s.class.Current().Revisions[0].Setting.SpeedLimit)
	other := card(t, "21,600 lb")
	other.SpeedLimit, err = domain.ParseSpeed("4 mph")
	require.NoError(t, err)
	s.refuse(domain.DraftSetting{Round: s.class.Current().ID, Setting: other}, domain.Invalid, "a speed limit of 3.5 mph")
}

// GREEN: three or no class; GSRA: five.
func TestTooFewEntriesAreToldToTheDesk(t *testing.T) {
	t.Parallel()
	s := plan(t, set(t, "floating-m", func(r *domain.RuleSet) { r.Entries.Least, r.Entries.Below = 3, "exhibition" }))
	s.enter("41")
	s.enter("7")
	assert.Equal(t, "these rules want more entries than there are; below that: exhibition", s.class.TooFew())
	s.enter("23")
	assert.Empty(t, s.class.TooFew())
}
