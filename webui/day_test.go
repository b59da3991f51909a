package webui

import (
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

// dayPage is an evening in Chicago with a curfew: a class that is pulled, one that is drawn and one that nobody is entered
// in, and a Sunday without a class.
func dayPage(t *testing.T) *desk.DayPage {
	t.Helper()
	starts := time.Date(2026, 9, 19, 18, 10, 0, 0, time.UTC)
	e := domain.Event{
		Slug: "fair", Name: "Fair", Zone: "America/Chicago", Tracks: []domain.Track{{ID: uuid.UUID{1}, Name: "Arena"}},
		Sessions: []domain.Session{
			{ID: uuid.UUID{2}, Name: "Evening", Starts: starts, Curfew: starts.Add(20 * time.Minute)}, {ID: uuid.UUID{3}, Name: "Sunday", Starts: starts.Add(20 * time.Hour)},
		},
	}
	pulled, drawn, empty := tell(t, "capped-300ft", begun("FP", "280")...), tell(t, "capped-300ft", "draw"), domain.Class{ID: uuid.UUID{7}, Name: "Open", Slug: "open"}
	drawn.ID, drawn.Name, drawn.Slug = uuid.UUID{8}, "Modified", "modified"
	page := &desk.DayPage{EventPage: desk.EventPage{Event: e, Classes: []domain.Class{*pulled, *drawn, empty}}}
	for i := range page.Classes {
		page.Classes[i].Session, page.Classes[i].Track = uuid.UUID{2}, uuid.UUID{1}
	}
	page.Day = day.Of(e, page.Classes, nil)
	return page
}

// The board says of each class what was planned, what was pulled and what is likely, on the clock of the place, in figures
// and in a picture.
func TestTheBoardOfADay(t *testing.T) {
	t.Parallel()
	page := dayPage(t)
	view := boardOf(page)
	require.Len(t, view.Tracks, 1)
	track := view.Tracks[0]
	assert.Empty(t, track.Name, "there is one track alone")
	assert.Regexp(t, `^(On plan|\d+ minutes (behind|ahead of plan)); Modified about 13:\d\d to 1[34]:\d\d\.$`, track.Sentence)
	require.Len(t, track.Curfews, 1)
	assert.Equal(t, "5 min a hook, the usual", track.Known)
	assert.Regexp(t, `^Curfew 13:30: in (\d\d|more than 99) of 100 such days the programme runs past it\. More likely than not `, track.Curfews[0])
	require.Len(t, track.Sessions, 1, "a session without a class is not on it")
	session := track.Sessions[0]
	assert.Equal(t, "Saturday 19 September, from 13:10", session.Start)
	const window = `^1[34]:\d\d–1[34]:\d\d$`
	pulling, toCome, empty := session.Rows[0], session.Rows[1], session.Rows[2]
	assert.Regexp(t, window, pulling.Planned)
	assert.Equal(t, []string{"13:09", "hooking: puller 3 of 4"}, []string{pulling.Begins, pulling.State})
	assert.Regexp(t, window, pulling.Over)
	assert.Regexp(t, `^middle \d\d:\d\d$`, pulling.Remark)
	assert.Regexp(t, window, toCome.Begins)
	assert.Regexp(t, `^middle \d\d:\d\d to \d\d:\d\d$`, toCome.Remark)
	assert.Equal(t, templates.DayRow{Name: "Open", Href: "/e/fair/open", State: "nobody is entered yet, and nothing can be said"}, empty)
	chart := session.Chart
	assert.Equal(t, page.Day.Tracks[0].AsOf, chart.AsOf)
	assert.True(t, chart.Bars[0].From.Before(chart.AsOf) && chart.Bars[0].To.After(chart.AsOf))
	assert.True(t, chart.Bars[2].From.IsZero())
	assert.False(t, chart.Bars[1].Likely.IsZero())

	at := page.Day.Tracks[0].AsOf
	assert.Equal(t, clock(page.Event, at), windowWords(page.Event, day.Window{Early: at, Middle: at, Late: at}))
	again := *page
	again.Day = day.Of(page.Event, page.Classes, []day.Pace{{Slug: "modified", Median: 4 * time.Minute, Cycles: 9}})
	told := boardOf(&again).Tracks[0]
	assert.Empty(t, told.Known, "the classes begin from different figures")
	assert.Contains(t, told.Sessions[0].Rows[1].Remark, "4 min a hook, as this class took before")

	page.Event.Tracks = append(page.Event.Tracks, domain.Track{ID: uuid.UUID{9}, Name: "Field"})
	assert.Equal(t, "Arena", boardOf(page).Tracks[0].Name)
	assert.Empty(t, boardOf(&desk.DayPage{}).Tracks)
}

// The programme has the likely times beside each class, and what becomes of the curfew above.
func TestTheProgrammeSaysWhenAClassIsLikely(t *testing.T) {
	t.Parallel()
	page := dayPage(t)
	lines := programme(page.Event, page.Classes, windowsOf(page.Event, page.Day))[0].Sessions[0].Classes
	assert.Regexp(t, `^likely over \d\d:\d\d–\d\d:\d\d, middle \d\d:\d\d$`, lines[0].Likely)
	assert.Regexp(t, `^likely \d\d:\d\d–\d\d:\d\d, middle \d\d:\d\d$`, lines[1].Likely)
	assert.Empty(t, lines[2].Likely)
	says := runs(page.Event, page.Day)
	require.Len(t, says, 2)
	assert.Contains(t, says[1].Says, "Curfew 13:30")
	page.Event.Tracks = append(page.Event.Tracks, domain.Track{Name: "Field"})
	assert.Equal(t, "Arena", runs(page.Event, page.Day)[0].Track)

	over := tell(t, "capped-300ft", begun("281.36", "keep", "250", "251", "252")...)
	over.Session, over.Track = uuid.UUID{2}, uuid.UUID{1}
	page.Classes = []domain.Class{*over}
	page.Day = day.Of(page.Event, page.Classes, nil)
	assert.Empty(t, runs(page.Event, page.Day), "all is pulled")
	assert.Empty(t, windowsOf(page.Event, page.Day))
	bar := boardOf(page).Tracks[0].Sessions[0].Chart
	assert.True(t, bar.Bars[0].Pulled && bar.AsOf.IsZero(), "what is over has no line of now")
}
