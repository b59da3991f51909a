package postgres_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/postgres"
)

// planned plans an event with one class of that name on the first track and sled, draws it and freezes a setting.
func (d *day) planned(event, place, track, sled, class string, starts time.Time) desk.Ref {
	d.t.Helper()
	e := domain.Event{
		ID: uuid.New(), Name: event, Place: place, Zone: "America/Chicago", Tracks: []domain.Track{{ID: uuid.New(), Name: track}},
		Sleds: []domain.Sled{{ID: uuid.New(), Name: sled, Gears: 5, StartHoles: 4}}, Sessions: []domain.Session{{ID: uuid.New(), Name: "Evening", Starts: starts}},
	}
	_, err := d.desk.PlanEvent(d.ctx, organiser, uuid.New(), e)
	require.NoError(d.t, err)
	receipt, err := d.desk.PlanClass(d.ctx, organiser, domain.Slug(event), uuid.New(), domain.PlanClass{Class: uuid.New(), Session: e.Sessions[0].ID, Track: e.Tracks[0].ID, Name: class,
		Rules: d.rules(), Sled: e.Sleds[0]})
	require.NoError(d.t, err)
	return desk.Ref{Event: domain.Slug(event), Class: receipt.Class.Slug}
}

// rules are those of the day's own class.
func (d *day) rules() domain.RuleSet {
	d.t.Helper()
	page, err := d.desk.ClassPage(d.ctx, d.ref)
	require.NoError(d.t, err)
	return page.Class.Rules
}

// at does on another class what must does on the day's own.
func (d *day) at(ref desk.Ref, do func()) {
	was := d.ref
	d.ref = ref
	do()
	d.ref = was
}

// pulled gives a class a frozen setting and one hook.
func (d *day) pulled() {
	d.t.Helper()
	d.must(domain.AddEntry{Entry: uuid.New(), Number: "41"})
	d.record(d.begin(), "263.10")
}

func TestEarlierClassesAreFoundByName(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41", "7")
	page, err := d.desk.ClassPage(d.ctx, d.ref)
	require.NoError(t, err)
	place, track, sled, class := page.Event.Place, page.Event.Tracks[0].Name, page.Class.Sled.Name, page.Class.Name
	year := func(n int) time.Time { return start.AddDate(-n, 0, 0) }
	last := d.planned("Last year", strings.ToUpper(place), strings.ToUpper(track), sled, strings.ToUpper(class), year(1))
	older := d.planned("Older", place, track, "Another sled", class, year(2))
	elsewhere := d.planned("Elsewhere", "Wrenfield", track, sled, class, year(3))
	other := d.planned("Other class", place, track, sled, "Street stock", year(4))
	never := d.planned("Never pulled", place, track, sled, class, year(1))
	for _, ref := range []desk.Ref{last, older, elsewhere, other} {
		d.at(ref, d.pulled)
	}
	for _, row := range []struct {
		same  desk.Same
		finds []desk.Ref
	}{
		{desk.Same{Class: true, Track: true, Sled: true}, []desk.Ref{last}},
		{desk.Same{Class: true, Track: true}, []desk.Ref{last, older}},
		{desk.Same{Class: true, Sled: true}, []desk.Ref{last, elsewhere}},
		{desk.Same{Class: true}, []desk.Ref{last, older, elsewhere}},
		{desk.Same{Track: true, Sled: true}, []desk.Ref{last, other}},
		{desk.Same{Sled: true}, []desk.Ref{last, elsewhere, other}},
		{desk.Same{}, []desk.Ref{last, older, elsewhere, other}},
	} {
		asked, found, err := d.desk.Earlier(d.ctx, d.ref, row.same)
		require.NoError(t, err)
		require.Equal(t, class, asked.Class.Name)
		var refs []desk.Ref
		for _, e := range found {
			refs = append(refs, desk.Ref{Event: e.Event.Slug, Class: e.Class.Slug})
			require.Len(t, e.Event.Sessions, 1)
			require.Equal(t, e.Class.Session, e.Event.Sessions[0].ID)
			require.Equal(t, e.Class.Track, e.Event.Tracks[0].ID)
		}
		require.Equal(t, row.finds, refs, "%+v", row.same)
	}
	// The class that asks is no earlier one, and neither is one that had no frozen setting.
	d.begin()
	_, found, err := d.desk.Earlier(d.ctx, never, desk.Same{Class: true, Track: true, Sled: true})
	require.NoError(t, err)
	require.Equal(t, []string{d.ref.Event, last.Event}, []string{found[0].Event.Slug, found[1].Event.Slug})
	require.Len(t, found, 2)
	_, _, err = d.desk.Earlier(d.ctx, desk.Ref{Event: "none", Class: "none"}, desk.Same{})
	require.Equal(t, domain.NotFound, domain.KindOf(err))
}

