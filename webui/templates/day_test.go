package templates

import (
	"bytes"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// at is a time of the evening of these tests, in UTC.
func at(hour, minute int) time.Time { return time.Date(2026, 9, 19, hour, minute, 0, 0, time.UTC) }

// The picture reaches to the half hours around all that is on it, and marks whole steps of the clock of the place.
func TestTheAxisOfADay(t *testing.T) {
	t.Parallel()
	c := DayChart{Place: time.UTC, AsOf: at(19, 41), Bars: []DayBar{{Start: at(18, 10), End: at(20, 5), Late: at(20, 50)}}}
	first, last := c.ends()
	assert.Equal(t, []time.Time{at(18, 0), at(21, 0)}, []time.Time{first, last})
	assert.Equal(t, []string{"0.00%", "50.00%", "100.00%"}, []string{c.x(at(18, 0)), c.x(at(19, 30)), c.x(at(21, 0))})
	assert.Equal(t, "33.33%", c.width(at(18, 0), at(19, 0)))
	assert.Equal(t, []string{"start", "middle", "end"}, []string{c.anchor(at(18, 5)), c.anchor(at(19, 30)), c.anchor(at(20, 55))})
	assert.Len(t, c.hours(), 7)
	c.Curfew = at(23, 0).Add(2 * time.Hour)
	var marks []string
	for _, h := range c.hours() {
		marks = append(marks, c.clock(h))
	}
	assert.Equal(t, []string{"18:00", "20:00", "22:00", "00:00"}, marks)
	assert.Equal(t, "On an axis of time what was planned of each class (1) and what was pulled or is expected, as of 19:41; curfew 01:00.", c.tell())
	india := DayChart{Place: time.FixedZone("", 5*3600+1800), AsOf: at(18, 0)}
	assert.Equal(t, "23:30", india.clock(india.hours()[0]))
}

// Whatever is on it, everything lies within the picture.
func TestNothingLiesOutsideThePicture(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		moment := rapid.Custom(func(t *rapid.T) time.Time {
			return at(0, 0).Add(time.Duration(rapid.IntRange(0, 3000).Draw(t, "minutes")) * time.Minute)
		})
		c := DayChart{Title: "Evening", Place: time.UTC, AsOf: moment.Draw(t, "as of"), Curfew: moment.Draw(t, "curfew")}
		for range rapid.IntRange(0, 5).Draw(t, "bars") {
			start, end := moment.Draw(t, "start"), moment.Draw(t, "end")
			if end.Before(start) {
				start, end = end, start
			}
			c.Bars = append(c.Bars, DayBar{Name: "Open", Start: start, End: end, From: start, To: end, Early: start, Late: end})
		}
		seen := []time.Time{c.AsOf, c.Curfew}
		for _, b := range c.Bars {
			seen = append(seen, b.Start, b.End)
		}
		for _, s := range append(seen, c.hours()...) {
			require.True(t, c.share(s) >= 0 && c.share(s) <= 100, s)
		}
		require.LessOrEqual(t, len(c.hours()), 7)
		var out bytes.Buffer
		require.NoError(t, c.draw("day-1").Render(t.Context(), &out))
		require.NotContains(t, out.String(), "NaN")
	})
}
