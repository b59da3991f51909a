package domain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// flag is what stands at the n-th of the hooks that a flag may be told of.
func (s *story) flag(n int) domain.Flag { return s.class.FlagHooks()[n].Flag }

// OPS 10: the end flagman has the last word during the pull. What was said stands until another word, and no result, no
// order and no standing comes of it.
func TestTheFlagmenSayWhatTheyDecided(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7", "23")
	on := s.class.OnTrack().ID
	before := s.class
	s.do(domain.SayFlag{Hook: on, Call: domain.FlagDisqualified, Reason: " out of bounds "})
	assert.Equal(t, domain.Flag{Call: domain.FlagDisqualified, Reason: "out of bounds", At: s.clock}, s.flag(0))
	assert.Equal(t, "41", s.onTrack())
	assert.Equal(t, before.Phase(), s.class.Phase())
	s.do(domain.SayFlag{Hook: on, Call: domain.FlagRehook, Reason: "official"})
	assert.Equal(t, domain.FlagRehook, s.flag(0).Call, "the last word stands")
	s.do(domain.SayFlag{Hook: on})
	assert.Zero(t, s.flag(0), "and may be taken back")
}

// A flag is sometimes seen when the distance is stored already: the last hook takes the word, an older one does not.
func TestAFlagAfterTheResultWasStored(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft", func(r *domain.RuleSet) { r.Test = domain.TestRule{} }), "41", "7", "23")
	first := s.class.OnTrack().ID
	s.pulls("41", "281.36")
	require.Len(t, s.class.FlagHooks(), 2)
	s.do(domain.SayFlag{Hook: first, Call: domain.FlagDisqualified, Reason: "lost part: fender"})
	assert.Equal(t, "lost part: fender", s.flag(1).Reason)
	assert.Equal(t, "281.36", s.hook("41", "1").Result.String(), "what was stored stands until the booth corrects it")
	s.pulls("7", "290")
	assert.Equal(t, domain.FlagDisqualified, s.hook("41", "1").Flag.Call, "the hook carries what was said of it")
	s.refuse(domain.SayFlag{Hook: first, Call: domain.FlagRehook}, domain.WrongState, "no flag is told of it any more")
	s.pulls("23", "absent")
	assert.Empty(t, s.class.FlagHooks(), "who was absent has shown the flagmen nothing")
}

// SE-RTT 1.9.3: the flag judge may order a re-pull. It is offered to the booth as one for which the sled is to blame is.
func TestARehookThatTheFlagmenCalledIsOffered(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft", func(r *domain.RuleSet) { r.Test = domain.TestRule{} }), "41", "7")
	on := s.class.OnTrack().ID
	s.do(domain.SayFlag{Hook: on, Call: domain.FlagDisqualified, Reason: "front end"})
	assert.Nil(t, s.class.RehookOffered())
	s.do(domain.SayFlag{Hook: on, Call: domain.FlagRehook, Reason: "official"})
	require.NotNil(t, s.class.RehookOffered())
	s.pulls("41", "200")
	require.NotNil(t, s.class.RehookOffered(), "until another hook ends")
	assert.Equal(t, on, s.class.RehookOffered().ID)
	s.do(domain.Again{Hook: on, Reason: "official", Next: s.id()})
	assert.Nil(t, s.class.RehookOffered())
}

// SCTPA 9: a second attempt where the first stopped short of the line; NO 1.8: one attempt in the pull-off. A flagman
// gives none that the rules do not give.
func TestTheFlagmenGiveNoAttemptThatTheRulesDoNot(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		book  string
		rules func(*domain.RuleSet)
		given bool
	}{
		{"SCTPA 9: two attempts", func(*domain.RuleSet) {}, true},
		{"no restart line", func(r *domain.RuleSet) { r.RestartLine, r.Restarts = domain.Distance{}, domain.RestartRule{} }, false},
	} {
		t.Run(row.book, func(t *testing.T) {
			t.Parallel()
			s := begun(t, set(t, "capped-300ft", row.rules, func(r *domain.RuleSet) { r.Test = domain.TestRule{} }), "41", "7")
			say := domain.SayFlag{Hook: s.class.OnTrack().ID, Call: domain.FlagStartAgain}
			if !row.given {
				s.refuse(say, domain.WrongState, "no second attempt")
				return
			}
			s.do(say)
			s.pulls("41", "290")
			s.refuse(say, domain.WrongState, "no second attempt")
		})
	}
}

func TestWhatTheFlagmenCannotSay(t *testing.T) {
	t.Parallel()
	s := plan(t, set(t, "capped-300ft"))
	s.enter("41")
	s.refuse(domain.SayFlag{Hook: s.id()}, domain.NotFound, "not in the current round")
	assert.Empty(t, s.class.FlagHooks())
	s = begun(t, set(t, "capped-300ft"), "41", "7")
	on := s.class.OnTrack().ID
	s.refuse(domain.SayFlag{Hook: s.id(), Call: domain.FlagRehook}, domain.NotFound, "not in the current round")
	s.refuse(domain.SayFlag{Hook: on, Call: domain.FlagDisqualified, Reason: " "}, domain.Invalid, "reason of the disqualification is missing")
	s.refuse(domain.SayFlag{Hook: on, Call: 9, Reason: "x"}, domain.Invalid, "nothing that a flagman decides")
	s.refuse(domain.SayFlag{Hook: on, Call: domain.FlagRehook, Reason: "a\x00b"}, domain.Invalid, "")
}

func TestTheWordsOfTheFlag(t *testing.T) {
	t.Parallel()
	for _, f := range []domain.FlagCall{0, domain.FlagStartAgain, domain.FlagRehook, domain.FlagDisqualified} {
		text, err := f.MarshalText()
		require.NoError(t, err)
		var again domain.FlagCall
		require.NoError(t, again.UnmarshalText(text))
		assert.Equal(t, f, again)
	}
	assert.Empty(t, domain.FlagCall(9).String())
	_, err := domain.ParseFlagCall("green")
	require.ErrorContains(t, err, "write start again, re-hook or disqualified")
}
