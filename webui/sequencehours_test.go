package webui

import (
	"net/url"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/webui/templates"
)

// Breaks are read on the clock of the place, also past midnight, and written as they are typed.
func TestBreaksAreTyped(t *testing.T) {
	t.Parallel()
	e := ordering().Event
	starts := e.Sessions[0].Starts
	for typed, want := range map[string][]domain.Pause{
		"":                     nil,
		"  ":                   nil,
		"19:30 20":             {{From: starts.Add(90 * time.Minute), Minutes: 20}},
		"19.30 20":             {{From: starts.Add(90 * time.Minute), Minutes: 20}},
		"19:30 20, 0:15 10":    {{From: starts.Add(90 * time.Minute), Minutes: 20}, {From: starts.Add(375 * time.Minute), Minutes: 10}},
		" 18:00  600 ,4:00 1 ": {{From: starts, Minutes: 600}, {From: starts.Add(10 * time.Hour), Minutes: 1}},
	} {
		got, err := breaksOf(typed, starts.In(e.Location()))
		require.NoError(t, err, typed)
		assert.Equal(t, want, got, typed)
		again, err := breaksOf(typedBreaks(e, domain.Session{Breaks: got}), starts.In(e.Location()))
		require.NoError(t, err)
		assert.Equal(t, want, again, "what is written is read as the same")
	}
	for typed, part := range map[string]string{"19:30": "19:30", "19:30 20,": "", "19:30 x": "19:30 x", "7 pm 20": "7 pm 20", "25:00 20": "25:00 20", "25.00 20": "25.00 20", "19.3 20": "19.3 20", "19:30 0": "19:30 0", "19:30 20, 21:00 601": "21:00 601"} {
		_, err := breaksOf(typed, starts)
		var no *domain.Error
		require.ErrorAs(t, err, &no, typed)
		assert.Equal(t, []string{"breaks", `"` + part + `" is no break`}, []string{no.Field, no.Message})
	}
	assert.Equal(t, []string{"Break at about 19:30, 20 min"}, breakWords(e, domain.Session{Breaks: []domain.Pause{{From: starts.Add(90 * time.Minute), Minutes: 20}}}))
}

// What is typed for a curfew and breaks is stored with the order, or alone; what is as it was is not.
func TestTheTimesOfASessionAreUsed(t *testing.T) {
	t.Parallel()
	evening := uuid.UUID{1}.String()
	curfew, breaks := "curfew-"+evening, "breaks-"+evening
	page := ordering()
	page.Event.Sessions[0].Curfew = page.Event.Sessions[0].Starts.Add(4 * time.Hour)
	page.Event.Sessions[0].Breaks = []domain.Pause{{From: page.Event.Sessions[0].Starts.Add(time.Hour), Minutes: 20}}
	view := sequenceOf(page, nil)
	assert.Equal(t, []string{"22:00", "19:00 20"}, []string{view.Form.Value(curfew), view.Form.Value(breaks)})
	assert.False(t, view.Hours)
	assert.Nil(t, view.UseTyped)
	same := sequenceOf(page, asked(curfew, "22:00", breaks, "19:00 20"))
	assert.False(t, same.Hours)

	view = sequenceOf(page, asked(curfew, "", breaks, "19:30 10"))
	require.Empty(t, view.Notice)
	assert.True(t, view.Hours)
	assert.Nil(t, view.Use, "the order is the one in use")
	assert.Equal(t, []templates.Hidden{{Name: curfew}, {Name: breaks, Value: "19:30 10"}}, view.UseTyped.Hidden[1:])
	view = sequenceOf(page, asked("down", "open", breaks, ""))
	assert.Equal(t, []string{"classes", curfew, breaks}, []string{view.UseTyped.Hidden[1].Name, view.UseTyped.Hidden[2].Name, view.UseTyped.Hidden[3].Name})

	list, err := hoursOf(page.Event, url.Values{curfew: {"23:30"}, breaks: {"19:30 10"}})
	require.NoError(t, err)
	s := page.Event.Sessions[0]
	assert.Equal(t, []domain.ChangeSession{{Session: s.ID, Name: "Evening", Starts: s.Starts, Curfew: s.Starts.Add(330 * time.Minute), Breaks: []domain.Pause{{From: s.Starts.Add(90 * time.Minute), Minutes: 10}}}}, list)
	list, err = hoursOf(page.Event, url.Values{curfew: {"23:30"}})
	require.NoError(t, err)
	assert.Empty(t, list, "both are sent, or neither")
	for _, v := range []url.Values{{curfew: {"late"}, breaks: {""}}, {curfew: {""}, breaks: {"late"}}} {
		_, err := hoursOf(page.Event, v)
		assert.Equal(t, domain.Invalid, domain.KindOf(err))
	}
}

// A break moves what the order says of a class.
func TestABreakOfTheSessionMovesItsClasses(t *testing.T) {
	t.Parallel()
	page := ordering()
	before := sequenceOf(page, nil).Sessions[0].Classes
	page.Event.Sessions[0].Breaks = []domain.Pause{{From: page.Event.Sessions[0].Starts.Add(5 * time.Minute), Minutes: 30}}
	after := sequenceOf(page, nil).Sessions[0].Classes
	assert.Equal(t, []string{"18:00", "18:19"}, []string{before[0].Time, before[1].Time})
	assert.Equal(t, []string{"18:00", "18:49"}, []string{after[0].Time, after[1].Time})
	list := programme(page.Event, page.Classes, nil)
	assert.Equal(t, []string{"Break at about 18:05, 30 min"}, list[0].Sessions[0].Breaks)
}

// A fixed start stands in its field until another is typed, and is stored where it is another; what is moved to another
// session has left its own behind.
func TestAFixedStartIsUsed(t *testing.T) {
	t.Parallel()
	page := weekend()
	page.Classes[2].Fixed = page.Event.Sessions[0].Starts.Add(2 * time.Hour)
	view := sequenceOf(page, nil)
	assert.Equal(t, []string{"20:00", "20:00"}, []string{view.Form.Value("starts-farm-stock"), view.Sessions[0].Classes[2].Time})
	assert.False(t, view.Hours)
	for typed, want := range map[string]string{"20:30": "20:30", "": ""} {
		view = sequenceOf(page, asked("starts-farm-stock", typed))
		assert.Equal(t, []templates.Hidden{{Name: "starts-farm-stock", Value: want}}, view.UseTyped.Hidden[1:], typed)
	}
	view = sequenceOf(page, asked(to("farm-stock"), uuid.UUID{2}.String(), "starts-farm-stock", ""))
	require.Len(t, view.UseTyped.Hidden, 3)
	assert.Equal(t, []string{"classes", "moves"}, []string{view.UseTyped.Hidden[1].Name, view.UseTyped.Hidden[2].Name})
	assert.False(t, view.Hours, "the move alone leaves it behind")

	starts, err := startsOf(page, url.Values{"starts-farm-stock": {" 0:30 "}, "starts-open": {""}})
	require.NoError(t, err)
	assert.Equal(t, map[string]time.Time{"farm-stock": page.Event.Sessions[0].Starts.Add(390 * time.Minute), "open": {}}, starts)
	_, err = startsOf(page, url.Values{"starts-open": {"late"}})
	assert.EqualError(t, err, `"late" is no time of day; write one such as 19:30`)
}
