package postgres_test

import (
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// pulledBy gives a class a frozen setting and one hook of somebody.
func (d *day) pulledBy(number, puller, written string) func() {
	return func() {
		d.t.Helper()
		d.must(domain.AddEntry{Entry: uuid.New(), Number: number, Details: domain.Details{Puller: puller}})
		d.record(d.begin(), written)
	}
}

// The announcer is told of other days of whoever hooks, by name, at the same place and nowhere else.
func TestTheAnnouncerIsToldOfEarlierPullsAtThePlace(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft")
	page, err := d.desk.ClassPage(d.ctx, d.ref)
	require.NoError(t, err)
	year := func(n int) time.Time { return start.AddDate(-n, 0, 0) }
	here, elsewhere := d.planned("Here", page.Event.Place, "Another track", "Another sled", "Another class", year(1)), d.planned("Elsewhere", "Wrenfield", "T", "S", "C", year(2))
	another := d.planned("Somebody else", page.Event.Place, "T", "S", "C", year(3))
	d.at(here, d.pulledBy("9", "MAUD FARROW", "263.10"))
	d.at(elsewhere, d.pulledBy("41", "Maud Farrow", "270"))
	d.at(another, d.pulledBy("41", "Ida Brandt", "280"))

	none, err := d.desk.Announce(d.ctx, d.ref)
	require.NoError(t, err)
	assert.Nil(t, none.Stake, "nobody is drawn")
	assert.Empty(t, none.Earlier)

	d.must(domain.AddEntry{Entry: uuid.New(), Number: "41", Details: domain.Details{Puller: "Maud Farrow"}})
	d.begin()
	spoken, err := d.desk.Announce(d.ctx, d.ref)
	require.NoError(t, err)
	assert.Equal(t, "41", spoken.Class.Entry(spoken.Stake.Entry).Number)
	require.Len(t, spoken.Earlier, 1)
	assert.Equal(t, here.Event, spoken.Earlier[0].Event.Slug)
	_, err = d.desk.Announce(d.ctx, desk.Ref{Event: "none", Class: "none"})
	assert.Equal(t, domain.NotFound, domain.KindOf(err))
}

// What is kept back until the choice is kept back from the announcer above all.
func TestADistanceThatIsKeptBackIsNotSpokenOf(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft")
	rules := d.rules()
	rules.Test.BeforeDistance = true
	receipt, err := d.desk.PlanClass(d.ctx, organiser, d.ref.Event, uuid.New(), domain.PlanClass{Class: uuid.New(), Session: d.event.Sessions[0].ID, Track: d.event.Tracks[0].ID, Name: "Kept", Rules: rules, Sled: d.event.Sleds[0]})
	require.NoError(t, err)
	kept := desk.Ref{Event: d.ref.Event, Class: receipt.Class.Slug}
	d.at(kept, d.pulledBy("41", "Maud Farrow", "281.36"))
	own, err := d.desk.Announce(d.ctx, kept)
	require.NoError(t, err)
	assert.Nil(t, own.Stake)
	assert.True(t, own.Class.Rounds[0].Hooks[0].Result.IsZero())

	d.must(domain.AddEntry{Entry: uuid.New(), Number: "41", Details: domain.Details{Puller: "Maud Farrow"}})
	d.begin()
	spoken, err := d.desk.Announce(d.ctx, d.ref)
	require.NoError(t, err)
	require.Len(t, spoken.Earlier, 1)
	assert.True(t, spoken.Earlier[0].Class.Rounds[0].Hooks[0].Result.IsZero(), "of another class neither")
}
