package webui

import (
	"net/url"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// changing is an event whose first session and only track have a class.
func changing() desk.EventPage {
	e := domain.Event{
		Slug: "tarn-hollow", Zone: "America/Chicago",
		Sessions: []domain.Session{{ID: uuid.UUID{1}, Name: "Evening"}, {ID: uuid.UUID{2}, Name: "Sunday"}},
		Tracks:   []domain.Track{{ID: uuid.UUID{3}, Name: "Track 1"}},
		Sleds:    []domain.Sled{{ID: uuid.UUID{4}, Name: "Plumb Bob", Gears: 4, StartHoles: 1}},
	}
	return desk.EventPage{Event: e, Classes: []domain.Class{{Session: uuid.UUID{1}, Track: uuid.UUID{3}}}}
}

// typed is a form as it comes in.
func typed(part uuid.UUID, pairs ...string) url.Values {
	values := url.Values{fieldPart: {part.String()}}
	for i := 0; i < len(pairs); i += 2 {
		values.Set(pairs[i], pairs[i+1])
	}
	return values
}

// Only what has no class can be removed; a session starts on the clock of the place.
func TestTheProgrammeOffersWhatCanBeDone(t *testing.T) {
	t.Parallel()
	page := changing()
	view, err := programmeOf(page, nil)
	require.NoError(t, err)
	assert.Nil(t, view.Sessions[0].Remove)
	assert.NotNil(t, view.Sessions[1].Remove)
	assert.Nil(t, view.Tracks[0].Remove)
	assert.Contains(t, view.Sessions[0].Detail, "1 class")
	assert.Contains(t, view.Sleds[0].Detail, "4 gears, 1 start hole, version 1 of its description; for the estimate it lacks wheelbase")
	assert.Contains(t, view.Sleds[0].Change.Value(templates.FieldDescription), `"gears": 4`)
	a, err := programmeActs["session-change"](page.Event, typed(uuid.UUID{2}, templates.FieldName, "Late", templates.FieldStarts, "2026-09-19 18:00"))
	require.NoError(t, err)
	assert.Equal(t, "2026-09-19T23:00:00Z", a.(domain.ChangeSession).Starts.Format("2006-01-02T15:04:05Z07:00"))
	for typedCurfew, at := range map[string]string{"23:00": "2026-09-20T04:00:00Z", "23.00": "2026-09-20T04:00:00Z", " 0:30": "2026-09-20T05:30:00Z", "12:00": "2026-09-20T17:00:00Z", "": "0001-01-01T00:00:00Z"} {
		a, err = programmeActs["session"](page.Event, typed(uuid.UUID{2}, templates.FieldName, "Late", templates.FieldStarts, "2026-09-19 18:00", templates.FieldCurfew, typedCurfew))
		require.NoError(t, err)
		assert.Equal(t, at, a.(domain.AddSession).Curfew.Format(time.RFC3339), "the first %q after the start", typedCurfew)
	}
	for typedCurfew, message := range map[string]string{
		"late":  `"late" is no time of day; write one such as 23:00, or nothing`,
		"17:30": "the curfew 17:30 is not after the start at 18:00; write a time after the start, or nothing",
		"18:00": "the curfew 18:00 is not after the start at 18:00; write a time after the start, or nothing",
	} {
		_, err = programmeActs["session"](page.Event, typed(uuid.UUID{2}, templates.FieldStarts, "2026-09-19 18:00", templates.FieldCurfew, typedCurfew))
		var no *domain.Error
		require.ErrorAs(t, err, &no)
		assert.Equal(t, []string{templates.FieldCurfew, message}, []string{no.Field, no.Message + "; " + no.Fix})
	}
	page.Event.Sessions[0].Curfew = time.Date(2026, 9, 20, 4, 0, 0, 0, time.UTC)
	view, err = programmeOf(page, nil)
	require.NoError(t, err)
	assert.Contains(t, view.Sessions[0].Detail, "curfew 23:00")
	assert.Equal(t, []string{"23:00", ""}, []string{view.Sessions[0].Change.Value(templates.FieldCurfew), view.Sessions[1].Change.Value(templates.FieldCurfew)})
	_, err = programmeActs["session"](page.Event, typed(uuid.UUID{9}, templates.FieldName, "Late", templates.FieldStarts, "soon"))
	var refusal *domain.Error
	require.ErrorAs(t, err, &refusal)
	assert.Equal(t, templates.FieldStarts, refusal.Field)
}

// A description that is wrong stays as it was typed, in the form of its sled, with the line that is wrong.
func TestAWrongDescriptionKeepsTheTyping(t *testing.T) {
	t.Parallel()
	page := changing()
	document := "{\n  \"name\": \"Plumb Bob\", \"gears\": 4,\n  \"start_holes\": 1,\n  \"wheelbase\": \"long\"\n}"
	values := typed(uuid.UUID{4}, templates.FieldDescription, document, fieldVersion, "1")
	_, err := programmeActs["sled-change"](page.Event, values)
	view, layout := programmeOf(page, refusal("sled-change", values, err))
	require.NoError(t, layout)
	form := view.Sleds[0].Change
	assert.Equal(t, document, form.Value(templates.FieldDescription))
	assert.Contains(t, form.Error(templates.FieldDescription), `Line 4: wheelbase cannot be "long".`)
	assert.False(t, view.AddSled.Refused())
	assert.Empty(t, view.Notice)
	good := typed(uuid.UUID{4}, templates.FieldDescription, `{"name": "Plumb Bob", "gears": 5, "start_holes": 1}`, fieldVersion, "3")
	a, err := programmeActs["sled-change"](page.Event, good)
	require.NoError(t, err)
	assert.Equal(t, domain.DescribeSled{Sled: domain.Sled{ID: uuid.UUID{4}, Name: "Plumb Bob", Gears: 5, StartHoles: 1}, Version: 3}, a)
	// Where the part is gone, the page says so at its top.
	gone := refusal("session-remove", typed(uuid.UUID{8}), &domain.Error{Kind: domain.WrongState, Message: "one class is in this session", Fix: "move it"})
	view, err = programmeOf(page, gone)
	require.NoError(t, err)
	assert.Equal(t, "One class is in this session. Move it.", view.Notice)
}

// A class that is planned into a session whose time is past is remarked to the desk, until its first puller is called.
func TestASessionWhoseTimeIsPastIsRemarked(t *testing.T) {
	t.Parallel()
	page := changing()
	starts := time.Date(2026, 9, 19, 23, 0, 0, 0, time.UTC)
	page.Event.Sessions[0].Starts, page.Event.Sessions[1].Starts = starts, starts.Add(24*time.Hour)
	class := &page.Classes[0]
	assert.Empty(t, sessionPast(page.Event, class, starts.Add(11*time.Hour)))
	list := sessionPast(page.Event, class, starts.Add(12*time.Hour))
	require.Len(t, list, 1)
	assert.Equal(t, "Its session, Evening, was to start 19 September 2026 18:00, and its time is past.", list[0].Text)
	class.Session = uuid.UUID{2}
	assert.Empty(t, sessionPast(page.Event, class, starts.Add(12*time.Hour)), "the other session is to come")
	class.Session = uuid.UUID{1}
	class.Rounds = []domain.Round{{Hooks: []domain.Hook{{ID: uuid.UUID{8}}}}}
	assert.Empty(t, sessionPast(page.Event, class, starts.Add(12*time.Hour)), "a class that has begun is where it is")
}
