package domain_test

import (
	"slices"
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

// The sled has its own list where its description has one, and the points of the rules come behind it (a white neutral
// light, NK 7; hitch heights, KOP).
func TestTheReadyListIsTheSledsAndTheRules(t *testing.T) {
	t.Parallel()
	rules := set(t, "capped-100m")
	rules.Ready = []string{"neutral light white", "hitch height measured"}
	s := drawn(t, rules, "41", "7")
	usual := s.class.ReadyList()
	require.Len(t, usual, 8)
	assert.Equal(t, rules.Ready, usual[6:])
	s.class.Sled.Card.Ready = []string{"winch free", "box back"}
	assert.Equal(t, []string{"winch free", "box back", "neutral light white", "hitch height measured"}, s.class.ReadyList())
	assert.Equal(t, []string{"winch free", "box back"}, s.class.Sled.Card.Ready, "the description stays as it is")

	sled := domain.Sled{Name: "Grey", Gears: 4, StartHoles: 3, Card: domain.SledCard{Ready: []string{"winch free", " "}}}
	assert.ErrorContains(t, sled.Check(), "point 2 of the list")
	rules.Ready = slices.Repeat([]string{"look"}, 31)
	assert.ErrorContains(t, rules.Check(), "the list has 31 points")
}
