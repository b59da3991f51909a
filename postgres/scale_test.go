package postgres_test

import (
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
)

// What the scale showed is read back as it was written, digits and all, and the journal gives it again.
func TestReadingsAreKeptAsTheyWereRead(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-300ft")
	rules, err := doc.ReadyMadeRuleSet("capped-300ft")
	require.NoError(t, err)
	limit, err := domain.ParseWeight("8500 lb")
	require.NoError(t, err)
	rules.Weight = domain.WeightRule{Limit: limit, When: domain.WeighBoth, Tries: 2, Over: domain.OverClassUp}
	_, err = d.desk.PlanClass(d.ctx, organiser, d.ref.Event, uuid.New(), domain.PlanClass{
		Class: uuid.New(), Session: d.event.Sessions[0].ID, Track: d.event.Tracks[0].ID, Name: "Weighed", Rules: rules, Sled: d.event.Sleds[0],
	})
	require.NoError(t, err)
	d.ref.Class = "weighed"
	entry, first := uuid.New(), uuid.New()
	d.must(domain.AddEntry{Entry: entry, Number: "41", Details: domain.Details{Puller: "P"}})
	by := desk.By{Role: domain.Scale, Device: "scale house"}
	for i, shown := range []string{"8,520.50 lb", "3850 kg"} {
		w, err := domain.ParseWeight(shown)
		require.NoError(t, err)
		_, err = d.desk.Act(d.ctx, by, d.ref, uuid.New(), domain.Weigh{Reading: []uuid.UUID{first, uuid.New()}[i], Entry: entry, Weight: w, After: i > 0})
		require.NoError(t, err)
	}
	_, err = d.desk.Act(d.ctx, by, d.ref, uuid.New(), domain.Scratch{Entry: entry, Reason: "too heavy"})
	require.Equal(t, domain.Forbidden, domain.KindOf(err), "the scale weighs and does nothing else")
	c := d.must(domain.Misread{Reading: first, Reason: "another vehicle"})
	require.Equal(t, c, d.stored())
	assert.Equal(t, []string{"8,520.50 lb", "3,850 kg"}, []string{c.Readings[0].Weight.String(), c.Readings[1].Weight.String()})
	require.Equal(t, anonymous(c), replay(t, d.lines(), c.ID))
	_, err = d.sql("clayline_app").Exec(d.ctx, "UPDATE reading SET weight = '1 lb'")
	require.Error(t, err, "what was read is not written again")
}
