package domain_test

import (
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"

	"clayline/domain"
	"clayline/domain/draw"
)

// Anyone can recompute the order of a class from its seed and the numbers.
func TestADrawCanBeRecomputed(t *testing.T) {
	t.Parallel()
	s := plan(t, set(t, "capped-300ft"))
	numbers := []string{"41", "7", "23", "12"}
	for _, n := range numbers {
		s.enter(n)
	}
	assert.Equal(t, domain.Entering, s.class.Phase())
	s.do(domain.DrawClass{Round: s.id(), Seed: "  dice   4 2 6 "})
	assert.Equal(t, "dice 4 2 6", s.class.Draw.Seed, "the seed as it enters the hash")
	assert.Equal(t, s.clock, s.class.Draw.Drawn)
	assert.Equal(t, 1, s.class.Draw.Times)
	var want []string
	for _, i := range draw.Order("dice 4 2 6", numbers) {
		want = append(want, numbers[i])
	}
	assert.Equal(t, want, s.numbers(s.class.Draw.Order))
	assert.Equal(t, want, s.waiting())
}

func TestADrawNeedsASeedAndSomebodyToDraw(t *testing.T) {
	t.Parallel()
	s := plan(t, set(t, "capped-300ft"))
	s.refuse(domain.DrawClass{Round: s.id(), Seed: "dice"}, domain.WrongState, "nobody is entered")
	only := s.enter("41")
	s.refuse(domain.DrawClass{Round: s.id(), Seed: " \t "}, domain.Invalid, "the seed is missing")
	s.do(domain.Scratch{Entry: only, Reason: "no tech sticker"})
	s.refuse(domain.DrawClass{Round: s.id(), Seed: "dice"}, domain.WrongState, "nobody is entered")
}

func TestAClassIsDrawnAgainWithAReasonAndOnlyBeforeItsStart(t *testing.T) {
	t.Parallel()
	s := drawn(t, set(t, "capped-300ft"), "41", "7", "23")
	first := s.class.Rounds[0].ID
	s.refuse(domain.DrawClass{Round: s.id(), Seed: "other"}, domain.Invalid, "give the reason for drawing it again")
	s.do(domain.DrawClass{Round: s.id(), Seed: "other", Reason: "23 was not on the list"})
	assert.Equal(t, 2, s.class.Draw.Times)
	assert.Equal(t, "23 was not on the list", s.class.Draw.Reason)
	assert.Equal(t, first, s.class.Rounds[0].ID, "the round stays the same")
	assert.Len(t, s.waiting(), 3)
	s.freeze()
	s.call()
	s.refuse(domain.DrawClass{Seed: "third", Reason: "mine is better"}, domain.WrongState, "the class has begun")
}

func TestALateEntryIsLastInTheOrder(t *testing.T) {
	t.Parallel()
	s := drawn(t, set(t, "capped-100m"), "41", "7")
	s.enter("1")
	assert.Equal(t, []string{"41", "7", "1"}, s.waiting(), "MAM: late entries pull last in class")
	assert.Equal(t, "late entry, last in the order", slot(s, "1").Note)
	assert.True(t, s.class.Entry(s.entry("1")).Late)
	assert.False(t, s.class.Entry(s.entry("41")).Late)
	assert.NotContains(t, s.class.Draw.Order, s.entry("1"))
	s.freeze()
	s.call()
	s.enter("2")
	assert.Equal(t, []string{"7", "1", "2"}, s.waiting(), "also while the class is being pulled")
	for _, number := range []string{"41", "7", "1", "2"} {
		s.pulls(number, "FP")
	}
	s.refuse(domain.AddEntry{Entry: s.id(), Number: "3", Details: domain.Details{Puller: "Late"}}, domain.WrongState, "the first round is over")
	s.opens("P1", "41", "7", "1", "2")
	s.refuse(domain.AddEntry{Entry: s.id(), Number: "3", Details: domain.Details{Puller: "Late"}}, domain.WrongState, "the first round is over")
}

func TestTheScratchedAreTakenOutOfTheOrder(t *testing.T) {
	t.Parallel()
	s := drawn(t, set(t, "capped-100m"), "41", "7", "23")
	s.do(domain.Scratch{Entry: s.entry("7"), Reason: "flat tyre"})
	assert.Equal(t, []string{"41", "23"}, s.waiting())
	assert.True(t, slot(s, "7").Out)
	assert.Equal(t, "scratched: flat tyre", slot(s, "7").Note)
	s.freeze()
	s.call()
	s.refuse(domain.Scratch{Entry: s.entry("41"), Reason: "engine"}, domain.WrongState, "is on the track")
	s.pulls("41", "50")
	s.pulls("23", "51")
	s.decided()
	s.stands("1 23", "2 41", "- 7")
	s.refuse(domain.Scratch{Entry: s.entry("7"), Reason: "again"}, domain.WrongState, "already scratched")
	s.refuse(domain.Scratch{Entry: uuid.Nil, Reason: "who"}, domain.NotFound, "no such entry")
	s.refuse(domain.Scratch{Entry: s.entry("41")}, domain.Invalid, "the reason is missing")
}

func TestTheScratchedKeepWhatTheyPulledAndNothingElse(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7")
	s.pulls("41", "200")
	s.options("41")
	s.do(domain.Scratch{Entry: s.entry("41"), Reason: "engine"})
	assert.Nil(t, s.class.Pending(), "nothing is left to choose")
	assert.Equal(t, domain.Ready, s.class.Phase())
	s.refuse(domain.Again{Hook: s.hook("41", "1").ID, Reason: "sled", Next: s.id()}, domain.WrongState, "scratched")
	s.call()
	s.pulls("7", "150")
	s.decided()
	s.stands("1 41", "2 7")
}

func TestARedrawLeavesTheScratchedOut(t *testing.T) {
	t.Parallel()
	s := drawn(t, set(t, "capped-100m"), "41", "7", "23")
	s.do(domain.Scratch{Entry: s.entry("7"), Reason: "flat tyre"})
	s.do(domain.DrawClass{Seed: "new", Reason: "one less"})
	assert.Len(t, s.class.Current().Lineup, 2)
	assert.NotContains(t, s.class.Draw.Order, s.entry("7"))
}
