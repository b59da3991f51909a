package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

func TestDifferencesReadBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		set := domain.Differences(rapid.Uint16Range(0, 1<<10-1).Draw(t, "set"))
		read, err := domain.ParseDifferences(set.String())
		require.NoError(t, err)
		require.Equal(t, set, read)
		require.Len(t, set.Words(), popcount(set))
	})
	for _, bad := range []string{"flat tyre", "hand drop,", ",", "hand drop; kill switch", "Hand drop"} {
		_, err := domain.ParseDifferences(bad)
		require.Error(t, err, bad)
		require.Equal(t, domain.Invalid, domain.KindOf(err))
	}
	assert.Len(t, domain.DifferenceWords(), 10)
}

func popcount(d domain.Differences) (n int) {
	for ; d != 0; d &= d - 1 {
		n++
	}
	return n
}

// FuzzParseDifferences holds that whatever is read is written so that it reads the same.
func FuzzParseDifferences(f *testing.F) {
	f.Add("kill switch, hand drop")
	f.Add(" ")
	f.Fuzz(func(t *testing.T, s string) {
		set, err := domain.ParseDifferences(s)
		if err != nil {
			return
		}
		again, err := domain.ParseDifferences(set.String())
		require.NoError(t, err)
		require.Equal(t, set, again)
	})
}

// Whose doing it was, and whether the light turns red (common practice, no published source).
func TestWhoseDoingADifferenceWas(t *testing.T) {
	t.Parallel()
	for what, want := range map[domain.Differences]struct {
		doing string
		red   bool
	}{
		0:                                        {"", false},
		domain.HandDrop:                          {"sled", true},
		domain.HandPushDown:                      {"sled", true},
		domain.BoxBrake:                          {"sled", true},
		domain.WheelBrakes:                       {"sled", true},
		domain.KillSwitch:                        {"", false},
		domain.Breakaway:                         {"", true},
		domain.RedByOperator:                     {"sled", true},
		domain.RedByOfficial:                     {"official", true},
		domain.RedByItself:                       {"sled", true},
		domain.EarlyClutch:                       {"", true},
		domain.KillSwitch | domain.RedByOfficial: {"official", true},
		domain.BoxBrake | domain.RedByOfficial:   {"sled and official", true},
	} {
		assert.Equal(t, want.doing, what.Doing(), what.String())
		assert.Equal(t, want.red, what.TurnsRed(domain.SledCard{Light: true}), what.String())
	}
}

// Which switches turn the light red is the sled's: its description says it, and the kill switch may be among them.
func TestTheDescriptionSaysWhatTurnsTheLightRed(t *testing.T) {
	t.Parallel()
	card := domain.SledCard{Light: true, Red: []string{"kill-switch", "pan"}}
	for what, red := range map[domain.Differences]bool{
		0: false, domain.HandDrop: true, domain.KillSwitch: true, domain.BoxBrake: false, domain.WheelBrakes: false, domain.HandPushDown: false,
		domain.BoxBrake | domain.HandDrop: true, domain.RedByItself: true, domain.Breakaway: true,
	} {
		assert.Equal(t, red, what.TurnsRed(card), what.String())
	}
	for _, word := range domain.RedSwitches() {
		one := domain.SledCard{Red: []string{word}}
		red := 0
		for _, d := range []domain.Differences{domain.HandDrop, domain.HandPushDown, domain.BoxBrake, domain.WheelBrakes, domain.KillSwitch} {
			if d.TurnsRed(one) {
				red++
			}
		}
		assert.Equal(t, 1, red, "%s answers to one switch", word)
	}
}

// The last note stands, changes no result, and may be taken back.
func TestWhatDifferedIsNoted(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7", "23")
	first := s.class.OnTrack().ID
	s.pulls("41", "50")
	s.do(domain.NoteDifference{Hook: first, What: domain.HandDrop, Words: " pan hung at 40 m "})
	assert.Equal(t, "hand drop: pan hung at 40 m", s.hook("41", "1").Difference.String())
	assert.Equal(t, "50", s.hook("41", "1").Result.String(), "the result stands")
	s.do(domain.NoteDifference{Hook: first, What: domain.KillSwitch})
	assert.Equal(t, "kill switch", s.hook("41", "1").Difference.String())
	s.do(domain.NoteDifference{Hook: first})
	assert.True(t, s.hook("41", "1").Difference.IsZero())
	s.refuse(domain.NoteDifference{Hook: s.id(), What: domain.BoxBrake}, domain.NotFound, "not in the current round")
	s.refuse(domain.NoteDifference{Hook: first, Words: "a\nb"}, domain.Invalid, "cannot be seen")
	s.do(domain.NoteDifference{Hook: s.class.OnTrack().ID, Words: "drive chain slack"})
	second := s.class.OnTrack().ID
	s.pulls("7", "absent")
	s.refuse(domain.NoteDifference{Hook: second, What: domain.BoxBrake}, domain.WrongState, "was absent")
}

// A re-hook is offered where it was the sled's or an official's doing (the re-hooks of RENEG 6, CHEL 7 and GPP 5), about
// the hook on the track or the last that ended, and is never made by itself.
func TestARehookIsOfferedAndNotMade(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7", "23")
	first := s.class.OnTrack().ID
	assert.Nil(t, s.class.RehookOffered())
	s.do(domain.NoteDifference{Hook: first, What: domain.RedByItself})
	require.NotNil(t, s.class.RehookOffered(), "on the track")
	s.pulls("41", "50")
	require.NotNil(t, s.class.RehookOffered())
	assert.Equal(t, first, s.class.RehookOffered().ID, "7 is on the track, and 41 was the last to end")
	assert.Equal(t, "50", s.hook("41", "1").Result.String(), "nothing is done by itself")
	s.do(domain.NoteDifference{Hook: first, What: domain.KillSwitch | domain.EarlyClutch})
	assert.Nil(t, s.class.RehookOffered(), "neither the sled's nor an official's doing")
	s.do(domain.NoteDifference{Hook: first, What: domain.RedByOfficial})
	s.do(domain.Again{Hook: first, Reason: "official", Next: s.id()})
	assert.Nil(t, s.class.RehookOffered(), "it hooks again already")
	s.pulls("7", "60")
	s.pulls("41", "55")
	s.do(domain.NoteDifference{Hook: s.class.Current().Hooks[1].ID, What: domain.WheelBrakes})
	assert.Nil(t, s.class.RehookOffered(), "another hook has ended since")
}