// What is kept back until the choice is kept back from whoever looks for earlier days, too.
func TestADistanceThatIsKeptBackIsNoEarlierDay(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41", "7")
	rules := d.rules()
	rules.Test.BeforeDistance = true
	e := d.event
	receipt, err := d.desk.PlanClass(d.ctx, organiser, d.ref.Event, uuid.New(), domain.PlanClass{Class: uuid.New(), Session: e.Sessions[0].ID, Track: e.Tracks[0].ID, Name: "Kept", Rules: rules, Sled: e.Sleds[0]})
	require.NoError(t, err)
	kept := desk.Ref{Event: d.ref.Event, Class: receipt.Class.Slug}
	d.at(kept, d.pulled)
	_, found, err := d.desk.Earlier(d.ctx, d.ref, desk.Same{})
	require.NoError(t, err)
	require.Len(t, found, 1)
	require.True(t, found[0].Class.Rounds[0].Spread(1).Best.IsZero(), "nobody was told yet")
}

func TestOnlyTheNewestEarlierClassesAreRead(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41")
	e := d.event
	for i := range desk.MostEarlier + 2 {
		receipt, err := d.desk.PlanClass(d.ctx, organiser, d.ref.Event, uuid.New(), domain.PlanClass{Class: uuid.New(), Session: e.Sessions[0].ID, Track: e.Tracks[0].ID,
			Name: fmt.Sprintf("Class %d", i), Rules: d.rules(), Sled: e.Sleds[0]})
		require.NoError(t, err)
		d.at(desk.Ref{Event: d.ref.Event, Class: receipt.Class.Slug}, d.pulled)
	}
	_, found, err := d.desk.Earlier(d.ctx, d.ref, desk.Same{Track: true})
	require.NoError(t, err)
	require.Len(t, found, desk.MostEarlier)
	require.Equal(t, fmt.Sprintf("Class %d", desk.MostEarlier+1), found[0].Class.Name, "the last of the session comes first")
}

// Each question has an index: with scans of whole tables made dear, the database goes by it.
func TestEarlierClassesAreFoundByAnIndex(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41")
	conn := d.sql("clayline_app")
	_, err := conn.Exec(d.ctx, `SET enable_seqscan = off`)
	require.NoError(t, err)
	for index, ask := range map[string]desk.EarlierAsk{"class_by_name": {Class: "x"}, "track_by_name": {Track: "x", Place: "y"}, "sled_by_name": {Sled: "x"}, "entry_by_puller": {Puller: "x", Place: "y"}} {
		ask.Most = desk.MostEarlier
		sql, args := postgres.EarlierSQL(ask)
		rows, err := conn.Query(d.ctx, "EXPLAIN "+sql, args)
		require.NoError(t, err)
		var plan strings.Builder
		for rows.Next() {
			var line string
			require.NoError(t, rows.Scan(&line))
			plan.WriteString(line + "\n")
		}
		require.NoError(t, rows.Err())
		require.Contains(t, plan.String(), index)
	}
}
