package main

import (
	"net/http"
	"strings"
	"testing"

	ics "github.com/arran4/golang-ical"
	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const calendarType = "text/calendar; charset=utf-8; method=PUBLISH"

// calendar reads an answer that is a calendar.
func (a answer) calendar(name string) []*ics.VEvent {
	a.t.Helper()
	read, err := ics.ParseCalendar(strings.NewReader(a.file(calendarType, "inline", name)))
	require.NoError(a.t, err)
	return read.Events()
}

// The event page leads to the calendar, which has its sessions; the ids stay when something changes, the sequence grows.
func TestTheProgrammeLeavesAsACalendar(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := hooking(f)
	v := visitor{fair: f}
	path := "/e/" + inventedSlug + "/programme.ics"
	require.Contains(t, v.get("/e/"+inventedSlug).body, `href="`+path+`"`)
	page, err := f.desk.EventPage(f.ctx, inventedSlug)
	require.NoError(t, err)
	before := v.get(path).calendar(inventedSlug + "-programme.ics")
	require.Len(t, before, len(page.Event.Sessions))
	s.pull("250")
	after := v.get(path).calendar(inventedSlug + "-programme.ics")
	for i, session := range page.Event.Sessions {
		assert.Equal(t, session.ID.String(), before[i].Id())
		assert.Equal(t, before[i].Id(), after[i].Id())
		assert.NotEqual(t, before[i].GetProperty(ics.ComponentPropertySequence).Value, after[i].GetProperty(ics.ComponentPropertySequence).Value)
	}
	class := v.get(s.path("programme.ics")).calendar(inventedSlug + "-" + s.ref.Class + "-programme.ics")
	require.Len(t, class, 1)
	_, err = uuid.Parse(class[0].Id())
	require.NoError(t, err)
	assert.Equal(t, http.StatusNotFound, v.get("/e/"+inventedSlug+"/no-such-class/programme.ics").status)
}
