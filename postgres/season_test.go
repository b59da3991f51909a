package postgres_test

import (
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// Records come from results that are official alone, and are those of the classes as the domain tells them.
func TestRecordsAreThoseOfTheClasses(t *testing.T) {
	t.Parallel()
	d := newDay(t, "floating-ft", "41", "7", "23")
	c := d.begin()
	for _, result := range []string{"281.36", "302.5", "DQ out of bounds"} {
		c = d.record(c, result)
		if c.Pending() != nil {
			c = d.must(domain.Choose{Hook: c.Pending().Hook.ID, Option: domain.Keep, Next: uuid.New()})
		}
	}
	before, err := d.desk.Records(d.ctx)
	require.NoError(t, err)
	require.Empty(t, before, "nothing is official")
	c = d.must(domain.MakeOfficial{Name: "Ada Flagg"})
	records, err := d.desk.Records(d.ctx)
	require.NoError(t, err)
	require.Equal(t, domain.Records(c.Marks(d.event.Name, "Tarn Hollow, Track 1")), records)
	require.Equal(t, "302.5 ft", records[0].Result.Distance.String())
}

// Two desks write one season at once: one is stored and the other is told, and nobody takes a season away.
func TestASeasonIsWrittenByOneAtATime(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft", "41")
	keep := func(slug string, version int, event string) error {
		_, _, err := d.desk.KeepSeason(d.ctx, organiser, slug, uuid.New(), version, `{"name": "Valley series", "events": [{"name": "`+event+`"}]}`)
		return err
	}
	require.NoError(t, keep("", 0, "Elm"))
	require.Equal(t, domain.Invalid, domain.KindOf(keep("", 0, "Oak")), "a season of that name exists")
	answers := make(chan error, 2)
	for _, event := range []string{"Oak", "Ash"} {
		go func() { answers <- keep("valley-series", 1, event) }()
	}
	kinds := []domain.Kind{domain.KindOf(<-answers), domain.KindOf(<-answers)}
	require.ElementsMatch(t, []domain.Kind{0, domain.Stale}, kinds)
	require.Equal(t, domain.NotFound, domain.KindOf(keep("no-such", 1, "Oak")))
	require.Equal(t, domain.Forbidden, domain.KindOf(func() error {
		_, _, err := d.desk.KeepSeason(d.ctx, desk.By{Role: domain.Desk, Event: d.event.ID}, "", uuid.New(), 0, `{}`)
		return err
	}()), "the desk of one event writes no season")
	_, err := d.sql("clayline_app").Exec(d.ctx, `DELETE FROM season`)
	refused(t, err, "")
	_, err = d.sql("clayline_app").Exec(d.ctx, `UPDATE season SET slug = 'other'`)
	refused(t, err, "")
}
