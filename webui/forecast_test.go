package webui

import (
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/day"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// outlookAlone is the outlook of a class that has its event to itself; what it says to begin with is of 18:00.
func outlookAlone(c *domain.Class, others ...domain.Class) outlook {
	starts := time.Date(2026, 9, 19, 18, 0, 0, 0, time.UTC)
	e := domain.Event{Zone: "UTC", Tracks: []domain.Track{{ID: c.Track}}, Sessions: []domain.Session{{ID: c.Session, Starts: starts}}}
	return outlookOf(e, day.Of(e, append(others, *c), nil), c)
}

// foretold is the column of outcomes of the current round, with times, and what is said about the end of it.
func foretold(c *domain.Class, others ...domain.Class) (column []string, left string) {
	o, list := outlookAlone(c, others...), rounds(domain.Event{Zone: "UTC"}, c)
	o.foretold(c, list)
	for _, row := range list[0].Order {
		words := row.Text
		for _, remark := range row.Remarks {
			words += ", " + remark
		}
		column = append(column, words)
	}
	return column, strings.Join(o.left(), " ")
}

// While a round is pulled, everybody who waits reads when the call is likely, and that the call in the pits counts;
// after the last hook nothing is foretold.
func TestWhoWaitsReadsWhenTheCallIsLikely(t *testing.T) {
	t.Parallel()
	c := tell(t, "capped-300ft", begun()...)
	called := c.OnTrack().Called
	column, left := foretold(c)
	const window = `\d\d:\d\d–\d\d:\d\d`
	require.Len(t, column, 4)
	assert.Equal(t, "on the track", column[0])
	assert.Regexp(t, "^next, "+window, column[1])
	assert.Regexp(t, "^after next, "+window, column[2])
	assert.Regexp(t, "^"+window+"$", column[3])
	assert.Regexp(t, "^This round is likely over about "+window+`\. Times are estimates as of `+called.UTC().Format("15:04")+"; the call in the pits counts\\.$", left)

	column, left = foretold(tell(t, "capped-300ft", begun("281.36", "keep", "250", "251", "252")...))
	assert.Empty(t, left)
	assert.NotContains(t, column[3], "–")
	none := outlookOf(domain.Event{}, day.Day{}, &domain.Class{})
	assert.Equal(t, outlook{}, none)
	none.foretold(&domain.Class{}, []templates.Round{{}})
}

// Before the first call of a class its pullers have times too, by what comes before it on the track; until anything is
// called there they are those of the programme.
func TestWhoWaitsForAnotherClassReadsWhenTheCallIsLikely(t *testing.T) {
	t.Parallel()
	c := tell(t, "capped-300ft", "draw", "write", "freeze")
	column, left := foretold(c)
	require.Len(t, column, 4)
	assert.Equal(t, "18:08", column[0], "the setting was frozen then")
	assert.Regexp(t, `^18:10–18:[12][05]$`, column[1], "to five minutes, as long as the class has not begun")
	assert.Regexp(t, `^Likely begins about 18:08\. This round is likely over about 18:2\d–\d\d:\d\d\. Times are estimates from the programme; the call in the pits counts\.$`, left)

	before := *tell(t, "capped-300ft", begun("250")...)
	before.ID, before.Slug = uuid.New(), "before"
	moved, left := foretold(c, before)
	assert.Greater(t, moved[0], "18:15")
	assert.Regexp(t, `^Likely begins about 18:\d\d–\d\d:\d\d\. This round .* Times are estimates as of 18:\d\d; `, left)

	entered := tell(t, "capped-300ft")
	assert.Equal(t, "Likely begins about 18:00. Times are estimates from the programme; the call in the pits counts.", strings.Join(outlookAlone(entered).left(), " "))
}

// A page is as of the last change of its class, or of what moved its times where that is later; a class that is over has none.
func TestAPageIsAsOfWhatMovedItsTimes(t *testing.T) {
	t.Parallel()
	c, before := tell(t, "capped-300ft", "draw"), *tell(t, "capped-300ft", begun("250")...)
	before.ID, before.Slug = uuid.New(), "before"
	o := outlookAlone(c, before)
	early, late := o.track.AsOf.Add(-time.Hour), o.track.AsOf.Add(time.Hour)
	assert.Equal(t, o.track.AsOf.Format(secondsFormat), o.asOf([]desk.Line{{At: early}}))
	assert.Equal(t, late.Format(secondsFormat), o.asOf([]desk.Line{{At: late}}))
	o.class = day.Class{}
	assert.Equal(t, early.Format(secondsFormat), o.asOf([]desk.Line{{At: early}}))
}
