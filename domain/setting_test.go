package domain_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

func keepHooks(r *domain.RuleSet) { r.Reset = domain.KeepHooks }

func TestASettingThatTheSledCannotHaveIsRefused(t *testing.T) {
	t.Parallel()
	sled := domain.Sled{Name: "Grey sled", Gears: 5, StartHoles: 4}
	for _, row := range []struct {
		what   string
		change func(*domain.Setting)
		field  string
	}{
		{"no box weight", func(s *domain.Setting) { s.Box = domain.Weight{} }, "box"},
		{"no gear", func(s *domain.Setting) { s.Gear = 0 }, "gear"},
		{"gear 6 of 5", func(s *domain.Setting) { s.Gear = 6 }, "gear"},
		{"no start hole", func(s *domain.Setting) { s.StartHole = 0 }, "start_hole"},
		{"hole 5 of 4", func(s *domain.Setting) { s.StartHole = 5 }, "start_hole"},
		{"no trip point", func(s *domain.Setting) { s.Trip = domain.Distance{} }, "trip"},
		{"negative slabs", func(s *domain.Setting) { s.Slabs.Middle = -1 }, "slabs"},
		{"201 slabs", func(s *domain.Setting) { s.Slabs.Left = 201 }, "slabs"},
		{"a long note", func(s *domain.Setting) { s.Note = strings.Repeat("é", 201) }, "note"},
		{"long blades", func(s *domain.Setting) { s.Blades = strings.Repeat("x", 201) }, "blades"},
		{"a long push-down", func(s *domain.Setting) { s.PushDown = strings.Repeat("x", 201) }, "push_down"},
		{"a long device", func(s *domain.Setting) { s.Device = strings.Repeat("x", 201) }, "device"},
	} {
		t.Run(row.what, func(t *testing.T) {
			t.Parallel()
			setting := card(t, "21,600 lb")
			require.NoError(t, setting.Check(sled))
			row.change(&setting)
			var refusal *domain.Error
			require.ErrorAs(t, setting.Check(sled), &refusal)
			assert.Equal(t, row.field, refusal.Field)
			assert.NotEmpty(t, refusal.Fix)
		})
	}
}

func TestTheLimitsOfTheSledItselfAreAllowed(t *testing.T) {
	t.Parallel()
	setting := card(t, "21,600 lb")
	setting.Gear, setting.StartHole, setting.Note = 5, 4, strings.Repeat("é", 200)
	setting.Slabs = domain.Slabs{Left: 50, Middle: 100, Right: 50}
	require.NoError(t, setting.Check(domain.Sled{Gears: 5, StartHoles: 4}))
	assert.Equal(t, 200, setting.Slabs.Total())
}

func TestADraftMayBeWrittenOverUntilItIsFrozen(t *testing.T) {
	t.Parallel()
	s := drawn(t, set(t, "capped-100m"), "41")
	r := s.class.Current().ID
	s.refuse(domain.FreezeSetting{Round: r, Revision: 1}, domain.WrongState, "no setting to freeze")
	s.do(domain.DraftSetting{Round: r, Setting: card(t, "20,000 lb")})
	s.do(domain.DraftSetting{Round: r, Setting: card(t, "21,600 lb")})
	require.Len(t, s.class.Current().Revisions, 1)
	first := s.class.Current().Revisions[0]
	assert.True(t, first.Draft())
	assert.False(t, first.Open())
	assert.Equal(t, "21,600 lb", first.Setting.Box.String())
	assert.Equal(t, s.clock, first.Drafted)
	s.refuse(domain.DraftSetting{Round: r}, domain.Invalid, "the box weight is missing")
	s.do(domain.FreezeSetting{Round: r, Revision: 1})
	first = s.class.Current().Revisions[0]
	assert.True(t, first.Open())
	assert.False(t, first.Draft())
	assert.Equal(t, s.clock, first.Frozen)
	s.refuse(domain.DraftSetting{Round: r, Setting: card(t, "20,000 lb")}, domain.WrongState, "is frozen")
	assert.Equal(t, &s.class.Current().Revisions[0], s.class.Current().Open())
}

func TestFreezingWhatSomebodyElseChangedIsStale(t *testing.T) {
	t.Parallel()
	s := drawn(t, set(t, "capped-100m"), "41")
	r := s.class.Current().ID
	s.do(domain.DraftSetting{Round: r, Setting: card(t, "20,000 lb")})
	s.refuse(domain.FreezeSetting{Round: r, Revision: 2}, domain.Stale, "changed or frozen meanwhile")
	s.refuse(domain.FreezeSetting{Round: r, Revision: 1, Drafted: s.class.Current().Revisions[0].Drafted.Add(-1)}, domain.Stale, "changed or frozen meanwhile")
	s.do(domain.FreezeSetting{Round: r, Revision: 1})
	s.refuse(domain.FreezeSetting{Round: r, Revision: 1}, domain.Stale, "changed or frozen meanwhile")
	other := s.id()
	s.refuse(domain.DraftSetting{Round: other, Setting: card(t, "1 lb")}, domain.Stale, "another round")
	s.refuse(domain.FreezeSetting{Round: other, Revision: 1}, domain.Stale, "another round")
	s.refuse(domain.ResetSetting{Round: other, Reason: "x"}, domain.Stale, "another round")
}

