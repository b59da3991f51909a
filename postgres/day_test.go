package postgres_test

import (
	"context"
	"crypto/rand"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
	"clayline/postgres"
	"clayline/postgres/pgtest"
)

// day is a small event on a database of its own, with one class, as the tests need it.
type day struct {
	t     testing.TB
	ctx   context.Context
	url   string
	store *postgres.Store
	desk  *desk.Desk
	event domain.Event
	ref   desk.Ref
	clock atomic.Int64 // minutes since the start
}

// start is when the day's clock begins.
var start = time.Date(2026, 9, 19, 18, 0, 0, 0, time.UTC)

// now is a minute later each time.
func (d *day) now() time.Time { return start.Add(time.Duration(d.clock.Add(1)) * time.Minute) }

var organiser = desk.By{Role: domain.Desk, Device: "test"}

// newDay plans an event with one class of the given entries under a ready-made rule set.
func newDay(t testing.TB, rules string, numbers ...string) *day {
	t.Helper()
	d := &day{t: t, ctx: context.Background()}
	d.url = pgtest.Database(t)
	var err error
	d.store, err = postgres.Open(d.ctx, d.url)
	require.NoError(t, err)
	t.Cleanup(d.store.Close)
	d.desk = desk.New(d.store, d.now, rand.Reader)
	d.event = domain.Event{
		ID: uuid.New(), Name: "Tarn Hollow Harvest Pull", Place: "Tarn Hollow", Zone: "America/Chicago",
		Tracks:   []domain.Track{{ID: uuid.New(), Name: "Track 1"}},
		Sleds:    []domain.Sled{{ID: uuid.New(), Name: "Grey sled", Gears: 5, StartHoles: 4}},
		Sessions: []domain.Session{{ID: uuid.New(), Name: "Saturday evening", Starts: start}},
	}
	_, err = d.desk.PlanEvent(d.ctx, organiser, uuid.New(), d.event)
	require.NoError(t, err)
	set, err := doc.ReadyMadeRuleSet(rules)
	require.NoError(t, err)
	receipt, err := d.desk.PlanClass(d.ctx, organiser, "tarn-hollow-harvest-pull", uuid.New(), domain.PlanClass{
		Class: uuid.New(), Session: d.event.Sessions[0].ID, Track: d.event.Tracks[0].ID, Name: "8,200 lb Field Stock",
		Rules: set, Sled: d.event.Sleds[0],
	})
	require.NoError(t, err)
	d.ref = desk.Ref{Event: "tarn-hollow-harvest-pull", Class: receipt.Class.Slug}
	for _, number := range numbers {
		d.must(domain.AddEntry{Entry: uuid.New(), Number: number, Details: domain.Details{Puller: "Puller " + number}})
	}
	return d
}

// must does an action that has to succeed and returns the class as it is then.
func (d *day) must(a domain.Action) domain.Class {
	d.t.Helper()
	receipt, err := d.desk.Act(d.ctx, organiser, d.ref, uuid.New(), a)
	require.NoError(d.t, err)
	return receipt.Class
}

// begin draws the class, freezes a setting and calls the first puller.
func (d *day) begin() domain.Class {
	d.t.Helper()
	c := d.must(domain.DrawClass{Round: uuid.New(), Seed: "dice 4 2 6"})
	return d.pullAgainst(c, setting(d.t))
}

// pullAgainst drafts and freezes a setting for the current round and calls the first puller.
func (d *day) pullAgainst(c domain.Class, s domain.Setting) domain.Class {
	d.t.Helper()
	round := c.Current().ID
	c = d.must(domain.DraftSetting{Round: round, Setting: s})
	d.must(domain.FreezeSetting{Round: round, Revision: len(c.Current().Revisions)})
	return d.must(domain.Call{Hook: uuid.New()})
}

// record stores what came of the hook on the track.
func (d *day) record(c domain.Class, result string) domain.Class {
	d.t.Helper()
	r, err := domain.ParseResult(result, c.Rules.Unit())
	require.NoError(d.t, err)
	return d.must(domain.Record{Hook: c.OnTrack().ID, Result: r, Next: uuid.New()})
}

func setting(t testing.TB) domain.Setting {
	t.Helper()
	box, err := domain.ParseWeight("21600 lb")
	require.NoError(t, err)
	trip, err := domain.ParseDistance("198 ft", 0)
	require.NoError(t, err)
	return domain.Setting{Box: box, Slabs: domain.Slabs{Left: 6, Right: 6}, Gear: 3, StartHole: 2, Trip: trip}
}
