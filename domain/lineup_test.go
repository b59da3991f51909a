package domain_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// line says who is to hook and where: "41 here, 7, 23 cooling".
func (s *story) line() string {
	var words []string
	for _, l := range s.class.InLine() {
		words = append(words, strings.TrimSpace(s.class.Entry(l.Entry).Number+" "+l.Where.String()))
	}
	return strings.Join(words, ", ")
}

func (s *story) says(number string, where domain.Where) domain.SayWhere {
	return domain.SayWhere{Entry: s.entry(number), Where: where}
}

// The last word stands until the hook, and nothing is called or passed over by it.
func TestTheStewardSaysWhoIsHere(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7", "23")
	assert.Equal(t, "41, 7, 23", s.line(), "who was called is still to hook")
	s.do(s.says("7", domain.Missing))
	s.do(s.says("41", domain.Here))
	s.do(s.says("7", domain.Here))
	assert.Equal(t, "41 here, 7 here, 23", s.line())
	require.Equal(t, s.clock, s.class.InLine()[1].At)
	s.do(domain.Start{Hook: s.class.OnTrack().ID})
	assert.Equal(t, "7 here, 23", s.line(), "a hook that has started is nobody's to send")
	s.pulls("41", "FP")
	assert.Equal(t, "7 here, 23", s.line())
	s.do(domain.Scratch{Entry: s.entry("23"), Reason: "clutch"})
	assert.Equal(t, "7 here", s.line())
}

func TestWhatTheStewardCannotSay(t *testing.T) {
	t.Parallel()
	s := plan(t, set(t, "capped-300ft"))
	entry := s.enter("41")
	s.refuse(domain.SayWhere{Entry: entry, Where: domain.Here}, domain.WrongState, "not drawn")
	assert.Empty(t, s.class.InLine())
	s = begun(t, set(t, "capped-300ft"), "41", "7", "23")
	s.refuse(domain.SayWhere{Entry: s.id(), Where: domain.Here}, domain.NotFound, "not in the current round")
	s.refuse(s.says("7", 0), domain.Invalid, "nothing is said")
	s.refuse(s.says("7", 9), domain.Invalid, "nothing is said")
	s.do(domain.Start{Hook: s.class.OnTrack().ID})
	s.refuse(s.says("41", domain.Here), domain.WrongState, "has started")
	s.pulls("41", "FP")
	s.refuse(s.says("41", domain.Here), domain.WrongState, "not to hook in this round any more")
}

// RENEG 6: a puller may drop up to four places to cool down after a re-hook, and has five minutes where fewer are left.
func TestWhoHooksAgainCoolsDownFirst(t *testing.T) {
	t.Parallel()
	reneg := func(r *domain.RuleSet) { r.RehookDrop, r.RehookMinutes = 4, 5 }
	s := begun(t, set(t, "capped-300ft", reneg), "41", "7", "23")
	s.do(s.says("41", domain.Here))
	s.do(domain.Again{Hook: s.class.OnTrack().ID, Reason: "sled", Places: 2, Next: s.id()})
	require.Equal(t, "7, 23, 41 cooling", s.line(), "what was said before the hook says nothing after it")
	cooling := s.class.InLine()[2]
	assert.Equal(t, s.clock, cooling.At)
	assert.Equal(t, 5.0, cooling.Until.Sub(cooling.At).Minutes())
	s.do(s.says("41", domain.Here))
	assert.Equal(t, "7, 23, 41 here", s.line())
	assert.True(t, s.class.InLine()[2].Until.IsZero())

	s = begun(t, set(t, "capped-300ft", func(r *domain.RuleSet) { r.RehookDrop, r.RehookMinutes = 3, 0 }), "41", "7")
	s.do(s.says("7", domain.Cooling))
	assert.True(t, s.class.InLine()[1].Until.IsZero(), "these rules give no minutes")
	s.do(s.says("41", domain.Here))
	s.do(domain.Drop{Hook: s.class.OnTrack().ID, Reason: "belt", Places: s.class.Rules.DropPlaces, Next: s.id()})
	assert.Equal(t, "7 cooling, 41", s.line(), "who gave up the call went back to the pits, or did not")
}

func TestTheWordsOfTheLineUp(t *testing.T) {
	t.Parallel()
	for _, w := range []domain.Where{0, domain.Here, domain.Missing, domain.Cooling} {
		read, err := domain.ParseWhere(w.String())
		require.NoError(t, err)
		assert.Equal(t, w, read)
		var again domain.Where
		text, err := w.MarshalText()
		require.NoError(t, err)
		require.NoError(t, again.UnmarshalText(text))
		assert.Equal(t, w, again)
	}
	assert.Empty(t, domain.Where(9).String())
	_, err := domain.ParseWhere("asleep")
	require.ErrorContains(t, err, "write here, missing or cooling")
}
