package webui

import (
	"maps"
	"net/http"
	"net/url"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
	"clayline/webui/templates"
)

// typedPlan is the plan of an event as it is typed.
func typedPlan() url.Values {
	return url.Values{
		"name": {" Plough Day "}, "place": {"Wrenfield"}, "zone": {"Europe/Amsterdam"}, "tracks": {"Field\r\n\r\n Arena \r\n"}, "sled": {"Old Anchor"},
		"gears": {"4"}, "holes": {""}, "sessions": {"2026-09-19 13:00 Afternoon\r\n2026-12-19 19:30   Evening, by lamplight"},
	}
}

func TestAPlanAsItIsTyped(t *testing.T) {
	t.Parallel()
	values := typedPlan()
	_, err := planned(uuid.New(), values)
	require.ErrorContains(t, err, "sled Old Anchor has no gears or start holes")
	values.Set("holes", "3")
	action := uuid.New()
	e, err := planned(action, values)
	require.NoError(t, err)
	assert.Equal(t, "Plough Day", e.Name)
	assert.Equal(t, "plough-day", e.Slug)
	require.Len(t, e.Tracks, 2)
	assert.Equal(t, []string{"Field", "Arena"}, []string{e.Tracks[0].Name, e.Tracks[1].Name})
	assert.Equal(t, domain.Sled{ID: e.Sleds[0].ID, Name: "Old Anchor", Gears: 4, StartHoles: 3}, e.Sleds[0])
	require.Len(t, e.Sessions, 2)
	assert.Equal(t, time.Date(2026, 9, 19, 11, 0, 0, 0, time.UTC), e.Sessions[0].Starts, "on the place's own clock, in summer")
	assert.Equal(t, time.Date(2026, 12, 19, 18, 30, 0, 0, time.UTC), e.Sessions[1].Starts, "and in winter")
	assert.Equal(t, "Evening, by lamplight", e.Sessions[1].Name)

	again, err := planned(action, values)
	require.NoError(t, err)
	assert.Equal(t, e, again, "the same form plans the same event")
	other, err := planned(uuid.New(), values)
	require.NoError(t, err)
	ids := map[uuid.UUID]bool{}
	for _, e := range []domain.Event{e, other} {
		ids[e.ID], ids[e.Sleds[0].ID] = true, true
		for i := range 2 {
			ids[e.Tracks[i].ID], ids[e.Sessions[i].ID] = true, true
		}
	}
	assert.Len(t, ids, 12, "all ids differ")
}

func TestEveryReadyMadeRuleSetCanBeChosen(t *testing.T) {
	t.Parallel()
	options := ruleOptions(ruleSets())
	require.Len(t, options, len(doc.ReadyMade()))
	for _, o := range options {
		_, err := plannedClass(uuid.New(), url.Values{"name": {"Stock"}, "rules": {o.Value}, "weight": {"8200"}})
		require.ErrorContains(t, err, "has no unit of weight")
		_, err = plannedClass(uuid.New(), url.Values{"name": {"Stock"}, "rules": {o.Value}, "minutes": {"ten"}})
		require.ErrorContains(t, err, "is not a number")
		limited, err := plannedClass(uuid.New(), url.Values{"name": {"Stock"}, "rules": {o.Value}, "session": {uuid.NewString()}, "track": {uuid.NewString()}, "sled": {uuid.NewString()},
			"weight": {"8,200 lb"}, "minutes": {"10"}})
		require.NoError(t, err)
		require.NoError(t, limited.Rules.Check())
		assert.Equal(t, "8,200 lb, with the driver, before the hook", limitWords(limited.Rules.Weight))
		assert.Equal(t, domain.ProtestRule{Minutes: 10}, limited.Rules.Protest)
		plan, err := plannedClass(uuid.New(), url.Values{"name": {"Stock"}, "rules": {o.Value}, "session": {uuid.NewString()}, "track": {uuid.NewString()}, "sled": {uuid.NewString()}})
		require.NoError(t, err)
		assert.Equal(t, o.Value, plan.Rules.Name)
		assert.Regexp(t, "^[A-Z0-9]", o.Text)
	}
}

