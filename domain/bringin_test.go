package domain_test

import (
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// tiedInP1 is a class in which 41 and 7 pulled full, tied in the first pull-off and are in the second, and 23 was just
// corrected to a full pull.
func tiedInP1(t *testing.T) *story {
	t.Helper()
	s := begun(t, set(t, "capped-100m", toLine), "41", "7", "23", "12")
	for _, hook := range [][2]string{{"41", "FP"}, {"7", "FP"}, {"23", "99.5"}, {"12", "50"}} {
		s.pulls(hook[0], hook[1])
	}
	s.opens("P1", "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.opens("P2", "41", "7")
	s.corrects("23", "1", "FP")
	return s
}

func (s *story) missed() []string { return s.numbers(s.class.Missed()) }

func (s *story) bringIn(number string) domain.BringIn {
	s.t.Helper()
	return domain.BringIn{Round: s.class.Current().ID, Entry: s.entry(number), Reason: "the flagman's sheet"}
}

// No published source says what becomes of who missed a pull-off by a mistake of the officials.
func TestWhoMissedAPullOffIsBroughtInByTheOfficialsOnly(t *testing.T) {
	t.Parallel()
	s := tiedInP1(t)
	assert.Equal(t, []string{"7"}, s.waiting(), "nobody is brought in by itself")
	assert.Equal(t, []string{"23"}, s.missed())
	s.refuse(s.bringIn("12"), domain.WrongState, "has missed no pull-off")
	s.refuse(s.bringIn("7"), domain.WrongState, "has missed no pull-off")
	s.refuse(domain.BringIn{Round: s.class.Current().ID, Entry: s.entry("23")}, domain.Invalid, "the reason is missing")
	s.refuse(domain.BringIn{Round: s.class.Rounds[0].ID, Entry: s.entry("23"), Reason: "x"}, domain.Stale, "another round")
	s.do(s.bringIn("23"))
	assert.Equal(t, []string{"7", "23"}, s.waiting(), "at the end of the line-up")
	assert.Empty(t, s.missed())
	s.pulls("41", "90")
	s.pulls("7", "91")
	s.pulls("23", "92")
	s.decided()
	s.stands("1 23", "2 7", "3 41", "4 12")
	assert.Equal(t, s.class, s.replayed())
}

func TestWhoWasBroughtInTiesLikeAnyOther(t *testing.T) {
	t.Parallel()
	s := tiedInP1(t)
	s.do(s.bringIn("23"))
	s.pulls("41", "90")
	s.pulls("7", "FP")
	s.pulls("23", "FP")
	s.opens("P3", "7", "23")
	s.pulls("7", "80")
	s.pulls("23", "81")
	s.decided()
	s.stands("1 23", "2 7", "3 41", "4 12")
}

func TestWhoWasBroughtInAndIsNoFullPullerIsTakenOutAgain(t *testing.T) {
	t.Parallel()
	s := tiedInP1(t)
	s.do(s.bringIn("23"))
	s.corrects("12", "1", "51")
	assert.Equal(t, []string{"7", "23"}, s.waiting(), "another correction leaves 23 in")
	s.corrects("23", "1", "99.6")
	assert.Equal(t, []string{"7"}, s.waiting())
	s.corrects("23", "1", "FP")
	assert.Empty(t, s.missed(), "is in the line-up already")
}

func TestNobodyIsMissedWhileTheFirstPullOffRuns(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m", toLine), "41", "7", "23")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.pulls("23", "99")
	assert.Empty(t, s.missed())
	s.opens("P1", "41", "7")
	s.corrects("23", "1", "FP")
	assert.Empty(t, s.missed(), "the correction itself brings 23 into the first pull-off")
	assert.Equal(t, []string{"7", "23"}, s.waiting())
}

// A figure of the pull-off that was missed would have to be made up where it is added to the distance.
func TestNobodyIsBroughtInWhereThePullOffIsAdded(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m", toLine, func(r *domain.RuleSet) { r.PullOff.Added = true }), "41", "7", "23")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.pulls("23", "99")
	s.opens("P1", "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.opens("P2", "41", "7")
	s.corrects("23", "1", "FP")
	assert.Equal(t, []string{"23"}, s.missed())
	s.refuse(s.bringIn("23"), domain.WrongState, "these rules add the pull-off")
}

// An id names one thing: what is said of it must not be said of another.
func TestAnIDIsUsedOnce(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7")
	s.pulls("41", "FP")
	hook, entry, first := s.class.Rounds[0].Hooks[0].ID, s.entry("41"), s.class.Rounds[0].ID
	record := s.record("200")
	second := s.class.OnTrack().ID
	for what, a := range map[string]domain.Action{
		"a hook called after a result": domain.Again{Hook: record.Hook, Reason: "sled", Next: hook},
		"a hook by its own id":         domain.Again{Hook: record.Hook, Reason: "sled", Next: second},
		"an entry":                     domain.AddEntry{Entry: entry, Number: "99"},
		"an entry by a hook's id":      domain.AddEntry{Entry: hook, Number: "99"},
	} {
		t.Log(what)
		s.refuse(a, domain.Invalid, "the class has the id of the new ")
	}
	s.refuse(domain.AddEntry{Number: "99"}, domain.Invalid, "the new entry has no id")
	s.pulls("7", "FP")
	s.refuse(domain.OpenRound{Round: first, Name: round(t, "P1")}, domain.Invalid, "the class has the id of the new round already")
	s.refuse(domain.OpenRound{Round: uuid.Nil, Name: round(t, "P1")}, domain.Invalid, "the new round has no id")
	s.opens("P1", "41", "7")
	require.Equal(t, s.class, s.replayed())
}
