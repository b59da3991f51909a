package sequence_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain/sequence"
)

const minute = time.Minute

// minutes draws a time in whole minutes.
func minutes(t *rapid.T, from, to int, label string) time.Duration {
	return time.Duration(rapid.IntRange(from, to).Draw(t, label)) * minute
}

// anyProblem draws a programme that can be tried through: few classes, and everything that can pin them.
func anyProblem(t *rapid.T, most int) sequence.Problem {
	p := sequence.Problem{Tracks: rapid.IntRange(1, 2).Draw(t, "tracks"), Rest: minutes(t, 0, 40, "rest"), Overrun: rapid.IntRange(0, 10).Draw(t, "overrun"), Late: rapid.IntRange(0, 5).Draw(t, "late")}
	starts := 10 * time.Hour
	for range rapid.IntRange(1, 2).Draw(t, "sessions") {
		s := sequence.Session{Starts: starts}
		if rapid.Bool().Draw(t, "curfew?") {
			s.Curfew = starts + minutes(t, 1, 150, "curfew")
		}
		from := starts
		for range rapid.IntRange(0, 2).Draw(t, "breaks") {
			b := sequence.Break{From: from + minutes(t, 0, 60, "from"), Length: minutes(t, 1, 30, "break")}
			from = b.From + b.Length
			s.Breaks = append(s.Breaks, b)
		}
		p.Sessions = append(p.Sessions, s)
		starts += minutes(t, 60, 200, "gap")
	}
	n := rapid.IntRange(0, most).Draw(t, "classes")
	for i := range n {
		c := sequence.Class{ID: fmt.Sprintf("c%d", i), Track: rapid.IntRange(0, p.Tracks-1).Draw(t, "track"), Position: rapid.IntRange(0, 3).Draw(t, "position"), Length: minutes(t, 5, 60, "length")}
		if rapid.Bool().Draw(t, "in one session") {
			c.Sessions = []int{rapid.IntRange(0, len(p.Sessions)-1).Draw(t, "session")}
		}
		if rapid.IntRange(0, 4).Draw(t, "fixed?") == 0 {
			c.Fixed = 10*time.Hour + minutes(t, 0, 240, "fixed")
		}
		for k := range 3 {
			if rapid.IntRange(0, 3).Draw(t, "shares") == 0 {
				c.Shares = append(c.Shares, fmt.Sprint("driver ", k))
			}
		}
		p.Classes = append(p.Classes, c)
		p.Changes = append(p.Changes, make([]sequence.Change, n))
		for j := range n {
			p.Changes[i][j] = sequence.Change{Box: minutes(t, 0, 20, "box"), Track: minutes(t, 0, 5, "track work")}
		}
	}
	return p
}

// proposed is the proposal, which there must be.
func proposed(t require.TestingT, p sequence.Problem) sequence.Order {
	order, err := p.Propose()
	require.NoError(t, err)
	return order
}

// Trying every order finds none that costs less, and one that costs as much.
func TestTheProposalIsTheCheapest(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := anyProblem(t, 5)
		order := proposed(t, p)
		least, _ := brute(p)
		require.True(t, order.Exact)
		assert.Equal(t, least, order.Cost.Total)
		assert.Equal(t, order.Cost.Total, order.Bound)
		assert.Empty(t, order.Loosened)
	})
}

// With fixed places there may be no order; then places are let go of until there is one.
func TestFixedPlacesAreKeptWhereTheyCanBe(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := anyProblem(t, 5)
		for i := range p.Classes {
			if rapid.IntRange(0, 2).Draw(t, "pinned?") == 0 {
				p.Classes[i].Place = rapid.IntRange(1, 5).Draw(t, "place")
			}
		}
		order := proposed(t, p)
		if least, found := brute(p); found {
			assert.Empty(t, order.Loosened)
			assert.Equal(t, least, order.Cost.Total)
			return
		}
		require.NotEmpty(t, order.Loosened, "no order keeps all of them")
		for i, c := range p.Classes {
			for _, id := range order.Loosened {
				if c.ID == id {
					p.Classes[i].Place = 0
				}
			}
		}
		least, found := brute(p)
		require.True(t, found)
		assert.Equal(t, least, order.Cost.Total, "what is left is kept at the least cost")
	})
}

