package webui

import (
	"net/url"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/webui/templates"
)

// movable lets the operator choose the test puller and the officials move the line.
func movable(r *domain.RuleSet) {
	line, _ := domain.ParseDistance("320", domain.Foot)
	r.Test.Who, r.Moving = domain.ChosenPuller, domain.LineRule{Choices: []domain.Distance{line}, After: 1}
}

// What is offered is what can be done now.
func TestWhatTheOfficialsMayDoAboutTheCourse(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		what                     string
		steps                    []string
		test, line, stop, resume bool
	}{
		{what: "not drawn"},
		{what: "drawn", steps: []string{"draw"}, test: true, line: true, stop: true},
		{what: "the test hook is made", steps: begun(), line: true, stop: true},
		{what: "a hook has counted", steps: begun("FP 305"), line: true, stop: true},
		{what: "two have", steps: begun("FP 305", "280"), stop: true},
		{what: "stopped", steps: begun("FP 305", "stop rain"), resume: true},
		{what: "stopped and signed", steps: begun("FP 305", "stop rain", "sign Ada Flagg")},
		{what: "decided", steps: begun("FP 305", "280", "270", "260")},
	} {
		t.Run(row.what, func(t *testing.T) {
			t.Parallel()
			l := tellUnder(t, movable, row.steps...)
			got := courseOf(place, &l.class, "/", nil)
			assert.Equal(t, []bool{row.test, row.line, row.stop, row.resume}, []bool{got.Test != nil, got.Line != nil, got.Stop != nil, got.Resume != nil})
		})
	}
	fixed := courseOf(place, tell(t, "capped-300ft", "draw"), "/", nil)
	assert.Nil(t, fixed.Test, "the first in the order makes the test hook")
	assert.Nil(t, fixed.Line, "the line does not move")
}

// What will stand is said before anybody presses.
func TestWhatAStopLeaves(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		effect domain.StoppedEffect
		steps  []string
		says   string
		stands int
	}{
		{domain.CompleteRounds, begun("FP", "280"), "Under these rules what was pulled to the end of a round stands. As it is now, nobody has a place then.", 0},
		{domain.CompleteRounds, begun("FP", "280", "FP", "260", "open"), "Under these rules what was pulled to the end of a round stands. As it is now, 4 entries have a place then.", 4},
		{domain.AsPulled, begun("FP"), "Under these rules every hook that counts stands, whoever has not hooked yet. As it is now, one entry has a place then.", 1},
		{domain.NothingStands, begun("FP", "280"), "Under these rules a class that was not completed gives nobody anything.", 0},
	} {
		l := tellUnder(t, func(r *domain.RuleSet) { r.Stopped = row.effect }, row.steps...)
		assert.Equal(t, row.says, stopEffect(&l.class))
		l.step("stop rain")
		assert.Len(t, standing(place, &l.class).Rows, row.stands, row.says)
		assert.Equal(t, "stopped", stateWords(&l.class))
		assert.Contains(t, stateSentence(&l.class), "stopped, provisional until the officials make it official")
		assert.Equal(t, "Desk: go on with the class, or make the result official", awaited(&l.class))
		require.Len(t, course(place, &l.class), 1)
		assert.Contains(t, course(place, &l.class)[0].Text, ": rain.")
	}
	assert.Empty(t, course(place, tell(t, "capped-300ft", begun()...)))
}

// A stop while a choice is open asks nobody for one.
func TestAStoppedClassOffersNoChoice(t *testing.T) {
	t.Parallel()
	c := tell(t, "capped-300ft", begun("281.36", "stop rain")...)
	assert.Empty(t, messages(c))
	assert.Nil(t, readChoice(c))
}

// Nobody comes back to a class that was stopped.
func TestAStoppedClassHasNoPullOff(t *testing.T) {
	t.Parallel()
	l := tellUnder(t, func(r *domain.RuleSet) { r.Stopped = domain.AsPulled }, begun("FP", "FP", "280", "stop rain")...)
	for _, row := range standing(place, &l.class).Rows {
		assert.Empty(t, row.Remarks, row.Number)
	}
}

func TestFactsBesideTheFigures(t *testing.T) {
	t.Parallel()
	assert.Empty(t, facts(tell(t, "capped-300ft", begun()...)))
	l := tellUnder(t, func(r *domain.RuleSet) {
		movable(r)
		r.Measure.From = "the front of the pan"
		r.Speed.Limit, _ = domain.ParseSpeed("3.5 mph")
		r.Speed.From.Share, _ = domain.ParseTrackShare("1/3")
	}, begun("FP 305", "line 320")...)
	assert.Equal(t, []templates.Term{
		{Label: "Full-pull line", Value: "320 ft, moved from 300 ft"}, {Label: "Measured to", Value: "the front of the pan", Typed: true},
		{Label: "Speed limit", Value: "3.5 mph from 1/3 of the track on"},
	}, facts(&l.class))
	assert.Equal(t, "7 305", rowsOf(&l.class, l.class.Current())[0], "read again against the new line")
}

// WOLV 2: a vehicle may hook again with another driver, and places once.
func TestAVehicleThatHooksAgain(t *testing.T) {
	t.Parallel()
	assert.Nil(t, sameVehicles(tell(t, "capped-300ft")), "once in a class")
	l := tellUnder(t, func(r *domain.RuleSet) { r.Entries.VehicleTwice = domain.PlacesOnce })
	offered := sameVehicles(&l.class)
	require.Len(t, offered, 5)
	assert.Equal(t, templates.Option{Text: "a vehicle of its own"}, offered[0])
	action, err := entryAct(&l.class, url.Values{"entry": {l.id().String()}, "number": {"41b"}, "puller": {"P"}, "same": {offered[4].Value}})
	require.NoError(t, err)
	l.do(action)
	for _, step := range []string{"draw41b", "write", "freeze", "call", "250", "keep", "260", "270", "280", "290"} {
		if step == "draw41b" {
			l.do(domain.DrawClass{Round: l.id(), Seed: seedFor([]string{"7", "12", "23", "41", "41b"})})
			continue
		}
		l.step(step)
	}
	shown := standing(place, &l.class)
	require.Len(t, shown.Unplaced, 1)
	assert.Equal(t, []string{"no place: its vehicle is placed already"}, shown.Unplaced[0].Remarks)
	_, err = entryAct(&l.class, url.Values{"entry": {uuid.NewString()}, "number": {"9"}, "puller": {"P"}, "same": {"41"}})
	require.Error(t, err)
}

func TestKindsOfVehicles(t *testing.T) {
	t.Parallel()
	assert.Empty(t, kindOptions([]domain.RuleSet{{}}))
	kinds := domain.RuleSet{Restarts: domain.RestartRule{Kinds: []domain.KindLine{{Kind: "tractor"}, {Kind: "truck"}}}}
	assert.Equal(t, []templates.Option{{Text: "no kind of its own"}, {Value: "tractor", Text: "tractor"}, {Value: "truck", Text: "truck"}},
		kindOptions([]domain.RuleSet{kinds, kinds}))
}

func TestBeforeAPullOff(t *testing.T) {
	t.Parallel()
	assert.Empty(t, beforePullOff(domain.RuleSet{}))
	assert.Equal(t, []string{"These rules ask for: a new weighing.", "Under these rules whoever drove in the class drives in the pull-off."},
		beforePullOff(domain.RuleSet{PullOff: domain.PullOffRule{Before: "a new weighing", SameDriver: true}}))
}
