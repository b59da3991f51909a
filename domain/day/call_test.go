package day_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
	"clayline/domain/day"
)

// drawn draws the class, in the afternoon.
func (c *course) drawn() *course {
	c.t.Helper()
	c.do(domain.DrawClass{Round: c.id(), Seed: "dice 4 2 6"})
	return c
}

// entries lists who is called, in order.
func entries(calls []day.Call) (list []uuid.UUID) {
	for _, c := range calls {
		list = append(list, c.Entry)
	}
	return list
}

// Before the first call of a class that is drawn everybody in it has a time, from when the class likely begins; before the
// draw nobody has.
func TestWhoWaitsForAClassToBegin(t *testing.T) {
	t.Parallel()
	first, second := planned(t, "Field Stock", 4).drawn(), planned(t, "Modified", 6).drawn()
	told := of(event(time.Time{}), nil, first, second, planned(t, "Street", 3))
	for i, c := range []*course{first, second} {
		class := told.Classes[i]
		require.Equal(t, c.class.Current().Waiting(), entries(class.Calls))
		assert.Equal(t, class.Starts, class.Calls[0].Window)
		assert.True(t, class.Calls[1].Middle.After(class.Calls[0].Middle))
		assert.True(t, class.RoundEnds.Middle.After(class.Calls[len(class.Calls)-1].Middle))
		assert.True(t, class.RoundEnds.Middle.Before(class.Ends.Middle), "a pull-off may follow")
	}
	assert.Equal(t, six, told.Classes[0].Calls[0].Early)
	assert.Empty(t, told.Classes[2].Calls)
	assert.True(t, told.Classes[2].RoundEnds.IsZero())
}

// Whatever takes its time in one class moves everybody in the next.
func TestASlowClassMovesWhoWaitsForTheNext(t *testing.T) {
	t.Parallel()
	next := planned(t, "Modified", 6).drawn()
	last := time.Time{}
	for _, cycle := range []time.Duration{4 * time.Minute, 6 * time.Minute, 12 * time.Minute} {
		told := of(event(time.Time{}), nil, planned(t, "Field Stock", 8).begins(six).pulls(cycle, same(4, "250")...), next)
		call := told.Classes[1].Calls[5]
		assert.True(t, call.Middle.After(last), "a hook each %s", cycle)
		last = call.Middle
	}
}

// While a round is pulled, those who wait have times behind who is on the track; of who is next while the track is empty
// nothing is known. While somebody chooses who may hook again at once, the next may be called after that.
func TestWhoWaitsInARound(t *testing.T) {
	t.Parallel()
	class := planned(t, "Field Stock", 4).begins(six).pulls(5*time.Minute, "250")
	told := of(event(time.Time{}), nil, class).Classes[0]
	require.Equal(t, class.class.Current().Waiting(), entries(told.Calls))
	assert.InDelta(t, 5, told.Calls[0].Middle.Sub(class.now).Minutes(), 1.5)
	assert.InDelta(t, 15, told.RoundEnds.Middle.Sub(class.now).Minutes(), 3)

	class.pulls(5*time.Minute, "251", "252", "253")
	told = of(event(time.Time{}), nil, class).Classes[0]
	assert.Empty(t, told.Calls)
	assert.True(t, told.RoundEnds.IsZero())

	empty := planned(t, "Field Stock", 3).begins(six)
	empty.do(domain.ResetSetting{Round: empty.class.Current().ID, Reason: "the track was watered"})
	empty.do(domain.FreezeSetting{Round: empty.class.Current().ID, Revision: 2})
	told = of(event(time.Time{}), nil, empty).Classes[0]
	require.Nil(t, empty.class.OnTrack())
	assert.Equal(t, empty.class.Current().Waiting()[1:], entries(told.Calls))

	for _, c := range []struct {
		option domain.Option
		first  bool
	}{{domain.AtOnce, true}, {domain.ToLast, false}} {
		choosing := planned(t, "Field Stock", 4)
		choosing.class.Rules.Test = domain.TestRule{Options: []domain.Option{c.option}}
		choosing.begins(six).pulls(5*time.Minute, "250")
		require.Equal(t, domain.ChoiceOpen, choosing.class.Phase())
		told = of(event(time.Time{}), nil, choosing).Classes[0]
		assert.InDelta(t, 17.5, told.RoundEnds.Middle.Sub(choosing.now).Minutes(), 4, "three hooks, and half of one")
		if !c.first {
			assert.Equal(t, choosing.class.Current().Waiting()[1:], entries(told.Calls), "the next is called once it is chosen")
			continue
		}
		require.Equal(t, choosing.class.Current().Waiting(), entries(told.Calls))
		assert.Less(t, told.Calls[0].Early.Sub(choosing.now), 2*time.Minute)
		assert.Greater(t, told.Calls[0].Late.Sub(choosing.now), 4*time.Minute)
	}
}

// Wherever a day stands, those who wait are called one after the other, none before its class begins and none after its round
// is over.
func TestCallsAreInOrder(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		var classes []*course
		at := six
		for i := range rapid.IntRange(1, 4).Draw(r, "classes") {
			n := rapid.IntRange(1, 6).Draw(r, "entries")
			c := planned(t, fmt.Sprintf("Class %d", i), n).drawn()
			if rapid.Bool().Draw(r, "begun") {
				c.begins(at).pulls(time.Duration(rapid.IntRange(1, 30).Draw(r, "minutes"))*time.Minute,
					rapid.SliceOfN(rapid.SampledFrom([]string{"FP", "250", "DQ out of bounds", "absent"}), 0, n).Draw(r, "results")...)
				at = c.now.Add(time.Minute)
			}
			classes = append(classes, c)
		}
		for _, c := range of(event(time.Time{}), nil, classes...).Classes {
			last := c.Starts
			for _, call := range c.Calls {
				require.False(r, call.Early.Before(last.Early) || call.Middle.Before(last.Middle) || call.Late.Before(last.Late), "%s: %v", c.Name, c)
				last = call.Window
			}
			if len(c.Calls) > 0 {
				require.False(r, c.RoundEnds.Middle.Before(last.Middle), c.Name)
				require.False(r, c.Ends.Middle.Before(c.RoundEnds.Middle), c.Name)
			}
		}
	})
}
