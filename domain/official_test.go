package domain_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// signs makes the result official under that name.
func (s *story) signs(name string) {
	s.t.Helper()
	signature, err := domain.Sign(name)
	require.NoError(s.t, err)
	s.do(signature)
}

func TestAnOfficialResultStaysAsItIs(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	s.pulls("41", "50")
	s.refuse(domain.MakeOfficial{Name: "O. Example"}, domain.WrongState, "the class is not decided")
	s.pulls("7", "51")
	correction := s.correction("7", "1", "49")
	s.signs(" O. Example ")
	assert.Equal(t, domain.Official{Made: s.clock, Name: "O. Example"}, s.class.Official)
	for _, a := range []domain.Action{
		correction, domain.MakeOfficial{Name: "Another"}, domain.Again{Hook: correction.Hook, Reason: "sled", Next: s.id()},
		domain.VoidHook{Hook: correction.Hook, Reason: "x", Next: s.id()}, domain.Scratch{Entry: s.entry("7"), Reason: "x"},
		domain.ResetSetting{Round: s.class.Current().ID, Reason: "x"},
	} {
		s.refuse(a, domain.WrongState, "the result is official and stays as it is; reopen it first, with a reason")
	}
	s.stands("1 7", "2 41")
}

func TestAnOfficialResultIsReopenedWithAReason(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41")
	s.refuse(domain.Reopen{Reason: "video"}, domain.WrongState, "the result is not official")
	s.pulls("41", "50")
	s.signs("O. Example")
	signed := s.clock
	s.refuse(domain.Reopen{Reason: " "}, domain.Invalid, "the reason is missing")
	s.do(domain.Reopen{Reason: " video "})
	assert.Zero(t, s.class.Official)
	require.Len(t, s.class.Earlier, 1)
	assert.Equal(t, domain.Signature{
		Made: signed, Name: "O. Example", Reopened: s.clock, Reason: "video",
		Standing: []domain.Signed{{Entry: s.entry("41"), Place: 1, Results: "50"}},
	}, s.class.Earlier[0])
	assert.Equal(t, 2, s.class.Revision())
	s.corrects("41", "1", "51")
	s.signs("P. Example")
	s.do(domain.Reopen{Reason: "the other video"})
	assert.Equal(t, 3, s.class.Revision())
	assert.Equal(t, "P. Example", s.class.Earlier[1].Name)
}

// Between two revisions people want to know one thing: whose place or figure is another now.
func TestARevisionSaysWhatItChanged(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7", "23")
	for _, number := range []string{"41", "7", "23"} {
		s.pulls(number, map[string]string{"41": "FP", "7": "FP", "23": "50"}[number])
	}
	s.opens("P1", "41", "7")
	s.pulls("41", "104.1")
	s.pulls("7", "104.10")
	require.Equal(t, domain.PullOffDue, s.class.Phase(), "equal lengths, read with another digit")
	s.corrects("7", "P1", "103")
	assert.Nil(t, s.class.Changes(1), "nothing came before the first")
	assert.Nil(t, s.class.Changes(2))
	s.signs("O. Example")
	s.do(domain.Reopen{Reason: "video"})
	assert.Empty(t, s.class.Changes(2), "nothing has changed yet")
	s.corrects("7", "P1", "DQ side line")
	s.corrects("23", "1", "51")
	s.signs("O. Example")
	second := []string{"7: 2 FP, P1 103 -> 2 FP, P1 DQ", "23: 3 50 -> 3 51"}
	assert.Equal(t, second, s.changes(2))
	s.do(domain.Reopen{Reason: "another video"})
	s.corrects("41", "P1", "absent")
	assert.Equal(t, []string{"7: 2 FP, P1 DQ -> 1 FP, P1 DQ", "41: 1 FP, P1 104.1 -> 2 FP, P1 absent"}, s.changes(3))
	assert.Equal(t, second, s.changes(2), "what an earlier revision changed stays as it was")
	assert.Equal(t, s.replayed(), s.class)
}

// changes are the changes of a revision in words.
func (s *story) changes(revision int) []string {
	var list []string
	for _, c := range s.class.Changes(revision) {
		list = append(list, fmt.Sprintf("%s: %d %s -> %d %s", s.class.Entry(c.Is.Entry).Number, c.Was.Place, c.Was.Results, c.Is.Place, c.Is.Results))
	}
	return list
}

func TestASignatureIsAName(t *testing.T) {
	t.Parallel()
	_, err := domain.Sign("  ")
	require.ErrorContains(t, err, "the name of the official is missing")
}

func TestAHookIsStartedOnce(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	first := s.class.OnTrack().ID
	s.do(domain.Start{Hook: first})
	started := s.clock
	assert.Equal(t, started, s.class.OnTrack().Started)
	s.refuse(domain.Start{Hook: first}, domain.WrongState, "has started already")
	s.refuse(domain.Start{Hook: s.id()}, domain.WrongState, "is not on the track")
	s.pulls("41", "50")
	s.refuse(domain.Start{Hook: first}, domain.Stale, "stored already")
	assert.Equal(t, started, s.hook("41", "1").Started)
	assert.True(t, s.class.OnTrack().Started.IsZero(), "nobody has to say when a hook began")
}

// A hook that must not count, and is not made again: whoever pulled it has no result in the round.
func TestAHookIsVoidForGood(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	s.refuse(domain.VoidHook{Hook: s.class.OnTrack().ID, Reason: "x", Next: s.id()}, domain.WrongState, "has no result yet")
	s.pulls("41", "50")
	hook := s.hook("41", "1").ID
	s.refuse(domain.VoidHook{Hook: hook, Next: s.id()}, domain.Invalid, "the reason is missing")
	s.refuse(domain.VoidHook{Hook: s.id(), Reason: "x", Next: s.id()}, domain.NotFound, "not in the current round")
	s.do(domain.VoidHook{Hook: hook, Reason: "entered in the wrong class", Next: s.id()})
	s.refuse(domain.VoidHook{Hook: hook, Reason: "x", Next: s.id()}, domain.WrongState, "does not count already")
	assert.True(t, slot(s, "41").Out)
	assert.Equal(t, "7", s.onTrack())
	s.pulls("7", "30")
	s.decided()
	s.stands("1 7", "- 41")
	assert.Equal(t, "50 m", s.hook("41", "1").Result.Distance.String(), "what was measured stays on record")
	s.corrects("41", "1", "50")
	s.stands("1 41", "2 7")
}

func TestVoidingALastHookEndsItsChoice(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7")
	s.pulls("41", "50")
	s.options("41")
	s.do(domain.VoidHook{Hook: s.class.Pending().Hook.ID, Reason: "wrong class", Next: s.id()})
	assert.Equal(t, "7", s.onTrack())
}

// A correction brings back only whom a correction took out.
func TestACorrectionDoesNotBringBackWhoseHookIsVoid(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7", "23")
	for _, number := range []string{"41", "7", "23"} {
		s.pulls(number, "FP")
	}
	s.opens("P1", "41", "7", "23")
	s.pulls("41", "50")
	s.do(domain.VoidHook{Hook: s.hook("41", "P1").ID, Reason: "unsafe, sent home", Next: s.id()})
	s.corrects("7", "1", "FP 101")
	assert.Equal(t, []string{"23"}, s.waiting())
	assert.True(t, slot(s, "41").Out)
	s.pulls("7", "3")
	s.pulls("23", "4")
	s.decided()
	s.stands("1 23", "2 7", "3 41")
}
