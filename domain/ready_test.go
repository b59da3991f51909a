package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// The crew may hold, and be ready, until the hook starts; the last word stands. No hook waits for it (common practice, no
// published source).
func TestTheCrewSaysReadyOrHolds(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7", "23")
	on := s.class.OnTrack().ID
	s.do(domain.SayReady{Hook: on, Held: true, Words: " cable frayed "})
	require.Equal(t, domain.Readiness{At: s.clock, Held: true, Words: "cable frayed"}, s.class.OnTrack().Ready)
	s.do(domain.SayReady{Hook: on})
	require.Equal(t, domain.Readiness{At: s.clock}, s.class.OnTrack().Ready)
	s.do(domain.SayReady{Hook: on, Held: true})
	s.do(domain.Start{Hook: on})
	s.refuse(domain.SayReady{Hook: on}, domain.WrongState, "that hook has started, and nothing is asked of the crew")
	s.pulls("41", "50")
	assert.True(t, s.hook("41", "1").Ready.Held, "it stays on record, and held nothing up")
	assert.Zero(t, s.class.OnTrack().Ready, "the next hook begins with nothing said")
	s.refuse(domain.SayReady{Hook: on}, domain.Stale, "stored already")
	s.refuse(domain.SayReady{Hook: s.id()}, domain.WrongState, "is not on the track")
	s.refuse(domain.SayReady{Hook: s.class.OnTrack().ID, Words: "two\nlines"}, domain.Invalid, "cannot be seen")
	s.pulls("7", "60")
	s.pulls("23", "70")
	assert.Equal(t, domain.Decided, s.class.Phase(), "nothing waited for a word of the crew")
}

// The list holds for every sled; a speed limit and blades add what belongs to them.
func TestTheReadyListFollowsTheRulesAndTheSetting(t *testing.T) {
	t.Parallel()
	always := []string{"box back", "pan up", "push-down reset", "box drive engaged", "cable attached and tested", "lanes clear"}
	s := drawn(t, set(t, "capped-100m"), "41", "7")
	assert.Equal(t, always, s.class.ReadyList())
	limit, err := domain.ParseSpeed("3.5 mph")
	require.NoError(t, err)
	rules := set(t, "capped-100m")
	rules.Speed = domain.SpeedRule{Limit: limit}
	s = drawn(t, rules, "41", "7")
	assert.Equal(t, append(always, "speed device on"), s.class.ReadyList())
	rules.Speed.Device = "radar"
	s = drawn(t, rules, "41", "7")
	setting := card(t, "5100 kg")
	setting.Blades = "2.5 cm"
	s.do(domain.DraftSetting{Round: s.class.Current().ID, Setting: setting})
	assert.Equal(t, append(always, "speed device on: radar"), s.class.ReadyList(), "a draft is not pulled against")
	s.do(domain.FreezeSetting{Round: s.class.Current().ID, Revision: 1})
	assert.Equal(t, append(always, "speed device on: radar", "blades at 2.5 cm"), s.class.ReadyList())
}
