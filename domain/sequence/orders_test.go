package sequence_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain/sequence"
)

// inOrder is the least that an order costs, by trying every way to give the classes of the tracks their time one by one,
// and every session. It shares nothing with the package but the words of its documentation.
func inOrder(p sequence.Problem, ids []string) (least time.Duration, found bool) {
	rows := make([]int, len(ids))
	for i, id := range ids {
		rows[i] = slices.IndexFunc(p.Classes, func(c sequence.Class) bool { return c.ID == id })
	}
	least = 1 << 62
	var try func(order, sessions []int)
	try = func(order, sessions []int) {
		if len(order) == len(rows) {
			if cost, ok := clocked(p, order, sessions); ok && cost < least {
				least, found = cost, true
			}
			return
		}
		var tracks []int
		for _, j := range rows {
			c := p.Classes[j]
			if slices.Contains(order, j) || slices.Contains(tracks, c.Track) {
				continue
			}
			tracks = append(tracks, c.Track)
			for s := range p.Sessions {
				if len(c.Sessions) == 0 || slices.Contains(c.Sessions, s) {
					try(append(slices.Clone(order), j), append(slices.Clone(sessions), s))
				}
			}
		}
	}
	try(nil, nil)
	return least, found
}

// swapped is an order with two neighbours changed.
func swapped(ids []string, i int) []string {
	moved := slices.Clone(ids)
	moved[i], moved[i+1] = moved[i+1], moved[i]
	return moved
}

// What each move costs, evaluated one after the other, is what a clock says of the whole order, and what the order costs by
// itself: nothing of one is left in the next.
func TestEachMoveCostsWhatTheWholeOrderCosts(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := anyProblem(t, 6)
		orders, err := p.Orders()
		require.NoError(t, err)
		var ids []string
		for _, i := range rapid.Permutation(indexes(len(p.Classes))).Draw(t, "order") {
			ids = append(ids, p.Classes[i].ID)
		}
		asked := [][]string{ids}
		for i := range max(len(ids)-1, 0) {
			asked = append(asked, swapped(ids, i))
		}
		for _, order := range append(asked, ids) {
			got, err := orders.Evaluate(order)
			alone, wrong := p.Evaluate(order)
			least, found := inOrder(p, order)
			require.Equal(t, found, err == nil, "%v: %v", order, err)
			require.Equal(t, wrong, err)
			if found {
				require.Equal(t, least, got.Cost.Total, "%v", order)
				require.Equal(t, alone, got)
			}
		}
	})
}

// Where three tracks have so many classes in common that not all ways to wait for one another can be gone through, an order
// still has a cost, which it does not exceed, and says that it may be less.
func TestAnOrderOfManyClassesInCommonHasACost(t *testing.T) {
	t.Parallel()
	const classes, tracks = 36, 3
	p := sequence.Problem{Tracks: tracks, Sessions: []sequence.Session{{}, {Starts: 24 * time.Hour}, {Starts: 48 * time.Hour}}, Rest: 10 * time.Minute}
	ids := make([]string, classes)
	for i := range classes {
		ids[i] = fmt.Sprintf("%02d", i)
		p.Classes = append(p.Classes, sequence.Class{
			ID: ids[i], Track: i % tracks, Position: i / tracks, Length: time.Duration(25+i%9*5) * time.Minute,
			Shares: []string{ids[i], fmt.Sprintf("%02d", (i+1)%classes)},
		})
		p.Changes = append(p.Changes, make([]sequence.Change, classes))
	}
	best, err := p.Propose()
	require.NoError(t, err)
	order, err := p.Evaluate(ids)
	require.NoError(t, err)
	require.False(t, order.Exact)
	require.GreaterOrEqual(t, order.Cost.Total, best.Bound)
	require.Len(t, order.Turns, classes)
}

func TestOrdersOfAWrongProblemAreRefused(t *testing.T) {
	t.Parallel()
	p := made(1, 3, 0)
	orders, err := p.Orders()
	require.NoError(t, err)
	for _, ids := range [][]string{nil, {"00", "01"}, {"00", "01", "01"}, {"00", "01", "09"}, {"00", "01", "02", "02"}} {
		_, err := orders.Evaluate(ids)
		assert.ErrorContains(t, err, "list each class once", "%v", ids)
	}
	p.Tracks = 0
	_, err = p.Orders()
	assert.EqualError(t, err, "a programme has 1 to 4 tracks; plan the others by themselves")
}

// BenchmarkMovesOfSixtyClasses is what every class of the longest programme costs one up and one down, with forty persons
// and vehicles in each.
func BenchmarkMovesOfSixtyClasses(b *testing.B) {
	p := made(7, sequence.MaxClasses, 3)
	ids := make([]string, len(p.Classes))
	for i := range p.Classes {
		ids[i] = p.Classes[i].ID
		for k := range 40 {
			p.Classes[i].Shares = append(p.Classes[i].Shares, fmt.Sprintf("%d of %d", k, i))
		}
	}
	for b.Loop() {
		orders, err := p.Orders()
		require.NoError(b, err)
		for i := range len(ids) - 1 {
			for range 2 { // as the one moves up, the other moves down
				_, err := orders.Evaluate(swapped(ids, i))
				require.NoError(b, err)
			}
		}
	}
}