// The order in which classes are given changes nothing.
func TestTheOrderOfTheQuestionChangesNothing(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := anyProblem(t, 6)
		rows := rapid.Permutation(indexes(len(p.Classes))).Draw(t, "shuffled")
		assert.Equal(t, proposed(t, p), proposed(t, shuffled(p, rows)))
	})
}

// indexes is 0 to n-1.
func indexes(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

// shuffled gives the classes in another order.
func shuffled(p sequence.Problem, rows []int) sequence.Problem {
	q := p
	q.Classes, q.Changes = nil, nil
	for _, i := range rows {
		q.Classes = append(q.Classes, p.Classes[i])
		var row []sequence.Change
		for _, j := range rows {
			row = append(row, p.Changes[i][j])
		}
		q.Changes = append(q.Changes, row)
	}
	return q
}

// Whatever else is asked for, the proposal does not become cheaper: a place, a person in one more class, a longer rest, an
// earlier curfew.
func TestAskingForMoreIsNeverCheaper(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := anyProblem(t, 5)
		if len(p.Classes) == 0 {
			return
		}
		before := proposed(t, p).Cost.Total
		i := rapid.IntRange(0, len(p.Classes)-1).Draw(t, "which")
		what := rapid.SampledFrom([]string{"share", "rest", "curfew", "place", "session"}).Draw(t, "what")
		switch what {
		case "share":
			p.Classes[i].Shares = append(p.Classes[i].Shares, "driver 0")
		case "rest":
			p.Rest += minutes(t, 1, 30, "more rest")
		case "curfew":
			p.Sessions[0].Curfew = p.Sessions[0].Starts + minute
		case "place":
			p.Classes[i].Place = 1
		case "session":
			if len(p.Classes[i].Sessions) == 0 {
				p.Classes[i].Sessions = []int{0}
			}
		}
		if after := proposed(t, p); len(after.Loosened) == 0 {
			assert.GreaterOrEqual(t, after.Cost.Total, before, what)
		}
	})
}

// Any order that is evaluated costs at least the proposal, and the proposal, evaluated, what it says.
func TestNoOrderIsCheaperThanTheProposal(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := anyProblem(t, 6)
		order := proposed(t, p)
		again, err := p.Evaluate(idsOf(order))
		require.NoError(t, err)
		assert.Equal(t, order.Cost.Total, again.Cost.Total)
		var ids []string
		for _, i := range rapid.Permutation(indexes(len(p.Classes))).Draw(t, "any order") {
			ids = append(ids, p.Classes[i].ID)
		}
		if other, err := p.Evaluate(ids); err == nil {
			assert.GreaterOrEqual(t, other.Cost.Total, order.Cost.Total)
		}
	})
}

// idsOf lists the classes of an order.
func idsOf(o sequence.Order) []string {
	ids := make([]string, len(o.Turns))
	for i, t := range o.Turns {
		ids[i] = t.Class
	}
	return ids
}

// In no order is anybody at two places at once or without the rest, and the parts of the cost are its sum.
func TestAnOrderHoldsWhatItPromises(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := anyProblem(t, 6)
		order := proposed(t, p)
		require.Len(t, order.Turns, len(p.Classes))
		class := make(map[string]sequence.Class)
		for _, c := range p.Classes {
			class[c.ID] = c
		}
		for i, a := range order.Turns {
			assert.GreaterOrEqual(t, a.Wait, time.Duration(0))
			assert.GreaterOrEqual(t, a.Start, max(p.Sessions[a.Session].Starts, class[a.Class].Fixed))
			for _, b := range order.Turns[:i] {
				if together(class[a.Class], class[b.Class]) {
					assert.True(t, a.Start >= b.End+p.Rest || b.Start >= a.End+p.Rest, "%s and %s", a.Class, b.Class)
				}
			}
		}
		c := order.Cost
		assert.Equal(t, c.Total, c.Box+c.Track+c.Wait+time.Duration(p.Late)*c.Late+time.Duration(p.Overrun)*c.Overrun)
	})
}

