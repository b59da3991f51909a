package domain_test

import (
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

// protested is a ready-made set with a protest rule. Ten minutes are those of FTG.
func protested(t testing.TB, rule domain.ProtestRule) domain.RuleSet {
	rules := set(t, "capped-100m")
	rules.Protest = rule
	require.NoError(t, rules.Check())
	return rules
}

// lodges protests against a number, about a hook of a round unless that is "".
func (s *story) lodges(number, round string) uuid.UUID {
	s.t.Helper()
	hook := uuid.Nil
	if round != "" {
		hook = s.hook(number, round).ID
	}
	id := s.id()
	s.do(domain.LodgeProtest{Protest: id, Entry: s.entry(number), Hook: hook, About: "over the side line", Fee: true, By: "P. Rotester"})
	return id
}

// protest is the protest with the id.
func (s *story) protest(id uuid.UUID) domain.Protest {
	s.t.Helper()
	for _, p := range s.class.Protests {
		if p.ID == id {
			return p
		}
	}
	s.t.Fatal("no such protest")
	return domain.Protest{}
}

// FTG: within ten minutes after the class. The story's clock goes on a minute an action, refused ones too.
func TestAResultIsSignedWhenTheWindowForProtestsIsOver(t *testing.T) {
	t.Parallel()
	s := begun(t, protested(t, domain.ProtestRule{Minutes: 10}), "41", "7")
	s.pulls("41", "50")
	assert.Zero(t, s.class.ProtestsUntil(), "the class is not decided")
	s.pulls("7", "51")
	ended := s.clock
	assert.Equal(t, ended.Add(10*time.Minute), s.class.ProtestsUntil())
	s.refuse(domain.MakeOfficial{Name: "O. Example"}, domain.WrongState, "protests are taken for 9 more minutes; sign when the window is over")
	s.clock = ended.Add(8*time.Minute + 30*time.Second)
	s.refuse(domain.MakeOfficial{Name: "O. Example"}, domain.WrongState, "protests are taken for 1 more minute;")
	s.clock = ended.Add(9 * time.Minute)
	s.signs("O. Example")
	assert.Equal(t, ended.Add(10*time.Minute), s.class.Official.Made, "at the very end of the window it can be signed")
}

// Whoever a correction displaced has the same time as anybody had.
func TestACorrectionBeginsTheWindowAnew(t *testing.T) {
	t.Parallel()
	s := begun(t, protested(t, domain.ProtestRule{Minutes: 10}), "41", "7")
	s.pulls("41", "50")
	s.pulls("7", "51")
	s.clock = s.clock.Add(20 * time.Minute)
	s.corrects("7", "1", "49")
	assert.Equal(t, s.clock.Add(10*time.Minute), s.class.ProtestsUntil())
	s.clock = s.clock.Add(20 * time.Minute)
	s.do(domain.VoidHook{Hook: s.hook("7", "1").ID, Reason: "wrong class", Next: s.id()})
	assert.Equal(t, s.clock.Add(10*time.Minute), s.class.ProtestsUntil(), "what is made void is another result too")
}

func TestWithoutAClockNothingIsWaitedForButTheProtestsThereAre(t *testing.T) {
	t.Parallel()
	s := begun(t, protested(t, domain.ProtestRule{Until: "before trophies are handed over", Fee: "500 kr", Decides: "the board"}), "41")
	s.pulls("41", "50")
	assert.Zero(t, s.class.ProtestsUntil())
	protest := s.lodges("41", "1")
	assert.False(t, s.protest(protest).Late, "without a clock nothing is late")
	s.refuse(domain.MakeOfficial{Name: "O. Example"}, domain.WrongState, "the protest against 41 is not decided; decide it first")
	s.do(domain.DecideProtest{Protest: protest, Ruling: domain.TurnedDown, Reason: "both wheels were in"})
	s.signs("O. Example")
}

// "There is no appeal process" (OPS 7).
func TestRulesWithoutProtestsTakeNone(t *testing.T) {
	t.Parallel()
	s := begun(t, protested(t, domain.ProtestRule{}), "41")
	s.pulls("41", "50")
	s.refuse(domain.LodgeProtest{Protest: s.id(), Entry: s.entry("41"), About: "x"}, domain.WrongState, "under the rules of this class a result is not protested")
	s.signs("O. Example")
}

func TestAProtestSaysAgainstWhomAndWhat(t *testing.T) {
	t.Parallel()
	s := begun(t, protested(t, domain.ProtestRule{Minutes: 10}), "41", "7")
	s.pulls("41", "50")
	first := s.lodges("41", "1")
	assert.Equal(t, domain.Protest{
		ID: first, Entry: s.entry("41"), Hook: s.hook("41", "1").ID, About: "over the side line", Fee: true, By: "P. Rotester", Lodged: s.clock,
	}, s.protest(first), "a protest may come while the class is pulled")
	fresh := s.id()
	s.refuse(domain.LodgeProtest{Protest: fresh, Entry: s.entry("41")}, domain.Invalid, "what the protest is about is missing")
	s.refuse(domain.LodgeProtest{Protest: fresh, Entry: s.id(), About: "x"}, domain.NotFound, "no such entry")
	s.refuse(domain.LodgeProtest{Protest: fresh, Entry: s.entry("7"), Hook: s.hook("41", "1").ID, About: "x"}, domain.NotFound, "that entry has no such hook")
	s.refuse(domain.LodgeProtest{Protest: fresh, Entry: s.entry("7"), Hook: s.id(), About: "x"}, domain.NotFound, "that entry has no such hook")
	s.refuse(domain.LodgeProtest{Protest: first, Entry: s.entry("41"), About: "x"}, domain.Invalid, "no id of its own")
	s.refuse(domain.LodgeProtest{Entry: s.entry("41"), About: "x"}, domain.Invalid, "no id of its own")
	_, err := domain.Lodger("  ")
	require.ErrorContains(t, err, "the name of whoever protests is missing")
}

// A protest after the window is written down as late. Whether it is heard, the officials decide.
func TestALateProtestIsMarked(t *testing.T) {
	t.Parallel()
	s := begun(t, protested(t, domain.ProtestRule{Minutes: 5}), "41")
	s.pulls("41", "50")
	assert.False(t, s.protest(s.lodges("41", "1")).Late)
	s.clock = s.class.ProtestsUntil()
	late := s.lodges("41", "")
	assert.True(t, s.protest(late).Late)
	s.corrects("41", "1", "49")
	assert.True(t, s.protest(late).Late, "a new window does not make it one in time")
}

func TestAProtestIsDecidedOnce(t *testing.T) {
	t.Parallel()
	s := begun(t, protested(t, domain.ProtestRule{Minutes: 5}), "41", "7")
	s.pulls("41", "50")
	s.pulls("7", "51")
	first, second := s.lodges("41", "1"), s.lodges("7", "1")
	s.refuse(domain.DecideProtest{Protest: s.id(), Ruling: domain.Upheld, Reason: "x"}, domain.NotFound, "no such protest")
	s.refuse(domain.DecideProtest{Protest: first, Reason: "x"}, domain.Invalid, "the ruling is missing")
	s.refuse(domain.DecideProtest{Protest: first, Ruling: domain.Upheld}, domain.Invalid, "the reason is missing")
	s.refuse(domain.DecideProtest{Protest: first, Ruling: domain.TurnedDown, Follows: domain.CorrectionFollows, Reason: "x"}, domain.Invalid, "nothing follows from a protest that was not upheld")
	s.do(domain.DecideProtest{Protest: second, Ruling: domain.TakenBack})
	s.do(domain.DecideProtest{Protest: first, Ruling: domain.Upheld, Follows: domain.DisqualificationFollows, Reason: "seen on video"})
	decided := s.protest(first)
	assert.Equal(t, []any{domain.Upheld, domain.DisqualificationFollows, "seen on video", s.clock}, []any{decided.Ruling, decided.Follows, decided.Reason, decided.Decided})
	s.refuse(domain.DecideProtest{Protest: first, Ruling: domain.TurnedDown, Reason: "x"}, domain.Stale, "that protest is decided already")
	assert.Equal(t, "50 m", s.hook("41", "1").Result.Distance.String(), "the ruling changes no result by itself")
}

func TestAnUpheldProtestAsksForACorrectionUntilItIsMade(t *testing.T) {
	t.Parallel()
	s := begun(t, protested(t, domain.ProtestRule{Minutes: 5}), "41", "7")
	s.pulls("41", "50")
	s.pulls("7", "51")
	s.corrects("7", "1", "50.5")
	hook, vehicle, other := s.lodges("7", "1"), s.lodges("7", ""), s.lodges("41", "1")
	for _, id := range []uuid.UUID{hook, vehicle} {
		s.do(domain.DecideProtest{Protest: id, Ruling: domain.Upheld, Follows: domain.DisqualificationFollows, Reason: "seen on video"})
	}
	s.do(domain.DecideProtest{Protest: other, Ruling: domain.Upheld, Reason: "the flagman was told"})
	require.Len(t, s.class.ToCorrect(), 2, "what was corrected before does not count, and nothing follows from the third")
	s.do(domain.Correct{Hook: s.hook("7", "1").ID, Result: domain.Result{Outcome: domain.Disqualified}, Reason: "protest upheld", Next: s.id()})
	assert.Empty(t, s.class.ToCorrect())
	s.stands("1 41", "- 7")
}

func TestAnOfficialResultIsNotProtested(t *testing.T) {
	t.Parallel()
	s := begun(t, protested(t, domain.ProtestRule{Until: "before trophies"}), "41")
	s.pulls("41", "50")
	s.signs("O. Example")
	s.refuse(domain.LodgeProtest{Protest: s.id(), Entry: s.entry("41"), About: "x"}, domain.WrongState, "the result is official")
}

func TestAProtestRuleSaysUntilWhen(t *testing.T) {
	t.Parallel()
	long := strings.Repeat("x", 201)
	for says, rule := range map[string]domain.ProtestRule{
		"protest window has 0 to 1440": {Minutes: -1},
		"has 0 to 1440 minutes":        {Minutes: 1441},
		"does not say until when":      {Fee: "$50"},
		"and does not say until when":  {Decides: "the board"},
		"longer than 200":              {Fee: long, Minutes: 5},
		"the text is longer":           {Until: long},
		"longer than 200 characters":   {Decides: long, Minutes: 5},
	} {
		rules := set(t, "capped-100m")
		rules.Protest = rule
		require.ErrorContains(t, rules.Check(), says)
	}
}

func TestRulingsAndConsequencesAreWords(t *testing.T) {
	t.Parallel()
	for _, r := range []domain.Ruling{domain.Upheld, domain.TurnedDown, domain.TakenBack} {
		read, err := domain.ParseRuling(r.String())
		require.NoError(t, err)
		assert.Equal(t, r, read)
	}
	for _, f := range []domain.Follows{domain.NothingFollows, domain.CorrectionFollows, domain.DisqualificationFollows} {
		read, err := domain.ParseFollows(f.String())
		require.NoError(t, err)
		assert.Equal(t, f, read)
	}
	_, err := domain.ParseRuling("won")
	require.ErrorContains(t, err, `"won" is not a ruling`)
	_, err = domain.ParseFollows("beer")
	require.ErrorContains(t, err, `"beer" is not what can follow`)
}

// Whatever is protested and corrected and in which order: nothing is signed while a protest is open or the window is,
// and everything can be signed once both are over.
func TestNothingIsSignedOverAProtest(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		s := begun(t, protested(t, domain.ProtestRule{Minutes: rapid.IntRange(1, 12).Draw(rt, "minutes")}), "41", "7")
		s.pulls("41", "50")
		s.pulls("7", "51")
		for range rapid.IntRange(0, 6).Draw(rt, "steps") {
			switch number := rapid.SampledFrom([]string{"41", "7"}).Draw(rt, "number"); rapid.IntRange(0, 2).Draw(rt, "step") {
			case 0:
				s.lodges(number, "1")
			case 1:
				s.corrects(number, "1", "48")
			default:
				for _, p := range s.class.Protests {
					if p.Open() {
						s.do(domain.DecideProtest{Protest: p.ID, Ruling: domain.TakenBack})
						break
					}
				}
			}
			until, open := s.class.ProtestsUntil(), 0
			for _, p := range s.class.Protests {
				if p.Open() {
					open++
				}
			}
			_, err := domain.Decide(s.class, domain.MakeOfficial{Name: "O. Example"}, s.clock)
			require.Equal(rt, open == 0 && !s.clock.Before(until), err == nil)
		}
		require.Equal(rt, s.class, s.replayed())
	})
}
