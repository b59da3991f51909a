package domain_test

import (
	"slices"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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

// driver enters a number with the name of its puller.
func (s *story) driver(number, puller string) uuid.UUID {
	id := s.id()
	s.do(domain.AddEntry{Entry: id, Number: number, Details: domain.Details{Puller: puller}})
	return id
}

// Two entries with one name of a puller are kept apart; case and stray spaces make no difference, and who is
// scratched is nobody's second vehicle.
func TestEntriesOfOneDriverAreKeptApart(t *testing.T) {
	t.Parallel()
	s := plan(t, set(t, "capped-300ft"))
	a, b := s.driver("41", "Maud Farrow"), s.driver("7", " maud  farrow")
	s.driver("23", "Jonas Weir")
	out := s.driver("23b", "Jonas Weir")
	for _, n := range []string{"1", "2", "3"} {
		s.driver(n, "P. "+n)
	}
	s.do(domain.Scratch{Entry: out, Reason: "flat tyre"})
	asked := domain.DrawClass{Round: s.id(), Seed: "dice 4 2 6", Between: 3}
	require.Equal(t, [][]uuid.UUID{{a, b}}, asked.Grouped(&s.class).Groups)
	s.do(asked.Grouped(&s.class))
	how := s.class.Draw.How
	require.Equal(t, []domain.Group{{Entries: []uuid.UUID{a, b}, Between: 3, Kept: 3}}, how.Groups)
	require.Positive(t, how.Try)
	var indexes []int
	for i, id := range s.class.Draw.Order {
		if id == a || id == b {
			indexes = append(indexes, i)
		}
	}
	assert.GreaterOrEqual(t, indexes[1]-indexes[0]-1, 3)
	asked.Between = 0
	assert.Empty(t, asked.Grouped(&s.class).Groups, "nothing is asked for")
	s.refuse(domain.DrawClass{Seed: "dice", Reason: "again", Between: 21}, domain.Invalid, "21 hooks between two of one driver cannot be")
}

// Three of one driver in a class of four cannot be 3 apart: the order is drawn all the same, and it is said what is
// not kept.
func TestWhatCannotBeKeptIsNamed(t *testing.T) {
	t.Parallel()
	s := plan(t, set(t, "capped-300ft"))
	for _, n := range []string{"1", "2", "3"} {
		s.driver(n, "Maud Farrow")
	}
	s.driver("4", "Jonas Weir")
	s.do(domain.DrawClass{Round: s.id(), Seed: "dice 4 2 6", Between: 3}.Grouped(&s.class))
	g := s.class.Draw.How.Groups[0]
	assert.Equal(t, []any{3, 0, true}, []any{g.Between, g.Kept, g.Proven})
	assert.Len(t, s.waiting(), 4)
}

func TestAnOfficialGivesAPlace(t *testing.T) {
	t.Parallel()
	s := plan(t, set(t, "capped-300ft"))
	for _, n := range []string{"41", "7", "23"} {
		s.enter(n)
	}
	seat := func(n string, place int) domain.Seat { return domain.Seat{Entry: s.entry(n), Place: place} }
	s.refuse(domain.DrawClass{Seed: "x", Fixed: []domain.Seat{seat("23", 4)}}, domain.Invalid, "23 cannot have place 4")
	s.refuse(domain.DrawClass{Seed: "x", Fixed: []domain.Seat{seat("23", 1), seat("7", 1)}}, domain.Invalid, "23 and 7 are both on place 1")
	s.refuse(domain.DrawClass{Seed: "x", Fixed: []domain.Seat{{Place: 1}}}, domain.Invalid, "it names somebody who is not entered")
	s.do(domain.DrawClass{Round: s.id(), Seed: "x", Fixed: []domain.Seat{seat("23", 1)}})
	assert.Equal(t, "23", s.waiting()[0])
	assert.Equal(t, []domain.Seat{seat("23", 1)}, s.class.Draw.How.Fixed)
}

// While a commitment stands, the class is drawn with its text or not at all; the draw uses it up.
func TestACommitmentStandsUntilItsDraw(t *testing.T) {
	t.Parallel()
	s := plan(t, set(t, "capped-300ft"))
	s.enter("41")
	s.enter("7")
	hash, err := draw.Commit(secret)
	require.NoError(t, err)
	s.refuse(domain.Commit{Hash: "877d"}, domain.Invalid, "a commitment has 64 figures")
	s.refuse(domain.DrawClass{Seed: "dice", Reveal: secret}, domain.Invalid, "no commitment was published")
	s.do(domain.Commit{Hash: hash})
	made := domain.Promise{Hash: hash, Made: s.clock}
	require.Equal(t, made, s.class.Promise)
	s.refuse(domain.Commit{Hash: hash}, domain.Invalid, "a commitment stands already")
	s.refuse(domain.DrawClass{Seed: "dice"}, domain.Invalid, "the secret text of the commitment is missing")
	s.refuse(domain.DrawClass{Seed: "dice", Reveal: "grey heron 9f2c41d07be4"}, domain.Invalid, "the secret text is not the one that was committed to")
	s.do(domain.DrawClass{Round: s.id(), Seed: " dice  4", Reveal: " grey  heron 9f2c41d07be3"})
	assert.Equal(t, "dice 4|"+secret, s.class.Draw.Seed)
	assert.Equal(t, domain.DrawHow{Public: "dice 4", Promise: made, Reveal: secret, Try: 1}, s.class.Draw.How)
	assert.Equal(t, domain.Promise{}, s.class.Promise)
	s.do(domain.Commit{Hash: hash})
	s.do(domain.Commit{Hash: hash[1:] + "0", Reason: "the text was lost"})
	assert.Equal(t, "the text was lost", s.class.Promise.Reason)
	s = begun(t, set(t, "capped-300ft"), "41", "7")
	s.refuse(domain.Commit{Hash: hash}, domain.WrongState, "the class has begun")
}

func TestTwoChangePlacesBeforeTheStart(t *testing.T) {
	t.Parallel()
	s := plan(t, set(t, "capped-300ft"))
	s.enter("41")
	s.refuse(domain.Swap{Reason: "x"}, domain.WrongState, "the class is not drawn")
	s = drawn(t, set(t, "capped-300ft"), "41", "7", "23")
	before := slices.Clone(s.class.Draw.Order)
	swap := domain.Swap{Entry: s.entry("41"), With: s.entry("23"), Reason: "one trailer"}
	s.do(swap)
	assert.Equal(t, []string{"23", "7", "41"}, s.waiting())
	assert.Equal(t, "changed places with 23: one trailer", slot(s, "41").Note)
	assert.Equal(t, "changed places with 41: one trailer", slot(s, "23").Note)
	assert.Equal(t, before, s.class.Draw.Order, "the draw stays as it was drawn")
	s.refuse(domain.Swap{Entry: s.entry("41"), With: s.entry("23")}, domain.Invalid, "the reason is missing")
	s.refuse(domain.Swap{Entry: s.entry("41"), With: s.entry("41"), Reason: "x"}, domain.Invalid, "cannot change places with itself")
	s.refuse(domain.Swap{Entry: s.entry("41"), Reason: "x"}, domain.NotFound, "there is no such entry in the order")
	s.freeze()
	s.call()
	s.refuse(swap, domain.WrongState, "the class has begun")
}