func TestNobodyIsCalledWithoutAFrozenSetting(t *testing.T) {
	t.Parallel()
	s := drawn(t, set(t, "capped-100m"), "41")
	s.refuse(domain.Call{Hook: s.id()}, domain.WrongState, "no setting is frozen")
	s.do(domain.DraftSetting{Round: s.class.Current().ID, Setting: card(t, "20,000 lb")})
	s.refuse(domain.Call{Hook: s.id()}, domain.WrongState, "no setting is frozen")
	s.do(domain.FreezeSetting{Round: s.class.Current().ID, Revision: 1})
	s.call()
	assert.Equal(t, "41", s.onTrack())
}

func TestBeforeTheDrawThereIsNothingToSet(t *testing.T) {
	t.Parallel()
	s := plan(t, set(t, "capped-100m"))
	s.refuse(domain.DraftSetting{Round: s.id(), Setting: card(t, "1 lb")}, domain.WrongState, "not drawn")
	s.refuse(domain.FreezeSetting{Round: s.id()}, domain.WrongState, "not drawn")
	s.refuse(domain.ResetSetting{Round: s.id(), Reason: "x"}, domain.WrongState, "not drawn")
	s.refuse(domain.Call{Hook: s.id()}, domain.WrongState, "not drawn")
}

// The class restarts: MAM, TWOR 19, AMPI 9.
func TestAResetMakesTheClassRestartWhereTheRulesSaySo(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7", "23")
	s.pulls("41", "FP 320")
	s.pulls("7", "FP 326")
	r := s.class.Current().ID
	s.refuse(domain.ResetSetting{Round: r, Reason: ""}, domain.Invalid, "the reason for the reset is missing")
	s.do(domain.ResetSetting{Round: r, Reason: "two out the gate"})
	assert.Equal(t, domain.SettingDue, s.class.Phase())
	assert.Empty(t, s.onTrack(), "a hook under way is void too")
	assert.Equal(t, []string{"41", "7", "23"}, s.waiting())
	for _, h := range s.class.Current().Hooks {
		assert.Equal(t, domain.Void, h.Result.Outcome)
		assert.Equal(t, "setting reset: two out the gate", h.Result.Reason)
		assert.False(t, h.Ended.IsZero())
	}
	s.stands("- 7", "- 23", "- 41")
	revisions := s.class.Current().Revisions
	require.Len(t, revisions, 2)
	assert.False(t, revisions[0].Open())
	assert.Equal(t, s.clock, revisions[0].Closed)
	assert.True(t, revisions[1].Draft(), "the next one is a draft")
	assert.Equal(t, "two out the gate", revisions[1].Reason)
	s.refuse(domain.ResetSetting{Round: r, Reason: "again"}, domain.WrongState, "no setting is frozen")
	s.freeze()
	s.call()
	assert.True(t, s.class.OnTrack().Test, "the first hook against a setting is the test hook")
	s.pulls("41", "280")
	s.chooses("41", "keep")
	s.pulls("7", "281")
	s.pulls("23", "282")
	s.stands("1 23", "2 7", "3 41")
	assert.False(t, s.class.Current().TwoSettings())
}

// Earlier hooks stand; only the next is the new test puller: CHEL 7, GPP 5.
func TestAResetKeepsHooksWhereTheRulesSaySo(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft", keepHooks), "41", "7", "23")
	s.pulls("41", "200")
	s.chooses("41", "keep")
	s.do(domain.ResetSetting{Round: s.class.Current().ID, Reason: "box rail bent"})
	assert.Equal(t, []string{"7", "23"}, s.waiting(), "who was on the track hooks first")
	assert.Equal(t, "200", s.hook("41", "1").Result.String())
	assert.False(t, s.class.Current().TwoSettings(), "so far all hooks were made on one")
	s.freeze()
	s.call()
	assert.True(t, s.class.OnTrack().Test)
	s.pulls("7", "absent")
	assert.False(t, s.class.Current().TwoSettings(), "who did not come pulled on none")
	s.pulls("23", "190")
	assert.True(t, s.class.Current().TwoSettings(), "and this must be said wherever the round is shown")
	s.chooses("23", "keep")
	s.stands("1 41", "2 23", "- 7")
}

// Where the hook is kept, a reset would end the choice without a word of its puller.
func TestAResetThatKeepsHooksWaitsForTheChoice(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft", keepHooks), "41", "7")
	s.pulls("41", "200")
	s.options("41")
	reset := domain.ResetSetting{Round: s.class.Current().ID, Reason: "box rail bent"}
	s.refuse(reset, domain.WrongState, "number 41 has a choice")
	s.chooses("41", "keep")
	s.do(reset)
	assert.Equal(t, "200", s.hook("41", "1").Result.String(), "it was kept with a word")
}

// Where the class begins anew the hook is void, and there is nothing left to choose.
func TestARestartEndsAnOpenChoice(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7")
	s.pulls("41", "200")
	s.options("41")
	s.do(domain.ResetSetting{Round: s.class.Current().ID, Reason: "box rail bent"})
	assert.Nil(t, s.class.Pending())
	assert.Equal(t, domain.SettingDue, s.class.Phase())
	assert.Equal(t, []string{"41", "7"}, s.waiting())
}

// A puller who was scratched after hooking does not come back when the class restarts.
func TestARestartDoesNotBringBackTheScratched(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7", "23")
	s.pulls("41", "50")
	s.do(domain.Scratch{Entry: s.entry("41"), Reason: "engine"})
	s.stands("1 41", "- 7", "- 23")
	s.do(domain.ResetSetting{Round: s.class.Current().ID, Reason: "sled too light"})
	assert.Equal(t, []string{"7", "23"}, s.waiting())
}