// made is a programme of n classes in one session with settings on a line: the further apart, the longer the change.
func made(seed uint64, n, shared int) sequence.Problem {
	chance := rand.New(rand.NewPCG(seed, 1))
	p := sequence.Problem{Tracks: 1, Sessions: []sequence.Session{{Starts: 10 * time.Hour, Curfew: 20 * time.Hour}}, Rest: 20 * minute, Overrun: 10, Late: 10}
	slabs, gear := make([]int, n), make([]int, n)
	for i := range n {
		slabs[i], gear[i] = chance.IntN(15), chance.IntN(4)
		c := sequence.Class{ID: fmt.Sprintf("%02d", i), Position: i, Length: time.Duration(30+chance.IntN(60)) * minute}
		if i < 2*shared {
			c.Shares = []string{fmt.Sprint("driver ", i/2)}
		}
		p.Classes = append(p.Classes, c)
	}
	for i := range n {
		row := make([]sequence.Change, n)
		for j := range row {
			row[j].Box = time.Duration(abs(slabs[i]-slabs[j])) * 30 * time.Second
			if gear[i] != gear[j] {
				row[j].Box += time.Duration(2+chance.IntN(3)) * minute
			}
			row[j].Track = 5 * minute
		}
		p.Changes = append(p.Changes, row)
	}
	return p
}

func abs(n int) int { return max(n, -n) }

// Sixteen classes on a track are put in order exactly, four drivers in two of them included.
func TestSixteenClassesAreExact(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		order := proposed(t, made(seed, 16, 4))
		assert.True(t, order.Exact)
		assert.Equal(t, order.Cost.Total, order.Bound)
	}
}

// Beyond that the order is near a bound that no order is below, and better than what was there.
func TestManyClassesAreNearTheBound(t *testing.T) {
	t.Parallel()
	for seed := range uint64(3) {
		p := made(seed, 36, 6)
		p.Sessions[0].Curfew = 0 // the minutes past it would hide the gap
		order := proposed(t, p)
		var ids []string
		for _, c := range p.Classes {
			ids = append(ids, c.ID)
		}
		was, err := p.Evaluate(ids)
		require.NoError(t, err)
		t.Log(was.Cost.Total, order.Cost.Total, order.Bound, order.Exact)
		assert.LessOrEqual(t, order.Bound, order.Cost.Total)
		assert.Less(t, order.Cost.Total, was.Cost.Total)
		assert.Less(t, order.Cost.Total-order.Bound, order.Cost.Total/8, "the gap that the manual tells of")
	}
}

// Two tracks with drivers in common may be too much for the exact search; where the tracks alone cost as much, nothing
// better is possible all the same.
func TestTwoTracksAreExactWhereTheTracksAloneAre(t *testing.T) {
	t.Parallel()
	p := made(2, 16, 4)
	p.Tracks, p.Sessions[0].Curfew = 2, 0
	for i := range p.Classes {
		p.Classes[i].Track = i % 2
	}
	order := proposed(t, p)
	assert.True(t, order.Exact)
	assert.Equal(t, order.Bound, order.Cost.Total)
}

