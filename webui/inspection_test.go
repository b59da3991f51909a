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

// yard is an event with a sled whose list has three points.
func yard() (domain.Event, domain.Sled) {
	sled := domain.Sled{ID: uuid.UUID{5}, Name: "Grey sled", Gears: 5, StartHoles: 4, Card: domain.SledCard{Inspection: []string{"brakes", "kill switch", "radio"}}}
	e := place
	e.Sleds = []domain.Sled{sled}
	return e, sled
}

// sentOf is the form as a browser sends it, with what was typed.
func sentOf(form *templates.Form, typed map[string]string) url.Values {
	values := url.Values{}
	for _, h := range form.Hidden {
		values.Set(h.Name, h.Value)
	}
	for name, v := range typed {
		values.Set(name, v)
	}
	return values
}

// The form has a row a point; what is left as it is was not looked at, and a name is needed.
func TestAnInspectionIsReadFromItsForm(t *testing.T) {
	t.Parallel()
	e, sled := yard()
	form := inspectionOf(e, sled, nil)
	assert.Equal(t, []string{"brakes", "kill switch", "radio"}, form.Points)
	sent := sentOf(form.Form, map[string]string{"state-0": "ok", "state-1": "not ok", "note-1": "frayed", "by": " Ada Flagg "})
	action, err := inspectAct(e, sled.ID, sent)
	require.NoError(t, err)
	asked := action.(domain.InspectSled)
	assert.NotEqual(t, uuid.Nil, asked.Inspection)
	asked.Inspection = uuid.Nil
	assert.Equal(t, domain.InspectSled{Sled: sled.ID, By: "Ada Flagg", Points: []domain.Inspected{
		{Point: "brakes", State: domain.PointOK}, {Point: "kill switch", State: domain.PointNotOK, Note: "frayed"}, {Point: "radio"},
	}}, asked)
	assert.Equal(t, "a sled was inspected, 1 point not ok", inspectedWords(asked))
	asked.Points = nil
	assert.Equal(t, "a sled was inspected", inspectedWords(asked))
}

// What is refused is told in its row, and the typing stays; a list that was written anew is looked at again.
func TestAnInspectionThatIsRefusedKeepsItsTyping(t *testing.T) {
	t.Parallel()
	e, sled := yard()
	sent := sentOf(inspectionOf(e, sled, nil).Form, map[string]string{"state-2": "not ok", "by": "Ada Flagg"})
	action, err := inspectAct(e, sled.ID, sent)
	require.NoError(t, err)
	_, err = domain.DecideEvent(e, action, nil, time.Time{})
	require.Error(t, err)
	form := inspectionOf(e, sled, refusal("inspect", sent, atRow(err))).Form
	assert.Contains(t, form.Error("note-2"), "What is wrong with")
	assert.Equal(t, "not ok", form.Value("state-2"))
	assert.Equal(t, "Ada Flagg", form.Value("by"))

	_, err = inspectAct(e, sled.ID, sentOf(inspectionOf(e, sled, nil).Form, map[string]string{"state-0": "ok"}))
	assert.ErrorContains(t, err, "the name of who looked")
	_, err = inspectAct(e, sled.ID, sentOf(inspectionOf(e, sled, nil).Form, map[string]string{"state-0": "fine", "by": "A"}))
	require.Error(t, err)
	assert.Contains(t, inspectionOf(e, sled, refusal("inspect", url.Values{}, err)).Form.Error("state-0"), "fine")
	later := e
	later.Sleds = []domain.Sled{sled}
	later.Sleds[0].Changes = 1
	_, err = inspectAct(later, sled.ID, sent)
	assert.Equal(t, domain.Stale, domain.KindOf(err))
	_, err = inspectAct(e, sled.ID, url.Values{})
	require.Error(t, err, "a form without its id")
	assert.NoError(t, atRow(nil))
	assert.Equal(t, "by", fieldOf(t, atRow(&domain.Error{Kind: domain.Invalid, Field: "by"})))
}

// fieldOf is the field of a refusal.
func fieldOf(t *testing.T, err error) string {
	var e *domain.Error
	require.ErrorAs(t, err, &e)
	return e.Field
}

// The log tells each class in figures, and what was noted in words; it asks for nothing while a vehicle pulls.
func TestTheLogOfASled(t *testing.T) {
	t.Parallel()
	l := tellUnder(t, func(r *domain.RuleSet) { r.Reset = domain.KeepHooks }, begun()...)
	first := l.class.OnTrack().ID
	l.step("FP")
	l.do(domain.NoteDifference{Hook: first, What: domain.HandDrop, Words: "pan hung"})
	e, sled := yard()
	at := desk.SledEvent{Event: e, Sled: sled, Classes: []domain.Class{l.class}, Inspections: []domain.Inspection{{
		At: time.Date(2026, 9, 19, 16, 0, 0, 0, time.UTC), By: "Ada Flagg", Points: []domain.Inspected{{Point: "brakes", State: domain.PointOK}, {Point: "radio", State: domain.PointNotOK, Note: "dead"}, {Point: "horn"}},
	}}}
	log := desk.SledLog{Event: e, Sled: sled, Events: []desk.SledEvent{at, {Event: e, Sled: sled}}}
	view := sledLogOf(log, desk.By{Role: domain.Cab, Event: e.ID}, nil)
	require.NotNil(t, view.Ask)
	require.Len(t, view.Events, 2)
	here := view.Events[0]
	assert.Equal(t, "1 hook, 1 full pull, 1 hand drop, 1 fault, 0 resets", here.Total)
	assert.Equal(t, []templates.SledLine{{Class: l.class.Name, At: "hook 1 of round 1, " + l.class.Entry(l.class.Current().Hooks[0].Entry).Number, Words: "hand drop: pan hung"}}, here.Faults)
	assert.Equal(t, "1 ok, 1 not ok, 1 not looked at", here.Inspections[0].Says)
	assert.Contains(t, here.Inspections[0].Text, "signed Ada Flagg")
	assert.True(t, here.Inspections[0].Points[1].Wrong)
	assert.Empty(t, view.Events[1].Classes)

	log.Pulling = true
	assert.Nil(t, sledLogOf(log, desk.By{Role: domain.Cab}, nil).Ask)
	log.More = true
	assert.Contains(t, sledLogOf(log, desk.By{Role: domain.Desk}, nil).Scope, "there are more")
	assert.Equal(t, "made again: sled, red", faultWords(domain.SledFault{Rehook: "sled, red"}))
}