func TestDatesOfAnEvent(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		what   string
		starts []string
		want   string
	}{
		{"none", nil, ""},
		{"one day", []string{"2026-09-19T13:00:00Z", "2026-09-19T19:00:00Z"}, "19 September 2026"},
		{"two days, in any order", []string{"2026-09-20T13:00:00Z", "2026-09-19T19:00:00Z"}, "19 – 20 September 2026"},
		{"over the end of a month", []string{"2026-09-30T13:00:00Z", "2026-10-01T13:00:00Z"}, "30 September – 1 October 2026"},
		{"late in the evening it is still that day at the place", []string{"2026-09-20T03:00:00Z"}, "19 September 2026"},
	} {
		e := domain.Event{Zone: "America/Chicago"}
		for _, text := range row.starts {
			starts, err := time.Parse(time.RFC3339, text)
			require.NoError(t, err)
			e.Sessions = append(e.Sessions, domain.Session{Starts: starts})
		}
		assert.Equal(t, row.want, dates(e), row.what)
	}
}

// The programme lays the classes out by day and session, and names the track where there are several.
func TestTheProgramme(t *testing.T) {
	t.Parallel()
	track := uuid.New()
	e := domain.Event{Slug: "fair", Zone: "America/Chicago", Tracks: []domain.Track{{ID: track, Name: "Arena"}}, Sessions: []domain.Session{
		{ID: uuid.New(), Name: "Afternoon", Starts: time.Date(2026, 9, 19, 18, 0, 0, 0, time.UTC)},
		{ID: uuid.New(), Name: "Evening", Starts: time.Date(2026, 9, 20, 0, 30, 0, 0, time.UTC)},
		{ID: uuid.New(), Name: "All day", Starts: time.Date(2026, 9, 20, 16, 0, 0, 0, time.UTC)},
	}}
	class := tell(t, "capped-300ft", begun("FP", "280", "270", "260")...)
	class.Session, class.Track = e.Sessions[1].ID, track
	days := programme(e, []domain.Class{*class}, nil)
	require.Len(t, days, 2)
	assert.Equal(t, []string{"Saturday 19 September", "Sunday 20 September"}, []string{days[0].Name, days[1].Name})
	require.Len(t, days[0].Sessions, 2)
	assert.Equal(t, "from 19:30", days[0].Sessions[1].Time)
	line := days[0].Sessions[1].Classes[0]
	assert.Equal(t, templates.ClassLine{Name: class.Name, Href: "/e/fair/8200-lb-field-stock", State: "result, provisional; protests before trophies are handed over", Winner: "7 P7"}, line)

	e.Tracks = append(e.Tracks, domain.Track{ID: uuid.New(), Name: "Field"})
	assert.Equal(t, "Arena", programme(e, []domain.Class{*class}, nil)[0].Sessions[1].Classes[0].Track)
	assert.Equal(t, "Evening · Arena", where(e, *class))
	assert.Equal(t, "Saturday 19 September", dayOf(e, *class))
}

func TestTheSettingInWords(t *testing.T) {
	t.Parallel()
	l := plan(t, "capped-300ft")
	s := l.setting()
	lines := settingLines(s, l.class.Sled)
	assert.Equal(t, []templates.Term{
		{Label: "Box", Value: "12 slabs, 21,600 lb"}, {Label: "Gear", Value: "3 of 4"}, {Label: "Start hole", Value: "2 of 3"},
		{Label: "Trip", Value: "198 ft"}, {Label: "Measured by", Value: "laser"},
	}, lines)
	big := gauges(s, l.class.Sled)
	assert.Equal(t, templates.Gauge{Label: "Box", Value: "21,600", Unit: "lb", Detail: "12 slabs: 6 left, 6 right"}, big[0])
	assert.Equal(t, templates.Gauge{Label: "Trip", Value: "198", Unit: "ft"}, big[3])
	assert.True(t, big[4].Minor)

	for _, row := range []struct {
		slabs       domain.Slabs
		says, where string
	}{
		{domain.Slabs{}, "", ""},
		{domain.Slabs{Middle: 1}, "1 slab", "1 slab: 1 middle"},
		{domain.Slabs{Left: 4, Middle: 6, Right: 4}, "14 slabs", "14 slabs: 4 left, 6 middle, 4 right"},
	} {
		assert.Equal(t, row.says, slabs(row.slabs))
		assert.Equal(t, row.where, slabsWhere(row.slabs))
	}
}