func TestWhatCannotBePutInOrderIsSaid(t *testing.T) {
	t.Parallel()
	for says, change := range map[string]func(*sequence.Problem){
		"1 to 4 tracks":                       func(p *sequence.Problem) { p.Tracks = 0 },
		"no session":                          func(p *sequence.Problem) { p.Sessions = nil },
		"the curfew is before the session":    func(p *sequence.Problem) { p.Sessions[0].Curfew = 9 * time.Hour },
		"the session starts before":           func(p *sequence.Problem) { p.Sessions[0].Starts = -1 },
		"the break has no length":             func(p *sequence.Problem) { p.Sessions[0].Breaks = []sequence.Break{{From: 11 * time.Hour}} },
		"the break begins before the session": func(p *sequence.Problem) { p.Sessions[0].Breaks = []sequence.Break{{From: time.Hour, Length: 1}} },
		"at most 60 classes":                  func(p *sequence.Problem) { p.Classes = make([]sequence.Class, 61) },
		"the changes are not those":           func(p *sequence.Problem) { p.Changes = p.Changes[1:] },
		"not as long as the programme":        func(p *sequence.Problem) { p.Changes[1] = nil },
		"between two classes is below zero":   func(p *sequence.Problem) { p.Rest = -1 },
		"two classes have one id":             func(p *sequence.Problem) { p.Classes[1].ID = "00" },
		"the class has no id":                 func(p *sequence.Problem) { p.Classes[1].ID = "" },
		"on a track that there is not":        func(p *sequence.Problem) { p.Classes[0].Track = 1 },
		"takes no time":                       func(p *sequence.Problem) { p.Classes[0].Length = 0 },
		"the place is below 1":                func(p *sequence.Problem) { p.Classes[0].Place = -1 },
		"the fixed start is before":           func(p *sequence.Problem) { p.Classes[0].Fixed = -1 },
		"in a session that there is not":      func(p *sequence.Problem) { p.Classes[0].Sessions = []int{1} },
	} {
		p := made(0, 3, 0)
		change(&p)
		_, err := p.Propose()
		var trouble *sequence.Trouble
		require.True(t, errors.As(err, &trouble), says)
		assert.Contains(t, trouble.Error(), says)
		_, err = p.Evaluate([]string{"00", "01", "02"})
		assert.EqualError(t, err, trouble.Error())
	}
}

func TestAnOrderListsEachClassOnce(t *testing.T) {
	t.Parallel()
	p := made(0, 3, 0)
	for _, ids := range [][]string{{"00", "01"}, {"00", "01", "01"}, {"00", "01", "77"}, {"00", "01", "02", "02"}} {
		_, err := p.Evaluate(ids)
		assert.ErrorContains(t, err, "list each class once", "%v", ids)
	}
	p.Sessions = append(p.Sessions, sequence.Session{Starts: 30 * time.Hour})
	p.Classes[0].Sessions, p.Classes[1].Sessions = []int{1}, []int{0}
	_, err := p.Evaluate([]string{"00", "01", "02"})
	assert.ErrorContains(t, err, "list the sessions one after the other")
}

// Two classes that want one place cannot both have it: the one that is there first keeps it.
func TestWhoWantsATakenPlaceIsNamed(t *testing.T) {
	t.Parallel()
	p := made(0, 3, 0)
	p.Classes[0].Place, p.Classes[2].Place = 2, 2
	order := proposed(t, p)
	assert.Equal(t, []string{"02"}, order.Loosened)
	assert.Equal(t, "00", order.Turns[1].Class)
	p.Classes[2].Place = 4
	assert.Equal(t, []string{"02"}, proposed(t, p).Loosened, "three classes have no fourth place")
}

// A fixed start is waited for, and what comes before it is waited out with what fits.
func TestAFixedStartIsWaitedFor(t *testing.T) {
	t.Parallel()
	p := sequence.Problem{
		Tracks: 1, Sessions: []sequence.Session{{Starts: 10 * time.Hour, Breaks: []sequence.Break{{From: 11 * time.Hour, Length: 30 * minute}}}},
		Classes: []sequence.Class{{ID: "a", Length: time.Hour, Fixed: 12 * time.Hour}, {ID: "b", Position: 1, Length: time.Hour}},
		Changes: [][]sequence.Change{{{}, {Box: 10 * minute}}, {{Box: 10 * minute}, {}}}, Late: 10,
	}
	order := proposed(t, p)
	assert.Equal(t, []string{"b", "a"}, idsOf(order))
	second := order.Turns[1]
	assert.Equal(t, 12*time.Hour, second.Start)
	assert.Equal(t, 10*minute, second.Change.Box)
	assert.Equal(t, 20*minute, second.Wait, "an hour, less the break and the change")
	assert.Equal(t, 30*minute, order.Cost.Total)
}