// The form of the setting begins with what was written last, and reads it back to the same card.
func TestASettingCardComesBackAsItWas(t *testing.T) {
	t.Parallel()
	c := tell(t, "capped-300ft", "draw")
	want := (&tale{t: t}).setting()
	want.Note, want.Blades, want.PushDown = "mind the soft spot", "1 in", "late"
	var err error
	want.Pan, err = domain.ParseWeight("300 lb")
	require.NoError(t, err)
	want.SpeedLimit, err = domain.ParseSpeed("3.5 mph")
	require.NoError(t, err)
	values := url.Values{fieldRound: {c.Current().ID.String()}}
	for name, value := range settingValues(c, want) {
		values.Set(name, value)
	}
	got, err := settingAct(c, values)
	require.NoError(t, err)
	assert.Equal(t, domain.DraftSetting{Round: c.Current().ID, Setting: want}, got)
	assert.Subset(t, settingFields, slices.Collect(maps.Keys(settingValues(c, want))))

	// Figures without a unit are in the units that the form shows.
	values.Set("box", "21600")
	values.Set("pan", "300")
	values.Set("limit", "3.5")
	values.Set("trip", "198")
	got, err = settingAct(c, values)
	require.NoError(t, err)
	assert.Equal(t, want.Pan.String(), got.(domain.DraftSetting).Setting.Pan.String())
	assert.Equal(t, "3.5 mph", got.(domain.DraftSetting).Setting.SpeedLimit.String())
	assert.Equal(t, "198 ft", got.(domain.DraftSetting).Setting.Trip.String())
	assert.Equal(t, units{"kg", "m", "cm", "km/h"}, unitsOf(tell(t, "capped-100m")))
}

// In the booth a letter stands for a word.
func TestWhatTheBoothUnderstands(t *testing.T) {
	t.Parallel()
	c := tell(t, "capped-300ft", begun()...)
	for typed, written := range map[string]string{
		"281.36": "281.36", " 281.36 ft ": "281.36", "f": "FP", "F": "FP", "f 312.44": "FP 312.44", "fp": "FP", "q out of bounds": "DQ", "a": "absent", "A at a wedding": "absent",
	} {
		result, err := parseTyped(c, typed)
		require.NoError(t, err, typed)
		assert.Equal(t, written, result.String(), typed)
	}
	result, err := parseTyped(c, "Q out of bounds")
	require.NoError(t, err)
	assert.Equal(t, "out of bounds", result.Reason)
	assert.Equal(t, "F", fieldWords(c)[0].Label)
	assert.Equal(t, "F 312.44", fieldWords(tell(t, "floating-ft", begun()...))[0].Label)
}

// Every kind of refusal has a status, and none of them is the server's fault.
func TestEveryRefusalHasAStatus(t *testing.T) {
	t.Parallel()
	for kind := domain.Invalid; kind <= domain.Forbidden; kind++ {
		page, status := problemPage(&domain.Error{Kind: kind, Message: "it is so", Fix: "do that"})
		assert.GreaterOrEqual(t, status, http.StatusBadRequest)
		assert.Less(t, status, http.StatusInternalServerError)
		assert.Equal(t, "It is so.", page.Title)
		assert.Equal(t, "Do that.", page.Do)
	}
	page, status := problemPage(assert.AnError)
	assert.Equal(t, http.StatusInternalServerError, status)
	assert.NotContains(t, page.Title+page.Kept+page.Do, assert.AnError.Error(), "the cause is for the log")
	assert.Empty(t, sentence(""))
}
